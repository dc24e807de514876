"""What has a set settled, and does the next volume match it?

`pattern_of` reads a pattern off a report, `match_pattern` applies it: the next volume is
judged at the pattern's size, lines and height; nothing is solved again, and what differs is a
finding. Sizes in DTP points, heights in mm from the tail.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from spinefit import pipeline
from spinefit.errors import FieldError, JobError
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedLettering
from spinefit.plan.back_words import shown
from spinefit.plan.pattern_model import Pattern
from spinefit.plan.pattern_words import differs, height_missed, matched, no_such_lines, other_font
from spinefit.plan.reports import SetReport
from spinefit.plan.shelf import height_of_back_mm, moved, stands_mm
from spinefit.say.model import FindingReport, Report
from spinefit.units import mm_from_pt
from spinefit.vocabulary import AxisGoal, Centre, Orientation, Reading

__all__ = ["match_job", "match_pattern", "pattern_of", "pattern_of_common"]

_SAME_MM = 1e-6  # rounding of sums of millimetres, and of what a pattern's file keeps
_SAME_PT = 1e-9


def pattern_of(found: SetReport | Report, job: Job | None = None) -> Pattern:
    """What the next volume has to match.

    Args:
        found: the report of a set, or of one job.
        job: that job; a set needs none.

    Raises:
        JobError: what does not fit is no pattern.
    """
    if isinstance(found, SetReport):
        if found.pattern is None:
            raise JobError("a set that does not fit is no pattern", remedy="make it fit first")
        return found.pattern
    if not found.fits:
        raise JobError("what does not fit is no pattern", remedy="make it fit first")
    if job is None:
        raise JobError("a report alone does not say how it was lettered", remedy="give its job")
    return pattern_of_common(job, found, stands_mm(job, shown(found)))


def pattern_of_common(job: Job, report: Report, height_mm: float | None) -> Pattern:
    """The pattern of one job and its report, its lettering standing ``height_mm`` from the tail."""
    resolved, layout = resolve(job), shown(report)
    across = layout.orientation is Orientation.TRANSVERSE
    leading_em = job.lettering.leading_em
    baselines = layout.baselines_mm
    if len(baselines) < 2 or layout.orientation is Orientation.PILLAR:
        leading_em = None
    elif leading_em is None:
        leading_em = (baselines[0] - baselines[1]) / mm_from_pt(layout.set_pt)
    return Pattern(
        orientation=layout.orientation,
        reading=layout.reading,
        lines=len(layout.lines),
        size_pt=layout.set_pt,
        font=resolved.lettering.font,
        font_sha256=report.font.sha256,
        face=resolved.lettering.face,
        axes=_axes_of(resolved.lettering, report),
        case=resolved.lettering.case,
        tracking=round(resolved.lettering.tracking_em * 1000, 9),
        leading_em=leading_em,
        centre=job.lettering.centre or Centre.AUTO,
        baselines_from_tail_mm=(
            tuple(height_mm + (line - baselines[0]) for line in baselines)
            if across and height_mm is not None
            else None
        ),
        begins_from_tail_mm=None if across else height_mm,
    )


def match_pattern(job: Job, pattern: Pattern) -> Report:
    """Does this volume match those on the shelf?

    Args:
        job: the next volume. What it leaves open is the pattern's; what it says otherwise is
            judged as the pattern has it, and reported.
        pattern: what the others have in common.

    Returns:
        The report at the pattern's size and place; what breaches the pattern is a failure
        finding, and then it does not fit.

    Raises:
        SpinefitError: a job that cannot be, or lines that the title cannot be broken into.
    """
    return match_job(job, pattern)[1]


def match_job(job: Job, pattern: Pattern) -> tuple[Job, Report]:
    """The same, with the job as the pattern has it, which the report is for."""
    wanted_mm = _height_of(pattern)
    if wanted_mm is not None and height_of_back_mm(job) is None:
        raise FieldError(
            "a pattern's height over the shelf needs the height of the back",
            where="--height",
            remedy="give the height of the back",
        )
    breaches = list(_differences(job, pattern))
    own = _as_pattern(job, pattern)
    try:
        report = pipeline.check(own, verify=True)
    except FieldError as fault:
        if fault.where != "--lines":
            raise
        breaches.append(no_such_lines(fault.what, pattern.lines))
        own = replace(own, lettering=replace(own.lettering, lines=None))
        report = pipeline.check(own, verify=True)
    if report.font.sha256 != pattern.font_sha256:
        breaches.append(other_font(report.font.name, pattern.font))
    if wanted_mm is not None:
        own, report = _brought_to(own, report, wanted_mm)
        stands = stands_mm(own, shown(report))
        if stands is None or abs(stands - wanted_mm) > _SAME_MM:
            breaches.append(height_missed(stands, wanted_mm))
    return own, matched(report, breaches)


def _brought_to(job: Job, report: Report, wanted_mm: float) -> tuple[Job, Report]:
    """The volume at the pattern's height, or where it stands by itself if that cannot be."""
    for _ in range(2):  # another split may be taken once it is moved
        other = moved(job, shown(report), wanted_mm)
        if other is None or other == job:
            break
        job, report = other, pipeline.check(other, verify=True)
    return job, report


