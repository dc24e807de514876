"""Points, boxes, rings and curves in a plane: where they stand, what they hold.

The plane is that of the panel or of a glyph, x to the right, y up; units are those that come in.
Quarter turns about the origin are exact in floating point, since only signs and places change:
clockwise (descending Latin) sends x to -y, anticlockwise (ascending Latin) x to y. Curves are
flattened to points that lie on them, the highest, lowest, leftmost and rightmost among them, so
that extents stay exact. Steps come from the second difference: for n equal steps of the parameter
the chord error is at most max|B''| / (8 n^2). Imports no library.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

from spinefit.shaping.glyphs import Box, Contour, Outline, Point, turns_back
from spinefit.tolerances import FLATTENING_ERROR_EM
from spinefit.vocabulary import Turn

if TYPE_CHECKING:
    import numpy as np  # loaded only where used
    import numpy.typing as npt

Ring = tuple[Point, ...]
"""Corners of a closed polygon, the first not repeated."""

Corners: TypeAlias = "Ring | npt.NDArray[np.float64]"
"""A ring, or its corners in an array of shape (n, 2), as ink has thousands."""


def turn_point(point: Point, turn: Turn) -> Point:
    """A point turned about the origin.

    >>> turn_point((1.0, 0.25), Turn.CLOCKWISE)
    (0.25, -1.0)
    """
    x, y = point
    if turn is Turn.CLOCKWISE:
        return y, -x
    if turn is Turn.ANTICLOCKWISE:
        return -y, x
    return point


def turn_box(box: Box, turn: Turn) -> Box:
    """A box (left, bottom, right, top) turned about the origin.

    >>> turn_box((0.0, -0.25, 2.0, 0.75), Turn.ANTICLOCKWISE)
    (-0.75, 0.0, 0.25, 2.0)
    """
    left, bottom, right, top = box
    if turn is Turn.CLOCKWISE:
        return bottom, -right, top, -left
    if turn is Turn.ANTICLOCKWISE:
        return -top, left, -bottom, right
    return box


@lru_cache(maxsize=16)
def bounds_of(ring: Ring) -> Box:
    """The bounding box (left, bottom, right, top) of a ring."""
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def box_ring(left: float, bottom: float, right: float, top: float) -> Ring:
    """The corners of a rectangle, anticlockwise from the lower left one."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def signed_area(ring: Ring) -> float:
    """The area inside a ring, positive where it runs anticlockwise.

    >>> signed_area(((0, 0), (2, 0), (2, 1), (0, 1)))
    2.0
    """
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2


@lru_cache(maxsize=16)  # asked of one panel again and again
def is_convex(ring: Ring) -> bool:
    """Whether an anticlockwise simple ring turns left, or goes straight on, at every corner."""
    count = len(ring)
    for index in range(count):
        (x0, y0), (x1, y1), (x2, y2) = (ring[(index + step) % count] for step in range(3))
        if (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) < 0:
            return False
    return True


def flatten(outline: Outline, *, tolerance_em: float = FLATTENING_ERROR_EM) -> tuple[Ring, ...]:
    """The contours of a glyph as rings of points.

    Args:
        outline: contours in em.
        tolerance_em: greatest distance of a curve from its chords, above 0.

    Returns:
        One ring for each contour, in its direction, without repeated points; a contour that
        is a point or a stroke there and back gives a ring of fewer than three points or none
        of area.
    """
    return tuple(_ring(contour, tolerance_em) for contour in outline)


def _ring(contour: Contour, tolerance_em: float) -> Ring:
    points = [contour.start]
    for segment in contour.segments:
        if len(segment) == 1:
            points.append(segment[0])
        elif len(segment) == 2:
            _add_quadratic(points, segment[0], segment[1], tolerance_em)
        else:
            _add_cubic(points, segment[0], segment[1], segment[2], tolerance_em)
    kept = [point for point, before in zip(points[1:], points, strict=False) if point != before]
    kept.insert(0, points[0])
    while len(kept) > 1 and kept[-1] == kept[0]:
        kept.pop()
    return tuple(kept)


def _add_quadratic(points: list[Point], control: Point, end: Point, tolerance_em: float) -> None:
    (x0, y0), (x1, y1), (x2, y2) = points[-1], control, end
    bend_em = math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2)  # B'' is twice this
    steps = max(1, math.ceil(math.sqrt(bend_em / (4 * tolerance_em))))
    places = _places(steps, turns_back(x0, x1, x2) + turns_back(y0, y1, y2))
    for t in places:
        s = 1 - t
        a, b, c = s * s, 2 * s * t, t * t
        points.append((a * x0 + b * x1 + c * x2, a * y0 + b * y1 + c * y2))
    points.append(end)


def _add_cubic(
    points: list[Point], first: Point, second: Point, end: Point, tolerance_em: float
) -> None:
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = points[-1], first, second, end
    bend_em = max(  # B'' is at most six times this
        math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2),
        math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3),
    )
    steps = max(1, math.ceil(math.sqrt(0.75 * bend_em / tolerance_em)))
    places = _places(steps, turns_back(x0, x1, x2, x3) + turns_back(y0, y1, y2, y3))
    for t in places:
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        points.append((a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))
    points.append(end)


def _places(steps: int, levels: list[float]) -> list[float]:
    """The inner parameters: equal steps, and those at which the curve runs level or upright."""
    equal = [step / steps for step in range(1, steps)]
    return sorted({*equal, *levels}) if levels else equal
