"""Which points lie near one another, and which inside a ring?

In: points and rings as arrays of shape (n, 2), in any one unit. Out: pairs of indexes by a
grid of cells as wide as the reach, so that few pairs beyond it are looked at; winding
numbers by the edges that cross a point's level. Knows nothing of glyphs.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["Array", "Indexes", "near_pairs", "winds_round"]

Array = npt.NDArray[np.float64]
Indexes = npt.NDArray[np.intp]


def near_pairs(points: Array, others: Array, reach_em: float) -> tuple[Indexes, Indexes]:
    """Indexes of pairs of a point and another that may lie within reach; points in order.

    No pair within reach is left out; some beyond it are in.
    """
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