def _axes_of(lettering: ResolvedLettering, report: Report) -> tuple[tuple[str, float], ...] | None:
    """The settings asked for, and the one that was found."""
    axes = dict(lettering.axes)
    if lettering.sought is not None:
        axes[lettering.sought[0]] = dict(report.font.axes)[lettering.sought[0]]
    return tuple(sorted(axes.items())) or None


def _values(axes: Sequence[tuple[str, object]] | None, left_open: frozenset[str]) -> str | None:
    """Settings as they are typed; an axis that was to be found is left open."""
    known = [f"{tag}={value}" for tag, value in sorted(axes or ()) if tag not in left_open]
    return ",".join(known) or None


def _height_of(pattern: Pattern) -> float | None:
    if pattern.baselines_from_tail_mm is not None:
        return pattern.baselines_from_tail_mm[0]
    return pattern.begins_from_tail_mm


def _as_pattern(job: Job, pattern: Pattern) -> Job:
    along = pattern.orientation is Orientation.LONGITUDINAL
    same_font = job.lettering.font in (None, pattern.font)
    lettering = replace(
        job.lettering,
        font=job.lettering.font or pattern.font,
        face=job.lettering.face or (pattern.face if same_font else None),
        axes=pattern.axes if same_font else job.lettering.axes,
        case=pattern.case,
        tracking=pattern.tracking,
        orientation=pattern.orientation,
        reading=pattern.reading if along else job.lettering.reading,
        lines=pattern.lines,
        size_pt=pattern.size_pt,
        leading_em=pattern.leading_em or job.lettering.leading_em,
        centre=pattern.centre,
    )
    return replace(job, lettering=lettering)


def _differences(job: Job, pattern: Pattern) -> Iterator[FindingReport]:
    """What the job says otherwise than the pattern."""
    said = job.lettering
    reading = pattern.reading if pattern.orientation is Orientation.LONGITUDINAL else None
    to_find = frozenset(tag for tag, at in said.axes or () if isinstance(at, AxisGoal))
    pairs: tuple[tuple[str, object, object], ...] = (
        ("orientation", said.orientation, pattern.orientation),
        ("reading", said.reading, reading),
        ("lines", said.lines, pattern.lines),
        ("case", said.case, pattern.case),
        ("centre", said.centre, pattern.centre),
        ("face", said.face, pattern.face),
        ("axes", _values(said.axes, to_find), _values(pattern.axes, to_find) or "none"),
    )
    for name, mine, theirs in pairs:
        open_to_any = mine in (None, Orientation.ANY, Reading.AUTO) or theirs is None
        if not open_to_any and mine != theirs:
            yield differs(name, mine, theirs)
    figures = (
        ("size", said.size_pt, pattern.size_pt),
        ("tracking", said.tracking, pattern.tracking),
        ("leading", said.leading_em, pattern.leading_em),
    )
    for name, size, other in figures:
        if size is not None and other is not None and abs(size - other) > _SAME_PT:
            yield differs(name, f"{size:g}", f"{other:g}")
