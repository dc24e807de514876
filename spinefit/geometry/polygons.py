"""What do the ink and the panel look like as polygons, and does the one lie in the other?

With `glyph_shapes` the one door to shapely. In: outlines in em or a usable panel in mm. Out:
rings of points, polygons, distances. Curves are flattened by points on them (extrema among
them), no point of a curve farther than `FLATTENING_ERROR_EM` from its chord. Ink is what the
non-zero winding rule fills. Beware of shapely: an empty polygon has nan bounds and
`covers(empty)` is False; so ink without area is refused here. Leaves the largest size to `fit`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely
from shapely import (
    GeometryCollection,
    LinearRing,
    LineString,
    MultiLineString,
    MultiPolygon,
    Point,
    Polygon,
)
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from spinefit.errors import VerificationError
from spinefit.geometry.flattening import flatten
from spinefit.geometry.glyph_shapes import glyph_hull, glyph_polygon, open_ring, polygons_of
from spinefit.geometry.shapes import Corners, Ring
from spinefit.geometry.tolerances import (
    CONTOUR_STEP_EM,
    DISTANCE_SLACK_MM,
    INSIDE_SHARE,
    ON_SIDE_MM,
    OUTSIDE_STEPS,
)
from spinefit.geometry.turning import turn_point
from spinefit.geometry.usable import UsablePanel
from spinefit.shaping.outline import Placed
from spinefit.shaping.outline import Point as Place
from spinefit.vocabulary import Turn

__all__ = [
    "Ink",
    "Verified",
    "distance_to_shape",
    "free_distance",
    "freest_point",
    "ink_contours",
    "ink_hull",
    "ink_parts",
    "ink_polygon",
    "ink_rings",
    "inset_ring",
    "is_simple",
    "merged_rings",
    "nearest_open_place",
    "panel_polygon",
    "ring_line",
    "verify_fit",
]

Ink = BaseGeometry
"""Ink as shapely holds it; a name for those who hand it on without looking inside."""

_NO_SIZE_MM = 1e-3  # where nothing fits, not even an em of a micrometre does
_AS_FREE = 0.98  # of the distance from any edge: nobody sees the difference


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


def is_simple(ring: Ring) -> bool:
    """Whether a closed ring neither crosses nor touches itself."""
    return bool(LinearRing(ring).is_simple) and bool(Polygon(ring).is_valid)


def ink_polygon(
    placed: Iterable[Placed], *, turn: Turn = Turn.NONE, placing_point_em: Place = (0.0, 0.0)
) -> BaseGeometry:
    """The ink of a group of lines as one geometry.

    Args:
        placed: outlines and where their origins stand, in em.
        turn: how the lines are turned as they will stand in the panel.
        placing_point_em: the point, before turning, that becomes the origin.

    Returns:
        A polygon or multipolygon in em, y up; empty where there is no ink.
    """
    parts = _glyphs(placed, placing_point_em, turn)
    return shapely.union_all(parts) if parts else Polygon()


def _glyphs(placed: Iterable[Placed], placing_point_em: Place, turn: Turn) -> list[BaseGeometry]:
    """The ink of each glyph where it stands."""
    parts = []
    for outline, x_em, y_em in placed:
        part = glyph_polygon(outline)
        if not part.is_empty:
            shift = (x_em - placing_point_em[0], y_em - placing_point_em[1])
            parts.append(_moved(part, shift, turn))
    return parts


def ink_contours(placed: Iterable[Placed], *, turn: Turn = Turn.NONE) -> BaseGeometry:
    """The contours of a group of lines, without asking which of them bound ink.

    A rectangle is convex: it holds the ink exactly where it holds the contours, at the same
    distance from its sides, so that the winding rule need not be worked out.

    Args:
        placed: outlines and where their origins stand, in em.
        turn: how the lines are turned as they will stand in the panel.

    Returns:
        A multilinestring in em, y up; empty where there is no ink.
    """
    lines: list[list[Place]] = []
    for outline, x_em, y_em in placed:
        for ring in flatten(outline, tolerance_em=CONTOUR_STEP_EM):
            if len(ring) >= 2:
                lines.append([turn_point((x + x_em, y + y_em), turn) for x, y in ring])
    if not lines:
        return Polygon()
    return MultiLineString(lines)


def ink_parts(placed: Iterable[Placed], *, turn: Turn = Turn.NONE) -> BaseGeometry:
    """The ink of a group, each glyph by itself, so that parts may overlap.

    As good as `ink_polygon` for what is near and what is reached, and far sooner made.

    Args:
        placed: outlines and where their origins stand, in em.
        turn: how the lines are turned as they will stand in the panel.

    Returns:
        A collection of polygons in em, y up; empty where there is no ink.
    """
    return GeometryCollection(_glyphs(placed, (0.0, 0.0), turn))


def ink_rings(ink: BaseGeometry) -> tuple[Corners, ...]:
    """The outer rings of ink; those inside a counter can never meet a panel's edge first.

    Nor can what lies inside another part of the ink, so that parts may overlap.
    """
    parts = shapely.get_parts(shapely.get_parts(ink))
    outer = shapely.get_exterior_ring(parts)
    corners, of_ring = shapely.get_coordinates(outer, return_index=True)
    ends = np.flatnonzero(np.diff(of_ring)) + 1
    return tuple(ring[:-1] for ring in np.split(corners, ends) if len(ring))


def ink_hull(placed: Iterable[Placed], *, turn: Turn = Turn.NONE) -> Ring:
    """The convex hull of a group, in em; without corners where there is no ink.

    All that counts in a convex panel: it holds the ink exactly where it holds the hull, and no
    part of the ink is nearer to its sides than the corners of the hull are.

    Args:
        placed: outlines and where their origins stand, in em.
        turn: how the lines are turned as they will stand in the panel.
    """
    hulls = [np.add(glyph_hull(outline), (x_em, y_em)) for outline, x_em, y_em in placed]
    if sum(map(len, hulls)) < 3:
        return ()
    hull: BaseGeometry = LineString(np.concatenate(hulls)).convex_hull
    if not isinstance(hull, Polygon) or hull.is_empty:
        return ()
    return tuple(turn_point(corner, turn) for corner in open_ring(hull.exterior))


def ring_line(ring: Ring) -> BaseGeometry:
    """A ring as a closed line."""
    return LineString([*ring, ring[0]]) if ring else LineString()


def merged_rings(ink: BaseGeometry, *, size_mm: float, within_mm: float) -> tuple[Ring, ...]:
    """All rings of ink in mm, counters too: what a knife follows, each edge once.

    Args:
        ink: from `ink_polygon`, in em.
        size_mm: the em in mm.
        within_mm: corners that lie no farther than this from the line are left out.
    """
    scaled = _scaled(ink, size_mm, (0.0, 0.0)).simplify(within_mm, preserve_topology=True)
    parts = polygons_of(scaled)
    return tuple(open_ring(ring) for part in parts for ring in (part.exterior, *part.interiors))


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
        The distance to the parts of the outline that are no sides of its box, and to the areas
        kept free; negative where the ink reaches over them; infinite where there are none.
    """
    shape, inner = _shape_and_inner_edge(panel)
    if shape.is_empty:
        return -math.inf
    if inner.is_empty:
        return math.inf
    parts = shapely.get_parts(_scaled(ink, size_mm, centre_mm))
    distance_mm = float(np.min(shapely.distance(parts, inner)))
    covered = distance_mm > 0 or bool(np.all(shapely.covers(shape, parts)))
    return distance_mm if covered else -ON_SIDE_MM


