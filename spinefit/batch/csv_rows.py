"""Which books stand in a CSV?

In: lines of text. Out: what its columns mean, its `Row`s as they come, and in which form it is
written. Commas, semicolons, tabs or bars part the cells, as the heading has it. A row that cannot
be read is a row with a fault. RFC 4180, with newlines inside quotes.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from itertools import chain
from typing import NamedTuple

from spinefit.batch.cells import cell_value, refuse_either
from spinefit.batch.columns import MEASURES, Columns
from spinefit.batch.model import TOO_LONG, Fault, Row, TableStyle
from spinefit.batch.text_stream import Lines, TooLongError, unreadable
from spinefit.errors import FieldError, SpinefitError

_TABS = (".tsv", ".tab")


def read_csv(
    lines: Lines, first: str, name: str, keep: Sequence[str] | None
) -> tuple[Columns, TableStyle, Iterator[Row]]:
    """The columns of a CSV, its form and its rows.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        name: the file, for messages and for what its ending says.
        keep: columns to carry along; see `Columns.of`.

    Raises:
        FieldError: a heading that cannot be understood.
    """
    delimiter = "\t" if name.casefold().endswith(_TABS) else _delimiter(first)
    if first.startswith("sep=") and len(first.rstrip("\r\n")) == 5:  # spreadsheets' own hint
        delimiter, first = first[4], next(lines, "")
    records = csv.reader(chain([first], lines), delimiter=delimiter, strict=True)
    lines.begin_record()
    at = lines.number
    try:
        heading = next(records)
    except (csv.Error, TooLongError, StopIteration) as fault:
        raise FieldError(
            "the heading cannot be read", value=str(fault) or None, where=f"{name}:{lines.number}",
            remedy="the first line names the columns, such as: title,width,height",
        ) from None  # fmt: skip
    columns = Columns.of(heading, keep=keep, where=f"{name}:{at}")
    plain = first.rstrip("\r\n")
    style = TableStyle(
        delimiter=delimiter,
        decimal_comma=delimiter != "," and _decimal_comma(lines.sample, delimiter, columns),
        quoted=plain == _in_quotes(heading, delimiter),
        newline=first[len(plain) :] or "\n",
        encoding=lines.encoding,
        marked=lines.marked,
        heading_row=at,
        heading=tuple(heading),
    )
    return columns, style, _Csv(records, lines, columns, heading, delimiter == ",").rows()


def _delimiter(heading: str) -> str:
    """The one of comma, semicolon, tab and bar that separates the most columns outside quotes."""
    plain = "".join(heading.split('"')[::2])
    return max(",;\t|", key=plain.count)


def _in_quotes(cells: Sequence[str], delimiter: str) -> str:
    sink = io.StringIO()
    csv.writer(sink, delimiter=delimiter, quoting=csv.QUOTE_ALL, lineterminator="").writerow(cells)
    return sink.getvalue()


def _decimal_comma(sample: str, delimiter: str, columns: Columns) -> bool:
    """Whether a measure among the first rows has a decimal comma."""
    with suppress(csv.Error):
        for record in csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter):
            cells = zip(columns.names, record, strict=False)
            if any(name in MEASURES and _WITH_COMMA.search(cell) for name, cell in cells):
                return True
    return False


_WITH_COMMA = re.compile("[0-9],[0-9]")


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
