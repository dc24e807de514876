"""Which rows are no books: those below the last, and headings of a part?

In: the rows of a table as they are read. Out: the same but those at its end that have no title and
are sums of the columns above, or nothing but a total or a remark in words: nobody letters them, and
they are no fault. A row with an author, a set or a measure of its own stays, since it is a book
whose title was forgotten; so does every row above the last book but one that is a single cell
merged across all columns.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cache

from spinefit.batch.columns import TOTAL
from spinefit.batch.model import Row
from spinefit.catalogue.tables import DATA, read

_MOST_HELD = 20
_ROUNDED = 0.05  # of figures with one decimal
_LEAST_BOOKS = 2  # a sum of one is that one
_FIGURE = re.compile("[0-9]+(?:[.,][0-9]+)?", re.ASCII)
_SUMMED = ("=SUM(", "=SUBTOTAL(")
_TWO_WORDS = re.compile(r"[^\W\d_]{2,}.*\s.*[^\W\d_]{2,}", re.DOTALL)


class Foot:
    """The end of a table.

    Attributes:
        lines, headings: of the rows passed over, below the last book and merged across; known once
            all rows are read.
    """

    def __init__(self) -> None:
        self.lines: list[int] = []
        self.headings: list[int] = []
        self._sums: dict[str, float] = {}
        self._books = 0

    @property
    def note(self) -> str | None:
        """A line about the rows passed over; None without any."""
        told = (
            (self.headings, "merged across all columns, passed over as headings of a part"),
            (self.lines, "below the last book, without a title, passed over as total or remark"),
        )
        return "; ".join(f"{_lines(lines)} {why}" for lines, why in told if lines) or None

    def books(self, rows: Iterable[Row]) -> Iterator[Row]:
        """The rows but those."""
        held: list[Row] = []
        for row in rows:
            if row.heads:
                self.headings.append(row.line)
                continue
            may_end = not row.title or _is_total(row.title)
            if may_end:
                held.append(row)
            if not may_end or len(held) == _MOST_HELD:
                yield from held
                held = []
            if not may_end:
                self._add(row)
                yield row
        for row in held:
            if row.is_remark or self._is_sum(row):
                self.lines.append(row.line)
            else:
                yield row

    def _add(self, row: Row) -> None:
        self._books += 1
        for name, cell in row.cells.items():
            figure = _figure(cell)
            if figure is not None:
                self._sums[name] = self._sums.get(name, 0.0) + figure

    def _is_sum(self, row: Row) -> bool:
        """Whether all that it says are sums of the columns above."""
        if row.fault is not None or self._books < _LEAST_BOOKS:
            return False
        cells = row.cells.items()
        found = [(self._sums.get(name), _figure(cell)) for name, cell in cells if name != "title"]
        return bool(found) and all(
            of_column is not None and own is not None and abs(of_column - own) <= _ROUNDED
            for of_column, own in found
        )


def _lines(found: Sequence[int]) -> str:
    return f"{'line' if len(found) == 1 else 'lines'} {', '.join(map(str, found))}"


def _figure(cell: object) -> float | None:
    """The figure that a cell begins with, without its unit."""
    if isinstance(cell, int | float):
        return float(cell)
    found = _FIGURE.match(cell.strip()) if isinstance(cell, str) else None
    return float(found[0].replace(",", ".")) if found else None


def is_remark(texts: Sequence[str], meanings: Sequence[str]) -> bool:
    """Whether the cells of a row without a title are those of a total or a remark.

    Args:
        texts: as they stand there.
        meanings: what the column of each means; "" where nothing to the check.

    >>> is_remark(["Summe", "", "120"], ["", "title", "width"])
    True
    >>> is_remark(["bound by the town", "", ""], ["", "title", "width"])
    True
    >>> is_remark(["W 7", "", "12"], ["", "title", "width"])
    False
    """
    filled = [(text.strip(), meaning) for text, meaning in zip(texts, meanings, strict=True)
              if text.strip()]  # fmt: skip
    says = [text for text, meaning in filled if meaning and not _is_total(text)]
    if any(not _FIGURE.match(text) and not text.startswith(_SUMMED) for text in says):
        return False  # words of a book
    if any(text.startswith(_SUMMED) for text, _ in filled):
        return True
    if any(_is_total(text) for text, meaning in filled if not meaning):
        return True
    return len(filled) == 1 and not says and _TWO_WORDS.search(filled[0][0]) is not None


def _is_total(text: str) -> bool:
    return text.strip().rstrip(":").casefold() in _totals()


@cache
def _totals() -> frozenset[str]:
    """What a line of totals is called, in any language."""
    rows = read(DATA / "columns.toml").values()
    return frozenset(str(name).casefold() for row in rows for name in row[TOTAL])
