"""Which books stand in a table?

In: the bytes of a CSV or of JSON Lines. Out: its `Row`s as they come, none kept, and in which form
it came. A row that cannot be read is a row with a fault, with its line; only a heading that cannot
be understood ends the whole. Blank rows are passed over. `csv_rows` and `json_rows` read one form
each. Files named in a row are looked for beside the table.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import IO, NamedTuple

from spinefit.batch.csv_rows import read_csv
from spinefit.batch.json_rows import read_json_lines
from spinefit.batch.model import Row, TableOptions, TableStyle
from spinefit.batch.text_stream import Lines, TooLongError
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
    """

    rows: Iterator[Row]
    kept: tuple[str, ...]
    style: TableStyle
    meanings: tuple[str, ...]
    notes: tuple[str, ...] = ()


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
    lines = Lines(stream, name, options.encoding)
    first = _first(lines, name)
    _refuse_no_table(first, name)
    if name.casefold().endswith(_JSON_ENDINGS) or first.lstrip().startswith("{"):
        _refuse_idle("--heading-row", options.heading_row, "JSON Lines have no heading")
        names, style, rows = read_json_lines(lines, first, options)
        kept, meanings, note = names.kept, names.meanings, names.note
    else:
        columns, style, rows = read_csv(lines, first, name, options)
        kept, meanings, note = columns.kept_names, columns.names, columns.note
    notes = (*lines.notes, note) if note else lines.notes
    return Table((_beside(row, folder) for row in rows), kept, style, meanings, notes)


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
