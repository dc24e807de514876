"""Do all the volumes of a set match a saved pattern?

In: the volumes and the pattern. Out: a `SetReport`, every volume judged by the pattern alone;
nothing is solved, so no volume makes another larger or smaller.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit import pipeline
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.plan import set_words as words
from spinefit.plan.back_words import shown
from spinefit.plan.pattern import match_job
from spinefit.plan.pattern_model import Pattern
from spinefit.plan.reports import SET_SCHEMA, SetReport, VolumeReport
from spinefit.plan.set_checks import check_labels, volume_fault
from spinefit.vocabulary import Verdict

__all__ = ["match_set"]


def match_set(volumes: Sequence[tuple[str, Job]], pattern: Pattern) -> SetReport:
    """Does each of these volumes match those on the shelf?

    Args:
        volumes: label and job of each, one or more.
        pattern: what they have to match.

    Returns:
        The report; a volume that does not match does not fit.

    Raises:
        SpinefitError: a job that cannot be, its place naming the volume by number.
    """
    check_labels([label for label, _job in volumes], least=1)
    reports = tuple(
        _volume(place, label, job, pattern) for place, (label, job) in enumerate(volumes, 1)
    )
    limiting = min(reports, key=lambda one: one.largest_pt)
    first = shown(reports[0].report)
    return SetReport(
        schema=SET_SCHEMA,
        verdict=_verdict(reports),
        answer=words.match_answer(reports, pattern.size_pt),
        orientation=pattern.orientation,
        reading=first.reading,
        lines=pattern.lines,
        set_pt=pattern.size_pt,
        largest_pt=limiting.largest_pt,
        limiting=limiting.label,
        volumes=reports,
        compromises=(),
        pattern=pattern,
        findings=words.match_findings(reports, pattern.size_pt),
        assumed=tuple(
            dict.fromkeys(text for _label, job in volumes for text in resolve(job).assumed)
        ),
    )


def _volume(place: int, label: str, job: Job, pattern: Pattern) -> VolumeReport:
    with volume_fault(place):
        own, report = match_job(job, pattern)
        alone = pipeline.check(job)
    layout = shown(report)
    return VolumeReport(label, report.fits, layout.largest_pt, shown(alone), report, own)


def _verdict(volumes: Sequence[VolumeReport]) -> Verdict:
    if not all(one.fits for one in volumes):
        return Verdict.DOES_NOT_FIT
    tight = any(one.report.verdict is Verdict.TIGHT for one in volumes)
    return Verdict.TIGHT if tight else Verdict.FITS
