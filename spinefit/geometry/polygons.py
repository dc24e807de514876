"""What shape is ink: of one glyph and its counters, of a group of lines?

One of the doors to shapely. In: outlines in em, and where they stand. Out: ink in em, turned as
it will stand in its panel, as polygons, rings or a hull. Ink is what the non-zero winding rule
fills; the polygons of glyphs are kept, since titles share their letters. Curves are flattened by
points on them (extrema among them), no point farther than `FLATTENING_ERROR_EM` from its chord.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt
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

from spinefit.geometry.plane import Corners, Ring, flatten, turn_point
from spinefit.geometry.rings import inked_rings, winds_round
from spinefit.shaping.glyphs import Box, Outline, Placed
from spinefit.shaping.glyphs import Point as Place
from spinefit.tolerances import CONTOUR_STEP_EM, FAULT_SHARE, FLATTENING_ERROR_EM, ON_SIDE_MM
from spinefit.vocabulary import Turn

_PLACES = (np.arange(7) + 0.5) / 7  # of a side of a counter's box

Ink = BaseGeometry
"""Ink as shapely holds it; a name for those who hand it on without looking inside."""


@lru_cache(maxsize=1024)
def glyph_polygon(outline: Outline) -> BaseGeometry:
    """The ink of one glyph in em, filled by the non-zero winding rule; empty for a space."""
    rings = [np.array(ring) for ring in flatten(outline) if len(ring) >= 3]
    if not rings:
        return Polygon()
    lines = _lines(rings)
    pairs = shapely.STRtree(lines).query(lines, predicate="intersects")
    # Each crosses not itself, and meets only itself.
    apart = bool(shapely.is_simple(lines).all()) and len(pairs[0]) == len(lines)
    ink = ink_of_rings(rings) if apart else _noded(rings)
    shapely.prepare(ink)
    return ink


@lru_cache(maxsize=1024)
def glyph_hull(outline: Outline) -> npt.NDArray[np.float64]:
    """Corners of the convex hull of a glyph's ink, in em, shape (n, 2); none for a space."""
    return shapely.get_coordinates(glyph_polygon(outline).convex_hull)


def least_counter_em(outline: Outline, *, below_em: float = math.inf) -> float | None:
    """The diameter of the largest circle in the smallest counter of a glyph, in em.

    A counter is white that ink encloses: an eye of e or a bowl. The crotch of a W and the mouth
    of a c are none. Never more than it is, and short of it by `FLATTENING_ERROR_EM` at most.

    Args:
        outline: contours in em.
        below_em: larger ones are not looked for.

    Returns:
        None where no white is enclosed, or all of it is as large.
    """
    shape = glyph_polygon(outline)
    parts = polygons_of(shape)
    found_em: list[float] = []
    for own, hole in ((part, Polygon(hole)) for part in parts for hole in part.interiors):
        # White all through, where no other part lies in it.
        is_white = all(hole.disjoint(part) for part in parts if part is not own)
        if not is_white or inscribed_em(hole) < below_em + FLATTENING_ERROR_EM:
            white = MultiPolygon(polygons_of(hole.difference(shape)))
            circle = shapely.maximum_inscribed_circle(white, FLATTENING_ERROR_EM)
            found_em.append(2 * float(circle.length))
    least_em = FAULT_SHARE * _side_em(shape) if found_em else 0.0
    return min((each for each in found_em if least_em < each < below_em), default=None)


def inscribed_em(white: Polygon) -> float:
    """A diameter that the largest circle in white has at least: that of the best of a few places.

    A fortieth of the work of measuring it, and within a tenth of it for nine counters in ten.
    """
    left, bottom, right, top = white.bounds
    x, y = np.meshgrid(left + (right - left) * _PLACES, bottom + (top - bottom) * _PLACES)
    places = np.asarray(shapely.points(x.ravel(), y.ravel()))
    shapely.prepare(white)
    places = places[shapely.contains(white, places)]
    edge = shapely.boundary(white)
    shapely.prepare(edge)
    return 2 * float(shapely.distance(edge, places).max(initial=0.0))


