"""With which strokes and words is a drawing drawn?

Pens, labels, arrows, hatching and break lines, as items of a scene in mm. Line widths 0.35,
0.18 and 0.13 mm, long dashes and dots for middles and oblique strokes at the ends of
dimensions, after the practice of ISO 128 and ISO 129 (common practice; no number of the trade
rests on it). Black and grey only.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from spinefit.drawing.measure import WORDS_MM, measured
from spinefit.drawing.scene import (
    Anchor,
    Area,
    Group,
    Item,
    Line,
    Pen,
    Text,
    box_contour,
    ring_contour,
)
from spinefit.shaping.outline import Box, Point, ink_box, union

__all__ = [
    "CENTRE",
    "CUT",
    "DASHED",
    "EXTENTS",
    "FINE",
    "GREY",
    "GUIDE",
    "OUTLINE",
    "THICK",
    "THIN",
    "arrow",
    "box",
    "boxes_mm",
    "end_line",
    "extents_mm",
    "hatching",
    "label",
    "tick",
]

OUTLINE = Pen(0.35)
CUT = Pen(0.25)
THICK = Pen(0.5)
THIN = Pen(0.18)
FINE = Pen(0.13)
DASHED = Pen(0.18, (1.8, 0.9))
GUIDE = Pen(0.13, grey=0.45)
CENTRE = Pen(0.13, (5.0, 0.8, 0.6, 0.8))
EXTENTS = Pen(0.13, (0.6, 0.6), grey=0.4)
GREY = 0.9
"""Of what is kept free: light enough for figures to stand on, dark enough for any printer."""

_TICK_MM = 0.9
_HEAD_MM = (2.4, 0.8)  # length and half width of an arrow's head
_HATCH_MM = 1.1
_HALO_MM = 0.5


def label(
    at: Point,
    words: str,
    *,
    anchor: Anchor = "start",
    size_mm: float = WORDS_MM,
    bold: bool = False,
    turn_deg: float = 0.0,
    halo: bool = True,
) -> tuple[Item, ...]:
    """Words whose middle height stands at a point, on white so that no line runs through them.

    Args:
        at: the point at half the height of the figures that ``anchor`` names.
        words: one line.
        anchor: which end stands at the point.
        size_mm: em.
        bold: in the bold face.
        turn_deg: anticlockwise from level.
        halo: whether they bring a white ground.
    """
    low = -0.32 * size_mm  # half the height of a capital below the middle
    turn = math.radians(turn_deg)
    base = (at[0] - low * math.sin(turn), at[1] + low * math.cos(turn))
    text = measured(Text(base, words, size_mm, anchor, turn_deg, bold))
    if not halo or turn_deg:
        return (text,)
    left = at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text.width_mm
    ground = box_contour(
        left - _HALO_MM,
        base[1] - 0.22 * size_mm,
        left + text.width_mm + _HALO_MM,
        base[1] + 0.74 * size_mm,
    )
    return Area((ground,), 1.0), text


def tick(at: Point) -> Line:
    """The oblique stroke at the end of a dimension."""
    x, y = at
    return Line(((x - _TICK_MM, y - _TICK_MM), (x + _TICK_MM, y + _TICK_MM)), OUTLINE)


def arrow(begin: Point, end: Point, *, pen: Pen = THIN) -> tuple[Item, ...]:
    """A line with a filled head at its end."""
    length = math.dist(begin, end)
    along = ((end[0] - begin[0]) / length, (end[1] - begin[1]) / length)
    back, half = _HEAD_MM
    root = (end[0] - along[0] * back, end[1] - along[1] * back)
    side = (along[1] * half, along[0] * half)
    head = ring_contour(
        (end, (root[0] - side[0], root[1] + side[1]), (root[0] + side[0], root[1] - side[1]))
    )
    return Line((begin, root), pen), Area((head,))


def box(
    left: float,
    bottom: float,
    right: float,
    top: float,
    *,
    grey: float | None = None,
    pen: Pen | None = None,
) -> Area:
    """A rectangle, filled where a grey is given, outlined where a pen is."""
    return Area((box_contour(left, bottom, right, top),), grey, pen)


def hatching(area: Box) -> tuple[Line, ...]:
    """Oblique lines in a rectangle."""
    left, bottom, right, top = area
    found = []
    offset = left - top + _HATCH_MM
    while offset < right - bottom:  # the lines x - y = offset
        low = (max(left, bottom + offset), max(bottom, left - offset))
        high = (min(right, top + offset), min(top, right - offset))
        if high[0] - low[0] > 0.1:
            found.append(Line((low, high), FINE))
        offset += _HATCH_MM
    return tuple(found)


def end_line(left: float, right: float, y: float, *, goes_on: bool) -> Line:
    """Where a part ends: its edge, or a thin zigzag where it goes on."""
    if not goes_on:
        return Line(((left, y), (right, y)), OUTLINE)
    middle, out, half = (left + right) / 2, 2.0, min(1.2, (right - left) / 6)
    return Line(
        (
            (left - out, y),
            (middle - half, y),
            (middle - half / 2, y + 1.6),
            (middle + half / 2, y - 1.6),
            (middle + half, y),
            (right + out, y),
        ),
        THIN,
    )


def extents_mm(items: Iterable[Item]) -> Box:
    """Left, bottom, right and top of items in mm, words included.

    Raises:
        ValueError: there are no items.
    """
    found = union(list(boxes_mm(items)))
    if found is None:
        raise ValueError("nothing drawn")
    return found


def boxes_mm(items: Iterable[Item]) -> Iterator[Box]:
    """The extents of every line, area and text, one by one."""
    for item in items:
        if isinstance(item, Group):
            yield from boxes_mm(item.items)
        elif isinstance(item, Text):
            yield _text_box(item)
        elif isinstance(item, Line):
            xs, ys = zip(*item.points, strict=True)
            yield min(xs), min(ys), max(xs), max(ys)
        else:
            found = ink_box(item.contours)
            if found is not None:
                yield found


def _text_box(text: Text) -> Box:
    long = measured(text).width_mm
    begin = -{"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * long
    turn = math.radians(text.turn_deg)
    corners = [
        (
            text.at[0] + x * math.cos(turn) - y * math.sin(turn),
            text.at[1] + x * math.sin(turn) + y * math.cos(turn),
        )
        for x in (begin, begin + long)
        for y in (-0.22 * text.size_mm, 0.74 * text.size_mm)
    ]
    xs, ys = zip(*corners, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
