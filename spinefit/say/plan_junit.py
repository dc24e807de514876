"""How does a build server show several texts on one back, or a set?

In: a `BackReport` or `SetReport`. Out: JUnit XML: ``testsuites`` with a suite for the plan as a
whole and one for every text or volume, each as `spinefit.say.junit` writes it.
"""

from __future__ import annotations

from spinefit.say import junit
from spinefit.say.plan_model import BackReport, BacksReport, SetReport
from spinefit.vocabulary import Level

__all__ = ["to_junit"]


def to_junit(report: BackReport | BacksReport | SetReport, fail_on: Level | None = None) -> str:
    """The plan as an XML document, without a newline at its end.

    Args:
        report: the plan.
        fail_on: the level from which on a finding is a failure; None where only what does not
            fit counts.
    """
    name = "several texts on one back" if isinstance(report, BackReport) else "a set of volumes"
    whole = junit.suite_of_findings(
        name, name, report.findings, fail_on, answer=report.answer, fits=report.fits
    )
    own = [junit.suite_of(one, fail_on, label) for label, one in report.parts]
    return junit.written(junit.in_suites([whole, *own], name))
