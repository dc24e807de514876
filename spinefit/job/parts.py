"""Which texts and rules does a label hold, completed?

In: the parts of a job as they were said. Out: the same with nothing left to guess, and which of the
texts leads: the one whose size all others are parts of. Sizes by role come from rules.toml
``plan.*``, the thickness of rules from ``ruling.*`` and the method.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.catalogue import Method, Rules, ruling_mm
from spinefit.errors import FaultsMoved, FieldError
from spinefit.job import kinds as kind
from spinefit.job.checks import LARGEST_SIZE_PT, member, number, text
from spinefit.job.fields import names_said, option_place
from spinefit.job.model import Job
from spinefit.job.nudges import Nudge, nudge_places, nudges_of
from spinefit.job.places import CallNumber, ResolvedCallNumber
from spinefit.job.resolved import ResolvedPart, ResolvedSpine
from spinefit.job.title import title_lines
from spinefit.job.values import Part
from spinefit.vocabulary import Centre, Measure, Orientation, Role, Ruling

_MOST_PARTS = 20  # a label of so many lines is none
_LEAST_RATIO, _MOST_RATIO = 0.1, 3.0
_LEADERS = (Role.TITLE, Role.AUTHOR, Role.SUBTITLE, Role.VOLUME, Role.CALL_NUMBER, Role.DATE)
"""Whose size the others go by, the first of these roles that a label has."""


class Led(NamedTuple):
    """A job by its leading text, or by its title alone.

    Attributes:
        job: with that text as its title, lettered as that is.
        leader: the place of that text among the parts.
        lines: its forced lines.
        every: those of all texts.
    """

    job: Job
    leader: int
    lines: tuple[str, ...]
    every: tuple[str, ...]


def led(job: Job, assumed: list[str]) -> Led:
    """A job by the one of its texts whose size all others go by.

    Args:
        job: a job with or without parts.
        assumed: takes what was assumed.

    Raises:
        FieldError: no text among the parts, or what several texts of one label cannot have.
    """
    if not job.parts:
        lines = _broken(text(job.title, "TITLE"), job.role, job, assumed)
        if "  " in job.title.strip():
            assumed.append("spaces: one between words, where the title has several")
        return Led(job, 0, lines, lines)
    _refuse_what_one_title_has(job)
    for at, part in enumerate(job.parts, 1):
        _check(part, f"text {at}")
    texts = [at for at, part in enumerate(job.parts) if part.role is not Role.RULE]
    if not texts:
        raise FieldError(
            f"{'a rule' if len(job.parts) == 1 else 'rules'} and no text to letter", where="text 1",
            remedy='add a [[text]] with words, such as role = "title" and text = "Log"',
        )  # fmt: skip
    order = [*_LEADERS, Role.IMPRINT]
    leader = min(texts, key=lambda at: order.index(job.parts[at].role))
    part, lettering = job.parts[leader], job.lettering
    if part.size_pt is not None and lettering.size_pt is not None:
        raise FieldError(
            f"a size beside that of the {part.role}", value=f"{lettering.size_pt:g} pt",
            where="--size", remedy=f"text {leader + 1} has one of its own: leave one out",
        )  # fmt: skip
    lettering = replace(
        lettering,
        size_pt=lettering.size_pt if part.size_pt is None else part.size_pt,
        case=part.case or lettering.case,
        font=part.font or lettering.font,
        lines_up_mm=part.lines_up_mm,
        lines_tracking=part.lines_tracking,
    )
    for at in texts:
        _nudges(job, at, leader)
    every = tuple(line for at in texts for line in _lines(job, at))
    own = replace(job, title=part.text, lettering=lettering)
    return Led(own, leader, _lines(job, leader), every)


def _lines(job: Job, at: int) -> tuple[str, ...]:
    """The text of a part, cut at its forced breaks."""
    with FaultsMoved({"TITLE": f"text {at + 1}: text"}):
        lines = _broken(job.parts[at].text, job.parts[at].role, job, [])
    if job.parts[at].role is Role.CALL_NUMBER:  # its marks alone break it
        return tuple(line.replace(" ", "\u00a0") for line in lines)
    return lines


def _broken(words: str, role: Role | None, job: Job, assumed: list[str]) -> tuple[str, ...]:
    """Words cut at the breaks that were typed, a call number by its marks too."""
    if role is not Role.CALL_NUMBER:
        return title_lines(words, slash_breaks=job.slash_breaks)
    from spinefit.job.call_number import lines_of

    return lines_of(words, job, assumed)


def _nudges(job: Job, at: int, leader: int) -> tuple[Nudge, ...]:
    """What was done by hand to the lines of a text."""
    with FaultsMoved(nudge_places(f"text {at + 1}")):
        part, lettering = job.parts[at], job.lettering
        return nudges_of(
            part.lines_up_mm,
            part.lines_tracking,
            usual=lettering.tracking,
            forced=len(_lines(job, at)),
            asked=lettering.lines if at == leader else None,
        )


def _refuse_what_one_title_has(job: Job) -> None:
    if job.title:
        raise FieldError(
            "a title beside several texts", value=job.title, where="TITLE",
            remedy='give it as a text of its own, with role = "title"',
        )  # fmt: skip
    if job.spine is not None and job.label_size is None:
        raise FieldError(
            "several texts of one label have the label, not a back", where="--width",
            remedy="give --panel or --label-size, or plan the texts of a back",
        )  # fmt: skip
    if len(job.parts) > _MOST_PARTS:
        raise FieldError(
            "too many texts for one label", value=len(job.parts), where=f"text {_MOST_PARTS + 1}",
            remedy=f"give {_MOST_PARTS} at most",
        )  # fmt: skip
    lettering = job.lettering
    if lettering.lines_up_mm is not None or lettering.lines_tracking is not None:
        raise FieldError(
            "several texts have lines of their own",
            where="--lines-up" if lettering.lines_up_mm else "--lines-tracking",
            remedy="give it with the text whose lines are meant",
        )
    if lettering.orientation is Orientation.PILLAR:
        raise FieldError(
            "several texts are no pillar", value="pillar", where="--orientation",
            remedy="take transverse or longitudinal",
        )  # fmt: skip
    if lettering.centre is Centre.CAPITALS:
        raise FieldError(
            "several texts of one label are centred on their ink", value="capitals",
            where="--centre", remedy="leave it out",
        )  # fmt: skip


def _check(part: Part, here: str) -> None:
    """Refuse a part that was made in Python and cannot be."""
    member(part.role, Role, f"{here}: role")
    text(part.text, f"{here}: text")
    sizes = (
        ("size", part.size_pt, 0.0, LARGEST_SIZE_PT),
        ("ratio", part.ratio, _LEAST_RATIO, _MOST_RATIO),
    )
    for name, value, least, most in sizes:
        if value is not None:
            number(value, f"{here}: {name}", least=least, most=most, above=not least)
    for name, values, known in (
        ("lines-up", part.lines_up_mm, kind.LIFTS),
        ("lines-tracking", part.lines_tracking, kind.TRACKINGS),
    ):
        known.check(values or (), f"{here}: {name}")
    if part.size_pt is not None and part.ratio is not None:
        raise FieldError(
            "both a size and a ratio given", value=part.ratio, where=f"{here}: ratio",
            remedy="give one of the two",
        )  # fmt: skip
    is_rule = part.role is Role.RULE
    nudged = part.lines_up_mm or part.lines_tracking
    if is_rule and (part.text or part.size_pt or part.ratio or nudged):
        raise FieldError("a rule has neither text nor size", value=part.text, where=here,
                         remedy="leave them out")  # fmt: skip
    if not is_rule and (part.rule or part.measure):
        raise FieldError("only a rule is a line", value=part.role, where=here,
                         remedy="leave rule and measure out")  # fmt: skip


def refuse_unasked(said: CallNumber | None, roles: Collection[Role | None]) -> None:
    """Refuse what is said of a call number where none of the texts is one."""
    names = () if said is None or Role.CALL_NUMBER in roles else sorted(names_said(said))
    for name in names:
        raise FieldError(
            "there is no call number for it", where=option_place(name),
            remedy="give --role call-number, or a text of that role",
        )  # fmt: skip


def placed(
    job: Job, spine: ResolvedSpine | None, clearance_mm: float, rules: Rules, assumed: list[str]
) -> tuple[ResolvedSpine | None, ResolvedCallNumber | None]:
    """The back, with only its place left to a call number, and how that stands.

    Its ink keeps ``clearance_mm`` from the ends of that place.
    """
    refuse_unasked(job.call_number, [job.role, *(part.role for part in job.parts)])
    if job.role is not Role.CALL_NUMBER:
        return spine, None
    from spinefit.job.call_number import at_its_place

    return at_its_place(job, spine, clearance_mm, rules, assumed)


def lines_asked(job: Job, lines: tuple[str, ...]) -> int | None:
    """How many lines were asked for; a call number has just those that its marks make."""
    asked = job.lettering.lines
    if job.role is not Role.CALL_NUMBER:
        return asked
    if (
        asked not in (None, len(lines))
        and job.lettering.orientation is not Orientation.LONGITUDINAL
    ):
        raise FieldError(
            f"the marks of the call number make {len(lines)} lines", value=asked, where="--lines",
            remedy="leave it out, or force breaks with ' / ' and --scheme as-typed",
        )  # fmt: skip
    return len(lines)


def resolved_parts(
    job: Job, leader: int, method: Method, rules: Rules, assumed: list[str]
) -> tuple[ResolvedPart, ...]:
    """The parts of a job, completed.

    Args:
        job: the job as it was said.
        leader: the place of its leading text.
        method: how it is made.
        rules: the numbers of the trade.
        assumed: takes what was assumed.
    """
    if not job.parts:
        return ()
    leads = job.parts[leader]
    if leads.ratio is not None:
        raise FieldError(
            f"the other sizes are parts of that of the {leads.role}", value=leads.ratio,
            where=f"text {leader + 1}: ratio", remedy="leave it out",
        )  # fmt: skip
    whole = _usual_ratio(leads.role, rules)
    found: list[ResolvedPart] = []
    for at, part in enumerate(job.parts):
        if part.role is Role.RULE:
            ruling = ruling_mm(part.rule or Ruling.THIN, method, rules)
            measure = part.measure or Measure.SHORT
            found.append(ResolvedPart(part.role, ruling_mm=ruling, measure=measure))
            continue
        usual = min(1.0, _usual_ratio(part.role, rules) / whole)
        ratio = 1.0 if at == leader else usual if part.ratio is None else part.ratio
        found.append(
            ResolvedPart(
                role=part.role,
                lines=_lines(job, at),
                size_pt=None if at == leader else _size_pt(job, part),
                ratio=ratio,
                least_pt=_least_pt(part, rules),
                case=part.case or job.lettering.case,
                font=part.font or job.lettering.font,
                nudges=_nudges(job, at, leader),
            )
        )
    _assume_ratios(job.parts, found, leads.role, assumed)
    return tuple(found)


def _size_pt(job: Job, part: Part) -> float | None:
    """The size a text was given; that of the house's call numbers holds where it has none."""
    of_house = part.role is Role.CALL_NUMBER and part.ratio is None
    if part.size_pt is None and of_house and job.call_number is not None:
        return job.call_number.size_pt
    return part.size_pt


def _least_pt(part: Part, rules: Rules) -> float:
    """No smaller than that, where no ratio was given; 0 for any size."""
    row = {Role.DATE: "plan.date_least_pt", Role.CALL_NUMBER: "call_number.least_pt"}.get(part.role)
    return rules.value(row) if row is not None and part.ratio is None else 0.0


def _usual_ratio(role: Role, rules: Rules) -> float:
    return 1.0 if role is Role.TITLE else rules.value(f"plan.{role}_ratio".replace("-", "_"))


def _assume_ratios(
    parts: Sequence[Part], found: Sequence[ResolvedPart], leads: Role, assumed: list[str]
) -> None:
    """Name the sizes that were not said."""
    usual = {
        str(part.role): own.ratio
        for part, own in zip(parts, found, strict=True)
        if part.role not in (Role.RULE, leads) and part.size_pt is None and part.ratio is None
    }
    assumed.extend(
        f"size of the {role.replace('-', ' ')}: about {ratio:.2g} of that of the {leads}"
        for role, ratio in usual.items()
    )
