"""Which books stand in a sheet of a workbook?

In: the bytes of an Office Open XML workbook. Out: what its columns mean, its `Row`s as they come
and in which form it is. Words and call numbers are what is displayed, measures numbers, in the unit
that their format writes; a formula is the value stored with it. Rows and columns that are hidden
are read; a cell that others below are merged with stands for all of them; what stands right of the
last column is passed over. A damaged file, a huge one or another kind of file is refused in one
line.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from functools import cache
from itertools import islice
from typing import IO, Any, NamedTuple
from zipfile import ZipFile

from openpyxl import load_workbook
from openpyxl.cell.read_only import ReadOnlyCell
from openpyxl.styles.numbers import is_date_format
from openpyxl.utils.cell import column_index_from_string, get_column_letter
from openpyxl.utils.datetime import from_excel
from openpyxl.utils.escape import unescape
from openpyxl.worksheet._reader import DATA_TAG, FORMULA_TAG, ROW_TAG, WorkSheetParser
from openpyxl.xml.functions import iterparse

from spinefit.batch.columns import FIELD_NAMES
from spinefit.batch.displayed import beside_figures, plain, shown
from spinefit.batch.heading import HEADINGS_SOUGHT, Columns, has_title, heading_sought
from spinefit.batch.model import Fault, Row, TableOptions, TableStyle
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import FIELDS
from spinefit.vocabulary import Role

_SAVE_AS = "save it as .xlsx, or the sheet as CSV"
_LARGEST_SHEET = 1 << 30  # bytes: a million rows of a dozen cells
_LARGEST_PART = 1 << 26  # of all others, which are held: the texts of a million cells
_LARGEST_ROW = 1 << 24  # of a sheet's XML
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*?ref="([A-Z]+)(\d+):([A-Z]+)(\d+)"')
_WORDS = frozenset(field.name for field in FIELDS if field.kind.metavar == "TEXT")
_NUMBERS = FIELD_NAMES - _WORDS
_NO_VALUE = (
    "a formula without a stored value; open and save the workbook once in a spreadsheet, or type it"
)
_STRANGE = "a format that may look otherwise elsewhere: '{}'; format the cell as text and type it"
_DATE = "a date, as 3/8 becomes where it is typed; format the cell as text, or give decimals"


class _Cell(NamedTuple):
    """A cell as it stands.

    Attributes:
        value: a text, number, truth or date.
        kind: of its value, as the file has it: e for an error, f for a formula without one.
        form: its number format.
    """

    value: Any
    kind: str
    form: str

    @property
    def text(self) -> str:
        """What is displayed, or what comes nearest to that."""
        found = shown(self.value, self.form)
        return plain(self.value) if found is None else found

    def read(self, meaning: str) -> object:
        """What it says in a column; as a FieldError what keeps it from saying anything."""
        if self.kind in "ef":
            what = _NO_VALUE if self.kind == "f" else f"an error, {self.value}; mend its formula"
            raise FieldError(what)
        number = not isinstance(self.value, bool | str | date)
        if meaning in _NUMBERS:
            if isinstance(self.value, date):
                raise FieldError(_DATE)
            unit = beside_figures(self.form) if number else ""
            return f"{plain(self.value)}{unit}" if unit else self.value
        if meaning == Role.CALL_NUMBER and number and self.form == "General":
            return self.value
        found = shown(self.value, self.form)
        if found is None:
            raise FieldError(_STRANGE.format(self.form))
        return found


Cells = Mapping[int, _Cell]


def read_workbook(
    stream: IO[bytes], name: str, options: TableOptions
) -> tuple[Columns, TableStyle, Iterator[Row], tuple[str, ...]]:
    """The columns of a sheet, its form, its rows, and a note where others have rows too.

    Args:
        stream: the bytes, which can be sought in.
        name: the file, for messages.
        options: how it is to be read.

    Raises:
        FieldError: no workbook, or one that cannot be read; no such sheet; a heading that cannot
            be understood.
    """
    with _damage(name):
        _refuse_no_workbook(stream, name)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about what nobody asked of it
            book = load_workbook(stream, read_only=True, data_only=True, keep_links=False)
        sheets = {one.title: _Sheet(one) for one in book.worksheets}
        visible = [one.title for one in book.worksheets if one.sheet_state == "visible"]
        tops = {title: sheets[title].top(options) for title in _wanted(sheets, visible, options)}
    filled = {title: top for title, top in tops.items() if top}
    if not filled:
        raise FieldError(
            "no cells to read" if options.heading_row is None else "no such line with names",
            value=options.heading_row, where=name, remedy="name another --sheet or --heading-row",
        )  # fmt: skip
    title = min(filled, key=lambda one: _rank(filled[one], options))
    (at, first), *_ = filled[title]
    rows = [(line, _names(cells)) for line, cells in filled[title]]
    with heading_sought(rows, options):
        columns = Columns.of(_names(first), options, f"{name}: sheet '{title}', row {at}")
    style = TableStyle(kind="xlsx", sheet=title, heading_row=at, heading=columns.typed)
    others = [f"'{one}'" for one in filled if one != title]
    note = f"sheet '{title}' is read; --sheet names another: {', '.join(others)}"
    return columns, style, sheets[title].books(columns, at, name), (note,) if others else ()


def _refuse_no_workbook(stream: IO[bytes], name: str) -> None:
    """Refuse other kinds of files, and those that would fill the memory."""
    if stream.read(2) != b"PK":
        locked = "EncryptedPackage".encode("utf-16-le") in stream.read(_LARGEST_PART)
        what = "a workbook under a password" if locked else "a workbook of an older form"
        raise FieldError(what, where=name, remedy="take it off" if locked else _SAVE_AS)
    with ZipFile(stream) as archive:
        names = archive.namelist()
        if not any(one.startswith("xl/") and one.endswith(".xml") for one in names):
            raise FieldError("a file that is no .xlsx", where=name, remedy=_SAVE_AS)
        for part in archive.infolist():
            sheet = part.filename.startswith("xl/worksheets/")
            if part.file_size > (_LARGEST_SHEET if sheet else _LARGEST_PART):
                raise FieldError(
                    f"a workbook with a part of {part.file_size} bytes", where=name,
                    value=part.filename, remedy="save the sheet as CSV",
                )  # fmt: skip


def _wanted(sheets: Mapping[str, object], visible: list[str], options: TableOptions) -> list[str]:
    if options.sheet is None:
        return visible or [*sheets]
    asked = options.sheet.strip().casefold()
    found = [title for title in sheets if title.strip().casefold() == asked]
    if not found:
        names = ", ".join(f"'{title}'" for title in sheets)
        raise FieldError(
            "no such sheet", value=options.sheet, where="--sheet", remedy=f"there are {names}"
        )
    return found


def _rank(top: list[tuple[int, Cells]], options: TableOptions) -> int:
    """0 for a sheet whose first row has a title, 1 where one below has, 2 for others."""
    titled = [has_title(_names(cells), options) for _, cells in top]
    return 0 if titled[0] else 2 - any(titled)


def _names(cells: Cells) -> list[str]:
    """The names of a heading, up to the last."""
    last = max((at for at, cell in cells.items() if cell.text.strip()), default=0)
    return [cells[at].text if at in cells else "" for at in range(1, last + 1)]


@contextmanager
def _damage(name: str) -> Iterator[None]:
    """While it lasts, whatever a strange file makes its readers say is one line."""
    try:
        yield
    except SpinefitError:
        raise
    except Exception as fault:  # of zip, XML and openpyxl, which name no common ground
        why = str(fault) or type(fault).__name__
        raise FieldError(
            f"the workbook cannot be read ({why})", where=name, remedy=_SAVE_AS
        ) from None


class _Merged(NamedTuple):
    """Cells that are one, by their columns from 1 and their last line."""

    left: int
    right: int
    bottom: int

    def is_across(self, meanings: Sequence[str]) -> bool:
        """Whether they hold every column that means something, several of them."""
        telling = [at for at, meaning in enumerate(meanings, 1) if meaning]
        return len(telling) > 1 and self.left <= telling[0] and telling[-1] <= self.right


class _Parser(WorkSheetParser):
    """Tells a formula whose value was not stored from an empty cell."""

    def parse_cell(self, element: Any) -> dict[str, Any]:
        """A cell; an empty text that a formula gives is no lack of one."""
        found: dict[str, Any] = super().parse_cell(element)
        formula = element.find(FORMULA_TAG)
        if formula is not None and found["value"] is None and element.get("t") != "str":
            found |= {"value": f"={formula.text or ''}", "data_type": "f"}
        return found


class _Metered:
    """A stream that ends where a single row is longer than any."""

    def __init__(self, source: IO[bytes]) -> None:
        self._source = source
        self.left = _LARGEST_ROW

    def read(self, size: int = -1) -> bytes:
        found = self._source.read(size)
        self.left -= len(found)
        if self.left < 0:
            raise ValueError(f"more than {_LARGEST_ROW} bytes without a row")
        return found


class _Sheet:
    """A sheet, read from its beginning as often as it is asked for.

    Args:
        sheet: as openpyxl has it.
    """

    def __init__(self, sheet: Any) -> None:
        self._sheet = sheet
        self._form = cache(self._form_of)

    def _form_of(self, style: int) -> str:
        return str(ReadOnlyCell(self._sheet, 1, 1, None, "n", style).number_format)

    def _rows(self) -> Iterator[tuple[int, Cells]]:
        """Line and cells by column, from 1, of each row that has some."""
        with self._sheet._get_source() as raw:
            source = _Metered(raw)
            parser = _Parser(source, self._sheet._shared_strings, data_only=True)
            data = None
            for event, element in iterparse(source, ("start", "end")):
                if event == "start" and element.tag == DATA_TAG:
                    data = element
                elif event == "end" and element.tag == ROW_TAG:
                    line, row = parser.parse_row(element)
                    cells = {one["column"]: self._cell(one) for one in row}
                    yield line, {at: cell for at, cell in cells.items() if cell is not None}
                    assert data is not None  # a row stands in it
                    data.clear()
                    parser.row_dimensions.clear()
                    source.left = _LARGEST_ROW
                elif event == "end" and element.tag == DATA_TAG:
                    return

    def _cell(self, found: Mapping[str, Any]) -> _Cell | None:
        value, form = found["value"], self._form(found["style_id"])
        if value is None or (isinstance(value, str) and not value.strip()):
            return None
        if isinstance(value, str):
            value = unescape(value)
        elif isinstance(value, int | float) and found["data_type"] == "n" and is_date_format(form):
            when = from_excel(value, self._sheet.parent.epoch)
            value = when if isinstance(when, date) else value
        if isinstance(value, datetime) and not (value.hour or value.minute or value.second):
            value = value.date()
        return _Cell(value, found["data_type"], form)

    def top(self, options: TableOptions) -> list[tuple[int, Cells]]:
        """The row of the heading and those below in which else it may be; none without cells.

        A heading in several lines is asked for by its last, and has names from those above.
        """
        number = options.heading_row
        own = self._rows() if number is None else self._in_lines(number)
        rows = ((line, cells) for line, cells in own if cells)
        found = list(islice(rows, 1 + HEADINGS_SOUGHT))
        return found if number is None or (found and found[0][0] == number) else []

    def _in_lines(self, number: int) -> Iterator[tuple[int, Cells]]:
        """The row of a number, with the names above it that are merged down to it, and the rest."""
        for line, cells, merged in self._beside_merged(self._merges(), 1):
            if line >= number:
                yield line, {**merged, **cells} if line == number and cells else cells

    def _merges(self) -> dict[int, list[_Merged]]:
        """The cells that are merged with others, by line."""
        found: dict[int, list[_Merged]] = {}
        with self._sheet._get_source() as source:
            rest = b""
            while more := source.read(1 << 20):
                rest += more
                end = 0
                for one in _MERGED.finditer(rest):
                    end, (left, top, right, bottom) = one.end(), one.groups()
                    first, last = (
                        column_index_from_string(side.decode()) for side in (left, right)
                    )
                    found.setdefault(int(top), []).append(_Merged(first, last, int(bottom)))
                rest = rest[max(end, len(rest) - 200) :]
        return found

    def books(self, columns: Columns, heading: int, name: str) -> Iterator[Row]:
        """The rows below the heading."""
        with _damage(name):
            merges = self._merges()
            for line, cells, merged in self._beside_merged(merges, heading + 1):
                if any(at <= len(columns.typed) for at in cells):
                    book = self._book(line, {**merged, **cells}, columns)
                    heads = len(cells) == 1 and any(
                        one.is_across(columns.names) for one in merges.get(line, ())
                    )
                    yield book._replace(heads=heads)

    def _beside_merged(
        self, merges: Mapping[int, list[_Merged]], first: int
    ) -> Iterator[tuple[int, Cells, Cells]]:
        """Its rows from one on, and what cells above say that are merged down to each."""
        held: dict[int, tuple[int, _Cell]] = {}
        for line, cells in self._rows():
            if line < first:
                continue
            held = {at: one for at, one in held.items() if one[0] >= line}
            yield line, cells, {at: cell for at, (_, cell) in held.items()}
            new = (one for one in merges.get(line, ()) if one.bottom > line and one.left in cells)
            held |= {one.left: (one.bottom, cells[one.left]) for one in new}

    def _book(self, line: int, cells: Cells, columns: Columns) -> Row:
        values: list[object] = [None] * len(columns.typed)
        texts = [""] * len(columns.typed)
        wrong = None
        for at, meaning in enumerate(columns.names):
            cell = cells.get(at + 1)
            if cell is None:
                continue
            texts[at] = cell.text
            try:
                values[at] = cell.read(meaning) if meaning else None
            except FieldError as fault:
                place = f"sheet '{self._sheet.title}', cell {get_column_letter(at + 1)}{line}"
                wrong = wrong or Fault(meaning, str(fault.at(place)))
        row = columns.row(line, values, texts, comma=True)
        wrong = wrong or columns.below_no_name(texts)
        return row if wrong is None else row._replace(fault=wrong)
