"""How far does the ink of a glyph reach, exactly?

Extents from the extrema of the curves themselves, in em; a font's stored boxes and boxes of
control points are wrong by hundredths of an em in some fonts. A glyph without ink has None.
The extrema of a Bézier curve lie where its derivative vanishes (any text on such curves).
`Reach` is the same of many glyphs in a line, from which the ink of any stretch is cut.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import accumulate
from operator import add
from typing import TYPE_CHECKING

from spinefit.shaping.outline import Box, Outline, Point

if TYPE_CHECKING:
    from spinefit.shaping.glyphs import Glyphs

__all__ = ["Extents", "Reach", "ink_box", "turns_back", "union"]

# What adds nothing to any ink, so that columns of boxes have no holes.
_NO_INK: Box = (math.inf, math.inf, -math.inf, -math.inf)


class Extents(dict[int, Box]):
    """The ink extents of the glyphs of a face by their numbers, each asked for once.

    Args:
        ink_of: extents of a glyph in em from the pen, None for a glyph without ink.
    """

    def __init__(self, ink_of: Callable[[int], Box | None]) -> None:
        super().__init__()
        self._ink_of = ink_of

    def __missing__(self, gid: int) -> Box:
        found = self[gid] = self._ink_of(gid) or _NO_INK
        return found


class Reach:
    """How far each of some glyphs reaches, set one after another.

    Args:
        glyphs: in the order in which they are set.
        extents: of their face.
        pen_em: where the pen stands before the first.

    Attributes:
        pens_em: where the pen stands before each glyph, and after the last.
    """

    __slots__ = ("_bottoms", "_lefts", "_rights", "_tops", "pens_em")

    def __init__(self, glyphs: Glyphs, extents: Extents, pen_em: float) -> None:
        self.pens_em = origins = list(accumulate(glyphs.advances_em, initial=pen_em))
        boxes = [extents[gid] for gid in glyphs.gids]
        lefts, bottoms, rights, tops = zip(*boxes, strict=True) if boxes else ((), (), (), ())
        # In most titles no glyph stands off the pen.
        if any(glyphs.xs_em):
            origins = list(map(add, origins, glyphs.xs_em))
        if any(glyphs.ys_em):
            bottoms, tops = (tuple(map(add, each, glyphs.ys_em)) for each in (bottoms, tops))
        self._lefts = list(map(add, lefts, origins))
        self._rights = list(map(add, rights, origins))
        self._bottoms, self._tops = bottoms, tops

    def blanks(self) -> list[int]:
        """Places of the glyphs without ink."""
        return [at for at, left in enumerate(self._lefts) if left == math.inf]

    def box(self, start: int, end: int) -> Box | None:
        """Extents of the ink of the glyphs from start to end; None for no ink."""
        if start >= end:
            return None
        left = min(self._lefts[start:end])
        if left == math.inf:
            return None
        bottom, top = min(self._bottoms[start:end]), max(self._tops[start:end])
        return left, bottom, max(self._rights[start:end]), top

    def boxes(self, stretches: Iterable[tuple[int, int]]) -> list[Box | None]:
        """Extents of the ink of several stretches of glyphs, each from its start to its end."""
        return [self.box(start, end) for start, end in stretches]


def ink_box(outline: Outline) -> Box | None:
    """Exact extents (left, bottom, right, top) of an outline, in its own units."""
    xs: list[float] = []
    ys: list[float] = []
    for contour in outline:
        x, y = contour.start
        xs.append(x)
        ys.append(y)
        for segment in contour.segments:
            end_x, end_y = segment[-1]
            for control_x, control_y in segment[:-1]:
                # Only a control point outside the ends can make the curve turn back.
                if not (x <= control_x <= end_x or end_x <= control_x <= x):
                    xs.extend(_extrema(x, segment, 0))
                if not (y <= control_y <= end_y or end_y <= control_y <= y):
                    ys.extend(_extrema(y, segment, 1))
            x, y = end_x, end_y
            xs.append(x)
            ys.append(y)
    if not xs:
        return None
    return min(xs), min(ys), max(xs), max(ys)


def union(boxes: list[Box]) -> Box | None:
    """The least box around all; None around nothing."""
    if not boxes:
        return None
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _extrema(start: float, segment: tuple[Point, ...], axis: int) -> list[float]:
    """Values of one coordinate where a curve turns back inside the segment."""
    values = (start, *[point[axis] for point in segment])
    return [_at(t, *values) for t in turns_back(*values)]


def turns_back(a: float, b: float, c: float, d: float | None = None) -> list[float]:
    """Parameters inside a segment at which one coordinate of its curve turns back.

    Args:
        a: the coordinate at the start.
        b: of the first control point.
        c: of the second one, or of the end of a quadratic.
        d: of the end of a cubic; None for a quadratic.
    """
    if d is None:
        bend = a - 2 * b + c
        roots = [(a - b) / bend] if bend != 0 else []
    else:
        # Derivative / 3: p t^2 + q t + r, solved in the form that does not cancel for small p.
        p, q, r = d - 3 * c + 3 * b - a, 2 * (a - 2 * b + c), b - a
        inside = q * q - 4 * p * r
        if inside < 0:
            return []
        half = -(q + math.copysign(math.sqrt(inside), q)) / 2
        roots = [top / below for top, below in ((half, p), (r, half)) if below != 0]
    return [t for t in roots if 0 < t < 1]


def _at(t: float, a: float, b: float, c: float, d: float | None = None) -> float:
    s = 1 - t
    if d is None:
        return s * s * a + 2 * s * t * b + t * t * c
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d
