"""Which findings count as failed, at a level a person chose?

In: a `Report` and a level. Out: the findings of the job and of its recommended setting (of the
nearest, where none fits) at that level or graver. "Does not fit" is not among them: it always
counts. Legibility, which never decides whether a title fits, counts here like any other.
"""

from __future__ import annotations

from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Level

__all__ = ["FAIL_ON", "failed_findings", "is_failed"]

FAIL_ON = (Level.WARNING, Level.FAILURE)
"""The levels that may be chosen, the graver one last."""


def is_failed(finding: FindingReport, fail_on: Level | None) -> bool:
    """Whether a finding is at the level ``fail_on`` or graver; none is where that is None."""
    return fail_on is not None and finding.level in FAIL_ON[FAIL_ON.index(fail_on) :]


def failed_findings(report: Report, fail_on: Level) -> list[FindingReport]:
    """The findings that count as failed, the gravest first."""
    findings = say.findings_by_weight(report, say.shown_layout(report))
    return [finding for finding in findings if is_failed(finding, fail_on)]
