"""On which sheets is the worksheet for hand letters or type printed?

In: a `Worksheet` and a paper. Out: scenes in mm, a page each: the pattern at true size with how
to use it, then the place of every letter in figures. The pattern is never shrunk: where it is
larger than the paper that was asked for, that is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from spinefit.drawing.marks import CUT, WORDS_MM, column, held, text_width_mm, wrapped
from spinefit.drawing.paper import BENCH_MARGIN_MM, bench_title, check_bar, paper_sizes
from spinefit.drawing.scene import Group, Item, Line, Scene, Text, moved
from spinefit.drawing.struck import StruckLine
from spinefit.drawing.worksheet_pattern import Pattern, pattern_of
from spinefit.drawing.worksheet_places import Worksheet
from spinefit.drawing.worksheet_words import (
    cautions,
    heading,
    how_to,
    letter_cells,
    line_heading,
    middle_in_words,
    rules_in_words,
    warnings,
)
from spinefit.errors import FieldError
from spinefit.say.phrasing import bare_mm, visible

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
    first, has_words = _pattern_page(worksheet, pattern, width_mm, height_mm)
    rest = _table_pages(worksheet, width_mm, height_mm, with_words=not has_words)
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
    """The first page, and whether it has the words how to use it, beside or below the pattern."""
    origin = (BENCH_MARGIN_MM - pattern.left, height_mm - BENCH_MARGIN_MM - _ABOVE_MM - pattern.top)
    top, bottom = origin[1] + pattern.top, origin[1] + pattern.bottom
    beside = origin[0] + pattern.right + _HEIGHTS_MM + _GUTTER_MM
    at, room_mm = (beside, top - 1.0), width_mm - BENCH_MARGIN_MM - beside
    if room_mm < _NARROWEST_MM:
        at, room_mm = (BENCH_MARGIN_MM, bottom - _BELOW_MM), width_mm - 2 * BENCH_MARGIN_MM
    words, end = column(_words(worksheet), at, room_mm)
    has_room = end > BENCH_MARGIN_MM + _BELOW_MM / 2
    items = (
        _titled(worksheet, height_mm),
        _head(pattern, origin),
        Text((origin[0], bottom - 6.6), "TAIL", WORDS_MM, "middle", bold=True),
        Group("pattern", moved(pattern.items, origin)),
        *check_bar((BENCH_MARGIN_MM, BENCH_MARGIN_MM + 6.0)),
        Group("how-to", tuple(words if has_room else ())),
    )
    return items, has_room


def _titled(worksheet: Worksheet, height_mm: float) -> Item:
    return bench_title(heading(worksheet), height_mm, worksheet.answer.job.commission.on_paper)


def _head(pattern: Pattern, origin: tuple[float, float]) -> Text:
    """How far the head is, over the pattern's middle, or from its left where that is narrower."""
    (x, y), words = (origin[0], origin[1] + pattern.top + 4.2), "HEAD"
    if pattern.head_mm is not None and pattern.head_mm >= 0.05:
        words = f"{bare_mm(pattern.head_mm)} mm to the HEAD"
    if text_width_mm(words, WORDS_MM, bold=True) > pattern.right - pattern.left:
        return Text((x + pattern.left, y), words, WORDS_MM, bold=True)
    return Text((x, y), words, WORDS_MM, "middle", bold=True)


def _words(worksheet: Worksheet) -> list[str | tuple[str, bool]]:
    return [
        ("How to use the pattern", True),
        *how_to(worksheet),
        ("Mind", True),
        *((warning, True) for warning in warnings(worksheet)),
        *cautions(worksheet),
    ]


def _table_pages(
    worksheet: Worksheet, width_mm: float, height_mm: float, *, with_words: bool
) -> list[tuple[Item, ...]]:
    """Every letter in figures, and the words where the first page has no room for them."""
    room_mm = width_mm - 2 * BENCH_MARGIN_MM
    start = (BENCH_MARGIN_MM, height_mm - BENCH_MARGIN_MM - 14.0)
    title = _titled(worksheet, height_mm)
    caption, below = column([_CAPTION], start, room_mm)
    columns = max(1, int((room_mm + _GUTTER_MM) // (_TABLE_MM + _GUTTER_MM)))
    table = _Table([title, *caption], title, columns, below - _ROW_MM + WORDS_MM * 0.1)
    for number, line in enumerate(worksheet.lines, 1):
        table.add(_rows(number, line, worksheet))
    for rule in rules_in_words(worksheet):
        words_in_table = wrapped(rule, WORDS_MM, _TABLE_MM, bold=True)
        table.add([(Text((0.0, 0.0), one, WORDS_MM, bold=True),) for one in words_in_table])
    if with_words:
        words, end = column(_words(worksheet), (BENCH_MARGIN_MM, table.lowest_mm - 6.0), room_mm)
        if end < BENCH_MARGIN_MM:
            words, _end = column(_words(worksheet), start, room_mm)
            table.pages.append([title])
        table.pages[-1].append(Group("how-to", tuple(words)))
    return [tuple(page) for page in table.pages]


class _Table:
    """Rows that fill columns, then pages.

    Args:
        above: what stands above the rows of the first page.
        title: what stands above those of any other.
        columns: how many columns stand side by side.
        top_mm: the baseline of the first row.
    """

    def __init__(self, above: Sequence[Item], title: Item, columns: int, top_mm: float) -> None:
        self.pages = [[*above]]
        self.lowest_mm = top_mm
        self._title, self._columns, self._top_mm = title, columns, top_mm
        self._column, self._y_mm = 0, top_mm

    def add(self, rows: Sequence[tuple[Item, ...]]) -> None:
        """Rows that belong together; the first is not left alone at the foot of a column."""
        for number, row in enumerate(rows):
            needed_mm = 4 * _ROW_MM if number == 0 else 0.0
            if self._y_mm - needed_mm < BENCH_MARGIN_MM:
                self._next_column()
            x_mm = BENCH_MARGIN_MM + self._column * (_TABLE_MM + _GUTTER_MM)
            self.pages[-1] += moved(row, (x_mm, self._y_mm))
            self._y_mm -= _ROW_MM
            self.lowest_mm = min(self.lowest_mm, self._y_mm)
        self._y_mm -= _ROW_MM * 0.8

    def _next_column(self) -> None:
        self._column, self._y_mm = self._column + 1, self._top_mm
        if self._column == self._columns:
            self._column, self.lowest_mm = 0, self._top_mm
            self.pages.append([self._title])


def _rows(number: int, line: StruckLine, worksheet: Worksheet) -> list[tuple[Item, ...]]:
    """The heading of a line, its middle, and a row a letter, each from its left end on y = 0."""
    along = any(letter.from_head_mm is not None for letter in line.letters)
    shown = _TABLE if along else _TABLE[:-1]
    rule = Line(((0.0, -1.2), (shown[-1][1], -1.2)), CUT)
    words = line_heading(number, line, worksheet)
    return [
        (Text((0.0, 0.0), words, WORDS_MM, bold=True),),
        (Text((0.0, 0.0), middle_in_words(line), WORDS_MM),),
        (*_cells(name for name, _right in shown), rule),
        *(
            _cells(
                (
                    *letter_cells(letter),
                    "" if letter.from_head_mm is None else f"{letter.from_head_mm:.1f}",
                )
            )
            for letter in line.letters
        ),
    ]


def _cells(texts: Iterable[str]) -> tuple[Item, ...]:
    return tuple(
        Text((right, 0.0), text, WORDS_MM, "end")
        for text, (_name, right) in zip(texts, _TABLE, strict=False)
        if text
    )
