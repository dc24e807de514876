"""What does the ink of a group of lines look like as polygons?

One of the doors to shapely. In: outlines in em and where they stand. Out: ink in em, turned as
it will stand in its panel, as polygons, rings or a hull. Curves are flattened by points on them
(extrema among them), no point of a curve farther than `FLATTENING_ERROR_EM` from its chord. Ink
is what the non-zero winding rule fills.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import GeometryCollection, LineString, MultiLineString, Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from spinefit.geometry.flattening import flatten
from spinefit.geometry.glyph_shapes import glyph_hull, glyph_polygon, open_ring, polygons_of
from spinefit.geometry.shapes import Corners, Ring
from spinefit.geometry.tolerances import CONTOUR_STEP_EM
from spinefit.geometry.turning import turn_point
from spinefit.shaping.outline import Placed
from spinefit.shaping.outline import Point as Place
from spinefit.vocabulary import Turn

__all__ = [
    "Ink",
    "ink_contours",
    "ink_hull",
    "ink_parts",
    "ink_polygon",
    "ink_rings",
    "merged_rings",
    "ring_line",
    "scaled",
]

Ink = BaseGeometry
"""Ink as shapely holds it; a name for those who hand it on without looking inside."""


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
    in_mm = scaled(ink, size_mm, (0.0, 0.0)).simplify(within_mm, preserve_topology=True)
    parts = polygons_of(in_mm)
    return tuple(open_ring(ring) for part in parts for ring in (part.exterior, *part.interiors))


def scaled(ink: BaseGeometry, size_mm: float, centre_mm: Place) -> BaseGeometry:
    """Ink in mm, its placing point in the panel's frame.

    Args:
        ink: in em about the placing point.
        size_mm: the em in mm.
        centre_mm: where the placing point stands.
    """
    return shapely.transform(ink, lambda points: points * size_mm + centre_mm)


def _moved(part: BaseGeometry, shift: Place, turn: Turn) -> BaseGeometry:
    """Shifted, then turned; exact but for the rounding of the shift."""
    (a, d), (b, e) = turn_point((1.0, 0.0), turn), turn_point((0.0, 1.0), turn)
    return affine_transform(part, [a, b, d, e, *turn_point(shift, turn)])
