"""What does the paper pattern look like that letters are struck through?

In: a `Worksheet`. Out: the pattern at true size, in mm in the panel's frame (origin at the
middle of the panel, x to the right, y to the head), as it lies on the back: its outline to
cut to, guide lines at foot and head of every line, the letters in grey, of tools each in its
face, a tick at the middle of each with its order below, and the distances from the head.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from spinefit.drawing.frame import contours_mm, ink_box_mm, letters_in_faces
from spinefit.drawing.marks import CENTRE, CUT, DASHED, FINE, THICK
from spinefit.drawing.ruled import ruled_frame
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Text, centred_contour, ring_contour
from spinefit.drawing.worksheet_places import Worksheet
from spinefit.geometry import turn_box, turn_point
from spinefit.shaping.glyphs import Box, Point
from spinefit.vocabulary import Orientation, Turn

_LETTER_GREY = 0.6  # read at a glance, and still lighter than ticks and impressions
_LETTER_OF_FACE_GREY = 0.3
_PANEL = Pen(0.13, (0.5, 0.7), 0.45)
_OPEN_MM = 12.0  # of back shown beyond the ink where its length is open
_TICK_MM = 0.9
_OVER_MM = 3.0  # centre lines reach that far out of the pattern
_SMALL_MM = 2.5
_LARGEST_NUMBER_MM, _LEAST_NUMBER_MM = 1.6, 1.0  # of the em of figures
_OF_FIGURES = 0.85  # of that em, their height and the air over and under them


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
    box = left, bottom, right, top = _region(worksheet)
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
    items = (
        Group("outline", tuple(sides), "edge of the pattern"),
        *_usable(worksheet),
        *ruled_frame(panel),
        _centre_lines(worksheet, box),
        Group("guides", tuple(_guides(worksheet, box)), "foot and head of the letters"),
        _letters(worksheet),
        Group("ticks", tuple(_ticks(worksheet)), "middles of the letters"),
        Group("numbers", tuple(_numbers(worksheet)), "order of the letters"),
        Group("heights", tuple(_heights(worksheet, right)), "distances from the head"),
    )
    return Pattern(left, bottom, right, top, items, head_mm)


def _region(worksheet: Worksheet) -> Box:
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
    if worksheet.turn is not Turn.NONE:
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


def _centre_lines(worksheet: Worksheet, box: Box) -> Group:
    left, bottom, right, top = box
    lines: list[Item] = [Line(((0.0, bottom - _OVER_MM), (0.0, top + _OVER_MM)), CENTRE)]
    if worksheet.turn is not Turn.NONE:
        lines.append(Line(((left - _OVER_MM, 0.0), (right + _OVER_MM, 0.0)), CENTRE))
    return Group("centre", tuple(lines), "middle of the panel")


def _guides(worksheet: Worksheet, box: Box) -> Iterator[Item]:
    begins, _bottom, ends, _top = turn_box(box, worksheet.turn.undone)
    for line in worksheet.lines:
        rows = [(0.0, FINE), (line.head_mm, FINE)]
        if line.x_height_mm is not None:
            rows.append((line.x_height_mm, DASHED))
        for over_mm, pen in rows:
            ends_mm = ((begins, line.foot_mm + over_mm), (ends, line.foot_mm + over_mm))
            yield _turned_line(worksheet, ends_mm, pen)


def _turned_line(worksheet: Worksheet, points: tuple[Point, Point], pen: Pen) -> Line:
    """A line between points along and over the lettering, as it lies on the back."""
    return Line(tuple(turn_point(point, worksheet.turn) for point in points), pen)


def _letters(worksheet: Worksheet) -> Group:
    judged = worksheet.judged
    turn = worksheet.turn
    contours = contours_mm(
        worksheet.placed, turn=turn, size_mm=worksheet.size_mm, centre_mm=judged.centre_mm
    )
    title = judged.layout.title
    items: tuple[Item, ...] = (Area(contours, _LETTER_GREY),)
    if title.only_pt is not None:
        letters = [one.letter for line in worksheet.lines for one in line.struck]
        items = letters_in_faces(letters, contours, turn, _LETTER_OF_FACE_GREY)
    return Group("lettering", items, title.text)


def _ticks(worksheet: Worksheet) -> Iterator[Item]:
    """Ticks below the foot of each line and above its head."""
    tick_mm = _tick_mm(worksheet)
    for line in worksheet.lines:
        head_mm = line.foot_mm + line.head_mm
        middles = [(letter.from_middle_mm, CUT) for letter in line.struck]
        for x, pen in (*middles, (line.middle_from_middle_mm, THICK)):
            for y, end in ((line.foot_mm, line.foot_mm - tick_mm), (head_mm, head_mm + tick_mm)):
                yield _turned_line(worksheet, ((x, y), (x, end)), pen)


def _between_lines_mm(worksheet: Worksheet) -> float:
    """From the foot of a line to the upper guide of the next, at least."""
    pairs = pairwise(sorted(worksheet.lines, key=lambda line: -line.foot_mm))
    return min((one.foot_mm - other.foot_mm - other.head_mm for one, other in pairs), default=10.0)


def _tick_mm(worksheet: Worksheet) -> float:
    """How long a tick is: shorter where lines stand close."""
    return max(0.3, min(_TICK_MM, 0.18 * _between_lines_mm(worksheet)))


def _least_step_mm(worksheet: Worksheet) -> float:
    """From line to line; of one line enough for anything beside it."""
    steps = [abs(one.foot_mm - other.foot_mm) for one, other in pairwise(worksheet.lines)]
    return min(steps, default=10.0)


def _numbers(worksheet: Worksheet) -> Iterator[Item]:
    """Order numbers below the feet, in bold that of the middle one; none where lines stand close.

    The letters themselves stay free to be read, and the table numbers them in any case.
    """
    tick_mm = _tick_mm(worksheet)
    size_mm = min(_LARGEST_NUMBER_MM, (_between_lines_mm(worksheet) - 2 * tick_mm) / _OF_FIGURES)
    is_pillar = worksheet.judged.layout.candidate.orientation is Orientation.PILLAR
    if is_pillar or size_mm < _LEAST_NUMBER_MM:
        return
    for line in worksheet.lines:
        y_mm = line.foot_mm - tick_mm - 0.77 * size_mm
        for letter in line.struck:
            at = turn_point((letter.from_middle_mm, y_mm), worksheet.turn)
            turn_deg, is_middle = worksheet.turn.degrees, letter.number == line.middle
            yield Text(at, str(letter.number), size_mm, "middle", turn_deg, is_middle)


def _heights(worksheet: Worksheet, right: float) -> Iterator[Item]:
    """Distances from the head at the right of the pattern."""
    if worksheet.turn is Turn.NONE:
        size_mm = max(1.6, min(_SMALL_MM, 0.9 * _least_step_mm(worksheet)))
        rows = [(line.foot_mm, line.foot_from_head_mm) for line in worksheet.lines]
    else:
        size_mm, struck = _SMALL_MM, worksheet.lines[0].struck
        rows = [
            (turn_point((one.from_middle_mm, 0.0), worksheet.turn)[1], one.from_head_mm)
            for one in (struck[0], struck[-1])
        ]
    for y, from_head_mm in rows:
        if from_head_mm is not None:
            yield Line(((right + 0.8, y), (right + 3.5, y)), FINE)
            yield Text((right + 4.2, y - 0.32 * size_mm), f"{from_head_mm:.1f}", size_mm)
