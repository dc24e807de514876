"""Does the next volume match those on the shelf?

In: a back, or the volumes of a set, and a `Pattern`. Out: a `Plan`, every title judged at the
pattern's size, lines and height; nothing is solved again for it, no volume makes another larger
or smaller, and what differs is a finding. Other texts of a back stand beside the title so set.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from spinefit.errors import FieldError
from spinefit.job.model import Lettering
from spinefit.judgement.finding import Finding
from spinefit.judgement.text import judge_text
from spinefit.plan.checks import check_labels, check_plan, volume_fault
from spinefit.plan.model import BackPlan
from spinefit.plan.pattern import Pattern
from spinefit.plan.planner import plan, title_alone, verify_plan
from spinefit.plan.result import Limit, Plan, PlannedRole, PlannedText, PlannedVolume
from spinefit.plan.standing import (
    Standing,
    at_height,
    job_in,
    judged_in,
    leading_text,
    size_asked_pt,
)
from spinefit.tolerances import SAME_PT
from spinefit.vocabulary import AxisGoal, Level, Orientation, Reading, Role, Status

_SOURCE = "common practice: volumes of a set are lettered alike"


def match(backs: Sequence[tuple[str, BackPlan]], pattern: Pattern) -> Plan:
    """Does each of these backs match the pattern?

    Args:
        backs: label and texts of each, one or more. What a back leaves open is the pattern's;
            what it says otherwise is judged as the pattern has it, and reported.
        pattern: what they have to match.

    Returns:
        The plan at the pattern's size and place; a title that does not match does not fit.

    Raises:
        SpinefitError: a back that cannot be, its place naming the volume by number.
    """
    if len(backs) > 1:
        check_labels([label for label, _own in backs])
    volumes, made = [], []
    for place, (label, own) in enumerate(backs, 1):
        with volume_fault(place if len(backs) > 1 else None):
            check_plan(own)
            if own.apart:
                raise FieldError(
                    "what is set apart matches no pattern",
                    where="apart",
                    remedy="plan it with its set, or leave the mark out",
                )
            found = _matched(own, pattern)
            made.append(found)
            volumes.append(found.volumes[0]._replace(label=label))
    found = made[0]._replace(
        backs=tuple(own for _label, own in backs),
        volumes=tuple(volumes),
        roles=_roles_of(made),
        limit=Limit(),
        largest_pt=min(one.largest_pt for one in volumes),
        assumed=tuple(dict.fromkeys(text for one in made for text in one.assumed)),
        pattern=pattern,
        matched=True,
    )
    verify_plan(found)
    return found


def _roles_of(made: Sequence[Plan]) -> tuple[PlannedRole, ...]:
    """Every role of any back as it first stands; its height where it is the same on all."""
    found = {one.role: one for each in reversed(made) for one in each.roles}
    heights: dict[Role, set[float | None]] = {role: set() for role in found}
    for text in (text for each in made for text in each.volumes[0].texts):
        height_mm = text.stands_mm
        heights[text.role].add(None if height_mm is None else round(height_mm, 3))
    return tuple(
        one._replace(stands_mm=next(iter(heights[role])) if len(heights[role]) == 1 else None)
        for role, one in found.items()
    )


def _matched(own: BackPlan, pattern: Pattern) -> Plan:
    """One back, its title as the pattern has it."""
    wanted_mm = pattern.height_mm
    if wanted_mm is not None and own.height_mm is None:
        raise FieldError(
            "a pattern's height over the shelf needs the height of the back",
            where="--height",
            remedy="give the height of the back",
        )
    title = leading_text(own.texts)
    asked = job_in(own, title, Standing(size_pt=size_asked_pt(own, title)))
    breaches = list(_differences(asked.lettering, pattern))
    as_set = _as_pattern(own, pattern)
    try:
        judge_text(job_in(as_set, leading_text(as_set.texts), Standing(size_pt=pattern.size_pt)))
    except FieldError as fault:
        if fault.where != "--lines":
            raise
        breaches.append(_breach("lines", fault.what, str(pattern.lines)))
        as_set = replace(as_set, lettering=replace(as_set.lettering, lines=None))
    if wanted_mm is not None and not as_set.is_single:
        as_set = _hung(as_set, pattern, wanted_mm)
    found = plan([("", as_set)])
    alone = title_alone(own) if own.is_single else plan([("", own)]).volumes[0].title
    stands = found.volumes[0].title
    if stands.judged.title.font.sha256 != pattern.font_sha256:
        breaches.append(_breach("font", stands.judged.title.font.name, pattern.font))
    if wanted_mm is not None:
        judged, missed = at_height(as_set, leading_text(as_set.texts), stands.judged, wanted_mm)
        stands = stands._replace(judged=judged)
        breaches += missed
    return _with_title(found, stands._replace(breaches=tuple(breaches)), alone)


def _with_title(found: Plan, title: PlannedText, alone: PlannedText) -> Plan:
    volume = found.volumes[0]
    texts = tuple(title if one.role is Role.TITLE else one for one in volume.texts)
    others = tuple(role for role in volume.failing if role is not Role.TITLE)
    failing = others if title.fits else (Role.TITLE, *others)
    largest_pt = title.shown.largest_pt
    one = PlannedVolume(volume.label, texts, failing, alone, largest_pt)
    return found._replace(volumes=(one,), largest_pt=largest_pt)


def _hung(own: BackPlan, pattern: Pattern, wanted_mm: float) -> BackPlan:
    """Several texts across a back without bands, the title where the pattern has it."""
    if own.has_bands or pattern.orientation is not Orientation.TRANSVERSE or own.spine is None:
        return own  # it stands in its panel, or where the line along the back leaves it
    title = leading_text(own.texts)
    judged = judged_in(own, title, Standing(size_pt=pattern.size_pt))
    spine = at_height(own, title, judged, wanted_mm)[0].asked.spine
    assert spine is not None  # it was the plan's
    return replace(own, spine=replace(own.spine, from_head_mm=spine.from_head_mm))


def _as_pattern(own: BackPlan, pattern: Pattern) -> BackPlan:
    """The back with its letters, and the title's size and case, as the pattern has them."""
    along = pattern.orientation is Orientation.LONGITUDINAL
    asked = own.lettering
    same_font = asked.font in (None, pattern.font)
    lettering = replace(
        asked,
        font=asked.font or pattern.font,
        face=asked.face or (pattern.face if same_font else None),
        axes=pattern.axes if same_font else asked.axes,
        case=pattern.case,
        tracking=pattern.tracking,
        orientation=pattern.orientation,
        reading=pattern.reading if along else asked.reading,
        lines=pattern.lines,
        size_pt=pattern.size_pt,
        leading_em=pattern.leading_em or asked.leading_em,
        centre=pattern.centre,
    )
    texts = tuple(
        replace(text, size_pt=None, case=None) if text.role is Role.TITLE else text
        for text in own.texts
    )
    return replace(own, lettering=lettering, texts=texts)


