"""Does an answer count as failed, at a level a person chose?

In: a report, of a title or a plan, and a level. Out: whether it does, and by which findings:
those of the job, of its recommended setting (of the nearest, where none fits) and of the plan at
that level or graver. "Does not fit" always counts. Legibility, which never decides whether a title
fits, counts here like any other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Level

if TYPE_CHECKING:
    from spinefit.say.plan_model import AnyReport

__all__ = ["FAIL_ON", "failed_findings", "fails", "is_failed"]

FAIL_ON = (Level.WARNING, Level.FAILURE)
"""The levels that may be chosen, the graver one last."""


def is_failed(finding: FindingReport, fail_on: Level | None) -> bool:
    """Whether a finding is at the level ``fail_on`` or graver; none is where that is None."""
    return fail_on is not None and finding.level in FAIL_ON[FAIL_ON.index(fail_on) :]


def failed_findings(report: Report, fail_on: Level | None) -> list[FindingReport]:
    """The findings that count as failed, the gravest first."""
    findings = say.findings_by_weight(report, say.shown_layout(report))
    return [finding for finding in findings if is_failed(finding, fail_on)]


def fails(report: AnyReport, fail_on: Level | None) -> bool:
    """Whether the whole does not fit, or a finding counts.

    Args:
        report: the answer to a job, or a plan.
        fail_on: the level from which on a finding counts; None where none does.
    """
    if not report.fits or fail_on is None:
        return not report.fits
    if isinstance(report, Report):
        return bool(failed_findings(report, fail_on))
    own = any(is_failed(finding, fail_on) for finding in report.findings)
    return own or any(failed_findings(one, fail_on) for _, one in report.parts)
