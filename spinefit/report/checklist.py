"""Which tasks does a report leave to tick off?

In: a `Report`. Out: a Markdown task list to paste into a design checklist: what is settled
is ticked, what a finding leaves open is not, and what only a person can check stands last.
"""

from __future__ import annotations

import re

from spinefit.report import phrasing as say
from spinefit.report.model import FindingReport, LayoutReport, Report
from spinefit.vocabulary import Level, Orientation

__all__ = ["escaped", "to_markdown"]

_SPECIAL = re.compile(r"([\\`*_{}\[\]()<>#|~&$@!])")
_BY_HAND = (
    "Width of the back measured again in three places: head, middle and tail",
    "Proof printed at 100 % and laid on the book",
    "Spelling compared with the title page, letter by letter",
    "Direction compared with the books it will stand among",
)
_CAUTION = (
    "Knives and heated tools: follow the rules of your workshop, and use them only as you "
    "were trained to."
)


def to_markdown(report: Report) -> str:
    """The report as a Markdown task list, ended by a newline."""
    layout = say.shown_layout(report)
    items = [
        _item(report.fits, escaped(report.answer)),
        *(_setting(report, layout) if layout else ()),
        *(_finding(finding) for finding in say.findings_by_weight(report, layout)),
        *(_item(False, f"To be tried: {escaped(remedy.text)}") for remedy in report.remedies),
    ]
    assumed = [f"- {escaped(text)}" for text in report.assumed]
    parts = [
        f"## Spine lettering: {escaped(report.title)}",
        "\n".join(items),
        *(["Assumed:", "\n".join(assumed)] if assumed else []),
        "To be checked by a person:",
        "\n".join(_item(False, task) for task in _BY_HAND),
        f"> {_CAUTION}",
    ]
    return "\n\n".join(parts) + "\n"


def escaped(text: str) -> str:
    r"""``text`` so that Markdown shows it letter for letter, on one line.

    >>> escaped("[x] *Tides*")
    '\\[x\\] \\*Tides\\*'
    """
    return _SPECIAL.sub(r"\\\1", say.visible(text))


def _item(done: bool, text: str) -> str:
    return f"- [{'x' if done else ' '}] {text}"


def _setting(report: Report, layout: LayoutReport) -> list[str]:
    way = say.way_in_words(report, layout)
    if layout.orientation is Orientation.LONGITUDINAL:
        way += f"; {say.turn_in_words(layout)}"
    items = [
        _item(layout.fits, f"Size: {say.size_in_words(layout)}, {escaped(report.font.name)}"),
        _item(layout.fits, f"Lines: {say.lines_in_words(layout)}, {escaped(say.joined(layout))}"),
        _item(layout.fits, f"Direction: {way}"),
    ]
    least = say.least_spare_mm(layout)
    if least is not None:
        items.append(_item(layout.fits and not layout.tight, f"Least spare: {say.mm(least)}"))
    return items


def _finding(finding: FindingReport) -> str:
    text = escaped(finding.text)
    figures = [
        f"{name} {_figure(figure)}{_unit(finding.unit)}"
        for name, figure in (("figure", finding.value), ("limit", finding.limit))
        if figure is not None
    ]
    source = escaped(say.source_in_words(finding.source, finding.status))
    behind = "; ".join([*figures, *([source] if source else [])])
    lead = "" if finding.level is Level.GOOD else f"{str(finding.level).capitalize()}: "
    return _item(finding.level is Level.GOOD, f"{lead}{text}{f' ({behind})' if behind else ''}")


def _figure(figure: float | str) -> str:
    return escaped(figure) if isinstance(figure, str) else f"{round(figure, 2):g}"


def _unit(unit: str) -> str:
    return f" {escaped(unit)}" if unit else ""
