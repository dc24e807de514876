"""How is a figure or a setting of a report said in a few words?

The one place where figures are rounded for people: sentences, terminal and checklist all say
them as here. In: numbers and enumerations of a report. Out: plain text. Whole sentences are made in
`sentences` and `answers`; nothing is judged here.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from spinefit.errors import one_line
from spinefit.job.house import OF_HOUSE
from spinefit.say.label_model import FrameReport, LabelReport, LapReport
from spinefit.say.model import FindingReport, FontReport, LayoutReport, Report
from spinefit.units import step_down_pt, whole_points_of
from spinefit.vocabulary import (
    Centre,
    Level,
    Orientation,
    Reading,
    SetBy,
    Status,
    Turn,
    Verdict,
)

_FINE = 0.1  # below it two decimals say too little
_MOST_DECIMALS = 3  # what differs by less than that is the same to anyone
_SMALLEST_SHOWN_MM = 0.005  # below this two decimals show nothing
_JOINERS = "\u200c\u200d"  # shape letters in Persian and Indic scripts and hide nothing
_OF_SETTING = (  # what a person may choose, and no fact of the book
    "font", "case", "orientation", "lines", "break words", "leading", "centre", "clearance",
    "reading distance")  # fmt: skip
_OURS = "our choice"  # said of what no one else stands behind
_COUNTS = "no one two three four five six seven eight nine ten eleven twelve"
_WEIGHTS = ("failure", "warning", "note", "good")
_READS: dict[str, str] = {
    Reading.DESCENDING: "from head to tail",
    Reading.ASCENDING: "from tail to head",
    Reading.UPRIGHT: "upright, from head to tail",
}
_WAYS = {
    Reading.ACROSS: "across the {of}",
    Reading.DESCENDING: f"along the {{of}}, descending ({_READS[Reading.DESCENDING]})",
    Reading.ASCENDING: f"along the {{of}}, ascending ({_READS[Reading.ASCENDING]})",
    Reading.STACKED: "upright letters one under another",
    Reading.UPRIGHT: "upright characters down a column",
}
_TURNS = {
    Turn.NONE: "letters stand upright",
    Turn.CLOCKWISE: "tops of the letters to the right",
    Turn.ANTICLOCKWISE: "tops of the letters to the left",
}


def frame_in_words(frame: FrameReport) -> str:
    """The frame of a label, and what it leaves between its lines, the edge and the ink."""
    lines = " and ".join(f"{each:.2f}" for each in frame.weights_mm)
    corners = "" if frame.corners in ("square", "along the edge") else f", {frame.corners} corners"
    return (
        f"{frame.form.replace('-', ' ')}{corners}: {lines} mm, {frame.from_edge_mm:g} mm inside "
        f"the edge that is cut, {bare_mm(frame.to_ink_mm)} mm or more from the ink"
    )


def visible(text: str) -> str:
    r"""``text`` on one line: any space as a plain one, what would hide or reorder made visible.

    >>> visible("Vol." + chr(0xA0) + "2" + chr(0x202E))
    'Vol. 2\\u202e'
    """
    return "".join(
        " " if unicodedata.category(char) == "Zs" else char if char in _JOINERS else one_line(char)
        for char in text
    )


def assumed_parted(assumed: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What was assumed of the book, and apart from it how it is set, a name and a value each.

    >>> assumed_parted(("head: 4 mm", "foot: 4 mm", "case: as typed"))
    (('head and foot: 4 mm',), ('case as typed',))
    """
    of_house = [text.removesuffix(OF_HOUSE) for text in assumed if text.endswith(OF_HOUSE)]
    of_book = [f"{'; '.join(of_house)}{OF_HOUSE}"] if of_house else []
    of_setting: list[str] = []
    for text in (one for one in assumed if not one.endswith(OF_HOUSE)):
        name, _colon, value = text.partition(": ")
        if name in _OF_SETTING:
            of_setting.append(f"{name} {value}")
        elif name == "foot" and of_book[-1:] == [f"head: {value}"]:
            of_book[-1] = f"head and foot: {value}"
        else:
            of_book.append(text)
    return tuple(of_book), tuple(of_setting)


def capitals_or_letters(text: str) -> str:
    """What the height of a title's letters is that of: Hebrew and Japanese have no capitals.

    >>> capitals_or_letters("Tides 1889"), capitals_or_letters("\u706f\u53f0")
    ('capitals', 'letters')
    """
    return "capitals" if any(char.lower() != char.upper() for char in text) else "letters"


def figure(value: float) -> str:
    """A figure of any unit, with as many decimals as a stroke or a gap needs.

    >>> figure(12.345), figure(0.0512)
    ('12.35', '0.0512')
    """
    return f"{round(value, 2 if abs(value) >= _FINE else 4):g}"


