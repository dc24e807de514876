"""Which sizes can really be set, and which is the smallest that the method holds?

In: the job's method, the binder's own drawer if one was given, and the shaped title. Out: an
`Offer` of sizes in DTP points, with the floor below which letters do not hold and the rule
that sets it. Lengths of letters in em come from the title.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.strength import Weakest
from spinefit.provenance import Sourced, SourcedList
from spinefit.shaping.title import ShapedTitle
from spinefit.units import pt_from_mm, step_down_pt

__all__ = ["Offer", "offer_of"]

_SAME_PT = 1e-6  # a size typed in another point comes back with rounding


class Offer(NamedTuple):
    """The sizes a job can be set in.

    Attributes:
        sizes_pt: the drawer, rising; None where sizes are continuous.
        step_pt: step of continuous sizes.
        floor_pt: below it the letters do not hold, or are not to be had.
        floor: the rule that sets the floor.
        weakest: the letter that sets it, where a stroke or a gap does.
    """

    sizes_pt: tuple[float, ...] | None
    step_pt: float
    floor_pt: float
    floor: Sourced
    weakest: Weakest | None = None

    def raised_by(self, weakest: Weakest | None) -> Offer:
        """The offer with the floor that its weakest letter asks for, if that is higher."""
        if weakest is None or weakest.needs_pt <= self.floor_pt:
            return self
        return self._replace(floor_pt=weakest.needs_pt, floor=weakest.rule, weakest=weakest)

    def smallest_pt(self) -> float:
        """The smallest size offered that is not below the floor; else the largest there is."""
        if self.sizes_pt is None:
            return _step_up(self.floor_pt, self.step_pt)
        held = [size for size in self.sizes_pt if size >= self.floor_pt - _SAME_PT]
        return held[0] if held else self.sizes_pt[-1]

    def at_most(self, size_pt: float) -> float:
        """The largest size offered up to ``size_pt``, or the smallest if none is so small."""
        return self.taker()(size_pt)

    def taker(self) -> Callable[[float], float]:
        """`at_most`, for many sizes one after another."""
        smallest, step_pt = self.smallest_pt(), self.step_pt
        if self.sizes_pt is None:
            return lambda size_pt: max(smallest, step_down_pt(size_pt, step_pt))
        offered = [size for size in self.sizes_pt if size >= smallest]

        def at_most(size_pt: float) -> float:
            under = [size for size in offered if size <= size_pt + _SAME_PT]
            return under[-1] if under else smallest

        return at_most

    def at_least(self, size_pt: float) -> float:
        """The smallest size offered from ``size_pt`` up, or the largest if none is so large."""
        smallest = self.smallest_pt()
        if self.sizes_pt is None:
            return max(smallest, _step_up(size_pt, self.step_pt))
        over = [size for size in self.sizes_pt if size >= max(smallest, size_pt) - _SAME_PT]
        return over[0] if over else self.sizes_pt[-1]

    def holds(self, size_pt: float) -> bool:
        """Whether a size is offered and not below the floor."""
        if size_pt < self.floor_pt - _SAME_PT:
            return False
        return self.sizes_pt is None or any(
            abs(size - size_pt) <= _SAME_PT for size in self.sizes_pt
        )


@lru_cache(maxsize=64)
def _step_up(size_pt: float, step_pt: float) -> float:
    down = step_down_pt(size_pt, step_pt)
    return down if down >= size_pt - _SAME_PT else round(down + step_pt, 6)


def offer_of(job: ResolvedJob, title: ShapedTitle) -> Offer:
    """The sizes of a job's method, or of the drawer given instead."""
    method = job.method
    own = job.lettering.sizes_pt
    sizes = own if own is not None else (method.sizes.values if method.sizes else None)
    floor_pt, floor = method.smallest.value, method.smallest
    if sizes is not None:
        floor_pt = 0.0 if own is not None else min(floor_pt, sizes[0])
        floor = method.smallest if method.sizes is None else _row_of(sizes[0], method.sizes)
    if method.smallest_cap is not None:
        cap_pt = pt_from_mm(method.smallest_cap.value / title.reading_height_em)
        if cap_pt > floor_pt:
            floor_pt, floor = cap_pt, method.smallest_cap
    return Offer(sizes_pt=sizes, step_pt=method.step.value, floor_pt=floor_pt, floor=floor)


def _row_of(size_pt: float, row: SourcedList) -> Sourced:
    return Sourced(size_pt, "pt", row.source, row.status)
