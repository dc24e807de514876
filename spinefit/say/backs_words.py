"""How is the plan of several backs alike said to a binder?

All wording of `plan.backs`. In: the volumes as checked. Out: plain text and findings; nothing
is worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.plan.model import Role
from spinefit.plan.result import PlannedRole
from spinefit.provenance import Status
from spinefit.say.back_words import listed, shown, way_in_words
from spinefit.say.model import FindingReport
from spinefit.say.phrasing import mm
from spinefit.say.plan_model import BackVolumeReport
from spinefit.vocabulary import Level, Reading, Verdict

__all__ = ["answer", "findings"]


def answer(
    volumes: Sequence[BackVolumeReport],
    roles: Sequence[PlannedRole],
    verdict: Verdict,
    limiting: str | None,
    limiting_role: Role | None,
) -> str:
    """The whole answer in one sentence."""
    if verdict is Verdict.DOES_NOT_FIT:
        failing = listed(
            [
                f"{listed([f'the {role}' for role in one.failing])} of {one.label}"
                for one in volumes
                if one.failing
            ]
        )
        return f"The volumes do not fit alike: no room is found for {failing}."
    start = "The volumes fit alike" + (", but tightly" if verdict is Verdict.TIGHT else "")
    title = next(one for one in roles if one.role is Role.TITLE)
    sizes = listed([f"{one.role} {one.set_pt:g} pt" for one in roles])
    text = f"{start}, the title {way_in_words(title.reading)}: {sizes} in every volume"
    limit = _limit(limiting, limiting_role)
    return f"{text}; {limit}." if limit else f"{text}."


def _limit(limiting: str | None, role: Role | None) -> str:
    if role is None:
        return ""
    where = "in every volume" if limiting is None else f"in {limiting}"
    return f"the {role} sets the limit {where}"


def findings(
    volumes: Sequence[BackVolumeReport],
    roles: Sequence[PlannedRole],
    verdict: Verdict,
    limiting: str | None,
    limiting_role: Role | None,
) -> tuple[FindingReport, ...]:
    """What a binder should know of the volumes as a whole, the gravest first."""
    found = [_no_room(one, role) for one in volumes for role in one.failing]
    if verdict is not Verdict.DOES_NOT_FIT:
        found.append(_limits(volumes, roles, limiting, limiting_role))
    found += [_height(one) for one in roles]
    return tuple(found)


def _no_room(volume: BackVolumeReport, role: Role) -> FindingReport:
    text = next(one for one in volume.texts if one.role is role)
    layout = shown(text.report)
    length = "" if text.zone is None else f", {mm(text.zone.length_mm)} of the back"
    return FindingReport(
        "text-without-room",
        Level.FAILURE,
        f"The {role} of {volume.label} finds no room at {text.set_pt:g} pt where the others of "
        f"its kind stand{length}: {text.report.answer}",
        text.set_pt,
        layout.largest_pt,
        "pt",
        "computed from the outlines and the backs",
        Status.COMPUTED,
    )


def _limits(
    volumes: Sequence[BackVolumeReport],
    roles: Sequence[PlannedRole],
    limiting: str | None,
    limiting_role: Role | None,
) -> FindingReport:
    title = next(one for one in roles if one.role is Role.TITLE)
    alone = listed([f"{one.label} {one.title_alone_pt:g} pt" for one in volumes])
    limit = _limit(limiting, limiting_role)
    if limit:
        what = f"{limit[:1].upper()}{limit[1:]}: without it the title could be larger."
    else:
        what = "No one text or volume sets the limit: without any of them the title stays as it is."
    return FindingReport(
        "set-limit",
        Level.NOTE,
        f"{what} Planned by itself the title of each would be: {alone}.",
        title.set_pt,
        None,
        "pt",
        "computed: the plan again without each text and each volume",
        Status.COMPUTED,
    )


def _height(one: PlannedRole) -> FindingReport:
    if one.stands_mm is None:
        text = f"No common height over the shelf is known for the {one.role}."
    elif one.reading is Reading.ACROSS:
        text = (
            f"The {one.role}'s first baseline stands {mm(one.stands_mm)} from the tail in every "
            "volume."
        )
    else:
        text = f"The {one.role} begins {mm(one.stands_mm)} from the tail in every volume."
    return FindingReport(
        "set-height",
        Level.NOTE if one.stands_mm is None else Level.GOOD,
        text,
        one.stands_mm,
        None,
        "mm",
        "common practice: volumes of a set are lettered at one height",
        Status.PRACTICE,
    )
