"""Which books stand in a table?

In: the bytes of a CSV (commas, semicolons or tabs between the cells, as the heading has it),
or JSON Lines, each an object of column to value (jsonlines.org). Out: its `Row`s as they come,
none kept. A row that cannot be read is a row with a fault, with its line; only a heading that
cannot be understood ends the whole. Blank rows are passed over. RFC 4180, with newlines inside
quotes. What a cell says is for `cells`. Files named in a row are looked for beside the table.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from typing import IO, Any, NamedTuple, NoReturn

from spinefit.batch.columns import (
    CARRIED,
    EVERY,
    KNOWN,
    ON_COMMAND_LINE,
    Columns,
    cell_value,
    plain_name,
    refuse_clash,
    refuse_either,
    use_of,
)
from spinefit.batch.model import TOO_LONG, Fault, Row
from spinefit.batch.text_stream import Lines, TooLongError, unreadable
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.read import FILE_FIELDS, beside

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
        named = _JsonColumns.of(first, keep)
        rows = (_beside(row, folder) for row in _json_rows(lines, first, named))
        return Table(rows, named.kept, lines.marked, lines)
    delimiter = "\t" if low.endswith(_TABS) else _delimiter(first)
    if first.startswith("sep=") and len(first.rstrip("\r\n")) == 5:  # spreadsheets' own hint
        delimiter, first = first[4], next(lines, "")
    records = csv.reader(chain([first], lines), delimiter=delimiter, strict=True)
    lines.begin_record()
    try:
        heading = next(records)
    except (csv.Error, TooLongError, StopIteration) as fault:
        raise FieldError(
            "the heading cannot be read", value=str(fault) or None, where=f"{name}:{lines.number}",
            remedy="the first line names the columns, such as: title,width,height",
        ) from None  # fmt: skip
    columns = Columns.of(heading, keep=keep, where=f"{name}:1")
    found = _Csv(records, lines, columns, heading, commas=delimiter == ",")
    rows = (_beside(row, folder) for row in found.rows())
    return Table(rows, columns.kept_names, lines.marked, lines)


def _beside(row: Row, folder: str) -> Row:
    """The row with the files it names looked for in a folder."""
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
    """The one of comma, semicolon and tab that separates the most columns outside quotes."""
    plain = "".join(heading.split('"')[::2])
    return max(",;\t", key=plain.count)


class _Csv(NamedTuple):
    """A CSV with its heading read.

    Attributes:
        records: its cells, row by row; goes on behind a row that cannot be read.
        lines: what they are read from.
        columns: what its columns mean.
        names: the same as typed.
        commas: whether commas part the cells.
    """

    records: Iterator[list[str]]
    lines: Lines
    columns: Columns
    names: Sequence[str]
    commas: bool

    def rows(self) -> Iterator[Row]:
        """The rows below the heading."""
        blank = ("",) * len(self.columns.kept)
        while True:
            line = self.lines.number + 1
            self.lines.begin_record()
            try:
                record = next(self.records)
            except StopIteration:
                return
            except TooLongError:
                yield Row(line, {}, blank, TOO_LONG)
                continue
            except csv.Error as fault:
                why = _why_no_record(fault)
                yield Row(line, {}, blank, Fault("", f"the row cannot be read ({why}"))
                continue
            if any(cell.strip() for cell in record):
                yield self._row(line, record)

    def _row(self, line: int, record: list[str]) -> Row:
        wrong = _fitted(record, self.names) or _illegible(record, self.names)
        if wrong is not None:
            return Row(line, {}, self._legible(record), wrong)
        cells: dict[str, object] = {}
        for name, cell in zip(self.columns.names, record, strict=True):
            if name and cell.strip():
                try:
                    if not self.commas:
                        refuse_either(name, cell)
                    cells[name] = cell_value(name, cell)
                except SpinefitError as fault:
                    wrong = wrong or Fault(name, str(fault))
        return Row(line, cells, tuple(record[at] for at in self.columns.kept), wrong)

    def _legible(self, record: Sequence[str]) -> tuple[str, ...]:
        """What is carried along of a row at fault, if it is clear which cell is which."""
        kept = self.columns.kept
        if len(record) != len(self.names):
            return ("",) * len(kept)
        return tuple("" if unreadable(record[at]) else record[at] for at in kept)


def _why_no_record(fault: csv.Error) -> str:
    if str(fault).startswith("field larger than"):
        most = csv.field_size_limit()
        return f"a cell of more than {most} characters); shorten it, or end a quote left open"
    return f"{fault}); double a quote inside quotes, and end every quoted cell with one"


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


class _JsonColumns(NamedTuple):
    """What is carried along of every row.

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
    """The names and values of a row; none where it cannot be read, which the row itself reports."""
    try:
        pairs = _read_json(line)
    except _NO_JSON:
        return ()
    return pairs if isinstance(pairs, _Pairs) else ()


def _json_rows(lines: Lines, first: str, columns: _JsonColumns) -> Iterator[Row]:
    """The rows, one at a time.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        columns: what is carried along.
    """
    blank = ("",) * len(columns.kept)
    records = chain([first], lines)
    while True:
        lines.begin_record()
        try:
            line = next(records)
        except StopIteration:
            return
        except TooLongError:
            yield Row(lines.number, {}, blank, TOO_LONG)
            continue
        if line.strip():
            row = _json_row(lines.number, line, columns)
            yield Row(lines.number, {}, blank, row) if isinstance(row, Fault) else row


def _json_row(number: int, line: str, columns: _JsonColumns) -> Row | Fault:
    try:
        pairs = _read_json(line)
    except _NO_JSON as fault:
        return Fault("", f"no JSON object in one line ({_why(fault)})")
    if not isinstance(pairs, _Pairs):
        return Fault("", "no JSON object; write {...}, one a line")
    cells: dict[str, object] = {}
    carried = [""] * len(columns.kept)
    seen: set[str] = set()
    for name, value in pairs:
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
    return json.loads(
        line, object_pairs_hook=_Pairs, parse_constant=_no_number, parse_int=_whole_number
    )


_NO_JSON = (ValueError, RecursionError)


class _Pairs(list[tuple[str, Any]]):
    """An object of JSON, its keys as they stand, twice where they stand twice."""


def _whole_number(text: str) -> int:
    if len(text) > _MOST_DIGITS:
        raise ValueError(f"a number of {len(text)} digits")
    return int(text)


_MOST_DIGITS = 100


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} is no number")


def _why(fault: Exception) -> str:
    if isinstance(fault, RecursionError):
        return "nested too deeply"
    if isinstance(fault, json.JSONDecodeError):
        return f"{fault.msg} at character {fault.pos + 1}"
    return str(fault)
