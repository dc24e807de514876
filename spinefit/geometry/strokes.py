"""How thin is the thinnest stroke of a glyph, and how narrow its narrowest gap?

In: outlines in em, filled by the non-zero winding rule. Out: widths in em and where they
are; they scale with the outline. The width of ink (of white, for a gap) at a place of its
edge is that of the largest disc inside it that touches there. A width counts at a neck, from
which both sides widen by a tenth, save in a sharp join (`wedges`); along a limb at least three
times as long as wide, between edges within 25 degrees of parallel; and where all of an island
of ink or of a counter is no wider: a round counter's gap is its diameter. Tips, serif points
and crotches do not count. Exact to 0.5 %, or 0.005 % of the glyph's longer side where that is
more.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from spinefit.shaping.outline import Outline, Placed, Point, ink_box

if TYPE_CHECKING:
    from spinefit.geometry.between import Nearest  # numpy: loaded only where used

__all__ = [
    "Gap",
    "Thinness",
    "gap_between",
    "holds",
    "narrower_gap",
    "thinner_stroke",
    "thinness",
]


class Thinness(NamedTuple):
    """The thinnest places of a glyph.

    Attributes:
        stroke_em: width of the thinnest stroke; None where there is no ink.
        stroke_at: the middle of that place, in em; None likewise.
        gap_em: width of the narrowest gap or counter; None where none counts.
        gap_at: the middle of that place, in em; None likewise.
    """

    stroke_em: float | None
    stroke_at: Point | None
    gap_em: float | None
    gap_at: Point | None


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


def thinness(outline: Outline) -> Thinness:
    """The thinnest stroke and the narrowest gap of a glyph, measured.

    Takes some 20 ms; where only what is below a limit matters, ask `thinner_stroke`.

    Args:
        outline: contours in em.

    Returns:
        Widths and places in em.

    >>> from spinefit.shaping.outline import Contour
    >>> bar = Contour((0.0, 0.0), (((0.5, 0.0),), ((0.5, 0.0625),), ((0.0, 0.0625),)))
    >>> thinness((bar,)).stroke_em, thinness((bar,)).gap_em
    (0.0625, None)
    """
    from spinefit.geometry.thin_places import thinnest

    stroke_em, stroke_at = thinnest(outline, of_ink=True) or (None, None)
    gap_em, gap_at = thinnest(outline, of_ink=False) or (None, None)
    return Thinness(stroke_em, stroke_at, gap_em, gap_at)


def holds(outline: Outline, *, stroke_em: float, gap_em: float) -> bool:
    """Whether no stroke and no gap of a glyph is below a method's limits.

    Says what `thinness` says.

    Args:
        outline: contours in em.
        stroke_em: thinnest stroke that the method holds; 0 for no limit.
        gap_em: narrowest gap that it keeps open; 0 for no limit.
    """
    return thinner_stroke(outline, stroke_em) is None and narrower_gap(outline, gap_em) is None


def thinner_stroke(outline: Outline, below_em: float) -> float | None:
    """The thinnest stroke of a glyph in em, where it is below a limit; else None.

    One search, and a measurement only where something is found.

    Args:
        outline: contours in em.
        below_em: the limit in em; 0 for none.
    """
    from spinefit.geometry.thin_places import thinnest_below

    found = thinnest_below(outline, of_ink=True, limit_em=below_em)
    return None if found is None else found.width_em


def narrower_gap(outline: Outline, below_em: float) -> float | None:
    """The narrowest gap of a glyph in em, where it is below a limit; else None.

    Args:
        outline: contours in em.
        below_em: the limit in em; 0 for none.
    """
    from spinefit.geometry.thin_places import thinnest_below

    found = thinnest_below(outline, of_ink=False, limit_em=below_em)
    return None if found is None else found.width_em


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
        shift = round(x_other - x, _SHIFT_DECIMALS), round(y_other - y, _SHIFT_DECIMALS)
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
    from spinefit.geometry.between import nearest

    return nearest(one, other, shift_em, at_most_em=reach_em)


_box_of = lru_cache(maxsize=512)(ink_box)
_SHIFT_DECIMALS = 10  # what adding up advances leaves beyond is rounding


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
