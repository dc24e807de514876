"""How does a task of a Markdown list look?

In: text, figures and findings. Out: ``- [x]`` lines, text escaped so that Markdown shows it
letter for letter, on one line. Shared by the checklist's sections.
"""

from __future__ import annotations

import re

from spinefit.provenance import Status
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport
from spinefit.vocabulary import Level

__all__ = ["escaped", "finding_task", "limit_of", "plain_task", "sourced", "task"]

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&$@!])")  # ( and ) mean nothing without [ and ]
_TASK = re.compile(r"- \[(.)\] (.*)", re.DOTALL)

_FINE = 0.1  # below it two decimals say too little of a stroke or a gap


def escaped(text: str) -> str:
    r"""``text`` so that Markdown shows it letter for letter, on one line.

    >>> escaped("[x] *Tides*")
    '\\[x\\] \\*Tides\\*'
    """
    return _SPECIAL.sub(r"\\\1", say.visible(text))


def task(done: bool, text: str) -> str:
    """A line of a task list, of text that is escaped already."""
    return f"- [{'x' if done else ' '}] {text}"


def plain_task(line: str) -> tuple[bool, str]:
    r"""A line of a task list as it was before: whether it is done, and its plain text.

    >>> plain_task(task(True, escaped("[x] *Tides*")))
    (True, '[x] *Tides*')

    Raises:
        ValueError: a line that `task` did not make.
    """
    found = _TASK.fullmatch(line)
    if found is None:
        raise ValueError(f"no task: {line!r}")
    mark, text = found.groups()
    return mark == "x", re.sub(r"\\(.)", r"\1", text)


def finding_task(finding: FindingReport) -> str:
    """A finding: ticked where it is good, with figure, limit, source and status."""
    figures = [
        f"{name} {_figure(figure)}{_unit(finding.unit)}"
        for name, figure in (("figure", finding.value), ("limit", finding.limit))
        if not isinstance(figure, str | None) and finding.unit  # else the text says all of it
    ]
    good = finding.level is Level.GOOD
    lead = "" if good else f"{str(finding.level).capitalize()}: "
    behind = sourced(finding.source, finding.status, *figures)
    return task(good, f"{lead}{escaped(finding.text)}{behind}")


def sourced(source: str, status: Status | None, *figures: str) -> str:
    """Figures, source and status in brackets after a blank; nothing where none is known.

    >>> sourced("", None), sourced("the trade", Status.PRACTICE, "limit 5 mm")
    ('', ' (limit 5 mm; the trade; practice)')
    """
    said = escaped(say.source_in_words(source, status))
    behind = "; ".join([*figures, *([said] if said else [])])
    return f" ({behind})" if behind else ""


def limit_of(value: float, unit: str) -> str:
    """A limit as it stands in brackets.

    >>> limit_of(1.6, "mm")
    'limit 1.6 mm'
    """
    return f"limit {_figure(value)}{_unit(unit)}"


def _figure(figure: float | str) -> str:
    if isinstance(figure, str):
        return escaped(figure)
    return f"{round(figure, 2 if abs(figure) >= _FINE else 4):g}"


def _unit(unit: str) -> str:
    return f" {escaped(unit)}" if unit else ""
