"""Where does the ink of a glyph end, and on which side of that line does it lie?

In: an outline in em. Out: the line between ink and white as short straight pieces in order
round each ring, ink to their left; coarse to search on, fine to measure on. Curves are
flattened to within a share of the glyph's longer side; long sides are cut, so that every
piece is short beside the glyph. Where contours neither cross nor touch (most glyphs), nesting
alone tells which of them bound ink; the others are asked of `polygons`. Leaves widths to `discs`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from spinefit.geometry.plane import Ring, flatten
from spinefit.geometry.rings import (
    Array,
    Indexes,
    area_of,
    inked_rings,
    near_pairs,
    side_of,
)
from spinefit.shaping.glyphs import Contour, Outline
from spinefit.tolerances import COARSE_SHARE, FINE_SHARE, SAME_SHARE

_PIECES_A_SIDE = 64  # pieces that the longer side of a glyph would be cut into


class Boundary(NamedTuple):
    """The line between ink and white, in pieces.

    Attributes:
        start, end, middle: of each piece in em, shape (n, 2); ink lies to the left.
        along, normal: unit direction, and unit normal into the ink, shape (n, 2).
        length: of each piece in em, shape (n,).
        after: index of the next piece round the ring.
        ring: number of the ring that each piece belongs to, in rising order.
        part: for each ring the number of the outer ring of the ink that it bounds.
        side_em: longer side of the ink's box.
        piece_em: longest piece.
        crossing: whether contours cross or touch.
    """

    start: Array
    end: Array
    middle: Array
    along: Array
    normal: Array
    length: Array
    after: Indexes
    ring: Indexes
    part: tuple[int, ...]
    side_em: float
    piece_em: float
    crossing: bool = False

    def rings(self) -> list[Array]:
        """The corners of each ring."""
        return np.split(self.start, np.searchsorted(self.ring, np.arange(1, len(self.part))))


@lru_cache(maxsize=512)
def coarse_boundary(outline: Outline) -> Boundary | None:
    """The boundary of a glyph's ink, to search on; None where there is no ink.

    Args:
        outline: contours in em, filled by the non-zero winding rule.
    """
    side_em = longer_side_em(outline)
    if not (math.isfinite(side_em) and side_em > 0):
        return None
    rings = _flattened(outline, side_em, COARSE_SHARE)
    if not rings:
        return None
    whole = _pieces(rings, side_em)
    if _cross(whole):
        rings = _rings_by_polygon(outline, side_em, COARSE_SHARE)
        if not rings:
            return None
        whole = _pieces(rings, side_em)._replace(crossing=True)
    return _oriented(rings, whole, side_em)


@lru_cache(maxsize=512)
def fine_boundary(outline: Outline) -> Boundary | None:
    """The boundary of a glyph's ink, to measure on; None where there is no ink."""
    coarse = coarse_boundary(outline)
    if coarse is None:
        return None
    side_em = coarse.side_em
    rings = (
        _rings_by_polygon(outline, side_em, 0.0)
        if coarse.crossing
        else _flattened(outline, side_em, FINE_SHARE)
    )
    return _oriented(rings, _pieces(rings, side_em), side_em)


def longer_side_em(outline: Outline) -> float:
    """Of the box of all control points."""
    points = [point for contour in outline for segment in contour.segments for point in segment]
    points.extend(contour.start for contour in outline)
    if not points:
        return 0.0
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _flattened(outline: Outline, side_em: float, share: float) -> list[Array]:
    return [
        corners
        for ring in flatten(outline, tolerance_em=share * side_em)
        if len(corners := _corners(ring, side_em)) >= 3 and area_of(corners) != 0
    ]


def _corners(ring: Ring, side_em: float) -> Array:
    corners = np.array(ring, dtype=np.float64).reshape(-1, 2)
    step = corners - np.roll(corners, 1, axis=0)
    return corners[np.hypot(step[:, 0], step[:, 1]) > SAME_SHARE * side_em]