@lru_cache(maxsize=1 << 14)
def closes_within(outline: Outline, width_em: float) -> bool:
    """Whether an aperture of a glyph, as the mouth of an e, is narrower than a width.

    It is where ink that grows by half of the width encloses white that was open, or parts of
    the glyph run together. What only fills, as the crotch of a W, is no aperture.
    """
    shape = glyph_polygon(outline)
    parts = polygons_of(shape)
    grown = polygons_of(shape.buffer(width_em / 2))
    return len(grown) < len(parts) or any(
        not any(part.contains(Polygon(hole)) for part in map(_filled, parts))
        for each in grown
        for hole in each.interiors
    )


def touch(one: Outline, other: Outline, shift_em: Place) -> bool:
    """Whether the inks of two glyphs touch, the other moved by so much from the origin of one."""
    return distance(glyph_polygon(one), glyph_polygon(other), shift_em) == 0


def distance(one: Ink, other: Ink, shift_em: Place) -> float:
    """How far the ink of one glyph is from that of another, moved so; 0 where they touch."""
    if one.is_empty or other.is_empty:
        return math.inf
    moved = shapely.transform(other, lambda corners: corners + shift_em)
    return float(shapely.distance(one, moved))


def _filled(part: Polygon) -> Polygon:
    """A part of a glyph with its counters inked."""
    return Polygon(part.exterior)


@lru_cache(maxsize=1024)
def least_part_em(outline: Outline) -> float | None:
    """The longer side of the smallest part of a glyph, a dot or an accent; None for no ink."""
    parts = polygons_of(glyph_polygon(outline))
    return min((_side_em(part) for part in parts if not part.is_empty), default=None)


def _side_em(shape: BaseGeometry) -> float:
    """The longer side of the box of a shape that is not empty."""
    left, bottom, right, top = shape.bounds
    return float(max(right - left, top - bottom))


def _lines(rings: Sequence[Corners]) -> npt.NDArray[np.object_]:
    """Rings as shapely has them."""
    of_ring = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    return np.asarray(shapely.linearrings(np.concatenate(rings), indices=of_ring))


def ink_of_rings(rings: Sequence[npt.NDArray[np.float64]]) -> BaseGeometry:
    """Ink of rings that do not touch, by the non-zero winding rule."""
    inked, lines = inked_rings(rings), _lines(rings)
    parts = [
        Polygon(
            lines[outer.at], [lines[each.at] for each in inked if each.part == outer.at != each.at]
        )
        for outer in inked
        if not outer.is_hole
    ]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)


def _noded(rings: Sequence[npt.NDArray[np.float64]]) -> BaseGeometry:
    """Ink of rings that cross or touch: the faces between their lines whose winding is not 0."""
    lines = shapely.union_all([LineString(np.vstack((ring, ring[:1]))) for ring in rings])
    faces = shapely.get_parts(shapely.polygonize([lines])).tolist()

    def is_inked(place: Point) -> bool:
        return sum(winds_round(ring, place.x, place.y) for ring in rings) != 0

    inked = [face for face in faces if is_inked(face.representative_point())]
    return shapely.union_all(inked) if inked else Polygon()


def polygons_of(shape: BaseGeometry) -> list[Polygon]:
    """The polygons that a shape consists of."""
    return [part for part in shapely.get_parts(shape).tolist() if isinstance(part, Polygon)]


def _open_ring(ring: LinearRing) -> Ring:
    """The corners of a ring, the first not repeated."""
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])


def is_simple(ring: Ring) -> bool:
    """Whether a closed ring neither crosses nor touches itself."""
    return bool(LinearRing(ring).is_simple) and bool(Polygon(ring).is_valid)


def ring_holds(ring: Ring, other: Ring) -> bool:
    """Whether a ring lies within another, or on it."""
    return bool(Polygon(ring).buffer(ON_SIDE_MM).covers(Polygon(other)))


def inset_ring(ring: Ring, by_mm: float) -> Ring:
    """A ring drawn inside another at a distance, corners kept; the ring itself for want of room."""
    inner = Polygon(ring).buffer(-by_mm, join_style="mitre")
    parts = [part for part in polygons_of(inner) if not part.is_empty]
    return _open_ring(parts[0].exterior) if len(parts) == 1 else ring


