"""Which books stand in a table?

In: the bytes of a CSV, of JSON Lines or of a workbook, known by what they begin with. Out: its
`Row`s as they come, none kept, and in which form it came. A row that cannot be read is a row with a
fault, with its line; only a heading that cannot be understood ends the whole. Blank rows are passed
over. `csv_rows`, `json_rows` and `workbook_rows` read one form each. Files named in a row are
looked for beside the table.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import IO, NamedTuple

from spinefit.batch.csv_rows import read_csv
from spinefit.batch.foot import Foot
from spinefit.batch.heading import Columns
from spinefit.batch.json_rows import JsonColumns, read_json_lines
from spinefit.batch.model import Row, TableOptions, TableStyle
from spinefit.batch.text_stream import Lines, TooLongError, begin_of
from spinefit.errors import FieldError
from spinefit.job.read import FILE_FIELDS, beside

_JSON_ENDINGS = (".jsonl", ".ndjson")
_PLAINLY = TableOptions()


class Table(NamedTuple):
    """A table being read.

    Attributes:
        rows: its rows, one at a time.
        kept: names of the columns carried along.
        style: in which form it came.
        meanings: what its columns mean, of JSON Lines those of the first row; "" where nothing to
            the check.
        notes: lines about how it is read, for who asked.
        foot: its end, of which something is to be said once all rows are read.
        workbook: what it is read from, if it is one; any byte of it can be sought.
    """

    rows: Iterator[Row]
    kept: tuple[str, ...]
    style: TableStyle
    meanings: tuple[str, ...]
    foot: Foot
    notes: tuple[str, ...] = ()
    workbook: IO[bytes] | None = None


def read_table(
    stream: IO[bytes], name: str, options: TableOptions = _PLAINLY, *, folder: str = ""
) -> Table:
    r"""The rows of a table.

    Args:
        stream: its bytes, buffered.
        name: its file's name, for messages and for what its ending says.
        options: how it is to be read.
        folder: where the files are looked for that its rows name; "" for the current one.

    Raises:
        FieldError: no heading, or one that cannot be understood.

    >>> from io import BufferedReader, BytesIO
    >>> stream = BufferedReader(BytesIO(b"title;width\nTide Tables;9mm\n"))
    >>> table = read_table(stream, "books.csv")
    >>> [(row.line, dict(row.cells)) for row in table.rows]
    [(2, {'title': 'Tide Tables', 'width': '9mm'})]
    """
    begin = begin_of(stream)
    notes: tuple[str, ...]
    workbook: IO[bytes] | None = None
    columns: Columns | JsonColumns
    if begin.startswith(_WORKBOOKS):
        from spinefit.batch.workbook_rows import read_workbook

        _refuse_idle("--encoding", options.encoding, "a workbook has no encoding")
        workbook = _sought(begin, stream, name)
        columns, style, rows, notes = read_workbook(workbook, name, options)
    else:
        _refuse_idle("--sheet", options.sheet, "only a workbook has sheets")
        lines = Lines(begin, stream, name, options.encoding)
        first, notes = _first(lines, name), lines.notes
        _refuse_no_lines(first, name)
        if name.casefold().endswith(_JSON_ENDINGS) or first.lstrip().startswith("{"):
            _refuse_idle("--heading-row", options.heading_row, "JSON Lines have no heading")
            columns, style, rows = read_json_lines(lines, first, options)
        else:
            columns, style, rows = read_csv(lines, first, name, options)
    if columns.note:
        notes = (*notes, columns.note)
    foot = Foot()
    found = (_beside(row, folder) for row in foot.books(rows))
    return Table(found, columns.kept_names, style, columns.names, foot, notes, workbook)


# How a zip begins, as an Office Open XML workbook is, and an older compound file.
_WORKBOOKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
_LONGEST_PIPED = 1 << 26  # bytes


def _sought(begin: bytes, stream: IO[bytes], name: str) -> IO[bytes]:
    """The same bytes where any of them can be sought, held if they come from a pipe."""
    if stream.seekable():
        stream.seek(0)
        return stream
    held = begin + stream.read(_LONGEST_PIPED)
    if len(held) > _LONGEST_PIPED:
        raise FieldError("a workbook too large for a pipe", where=name, remedy="name its file")
    return BytesIO(held)


def _refuse_idle(option: str, given: object, why: str) -> None:
    """Refuse an option that says nothing of a table of this form."""
    if given is not None:
        raise FieldError(why, value=given, where=option, remedy="leave it out")


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


def _refuse_no_lines(first: str, name: str) -> None:
    """Refuse JSON that is not in lines."""
    plain = first.strip()
    named = name.casefold().endswith(_JSON_ENDINGS)  # then it is but a row that cannot be read
    if not named and (plain == "{" or plain.startswith("[")):
        raise FieldError(
            "JSON that is not one object a line", where=f"{name}:1",
            remedy='write each book on a line of its own, such as {"title": "Tides", "width": 9}',
        )  # fmt: skip