def _differences(asked: Lettering, pattern: Pattern) -> Iterator[Finding]:
    """What is asked otherwise than the pattern has it."""
    reading = pattern.reading if pattern.orientation is Orientation.LONGITUDINAL else None
    to_find = frozenset(tag for tag, at in asked.axes or () if isinstance(at, AxisGoal))
    pairs: tuple[tuple[str, object, object], ...] = (
        ("orientation", asked.orientation, pattern.orientation),
        ("reading", asked.reading, reading),
        ("lines", asked.lines, pattern.lines),
        ("case", asked.case, pattern.case),
        ("centre", asked.centre, pattern.centre),
        ("face", asked.face, pattern.face),
        ("axes", _values(asked.axes, to_find), _values(pattern.axes, to_find) or "none"),
    )
    for name, mine, theirs in pairs:
        open_to_any = mine in (None, Orientation.ANY, Reading.AUTO) or theirs is None
        if not open_to_any and mine != theirs:
            yield _breach(name, str(mine), str(theirs))
    figures = (
        ("size", asked.size_pt, pattern.size_pt),
        ("tracking", asked.tracking, pattern.tracking),
        ("leading", asked.leading_em, pattern.leading_em),
    )
    for name, size, other in figures:
        if size is not None and other is not None and abs(size - other) > SAME_PT:
            yield _breach(name, f"{size:g}", f"{other:g}")


def _values(axes: Sequence[tuple[str, object]] | None, left_open: frozenset[str]) -> str | None:
    """Settings as they are typed; an axis that was to be found is left open."""
    known = [f"{tag}={value}" for tag, value in sorted(axes or ()) if tag not in left_open]
    return ",".join(known) or None


def _breach(name: str, mine: str, theirs: str) -> Finding:
    return Finding(
        topic=f"pattern-{name}",
        level=Level.FAILURE,
        value=mine,
        limit=theirs,
        source=_SOURCE,
        status=Status.PRACTICE,
    )
