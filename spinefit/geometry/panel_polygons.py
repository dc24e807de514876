"""What does a usable panel look like as a polygon, and how does ink lie in it?

One of the doors to shapely. In: a usable panel in mm, ink in em from `polygons`. Out: polygons,
places and distances in mm in the panel's frame, and what shapely says of a largest size. Beware of
shapely: an empty polygon has nan bounds and `covers(empty)` is False; so ink without area is
refused here. Leaves the largest size to `fit`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely
from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from spinefit.errors import VerificationError
from spinefit.geometry.framing import within_frame
from spinefit.geometry.polygons import polygons_of, scaled
from spinefit.geometry.usable import UsablePanel
from spinefit.shaping.glyphs import Point as Place
from spinefit.tolerances import (
    DISTANCE_SLACK_MM,
    INSIDE_SHARE,
    NO_SIZE_MM,
    ON_SIDE_MM,
    OUTSIDE_STEPS,
)

_AS_FREE = 0.98  # of the distance from any edge: nobody sees the difference


def panel_polygon(panel: UsablePanel, *, open_height_mm: float = 0.0) -> BaseGeometry:
    """The usable panel in mm, areas kept free cut away; empty where nothing is left.

    Args:
        panel: the usable panel.
        open_height_mm: the height to draw a panel with whose height was left open.
    """
    height_mm = open_height_mm if panel.height_mm is None else panel.height_mm
    if panel.width_mm <= 0 or height_mm <= 0:
        return Polygon()
    x_mm, y_mm = panel.width_mm / 2, height_mm / 2
    whole: BaseGeometry = (
        shapely.box(-x_mm, -y_mm, x_mm, y_mm)
        if panel.outline_mm is None
        else Polygon(panel.outline_mm)
    )
    if not panel.holes_mm:
        return whole
    return whole.difference(shapely.union_all([Polygon(hole) for hole in panel.holes_mm]))


def free_distance(panel: BaseGeometry, point_mm: Place) -> float:
    """How far inside a panel a point lies, in mm; negative where it lies outside."""
    if panel.is_empty:
        return -math.inf
    point = Point(point_mm)
    distance_mm = float(panel.boundary.distance(point))
    return distance_mm if panel.covers(point) else -distance_mm


def freest_point(panel: BaseGeometry) -> tuple[Place, float]:
    """The point of a panel farthest from any edge, and that distance in mm.

    Where many are as far but for a fiftieth, as in a long strip, the middle of the longest
    stretch of them along the spine; of two as long, the upper one.

    Returns:
        The middle of the frame and minus infinity where nothing of the panel is left.
    """
    if panel.is_empty:
        return (0.0, 0.0), -math.inf
    x_mm, y_mm = shapely.maximum_inscribed_circle(MultiPolygon(polygons_of(panel))).coords[0]
    free_mm = free_distance(panel, (x_mm, y_mm))
    if free_mm > 0:
        stretches = [each.bounds for each in polygons_of(panel.buffer(-_AS_FREE * free_mm))]
        left, bottom, right, top = max(
            stretches, key=lambda box: (round(box[3] - box[1], 6), box[3])
        )
        middle = ((left + right) / 2, (bottom + top) / 2)
        if top - bottom > free_mm and free_distance(panel, middle) >= _AS_FREE * free_mm:
            return middle, free_distance(panel, middle)
    return (x_mm, y_mm), free_mm


def nearest_open_place(panel: BaseGeometry, wanted_mm: Place, *, open_mm: float) -> Place | None:
    """The place nearest to the one wanted, along the spine, that far from every edge.

    Args:
        panel: from `panel_polygon`.
        wanted_mm: where the placing point should stand.
        open_mm: the distance it must have from every edge.

    Returns:
        The place, found to a millimetre; the upper of two equally near; None for none.
    """
    if panel.is_empty:
        return None
    x_mm, y_mm = wanted_mm
    _left, bottom, _right, top = panel.bounds
    steps = np.repeat(np.arange(math.ceil(top - bottom) + 1.0), 2)
    steps[1::2] *= -1  # up before down
    places = np.stack([np.full(len(steps), x_mm), y_mm + steps], axis=1)
    points = np.asarray(shapely.points(places))
    far = shapely.distance(panel.boundary, points) >= max(open_mm, 0.0)
    (open_at,) = np.nonzero(far)
    inside = open_at[shapely.covers(panel, points[open_at])]
    return (x_mm, y_mm + float(steps[inside[0]])) if len(inside) else None


class Verified(NamedTuple):
    """What shapely says of a largest size.

    Attributes:
        inside: the ink fits just below it.
        outside_above: it does not fit just above it.
    """

    inside: bool
    outside_above: bool

    @property
    def agreed(self) -> bool:
        """Whether the size is the largest, by shapely too."""
        return self.inside and self.outside_above


def distance_to_shape(
    ink: BaseGeometry, panel: UsablePanel, *, centre_mm: Place, size_mm: float
) -> float:
    """How near the ink comes to what makes a panel no plain rectangle, in mm.

    Args:
        ink: from `ink_parts`; in a convex outline `ring_line` of `ink_hull` serves.
        panel: a panel with an outline or areas kept free.
        centre_mm: where the placing point stands.
        size_mm: the em in mm.

    Returns:
        The distance to the parts of the outline, or of a frame, that are no sides of its box, and
        to the areas kept free; negative where the ink reaches over them; infinite where there are
        none.
    """
    shape, inner = _shape_and_inner_edge(within_frame(panel)[0])
    if shape.is_empty:
        return -math.inf
    if inner.is_empty:
        return math.inf
    parts = shapely.get_parts(scaled(ink, size_mm, centre_mm))
    distance_mm = float(np.min(shapely.distance(parts, inner)))
    covered = distance_mm > 0 or bool(np.all(shapely.covers(shape, parts)))
    return distance_mm if covered else -ON_SIDE_MM


@lru_cache(maxsize=16)
def _shape_and_inner_edge(panel: UsablePanel) -> tuple[BaseGeometry, BaseGeometry]:
    """A panel's polygon, and the parts of its edge that are no sides of its box."""
    shape = panel_polygon(panel)
    if shape.is_empty:
        return shape, shape
    plain = panel._replace(outline_mm=None, holes_mm=())
    box = shapely.box(*shape.bounds) if panel.outline_mm else panel_polygon(plain)
    shapely.prepare(shape)
    return shape, shape.boundary.difference(box.boundary)


