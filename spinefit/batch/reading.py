"""Which books stand in a table?

In: the bytes of a CSV (commas, semicolons or tabs between the cells, as the heading has it),
or JSON Lines. Out: its `Row`s as they come, none kept. A row that cannot be read is a row with
a fault, with its line; only a heading that cannot be understood ends the whole. Blank rows are
passed over. RFC 4180, with newlines inside quotes. What a cell says is for `cells`. Where
semicolons or tabs part the cells, figures may have decimal commas, as spreadsheets of many
countries write them. Files named in a row are looked for beside the table.
"""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import IO, Any, NamedTuple, NoReturn

from spinefit.batch.cells import cell_value
from spinefit.batch.columns import (
    CARRIED,
    EVERY,
    FIGURES,
    KNOWN,
    ON_COMMAND_LINE,
    Columns,
    plain_name,
    refuse_clash,
    use_of,
)
from spinefit.batch.model import Fault, Row
from spinefit.batch.text_stream import LONGEST_RECORD, Lines, TooLongError, unreadable
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.beside import FILE_FIELDS, beside

__all__ = ["Table", "read_table"]

_JSON_ENDINGS = (".jsonl", ".ndjson")
_TABS = (".tsv", ".tab")
_TOO_LONG = Fault("", f"more than {LONGEST_RECORD} characters in one row; is a quote left open?")
_QUOTES = "double a quote inside quotes, and end every quoted cell with one"


class Table(NamedTuple):
    """A table being read.

    Attributes:
        rows: its rows, one at a time.
        kept: names of the columns carried along.
        marked: whether it began with a byte order mark.
        lines: what it is read from, here so that it is not closed before its file is.
    """

    rows: Iterator[Row]
    kept: tuple[str, ...]
    marked: bool
    lines: Lines


def read_table(
    stream: IO[bytes], name: str, keep: Sequence[str] | None = (), *, folder: str = ""
) -> Table:
    r"""The rows of a table.

    Args:
        stream: its bytes, buffered.
        name: its file's name, for messages and for what its ending says.
        keep: columns to carry along, besides those always carried; None for no others.
        folder: where the files are looked for that its rows name; "" for the current one.

    Raises:
        FieldError: no heading, or one that cannot be understood.

    >>> from io import BufferedReader, BytesIO
    >>> stream = BufferedReader(BytesIO(b"title;width\nTide Tables;9mm\n"))
    >>> table = read_table(stream, "books.csv")
    >>> [(row.line, dict(row.cells)) for row in table.rows]
    [(2, {'title': 'Tide Tables', 'width': '9mm'})]
    """
    lines = Lines(stream, name)
    first = _first(lines, name)
    low = name.casefold()
    if low.endswith(_JSON_ENDINGS) or first.lstrip().startswith("{"):
        said = _JsonColumns.of(first, keep)
        return _placed(
            Table(_json_rows(lines, first, said), said.kept, lines.marked, lines), folder
        )
    delimiter = "\t" if low.endswith(_TABS) else _delimiter(first)
    if first.startswith("sep=") and len(first.rstrip("\r\n")) == 5:  # spreadsheets' own hint
        delimiter, first = first[4], next(lines, "")
    records = _Records(lines, first, delimiter)
    try:
        heading = next(records)
    except (csv.Error, TooLongError, StopIteration) as fault:
        raise FieldError(
            "the heading cannot be read", value=str(fault) or None, where=f"{name}:{lines.number}",
            remedy="the first line names the columns, such as: title,width,height",
        ) from None  # fmt: skip
    columns = Columns.of(heading, keep=keep, where=f"{name}:1")
    rows = _csv_rows(records, lines, columns, heading)
    if delimiter != ",":
        rows = map(_with_points, rows)
    return _placed(Table(rows, columns.kept_names, lines.marked, lines), folder)


def _placed(table: Table, folder: str) -> Table:
    """The table with the files its rows name looked for in a folder."""
    return table._replace(rows=(_beside(row, folder) for row in table.rows))


def _beside(row: Row, folder: str) -> Row:
    if _FILES.isdisjoint(row.cells):
        return row
    return row._replace(cells=beside(row.cells, folder))


_FILES = frozenset(FILE_FIELDS)


def _first(lines: Lines, name: str) -> str:
    try:
        for line in lines:
            if line.strip():
                return line
    except TooLongError:
        raise FieldError("the first line is too long", where=f"{name}:1") from None
    raise FieldError(
        "an empty table", where=name, remedy="the first line names the columns: title,width,height"
    )


def _delimiter(heading: str) -> str:
    """The one of comma, semicolon and tab that parts the most columns outside quotes."""
    plain = "".join(heading.split('"')[::2])
    return max(",;\t", key=plain.count)


class _Records(Iterator[list[str]]):
    """Records of a CSV; goes on behind one that cannot be read."""

    def __init__(self, lines: Lines, first: str, delimiter: str) -> None:
        self._lines = lines
        self._pending: str | None = first
        self._reader = csv.reader(self._source(), delimiter=delimiter, strict=True)

    def _source(self) -> Iterator[str]:
        return _Pushed(self._lines, self)

    def take_pending(self) -> str | None:
        """The line read to see what kind of table it is, once."""
        pending, self._pending = self._pending, None
        return pending

    def __next__(self) -> list[str]:
        self._lines.begin_record()
        return next(self._reader)


class _Pushed(Iterator[str]):
    """Lines with the first one put back before them."""

    def __init__(self, lines: Lines, records: _Records) -> None:
        self._lines, self._records = lines, records

    def __next__(self) -> str:
        pending = self._records.take_pending()
        return next(self._lines) if pending is None else pending


