"""How far does the ink of a glyph reach, exactly?

Extents from the extrema of the curves themselves, in em; a font's stored boxes and boxes of
control points are wrong by hundredths of an em in some fonts. A glyph without ink has None.
The extrema of a Bézier curve lie where its derivative vanishes (any text on such curves).
"""

from __future__ import annotations

import math

from spinefit.shaping.outline import Box, Outline, Point

__all__ = ["ink_box", "union"]


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
    values = [point[axis] for point in segment]
    if len(values) == 2:
        return _quadratic(start, *values)
    return _cubic(start, *values)


def _quadratic(a: float, b: float, c: float) -> list[float]:
    bend = a - 2 * b + c
    if bend == 0:
        return []
    t = (a - b) / bend
    if not 0 < t < 1:
        return []
    s = 1 - t
    return [s * s * a + 2 * s * t * b + t * t * c]


def _cubic(a: float, b: float, c: float, d: float) -> list[float]:
    # Derivative / 3: p t^2 + q t + r.
    p, q, r = d - 3 * c + 3 * b - a, 2 * (a - 2 * b + c), b - a
    if p == 0:
        roots = [] if q == 0 else [-r / q]
    else:
        inside = q * q - 4 * p * r
        if inside < 0:
            return []
        # The form that does not cancel when p is small.
        half = -(q + math.copysign(math.sqrt(inside), q)) / 2
        roots = [half / p] + ([r / half] if half else [])
    return [_cubic_at(a, b, c, d, t) for t in roots if 0 < t < 1]


def _cubic_at(a: float, b: float, c: float, d: float, t: float) -> float:
    s = 1 - t
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d
