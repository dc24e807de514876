"""What is the answer for each volume of a set, as for a back by itself?

In: the report of volumes of several texts each. Out: one `BackReport` a volume: its texts where
they stand in the set, with no remedies, since what is changed in one volume is changed in all.
"""

from __future__ import annotations

from spinefit.plan.back_words import answer
from spinefit.plan.reports import BACK_SCHEMA, BackReport, BacksReport, BackVolumeReport
from spinefit.plan.set_words import beside_failing
from spinefit.vocabulary import Verdict

__all__ = ["volume_backs"]


def volume_backs(report: BacksReport) -> tuple[BackReport, ...]:
    """The answer for each volume, in the order given.

    Args:
        report: of `plan_backs`.
    """
    return tuple(_back(report, one) for one in report.volumes)


def _back(report: BacksReport, one: BackVolumeReport) -> BackReport:
    verdict = _verdict(one)
    said = answer(one.texts, one.failing, verdict, ())
    return BackReport(
        schema=BACK_SCHEMA,
        verdict=verdict,
        answer=beside_failing(said, report) if one.fits else said,
        orientation=report.orientation,
        texts=one.texts,
        failing=one.failing,
        findings=report.findings,
        remedies=(),
        assumed=report.assumed,
    )


def _verdict(one: BackVolumeReport) -> Verdict:
    if not one.fits:
        return Verdict.DOES_NOT_FIT
    tight = any(text.report.verdict is Verdict.TIGHT for text in one.texts)
    return Verdict.TIGHT if tight else Verdict.FITS
