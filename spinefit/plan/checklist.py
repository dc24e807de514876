"""Which tasks does a plan leave to tick off?

In: a `BackReport` or `SetReport`. Out: Markdown: the plan's own tasks, then the checklist of
every text or volume under its heading.
"""

from __future__ import annotations

from spinefit.plan.reports import BackReport, SetReport
from spinefit.report.checklist import escaped, to_markdown
from spinefit.report.model import FindingReport
from spinefit.report.phrasing import source_in_words
from spinefit.vocabulary import Level

__all__ = ["to_checklist"]


def to_checklist(report: BackReport | SetReport) -> str:
    """The plan as Markdown task lists, ended by a newline."""
    if isinstance(report, BackReport):
        heading = "# Several texts on one back"
        changes = [one.text for one in report.remedies]
        own = [(str(one.role).capitalize(), one.report) for one in report.texts]
    else:
        heading = "# A set of volumes"
        changes = [one.text for one in report.compromises]
        own = [(one.label, one.report) for one in report.volumes]
    items = [
        _item(report.fits, escaped(report.answer)),
        *(_finding(finding) for finding in report.findings),
        *(_item(False, f"To be weighed: {escaped(text)}") for text in changes),
    ]
    parts = [heading, "\n".join(items)]
    for name, one in own:
        parts += [f"# {escaped(name)}", to_markdown(one).rstrip("\n")]
    return "\n\n".join(parts) + "\n"


def _item(done: bool, text: str) -> str:
    return f"- [{'x' if done else ' '}] {text}"


def _finding(finding: FindingReport) -> str:
    source = escaped(source_in_words(finding.source, finding.status))
    lead = "" if finding.level is Level.GOOD else f"{str(finding.level).capitalize()}: "
    behind = f" ({source})" if source else ""
    return _item(finding.level is Level.GOOD, f"{lead}{escaped(finding.text)}{behind}")