def listed(parts: Sequence[str]) -> str:
    """Parts in a sentence.

    >>> listed(["the title", "the date", "the imprint"])
    'the title, the date and the imprint'
    """
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def bare_mm(value_mm: float) -> str:
    """Millimetres to a tenth, or to a hundredth where a tenth shows nothing; no unit.

    >>> bare_mm(12.34), bare_mm(9.0), bare_mm(-0.031), bare_mm(-0.0001)
    ('12.3', '9', '-0.03', '-0.01')
    """
    if abs(value_mm) >= 0.05:
        return f"{round(value_mm, 1):g}"
    if -_SMALLEST_SHOWN_MM < value_mm < 0:
        return "-0.01"  # an excess, however small, is never shown as none
    return f"{round(value_mm, 2) + 0.0:g}"


def mm(value_mm: float) -> str:
    """A length as `bare_mm` rounds it, with its unit."""
    return f"{bare_mm(value_mm)} mm"


def bare_pt(size_pt: float) -> str:
    """A size that is set, to a hundredth of a point; no unit.

    >>> bare_pt(12.0), bare_pt(12.788)
    ('12', '12.79')
    """
    return f"{round(size_pt, 2):g}"


def pt(size_pt: float) -> str:
    """A size as `bare_pt` rounds it, with its unit, and in the points of the drawer.

    >>> pt(12.788), pt(12 * 0.375972 / (25.4 / 72))
    ('12.79 pt', '12.79 pt (12 Didot)')
    """
    other = whole_points_of(size_pt)
    drawer = "" if other is None else f" ({other[0]:g} {other[1]})"
    return f"{bare_pt(size_pt)} pt{drawer}"


def bare_limit_pt(size_pt: float) -> str:
    """A largest size, rounded down to a tenth so that it is never past the limit; no unit.

    >>> bare_limit_pt(12.399)
    '12.3'
    """
    return f"{step_down_pt(size_pt, 0.1):g}"


def limit_pt(size_pt: float) -> str:
    """A largest size as `bare_limit_pt` rounds it, with its unit."""
    return f"{bare_limit_pt(size_pt)} pt"


def against(value: float, limit: float, *, decimals: int = 0) -> str:
    """A figure beside its limit, with as many decimals as tell the one from the other.

    Args:
        value: the figure, of any unit.
        limit: what it is compared with, of the same unit.
        decimals: how many there are at the least.

    >>> against(20.3, 16), against(15.7, 16), against(15.98, 16), against(16, 16)
    ('20', '15.7', '15.98', '16')
    """
    rounded = (round(value, places) for places in range(decimals, _MOST_DECIMALS + 1))
    return f"{next((each for each in rounded if each != limit), limit):g}"


def mm_against(value_mm: float, limit_mm: float) -> str:
    """A length beside its limit: as `mm`, but never like the limit where more decimals tell.

    >>> mm_against(1.58, 1.6), mm_against(2.21, 1.6), mm_against(2.33, 2.27)
    ('1.58 mm', '2.2 mm', '2.33 mm')
    """
    if bare_mm(value_mm) != bare_mm(limit_mm):
        return mm(value_mm)
    rounded = ((round(value_mm, at), round(limit_mm, at)) for at in range(1, _MOST_DECIMALS + 1))
    return next((f"{own:g} mm" for own, other in rounded if own != other), mm(value_mm))


def way(reading: object) -> str:
    """Where reading starts and ends, for lettering along the back.

    >>> way("descending")
    'from head to tail'
    """
    return _READS.get(str(reading), str(reading))


def size_in_words(layout: LayoutReport) -> str:
    """The size judged, who chose it, and the limit."""
    chosen = "advised" if layout.set_pt <= layout.largest_pt else "the smallest on offer"
    if layout.set_by is SetBy.ASKED:
        chosen = "as asked"
    return f"{pt(layout.set_pt)} ({chosen}; the largest that fits is {_largest(layout)})"


def _largest(layout: LayoutReport) -> str:
    return limit_pt(layout.largest_pt) if layout.largest_pt > 0 else "none"


def way_in_words(report: Report, layout: LayoutReport) -> str:
    """Which way the lines of a setting stand and read."""
    pillar = layout.orientation is Orientation.PILLAR
    of = report.panel.of
    if of == "outright":
        of = "label" if layout.texts else "panel"
    stands = _WAYS[Reading.STACKED if pillar else layout.reading].format(of=of)
    return f"{stands}, over the bands" if layout.over_bands else stands


def turn_in_words(layout: LayoutReport) -> str:
    """Where the tops of the letters point, the book standing and its spine facing you."""
    return _TURNS[layout.turn]


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
    return line_count(count)


def line_count(count: int) -> str:
    """So many lines, one in a word."""
    return "one line" if count == 1 else f"{count} lines"


def on_lines(count: int) -> str:
    """On one line, or in how many, as part of a sentence.

    >>> on_lines(1), on_lines(3)
    ('on one line', 'in three lines')
    """
    return "on one line" if count == 1 else f"in {count_in_words(count)} lines"


def count_in_words(number: int) -> str:
    """A number as a word up to twelve."""
    return dict(enumerate(_COUNTS.split())).get(number, str(number))


