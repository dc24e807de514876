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
from itertools import islice
from typing import NamedTuple

from spinefit.batch.columns import EVERY, MEASURES
from spinefit.batch.foot import is_remark
from spinefit.batch.guarding import unguarded
from spinefit.batch.heading import HEADINGS_SOUGHT, Columns, heading_sought
from spinefit.batch.model import TOO_LONG, Fault, Row, TableOptions, TableStyle
from spinefit.batch.text_stream import Lines, TooLongError, legible, unreadable
from spinefit.errors import FieldError

_TABS = (".tsv", ".tab")


def read_csv(
    lines: Lines, first: str, name: str, options: TableOptions
) -> tuple[Columns, TableStyle, Iterator[Row]]:
    """The columns of a CSV, its form and its rows.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        name: the file, for messages and for what its ending says.
        options: how it is to be read.

    Raises:
        FieldError: a heading that cannot be understood.
    """
    delimiter = "\t" if name.casefold().endswith(_TABS) else ""
    if first.startswith("sep=") and len(first.rstrip("\r\n")) == 5:  # spreadsheets' own hint
        delimiter, first = first[4], next(lines, "")
    if options.heading_row is not None:
        first = _line_at(lines, first, options.heading_row, name)
    delimiter = delimiter or _delimiter(first)
    at = lines.number
    if first:
        lines.unread(first)
    lines.begin_record()
    records = csv.reader(lines, delimiter=delimiter, strict=True)
    with heading_sought(_from(lines.sample, at), options):
        try:
            heading = next(records)
        except (csv.Error, TooLongError, StopIteration) as fault:
            raise FieldError(
                f"the heading cannot be read{f' ({fault})' if str(fault) else ''}",
                where=f"{name}:{lines.number}",
                remedy="the first line names the columns, such as: title,width,height",
            ) from None  # fmt: skip
        columns = Columns.of(heading, options, f"{name}:{at}")
    plain = first.rstrip("\r\n")
    style = TableStyle(
        delimiter=delimiter,
        decimal_comma=delimiter != "," and _decimal_comma(lines.sample, delimiter, columns),
        quoted=plain == _in_quotes(heading, delimiter),
        figures_quoted=_figures_quoted(lines.sample, delimiter),
        above=_above(lines.sample, at) if EVERY in (options.keep or ()) else "",
        newline=first[len(plain) :] or "\n",
        encoding=lines.encoding,
        marked=lines.marked,
        heading_row=at,
        heading=tuple(heading),
    )
    return columns, style, _Csv(records, lines, columns, delimiter).rows()


def _line_at(lines: Lines, line: str, number: int, name: str) -> str:
    """The line of that number, the lines above it passed over."""
    while line and lines.number < number:
        lines.begin_record()
        line = next(lines, "")
    if lines.number != number or not line.strip():
        raise FieldError(
            "no such line with names", value=number, where="--heading-row",
            remedy=f"give the number of the line of {name} that names the columns",
        )  # fmt: skip
    return line


def _from(sample: str, number: int) -> Iterator[tuple[int, list[str]]]:
    """A line and those below, each with its cells as if it were a heading."""
    lines = list(islice(io.StringIO(sample, newline=""), number + HEADINGS_SOUGHT))
    for at, line in enumerate(lines[number - 1 :], number):
        with suppress(csv.Error):
            yield at, next(csv.reader([line], delimiter=_delimiter(line)), [])


def _delimiter(heading: str) -> str:
    """The one of comma, semicolon, tab and bar that separates the most columns outside quotes."""
    plain = "".join(heading.split('"')[::2])
    return max(",;\t|", key=plain.count)


def _in_quotes(cells: Sequence[str], delimiter: str) -> str:
    sink = io.StringIO()
    csv.writer(sink, delimiter=delimiter, quoting=csv.QUOTE_ALL, lineterminator="").writerow(cells)
    return sink.getvalue()


