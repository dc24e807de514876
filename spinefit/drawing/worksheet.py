"""On which sheets is the worksheet for hand letters or type printed?

In: a `Worksheet` and a paper. Out: scenes in mm, a page each: the pattern at true size with how
to use it, then the place of every letter in figures. The pattern is never shrunk: where it is
larger than the paper that was asked for, that is refused.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.drawing.marks import CUT
from spinefit.drawing.measure import WORDS_MM, column, held, text_width_mm
from spinefit.drawing.paper import BENCH_MARGIN_MM, bench_title, check_bar, paper_sizes
from spinefit.drawing.scene import Group, Item, Line, Scene, Text, moved
from spinefit.drawing.worksheet_pattern import Pattern, pattern_of
from spinefit.drawing.worksheet_places import StruckLine, Worksheet
from spinefit.drawing.worksheet_words import (
    as_figure,
    cautions,
    heading,
    how_to,
    line_heading,
    middle_in_words,
)
from spinefit.errors import FieldError
from spinefit.say.phrasing import bare_mm, visible

__all__ = ["worksheet_scenes"]

_ABOVE_MM = 21.0  # title and the word HEAD
_BELOW_MM = 22.0  # the word TAIL and the bar
_HEIGHTS_MM = 16.0  # figures beside the pattern
_GUTTER_MM = 10.0
_NARROWEST_MM = 62.0  # a column of words
_USUAL = ("A4", "A3")
_ROW_MM = 4.6
_TABLE = (("no.", 9.0), ("letter", 22.0), ("from middle", 44.0), ("by count", 62.0),
          ("width", 76.0), ("from head", 94.0))  # fmt: skip
_TABLE_MM = 94.0
_CAPTION = (
    "In mm from the middle of the panel to the middle of each letter, to the left below zero; by "
    "count: at equal places."
)


def worksheet_scenes(worksheet: Worksheet, *, paper: str | None = None) -> tuple[Scene, ...]:
    """The pages of a worksheet.

    Args:
        worksheet: the letters and their places.
        paper: as typed; None for the smaller of A4 and A3 that holds the pattern, or else a
            sheet of its own size.

    Raises:
        FieldError: no such paper, or the pattern is larger.
    """
    pattern = pattern_of(worksheet)
    width_mm, height_mm = _sheet(pattern, paper)
    title = visible(worksheet.judged.layout.title.text)
    first, said = _pattern_page(worksheet, pattern, width_mm, height_mm)
    rest = _table_pages(worksheet, width_mm, height_mm, with_words=not said)
    described = (
        "Paper pattern at true size with guide lines, the middle of every letter and its order; "
        "the places in figures on the following page."
    )
    return tuple(
        Scene(width_mm, height_mm, f"Worksheet: {title}", described, held(items))
        for items in (first, *rest)
    )


def _sheet(pattern: Pattern, paper: str | None) -> tuple[float, float]:
    needed = (
        max(pattern.right - pattern.left + _HEIGHTS_MM, _TABLE_MM) + 2 * BENCH_MARGIN_MM,
        pattern.top - pattern.bottom + _ABOVE_MM + _BELOW_MM + 2 * BENCH_MARGIN_MM,
    )
    sheets = paper_sizes(_USUAL if paper is None else (paper,))
    for width_mm, height_mm, _name in sheets:
        if needed[0] <= width_mm and needed[1] <= height_mm:
            return width_mm, height_mm
    if paper is None:
        least = sheets[0]
        return (max(least[0], round(needed[0]) + 10.0), max(least[1], round(needed[1]) + 10.0))
    raise FieldError(
        f"the pattern needs a sheet of {needed[0]:.0f} x {needed[1]:.0f} mm",
        value=paper,
        where="--paper",
        remedy="take a larger paper, or leave --paper out for a sheet of its own size",
    )


def _pattern_page(
    worksheet: Worksheet, pattern: Pattern, width_mm: float, height_mm: float
) -> tuple[tuple[Item, ...], bool]:
    """The first page, and whether it has the words."""
    origin = (BENCH_MARGIN_MM - pattern.left, height_mm - BENCH_MARGIN_MM - _ABOVE_MM - pattern.top)
    left, right = BENCH_MARGIN_MM, origin[0] + pattern.right
    top, bottom = origin[1] + pattern.top, origin[1] + pattern.bottom
    middle = origin[0]
    title = bench_title(heading(worksheet), height_mm)
    items: list[Item] = [
        title,
        _above(_head_words(pattern), pattern, origin),
        Text((middle, bottom - 6.6), "TAIL", WORDS_MM, "middle", bold=True),
        Group("pattern", moved(pattern.items, origin)),
        *check_bar((left, BENCH_MARGIN_MM + 6.0)),
    ]
    words = _words_in_room(worksheet, (left, bottom, right, top), width_mm)
    return (*items, Group("how-to", tuple(words))), bool(words)


def _words_in_room(
    worksheet: Worksheet, box: tuple[float, float, float, float], width_mm: float
) -> list[Item]:
    """How to use the pattern, beside it or below it; nothing where there is room for neither."""
    left, bottom, right, top = box
    beside = right + _HEIGHTS_MM + _GUTTER_MM
    room_mm = width_mm - BENCH_MARGIN_MM - beside
    if room_mm >= _NARROWEST_MM:
        words, end = column(_words(worksheet), (beside, top - 1.0), room_mm)
    else:
        room_mm = width_mm - 2 * BENCH_MARGIN_MM
        words, end = column(_words(worksheet), (left, bottom - _BELOW_MM), room_mm)
    return words if end > BENCH_MARGIN_MM + _BELOW_MM / 2 else []


def _head_words(pattern: Pattern) -> str:
    if pattern.head_mm is None or pattern.head_mm < 0.05:
        return "HEAD"
    return f"{bare_mm(pattern.head_mm)} mm to the HEAD"


def _above(words: str, pattern: Pattern, origin: tuple[float, float]) -> Text:
    """Words over the pattern's middle, or from its left where they are wider than it."""
    x, y = origin[0], origin[1] + pattern.top + 4.2
    if text_width_mm(words, WORDS_MM, bold=True) > pattern.right - pattern.left:
        return Text((x + pattern.left, y), words, WORDS_MM, bold=True)
    return Text((x, y), words, WORDS_MM, "middle", bold=True)


