"""What shape is the ink of one glyph?

One of the doors to shapely. In: an outline in em. Out: what the non-zero winding
rule fills, as a polygon, and its convex hull; kept, since titles share their letters. Curves are
flattened as `flattening` does.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LinearRing, LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from spinefit.geometry.flattening import flatten
from spinefit.geometry.shapes import Ring, signed_area
from spinefit.shaping.outline import Outline

__all__ = ["glyph_hull", "glyph_polygon", "open_ring", "polygons_of"]


@lru_cache(maxsize=1024)
def glyph_polygon(outline: Outline) -> BaseGeometry:
    """The ink of one glyph in em, filled by the non-zero winding rule; empty for a space."""
    rings = [ring for ring in flatten(outline) if len(ring) >= 3]
    if not rings:
        return Polygon()
    apart = all(LinearRing(ring).is_simple for ring in rings) and _are_apart(rings)
    return _nested(rings) if apart else _noded(rings)


@lru_cache(maxsize=1024)
def glyph_hull(outline: Outline) -> npt.NDArray[np.float64]:
    """Corners of the convex hull of a glyph's ink, in em, shape (n, 2); none for a space."""
    return shapely.get_coordinates(glyph_polygon(outline).convex_hull)


def _are_apart(rings: Sequence[Ring]) -> bool:
    """Whether no two rings of a glyph touch."""
    lines = [LinearRing(ring) for ring in rings]
    pairs = shapely.STRtree(lines).query(lines, predicate="intersects")
    return len(pairs[0]) == len(lines)  # each meets only itself


def _nested(rings: Sequence[Ring]) -> BaseGeometry:
    """Ink of rings that do not touch: a ring bounds ink where winding changes from 0 or to 0."""
    faces = [Polygon(ring) for ring in rings]
    tree = shapely.STRtree(faces)
    corners = [Point(ring[0]) for ring in rings]
    around: list[set[int]] = [set() for _ in rings]
    for inner, outer in zip(*tree.query(corners, predicate="within").tolist(), strict=True):
        around[inner].add(outer)
    turns = [1 if signed_area(ring) > 0 else -1 for ring in rings]
    outside = [sum(turns[index] for index in around[ring]) for ring in range(len(rings))]
    shells = [k for k, base in enumerate(outside) if base == 0]
    holes = [k for k, base in enumerate(outside) if base != 0 and base + turns[k] == 0]
    parts = []
    for shell in shells:
        inside = [hole for hole in holes if _innermost(around[hole], shells, around) == shell]
        parts.append(Polygon(rings[shell], [rings[hole] for hole in inside]))
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)


def _innermost(
    candidates: set[int], shells: Sequence[int], around: Sequence[set[int]]
) -> int | None:
    """The shell nearest around a hole: the one that itself lies in the most rings."""
    return max((k for k in shells if k in candidates), key=lambda k: len(around[k]), default=None)


def _noded(rings: Sequence[Ring]) -> BaseGeometry:
    """Ink of rings that cross or touch: the faces between their lines whose winding is not 0."""
    lines = shapely.union_all([LineString([*ring, ring[0]]) for ring in rings])
    faces = shapely.get_parts(shapely.polygonize([lines])).tolist()
    inked = [face for face in faces if _winding(face.representative_point(), rings) != 0]
    return shapely.union_all(inked) if inked else Polygon()


def _winding(point: Point, rings: Sequence[Ring]) -> int:
    """How often the rings go round a point anticlockwise, by the edges that cross its level."""
    x, y = point.x, point.y
    winding = 0
    for ring in rings:
        x0, y0 = ring[-1]
        for x1, y1 in ring:
            if (y0 <= y) != (y1 <= y):
                side = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
                if y1 > y0 and side > 0:
                    winding += 1
                elif y1 < y0 and side < 0:
                    winding -= 1
            x0, y0 = x1, y1
    return winding


def polygons_of(shape: BaseGeometry) -> list[Polygon]:
    """The polygons that a shape consists of."""
    return [part for part in shapely.get_parts(shape).tolist() if isinstance(part, Polygon)]


def open_ring(ring: LinearRing) -> Ring:
    """The corners of a ring, the first not repeated."""
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])
