"""Which points stand for a curve, and how far can the curve be from their chords?

In: a glyph's outline as lines, quadratics and cubics in em. Out: a ring of points for each
contour. Every point lies on the curve, the highest, lowest, leftmost and rightmost among
them, so that extents stay exact; no point of the curve is farther than the tolerance from
its chord. Steps from the second difference: chord error is at most max|B''| / (8 n^2), for
n equal steps of the parameter. Imports no library.
"""

from __future__ import annotations

import math

from spinefit.geometry.shapes import Ring
from spinefit.geometry.tolerances import FLATTENING_ERROR_EM
from spinefit.shaping.outline import Contour, Outline, Point

__all__ = ["flatten"]


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
    places = _places(steps, _level_quadratic(x0, x1, x2) + _level_quadratic(y0, y1, y2))
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
    places = _places(steps, _level_cubic(x0, x1, x2, x3) + _level_cubic(y0, y1, y2, y3))
    for t in places:
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        points.append((a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))
    points.append(end)


def _places(steps: int, levels: list[float]) -> list[float]:
    """The inner parameters: equal steps, and those at which the curve runs level or upright."""
    equal = [step / steps for step in range(1, steps)]
    return sorted({*equal, *levels}) if levels else equal


def _level_quadratic(p0: float, p1: float, p2: float) -> list[float]:
    """Parameters in (0, 1) at which one coordinate of a quadratic has an extremum."""
    bend = p0 - 2 * p1 + p2
    if bend == 0:
        return []
    t = (p0 - p1) / bend
    return [t] if 0 < t < 1 else []


def _level_cubic(p0: float, p1: float, p2: float, p3: float) -> list[float]:
    """Parameters in (0, 1) at which one coordinate of a cubic has an extremum."""
    a = p3 - p0 + 3 * (p1 - p2)
    b = 2 * (p0 - 2 * p1 + p2)
    c = p1 - p0
    under_root = b * b - 4 * a * c
    if under_root < 0:
        return []
    q = -(b + math.copysign(math.sqrt(under_root), b)) / 2  # no digits cancel
    roots = [top / below for top, below in ((q, a), (c, q)) if below != 0]
    return [t for t in roots if 0 < t < 1]