@lru_cache(maxsize=16)
def _shape_and_inner_edge(panel: UsablePanel) -> tuple[BaseGeometry, BaseGeometry]:
    """A panel's polygon, and the parts of its edge that are no sides of its box."""
    shape = panel_polygon(panel)
    if shape.is_empty:
        return shape, shape
    box = shapely.box(*shape.bounds) if panel.outline_mm else panel_polygon(_plain(panel))
    shapely.prepare(shape)
    return shape, shape.boundary.difference(box.boundary)


def _plain(panel: UsablePanel) -> UsablePanel:
    return panel._replace(outline_mm=None, holes_mm=())


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
        clearance_mm: space between ink and edge.
        error_em: how far the true ink may lie outside ``ink``, as the limit allowed for: 0 in
            a rectangle, `FLATTENING_ERROR_EM` elsewhere; counts for the size above only.

    Returns:
        Inside at (1 - 1e-9) x the size; outside at 1.001 x, or a smaller step above it.

    Raises:
        VerificationError: there is no ink.
    """
    if ink.is_empty:
        raise VerificationError("there is no ink to verify")
    reach_mm = max(map(abs, ink.bounds)) * max(size_mm, _NO_SIZE_MM) + clearance_mm
    shape = panel_polygon(panel, open_height_mm=4 * reach_mm + 1)
    shapely.prepare(shape)

    def fits(at_mm: float, grown_em: float) -> bool:
        grown_mm = clearance_mm + grown_em * at_mm
        return _lies_inside(_scaled(ink, at_mm, centre_mm), shape, grown_mm)

    if size_mm <= 0:
        return Verified(True, not fits(_NO_SIZE_MM, error_em))
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


def _scaled(ink: BaseGeometry, size_mm: float, centre_mm: Place) -> BaseGeometry:
    return shapely.transform(ink, lambda points: points * size_mm + centre_mm)


def _moved(part: BaseGeometry, shift: Place, turn: Turn) -> BaseGeometry:
    """Shifted, then turned; exact but for the rounding of the shift."""
    (a, d), (b, e) = turn_point((1.0, 0.0), turn), turn_point((0.0, 1.0), turn)
    return affine_transform(part, [a, b, d, e, *turn_point(shift, turn)])
