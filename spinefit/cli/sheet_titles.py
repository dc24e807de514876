"""Which titles does a table of titles for a sheet hold?

In: a CSV file, or standard input, whose first line names its columns: ``title`` and any of the
fields of a job. Out: title and values of each row, blank cells not said, with the place of
each for messages. Every fault is one line with the file and row.
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path
from typing import NamedTuple

from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job.fields import field_named

__all__ = ["TitleRow", "read_titles"]

_LARGEST_FILE = 1_000_000  # bytes; a sheet's titles are a page or two
_MOST_ROWS = 500  # a sheet holds some dozens of labels; more books are for a table of answers
_INPUT = "-"


class TitleRow(NamedTuple):
    """One row.

    Attributes:
        title: the title.
        values: field name to text, as typed.
        where: file and row, for messages.
    """

    title: str
    values: dict[str, object]
    where: str


def read_titles(path: str) -> tuple[TitleRow, ...]:
    """The rows of a table of titles, empty lines left out.

    Args:
        path: the file, or ``-`` for standard input.

    Raises:
        JobError: it cannot be read, or is no such table.
        FieldError: a column that is no field, or a row without a title.
    """
    name = "standard input" if path == _INPUT else path
    rows = _rows(_text(path, name), name)
    head = [cell.strip().casefold() for cell in rows[0][1]] if rows else []
    if "title" not in head:
        raise FieldError(
            "no column 'title'", where=f"{name}:1", value=", ".join(head),
            remedy="name the columns in the first line, such as: title,panel,size",
        )  # fmt: skip
    for at, column in enumerate(head):
        _check_column(column, head[:at], name)
    found = [_row(head, cells, f"{name}:{line}") for line, cells in rows[1:]]
    if not 1 <= len(found) <= _MOST_ROWS:
        raise FieldError(f"{len(found)} titles", where=name, remedy=f"give 1 to {_MOST_ROWS}")
    return tuple(found)


def _check_column(column: str, before: list[str], name: str) -> None:
    if column in before:
        raise FieldError("a column twice", value=column, where=f"{name}:1", remedy="keep one")
    if column == "title":
        return
    try:
        field_named(column)
    except SpinefitError as fault:
        raise fault.at(f"{name}:1") from None


def _row(head: list[str], cells: list[str], where: str) -> TitleRow:
    if len(cells) > len(head) and any(cell.strip() for cell in cells[len(head) :]):
        raise FieldError(
            "more cells than columns", where=where, value=cells[len(head)],
            remedy="put a cell with a comma in quotes",
        )  # fmt: skip
    said: dict[str, str] = dict(zip(head, cells, strict=False))
    title = said.pop("title", "")
    if not title.strip():
        raise FieldError("a row without a title", where=where, remedy="write one or leave it out")
    return TitleRow(title, {key: cell for key, cell in said.items() if cell.strip()}, where)


def _rows(text: str, name: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text), strict=True)
    found: list[tuple[int, list[str]]] = []
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append((reader.line_num, cells))
    except csv.Error as fault:
        raise JobError(
            f"not a table of titles ({fault})", where=f"{name}:{reader.line_num}",
            remedy="write it as CSV, a cell with a comma in quotes",
        ) from None  # fmt: skip
    return found


def _text(path: str, name: str) -> str:
    try:
        if path == _INPUT:
            raw = sys.stdin.buffer.read(_LARGEST_FILE + 1)
        else:
            with Path(path).open("rb") as file:
                raw = file.read(_LARGEST_FILE + 1)
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else str(fault)
        raise JobError(
            f"the table of titles cannot be read ({reason})", value=name, where="--titles",
            remedy="name a CSV file, or - for standard input",
        ) from None  # fmt: skip
    if len(raw) > _LARGEST_FILE:
        raise JobError("too large for a table of titles", value=name, where="--titles")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        raise JobError(
            "not UTF-8 text", where=f"{name}:{line}", remedy="save the file as UTF-8"
        ) from None
