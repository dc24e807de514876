"""How does a person at the bench read a plan on a screen?

In: a `BackReport` or `SetReport`. Out: plain text, the answer first, then each text or volume
with its lines and where to measure, then what could be changed, why, and what was assumed.
Each text's own report in full is in ``--format json`` and in the checklist.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from spinefit.plan.back_words import shown
from spinefit.plan.reports import BackReport, SetReport, TextReport, VolumeReport
from spinefit.report.model import FindingReport, LayoutReport, Report
from spinefit.report.phrasing import (
    joined,
    least_spare_mm,
    limit_pt,
    mm,
    pt,
    source_in_words,
    visible,
)
from spinefit.vocabulary import Level, Reading

__all__ = ["render"]

_NARROWEST, _WIDEST = 40, 110
_INDENT = " " * 10
_GRAVE = (Level.FAILURE, Level.WARNING)


def render(report: BackReport | SetReport, *, columns: int = 80) -> str:
    """The whole plan as text, lines ended by newlines.

    Args:
        report: the plan.
        columns: width of the screen in character cells.
    """
    wide = min(max(columns, _NARROWEST), _WIDEST)
    parts = [_wrapped(report.answer, wide)]
    if isinstance(report, BackReport):
        parts.append("From head to tail")
        parts += [_text(one, wide) for one in report.texts]
        changes = [one.text for one in report.remedies]
        heading = "What would make it fit"
    else:
        parts.append("The volumes")
        parts += [_volume(one, wide) for one in report.volumes]
        changes = [one.text for one in report.compromises]
        heading = "Instead of letting the worst rule all"
    if changes:
        parts.append(heading)
        parts.append(
            "\n".join(_wrapped(text, wide, f"{at:<10}") for at, text in enumerate(changes, 1))
        )
    if report.findings:
        parts.append("Why, and who says so")
        parts.append("\n".join(_finding(finding, wide) for finding in report.findings))
    if report.assumed:
        parts.append("Assumed, as it was not stated")
        parts.append("\n".join(_wrapped(text, wide, "- ", "  ") for text in report.assumed))
    return "\n\n".join(parts) + "\n"


def _wrapped(text: str, wide: int, first: str = "", rest: str | None = None) -> str:
    return textwrap.fill(
        visible(text),
        wide,
        initial_indent=first,
        subsequent_indent=" " * len(first) if rest is None else rest,
        break_on_hyphens=False,
    )


def _text(one: TextReport, wide: int) -> str:
    layout = shown(one.report)
    where = "" if one.panel is None else f", panel {one.panel}"
    rows = [
        f"{joined(layout)}",
        f"{_size(layout)}{where}; {mm(one.zone.begins_mm)} to {mm(one.zone.ends_mm)} from the "
        "head are its own",
        *_place(layout),
    ]
    return _block(str(one.role), rows, one.report, layout, wide)


def _volume(one: VolumeReport, wide: int) -> str:
    layout = shown(one.report)
    rows = [
        joined(layout),
        f"{_size(layout)}; by itself {pt(one.alone.set_pt)} "
        f"{'across' if one.alone.reading is Reading.ACROSS else one.alone.reading} would be "
        f"advised, as {joined(one.alone)}",
        *_place(layout),
    ]
    return _block(one.label, rows, one.report, layout, wide)


def _size(layout: LayoutReport) -> str:
    verdict = "" if layout.fits else "does not fit: "
    return f"{verdict}{pt(layout.set_pt)}, {limit_pt(layout.largest_pt)} at most"


def _place(layout: LayoutReport) -> list[str]:
    rows = []
    if layout.first_from_head_mm is not None and layout.fits:
        what = "first baseline" if layout.reading is Reading.ACROSS else "lettering begins"
        if layout.reading is Reading.ASCENDING:
            what = "lettering ends"
        rows.append(f"{what} {mm(layout.first_from_head_mm)} from the head")
    least = least_spare_mm(layout)
    if least is not None:
        rows.append(f"least spare {mm(least)}")
    return ["; ".join(rows)] if rows else []


def _block(name: str, rows: Sequence[str], report: Report, layout: LayoutReport, wide: int) -> str:
    """A text or volume: its name before its first line, then what is grave about it."""
    grave = [
        finding.text for finding in (*report.findings, *layout.findings) if finding.level in _GRAVE
    ]
    lead = f"{visible(name)}  "
    lines: Iterable[str] = (*rows, *dict.fromkeys(grave))
    wrapped = [
        _wrapped(line, wide, f"{lead:<10}" if at == 0 else _INDENT, _INDENT)
        for at, line in enumerate(lines)
    ]
    return "\n".join(wrapped)


def _finding(finding: FindingReport, wide: int) -> str:
    source = source_in_words(finding.source, finding.status)
    text = f"{finding.text} ({source})" if source else finding.text
    return _wrapped(text, wide, f"{finding.level:<10}")
