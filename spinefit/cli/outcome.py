"""With which exit code does an answer end, where findings count too?

In: a report and the level of ``--fail-on``. Out: 1 where it does not fit, or where a finding of
the job, of its recommended setting, or of the plan is at that level or graver; else 0.
"""

from __future__ import annotations

from spinefit.say.failing import failed_findings, is_failed
from spinefit.say.model import Report
from spinefit.say.plan_model import BackReport, BacksReport, SetReport
from spinefit.vocabulary import Level

__all__ = ["exit_code"]


def exit_code(report: Report | BackReport | BacksReport | SetReport, fail_on: Level) -> int:
    """0 or 1, as the report and the findings that count have it.

    Args:
        report: the answer to a job, or a plan.
        fail_on: the level from which on a finding counts.
    """
    if not report.fits:
        return 1
    if isinstance(report, Report):
        return int(bool(failed_findings(report, fail_on)))
    own = any(is_failed(finding, fail_on) for finding in report.findings)
    return int(own or any(failed_findings(one, fail_on) for _, one in report.parts))
