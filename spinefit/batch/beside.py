"""How do results stand in a workbook, beside the rows that they belong to?

In: rows that were held, and the workbook that they were read from, if it was one. Out: that
workbook with the answer's columns to the right of what it holds (those of an earlier run are
written anew where they stand), or a new one of all columns of the table and these. What openpyxl
does not keep is named in `Book.lost` before a row is read. A text is a text whatever it begins
with. A verdict stands in words, and its colour says the same again: our own colours, of a contrast
of 7 to 1 or more (WCAG 2.2, 1.4.6).
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterable, Iterator, Mapping, Sequence
from copy import copy
from io import BytesIO
from itertools import repeat
from textwrap import wrap
from typing import IO, Any
from zipfile import ZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.formula.translate import Translator
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.dimensions import ColumnDimension
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.table import TableColumn

from spinefit.batch.columns import earlier_answers
from spinefit.batch.model import Settings
from spinefit.batch.results import headings, value_in
from spinefit.batch.stored import values_read, with_values
from spinefit.errors import FieldError, OutputError, one_line

INKS = {
    "fits": ("DCE8D6", "1E3B1A"),
    "tight": ("F1E2B0", "463100"),
    "does not fit": ("EBCFC4", "571808"),
    "at fault": ("D9D9E3", "20203A"),
}
"""Of each verdict the ground of its cell and its letters."""

_HEADING = "E6E2D8"
_MOST_ROWS, _MOST_COLUMNS = 1_048_576, 16_384
_LARGEST = 1 << 27  # bytes unpacked: two million cells, a gigabyte of memory
_LONGEST = 32_767  # characters of a cell
_PROSE = {"lines": 30.0, "answer": 64.0, "warnings": 64.0, "mind": 40.0, "error": 40.0}  # widths
_LAST = {"warnings"}  # of these what stands behind the figures
_WIDTHS = {"lines": 30.0, "verdict": 14.0, "method": 18.0, "orientation": 14.0, "reading": 13.0}
_WIDEST = 40.0
_SIZE_PT, _LEADING = 11.0, 1.3  # of the letters of a cell
_LETTERS = 1.1  # to a unit of width, which is that of a figure
_FORMATS = {"largest_pt": "0.000"}  # a limit is never shown larger than it is
_FORMAT = "0.00"
_FOLDERS = "worksheets|chartsheets|theme|media|charts|tables|pivotTables|pivotCache|externalLinks"
_KEPT = re.compile(
    r"\[Content_Types\]\.xml|(.*/)?_rels/.*|docProps/.*|xl/(workbook|styles|sharedStrings|calcChain)"
    rf"\.xml|xl/({_FOLDERS}|printerSettings|drawings)/.*|xl/comments.*"
)  # parts that openpyxl writes again, or that nobody misses
_LOST = {
    "xl/vbaProject": "macros", "xl/ctrlProps": "form controls", "xl/activeX": "form controls",
    "xl/embeddings": "embedded objects", "xl/slicer": "slicers", "xl/timeline": "timelines",
    "xl/threadedComments": "threads of comments", "xl/persons": "threads of comments",
    "xl/connections": "data connections", "xl/queryTables": "data connections",
}  # fmt: skip
_SHAPES = re.compile(rb"<(\w+:)?(sp|grpSp|cxnSp)[ >]")
_PICTURES = ("png", "jpeg", "gif", "bmp", "tiff")  # others cannot be written
_VALUES_LOST = (
    "stored values of formulas: open and save it once in a spreadsheet before it is read here again"
)
_OTHER_VALUES_LOST = (
    "stored values of formulas that are not read here, until a spreadsheet opens it"
)
_OF_OLD = "Workbook contains no default style"  # and nothing is lost by that


class Book:
    """A workbook that results are written into.

    Args:
        settings: what holds for every row.
        source: the workbook that the rows are read from; None for a new one.
        meanings: what each of its columns means; "" where nothing to the check.

    Raises:
        FieldError: there is no room beside its rows, or they cannot be sorted.
        OutputError: it cannot be opened to be written into.

    Attributes:
        lost: what the source has and the new one will not have.
    """

    def __init__(
        self, settings: Settings, source: IO[bytes] | None, meanings: Sequence[str] = ()
    ) -> None:
        self._settings = settings
        self._styles: dict[object, Any] = {}
        self._said: set[str] = set()  # columns of prose in which anything stands
        self._is_new = source is None
        self.lost: list[str] = []
        self._stored: Mapping[str, object] = {}
        if source is None:
            self._book, self._top = Workbook(), 1
            self._sheet: Any = self._book.worksheets[0]
            self._sheet.title = "Books"
            self._last = len(settings.kept)  # the last column that is not ours
            names: list[str] = []
        else:
            self._book, self.lost = _opened(source)
            self._sheet, self._top = self._book[settings.style.sheet], settings.style.heading_row
            self._last = self._last_used()
            row = self._sheet.iter_rows(self._top, self._top, max_col=self._last, values_only=True)
            names = ["" if value is None else str(value) for value in next(row)]
            if settings.sort:
                self._refuse_unsortable()
            else:
                self._stored = values_read(source, self._sheet, self._top, meanings)
            self._tell_of_formulas()
        own = {names[at]: at + 1 for at in earlier_answers(names)}
        free = iter(range(self._last + 1, _MOST_COLUMNS + 1))
        try:
            # The column of each result: where an earlier run had it, or behind all others.
            self._places = {
                name: own.pop(heading, 0) or next(free)
                for name, heading in headings(settings).items()
            }
        except StopIteration:
            raise FieldError("no room beside the rows", where=settings.style.sheet) from None
        self._end = max(*self._places.values(), self._last)
        self._idle = [at for name, at in own.items() if name not in ("line", "title")]

    def _last_used(self) -> int:
        """The last column that holds anything, from the heading down."""
        sheet, cells = self._sheet, self._sheet._cells.items()
        used = [at for (row, at), one in cells if row >= self._top and one.value is not None]
        ranges = [CellRange(one.ref) for one in sheet.tables.values()]
        ranges += sheet.merged_cells.ranges
        used += (one.max_col for one in ranges if one.max_row >= self._top)
        return max(used, default=1)

    def _tell_of_formulas(self) -> None:
        """Name among what is lost the stored values that are not kept."""
        sheets: Iterable[Any] = self._book.worksheets
        cells = (one for sheet in sheets for one in sheet._cells.values())
        count = sum(one.data_type == "f" for one in cells)
        if count > len(self._stored):
            self.lost.append(_VALUES_LOST if self._settings.sort else _OTHER_VALUES_LOST)

    def _refuse_unsortable(self) -> None:
        """Refuse to sort rows whose cells hang together.

        Raises:
            FieldError: cells below the heading are merged, or a formula fills several.
        """
        found = [one.coord for one in self._sheet.merged_cells.ranges if one.max_row > self._top]
        cells = (one for one in self._sheet._cells.values() if one.data_type == "f")
        found += (one.coordinate for one in cells if not isinstance(one.value, str))
        if found:
            raise FieldError(
                "merged cells, or those of one formula, would come apart", value=found[0],
                where="--sort", remedy="part them in the workbook, or leave out --sort",
            )  # fmt: skip

    def filled(self, rows: Iterable[Any]) -> bytes:
        """The workbook with the results in it.

        Args:
            rows: as of `held.cells_of`, in their order.

        Raises:
            OutputError: more rows than a sheet holds, or openpyxl cannot write it.
        """
        for at in self._idle:
            for row in range(self._top, self._sheet.max_row + 1):
                self._sheet.cell(row, at).value = None
        lines: list[int] = []
        for line, kept, values in rows:
            row = self._top + 1 + len(lines) if self._is_new else line
            if row > _MOST_ROWS:
                raise OutputError(
                    f"more than {_MOST_ROWS} rows", where="--output",
                    remedy="a workbook has no room for them; let it end in .csv",
                )  # fmt: skip
            lines.append(row)
            self._carry(row, kept)
            high = max(map(self._put, repeat(row), self._places, values))
            if high > 1:
                needed = high * (self._sheet.cell(row, 1).font.size or _SIZE_PT) * _LEADING
                given = self._sheet.row_dimensions[row].height or 0.0
                self._sheet.row_dimensions[row].height = max(given, needed)
        if not self._is_new and self._settings.sort:
            self._reorder(lines)
        self._head()
        self._frame(max(lines, default=self._top))
        self._to_print()
        made = BytesIO()
        try:
            self._book.save(made)
        except Exception as fault:  # of a part that openpyxl has read, not understood
            raise OutputError(
                f"the workbook cannot be written ({one_line(str(fault))})", where="--output",
                remedy="let it end in .csv",
            ) from None  # fmt: skip
        at = self._book.worksheets.index(self._sheet) + 1
        return with_values(made, f"xl/worksheets/sheet{at}.xml", self._stored)

    def _carry(self, row: int, kept: Sequence[str]) -> None:
        """The cells of a row of a new workbook: measures as figures, all else as text."""
        measures, comma = self._settings.measures, self._settings.style.decimal_comma
        for at, (name, text) in enumerate(zip(self._settings.kept, kept, strict=False), 1):
            found = value_in(text, comma=comma) if name in measures else text
            cell = self._sheet.cell(row, at)
            _set(cell, found)
            cell.alignment = Alignment(vertical="top")

    def _put(self, row: int, name: str, value: str | float | None) -> int:
        """Write a result, lettered as the first cell of its row; how many lines it takes."""
        cell, first = self._sheet.cell(row, self._places[name]), self._sheet.cell(row, 1)
        _set(cell, value)
        own = value if name == "verdict" else ""
        look = (name, own, first.style_id)
        if look not in self._styles:
            ground, letters = INKS.get(str(own), ("", ""))
            cell.font = _font(first, letters) if ground else copy(first.font)
            cell.fill = PatternFill("solid", fgColor=ground) if ground else PatternFill()
            vertical = "top" if self._is_new else first.alignment.vertical
            figure = name.endswith(("_pt", "_mm"))
            cell.alignment = Alignment(
                horizontal=None if figure else "left", vertical=vertical,
                wrap_text=name in _PROSE, indent=int(not figure),
            )  # fmt: skip
            cell.border = copy(first.border)
            cell.number_format = _FORMATS.get(name, _FORMAT) if figure else "General"
            self._styles[look] = copy(cell._style)
        quoted = cell.quotePrefix
        cell._style = copy(self._styles[look])
        cell.quotePrefix = quoted
        if name not in _PROSE or not value:
            return 1
        self._said.add(name)
        return len(wrap(str(value), int(_PROSE[name] * _LETTERS)))

    def _reorder(self, lines: Sequence[int]) -> None:
        """Put the rows of the books, in the order given, where the rows of the books are."""
        sheet, places = self._sheet, dict(zip(lines, sorted(lines), strict=True))
        heights = {line: (dim.height, dim.hidden) for line, dim in sheet.row_dimensions.items()}
        moved = {}
        for row, column in list(sheet._cells):
            if places.get(row, row) != row:
                moved[row, column] = sheet._cells.pop((row, column))
        for (row, column), cell in moved.items():
            to = places[row]
            if cell.data_type == "f":
                formula = Translator(cell.value, cell.coordinate)
                cell.value = formula.translate_formula(row_delta=to - row)
            cell.row = to
            sheet._cells[to, column] = cell
            if cell.hyperlink is not None:
                cell.hyperlink.ref = cell.coordinate
        for row, to in places.items():
            height, hidden = heights.get(row, (None, False))
            if to in heights or row in heights:
                sheet.row_dimensions[to].height, sheet.row_dimensions[to].hidden = height, hidden

    def _head(self) -> None:
        """The headings, lettered as those beside them are."""
        names = headings(self._settings)
        cells = [(self._places[name], heading) for name, heading in names.items()]
        if self._is_new:
            cells += enumerate(self._settings.kept, 1)
        beside = self._sheet.cell(self._top, max(self._last, 1))
        for at, heading in cells:
            cell = self._sheet.cell(self._top, at)
            _set(cell, heading)
            if self._is_new:
                cell.font, cell.fill = _font(cell, None), PatternFill("solid", fgColor=_HEADING)
                cell.alignment = Alignment(vertical="bottom", wrap_text=True)
            else:
                cell._style = copy(beside._style)

    def _frame(self, bottom: int) -> None:
        """What helps to read it: widths, a heading that stays, filters over our columns too."""
        sheet = self._sheet
        if sheet.freeze_panes is None:
            sheet.freeze_panes = f"A{self._top + 1}"
        for name, at in self._places.items():
            if at > self._last:
                wide = _WIDTHS.get(name.rpartition("_")[2], len(name) + 2.0)
                _widen(sheet, at, _PROSE[name] if name in self._said else wide)
        if self._is_new:
            for at in range(1, self._last + 1):
                cells = (sheet.cell(row, at).value for row in range(1, bottom + 1))
                longest = max(len(str(value)) for value in cells if value is not None)
                _widen(sheet, at, min(longest + 2, _WIDEST))
            sheet.auto_filter.ref = f"A1:{get_column_letter(self._end)}{bottom}"
        elif sheet.auto_filter.ref:
            sheet.auto_filter.ref = self._wider(sheet.auto_filter.ref)
        for table in sheet.tables.values():
            wider = self._wider(table.ref)
            if wider != table.ref:
                number = max(one.id for one in table.tableColumns)
                for at in range(self._last + 1, self._end + 1):
                    number += 1
                    name = sheet.cell(self._top, at).value
                    table.tableColumns.append(TableColumn(id=number, name=name))
                table.ref = wider
                if table.autoFilter is not None:
                    table.autoFilter.ref = self._wider(table.autoFilter.ref)

    def _to_print(self) -> None:
        """The rows as far as a page can be read, below the heading on each, unless it is said."""
        sheet, fit = self._sheet, self._sheet.sheet_properties.pageSetUpPr
        scaled = sheet.page_setup.scale not in (None, 100)
        said = sheet.print_area or scaled or (fit and fit.fitToPage)
        if said or sheet.col_breaks.brk:
            return
        end = max(
            at for name, at in self._places.items() if name in ("answer", *self._said - _LAST)
        )
        sheet.print_area = f"A1:{get_column_letter(max(end, self._last))}{sheet.max_row}"
        sheet.print_title_rows = sheet.print_title_rows or f"{self._top}:{self._top}"
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0  # as many as there are
        sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)

    def _wider(self, ref: str) -> str:
        """A range below our heading that ended where our columns begin, with these."""
        _left, top, right, _bottom = range_boundaries(ref)
        if (top, right) != (self._top, self._last):
            return ref
        wider = CellRange(ref)
        wider.expand(right=self._end - self._last)
        return wider.coord


def _font(like: Any, color: str | None) -> Font:
    return Font(name=like.font.name, size=like.font.size, bold=True, color=color)


def _set(cell: Any, value: str | float | None) -> None:
    """Put a value into a cell; a text there is never a formula, nor becomes one when edited."""
    if not isinstance(value, str):
        cell.value = value
        return
    text = ILLEGAL_CHARACTERS_RE.sub(lambda found: one_line(found[0]), value)
    cell.value = text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
    cell.data_type = "s" if text else "n"
    cell.quotePrefix = text.startswith(("=", "+", "-", "@"))


def _widen(sheet: Any, at: int, width: float) -> None:
    """Give a column a width of its own, apart from others that shared one with it."""
    for shared in sheet.column_dimensions.values():
        if shared.min is not None and shared.min < at <= shared.max:
            shared.max = at - 1
    letter = get_column_letter(at)
    sheet.column_dimensions[letter] = ColumnDimension(sheet, letter, width=width)


def _opened(source: IO[bytes]) -> tuple[Workbook, list[str]]:
    """A workbook, and what of it is lost.

    Raises:
        OutputError: openpyxl cannot open it, or it would fill the memory.
    """
    try:
        lost = [*_parts_lost(source)]
        with warnings.catch_warnings(record=True) as said:
            warnings.simplefilter("always", UserWarning)
            book = load_workbook(source, rich_text=True)
    except Exception as fault:  # whatever a strange file makes openpyxl say
        raise OutputError(
            f"the workbook cannot be written into ({one_line(str(fault))})", where="--output",
            remedy="let it end in .csv",
        ) from None  # fmt: skip
    messages = (str(one.message) for one in said if one.category is UserWarning)
    lost += (one.partition(" is not supported")[0] for one in messages if _OF_OLD not in one)
    sheet: Any
    for sheet in book.worksheets:
        drawn = [one for one in sheet._images if one.format.casefold() in _PICTURES]
        lost += ["vector pictures"] * (len(drawn) < len(sheet._images))
        sheet._images = drawn
    return book, [*dict.fromkeys(lost)]


def _parts_lost(source: IO[bytes]) -> Iterator[str]:
    """The parts of a workbook that openpyxl leaves out."""
    with ZipFile(source) as parts:
        if sum(one.file_size for one in parts.infolist()) > _LARGEST:
            raise ValueError(f"more than {_LARGEST >> 20} MB of XML")
        for name in parts.namelist():
            if not _KEPT.fullmatch(name):
                yield next((what for begin, what in _LOST.items() if name.startswith(begin)), name)
            elif re.fullmatch(r"xl/drawings/[^/]*\.xml", name) and _SHAPES.search(parts.read(name)):
                yield "drawn shapes"
