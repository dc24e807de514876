"""Which points lie near one another, and which rings bound ink?

In: points and rings as arrays of shape (n, 2), in any one unit. Out: pairs of indexes by a
grid of cells as wide as the reach, so that few pairs beyond it are looked at; winding numbers by
the edges that cross a point's level; of rings that do not touch, those that part ink from white.
Knows nothing of glyphs.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Indexes = npt.NDArray[np.intp]


def near_pairs(points: Array, others: Array, reach_em: float) -> tuple[Indexes, Indexes]:
    """Indexes of pairs of a point and another that may lie within reach; points in order.

    No pair within reach is left out; some beyond it are in.
    """
    if not (len(points) and len(others)):
        return np.empty(0, np.intp), np.empty(0, np.intp)
    low = np.minimum(points.min(axis=0), others.min(axis=0)) - reach_em
    cells = np.floor((points - low) / reach_em).astype(np.intp)
    other_cells = np.floor((others - low) / reach_em).astype(np.intp)
    columns = int(max(cells[:, 0].max(), other_cells[:, 0].max())) + 2
    keys = cells[:, 1] * columns + cells[:, 0]
    other_keys = other_cells[:, 1] * columns + other_cells[:, 0]
    order = np.argsort(other_keys, kind="stable")
    in_order = other_keys[order]
    rows = keys[:, None] + np.array([-columns, 0, columns])
    first = np.searchsorted(in_order, rows - 1)
    count = np.searchsorted(in_order, rows + 1, side="right") - first
    count_flat = count.ravel()
    ends = np.cumsum(count_flat)
    places = np.arange(ends[-1]) + np.repeat(first.ravel() - ends + count_flat, count_flat)
    return np.repeat(np.arange(len(points)), count.sum(axis=1)), order[places]


def winds_round(corners: Array, x: float, y: float) -> int:
    """How often a ring goes round a point, anticlockwise."""
    level = corners[:, 1]
    ends = np.roll(corners, -1, axis=0)
    up = (level <= y) & (ends[:, 1] > y)
    down = (level > y) & (ends[:, 1] <= y)
    side = (ends[:, 0] - corners[:, 0]) * (y - level) - (x - corners[:, 0]) * (ends[:, 1] - level)
    return int(np.count_nonzero(up & (side > 0))) - int(np.count_nonzero(down & (side < 0)))


def area_of(corners: Array) -> float:
    """The area inside a ring, positive where it runs anticlockwise."""
    x, y = corners[:, 0], corners[:, 1]
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def side_of(start: Array, end: Array, point: Array) -> Array:
    """Above 0 where a point lies to the left of the way from a start to an end, else below."""
    along, away = end - start, point - start
    found: Array = along[:, 0] * away[:, 1] - along[:, 1] * away[:, 0]
    return found


class InkedRing(NamedTuple):
    """A ring that parts ink from white.

    Attributes:
        at: which of the rings asked about.
        is_hole: whether white lies inside it.
        part: the outer ring of the ink that it bounds; itself where it is an outer ring.
    """

    at: int
    is_hole: bool
    part: int


def inked_rings(rings: Sequence[Array]) -> list[InkedRing]:
    """Of rings that do not touch, those that part ink from white by the non-zero winding rule.

    Nesting alone tells: a ring bounds ink where the winding number changes from 0, or to 0.
    """
    turns = [1 if area_of(corners) > 0 else -1 for corners in rings]
    low = np.array([corners.min(axis=0) for corners in rings]).reshape(-1, 2)
    high = np.array([corners.max(axis=0) for corners in rings]).reshape(-1, 2)

    def around_ring(at: int) -> list[int]:
        x, y = place = rings[at][0]
        in_box = np.flatnonzero(np.all((low <= place) & (place <= high), axis=1)).tolist()
        return [other for other in in_box if other != at and winds_round(rings[other], x, y) != 0]

    around = [around_ring(at) for at in range(len(rings))]
    outside = [sum(turns[other] for other in inside) for inside in around]
    found: list[InkedRing] = []
    for at, turn in enumerate(turns):
        if outside[at] == 0:
            found.append(InkedRing(at, False, at))
        elif outside[at] + turn == 0:
            outer = [other for other in around[at] if outside[other] == 0]
            innermost = max(outer, key=lambda other: len(around[other]), default=at)
            found.append(InkedRing(at, True, innermost))
    return found
