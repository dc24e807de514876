"""Which is the thinnest place that counts as a stroke?

In: discs in order round each ring of a boundary. Out: the least diameter, in em, of a place
that is a neck (a least width from which both sides widen by a tenth), or of a limb at least
three times as long as it is wide, between edges within 25 degrees of parallel. A limb goes on
across a stroke at most half as wide again as itself. What narrows on for longer than it was level
(to within a quarter) is the tip of something, or a join, and does not count. Three times and
25 degrees are the project's rule; the other figures are common practice, no source.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from spinefit.shaping.glyphs import Point
from spinefit.tolerances import FAULT_SHARE

LENGTHS = 3.0
"""A limb is at least this many times as long as it is wide."""

WIDENS = 1.1
"""A neck's both sides grow to this many times its width."""

_CROSSES = 1.5  # times its width: how wide a stroke a limb goes on across; a serif does not
_ASIDE = 0.25  # of its width: how far from straight ahead it may go on
_ACROSS = math.sin(math.radians(25 / 2))  # and at most by so much in another direction
_MOST_CROSSINGS = 8  # an E has three
_TAPER = 0.75  # what narrows below this share of its width within a limb is a tip
_LEAST_SHARE = 0.05  # what is shorter than this share of the glyph's longer side is no limb
_LEVEL = 1.002  # widths within this of one another are one width
_NARROWER = 0.999
_ROUNDED = 1.02  # a disc that does not face and is no wider than this lies in the end of a limb


class Thin(NamedTuple):
    """A thin place.

    Attributes:
        width_em: diameter of the disc there.
        ring: which of the rings asked about.
        at: place in that ring.
        is_neck: whether both sides widen; otherwise it is a limb.
    """

    width_em: float
    ring: int
    at: int
    is_neck: bool


class Places(NamedTuple):
    """Discs in order round one ring, as plain numbers; a closed round.

    Attributes:
        width_em: diameters.
        facing: whether each touches between edges that face one another.
        centre: their middles in em.
        inward: unit directions from the edge to the middle, to the left as one goes round.
    """

    width_em: Sequence[float]
    facing: Sequence[bool]
    centre: Sequence[Point]
    inward: Sequence[Point]


def first_thin(
    rings: Sequence[Places],
    *,
    side_em: float,
    at_most_em: float,
    in_join: Callable[[Point, float], bool],
) -> Thin | None:
    """The thinnest neck or limb, where it is at most so wide.

    What is narrower than `FAULT_SHARE` of the glyph's longer side is a fault of drawing.

    Args:
        rings: discs; those of up to `WIDENS` times ``at_most_em`` complete.
        side_em: longer side of the glyph.
        at_most_em: wider ones are not looked for.
        in_join: whether the disc with that middle and diameter lies in a sharp join.
    """
    order = sorted(
        (width, number, at)
        for number, ring in enumerate(rings)
        for at, width in enumerate(ring.width_em)
        if FAULT_SHARE * side_em < width <= at_most_em and ring.facing[at]
    )
    field: _Field | None = None
    for width, number, at in order:
        ring = rings[number]
        is_neck = _widens(ring, at, 1) and _widens(ring, at, -1)
        if is_neck and not in_join(ring.centre[at], width):
            return Thin(width, number, at, True)
        least_em = max(LENGTHS * width, _LEAST_SHARE * side_em)
        one, other = _reach(ring, at, 1), _reach(ring, at, -1)
        length = one.length_em if one.all_round else one.length_em + other.length_em
        if max(one.tip_em, other.tip_em) > length:
            continue
        if width <= length < least_em and (one.is_open or other.is_open):
            field = field or _field(rings)
            for end, step in ((one, 1), (other, -1)):
                if end.is_open:
                    length += _length_beyond(field, rings, number, end.last, step, width)
        if length >= least_em:
            return Thin(width, number, at, False)
    return None


def _widens(ring: Places, at: int, step: int) -> bool:
    """Whether the width grows by a tenth that way, before it narrows or the limb ends."""
    here, count = ring.width_em[at], len(ring.width_em)
    for away in range(1, count):
        there = (at + step * away) % count
        width = ring.width_em[there]
        if width >= WIDENS * here:
            return True
        if width < _NARROWER * here or (not ring.facing[there] and width < _ROUNDED * here):
            return False
    return False