def _figures_quoted(sample: str, delimiter: str) -> bool:
    """Whether more figures among the first rows stand in quotes than without, needlessly."""
    mark = re.escape(delimiter)
    begin, end = rf"(?<![^{mark}\r\n])", rf"(?![^{mark}\r\n])"
    decimals = re.escape(",.".replace(delimiter, ""))
    found = re.findall(rf'{begin}("?)[0-9]+(?:[{decimals}][0-9]+)?\1{end}', sample)
    return found.count('"') > found.count("")


def _above(sample: str, number: int) -> str:
    """What stands above the line of that number, as it is."""
    return "".join(islice(io.StringIO(sample, newline=""), number - 1))


def _decimal_comma(sample: str, delimiter: str, columns: Columns) -> bool:
    """Whether more measures among the first rows have decimal commas than points."""
    commas = 0
    with suppress(csv.Error):
        for record in csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter):
            for name, cell in zip(columns.names, record, strict=False):
                mark = _DECIMAL.search(cell) if name in MEASURES else None
                if mark is not None:
                    commas += 1 if mark[1] == "," else -1
    return commas > 0


_DECIMAL = re.compile("[0-9]([,.])(?![0-9]{3}(?![0-9]))[0-9]")  # but of what may be thousands


class _Csv(NamedTuple):
    """A CSV with its heading read.

    Attributes:
        records: its cells, row by row; goes on behind a row that cannot be read.
        lines: what they are read from.
        columns: what its columns mean.
        delimiter: what parts the cells.
    """

    records: Iterator[list[str]]
    lines: Lines
    columns: Columns
    delimiter: str

    def rows(self) -> Iterator[Row]:
        """The rows below the heading."""
        while True:
            line = self.lines.number + 1
            self.lines.begin_record()
            try:
                record = next(self.records)
            except StopIteration:
                return
            except TooLongError:
                yield self._unread(line, TOO_LONG)
            except csv.Error as fault:
                why = _why_no_record(fault)
                yield self._unread(line, Fault("", f"the row cannot be read ({why}"))
            else:
                if any(cell.strip() for cell in record):
                    yield self._row(line, record)

    def _unread(self, line: int, fault: Fault) -> Row:
        """A row without its cells: its first line alone, since an open quote has no end."""
        cells = self.lines.reread().rstrip("\r\n").split(self.delimiter)
        return Row(line, {}, self._as_it_was([*map(_without_quotes, cells)]), fault)

    def _row(self, line: int, guarded: list[str]) -> Row:
        names, record = self.columns.typed, list(map(unguarded, guarded))
        wrong = (
            _fitted(record, names)
            or self.columns.below_no_name(record)
            or _illegible(record, names)
        )
        if wrong is not None:
            short = len(record) < len(names)
            texts = [*record, *("" for _ in names[len(record) :])]
            remark = short and is_remark(texts, self.columns.names)
            return Row(line, {}, self._as_it_was(record), wrong, remark)
        # None of them parts cells, so a comma in a list may begin decimals.
        return self.columns.row(line, record, record, comma=self.delimiter != ",")

    def _as_it_was(self, cells: Sequence[str]) -> tuple[str, ...]:
        """What is carried along of a row at fault: cells by their place, those too many last."""
        last = len(self.columns.typed) - 1
        texts = [*cells[:last], self.delimiter.join(cells[last:])]
        texts += [""] * (last + 1 - len(texts))
        return tuple(legible(texts[at]) for at in self.columns.kept)


def _without_quotes(piece: str) -> str:
    """What stands between two delimiters, without the quotes around it."""
    whole = len(piece) > 1 and piece[0] == piece[-1] == '"'
    return piece[1:-1].replace('""', '"') if whole else piece


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
        return None
    count = "1 cell" if len(record) == 1 else f"{len(record)} cells"
    text = f"{count} where the heading has {len(names)}"
    if len(record) > len(names):
        return Fault("", f"{text}; a cell that holds the character between cells needs quotes")
    return Fault(names[len(record)], f"{text}; end every cell, an empty one too")


def _illegible(record: Sequence[str], names: Sequence[str]) -> Fault | None:
    for name, cell in zip(names, record, strict=True):
        wrong = unreadable(cell)
        if wrong:
            return Fault(name, f"{wrong}; save the table as UTF-8, or say its --encoding")
    return None
