"""How high over the shelf does lettering stand, and how is it brought to a given height?

In: a job and its setting. Out: heights in mm from the tail, and the same job with its lettering
moved there by the back's own terms (from-head, or the space kept free at head and foot), so
that it is judged by its own rules. A label given outright is not moved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.geometry.panels import divide
from spinefit.job.model import Job
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.text import JudgedText
from spinefit.plan.model import BackPlan, BackText, Zone
from spinefit.plan.standing import judged_at, spine_in
from spinefit.provenance import Status
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Level, Orientation, Reading

__all__ = [
    "SAFE_PT",
    "Reach",
    "at_height",
    "common_height_mm",
    "largest_together_pt",
    "lettered_zone",
    "out_of_line",
    "reach_of",
    "stands_mm",
]

_LEAST_WINDOW_MM = 0.01
SAFE_PT = 0.002
"""Limits are stated rounded down to 0.001 pt; a height is found for a size larger by this."""


class Reach(NamedTuple):
    """How far one volume's lettering reaches from where it stands, and where it may stand.

    Attributes:
        lowest_mm, highest_mm: ends of the usable panel less clearance, from the tail.
        up_mm, down_mm: reach of the ink towards head and tail, in mm for each point of size,
            from the first baseline across the back, from where the lettering begins along it.
    """

    lowest_mm: float
    highest_mm: float
    up_mm: float
    down_mm: float


def stands_mm(job: ResolvedJob, shown: Judged) -> float | None:
    """First baseline across the back, or beginning of the lettering along it, from the tail."""
    height_mm = _height_mm(job)
    first_mm = shown.first_from_head_mm
    if height_mm is None or first_mm is None:
        return None
    if shown.reading is Reading.ASCENDING:
        return height_mm - first_mm - shown.ink_width_mm
    return height_mm - first_mm


def _height_mm(job: ResolvedJob) -> float | None:
    if job.spine is not None:
        return job.spine.height_mm
    return None if job.panel is None else job.panel.height_mm


def reach_of(job: ResolvedJob, shown: Judged) -> Reach | None:
    """The reach of a setting; None where the height is open or the panel given outright."""
    stands, spare = stands_mm(job, shown), shown.spare_mm
    if stands is None or job.spine is None or job.spine.height_mm is None:
        return None
    if spare.head is None or spare.tail is None:
        return None
    zone, clearance_mm = lettered_zone(job.spine), job.lettering.clearance_mm
    highest_mm = job.spine.height_mm - zone.begins_mm - clearance_mm
    lowest_mm = job.spine.height_mm - zone.ends_mm + clearance_mm
    return Reach(
        lowest_mm=lowest_mm,
        highest_mm=highest_mm,
        up_mm=(highest_mm - spare.head - stands) / shown.set_pt,
        down_mm=(stands - lowest_mm - spare.tail) / shown.set_pt,
    )


def largest_together_pt(reaches: Sequence[Reach]) -> float:
    """The largest size, in points, at which all can stand at one height."""
    return min(
        (upper.highest_mm - lower.lowest_mm) / (lower.down_mm + upper.up_mm)
        for lower in reaches
        for upper in reaches
    )


def common_height_mm(reaches: Sequence[Reach], wanted_mm: float | None, size_pt: float) -> float:
    """The height from the tail at which all can stand, in mm.

    Args:
        reaches: of all volumes.
        wanted_mm: the nearest to it is taken; None for the middle of what is possible.
        size_pt: the size of all.
    """
    size_pt += SAFE_PT
    lowest = max(one.lowest_mm + one.down_mm * size_pt for one in reaches)
    highest = min(one.highest_mm - one.up_mm * size_pt for one in reaches)
    if wanted_mm is None or highest < lowest:
        return (lowest + highest) / 2
    return min(max(wanted_mm, lowest), highest)


def at_height(
    plan: BackPlan, text: BackText, job: Job, judged: JudgedText, wanted_mm: float
) -> tuple[Job, JudgedText, tuple[Finding, ...]]:
    """A text brought to a height from the tail, and a finding where it cannot be.

    It then is left where it stands by itself.
    """
    for _ in range(2):  # another split may be taken once it is moved
        other = _moved(job, judged, wanted_mm)
        if other is None or other == job:
            break
        job, judged = other, judged_at(plan, text, other)
    stands = stands_mm(judged.job, judged.judgement.shown)
    if stands is not None and abs(stands - wanted_mm) <= SAME_MM:
        return job, judged, ()
    return job, judged, (out_of_line(stands, wanted_mm),)


def out_of_line(stands: float | None, wanted_mm: float) -> Finding:
    """What is found of lettering that cannot be brought to the height of the others."""
    return Finding(
        topic="pattern-height",
        level=Level.FAILURE,
        value=stands,
        limit=wanted_mm,
        unit="mm",
        source="common practice: volumes of a set are lettered at one height",
        status=Status.PRACTICE,
    )


def _moved(job: Job, judged: JudgedText, wanted_mm: float) -> Job | None:
    """The job with its lettering at that height from the tail; None where it cannot be."""
    shown, spine = judged.judgement.shown, judged.job.spine
    stands = stands_mm(judged.job, shown)
    if stands is None or job.spine is None or spine is None or spine.height_mm is None:
        return None
    up_mm = wanted_mm - stands
    if abs(up_mm) <= SAME_MM:
        return job
    plain, banded = job.shape is None, bool(spine.bands or spine.bands_at_mm)
    if shown.orientation is Orientation.TRANSVERSE and plain and not banded:
        from_head_mm = spine.height_mm - wanted_mm + shown.baselines_mm[0]
        if not 0 <= from_head_mm <= spine.height_mm:
            return None
        return replace(job, spine=replace(job.spine, from_head_mm=from_head_mm))
    zone = lettered_zone(spine)
    middle_mm = zone.middle_mm - up_mm
    half_mm = min(middle_mm - zone.begins_mm, zone.ends_mm - middle_mm)
    if half_mm < _LEAST_WINDOW_MM or not plain:
        return None
    window = Zone(middle_mm - half_mm, middle_mm + half_mm)
    return replace(job, spine=spine_in(job.spine, zone=window))


def lettered_zone(spine: ResolvedSpine) -> Zone:
    """The panel that is lettered, or the whole back; its height is known."""
    spans = divide(spine)
    span = spans[spine.title_panel - 1 if len(spans) > 1 else 0]
    return Zone(span.top_mm, span.bottom_mm)
