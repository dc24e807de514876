"""What does the paper pattern look like that letters are struck through?

In: a `Worksheet`. Out: the pattern at true size, in mm in the panel's frame (origin at the
middle of the panel, x to the right, y to the head), as it lies on the back: its outline to
cut to, guide lines at foot and head of every line, the letters in grey with their order, a
tick at the middle of each, and the distances from the head.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from spinefit.drawing.frame import contours_mm, ink_box_mm
from spinefit.drawing.marks import CENTRE, CUT, DASHED, FINE, THICK
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Text, centred_contour, ring_contour
from spinefit.drawing.worksheet_places import StruckLine, Worksheet
from spinefit.geometry import turn_point
from spinefit.shaping.glyphs import Point
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Turn

__all__ = ["Pattern", "pattern_of"]

_LETTER_GREY = 0.84
_PANEL = Pen(0.13, (0.5, 0.7), 0.45)
_OPEN_MM = 12.0  # of back shown beyond the ink where its length is open
_TICK_MM = 0.9
_OVER_MM = 3.0  # centre lines reach that far out of the pattern
_TURNS = {Turn.NONE: 0.0, Turn.CLOCKWISE: -90.0, Turn.ANTICLOCKWISE: 90.0}
_SMALL_MM = 2.5


class Pattern(NamedTuple):
    """The pattern and how far it reaches.

    Attributes:
        left, bottom, right, top: its outline in mm in the panel's frame.
        items: what is drawn, the outline included.
        head_mm: from the head of the back to its upper end; None where that is not known.
    """

    left: float
    bottom: float
    right: float
    top: float
    items: tuple[Item, ...]
    head_mm: float | None


def pattern_of(worksheet: Worksheet) -> Pattern:
    """The pattern of a worksheet, in the panel's frame."""
    left, bottom, right, top = _region(worksheet)
    panel = worksheet.judged.layout.panel
    open_ended = panel.height_mm is None
    sides: list[Item] = [
        Line(((left, bottom), (left, top)), CUT),
        Line(((right, bottom), (right, top)), CUT),
    ]
    ends = DASHED if open_ended else CUT
    sides += [Line(((left, y), (right, y)), ends) for y in (bottom, top)]
    head_mm = None
    if panel.middle_from_head_mm is not None and not open_ended:
        head_mm = panel.middle_from_head_mm - top
    box = (left, bottom, right, top)
    items = (
        Group("outline", tuple(sides), "edge of the pattern"),
        *_usable(worksheet),
        _centre_lines(worksheet, box),
        Group("guides", tuple(_guides(worksheet, box)), "foot and head of the letters"),
        _letters(worksheet),
        Group("ticks", tuple(_ticks(worksheet)), "middles of the letters"),
        Group("numbers", tuple(_numbers(worksheet)), "order of the letters"),
        Group("heights", tuple(_heights(worksheet, right)), "distances from the head"),
    )
    return Pattern(left, bottom, right, top, items, head_mm)


def _region(worksheet: Worksheet) -> tuple[float, float, float, float]:
    """What the pattern covers: the back from joint to joint, end to end or band to band."""
    judged = worksheet.judged
    panel = judged.layout.panel
    half_mm = panel.width_mm / 2
    left, right = -half_mm - panel.margin_left_mm, half_mm + panel.margin_right_mm
    if panel.height_mm is not None:
        top = panel.height_mm / 2 + (panel.margin_head_mm or 0.0)
        bottom = -panel.height_mm / 2 - (panel.margin_tail_mm or 0.0)
        return left, bottom, right, top
    ends = [*ink_box_mm(judged)[1::2]]
    if judged.layout.candidate.turn is not Turn.NONE:
        longest = max(
            abs(one.from_middle_mm) + one.width_mm / 2
            for line in worksheet.lines
            for one in line.letters
        )
        ends += [-longest, longest]
    return left, min(ends) - _OPEN_MM, right, max(ends) + _OPEN_MM


def _usable(worksheet: Worksheet) -> list[Item]:
    """The edge of the usable panel, where it is not the pattern's own."""
    panel = worksheet.judged.layout.panel
    if panel.height_mm is None or (panel.back is None and panel.is_plain):
        return []
    outline = centred_contour(panel.width_mm, panel.height_mm)
    if panel.outline_mm is not None:
        outline = ring_contour(panel.outline_mm)
    rings = (outline, *map(ring_contour, panel.holes_mm))
    areas = tuple(Area((ring,), None, _PANEL) for ring in rings)
    return [Group("panel", areas, "edge of the usable panel")]


def _centre_lines(worksheet: Worksheet, box: tuple[float, float, float, float]) -> Group:
    left, bottom, right, top = box
    lines: list[Item] = [Line(((0.0, bottom - _OVER_MM), (0.0, top + _OVER_MM)), CENTRE)]
    if _along(worksheet):
        lines.append(Line(((left - _OVER_MM, 0.0), (right + _OVER_MM, 0.0)), CENTRE))
    return Group("centre", tuple(lines), "middle of the panel")


