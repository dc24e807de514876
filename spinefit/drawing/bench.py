"""What do all drawings for the bench share: pens to cut by, dimensions, columns of words?

Parts of a scene in mm, y up. Pens and sizes of words that serve every drawing are in `marks`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from spinefit.drawing.marks import FINE, WORDS_MM
from spinefit.drawing.measure import measured, text_width_mm, wrapped
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Text, ring_contour
from spinefit.shaping.outline import Point

__all__ = [
    "CUT",
    "THICK",
    "column",
    "dimension",
    "held",
]

CUT = Pen(0.25)
THICK = Pen(0.5)

_ARROW_MM = 1.6
_LEADING = 1.25


def dimension(
    start: Point, end: Point, said: str, *, size_mm: float = WORDS_MM, beside: bool = False
) -> Group:
    """A dimension line between two points, level or upright, with its figure.

    Args:
        start: its left or lower end.
        end: its other end.
        said: the figure.
        size_mm: size of the figure.
        beside: the figure beyond the upper or right end rather than over the middle.
    """
    (x0, y0), (x1, y1) = start, end
    length = math.hypot(x1 - x0, y1 - y0)
    along = ((x1 - x0) / length, (y1 - y0) / length) if length else (1.0, 0.0)
    outside = length < 3 * _ARROW_MM  # arrows point inwards from outside where there is no room
    items: list[Item] = []
    reach = 3 * _ARROW_MM if outside else 0.0
    tail = (x0 - along[0] * reach, y0 - along[1] * reach)
    tip = (x1 + along[0] * reach, y1 + along[1] * reach)
    items.append(Line((tail, tip), FINE))
    sign = -1 if outside else 1
    items += [_arrow(start, along, sign), _arrow(end, along, -sign)]
    upright = abs(along[1]) > abs(along[0])
    if beside or text_width_mm(said, size_mm) > length:
        gap = 1.0
        at = (tip[0] + along[0] * gap, tip[1] + along[1] * gap)
        if upright:
            items.append(Text((at[0], at[1]), said, size_mm, "middle"))
        else:
            items.append(Text((at[0], at[1] - size_mm * 0.3), said, size_mm))
    elif upright:
        items.append(Text((x0 - 0.9, (y0 + y1) / 2), said, size_mm, "middle", 90.0))
    else:
        items.append(Text(((x0 + x1) / 2, y0 + 0.9), said, size_mm, "middle"))
    return Group("dimension", tuple(items))


def _arrow(at: Point, along: Point, sign: int) -> Area:
    """An arrow head, its point at ``at``, its body towards ``sign`` times the direction."""
    (x, y), (dx, dy) = at, along
    back = (x + sign * dx * _ARROW_MM, y + sign * dy * _ARROW_MM)
    half = _ARROW_MM / 6
    left = (back[0] - dy * half, back[1] + dx * half)
    right = (back[0] + dy * half, back[1] - dx * half)
    return Area((ring_contour((at, left, right)),))


def held(items: Iterable[Item]) -> tuple[Item, ...]:
    """The same items, every text with the width it was laid out with."""
    return tuple(
        item._replace(items=held(item.items))
        if isinstance(item, Group)
        else measured(item)
        if isinstance(item, Text)
        else item
        for item in items
    )


def column(
    paragraphs: Iterable[str | tuple[str, bool]],
    at: Point,
    width_mm: float,
    *,
    size_mm: float = WORDS_MM,
) -> tuple[list[Item], float]:
    """Paragraphs one under another, and the y below the last of them.

    Args:
        paragraphs: words, or words and whether they are a heading.
        at: left end of the first baseline.
        width_mm: the greatest width of a line.
        size_mm: their size.
    """
    x, y = at
    items: list[Item] = []
    for paragraph in paragraphs:
        words, bold = (paragraph, False) if isinstance(paragraph, str) else paragraph
        size = size_mm * 1.15 if bold else size_mm
        for number, words_of_line in enumerate(wrapped(words, size, width_mm, bold=bold)):
            if bold and number == 0 and items:
                y -= 0.5 * size
            items.append(Text((x, y), words_of_line, size, bold=bold))
            y -= size * _LEADING
        y -= 0.35 * size_mm
    return items, y
