"""May one thin volume go its own way, rather than shrink the whole set?

In: a set and its common setting. Out: what the handbook allows the limiting volume (smaller,
broken into more lines, or along), each run through `check`, beside the size the others gain.
Source: Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115; the least gain is
rules.toml sets.compromise_gain.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from spinefit import pipeline
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.plan.back_words import shown
from spinefit.plan.reports import CompromiseReport
from spinefit.plan.set_solve import Common, alike, with_setting
from spinefit.plan.set_words import compromise_text
from spinefit.say.model import Report
from spinefit.vocabulary import Orientation

__all__ = ["compromises_for"]

_LEAST_VOLUMES = 3  # one thin among thick ones


def compromises_for(
    labels: Sequence[str],
    jobs: Sequence[Job],
    common: Common,
    best: Callable[[Sequence[Job]], Common],
) -> tuple[CompromiseReport, ...]:
    """What the limiting volume may do so that the others gain; none where little is gained.

    Args:
        labels: of the volumes.
        jobs: of the volumes.
        common: the setting of all.
        best: finds the common setting of other jobs.
    """
    if len(jobs) < _LEAST_VOLUMES or jobs[0].lettering.size_pt is not None:
        return ()
    thin = common.limiting
    others = [job for place, job in enumerate(jobs) if place != thin]
    gained = best(others)
    gain = resolve(jobs[0]).rules.value("sets.compromise_gain")
    if not gained.fits or (common.fits and gained.set_pt < gain * common.set_pt):
        return ()
    if not all(report.fits for _job, report in alike(others, gained)):
        return ()
    return tuple(
        CompromiseReport(
            volume=labels[thin],
            change=change,
            text=compromise_text(labels[thin], change, shown(report), gained.set_pt),
            set_pt=shown(report).set_pt,
            others_pt=gained.set_pt,
            report=report,
        )
        for change, report in _own_ways(jobs[thin], gained)
    )


def _own_ways(job: Job, gained: Common) -> Iterator[tuple[str, Report]]:
    """The ways that fit, each as `check` finds it."""
    least_pt = 0.0
    way = with_setting(job, gained.orientation, lines=gained.lines, leading_em=gained.leading_em)
    for change, lines in _numbers_of_lines(job, gained):
        report = _report(way, gained.orientation, lines)
        if report is not None and report.fits and shown(report).set_pt > least_pt:
            least_pt = shown(report).set_pt
            yield change, report
            if change == "broken":
                break
    if gained.orientation is Orientation.TRANSVERSE:
        report = _report(job, Orientation.LONGITUDINAL, None)
        if report is not None and report.fits:
            yield "along", report


def _numbers_of_lines(job: Job, gained: Common) -> list[tuple[str, int]]:
    """The number of the others, where its title has so many, then greater ones.

    Of the greater ones that of the largest size comes first.
    """
    report = pipeline.check(with_setting(job, gained.orientation))
    listed = [one for one in report.layouts if not one.over_bands]
    same = any(len(one.lines) == gained.lines for one in listed)
    sizes = {
        len(one.lines): one.set_pt for one in listed if one.fits and len(one.lines) > gained.lines
    }
    more = sorted(sizes, key=lambda at: (-sizes[at], at))
    return [("smaller", gained.lines)] * same + [("broken", lines) for lines in more]


def _report(job: Job, orientation: Orientation, lines: int | None) -> Report | None:
    """What `check` says at the size it advises, asked for outright; None where none fits."""
    advised = pipeline.check(with_setting(job, orientation, lines=lines))
    if not advised.fits:
        return None
    size_pt = shown(advised).set_pt
    return pipeline.check(
        with_setting(job, orientation, lines=len(shown(advised).lines), size_pt=size_pt),
        verify=True,
    )
