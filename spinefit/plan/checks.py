"""Can these be the texts of a back, and these backs a set?

In: a `BackPlan`, or labels and plans. Out: nothing, or a fault that names the text and the volume
by their numbers. Volumes of a set share their letters; what differs is words, back and label.
Where a market's titles run up in one language and down in another, all texts speak one of them.
What is wrong with a back or the letters themselves is found by the job's own checks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import fields, replace

from spinefit import catalogue
from spinefit.errors import FaultsMoved, FieldError, JobError, SpinefitError
from spinefit.job.checks import LARGEST_SIZE_PT, member, number
from spinefit.job.fields import FIELDS
from spinefit.job.model import Lettering
from spinefit.job.nudges import nudge_places, nudges_of
from spinefit.job.title import guess_language, title_lines
from spinefit.plan.model import PLANNED, BackPlan, BackText, Order, Relation, refuse_larger_set
from spinefit.plan.standing import leading_text, resolved_title
from spinefit.vocabulary import Role

_MOST_WEIGHT = 1e6
_OPTION = {field.attribute: field.name for field in FIELDS if field.part == "lettering"}
_OWN = ("clearance_mm", "break_words")  # these may differ from volume to volume
_OF_A_ROLE = {
    "panel": "panel",
    "weight": "weight",
    "size": "size_pt",
    "case": "case",
    "font": "font",
}


def check_plan(plan: BackPlan) -> None:
    """Refuse what cannot be the texts of one back.

    Raises:
        JobError: no title, a role twice, several texts without the height of their back, a
            weight or a size that cannot be.
    """
    if not plan.texts:
        raise JobError("no text for the back", remedy="give a title at least")
    member(plan.order, Order, "order")
    member(plan.relation, Relation, "relation")
    roles: list[Role] = []
    for place, text in enumerate(plan.texts, 1):
        where = f"text {place}"
        _check_text(text, where)
        _check_lines(plan, text, where)
        if text.role in roles:
            raise FieldError(
                "two texts of one role",
                value=text.role,
                where=f"{where}: role",
                remedy="put them into one text, such as 'Quay & Sons'",
            )
        roles.append(text.role)
    if Role.TITLE not in roles and not (plan.is_single and roles == [Role.CALL_NUMBER]):
        raise JobError("none of the texts is the title", remedy="give one of them the role 'title'")
    if not plan.is_single:
        _check_shared_back(plan)
    title = leading_text(plan.texts)
    if title.size_pt is not None and plan.lettering.size_pt is not None:
        raise FieldError(
            "a size for the title given twice",
            where="--size",
            remedy="keep the one beside its text",
        )


def _check_lines(plan: BackPlan, text: BackText, where: str) -> None:
    """Refuse lines moved by hand that are not settled, by the number of their text."""
    if text.lines_up_mm is None and text.lines_tracking is None:
        return
    leads = text.role is leading_text(plan.texts).role
    with FaultsMoved({"TITLE": f"{where}: text"} | nudge_places(where)):
        forced = len(title_lines(text.text, slash_breaks=plan.slash_breaks))
        asked = plan.lettering.lines if leads else None
        nudges_of(text.lines_up_mm, text.lines_tracking, usual=None, forced=forced, asked=asked)


def _check_shared_back(plan: BackPlan) -> None:
    on_board = plan.front_board is not None and plan.lap_mm is None  # else only the laps are
    if plan.spine is None or plan.panel is not None or on_board:
        raise FieldError(
            "several texts share a back, not a panel of its own",
            where="--front-board" if plan.front_board else "--panel" if plan.panel else "--width",
            remedy="give the back's width and height, or one text",
        )
    if plan.spine.height_mm is None:
        raise FieldError(
            "several texts share the length of the back, which is not known",
            where="--height",
            remedy="give the height of the back",
        )


def _check_text(text: BackText, where: str) -> None:
    if text.role is Role.CALL_NUMBER and (text.label or text.weight):
        raise FieldError(
            "a call number shares no place with other texts",
            where=f"{where}: {'label' if text.label else 'weight'}",
            remedy="leave it out; from-tail says where it stands",
        )
    if text.role is Role.RULE:
        raise FieldError(
            "a rule stands between the texts of one label, not on a back", where=f"{where}: role",
            remedy="leave it out, or give label-size for one label with all the texts",
        )  # fmt: skip
    if member(text.role, Role, f"{where}: role") not in PLANNED:
        raise FieldError(
            "no role of a text on a back",
            value=text.role,
            where=f"{where}: role",
            remedy=f"choose from {', '.join(PLANNED)}",
        )
    if text.weight is not None:
        number(text.weight, f"{where}: weight", least=0.0, most=_MOST_WEIGHT, above=True)
    if text.size_pt is not None:
        number(text.size_pt, f"{where}: size", least=0.0, most=LARGEST_SIZE_PT, above=True)
    panel = text.panel
    if panel is not None and (isinstance(panel, bool) or not isinstance(panel, int)):
        raise FieldError("no panel's number", value=panel, where=f"{where}: panel")


def check_set(volumes: Sequence[tuple[str, BackPlan]]) -> None:
    """Refuse what cannot be several backs alike.

    Raises:
        JobError: fewer than two volumes, a label twice, letters, bands or seats that differ.
    """
    check_labels([label for label, _plan in volumes])
    first = volumes[0][1]
    if any(plan.texts[0].role is Role.CALL_NUMBER for _label, plan in volumes if plan.is_single):
        raise JobError(
            "a set of call numbers alone", remedy="each stands by itself: ask for them one by one"
        )
    single = all(plan.is_single for _label, plan in volumes)
    for place, (_label, plan) in enumerate(volumes, 1):
        with volume_fault(place):
            check_plan(plan)
            _refuse_shared_labels(plan)
        _same_letters(first.lettering, plan.lettering, place)
        if not single:
            _same(place, "bands", first.bands, plan.bands)
            _same(place, "order", first.order, plan.order)
            _same(place, "relation", first.relation, plan.relation)
    if all(plan.apart for _label, plan in volumes):
        raise FieldError(
            "every volume is set apart",
            where="volume 1: apart",
            remedy="leave at least one to set the measure",
        )
    _same_seats([plan for _label, plan in volumes], single=single)


def _refuse_shared_labels(plan: BackPlan) -> None:
    for at, text in enumerate(plan.texts, 1):
        if text.label is not None or text.label_size_mm is not None:
            raise FieldError(
                "a label that texts share is planned for one back",
                value=text.label,
                where=f"text {at}: label",
                remedy="plan this volume by itself, or leave the label out",
            )


def _same_seats(plans: Sequence[BackPlan], *, single: bool) -> None:
    """Texts of one role share panel, weight, size, case and font; titles alone no panel."""
    first: dict[Role, BackText] = {}
    for place, plan in enumerate(plans, 1):
        for at, text in enumerate(plan.texts, 1):
            known = first.setdefault(text.role, text)
            for name, attribute in _OF_A_ROLE.items():
                if single and name in ("panel", "weight"):
                    continue
                mine, theirs = getattr(known, attribute), getattr(text, attribute)
                _same(place, f"text {at}: {name}", mine, theirs)


def _same(place: int, name: str, mine: object, theirs: object) -> None:
    if mine != theirs:
        raise FieldError(
            f"volumes planned together share their {name.rpartition(' ')[2]}",
            value="none" if theirs is None else theirs,
            where=f"volume {place}: {name}",
            remedy="give the same in every volume",
        )


def in_one_language(
    volumes: Sequence[tuple[str, BackPlan]],
) -> tuple[Sequence[tuple[str, BackPlan]], tuple[str, ...]]:
    """The backs in the language of their titles, where that settles which way their lines run.

    Else a back could have its title run up and its author down, each by its own small words.

    Returns:
        The backs, and what was assumed of them.
    """
    plans = [plan for _label, plan in volumes]
    texts = [text for plan in plans for text in plan.texts]
    market = plans[0].market
    alike = all((plan.market, plan.language) == (market, None) for plan in plans)
    if not alike or market is None or len(texts) == 1:
        return volumes, ()
    with volume_fault(1 if len(plans) > 1 else None):
        row, _known = catalogue.market(market)
    if all(catalogue.market(market, language)[0] == row for language in row.languages):
        return volumes, ()
    titles = tuple(text.text for text in texts if text.role is Role.TITLE)
    language = guess_language(titles, row.languages)
    language = language or guess_language(tuple(text.text for text in texts), row.languages)
    if language is None:
        return volumes, ()
    spoken = [(label, replace(plan, language=language)) for label, plan in volumes]
    titles_row, _known = catalogue.market(market, language)
    return spoken, (f"market: {titles_row.name}, language {language} by small words of the titles",)


def check_reading(volumes: Sequence[tuple[str, BackPlan]]) -> None:
    """Refuse volumes of a set whose titles would run different ways along the back."""
    readings = []
    for place, (_label, plan) in enumerate(volumes, 1):
        with volume_fault(place):
            readings.append(resolved_title(plan).lettering.reading)
        if readings[-1] is not readings[0]:
            raise FieldError(
                "volumes of a set read the same way along the back",
                value=readings[-1],
                where=f"volume {place}: reading",
                remedy="give --reading, or one market and one --language for all",
            )


def check_labels(labels: Sequence[str], *, least: int = 2) -> None:
    """Refuse too few volumes, and labels that are none or are given twice.

    Raises:
        JobError: as said.
    """
    if len(labels) < least:
        many = "one volume" if least == 1 else "two volumes"
        raise JobError(f"a set of fewer than {many}", remedy="give more of them")
    refuse_larger_set(len(labels))
    for place, label in enumerate(labels, 1):
        if not isinstance(label, str) or not label.strip():
            raise FieldError("no label", value=label, where=f"volume {place}: label")
        if label in labels[: place - 1]:
            raise FieldError(
                "two volumes of one label",
                value=label,
                where=f"volume {place}: label",
                remedy="give each its own",
            )


@contextmanager
def volume_fault(place: int | None) -> Iterator[None]:
    """Faults raised inside name the volume of that number; None for one back."""
    try:
        yield
    except SpinefitError as fault:
        if place is None:
            raise
        name = "title" if fault.where == "TITLE" else fault.where.removeprefix("--")
        fault.where = f"volume {place}: {name}" if name else f"volume {place}"
        raise


def _same_letters(first: Lettering, other: Lettering, place: int) -> None:
    for field in fields(Lettering):
        if field.name in _OWN:
            continue
        mine, theirs = getattr(first, field.name), getattr(other, field.name)
        if mine != theirs:
            name = _OPTION.get(field.name, field.name)
            raise FieldError(
                f"volumes of a set share their {name}",
                value=theirs,
                where=f"volume {place}: {name}",
                remedy="give it once for all volumes",
            )
