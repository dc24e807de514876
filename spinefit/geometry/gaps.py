"""How narrow is the narrowest gap between letters of a line or of a group of lines?

In: glyphs' outlines and where they stand, in em. Out: the gap and the letters beside it. Only
letters whose boxes come near enough are measured, by `boundary`, which is loaded for them alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from spinefit.shaping.glyphs import Outline, Placed, Point, ink_box
from spinefit.tolerances import SHIFT_DECIMALS

if TYPE_CHECKING:
    from spinefit.geometry.boundary import Nearest  # numpy: loaded only where used


class Gap(NamedTuple):
    """The narrowest gap between two glyphs.

    Attributes:
        gap_em: least distance of their inks.
        at: the middle of it, in em.
        first, second: which of the placed outlines, counted from 0.
    """

    gap_em: float
    at: Point
    first: int
    second: int


def gap_between(placed: Sequence[Placed], *, at_most_em: float) -> Gap | None:
    """The narrowest gap between the inks of different glyphs of a line or a group of lines.

    Glyphs that overlap or touch, as in a script or where Arabic letters join, have no gap.

    Args:
        placed: outlines and where their origins stand, in em.
        at_most_em: wider gaps are not looked for.

    Returns:
        The gap, or None where all are wider.
    """
    if not 0 < at_most_em < math.inf:
        return None
    reach_em = 2.0 ** math.ceil(math.log2(at_most_em))
    best: Gap | None = None
    for first, second in _near_pairs(placed, at_most_em):
        (outline, x, y), (outline_other, x_other, y_other) = placed[first], placed[second]
        shift = round(x_other - x, SHIFT_DECIMALS), round(y_other - y, SHIFT_DECIMALS)
        found = _nearest(outline, outline_other, shift, reach_em)
        if found is not None and found.gap_em <= at_most_em:
            at_most_em = found.gap_em
            best = Gap(found.gap_em, (found.at[0] + x, found.at[1] + y), first, second)
    return best


@lru_cache(maxsize=1 << 14)
def _nearest(one: Outline, other: Outline, shift_em: Point, reach_em: float) -> Nearest | None:
    """How near two glyphs of a font come, standing so: the same pairs come in many titles.

    The reach, a power of two, is at least as far as is asked, so that few sizes differ in it.
    """
    from spinefit.geometry.boundary import nearest

    return nearest(one, other, shift_em, at_most_em=reach_em)


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
