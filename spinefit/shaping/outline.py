"""What does a glyph look like, as plain curves, and how far does its ink reach, exactly?

Outlines in em (font units divided by the units per em), y growing upwards, origin on the
baseline at the pen. Nothing here knows a font or a library. Extents come from the extrema of the
curves, which lie where the derivative of a Bézier curve vanishes (any text on such curves); a
font's stored boxes and boxes of control points are wrong by hundredths of an em in some fonts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

__all__ = [
    "Box",
    "Contour",
    "KeptOutline",
    "Outline",
    "Placed",
    "Point",
    "ink_box",
    "turns_back",
    "union",
]

Point = tuple[float, float]


class Contour(NamedTuple):
    """One closed contour: a start and its segments.

    Attributes:
        start: first point in em; the contour closes back to it with a straight line.
        segments: each a tuple of 1 point (line), 2 points (quadratic: control, end) or
            3 points (cubic: two controls, end), in em.
    """

    start: Point
    segments: tuple[tuple[Point, ...], ...]


Outline = tuple[Contour, ...]
"""All contours of a glyph, filled by the non-zero winding rule; empty for a space."""


class KeptOutline(tuple[Contour, ...]):
    """An outline that keeps its hash: what is known of a glyph is looked up by its outline."""

    _hash: int | None = None

    def __hash__(self) -> int:
        if self._hash is None:
            self._hash = super().__hash__()
        return self._hash

    __eq__ = tuple.__eq__


Box = tuple[float, float, float, float]
"""Ink extents (left, bottom, right, top); emptiness is None, never a box of zeros."""

Placed = tuple[Outline, float, float]
"""An outline and where its origin stands (x, y), all in em."""


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


def union(boxes: Iterable[Box | None]) -> Box | None:
    """The least box around all; None around nothing."""
    found = [box for box in boxes if box is not None]
    if not found:
        return None
    lefts, bottoms, rights, tops = zip(*found, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


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
