"""Which sizes can be set at all?

The sizes of the binder's drawer, else those of the method, else steps. In: a resolved job.
Out: sizes in DTP points, falling. Whether the letters hold at one of them is for `check`.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit.job.resolved import ResolvedJob
from spinefit.units import step_down_pt

__all__ = ["falling_pt", "smallest_pt", "step_down_to_offered"]


def smallest_pt(job: ResolvedJob, cap_mm_per_pt: float = 0.0) -> float:
    """The smallest size to be thought of, in points, or the size asked for nearest above it.

    Args:
        job: for its drawer and method.
        cap_mm_per_pt: height of the capitals at one point, for a method that names a least one.
    """
    least = job.method.smallest.value
    if job.method.smallest_cap is not None and cap_mm_per_pt > 0:
        least = max(least, job.method.smallest_cap.value / cap_mm_per_pt)
    sizes = _drawer(job)
    if sizes is not None:
        return next((size for size in sizes if size >= least), sizes[-1])
    step = job.method.step.value
    down = step_down_pt(least, step)
    return down if down >= least else step_down_pt(least + step, step)


def step_down_to_offered(job: ResolvedJob, size_pt: float) -> float | None:
    """The largest size on offer that is at most ``size_pt``, or None."""
    sizes = _drawer(job)
    if sizes is None:
        found = step_down_pt(size_pt, job.method.step.value)
        return found if found > 0 else None
    return max((size for size in sizes if size <= size_pt), default=None)


def falling_pt(job: ResolvedJob, most_pt: float, least_pt: float) -> Iterator[float]:
    """Every size on offer from ``most_pt`` down to ``least_pt``, in points."""
    sizes = _drawer(job)
    if sizes is not None:
        yield from (size for size in reversed(sizes) if least_pt <= size <= most_pt)
        return
    step = job.method.step.value
    size = step_down_pt(most_pt, step)
    while size >= least_pt and size > 0:
        yield size
        size = step_down_pt(size - step / 2, step)


def _drawer(job: ResolvedJob) -> tuple[float, ...] | None:
    if job.lettering.sizes_pt is not None:
        return job.lettering.sizes_pt
    return None if job.method.sizes is None else job.method.sizes.values