def _along(worksheet: Worksheet) -> bool:
    return worksheet.judged.layout.candidate.turn is not Turn.NONE


def _at(worksheet: Worksheet, along_mm: float, up_mm: float) -> Point:
    """A point along and over the lines, from the middle of the panel, as it lies on the back."""
    return turn_point((along_mm, up_mm), worksheet.judged.layout.candidate.turn)


def _guides(worksheet: Worksheet, box: tuple[float, float, float, float]) -> list[Item]:
    left, bottom, right, top = box
    ends = (left, right)
    if _along(worksheet):
        clockwise = worksheet.judged.layout.candidate.turn is Turn.CLOCKWISE
        ends = (-top, -bottom) if clockwise else (bottom, top)
    title = worksheet.judged.layout.title
    found: list[Item] = []
    for line in worksheet.lines:
        rows = [(0.0, FINE), (worksheet.head_mm, FINE)]
        if not title.all_capitals:
            rows.append((title.x_height_em * mm_from_pt(worksheet.judged.set_pt), DASHED))
        for over_mm, pen in rows:
            at_mm = line.foot_mm + over_mm
            points = (_at(worksheet, ends[0], at_mm), _at(worksheet, ends[1], at_mm))
            found.append(Line(points, pen))
    return found


def _letters(worksheet: Worksheet) -> Group:
    judged = worksheet.judged
    contours = contours_mm(
        worksheet.placed,
        turn=judged.layout.candidate.turn,
        size_mm=mm_from_pt(judged.set_pt),
        centre_mm=judged.centre_mm,
    )
    return Group("lettering", (Area(contours, _LETTER_GREY),), judged.layout.title.text)


def _ticks(worksheet: Worksheet) -> list[Item]:
    found: list[Item] = []
    tick_mm = _tick_mm(worksheet)
    for line in worksheet.lines:
        for letter in line.struck:
            found += _tick(worksheet, line, letter.from_middle_mm, tick_mm, CUT)
        found += _tick(worksheet, line, line.middle_from_middle_mm, tick_mm, THICK)
    return found


def _tick(
    worksheet: Worksheet, line: StruckLine, along_mm: float, tick_mm: float, pen: Pen
) -> list[Item]:
    """A tick below the foot of the line and one above its head."""
    head_mm = line.foot_mm + worksheet.head_mm
    spans = ((line.foot_mm, line.foot_mm - tick_mm), (head_mm, head_mm + tick_mm))
    return [
        Line((_at(worksheet, along_mm, start), _at(worksheet, along_mm, end)), pen)
        for start, end in spans
    ]


def _tick_mm(worksheet: Worksheet) -> float:
    """Length of a tick: shorter where lines stand close, so that ticks of two do not meet."""
    return max(0.3, min(_TICK_MM, 0.42 * (_least_step_mm(worksheet) - worksheet.head_mm)))


def _least_step_mm(worksheet: Worksheet) -> float:
    """From line to line; of one line enough for anything beside it."""
    steps = [abs(one.foot_mm - other.foot_mm) for one, other in pairwise(worksheet.lines)]
    return min(steps, default=10.0)


def _numbers(worksheet: Worksheet) -> list[Item]:
    """Order numbers in the letters, in bold that of the middle one."""
    if worksheet.judged.layout.candidate.orientation is Orientation.PILLAR:
        return []
    size_mm = max(1.6, min(2.4, 0.45 * worksheet.head_mm))
    up_mm = worksheet.head_mm / 2 - 0.33 * size_mm
    turn = worksheet.judged.layout.candidate.turn
    return [
        Text(
            _at(worksheet, letter.from_middle_mm, line.foot_mm + up_mm),
            str(letter.number),
            size_mm,
            "middle",
            _TURNS[turn],
            letter.number == line.middle,
        )
        for line in worksheet.lines
        for letter in line.struck
    ]


def _heights(worksheet: Worksheet, right: float) -> list[Item]:
    """Distances from the head at the right of the pattern."""
    if not _along(worksheet):
        size_mm = max(1.6, min(_SMALL_MM, 0.9 * _least_step_mm(worksheet)))
        rows = [
            (line.foot_mm, f"{line.foot_from_head_mm:.1f}")
            for line in worksheet.lines
            if line.foot_from_head_mm is not None
        ]
    else:
        size_mm = _SMALL_MM
        line = worksheet.lines[0]
        rows = [
            (_at(worksheet, one.from_middle_mm, 0.0)[1], f"{one.from_head_mm:.1f}")
            for one in (line.struck[0], line.struck[-1])
            if one.from_head_mm is not None
        ]
    found: list[Item] = []
    for y, words in rows:
        found.append(Line(((right + 0.8, y), (right + 3.5, y)), FINE))
        found.append(Text((right + 4.2, y - 0.32 * size_mm), words, size_mm))
    return found