class _Reach(NamedTuple):
    """How far a limb goes one way.

    Attributes:
        length_em: along the middles of its discs, to its end.
        tip_em: of what narrows on from there.
        last: its last disc.
        is_open: whether it ends in something wider.
        all_round: whether it ends at itself; else, and not open, it has a free end or a tip.
    """

    length_em: float
    tip_em: float
    last: int
    is_open: bool = False
    all_round: bool = False


def _reach(ring: Places, at: int, step: int, here: float | None = None) -> _Reach:
    """How far the limb about a place goes that way, no wider than there or than ``here``.

    A free end lies half a width beyond the middle of the first disc that fits into it.
    """
    here, count = here or ring.width_em[at], len(ring.width_em)
    length, last = 0.0, at
    for away in range(1, count):
        there = (at + step * away) % count
        width = ring.width_em[there]
        ends = not ring.facing[there]
        if width > (_ROUNDED if ends else _LEVEL) * here:
            return _Reach(length, 0.0, last, is_open=True)
        travel = math.dist(ring.centre[last], ring.centre[there])
        if ends:
            return _Reach(length + travel + width / 2, 0.0, last)
        if width < _TAPER * here:
            before = ring.width_em[last]
            length += travel * (before - _TAPER * here) / (before - width)
            return _Reach(length, _tip_length(ring, there, step, _TAPER * here), last)
        length += travel
        last = there
    return _Reach(length, 0.0, last, all_round=True)


class _Field(NamedTuple):
    """All discs that face, of all rings, the narrowest first; arrays of shape (n,)."""

    width_em: list[float]
    number: npt.NDArray[np.intp]  # in the order of the rings
    ring: npt.NDArray[np.intp]
    at: npt.NDArray[np.intp]
    x: npt.NDArray[np.float64]
    y: npt.NDArray[np.float64]
    inward_x: npt.NDArray[np.float64]
    inward_y: npt.NDArray[np.float64]


def _field(rings: Sequence[Places]) -> _Field:
    facing = [np.flatnonzero(ring.facing) for ring in rings]
    columns = [
        np.column_stack((ring.width_em, ring.centre, ring.inward))[which]
        for ring, which in zip(rings, facing, strict=True)
    ]
    width_em, *places = np.concatenate(columns).T
    order = np.argsort(width_em, kind="stable")
    ring = np.repeat(np.arange(len(rings)), [len(which) for which in facing])
    return _Field(
        width_em[order].tolist(),
        order,
        ring[order],
        np.concatenate(facing)[order],
        *[each[order] for each in places],
    )


def _length_beyond(
    field: _Field, rings: Sequence[Places], number: int, at: int, step: int, here: float
) -> float:
    """How far a limb goes on across strokes hardly wider than itself, crossings included."""
    level = slice(
        bisect_left(field.width_em, _TAPER * here), bisect_right(field.width_em, _LEVEL * here)
    )
    total = 0.0
    for _ in range(_MOST_CROSSINGS):
        x, y = rings[number].centre[at]
        ahead_x, ahead_y = _ahead(rings[number], at, step)
        off_x, off_y = field.x[level] - x, field.y[level] - y
        along = off_x * ahead_x + off_y * ahead_y
        goes_on = (along > 0) & (along <= _CROSSES * here)
        goes_on &= np.abs(off_x * ahead_y - off_y * ahead_x) <= _ASIDE * here
        across = field.inward_x[level] * ahead_x + field.inward_y[level] * ahead_y
        goes_on &= np.abs(across) <= _ACROSS
        found = np.flatnonzero(goes_on)
        if not len(found):
            break
        first = found[along[found] == along[found].min()] + level.start
        next_one = int(first[np.argmin(field.number[first])])
        total += float(along[next_one - level.start])
        number, at = int(field.ring[next_one]), int(field.at[next_one])
        next_x, next_y = _ahead(rings[number], at, 1)
        step = 1 if next_x * ahead_x + next_y * ahead_y > 0 else -1
        end = _reach(rings[number], at, step, here)
        total += end.length_em
        if not end.is_open:
            break
        at = end.last
    return total


def _ahead(ring: Places, at: int, step: int) -> Point:
    """Unit direction of the limb at a place, going that way round the ring."""
    x, y = ring.inward[at]
    return y * step, -x * step


def _tip_length(ring: Places, at: int, step: int, below_em: float) -> float:
    """How far a limb goes on below a width."""
    count = len(ring.width_em)
    length, last = 0.0, at
    for away in range(1, count):
        there = (at + step * away) % count
        if not ring.facing[there] or ring.width_em[there] >= below_em:
            break
        length += math.dist(ring.centre[last], ring.centre[there])
        last = there
    return length
