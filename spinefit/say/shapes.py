"""In which shapes could the lines of a title stand, for a binder to choose by eye?

In: a report. Out: a row for each shape that the handbooks name and a split of the title has.
"""

from __future__ import annotations

from spinefit.job.resolved import ResolvedJob
from spinefit.say.model import Report, ShapeReport


def shapes(report: Report) -> tuple[ShapeReport, ...]:
    """The largest split of each shape, standing as the setting that is shown.

    Every split is looked at, of a title of more than 20 words only those into few lines: keep
    the answer rather than ask twice.

    Args:
        report: the answer to a job, as `check` gives it.

    Raises:
        SpinefitError: the font file of the job is there no more.

    >>> from spinefit import Job, Panel, check
    >>> job = Job(title="The Lighthouse Log", panel=Panel(width_mm=20, height_mm=30))
    >>> [str(one.shape) for one in shapes(check(job))]
    ['half-diamond', 'lozenge', 'long and short']
    """
    return shapes_in(report.as_shown)


def shapes_in(job: ResolvedJob | None) -> tuple[ShapeReport, ...]:
    """The shapes of a job; none where there is no job."""
    if job is None:
        return ()
    from spinefit.judgement.shapes import shapes_of

    return tuple(
        ShapeReport(shape, one.lines, one.largest_pt, one.set_pt, one.fits)
        for shape, one in shapes_of(job)
    )
