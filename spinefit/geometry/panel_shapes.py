"""What does a usable panel look like as a polygon, and where in it is there room?

One of the doors to shapely. In: a usable panel in mm. Out: polygons, places and distances in mm,
in the panel's frame.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely import LinearRing, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from spinefit.geometry.glyph_shapes import open_ring, polygons_of
from spinefit.geometry.shapes import Ring
from spinefit.geometry.usable import UsablePanel
from spinefit.shaping.outline import Point as Place

__all__ = [
    "free_distance",
    "freest_point",
    "inset_ring",
    "is_simple",
    "nearest_open_place",
    "panel_polygon",
]

_AS_FREE = 0.98  # of the distance from any edge: nobody sees the difference


def is_simple(ring: Ring) -> bool:
    """Whether a closed ring neither crosses nor touches itself."""
    return bool(LinearRing(ring).is_simple) and bool(Polygon(ring).is_valid)


def inset_ring(ring: Ring, by_mm: float) -> Ring:
    """A ring drawn inside another at a distance, corners kept; the ring itself for want of room."""
    inner = Polygon(ring).buffer(-by_mm, join_style="mitre")
    parts = [part for part in polygons_of(inner) if not part.is_empty]
    return open_ring(parts[0].exterior) if len(parts) == 1 else ring


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
