"""How do several volumes match?

The entry point `plan_set`: one size, one orientation, one number of lines and one height over
the shelf for all, the worst being the limit. Every volume is then run through `check` at that
size and place; what is reported of it rests on that.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit import pipeline
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.plan import set_words as words
from spinefit.plan.back_words import shown
from spinefit.plan.compromise import compromises_for
from spinefit.plan.pattern import pattern_of_common
from spinefit.plan.reports import SET_SCHEMA, SetReport, VolumeReport
from spinefit.plan.set_checks import check_set, volume_fault
from spinefit.plan.set_solve import Common, alike, common_setting
from spinefit.plan.shelf import stands_mm
from spinefit.say.model import Report
from spinefit.vocabulary import Orientation, Verdict

__all__ = ["plan_set"]

_SAME_MM = 1e-6  # rounding of sums of millimetres


def plan_set(volumes: Sequence[tuple[str, Job]]) -> SetReport:
    """Can these volumes be lettered alike, how large, and which of them is the limit?

    Args:
        volumes: label and job of each, two or more; they share font, case, size and direction.

    Returns:
        The report; a set that does not fit is a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be, or volumes that contradict each other.

    >>> from spinefit.job import Spine
    >>> pair = [(n, Job(title=f"Tide Tables / {n}", spine=Spine(width_mm=w, height_mm=210)))
    ...         for n, w in (("1", 20), ("2", 25))]
    >>> plan_set(pair).limiting
    '1'
    """
    check_set(volumes)
    labels = [label for label, _job in volumes]
    jobs = [job for _label, job in volumes]
    alone = [_alone(place, job) for place, job in enumerate(jobs, 1)]
    common = _best(jobs, alone)
    found = alike(jobs, common)
    if jobs[0].lettering.size_pt is None:
        found = [(own, words.as_the_set_has_it(report)) for own, report in found]
    reports = tuple(
        _volume(label, own, report, common, largest_pt, by_itself)
        for label, (own, report), largest_pt, by_itself in zip(
            labels, found, common.largests_pt, alone, strict=True
        )
    )
    compromises = compromises_for(labels, jobs, common, lambda others: _best(others, None))
    verdict = _verdict(reports)
    limiting = labels[common.limiting]
    first = shown(reports[0].report)
    pattern = None
    if verdict is not Verdict.DOES_NOT_FIT:
        pattern = pattern_of_common(found[0][0], reports[0].report, common.stands_mm)
    return SetReport(
        schema=SET_SCHEMA,
        verdict=verdict,
        answer=words.answer(reports, common, limiting, verdict, compromises),
        orientation=common.orientation,
        reading=first.reading,
        lines=common.lines,
        set_pt=common.set_pt,
        largest_pt=common.largest_pt,
        limiting=limiting,
        volumes=reports,
        compromises=compromises,
        pattern=pattern,
        findings=words.findings(reports, common, limiting, labels=bool(jobs[0].panel)),
        assumed=tuple(dict.fromkeys(text for job in jobs for text in resolve(job).assumed)),
    )


def _alone(place: int, job: Job) -> Report:
    with volume_fault(place):
        return pipeline.check(job, verify=True)


def _best(jobs: Sequence[Job], alone: Sequence[Report] | None) -> Common:
    """The common setting across or along: across where every volume would be, else along."""
    asked = jobs[0].lettering.orientation
    if asked not in (None, Orientation.ANY):
        ways: list[Orientation] = [asked]
    else:
        reports = alone if alone is not None else [pipeline.check(job) for job in jobs]
        own = {shown(report).orientation for report in reports}
        across, along = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
        ways = [across, along] if own == {across} else [along, across]
        if own == {Orientation.PILLAR}:
            ways = [Orientation.PILLAR, *ways]
    found = [common for way in ways if (common := common_setting(jobs, way)) is not None]
    fitting = [common for common in found if common.fits]
    if fitting:
        return fitting[0]
    if found:
        return max(found, key=lambda common: common.largest_pt)
    raise words.no_common_lines()


def _volume(
    label: str,
    job: Job,
    report: Report,
    common: Common,
    largest_pt: float,
    alone: Report,
) -> VolumeReport:
    """A volume as it was found; one that stands elsewhere than the others does not fit."""
    layout = shown(report)
    fits = report.fits
    stands = stands_mm(job, layout)
    if common.stands_mm is not None and (
        stands is None or abs(stands - common.stands_mm) > _SAME_MM
    ):
        fits = False
    if report.fits and not fits:
        report = words.out_of_line(report, stands, common.stands_mm)
    return VolumeReport(
        label=label,
        fits=fits,
        largest_pt=largest_pt,
        alone=shown(alone),
        report=report,
        job=job,
    )


def _verdict(volumes: Sequence[VolumeReport]) -> Verdict:
    if not all(volume.fits for volume in volumes):
        return Verdict.DOES_NOT_FIT
    tight = any(volume.report.verdict is Verdict.TIGHT for volume in volumes)
    return Verdict.TIGHT if tight else Verdict.FITS