def _pieces(rings: Sequence[Array], side_em: float) -> Boundary:
    """Every side of every ring, cut into pieces."""
    start = np.concatenate(rings)
    step = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings]) - start
    length = np.hypot(step[:, 0], step[:, 1])
    cuts = np.ceil(length * (_PIECES_A_SIDE / side_em) - SAME_SHARE).astype(np.intp)
    cuts = np.maximum(cuts, 1)
    ring = np.repeat(np.arange(len(rings)), [len(corners) for corners in rings])
    side = np.repeat(np.arange(len(start)), cuts)
    last = np.cumsum(cuts)
    number = np.arange(last[-1]) - np.repeat(last - cuts, cuts)
    along = step / length[:, None]
    piece = (length / cuts)[side]
    start = start[side] + (number * piece)[:, None] * along[side]
    ring = ring[side]
    after = np.arange(1, len(start) + 1)
    firsts = np.searchsorted(ring, np.arange(len(rings)))
    after[np.append(firsts[1:], len(start)) - 1] = firsts
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1)[side]
    return Boundary(
        start=start,
        end=start[after],
        middle=(start + start[after]) / 2,
        along=along[side],
        normal=normal,
        length=piece,
        after=after,
        ring=ring,
        part=(),
        side_em=side_em,
        piece_em=float(piece.max()),
    )


def _cross(whole: Boundary) -> bool:
    """Whether any two pieces that do not follow one another cross or touch, or one turns back."""
    ahead = whole.along[whole.after]
    if bool(np.any(np.einsum("ij,ij->i", whole.along, ahead) < -1 + SAME_SHARE)):
        return True
    one, other = near_pairs(whole.middle, whole.middle, whole.piece_em)
    apart = (one < other) & (whole.after[one] != other) & (whole.after[other] != one)
    one, other = one[apart], other[apart]
    a, b, c, d = whole.start[one], whole.end[one], whole.start[other], whole.end[other]
    boxes = np.all(
        (np.minimum(a, b) <= np.maximum(c, d)) & (np.minimum(c, d) <= np.maximum(a, b)), axis=1
    )
    a, b, c, d = a[boxes], b[boxes], c[boxes], d[boxes]
    across = side_of(a, b, c) * side_of(a, b, d) <= 0
    return bool(np.any(across & (side_of(c, d, a) * side_of(c, d, b) <= 0)))


def _rings_by_polygon(outline: Outline, side_em: float, share: float) -> list[Array]:
    """Rings of the union, outer ones anticlockwise, thinned to within a share of the side."""
    from spinefit.geometry.polygons import glyph_polygon

    shape = glyph_polygon(_scaled(outline, 1 / side_em))
    if share > 0:
        shape = shape.simplify(share)
    rings: list[Array] = []
    for part in getattr(shape, "geoms", [shape]):
        if part.is_empty or part.geom_type != "Polygon":
            continue
        for line, is_outer in [(part.exterior, True), *((hole, False) for hole in part.interiors)]:
            corners = _corners(tuple(line.coords[:-1]), 1.0) * side_em
            if len(corners) >= 3:
                rings.append(corners if (area_of(corners) > 0) == is_outer else corners[::-1])
    return rings


def _scaled(outline: Outline, by: float) -> Outline:
    """So that its curves are flattened to within the same share of its side at every size."""
    return tuple(
        Contour(
            (contour.start[0] * by, contour.start[1] * by),
            tuple(tuple((x * by, y * by) for x, y in segment) for segment in contour.segments),
        )
        for contour in outline
    )


def _oriented(rings: Sequence[Array], whole: Boundary, side_em: float) -> Boundary | None:
    """Only the rings that part ink from white, each turned so that ink is to its left."""
    inked = inked_rings(rings)
    if not inked:
        return None
    reverse = [(area_of(rings[each.at]) < 0) != each.is_hole for each in inked]
    if any(reverse) or len(inked) < len(rings):
        kept = [
            rings[each.at][::-1] if turned else rings[each.at]
            for each, turned in zip(inked, reverse, strict=True)
        ]
        whole = _pieces(kept, side_em)._replace(crossing=whole.crossing)
    return whole._replace(part=tuple([each.part for each in inked]))
