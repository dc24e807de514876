"""How narrow is the narrowest gap between letters of a line or of a group of lines?

In: glyphs' outlines and where they stand, in em. Out: the gap and the letters beside it. Only
letters whose boxes come near enough are looked at, by `polygons`, which is loaded for them alone,
and only the nearest of them measured.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import islice
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from spinefit.shaping.glyphs import Outline, Placed, Point, ink_box
from spinefit.tolerances import FAULT_SHARE, FINE_SHARE, FLATTENING_ERROR_EM, SHIFT_DECIMALS

if TYPE_CHECKING:
    from spinefit.geometry.polygons import Ink  # shapely: loaded only where used


class Gap(NamedTuple):
    """The narrowest gap between two glyphs.

    Attributes:
        gap_em: least distance of their inks.
        first, second: which of the placed outlines, counted from 0.
    """

    gap_em: float
    first: int
    second: int


def gap_between(placed: Sequence[Placed], *, at_most_em: float) -> Gap | None:
    """The narrowest gap between the inks of different glyphs of a line or a group of lines.

    Glyphs that overlap or touch, as in a script or where Arabic letters join, have no gap. Each
    pair is asked how near it may come, and only those that may be the nearest are measured.

    Args:
        placed: outlines and where their origins stand, in em.
        at_most_em: wider gaps are not looked for.

    Returns:
        The gap, or None where all are wider.
    """
    if not 0 < at_most_em < math.inf:
        return None
    pairs: list[tuple[float, Outline, Outline, Point, int, int]] = []
    for first, second in _near_pairs(placed, at_most_em):
        (one, x, y), (other, x_other, y_other) = placed[first], placed[second]
        shift = round(x_other - x, SHIFT_DECIMALS), round(y_other - y, SHIFT_DECIMALS)
        pairs.append((least_gap_em(one, other, shift), one, other, shift, first, second))
    best: Gap | None = None
    for least_em, one, other, shift, first, second in sorted(pairs, key=itemgetter(0)):
        if least_em > at_most_em:
            break
        gap_em = gap_em_of(one, other, shift)
        if gap_em is None or gap_em > at_most_em:
            continue
        if best is None or gap_em < best.gap_em or (first, second) > (best.first, best.second):
            at_most_em, best = gap_em, Gap(gap_em, first, second)  # of as near ones the last
    return best


@lru_cache(maxsize=1 << 14)
def least_gap_em(one: Outline, other: Outline, shift_em: Point) -> float:
    """What the gap of two glyphs is at least: the same pairs come in many titles.

    Their polygons are off by no more than the chords of their curves, and so are what is measured.

    Args:
        one: an outline in em.
        other: another.
        shift_em: from the origin of the one to the origin of the other.
    """
    from spinefit.geometry.boundary import longer_side_em
    from spinefit.geometry.polygons import distance, glyph_polygon

    apart_em = distance(glyph_polygon(one), glyph_polygon(other), shift_em)
    sides_em = longer_side_em(one) + longer_side_em(other)
    return apart_em - 2 * FLATTENING_ERROR_EM - FINE_SHARE * sides_em


@lru_cache(maxsize=1 << 12)
def gap_em_of(one: Outline, other: Outline, shift_em: Point) -> float | None:
    """The gap of two glyphs, measured; None where they are joined. Arguments as of the least."""
    from spinefit.geometry.polygons import distance

    ink, ink_other = _fine_ink(one), _fine_ink(other)
    if ink is None or ink_other is None:
        return None
    gap_em = distance(ink.shape, ink_other.shape, shift_em)
    return gap_em if gap_em > FAULT_SHARE * max(ink.side_em, ink_other.side_em) else None


class _Ink(NamedTuple):
    """The ink of a glyph as it is measured, and the longer side of its box."""

    shape: Ink
    side_em: float


@lru_cache(maxsize=512)
def _fine_ink(outline: Outline) -> _Ink | None:
    from spinefit.geometry.boundary import fine_boundary
    from spinefit.geometry.polygons import ink_of_rings

    boundary = fine_boundary(outline)
    return boundary and _Ink(ink_of_rings(boundary.rings()), boundary.side_em)


_box_of = lru_cache(maxsize=512)(ink_box)


def _near_pairs(placed: Sequence[Placed], reach_em: float) -> list[tuple[int, int]]:
    """Pairs of glyphs whose boxes come within reach of one another, in order."""
    boxes = [
        (box[0] + x_em, box[1] + y_em, box[2] + x_em + reach_em, box[3] + y_em + reach_em, at)
        for at, (outline, x_em, y_em) in enumerate(placed)
        if (box := _box_of(outline))
    ]
    boxes.sort()
    found: list[tuple[int, int]] = []
    for place, (_left, bottom, far, high, first) in enumerate(boxes, start=1):
        for left, other_bottom, _far, other_high, second in islice(boxes, place, None):
            if left > far:
                break  # they come from left to right
            if other_bottom <= high and bottom <= other_high:
                found.append((first, second) if first < second else (second, first))
    return sorted(found)


def closed_up_pair(placed: Sequence[Placed], closed_up_em: float) -> tuple[int, int] | None:
    """The first two glyphs of a line that touch because it was closed up; None where none do.

    What touches at the font's own spacing too, as in a script, is joined by design.

    Args:
        placed: outlines of a line and where their origins stand, in em, as it was closed up.
        closed_up_em: by how much each glyph was drawn nearer to the one before it.
    """
    from spinefit.geometry.polygons import touch

    for first, second in _near_pairs(placed, 0.0):
        (one, x, y), (other, x_other, y_other) = placed[first], placed[second]
        by_design_em = (x_other - x + closed_up_em * (second - first), y_other - y)
        if touch(one, other, (x_other - x, y_other - y)) and not touch(one, other, by_design_em):
            return first, second
    return None