def _csv_rows(
    records: _Records, lines: Lines, columns: Columns, heading: Sequence[str]
) -> Iterator[Row]:
    blank = ("",) * len(columns.kept)
    while True:
        line = lines.number + 1
        try:
            record = next(records)
        except StopIteration:
            return
        except TooLongError:
            yield Row(line, {}, blank, _TOO_LONG)
            continue
        except csv.Error as fault:
            yield Row(line, {}, blank, Fault("", f"the row cannot be read ({fault}); {_QUOTES}"))
            continue
        if any(cell.strip() for cell in record):
            yield _csv_row(line, record, columns, heading, blank)


def _csv_row(
    line: int,
    record: Sequence[str],
    columns: Columns,
    heading: Sequence[str],
    blank: tuple[str, ...],
) -> Row:
    if len(record) != len(heading):
        column = heading[len(record)] if len(record) < len(heading) else ""
        text = f"{len(record)} cells where the heading has {len(heading)}; {_CELLS}"
        return Row(line, {}, blank, Fault(column, text))
    for name, cell in zip(heading, record, strict=True):
        wrong = unreadable(cell)
        if wrong:
            return Row(line, {}, blank, Fault(name, f"{wrong}; save the table as UTF-8"))
    cells = {
        name: cell_value(name, cell)
        for name, cell in zip(columns.names, record, strict=True)
        if name and cell.strip()
    }
    return Row(line, cells, tuple(record[at] for at in columns.kept))


def _with_points(row: Row) -> Row:
    """Decimal commas as points; before three figures a comma may part thousands, and stays."""
    cells = {
        name: _DECIMAL_COMMA.sub(".", cell) if name in FIGURES and isinstance(cell, str) else cell
        for name, cell in row.cells.items()
    }
    return row._replace(cells=cells)


_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9]{1,2}(?![0-9,]))")
_CELLS = "a cell that holds the character between cells needs quotes"


class _JsonColumns(NamedTuple):
    """JSON Lines have no heading: what is carried along was asked for, or always is.

    Attributes:
        kept: the names carried along, as they were asked for.
        places: their places by plain name.
        carry: how another one could be, for messages.
    """

    kept: tuple[str, ...]
    places: Mapping[str, int]
    carry: str | None

    @classmethod
    def of(cls, first: str, keep: Sequence[str] | None) -> _JsonColumns:
        """With ``all`` of every unknown name in the first row."""
        wanted = {plain_name(name): name for name in (*(keep or ()), *CARRIED)}
        if EVERY in wanted:
            unknown = [name for name, _ in _pairs_of(first) if plain_name(name) not in KNOWN]
            wanted.pop(EVERY)
            wanted = {plain_name(name): name for name in unknown} | wanted
        for name in wanted.values():
            refuse_clash(name, "--keep")
        places = {plain: at for at, plain in enumerate(wanted)}
        return cls(tuple(wanted.values()), places, None if keep is None else ON_COMMAND_LINE)


def _pairs_of(line: str) -> Sequence[tuple[str, Any]]:
    """The names and values of a row; none where it cannot be read, which is told with it."""
    try:
        said = _read_json(line)
    except _NO_JSON:
        return ()
    return said if isinstance(said, _Pairs) else ()


def _json_rows(lines: Lines, first: str, columns: _JsonColumns) -> Iterator[Row]:
    blank = ("",) * len(columns.kept)
    pending: str | None = first
    while True:
        number = lines.number + (pending is None)
        lines.begin_record()
        try:
            line, pending = (next(lines) if pending is None else pending), None
        except StopIteration:
            return
        except TooLongError:
            yield Row(number, {}, blank, _TOO_LONG)
            continue
        if not line.strip():
            continue
        row = _json_row(number, line, columns)
        yield Row(number, {}, blank, row) if isinstance(row, Fault) else row


def _json_row(number: int, line: str, columns: _JsonColumns) -> Row | Fault:
    try:
        said = _read_json(line)
    except _NO_JSON as fault:
        return Fault("", f"no JSON object in one line ({_why(fault)})")
    if not isinstance(said, _Pairs):
        return Fault("", "no JSON object; write {...}, one a line")
    cells: dict[str, object] = {}
    carried = [""] * len(columns.kept)
    seen: set[str] = set()
    for name, value in said:
        plain = plain_name(name)
        wrong = _unfit(name, value) or (_TWICE if plain in seen else None)
        if wrong:
            return Fault(name, wrong)
        seen.add(plain)
        try:
            goes_along, meaning = use_of(name, columns.places, every=False, carry=columns.carry)
        except SpinefitError as fault:
            return Fault(name, str(fault))
        plain_value = dict(value) if isinstance(value, _Pairs) else value
        if goes_along and plain_value is not None:
            carried[columns.places[plain]] = str(plain_value)
        if meaning:
            cells[meaning] = cell_value(meaning, plain_value)
    said_cells = {name: value for name, value in cells.items() if value not in (None, "", [])}
    return Row(number, said_cells, tuple(carried))


_TWICE = "a column twice; keep one of them"


def _unfit(name: str, value: object) -> str | None:
    """What keeps a name and its value from being read."""
    wrong = unreadable(f"{name}{value}" if isinstance(value, str) else name)
    if not wrong and isinstance(value, _Pairs) and len(value) > len(dict(value)):
        return "a key twice; keep one of them"
    return wrong


def _read_json(line: str) -> object:
    return json.loads(line, object_pairs_hook=_Pairs, parse_constant=_no_number)


_NO_JSON = (ValueError, RecursionError)


class _Pairs(list[tuple[str, Any]]):
    """An object of JSON, its keys as they stand, twice where they stand twice."""


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} is no number")


def _why(fault: Exception) -> str:
    return "nested too deeply" if isinstance(fault, RecursionError) else str(fault)