def ink_polygon(placed: Iterable[Placed], *, turn: Turn = Turn.NONE) -> BaseGeometry:
    """The ink of a group of lines as one geometry.

    Args:
        placed: outlines and where their origins stand, in em.
        turn: how the lines are turned as they will stand in the panel.

    Returns:
        A polygon or multipolygon in em, y up; empty where there is no ink.
    """
    parts = _glyphs(placed, turn)
    return shapely.union_all(parts) if parts else Polygon()


def _glyphs(placed: Iterable[Placed], turn: Turn) -> list[BaseGeometry]:
    """The ink of each glyph where it stands, shifted, then turned."""
    (a, d), (b, e) = turn_point((1.0, 0.0), turn), turn_point((0.0, 1.0), turn)
    return [
        affine_transform(part, [a, b, d, e, *turn_point((x_em, y_em), turn)])
        for outline, x_em, y_em in placed
        if not (part := glyph_polygon(outline)).is_empty
    ]


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
    return GeometryCollection(_glyphs(placed, turn))


def ink_rings(ink: BaseGeometry) -> tuple[Corners, ...]:
    """The outer rings of ink; those inside a counter can never meet a panel's edge first.

    Nor can what lies inside another part of the ink, so that parts may overlap.
    """
    parts = shapely.get_parts(shapely.get_parts(ink))
    outer = shapely.get_exterior_ring(parts)
    corners, of_ring = shapely.get_coordinates(outer, return_index=True)
    ends = np.flatnonzero(np.diff(of_ring)) + 1
    return tuple(ring[:-1] for ring in np.split(corners, ends) if len(ring))


def line_hull(placed: Iterable[Placed]) -> npt.NDArray[np.float64]:
    """The corners of the hull of a line, in em, in an array of shape (n, 2)."""
    return hull_corners(np.concatenate([np.add(glyph_hull(each), at) for each, *at in placed]))


def ink_hull(placed: Iterable[Placed], *, turn: Turn = Turn.NONE) -> Ring:
    """The convex hull of a group, in em; without corners where there is no ink.

    All that counts in a convex panel: it holds the ink exactly where it holds the hull, and no
    part of the ink is nearer to its sides than the corners of the hull are.

    Args:
        placed: outlines and where their origins stand, in em.
        turn: how the lines are turned as they will stand in the panel.
    """
    hulls = [np.add(glyph_hull(outline), (x_em, y_em)) for outline, x_em, y_em in placed]
    return hull_of(hulls, turn=turn)


def hull_corners(corners: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Those of many corners, of shape (n, 2), that the convex hull of all has."""
    return shapely.get_coordinates(LineString(corners).convex_hull)


def lines_hull(
    lines: Iterable[tuple[Corners, float, float]], boxes: Iterable[Box], *, turn: Turn
) -> npt.NDArray[np.float64]:
    """Corners of the hull of lines and of boxes, turned, in an array of shape (n, 2).

    Args:
        lines: the hull of each, how many times as large it stands and by how much higher.
        boxes: left, bottom, right and top.
        turn: how all are turned as they will stand in the panel.
    """
    corners = [np.asarray(hull) * scale + (0.0, up_em) for hull, scale, up_em in lines]
    corners += [np.array([(a, b), (c, b), (c, d), (a, d)]) for a, b, c, d in boxes]
    axes = turn_point((1.0, 0.0), turn), turn_point((0.0, 1.0), turn)
    return hull_corners(np.concatenate(corners) @ np.array(axes))


def hull_of(corners: Sequence[npt.ArrayLike], *, turn: Turn = Turn.NONE) -> Ring:
    """The convex hull of corners, each of shape (n, 2), turned; none where it has no area."""
    if sum(map(np.size, corners)) < 6:
        return ()
    hull: BaseGeometry = LineString(np.concatenate(corners)).convex_hull
    if not isinstance(hull, Polygon) or hull.is_empty:
        return ()
    return tuple(turn_point(corner, turn) for corner in _open_ring(hull.exterior))


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
    return tuple(_open_ring(ring) for part in parts for ring in (part.exterior, *part.interiors))


def scaled(ink: BaseGeometry, size_mm: float, centre_mm: Place) -> BaseGeometry:
    """Ink in mm, its placing point in the panel's frame.

    Args:
        ink: in em about the placing point.
        size_mm: the em in mm.
        centre_mm: where the placing point stands.
    """
    return shapely.transform(ink, lambda points: points * size_mm + centre_mm)