def verify_fit(
    ink: BaseGeometry,
    panel: UsablePanel,
    *,
    centre_mm: Place,
    size_mm: float,
    clearance_mm: float,
    error_em: float = 0.0,
) -> Verified:
    """Whether shapely, too, finds that the ink fits up to a size and not above.

    Args:
        ink: from `ink_polygon`, in em about the placing point, turned as it will stand; from
            `ink_contours` for a plain rectangle.
        panel: the usable panel.
        centre_mm: where the placing point stands.
        size_mm: the largest size, the em in mm; 0 where nothing fits.
        clearance_mm: space between ink and edge, what a frame takes counted in.
        error_em: how far the true ink may lie outside ``ink``, as the limit allowed for: 0 in
            a rectangle, `FLATTENING_ERROR_EM` elsewhere; counts for the size above only.

    Returns:
        Inside at (1 - 1e-9) x the size; outside at 1.001 x, or a smaller step above it.

    Raises:
        VerificationError: there is no ink.
    """
    if ink.is_empty:
        raise VerificationError("there is no ink to verify")
    panel, taken_mm = within_frame(panel)
    clearance_mm -= taken_mm
    reach_mm = max(map(abs, ink.bounds)) * max(size_mm, NO_SIZE_MM) + clearance_mm
    shape = panel_polygon(panel, open_height_mm=4 * reach_mm + 1)
    shapely.prepare(shape)

    def fits(at_mm: float, grown_em: float) -> bool:
        grown_mm = clearance_mm + grown_em * at_mm
        return _lies_inside(scaled(ink, at_mm, centre_mm), shape, grown_mm)

    if size_mm <= 0:
        return Verified(True, not fits(NO_SIZE_MM, error_em))
    above_mm = (size_mm * (1 + step) for step in OUTSIDE_STEPS)
    return Verified(
        fits(size_mm * INSIDE_SHARE, 0.0), any(not fits(at, error_em) for at in above_mm)
    )


def _lies_inside(ink: BaseGeometry, panel: BaseGeometry, distance_mm: float) -> bool:
    """Inside, and at least the distance from every edge; exact, with no buffer."""
    if panel.is_empty or not panel.covers(ink):
        return False
    if distance_mm <= 0:
        return True
    return float(ink.distance(panel.boundary)) >= distance_mm - DISTANCE_SLACK_MM