def _words(worksheet: Worksheet) -> list[str | tuple[str, bool]]:
    return [
        ("How to use the pattern", True),
        *how_to(worksheet),
        ("Mind", True),
        *cautions(worksheet),
    ]


def _table_pages(
    worksheet: Worksheet, width_mm: float, height_mm: float, *, with_words: bool
) -> list[tuple[Item, ...]]:
    """Every letter in figures, and the words where the first page has no room for them."""
    title = bench_title(heading(worksheet), height_mm)
    start_y = height_mm - BENCH_MARGIN_MM - 14.0
    columns = max(1, int((width_mm - 2 * BENCH_MARGIN_MM + _GUTTER_MM) // (_TABLE_MM + _GUTTER_MM)))
    caption, below = column([_CAPTION], (BENCH_MARGIN_MM, start_y), width_mm - 2 * BENCH_MARGIN_MM)
    pages: list[list[Item]] = [[title, *caption]]
    flow = _Flow(columns, below - _ROW_MM + WORDS_MM * 0.1, BENCH_MARGIN_MM)
    for line_number, line in enumerate(worksheet.lines, 1):
        for page, x, y, row in flow.rows(_rows(line_number, line, worksheet)):
            while len(pages) <= page:
                pages.append([title])
            pages[page] += _row(row, x, y)
    if with_words:
        room_mm = width_mm - 2 * BENCH_MARGIN_MM
        words, end = column(_words(worksheet), (BENCH_MARGIN_MM, flow.lowest - 6.0), room_mm)
        if end < BENCH_MARGIN_MM:
            words, _end = column(_words(worksheet), (BENCH_MARGIN_MM, start_y), room_mm)
            pages.append([title])
        pages[-1].append(Group("how-to", tuple(words)))
    return [tuple(page) for page in pages]


class _Row(NamedTuple):
    """Words over the whole width of the table, or its cells."""

    words: str = ""
    bold: bool = False
    cells: tuple[str, ...] = ()
    ruled: bool = False


class _Flow:
    """Where rows stand that fill columns, then pages."""

    def __init__(self, columns: int, top: float, bottom: float) -> None:
        self._columns, self._top, self._bottom = columns, top, bottom
        self._page, self._column, self._y = 0, 0, top
        self.lowest = top

    def rows(self, rows: Sequence[_Row]) -> list[tuple[int, float, float, _Row]]:
        """Page, x and y of each row; a heading is not left alone at the foot of a column."""
        found = []
        for number, row in enumerate(rows):
            needed = 4 * _ROW_MM if number == 0 else 0.0
            if self._y - needed < self._bottom:
                self._next()
            x = BENCH_MARGIN_MM + self._column * (_TABLE_MM + _GUTTER_MM)
            found.append((self._page, x, self._y, row))
            self._y -= _ROW_MM
            self.lowest = min(self.lowest, self._y)
        self._y -= _ROW_MM * 0.8
        return found

    def _next(self) -> None:
        self._column += 1
        self._y = self._top
        if self._column == self._columns:
            self._page, self._column, self.lowest = self._page + 1, 0, self._top


def _rows(number: int, line: StruckLine, worksheet: Worksheet) -> list[_Row]:
    """The heading of a line, its middle, and a row a letter."""
    along = any(letter.from_head_mm is not None for letter in line.letters)
    names = tuple(name for name, _x in _TABLE)
    return [
        _Row(words=line_heading(number, line, worksheet), bold=True),
        _Row(words=middle_in_words(line)),
        _Row(cells=names if along else names[:-1], ruled=True),
        *(
            _Row(
                cells=(
                    f"{letter.number}",
                    "space" if letter.is_space else visible(letter.letter),
                    as_figure(letter.from_middle_mm),
                    as_figure(letter.by_count_mm),
                    "" if letter.is_space else f"{letter.width_mm:.2f}",
                    "" if letter.from_head_mm is None else f"{letter.from_head_mm:.1f}",
                )
            )
            for letter in line.letters
        ),
    ]


def _row(row: _Row, x: float, y: float) -> list[Item]:
    if row.words:
        return [Text((x, y), row.words, WORDS_MM, bold=row.bold)]
    items: list[Item] = [
        Text((x + right, y), said, WORDS_MM, "end")
        for said, (_name, right) in zip(row.cells, _TABLE, strict=False)
        if said
    ]
    if row.ruled:
        width_mm = _TABLE[len(row.cells) - 1][1]
        items.append(Line(((x, y - 1.2), (x + width_mm, y - 1.2)), CUT))
    return items
