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
from collections.abc import Iterator, Sequence
from typing import IO, NamedTuple

from spinefit.batch.cells import cell_value
from spinefit.batch.columns import Columns
from spinefit.batch.commas import with_points
from spinefit.batch.json_lines import JsonColumns, json_rows
from spinefit.batch.model import TOO_LONG, Fault, Row
from spinefit.batch.text_stream import Lines, TooLongError, unreadable
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.read import FILE_FIELDS, beside

__all__ = ["Table", "read_table"]

_JSON_ENDINGS = (".jsonl", ".ndjson")
_TABS = (".tsv", ".tab")


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
    _refuse_no_table(first, name)
    if low.endswith(_JSON_ENDINGS) or first.lstrip().startswith("{"):
        said = JsonColumns.of(first, keep)
        return _placed(Table(json_rows(lines, first, said), said.kept, lines.marked, lines), folder)
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
    rows = _csv_rows(records, lines, columns, _Heading(heading, points=delimiter == ","))
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


def _refuse_no_table(first: str, name: str) -> None:
    """Refuse what is known by its first line to be another kind of file."""
    if first.startswith(_WORKBOOKS):
        raise FieldError(
            "a workbook, not a table of text", where=name,
            remedy="save the sheet as CSV, in UTF-8, from the program that made it",
        )  # fmt: skip
    plain = first.strip()
    named = name.casefold().endswith(_JSON_ENDINGS)  # then it is but a row that cannot be read
    if not named and (plain == "{" or plain.startswith("[")):
        raise FieldError(
            "JSON that is not one object a line", where=f"{name}:1",
            remedy='write each book on a line of its own, such as {"title": "Tides", "width": 9}',
        )  # fmt: skip


# How a zip begins, as OpenDocument and Office Open XML are, and an older compound file; bytes
# that are no UTF-8 as they are smuggled through.
_WORKBOOKS = ("PK\x03\x04", "\udcd0\udccf\x11")


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


class _Heading(NamedTuple):
    """The first line, and how the figures below it are written.

    Attributes:
        names: as typed.
        points: whether decimals have points, as where commas part the cells.
    """

    names: Sequence[str]
    points: bool


def _csv_rows(
    records: _Records, lines: Lines, columns: Columns, heading: _Heading
) -> Iterator[Row]:
    blank = ("",) * len(columns.kept)
    while True:
        line = lines.number + 1
        try:
            record = next(records)
        except StopIteration:
            return
        except TooLongError:
            yield Row(line, {}, blank, TOO_LONG)
            continue
        except csv.Error as fault:
            yield Row(line, {}, blank, Fault("", f"the row cannot be read ({_why(fault)})"))
            continue
        if any(cell.strip() for cell in record):
            yield _csv_row(line, record, columns, heading)


def _why(fault: csv.Error) -> str:
    if str(fault).startswith("field larger than"):
        most = csv.field_size_limit()
        return f"a cell of more than {most} characters); shorten it, or end a quote left open"
    return f"{fault}); double a quote inside quotes, and end every quoted cell with one"


def _csv_row(line: int, record: list[str], columns: Columns, heading: _Heading) -> Row:
    names = heading.names
    wrong = _fitted(record, names) or _illegible(record, names)
    if wrong is not None:
        return Row(line, {}, _legible(record, columns, names), wrong)
    kept = tuple(record[at] for at in columns.kept)
    cells: dict[str, object] = {}
    for name, cell in zip(columns.names, record, strict=True):
        if name and cell.strip():
            try:
                cells[name] = cell_value(name, cell if heading.points else with_points(name, cell))
            except SpinefitError as fault:
                wrong = wrong or Fault(name, str(fault))
    return Row(line, cells, kept, wrong)


def _legible(record: Sequence[str], columns: Columns, names: Sequence[str]) -> tuple[str, ...]:
    """What is carried along of a row at fault, where there is no doubt which cell is which."""
    if len(record) != len(names):
        return ("",) * len(columns.kept)
    return tuple("" if unreadable(record[at]) else record[at] for at in columns.kept)


def _fitted(record: list[str], names: Sequence[str]) -> Fault | None:
    """What keeps a record from having a cell for each column; empty ones too many are cut."""
    if len(record) > len(names) and not any(cell.strip() for cell in record[len(names) :]):
        del record[len(names) :]
    if len(record) == len(names):
        nameless = (at for at, name in enumerate(names) if not name.strip() and record[at].strip())
        at = next(nameless, None)
        if at is None:
            return None
        return Fault("", f"a cell below no name, in column {at + 1}; name it in the first line")
    count = "1 cell" if len(record) == 1 else f"{len(record)} cells"
    text = f"{count} where the heading has {len(names)}"
    if len(record) > len(names):
        return Fault("", f"{text}; a cell that holds the character between cells needs quotes")
    return Fault(names[len(record)], f"{text}; end every cell, an empty one too")


def _illegible(record: Sequence[str], names: Sequence[str]) -> Fault | None:
    for name, cell in zip(names, record, strict=True):
        wrong = unreadable(cell)
        if wrong:
            return Fault(name, f"{wrong}; save the table as UTF-8")
    return None
