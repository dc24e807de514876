"""How does a person at the bench read a plan on a screen?

In: a `BackReport` or `SetReport`. Out: plain text, the answer first, then each text or volume with
its lines and where to measure, what could be changed, what to mind, and the same end as a title
alone has. Each text's own report in full is in JSON and in the checklist.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from spinefit.say import terminal
from spinefit.say.below import (
    assumed_rows,
    closing,
    doubt_rows,
    mind_rows,
    numbered_rows,
    on_a_screen,
    reason_rows,
)
from spinefit.say.model import FindingReport, LayoutReport, Report, doubts_of
from spinefit.say.page import Page
from spinefit.say.phrasing import (
    bare_mm,
    from_head_in_words,
    grave,
    joined,
    least_spare_mm,
    limit_pt,
    listed,
    mm,
    placing_in_words,
    pt,
    shown,
    visible,
)
from spinefit.say.plan_model import BackReport, PlanReport, SetReport, TextReport, VolumeReport
from spinefit.say.plan_words import differ_in_a_word, in_runs, label_in_words
from spinefit.say.remedies import changes_of
from spinefit.say.screen import PLAIN, Screen
from spinefit.vocabulary import Reading, Role

_NEAR = "letters-close"  # what is said of it differs with the digits of each volume


def render(report: PlanReport, screen: Screen = PLAIN, *, why: bool = False) -> str:
    """The plan as text, lines ended by newlines.

    Args:
        report: the plan.
        screen: what it is written for.
        why: whether reasons, sources, each text by itself and all that was assumed are wanted too.
    """
    if isinstance(report, BackReport) and report.is_single:
        return terminal.render(report.texts[0].report, screen, why=why)
    doubts = doubts_of(one for _, one in report.parts)
    findings = [*(("", one) for one in report.findings), *_of_parts(report, why=why)]
    findings = [(name, one) for name, one in findings if one.text not in doubts]
    changes = changes_of(report)

    def draw(most_notes: int | None) -> Page:
        page = Page(screen)
        page.paragraph(visible(report.answer), "bold")
        doubt_rows(page, doubts)
        _body(page, report, why=why)
        parts = _names(report, why=why)
        withheld = mind_rows(page, findings, parts=parts, why=why, most_notes=most_notes)
        numbered_rows(page, _heading_of_changes(report), changes, why=why)
        if why:
            assumed_rows(page, report.assumed)
            reason_rows(page, report.findings)
        reports = [one for _, one in report.parts]
        closing(page, reports, report.assumed, why=why, withheld=withheld)
        return page

    return on_a_screen(draw, findings, why=why)


def _body(page: Page, report: PlanReport, *, why: bool) -> None:
    if isinstance(report, BackReport):
        _back(page, report, why=why)
    elif not why:
        _alike_volumes(page, report)
    elif report.of_texts:
        for volume in report.volumes:
            page.heading(f"{visible(volume.label)}, from head to tail")
            for text in volume.texts:
                _text(page, text, why=True)
    else:
        page.heading("The volumes")
        for volume in report.volumes:
            _volume(page, volume)


def _heading_of_changes(report: PlanReport) -> str:
    if not isinstance(report, BackReport):
        return "What else could be done"
    return "Over the old lettering" if report.fits else "What would make it fit"


def _of_parts(report: PlanReport, *, why: bool) -> list[tuple[str, FindingReport]]:
    """What is grave of each text or volume and its setting; notes are for its own report.

    What several volumes have in the same text is said once.
    """
    if why or isinstance(report, BackReport):
        return [(name, finding) for name, one in report.parts for finding in grave(one)]
    found: dict[tuple[str, FindingReport | str], dict[str, _Grave]] = {}
    for volume in report.volumes:
        for role, one in report.named(volume):
            for finding in grave(one):
                key = finding.topic if finding.topic == _NEAR else finding
                told = _Grave(finding, shown(one).set_pt)
                found.setdefault((role, key), {})[volume.label] = told
    named = [
        (_of_whom(role, list(own), _order(report)), max(own.values(), key=_Grave.lacks_em))
        for (role, _key), own in found.items()
    ]
    return list(_nearest_once(named))


class _Grave(NamedTuple):
    """A finding and the size it is found at."""

    finding: FindingReport
    set_pt: float

    def lacks_em(self) -> float:
        """By how much of its size it falls short of its limit."""
        value, limit = self.finding.value, self.finding.limit
        if isinstance(value, float | int) and isinstance(limit, float | int):
            return (limit - value) / self.set_pt
        return 0.0


def _nearest_once(named: Sequence[tuple[str, _Grave]]) -> Iterator[tuple[str, FindingReport]]:
    """Letters too near are said of the texts that need most space, the others named beside."""
    near = {name: one for name, one in named if one.finding.topic == _NEAR}
    most = max(near, key=lambda name: near[name].lacks_em(), default="")
    others = [name for name in near if name != most]
    for name, one in named:
        if name not in near or one.finding.topic != _NEAR:
            yield name, one.finding
        elif name == most:
            less = f" (less for {listed(others)})" if others else ""
            yield f"{name}{less}", one.finding


def _names(report: PlanReport, *, why: bool) -> frozenset[str]:
    """Of all texts of a back, or of a volume: what is of all of them names none."""
    if why or isinstance(report, BackReport):
        return frozenset(name for name, _ in report.parts)
    return frozenset(role for volume in report.volumes for role, _ in report.named(volume))


def _of_whom(role: str, labels: Sequence[str], order: Mapping[str, int]) -> str:
    """Of which volumes; of none by name where it is of all."""
    if len(labels) == len(order):
        return role or "All"
    return ", ".join(filter(None, [in_runs(labels, order), role]))


def _order(report: SetReport) -> dict[str, int]:
    return {one.label: at for at, one in enumerate(report.volumes)}


def _back(page: Page, report: BackReport, *, why: bool) -> None:
    page.heading("From head to tail")
    for text in report.texts:
        _text(page, text, why=why)
    if report.labels:
        page.heading("Labels that texts share")
    for label in report.labels:
        page.row(visible(label.name), visible(label_in_words(label)))


def _alike_volumes(page: Page, report: SetReport) -> None:
    """The volumes, those that are alike together: their lines and place once."""
    groups: dict[tuple[object, ...], dict[str, tuple[_Told, ...]]] = {}
    for one in report.volumes:
        told = tuple(map(_told, one.texts)) if report.of_texts else _of_title(one)
        key = tuple((each.name, len(each.lines), each.facts) for each in told)
        groups.setdefault(key, {})[one.label] = told
    order = _order(report)
    if not report.of_texts:
        page.heading("The volumes")
    for group in groups.values():
        who = in_runs(list(group), order)
        if report.of_texts:
            alike = " alike" if len(group) > 1 else ""
            spares = {
                f"{each.name} of {label}" if len(group) > 1 else each.name: each.spare_mm
                for label, own in group.items()
                for each in own
            }
            page.heading(
                visible("; ".join([f"{who}{alike}, from head to tail", *_least_of(spares)]))
            )
        for at, each in enumerate(next(iter(group.values()))):
            _alike_texts(page, each.name or who, {label: own[at] for label, own in group.items()})


class _Told(NamedTuple):
    """What is told in brief of one text of a volume; ``facts`` may be those of other volumes."""

    name: str
    lines: tuple[str, ...]
    facts: tuple[str, ...]
    spare_mm: float | None


def _told(one: TextReport) -> _Told:
    layout = shown(one.report)
    where = "" if one.panel is None else f", panel {one.panel}"
    size = pt(layout.set_pt) if layout.fits else _size(layout)
    place = from_head_in_words(layout) if layout.fits else ""
    facts = (f"{size}{where}", *filter(None, [place]), *_shelf(one), *_ink(one.report))
    return _Told(one.role.words, layout.lines, facts, least_spare_mm(layout))


def _shelf(one: TextReport) -> list[str]:
    """Where a call number stands over the shelf."""
    if one.role is not Role.CALL_NUMBER or one.from_tail_mm is None or not one.fits:
        return []
    call = one.judged.job.call_number
    if call is not None and call.at_head:
        return ["at the head, as the book is oversize"]
    return [f"lower edge {round(one.from_tail_mm, 2):g} mm from the tail"]


def _of_title(one: VolumeReport) -> tuple[_Told, ...]:
    """The title of a volume, and its number where that stands by itself."""
    layout = shown(one.report)
    size = [_size(layout)] if not one.fits or one.apart else []
    facts = (*size, *_place(layout, spare=False), *_ink(one.report))
    title = _Told("", layout.lines, facts, least_spare_mm(layout))
    return (title,) if one.number is None else (title, _told(one.number))


def _alike_texts(page: Page, name: str, texts: Mapping[str, _Told]) -> None:
    """Texts that volumes have alike but for their words; of titles the least spare too."""
    first = next(iter(texts.values()))
    facts = list(first.facts)
    if not first.name:
        facts += _least_of({label: one.spare_mm for label, one in texts.items()})
    merged = _merged([one.lines for one in texts.values()])
    if merged is not None:
        page.row(visible(name), visible("; ".join([merged, *facts])))
        return
    for label, one in texts.items():  # each in its own words
        page.row(visible(label), visible(" / ".join(one.lines)))
    page.row(first.name or "alike", visible("; ".join(facts)))


def _least_of(spares_mm: Mapping[str, float | None]) -> list[str]:
    """The least of what is spare, and whose it is where they differ; nothing where none is known.

    >>> _least_of({"1": 2.0, "2": 0.5}), _least_of({"1": None})
    (['least spare 0.5 mm (2)'], [])
    """
    known = {name: mm(each) for name, each in spares_mm.items() if each is not None}
    if not known:
        return []
    least = min(known, key=lambda name: spares_mm[name] or 0.0)
    of = f" ({least})" if len(set(known.values())) > 1 else ""
    return [f"least spare {known[least]}{of}"]


def _merged(texts: Sequence[Sequence[str]]) -> str | None:
    """The lines of several texts in one, a stroke at each break; None where too much differs.

    >>> _merged([("Annals", "1"), ("Annals", "2"), ("Annals", "3")])
    'Annals / 1-3'
    """
    columns = [list(each) for each in zip(*texts, strict=True)]
    differing = [each for each in columns if len(set(each)) > 1]
    if len(differing) > 1 or not all(map(differ_in_a_word, differing)):
        return None
    return " / ".join(in_runs(each) if each in differing else each[0] for each in columns)


def _text(page: Page, one: TextReport, *, why: bool) -> None:
    layout = shown(one.report)
    where = "" if one.panel is None else f", panel {one.panel}"
    if why and one.zone is not None:
        begins, ends = bare_mm(one.zone.begins_mm), mm(one.zone.ends_mm)
        where += f"; its room is {begins} to {ends} from the head"
    recess = [] if one.report.recess is None else [f"recess: {one.report.recess.text}"]
    rows = [joined(layout), f"{_size(layout)}{where}", *_place(layout), *_shelf(one), *recess]
    rows += _ink(one.report)
    _named(page, one.role.words, rows, why=why)


def _volume(page: Page, one: VolumeReport) -> None:
    """A volume with all that is known of it."""
    layout, alone = shown(one.report), one.alone
    assert alone is not None  # it has a title alone
    way = "across" if alone.reading is Reading.ACROSS else alone.reading
    by_itself = f"{pt(alone.set_pt)} {way} would be advised, as {joined(alone)}"
    if not alone.fits:
        by_itself = f"it takes {limit_pt(alone.largest_pt)} at most, {way}, as {joined(alone)}"
    rows = [joined(layout), f"{_size(layout)}; by itself {by_itself}", *_place(layout)]
    if one.number is not None:
        across = shown(one.number.report)
        place = "; ".join([f"{_size(across)} across the back", *_place(across)])
        rows.append(f"{joined(across)}: {place}")
    _named(page, one.label, [*rows, *_ink(one.report)], why=True)


def _ink(report: Report) -> list[str]:
    return [] if report.old_lettering is None else [f"old ink: {report.old_lettering.text}"]


def _size(layout: LayoutReport) -> str:
    verdict = "" if layout.fits else "does not fit: "
    return f"{verdict}{pt(layout.set_pt)}, {limit_pt(layout.largest_pt)} at most"


def _place(layout: LayoutReport, *, spare: bool = True) -> list[str]:
    parts = [placing_in_words(layout)] if layout.fits else []
    least = least_spare_mm(layout) if spare else None
    if least is not None:
        parts.append(f"least spare {mm(least)}")
    return ["; ".join(filter(None, parts))] if any(parts) else []


def _named(page: Page, name: str, facts: Sequence[str], *, why: bool) -> None:
    """Facts beside what they are of: one after the other, or each on a line of its own."""
    if not why:
        page.row(visible(name), visible("; ".join(facts)))
        return
    page.blank()
    for at, fact in enumerate(facts):
        page.row("" if at else visible(name), visible(fact))
