"""Which tasks does a plan leave before anything is cut?

In: a `BackReport` or `SetReport`. Out: Markdown: the plan's own tasks, then the checklist of
every text or volume under its heading.
"""

from __future__ import annotations

from spinefit.say.back_words import label_in_words
from spinefit.say.checklist import to_markdown
from spinefit.say.plan_build import plan_remedies
from spinefit.say.plan_model import BackReport, BacksReport, SetReport
from spinefit.say.tasks import escaped, finding_task, task

__all__ = ["to_checklist"]


def to_checklist(report: BackReport | BacksReport | SetReport) -> str:
    """The plan as Markdown task lists, ended by a newline."""
    if isinstance(report, BackReport) and report.is_single:
        return to_markdown(report.texts[0].report)
    if isinstance(report, BackReport):
        heading = "# Several texts on one back"
        changes = [one.text for one in plan_remedies(report)]
    else:
        heading = "# A set of volumes"
        compromises = () if isinstance(report, BacksReport) else report.compromises
        changes = [one.text for one in compromises]
    items = [
        task(report.fits, escaped(report.answer)),
        *(finding_task(finding) for finding in report.findings),
        *(
            task(False, escaped(f"Label {one.name}: {label_in_words(one)}"))
            for one in (report.labels if isinstance(report, BackReport) else ())
        ),
        *(task(False, f"To be weighed: {escaped(text)}") for text in changes),
    ]
    parts = [heading, "\n".join(items)]
    for name, one in report.parts:
        parts += [f"# {escaped(name)}", to_markdown(one).rstrip("\n")]
    return "\n\n".join(parts) + "\n"
