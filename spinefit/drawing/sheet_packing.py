"""Where on the sheets does each label stand?

In: cells (a label with its marks and caption) and the bins of a page, in mm, y up. Out: a spot
for each cell. Cells stand in rows, the highest first, lower ones one below another in columns
of a row: every cut goes straight through, rows first, then columns, as a knife along a steel
rule wants it and a denser packing would not allow. Grain decides about turning, not this module.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

__all__ = ["Bin", "Cell", "Spot", "fits_in", "pack"]

_SLACK_MM = 1e-9  # rounding of sums


class Bin(NamedTuple):
    """A free rectangle of every page, in mm from the sheet's lower left corner."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float


class Cell(NamedTuple):
    """What one label takes up, in mm."""

    width_mm: float
    height_mm: float


class Spot(NamedTuple):
    """Where a cell's upper left corner stands: page from 0, and mm from the lower left."""

    page: int
    left_mm: float
    top_mm: float


class _Column:
    """Cells one below another in a row, none wider than the first."""

    def __init__(self, left_mm: float, width_mm: float, next_mm: float) -> None:
        self.left_mm, self.width_mm, self.next_mm = left_mm, width_mm, next_mm


class _Row:
    """A row begun in a bin; its columns hang from its upper edge."""

    def __init__(self, page: int, top_mm: float, height_mm: float, free: Bin) -> None:
        self.page, self.top_mm, self.bottom_mm = page, top_mm, top_mm - height_mm
        self.next_mm, self.right_mm = free.left_mm, free.right_mm
        self.columns: list[_Column] = []

    def take(self, cell: Cell, gutter_mm: float) -> Spot | None:
        if cell.height_mm > self.top_mm - self.bottom_mm + _SLACK_MM:
            return None
        column = self._column(cell, gutter_mm)
        if column is None:
            return None
        spot = Spot(self.page, column.left_mm, column.next_mm)
        column.next_mm -= cell.height_mm + gutter_mm
        return spot

    def _column(self, cell: Cell, gutter_mm: float) -> _Column | None:
        """The first column with room below, or a new one."""
        for column in self.columns:
            narrow = cell.width_mm <= column.width_mm + _SLACK_MM
            if narrow and column.next_mm - cell.height_mm >= self.bottom_mm - _SLACK_MM:
                return column
        if self.next_mm + cell.width_mm > self.right_mm + _SLACK_MM:
            return None
        self.columns.append(_Column(self.next_mm, cell.width_mm, self.top_mm))
        self.next_mm += cell.width_mm + gutter_mm
        return self.columns[-1]


def fits_in(cell: Cell, bins: Sequence[Bin]) -> bool:
    """Whether an empty page has room for a cell."""
    return any(
        cell.width_mm <= one.right_mm - one.left_mm + _SLACK_MM
        and cell.height_mm <= one.top_mm - one.bottom_mm + _SLACK_MM
        for one in bins
    )


def pack(cells: Sequence[Cell], bins: Sequence[Bin], *, gutter_mm: float) -> tuple[Spot, ...]:
    """A spot for each cell, on as many pages as it takes.

    Args:
        cells: what is to be placed.
        bins: free rectangles of a page, the one to fill first first.
        gutter_mm: kept free between cells.

    Raises:
        ValueError: a cell that no bin can hold.

    >>> pack([Cell(3, 2), Cell(3, 4)], [Bin(0, 0, 10, 10)], gutter_mm=1)
    (Spot(page=0, left_mm=4, top_mm=10), Spot(page=0, left_mm=0, top_mm=10))
    """
    rows: list[_Row] = []
    tops: list[list[float]] = []  # of each page, where the next row of each bin begins
    spots: dict[int, Spot] = {}
    for at in sorted(range(len(cells)), key=lambda place: (-cells[place].height_mm, place)):
        cell = cells[at]
        if not fits_in(cell, bins):
            raise ValueError("a cell larger than the page")
        taken = (row.take(cell, gutter_mm) for row in rows)
        spot = next((one for one in taken if one is not None), None)
        while spot is None:
            row = _new_row(cell, bins, tops, gutter_mm)
            if row is None:
                tops.append([one.top_mm for one in bins])
                continue
            rows.append(row)
            spot = row.take(cell, gutter_mm)
        spots[at] = spot
    return tuple(spots[at] for at in range(len(cells)))


def _new_row(
    cell: Cell, bins: Sequence[Bin], tops: list[list[float]], gutter_mm: float
) -> _Row | None:
    """A row for a cell on the first page with room for it."""
    for page, at, free in _places(bins, tops):
        top_mm = tops[page][at]
        wide = cell.width_mm <= free.right_mm - free.left_mm + _SLACK_MM
        if wide and cell.height_mm <= top_mm - free.bottom_mm + _SLACK_MM:
            tops[page][at] = top_mm - cell.height_mm - gutter_mm
            return _Row(page, top_mm, cell.height_mm, free)
    return None


def _places(bins: Sequence[Bin], tops: list[list[float]]) -> Iterator[tuple[int, int, Bin]]:
    for page in range(len(tops)):
        for at, free in enumerate(bins):
            yield page, at, free