def joined(layout: LayoutReport) -> str:
    """The lines in one, a stroke at each break."""
    return " / ".join(visible(line) for line in layout.lines)


def least_spare_mm(layout: LayoutReport) -> float | None:
    """The least of the spares that are known, in mm."""
    spare = layout.spare_mm
    known = [s for s in (spare.left, spare.right, spare.head, spare.tail) if s is not None]
    return min(known, default=None)


def font_in_words(font: FontReport) -> str:
    """The font's name, with its place on the axes where it has any."""
    axes = ", ".join(f"{tag} {round(value, _MOST_DECIMALS):g}" for tag, value in font.axes)
    return f"{font.name} ({axes})" if axes else font.name


def verdict_in_words(layout: LayoutReport) -> str:
    """``fits``, ``tight`` or ``does not fit`` for one setting."""
    if not layout.fits:
        return str(Verdict.DOES_NOT_FIT)
    return str(Verdict.TIGHT if layout.tight else Verdict.FITS)


def source_in_words(source: str, status: str | None) -> str:
    """Who says so and how far that may be trusted, or nothing where nobody is named.

    >>> source_in_words("the trade", "practice"), source_in_words("computed", "computed")
    ('the trade; practice', 'computed')
    >>> source_in_words("our choice, adjustable by --leading", "chosen")
    'our choice, adjustable by --leading'
    """
    if status == Status.CHOSEN:
        status = None if "choice" in source else _OURS
    known = [part for part in (visible(source), status) if part]
    return "; ".join(dict.fromkeys(known))


def findings_by_weight(report: Report, layout: LayoutReport | None) -> list[FindingReport]:
    """The findings of a report and of one of its settings, the gravest first, each once."""
    both = (*report.findings, *(layout.findings if layout else ()))
    return sorted(dict.fromkeys(both), key=lambda finding: _WEIGHTS.index(finding.level))


def grave(report: Report) -> list[FindingReport]:
    """What would spoil the work: the failures and warnings of a report and its setting."""
    found = findings_by_weight(report, shown(report))
    return [one for one in found if one.level in (Level.FAILURE, Level.WARNING)]


def shown_layout(report: Report) -> LayoutReport | None:
    """The recommended setting, or the nearest where none fits; None where there is none."""
    return report.shown


def shown(report: Report) -> LayoutReport:
    """The same, of a job that has a setting in an orientation it was asked for."""
    layout = shown_layout(report)
    assert layout is not None  # as every text of a plan has
    return layout


def placing_in_words(layout: LayoutReport) -> str:
    """Where to measure: from the head, and for lines along the back from its middle."""
    parts = [from_head_in_words(layout)]
    if layout.orientation is Orientation.LONGITUDINAL:
        what = "baseline" if len(layout.baselines_mm) == 1 else "first baseline"
        parts.append(f"{what} {_beside_middle(layout)}")
    return "; ".join(filter(None, parts))


def middle_in_words(layout: LayoutReport) -> str:
    """What stands on the middle of the back, of lines along it that do not stand on their ink."""
    if layout.orientation is not Orientation.LONGITUDINAL or layout.centre is not Centre.CAPITALS:
        return ""
    top_mm = -layout.baselines_mm[-1] - layout.baselines_mm[0]  # of the band, from its foot
    is_small = abs(top_mm - layout.x_height_mm) < abs(top_mm - layout.cap_height_mm)
    return f"the band of the {'small letters' if is_small else 'capitals'} stands on the middle"


def lapping_in_words(label: LabelReport, lap: LapReport) -> str:
    """How a label is cut that goes round over the joints, and where its width lies."""
    high = "" if lap.cut_height_mm is None else f" x {lap.cut_height_mm:.4g}"
    over_mm = label.cut_width_mm - 2 * (lap.joint_mm + lap.board_mm)
    return (
        f"cut {label.cut_width_mm:.2f}{high} mm, grain from head to tail: {over_mm:.2f} mm over "
        f"the back, then {mm(lap.joint_mm)} of joint and {mm(lap.board_mm)} of board each "
        "side, covered"
    )


def from_head_in_words(layout: LayoutReport) -> str:
    """How far from the head lettering begins, or ends, or has its first baseline; if known."""
    if layout.first_from_head_mm is None:
        return ""
    across = layout.orientation is Orientation.TRANSVERSE
    up = layout.reading is Reading.ASCENDING
    what = "first baseline" if across else "lettering ends" if up else "lettering begins"
    return f"{what} {mm(layout.first_from_head_mm)} from the head"


def _beside_middle(layout: LayoutReport) -> str:
    """How far the first baseline lies to the left or right of the panel's middle."""
    towards_tops_mm = layout.baselines_mm[0]
    if abs(towards_tops_mm) < _SMALLEST_SHOWN_MM:
        return "on the middle of the width"
    tops_right = layout.turn is Turn.CLOCKWISE
    side = "right" if (towards_tops_mm > 0) == tops_right else "left"
    return f"{mm(abs(towards_tops_mm))} {side} of the middle of the width"
