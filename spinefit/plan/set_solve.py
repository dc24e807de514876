"""At which size, in how many lines and at which height can all volumes be lettered alike?

In: the jobs of a set and one orientation. Out: a `Common` setting: of the numbers of lines that
all allow the one that gives the largest advised size, every volume being a limit. So another
volume never makes it larger. Sizes in points, heights in mm from the tail.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit import pipeline
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.judgement.judged import SHARES
from spinefit.judgement.offer import Offer, offer_of
from spinefit.judgement.strength import weakest_at
from spinefit.plan.shelf import (
    SAFE_PT,
    Reach,
    common_height_mm,
    height_of_back_mm,
    largest_together_pt,
    moved,
    reach_of,
    stands_mm,
)
from spinefit.say.model import LayoutReport, Report
from spinefit.shaping import shape_title
from spinefit.units import mm_from_pt, round_down_pt
from spinefit.vocabulary import Orientation

__all__ = ["Common", "alike", "common_setting", "with_setting"]

_MOST_LINES = {
    Orientation.TRANSVERSE: "across.most_lines",
    Orientation.LONGITUDINAL: "lines.most_along",
    Orientation.PILLAR: "lines.most_along",
}


class Common(NamedTuple):
    """What all volumes have in common.

    Attributes:
        orientation, lines, set_pt: the same for all.
        largest_pt: the most that all of them would take so.
        fits: True where every volume takes ``set_pt``.
        leading_em: distance of baselines; None for one line.
        stands_mm: height of the first baseline or the beginning from the tail; None where
            heights are open or labels were given.
        limits_pt: for each volume what it would be set at alone, in this orientation and lines.
        largests_pt: for each volume the most it would take so.
    """

    orientation: Orientation
    lines: int
    set_pt: float
    largest_pt: float
    fits: bool
    leading_em: float | None
    stands_mm: float | None
    limits_pt: tuple[float, ...]
    largests_pt: tuple[float, ...]

    @property
    def limiting(self) -> int:
        """The place of the volume that sets the limit."""
        pairs = list(zip(self.limits_pt, self.largests_pt, strict=True))
        return pairs.index(min(pairs))


def with_setting(
    job: Job,
    orientation: Orientation,
    *,
    lines: int | None = None,
    size_pt: float | None = None,
    leading_em: float | None = None,
) -> Job:
    """The job lettered that way; what is None stays as it was."""
    lettering = replace(job.lettering, orientation=orientation)
    if lines is not None:
        lettering = replace(lettering, lines=lines)
    if size_pt is not None:
        lettering = replace(lettering, size_pt=size_pt)
    if leading_em is not None:
        lettering = replace(lettering, leading_em=leading_em)
    return replace(job, lettering=lettering)


def common_setting(jobs: Sequence[Job], orientation: Orientation) -> Common | None:
    """The best setting that all volumes have in common, fitting or not.

    Args:
        jobs: the volumes.
        orientation: the one to be tried.

    Returns:
        The setting, or None where no number of lines is open to all.
    """
    tried = [with_setting(job, orientation) for job in jobs]
    reports = [pipeline.check(job) for job in tried]
    leadings = [leading for report in reports if (leading := _leading_em(report)) is not None]
    leading_em = max(leadings, default=None)
    if leading_em is not None and min(leadings) < leading_em:
        tried = [with_setting(job, orientation, leading_em=leading_em) for job in jobs]
        reports = [pipeline.check(job) for job in tried]
    by_lines = [_by_lines(report) for report in reports]
    shared = set.intersection(*(set(found) for found in by_lines))
    usual = [lines for lines in shared if lines <= _most_lines(tried, orientation)]
    found = [
        (_of_lines(tried, [one[lines] for one in by_lines], leading_em), by_lines)
        for lines in sorted(usual or shared)
    ]
    if not found:
        return None
    return max(found, key=lambda pair: _rank(pair[0], pair[1]))[0]


def alike(jobs: Sequence[Job], common: Common) -> list[tuple[Job, Report]]:
    """Every volume at the common size and height, as `check` finds it.

    A volume that cannot be brought to the height is left where it would stand by itself.
    """
    found = []
    for job in jobs:
        own = with_setting(
            job,
            common.orientation,
            lines=common.lines,
            size_pt=common.set_pt,
            leading_em=common.leading_em,
        )
        report = pipeline.check(own, verify=True)
        if common.stands_mm is not None:
            # A volume may take another split once it is moved: twice settles it.
            for _ in range(2):
                layout = _shown(report)
                other = moved(own, layout, common.stands_mm)
                if other is None or other == own:
                    break
                own, report = other, pipeline.check(other, verify=True)
        found.append((own, report))
    return found


def _leading_em(report: Report) -> float | None:
    for one in report.layouts:
        if len(one.baselines_mm) > 1 and one.orientation is not Orientation.PILLAR:
            return (one.baselines_mm[0] - one.baselines_mm[1]) / mm_from_pt(one.set_pt)
    return None


def _by_lines(report: Report) -> dict[int, LayoutReport]:
    """For each number of lines the setting that can be largest."""
    found: dict[int, LayoutReport] = {}
    for one in report.layouts:
        if one.over_bands:
            continue
        best = found.get(len(one.lines))
        if best is None or (one.fits, one.set_pt, one.largest_pt) > (
            best.fits,
            best.set_pt,
            best.largest_pt,
        ):
            found[len(one.lines)] = one
    return found


def _most_lines(jobs: Sequence[Job], orientation: Orientation) -> int:
    banded = any(job.spine is not None and job.spine.bands for job in jobs)
    rules = resolve(jobs[0]).rules
    if orientation is Orientation.TRANSVERSE and banded:
        return int(rules.value("lines.most"))
    return int(rules.value(_MOST_LINES[orientation]))


def _of_lines(
    jobs: Sequence[Job], layouts: Sequence[LayoutReport], leading_em: float | None
) -> Common:
    largest_pt = min(one.largest_pt for one in layouts)
    set_pt = min(one.set_pt for one in layouts)
    reaches = _reaches(jobs, layouts)
    asked = jobs[0].lettering.size_pt
    if reaches:
        largest_pt = min(largest_pt, round_down_pt(largest_together_pt(reaches) - SAFE_PT))
        if asked is None:
            share = resolve(jobs[0]).rules.value(SHARES[layouts[0].orientation])
            set_pt = _offer(jobs[0]).at_most(min(set_pt, share * largest_pt))
    if asked is None:
        set_pt = _held_pt(jobs, set_pt)
    fits = all(one.fits for one in layouts) and set_pt <= largest_pt
    return Common(
        orientation=layouts[0].orientation,
        lines=len(layouts[0].lines),
        set_pt=set_pt,
        largest_pt=max(0.0, largest_pt),
        fits=fits,
        leading_em=leading_em if len(layouts[0].lines) > 1 else None,
        stands_mm=_height(jobs, layouts, reaches, set_pt),
        limits_pt=tuple(one.set_pt for one in layouts),
        largests_pt=tuple(one.largest_pt for one in layouts),
    )


def _held_pt(jobs: Sequence[Job], size_pt: float) -> float:
    """The least size from ``size_pt`` up at which the method holds the letters of all volumes.

    A volume alone may be advised a size at which the letters of another do not hold.
    """
    if jobs[0].lettering.tools is not None:
        return size_pt  # a tool's face is what it is
    for job in jobs:
        own = resolve(job)
        title = shape_title(own)
        offer = offer_of(own, title).raised_by(weakest_at(own, title, size_pt))
        if not offer.holds(size_pt):
            size_pt = max(size_pt, offer.smallest_pt())
    return size_pt


def _offer(job: Job) -> Offer:
    resolved = resolve(job)
    return offer_of(resolved, shape_title(resolved))


def _reaches(jobs: Sequence[Job], layouts: Sequence[LayoutReport]) -> list[Reach]:
    """The reach of every volume, or none where one of them is not known."""
    found = [reach_of(job, one) for job, one in zip(jobs, layouts, strict=True)]
    return [] if None in found else [one for one in found if one is not None]


def _height(
    jobs: Sequence[Job], layouts: Sequence[LayoutReport], reaches: Sequence[Reach], size_pt: float
) -> float | None:
    """Across a back without bands where the shortest would stand, else midway between ends."""
    if not reaches:
        return None
    orientation = layouts[0].orientation
    banded = any(job.spine is not None and job.spine.bands for job in jobs)
    if orientation is not Orientation.TRANSVERSE or banded:
        return common_height_mm(reaches, None, size_pt)
    place = min(range(len(jobs)), key=lambda at: height_of_back_mm(jobs[at]) or 0.0)
    lines = len(layouts[0].lines)
    natural = with_setting(jobs[place], orientation, lines=lines, size_pt=size_pt)
    wanted_mm = stands_mm(natural, _shown(pipeline.check(natural)))
    assert wanted_mm is not None  # its reach is known, so its height is
    return common_height_mm(reaches, wanted_mm, size_pt)


def _rank(common: Common, by_lines: Sequence[dict[int, LayoutReport]]) -> tuple[object, ...]:
    """The largest first; of equals the one that reads best, then the fewest lines."""
    faults = sum(
        finding.topic.startswith("words-")
        for one in by_lines
        for finding in one[common.lines].findings
    )
    size_pt = common.set_pt if common.fits else common.largest_pt
    return common.fits, size_pt, -faults, -common.lines


def _shown(report: Report) -> LayoutReport:
    from spinefit.plan.back_words import shown

    return shown(report)
