"""How high over the shelf does lettering stand, and how is it brought to a given height?

In: a job and its report. Out: heights in mm from the tail, and the same job with its lettering
moved there by the back's own terms (from-head, or the space kept free at head and foot), so
that `check` judges it by its own rules. A label given outright is not moved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.geometry.panels import divide
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.plan.reports import Zone
from spinefit.plan.text_jobs import spine_in
from spinefit.say.model import LayoutReport
from spinefit.vocabulary import Orientation, Reading

__all__ = [
    "SAFE_PT",
    "Reach",
    "common_height_mm",
    "height_of_back_mm",
    "largest_together_pt",
    "moved",
    "reach_of",
    "stands_mm",
]

_SAME_MM = 1e-6  # rounding of sums of millimetres
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


def height_of_back_mm(job: Job) -> float | None:
    """Height of the back, or of the panel given outright, in mm; None where it is open."""
    if job.spine is not None:
        return job.spine.height_mm
    return None if job.panel is None else job.panel.height_mm


def stands_mm(job: Job, layout: LayoutReport) -> float | None:
    """First baseline across the back, or beginning of the lettering along it, from the tail."""
    height_mm = height_of_back_mm(job)
    if height_mm is None or layout.first_from_head_mm is None:
        return None
    if layout.reading is Reading.ASCENDING:
        return height_mm - layout.first_from_head_mm - layout.ink_width_mm
    return height_mm - layout.first_from_head_mm


def reach_of(job: Job, layout: LayoutReport) -> Reach | None:
    """The reach of a setting; None where the height is open or the panel given outright."""
    stands, height_mm = stands_mm(job, layout), height_of_back_mm(job)
    spare = layout.spare_mm
    if stands is None or height_mm is None or job.spine is None:
        return None
    if spare.head is None or spare.tail is None:
        return None
    zone = _panel_of(job)
    clearance_mm = resolve(job).lettering.clearance_mm
    highest_mm = height_mm - zone.begins_mm - clearance_mm
    lowest_mm = height_mm - zone.ends_mm + clearance_mm
    return Reach(
        lowest_mm=lowest_mm,
        highest_mm=highest_mm,
        up_mm=(highest_mm - spare.head - stands) / layout.set_pt,
        down_mm=(stands - lowest_mm - spare.tail) / layout.set_pt,
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


def moved(job: Job, layout: LayoutReport, wanted_mm: float) -> Job | None:
    """The job with its lettering at that height from the tail; None where it cannot be.

    Args:
        job: the job, with its size, lines and orientation.
        layout: the setting that was reported for it.
        wanted_mm: for the first baseline across the back, else for the beginning.
    """
    stands, height_mm = stands_mm(job, layout), height_of_back_mm(job)
    if stands is None or height_mm is None or job.spine is None:
        return None
    up_mm = wanted_mm - stands
    if abs(up_mm) <= _SAME_MM:
        return job
    zone = _panel_of(job)
    plain = job.shape is None
    if layout.orientation is Orientation.TRANSVERSE and plain and not _has_bands(job):
        from_head_mm = height_mm - wanted_mm + layout.baselines_mm[0]
        if not 0 <= from_head_mm <= height_mm:
            return None
        return replace(job, spine=replace(job.spine, from_head_mm=from_head_mm))
    middle_mm = zone.middle_mm - up_mm
    half_mm = min(middle_mm - zone.begins_mm, zone.ends_mm - middle_mm)
    if half_mm < _LEAST_WINDOW_MM or not plain:
        return None
    window = Zone(middle_mm - half_mm, middle_mm + half_mm)
    return replace(job, spine=spine_in(job.spine, zone=window))


def _has_bands(job: Job) -> bool:
    return job.spine is not None and bool(job.spine.bands or job.spine.bands_at_mm)


def _panel_of(job: Job) -> Zone:
    spine = resolve(job).spine
    assert spine is not None  # asked only of a back
    spans = divide(spine)
    span = spans[spine.title_panel - 1 if len(spans) > 1 else 0]
    return Zone(span.top_mm, span.bottom_mm)
