"""How near do two separate inks come to one another?

In: two glyphs' outlines and where they stand, in em. Out: the least distance between their
inks and the middle of it; None where they are joined: they overlap, touch, or come nearer
than a fault of drawing. Measured between the pieces of both boundaries; curves as in
`boundary`. Leaves which pairs to ask about to `strokes`.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from spinefit.geometry.boundary import (
    COARSE_SHARE,
    Boundary,
    coarse_boundary,
    fine_boundary,
)
from spinefit.geometry.limbs import FAULT_SHARE
from spinefit.geometry.nearness import Array, near_pairs, winds_round
from spinefit.shaping.outline import Outline, Point

__all__ = ["Nearest", "nearest"]


class Nearest(NamedTuple):
    """The narrowest place between two inks.

    Attributes:
        gap_em: the distance.
        at: the middle between them, in em, in the first one's frame.
    """

    gap_em: float
    at: Point


def nearest(one: Outline, other: Outline, shift_em: Point, *, at_most_em: float) -> Nearest | None:
    """The narrowest place between two inks, where it is at most so wide.

    Args:
        one: an outline in em.
        other: another.
        shift_em: from the origin of the one to the origin of the other.
        at_most_em: wider gaps are not looked for.

    Returns:
        The gap in the frame of ``one``; None for a wider one, and where the two are joined.
    """
    rough, rough_other = coarse_boundary(one), coarse_boundary(other)
    if rough is None or rough_other is None:
        return None
    shift = np.asarray(shift_em, dtype=np.float64)
    slack_em = 2 * COARSE_SHARE * max(rough.side_em, rough_other.side_em)
    if not _any_near(rough, rough_other, shift, at_most_em + slack_em):
        return None
    whole, whole_other = fine_boundary(one), fine_boundary(other)
    if whole is None or whole_other is None or _holds_other(whole, whole_other, shift):
        return None
    found = _least(whole, whole_other, shift, at_most_em)
    if found is None or found.gap_em <= FAULT_SHARE * max(whole.side_em, whole_other.side_em):
        return None
    return found


def _any_near(one: Boundary, other: Boundary, shift: Array, reach_em: float) -> bool:
    """Whether any middles of pieces are near enough for the pieces to lie within reach."""
    far_em = reach_em + (one.piece_em + other.piece_em) / 2
    middle = other.middle + shift
    low, high = middle.min(axis=0) - far_em, middle.max(axis=0) + far_em
    mine = one.middle[np.all((one.middle >= low) & (one.middle <= high), axis=1)]
    if not len(mine):
        return False
    low, high = mine.min(axis=0) - far_em, mine.max(axis=0) + far_em
    return bool(np.any(np.all((middle >= low) & (middle <= high), axis=1)))


def _holds_other(one: Boundary, other: Boundary, shift: Array) -> bool:
    """Whether a point of either's boundary lies in the other's ink."""
    mine, theirs = one.start[0] - shift, other.start[0] + shift
    return _in_ink(one, theirs) or _in_ink(other, mine)


def _in_ink(boundary: Boundary, point: Array) -> bool:
    x, y = float(point[0]), float(point[1])
    rings = range(len(boundary.part))
    return sum(winds_round(boundary.start[boundary.ring == ring], x, y) for ring in rings) != 0


def _least(one: Boundary, other: Boundary, shift: Array, at_most_em: float) -> Nearest | None:
    far_em = at_most_em + (one.piece_em + other.piece_em) / 2
    mine, theirs = near_pairs(one.middle, other.middle + shift, far_em)
    if not len(mine):
        return None
    a, b = one.start[mine], one.end[mine]
    c, d = other.start[theirs] + shift, other.end[theirs] + shift
    if bool(np.any(_cross(a, b, c, d))):
        return None
    feet = [_foot(a, c, d), _foot(b, c, d), _foot(c, a, b), _foot(d, a, b)]
    best: Nearest | None = None
    for point, foot in zip((a, b, c, d), feet, strict=True):
        away = np.hypot(*(foot - point).T)
        at = int(np.argmin(away))
        if away[at] <= at_most_em and (best is None or away[at] < best.gap_em):
            x, y = ((point[at] + foot[at]) / 2).tolist()
            best = Nearest(float(away[at]), (x, y))
    return best


def _foot(point: Array, start: Array, end: Array) -> Array:
    """The point of each piece that is nearest to a point."""
    step = end - start
    share = np.sum((point - start) * step, axis=1) / np.sum(step * step, axis=1)
    foot: Array = start + np.clip(share, 0.0, 1.0)[:, None] * step
    return foot


def _cross(a: Array, b: Array, c: Array, d: Array) -> npt.NDArray[np.bool_]:
    """Whether pieces ab and cd cross; those that only touch have a distance of 0."""

    def side(p: Array, q: Array, r: Array) -> Array:
        found: Array = (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (
            r[:, 0] - p[:, 0]
        )
        return found

    apart = (side(a, b, c) * side(a, b, d) < 0) & (side(c, d, a) * side(c, d, b) < 0)
    return np.asarray(apart, dtype=np.bool_)
