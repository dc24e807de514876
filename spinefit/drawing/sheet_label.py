"""How is one label drawn on the sheet it is cut from, and how much room does that take?

In: its letters as they were checked, outline and marks. Out: its cell on the sheet, and its items
there: the frame or ticks it is cut by, a frame that stays on it, a caption below it or up its left
side, and outside the cut the ticks of old ink that it is to cover, and of the joints that it goes
round over. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from spinefit.drawing.marks import text_width_mm
from spinefit.drawing.scene import (
    Area,
    Group,
    Item,
    Line,
    Pen,
    Text,
    box_contour,
    mapped,
    moved,
    ring_contour,
)
from spinefit.drawing.sheet_page import Cell
from spinefit.geometry.plane import Ring
from spinefit.shaping.glyphs import Contour, Point
from spinefit.vocabulary import Lap

# Sizes of what is drawn beside a label: the page's own look, no rule of the trade.
CAPTION_MM = 2.1
"""The em of a caption."""

_CAPTION_GREY = 0.45
_CAPTION_LINE_MM = 2.5
_CAPTION_GAP_MM = 1.2  # from the label's marks to the letters of the caption
_NARROW = 3.0  # so many times as high as wide
_TICK_GAP_MM, _TICK_MM = 1.0, 3.0
_HAIRLINE_MM = 0.1
_DASHED_PEN = Pen(0.18, (0.7, 0.4))


class Label(NamedTuple):
    """What is drawn, once.

    Attributes:
        width_mm, height_mm: the label's sides as it lies on the sheet.
        ink: its letters, in mm from the middle of the label.
        outline: corners from the middle, for a label that is no rectangle.
        frame_mm: thickness of the frame line that it is cut by; 0 for ticks.
        inset: the outline along which that line is drawn.
        cut_outside_mm: how far outside that line it is cut.
        caption: the lines of its caption.
        old_mm: half the width and height of old ink that it is to cover, or None.
        ticked: what these are of: of a trial strip the joints, head and tail.
        ruled: edges of the lines of a frame that stays on it, from the middle.
        folds: lines outside the cut, where it bends over the joints; none between them.
    """

    width_mm: float
    height_mm: float
    ink: tuple[Contour, ...]
    outline: Ring | None
    frame_mm: float
    inset: Ring | None
    cut_outside_mm: float
    caption: tuple[str, ...]
    old_mm: Point | None = None
    ticked: str = "old-lettering"
    ruled: tuple[Contour, ...] = ()
    folds: tuple[tuple[Point, Point], ...] = ()


def fold_ticks(width_mm: float, height_mm: float, lap: Lap) -> tuple[tuple[Point, Point], ...]:
    """Ticks above and below an upright label, where back and board meet each joint.

    Args:
        width_mm: of the label, as it is cut.
        height_mm: likewise.
        lap: how far it reaches beyond the back on each side.
    """
    near_mm = height_mm / 2 + _TICK_GAP_MM
    edges_mm = (width_mm / 2 - lap.reach_mm, width_mm / 2 - lap.board_mm)
    return tuple(
        ((across * edge_mm, up * near_mm), (across * edge_mm, up * (near_mm + _TICK_MM)))
        for edge_mm in dict.fromkeys(edges_mm)
        for across in (-1, 1)
        for up in (-1, 1)
    )


def turned_label(label: Label) -> Label:
    """The label turned by 90 degrees anticlockwise, for material without a grain."""

    def turn(point: Point) -> Point:
        return -point[1], point[0]

    def ring(points: Ring | None) -> Ring | None:
        return None if points is None else tuple(map(turn, points))

    return label._replace(
        width_mm=label.height_mm,
        height_mm=label.width_mm,
        ink=tuple(mapped(one, turn) for one in label.ink),
        ruled=tuple(mapped(one, turn) for one in label.ruled),
        outline=ring(label.outline),
        inset=ring(label.inset),
        old_mm=label.old_mm and label.old_mm[::-1],
        folds=tuple((turn(begin), turn(end)) for begin, end in label.folds),
    )


def cell_of(label: Label) -> Cell:
    """The room a label takes with its marks and caption, in mm."""
    reach = _reach_mm(label)
    depth = _caption_depth_mm(label)
    wide, high = label.width_mm + 2 * reach, label.height_mm + 2 * reach
    length = reach + _caption_width_mm(label)
    if _caption_beside(label):
        return Cell(wide + depth, max(high, length))
    return Cell(max(wide, length), high + depth)


def label_items(label: Label, cell_at: Point) -> tuple[tuple[Item, ...], Point]:
    """The items of a label, and where its lower left corner stands.

    Args:
        label: what is drawn.
        cell_at: upper left corner of its cell, in mm on the sheet.
    """
    reach = _reach_mm(label)
    left = cell_at[0] + reach + (_caption_depth_mm(label) if _caption_beside(label) else 0.0)
    corner = (left, cell_at[1] - reach - label.height_mm)
    middle = (label.width_mm / 2, label.height_mm / 2)
    drawn = (
        *moved((*_marks(label), *_old_ticks(label), *_folds(label)), middle),
        *moved((Group("ruled-frame", (Area(label.ruled),)),) if label.ruled else (), middle),
        Group("lettering", moved((Area(label.ink),), middle)),
        Group("caption", _caption(label)),
    )
    return (Group("label", moved(drawn, corner)),), corner


def is_beside(caption: str, width_mm: float, height_mm: float) -> bool:
    """Whether a caption stands up the left side: of a narrow label, or one too narrow for it.

    Args:
        caption: its first line.
        width_mm: of the label.
        height_mm: likewise.
    """
    if height_mm <= width_mm:
        return False
    return height_mm >= _NARROW * width_mm or text_width_mm(caption, CAPTION_MM) > width_mm


def _reach_mm(label: Label) -> float:
    """How far the marks, or the cut, reach beyond the label."""
    ticks_mm = _TICK_GAP_MM + _TICK_MM
    if label.old_mm is not None or label.folds:
        return label.cut_outside_mm + ticks_mm
    return label.cut_outside_mm if label.frame_mm else ticks_mm


def _marks(label: Label) -> tuple[Item, ...]:
    x, y = label.width_mm / 2, label.height_mm / 2
    if label.frame_mm:
        if label.inset is not None:
            edge = ring_contour(label.inset)
        else:
            half = label.frame_mm / 2  # the line's outer edge is the label's edge
            edge = box_contour(half - x, half - y, x - half, y - half)
        return (Group("frame", (Area((edge,), None, Pen(label.frame_mm)),)),)
    hairline = Pen(_HAIRLINE_MM)
    ticks = _ticks(label, (x, y), _TICK_GAP_MM, hairline)
    if label.outline is not None:
        ticks.append(Area((ring_contour(label.outline),), None, hairline))
    return (Group("ticks", tuple(ticks)),)


def _old_ticks(label: Label) -> Iterator[Item]:
    """Dashed, outside the cut: where the edges of the old ink lie once the label covers it."""
    if label.old_mm is not None:
        near_mm = label.cut_outside_mm + _TICK_GAP_MM
        yield Group(label.ticked, tuple(_ticks(label, label.old_mm, near_mm, _DASHED_PEN)))


def _folds(label: Label) -> Iterator[Item]:
    """Dashed, outside the cut: where the label bends into and out of the joints."""
    if label.folds:
        yield Group("joints", tuple(Line(ends, _DASHED_PEN) for ends in label.folds))


def _ticks(label: Label, edges_mm: Point, near_mm: float, pen: Pen) -> list[Item]:
    """Beyond the label, so far from it, where edges so far from its middle lie on every side."""
    x, y = label.width_mm / 2 + near_mm, label.height_mm / 2 + near_mm
    ticks: list[Item] = []
    for across, up in ((-1, -1), (-1, 1), (1, -1), (1, 1)):
        at_x, at_y = across * edges_mm[0], up * edges_mm[1]
        ticks.append(Line(((across * x, at_y), (across * (x + _TICK_MM), at_y)), pen))
        ticks.append(Line(((at_x, up * y), (at_x, up * (y + _TICK_MM))), pen))
    return ticks


def _caption(label: Label) -> tuple[Item, ...]:
    """The caption below the label, or up its left side."""
    first = _reach_mm(label) + _CAPTION_GAP_MM
    begin = min(0.0, label.height_mm - _caption_width_mm(label))  # ends below the label's top
    items: list[Item] = []
    for row, words in enumerate(label.caption):
        if _caption_beside(label):
            rows_after = len(label.caption) - 1 - row
            at, turn_deg = (-first - rows_after * _CAPTION_LINE_MM, begin), 90.0
        else:
            at, turn_deg = (0.0, -first - CAPTION_MM * 0.7 - row * _CAPTION_LINE_MM), 0.0
        items.append(Text(at, words, CAPTION_MM, turn_deg=turn_deg, grey=_CAPTION_GREY))
    return tuple(items)


def _caption_beside(label: Label) -> bool:
    return bool(label.caption) and is_beside(label.caption[0], label.width_mm, label.height_mm)


def _caption_width_mm(label: Label) -> float:
    return max((text_width_mm(line, CAPTION_MM) for line in label.caption), default=0.0)


def _caption_depth_mm(label: Label) -> float:
    if not label.caption:
        return 0.0
    return _CAPTION_GAP_MM + _CAPTION_LINE_MM * len(label.caption)
