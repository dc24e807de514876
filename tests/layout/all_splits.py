"""Every split there is, to check a search by force."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from spinefit.catalogue import rules
from spinefit.layout.sense import shape_name
from spinefit.layout.splits import Split

EQUAL = rules().value("lines.equal_share")


def by_widths(widths: Sequence[float], _split: Split) -> str:
    """The shape of lines whose words say nothing of it."""
    return shape_name(widths, EQUAL)


def all_splits(count: int, lines: int) -> Iterator[Split]:
    """Every split of ``count`` pieces into ``lines`` lines, in the order of their breaks."""
    for cuts in combinations(range(1, count), lines - 1):
        starts, ends = (0, *cuts), (*cuts, count)
        yield tuple((start, end - 1) for start, end in zip(starts, ends, strict=True))
