"""How is a figure or a setting of a report said in a few words?

Shared by the writers for people (terminal and checklist), so that both say the same. In:
numbers and enumerations of a report. Out: plain text without markup. Whole sentences are
made where the report is built; nothing is judged here.
"""

from __future__ import annotations

import unicodedata

from spinefit.errors import one_line
from spinefit.report.model import FindingReport, LayoutReport, Report
from spinefit.units import step_down_pt
from spinefit.vocabulary import LimitedBy, Orientation, Reading, SetBy, Turn, Verdict

__all__ = [
    "findings_by_weight",
    "joined",
    "least_spare_mm",
    "letters_of",
    "limit_in_words",
    "limit_pt",
    "lines_in_words",
    "mm",
    "shown_layout",
    "size_in_words",
    "source_in_words",
    "turn_in_words",
    "verdict_in_words",
    "visible",
    "way_in_words",
]

_SMALLEST_SHOWN_MM = 0.005  # below this two decimals show nothing
_JOINERS = "\u200c\u200d"  # shape letters in Persian and Indic scripts and hide nothing
_WEIGHTS = ("failure", "warning", "note", "good")
_WAYS = {
    Reading.ACROSS: "across the back",
    Reading.DESCENDING: "along the back, descending (from head to tail)",
    Reading.ASCENDING: "along the back, ascending (from tail to head)",
    Reading.STACKED: "as a pillar, letters one under another",
    Reading.UPRIGHT: "upright characters down a column",
}
_TURNS = {
    Turn.NONE: "letters stand upright",
    Turn.CLOCKWISE: "tops of the letters to the right",
    Turn.ANTICLOCKWISE: "tops of the letters to the left",
}
_LIMITS = {
    LimitedBy.WIDTH: "the width of the panel",
    LimitedBy.HEIGHT: "the height of the panel",
    LimitedBy.SHAPE: "the shape of the panel",
    LimitedBy.ANGLE: "the largest readable angle of the round",
}


def visible(text: str) -> str:
    r"""``text`` on one line: any space as a plain one, what would hide or reorder made visible.

    >>> visible("Vol." + chr(0xA0) + "2" + chr(0x202E))
    'Vol. 2\\u202e'
    """
    return "".join(
        " " if unicodedata.category(char) == "Zs" else char if char in _JOINERS else one_line(char)
        for char in text
    )


def mm(value: float) -> str:
    """Millimetres to a tenth, or to a hundredth where a tenth shows nothing.

    >>> mm(12.34), mm(-0.031), mm(-0.0001)
    ('12.3', '-0.03', '-0.01')
    """
    if abs(value) >= 0.05:
        return f"{value:.1f}"
    if -_SMALLEST_SHOWN_MM < value < 0:
        return "-0.01"  # an excess, however small, is never shown as none
    return f"{value:.2f}" if value and abs(value) >= _SMALLEST_SHOWN_MM else "0.0"


def limit_pt(size_pt: float) -> str:
    """A largest size in points, rounded down to a tenth so that it is never past the limit.

    >>> limit_pt(12.399)
    '12.3'
    """
    return f"{step_down_pt(size_pt, 0.1):g}"


def size_in_words(layout: LayoutReport) -> str:
    """The size judged, who chose it, and the limit."""
    chosen = "advised" if layout.fits else "the smallest on offer"
    if layout.set_by is SetBy.ASKED:
        chosen = "as asked"
    return f"{layout.set_pt:g} pt ({chosen}; the largest that fits is {_largest(layout)})"


def _largest(layout: LayoutReport) -> str:
    return f"{limit_pt(layout.largest_pt)} pt" if layout.largest_pt > 0 else "none"


def way_in_words(layout: LayoutReport) -> str:
    """Which way the lines stand and read."""
    way = _WAYS[layout.reading]
    if layout.orientation is Orientation.PILLAR:
        way = _WAYS[Reading.STACKED]
    return f"{way}, over the bands" if layout.over_bands else way


def turn_in_words(layout: LayoutReport) -> str:
    """Where the tops of the letters point, the book standing and its spine facing you."""
    return _TURNS[layout.turn]


def limit_in_words(layout: LayoutReport) -> str:
    """What stops the lettering from being larger."""
    return _LIMITS[layout.limited_by]


def letters_of(line: str) -> list[str]:
    """The letters of a line one by one, marks and joined signs kept with their letter.

    >>> letters_of("Mo" + chr(0x308) + "we")
    ['M', 'ö', 'w', 'e']
    """
    letters: list[str] = []
    for char in line:
        joins = unicodedata.category(char)[0] == "M" or char in _JOINERS
        if letters and (joins or letters[-1][-1] in _JOINERS):
            letters[-1] += char
        else:
            letters.append(char)
    return letters


def lines_in_words(layout: LayoutReport) -> str:
    """How many lines.

    A pillar counts as a column.
    """
    count = len(layout.lines)
    if layout.orientation is Orientation.PILLAR:
        return "one column" if count == 1 else f"{count} columns"
    return "one line" if count == 1 else f"{count} lines"


def joined(layout: LayoutReport) -> str:
    """The lines in one, a stroke at each break."""
    return " / ".join(visible(line) for line in layout.lines)


def least_spare_mm(layout: LayoutReport) -> float | None:
    """The least of the spares that are known, in mm."""
    spare = layout.spare_mm
    known = [s for s in (spare.left, spare.right, spare.head, spare.tail) if s is not None]
    return min(known, default=None)


def verdict_in_words(layout: LayoutReport) -> str:
    """``fits``, ``tight`` or ``does not fit`` for one setting."""
    if not layout.fits:
        return str(Verdict.DOES_NOT_FIT)
    return str(Verdict.TIGHT if layout.tight else Verdict.FITS)


def source_in_words(source: str, status: str | None) -> str:
    """Who says so and how far that may be trusted, or nothing where nobody is named."""
    known = [part for part in (visible(source), status) if part]
    return "; ".join(known)


def findings_by_weight(report: Report, layout: LayoutReport | None) -> list[FindingReport]:
    """The findings of a report and of one of its settings, the gravest first, each once."""
    both = (*report.findings, *(layout.findings if layout else ()))
    return sorted(dict.fromkeys(both), key=lambda finding: _WEIGHTS.index(finding.level))


def shown_layout(report: Report) -> LayoutReport | None:
    """The recommended setting, or where none fits the one that comes nearest to its size."""
    if report.recommended is not None:
        return report.layouts[report.recommended]
    candidates = [layout for layout in report.layouts if not layout.over_bands]
    return max(candidates, key=lambda layout: layout.largest_pt / layout.set_pt, default=None)
