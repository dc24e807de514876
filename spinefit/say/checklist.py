"""Which tasks are left before anything is cut?

In: a `Report`. Out: a checklist in Markdown: what to measure again, what was checked and how
it came out, what only a person can check, and what to mind with the method. Works the same
where nothing fits.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from spinefit.say import phrasing as say
from spinefit.say.model import Report
from spinefit.say.remedies import remedies
from spinefit.say.tasks import checked_tasks, escaped, finding_task, measuring_tasks, task
from spinefit.vocabulary import Orientation

if TYPE_CHECKING:
    from spinefit.say.plan_model import AnyReport

__all__ = ["CAUTION", "cautions", "escaped", "tasks_by_eye", "to_markdown"]

_BY_EYE = (
    "Proof printed at 100 %, a printed length checked with a rule, and laid on the book",
    "Spelling, figures and accents compared with the title page, letter by letter",
    "Direction, size and place compared with the books it will stand among, or the list it joins",
    "Spaces between letters and between lines look even from arm's length",
    "Colour of lettering and ground seen in the light of the shelf; grain runs from head to tail",
    "Middle of the width marked at head and tail, and the marks of the proof laid on them",
)
_ROUNDED = "Proof bent over the round: the outermost letters are seen from the front"
_BANDED = "Each panel measured by itself: bands are seldom quite evenly spaced"
_ALONG = "Proof turned as it will stand: it reads the right way with the front cover in its place"
CAUTION = (
    "Knives and heated tools, presses and solvents: local rules, those of your workshop and what "
    "trained hands have shown you come before anything said here. Use them only as you were "
    "trained to."
)
"""What comes before anything a report says of tools that can hurt."""


def to_markdown(report: AnyReport) -> str:
    """The report, or the plan, as Markdown task lists, ended by a newline."""
    if isinstance(report, Report):
        return _of_title(report)
    from spinefit.say.plan_build import changes_of  # for a plan
    from spinefit.say.plan_model import BackReport
    from spinefit.say.plan_words import label_in_words

    if isinstance(report, BackReport) and report.is_single:
        return _of_title(report.texts[0].report)
    items = [
        task(report.fits, escaped(report.answer)),
        *(finding_task(finding) for finding in report.findings),
        *(
            task(False, escaped(f"Label {one.name}: {label_in_words(one)}"))
            for one in (report.labels if isinstance(report, BackReport) else ())
        ),
        *(task(False, f"To be weighed: {escaped(text)}") for text in changes_of(report)),
    ]
    parts = [f"# {report.of.capitalize()}", "\n".join(items)]
    for name, one in report.parts:
        parts += [f"# {escaped(name)}", _of_title(one).rstrip("\n")]
    return "\n\n".join(parts) + "\n"


def _of_title(report: Report) -> str:
    method = escaped(report.method.name)
    parts = [
        f"## Spine lettering: {escaped(report.title)}",
        task(report.fits, escaped(report.answer)),
        "### To be measured again, with the figures used",
        "\n".join(measuring_tasks(report)),
        "### What was checked",
        "\n".join(checked_tasks(report, remedies(report))),
        "### To be checked by a person",
        "\n".join(task(False, text) for text in tasks_by_eye(report)),
        f"### To be minded: {method}",
        "\n".join(f"- {escaped(text)}" for text in cautions(report)),
        f"> {CAUTION}",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def cautions(report: Report) -> tuple[str, ...]:
    """Those of the method, and those of a recess where one is cut."""
    return report.method.cautions + (() if report.recess is None else report.recess.cautions)


def tasks_by_eye(report: Report) -> list[str]:
    """What only a person can check, each in a sentence, as plain text."""
    layout = say.shown_layout(report)
    measured = {one.what for one in report.measurements}
    tasks = list(_BY_EYE)
    if measured & {"rise", "radius", "arc"}:
        tasks.append(_ROUNDED)
    if "bands" in measured:
        tasks.append(_BANDED)
    if layout is not None and layout.orientation is Orientation.LONGITUDINAL:
        tasks.append(_ALONG)
    return tasks
