"""Every split there is, to check a search by force."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from spinefit.layout.splits import Split


def all_splits(count: int, lines: int) -> Iterator[Split]:
    """Every split of ``count`` pieces into ``lines`` lines, in the order of their breaks."""
    for cuts in combinations(range(1, count), lines - 1):
        starts, ends = (0, *cuts), (*cuts, count)
        yield tuple((start, end - 1) for start, end in zip(starts, ends, strict=True))
