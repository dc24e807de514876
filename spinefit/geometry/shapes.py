"""Which outline has a panel or label that is not a plain rectangle?

In: a `Shape` and the panel's width and height. Out: corners in mm, anticlockwise, from the
middle of the rectangle, x to the right, y to the head; None for a rectangle; and the areas
kept free. Round outlines are drawn by points on the true curve, so their chords lie inside
it: ink that fits the outline fits the panel. They lie inside by at most the greater half
axis (or corner radius) x (1 - cos(pi/256)) = 7.6e-5 of it. Leaves fitting to `fit`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

from spinefit.errors import FieldError
from spinefit.geometry.tolerances import NOTHING_MM, ON_SIDE_MM, ROUND_CORNER_STEPS
from spinefit.job.model import KeepFree, Shape
from spinefit.shaping.outline import Point
from spinefit.vocabulary import PanelForm

if TYPE_CHECKING:
    import numpy as np  # loaded only where used
    import numpy.typing as npt

__all__ = [
    "Corners",
    "Ring",
    "bounds_of",
    "is_convex",
    "kept_free",
    "outline_of",
    "signed_area",
]

Ring = tuple[Point, ...]
"""Corners of a closed polygon, the first not repeated."""

Corners: TypeAlias = "Ring | npt.NDArray[np.float64]"
"""A ring, or its corners in an array of shape (n, 2), as ink has thousands."""


def outline_of(shape: Shape, *, width_mm: float, height_mm: float) -> Ring | None:
    """The outline of a panel in its own frame.

    Args:
        shape: form, corners and outline in mm.
        width_mm: width of the rectangle that holds it, above 0.
        height_mm: height of that rectangle, above 0.

    Returns:
        Corners anticlockwise in mm from the middle of that rectangle; None for a rectangle.

    Raises:
        FieldError: a corner too large for the panel, or an outline that is no simple polygon
            or does not lie within the rectangle.
    """
    match shape.form:
        case PanelForm.RECTANGLE:
            return None
        case PanelForm.ROUNDED:
            corner_mm = _corner_mm(shape, width_mm, height_mm)
            return _with_corners(width_mm, height_mm, corner_mm, ROUND_CORNER_STEPS)
        case PanelForm.CUT:
            return _with_corners(width_mm, height_mm, _corner_mm(shape, width_mm, height_mm), 1)
        case PanelForm.OVAL:
            return _oval(width_mm, height_mm)
        case PanelForm.POLYGON:
            return _polygon(shape.outline_mm, width_mm, height_mm)


def kept_free(areas: tuple[KeepFree, ...]) -> tuple[Ring, ...]:
    """The areas kept free as rectangles in the panel's frame, anticlockwise, in mm.

    Raises:
        FieldError: an area without a width, height or place.
    """
    rings = []
    for area in areas:
        numbers = (area.width_mm, area.height_mm, area.x_mm, area.y_mm)
        if not all(map(math.isfinite, numbers)) or min(area.width_mm, area.height_mm) <= 0:
            raise FieldError(
                "an area kept free needs a width and a height above 0",
                value=f"{area.width_mm:g} x {area.height_mm:g} mm",
                where="--keep-free",
            )
        half_width_mm, half_height_mm = area.width_mm / 2, area.height_mm / 2
        rings.append(
            (
                (area.x_mm - half_width_mm, area.y_mm - half_height_mm),
                (area.x_mm + half_width_mm, area.y_mm - half_height_mm),
                (area.x_mm + half_width_mm, area.y_mm + half_height_mm),
                (area.x_mm - half_width_mm, area.y_mm + half_height_mm),
            )
        )
    return tuple(rings)


def bounds_of(ring: Ring) -> tuple[float, float, float, float]:
    """The bounding box (left, bottom, right, top) of a ring."""
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


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


def _corner_mm(shape: Shape, width_mm: float, height_mm: float) -> float:
    most_mm = min(width_mm, height_mm) / 2
    corner_mm = shape.corner_mm
    if corner_mm is None or not 0 < corner_mm <= most_mm + NOTHING_MM:
        raise FieldError(
            f"corners of this panel may take above 0 and up to {most_mm:g} mm",
            value="none given" if corner_mm is None else f"{corner_mm:g} mm",
            where="--corner",
            remedy=f"the panel is {width_mm:g} x {height_mm:g} mm",
        )
    return min(corner_mm, most_mm)


def _with_corners(width_mm: float, height_mm: float, corner_mm: float, steps: int) -> Ring:
    """A rectangle whose corners are quarter circles in ``steps`` chords; one chord cuts them."""
    inner_x_mm, inner_y_mm = width_mm / 2 - corner_mm, height_mm / 2 - corner_mm
    middles = ((1, 1), (-1, 1), (-1, -1), (1, -1))
    points: list[Point] = []
    for quarter, (side_x, side_y) in enumerate(middles):
        for step in range(steps + 1):
            cos, sin = _on_circle(quarter * steps + step, steps)
            point = (
                side_x * inner_x_mm + corner_mm * cos,
                side_y * inner_y_mm + corner_mm * sin,
            )
            points.append(point)
    return _without_repeats(points)


def _oval(width_mm: float, height_mm: float) -> Ring:
    around = (_on_circle(step, ROUND_CORNER_STEPS) for step in range(4 * ROUND_CORNER_STEPS))
    return tuple((width_mm / 2 * cos, height_mm / 2 * sin) for cos, sin in around)


def _on_circle(step: int, steps: int) -> Point:
    """Cosine and sine of ``step`` parts of a quarter in ``steps``; exact on the axes."""
    quarter, part = divmod(step, steps)
    angle_rad = math.pi / 2 * part / steps
    cos, sin = (1.0, 0.0) if part == 0 else (math.cos(angle_rad), math.sin(angle_rad))
    for _ in range(quarter % 4):
        cos, sin = -sin, cos
    return cos, sin


def _polygon(outline_mm: Ring | None, width_mm: float, height_mm: float) -> Ring:
    ring = _without_repeats(list(outline_mm or ()))
    if len(ring) < 3 or not all(math.isfinite(x) and math.isfinite(y) for x, y in ring):
        raise FieldError(
            "an outline needs three corners or more, each x and y in mm",
            value=f"{len(ring)} corners",
            where="--panel-outline",
        )
    area_mm2 = signed_area(ring)
    if not _is_simple(ring) or abs(area_mm2) <= NOTHING_MM:
        raise FieldError(
            "the outline crosses or touches itself, or holds nothing",
            value=f"{len(ring)} corners",
            where="--panel-outline",
            remedy="give the corners in order round the panel, each once",
        )
    left_mm, bottom_mm, right_mm, top_mm = bounds_of(ring)
    beyond_mm = max(
        right_mm - width_mm / 2,
        -left_mm - width_mm / 2,
        top_mm - height_mm / 2,
        -bottom_mm - height_mm / 2,
    )
    if beyond_mm > ON_SIDE_MM:
        raise FieldError(
            f"the outline goes {beyond_mm:.3g} mm beyond the panel",
            value=f"{right_mm - left_mm:g} x {top_mm - bottom_mm:g} mm",
            where="--panel-outline",
            remedy=f"the panel is {width_mm:g} x {height_mm:g} mm about its middle",
        )
    return ring if area_mm2 > 0 else ring[::-1]


def _is_simple(ring: Ring) -> bool:
    from spinefit.geometry.panel_shapes import is_simple

    return is_simple(ring)


def _without_repeats(points: list[Point]) -> Ring:
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > NOTHING_MM:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= NOTHING_MM:
        kept.pop()
    return tuple(kept)
