"""Where is a table of books, and what do its rows say to a command that takes every one of them?

In: a file's name, or ``-`` for standard input. Out: the `Table` that `spinefit.batch.reading`
makes of it; or, for a command that cannot go on behind a row at fault, the title and values of
every row. A fault is the same line wherever a table is read: file, line, column.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import IO, TYPE_CHECKING

from spinefit.cli.jobs import Described
from spinefit.errors import FieldError, JobError
from spinefit.job.fields import option_place
from spinefit.job.files import folder_of

if TYPE_CHECKING:
    from spinefit.batch.model import Row
    from spinefit.batch.reading import Table

__all__ = ["STDIN", "opened_table", "shown_name", "title_rows"]

STDIN = "-"
"""The name that means standard input."""


def shown_name(name: str) -> str:
    """A table's name as messages have it."""
    return "standard input" if name == STDIN else name


@contextmanager
def opened_table(
    name: str, where: str, keep: Sequence[str] | None = None
) -> Iterator[tuple[Table, IO[bytes]]]:
    """A table, its heading read and its rows to be read as they are asked for, and its bytes.

    Args:
        name: the file, or ``-``.
        where: the option or argument that named it.
        keep: columns to carry along; None where the command carries none.

    Raises:
        JobError: it cannot be read.
        FieldError: its heading cannot be understood.
    """
    with _opened(name, where) as stream:
        from spinefit.batch.reading import read_table

        folder = "" if name == STDIN else folder_of(name)
        yield read_table(stream, shown_name(name), keep, folder=folder), stream


@contextmanager
def _opened(name: str, where: str) -> Iterator[IO[bytes]]:
    if name == STDIN:
        if sys.stdin is None:  # closed before we began
            raise JobError("standard input is closed", where=where, remedy="name a file")
        yield sys.stdin.buffer
        return
    try:
        file = open(name, "rb")  # noqa: SIM115 (faults of its reading are not of its opening)
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else str(fault)
        raise JobError(
            f"the table cannot be read ({reason})", value=name, where=where,
            remedy="name a CSV or JSON Lines file",
        ) from None  # fmt: skip
    with file:
        yield file


def title_rows(
    name: str, where: str, defaults: Mapping[str, object], *, most: int
) -> tuple[Described, ...]:
    """Every row of a table of titles.

    Args:
        name: the file, or ``-``.
        where: the option that named it.
        defaults: values of fields for rows that do not say them.
        most: how many rows there may be.

    Raises:
        JobError: it cannot be read, or has no row or more than ``most``.
        FieldError: a row at fault, or one with more than a title.
    """
    from spinefit.batch.columns import values_of

    found: list[Described] = []
    with opened_table(name, where) as (table, _stream):
        for row in table.rows:
            if len(found) == most:
                raise JobError(
                    f"more than {most} titles", where=f"{shown_name(name)}:{row.line}",
                    remedy="part the table",
                )  # fmt: skip
            values = values_of(row.cells, defaults)
            at = f"{shown_name(name)}:{row.line}"
            found.append(Described(_title(row, at), values, _place_in(row), at))
    if not found:
        raise JobError("no titles below the heading", where=shown_name(name), remedy="give some")
    return tuple(found)


def _place_in(row: Row) -> Callable[[str], str]:
    """Where the value of a field stands: in the row, or among the options."""
    return lambda name: f"column '{name}'" if name in row.cells else option_place(name)


def _title(row: Row, at: str) -> object:
    """The title; refused are a row at fault, and what only sets and several texts have."""
    from spinefit.batch.columns import FIELD_NAMES

    if row.fault is not None:
        raise FieldError(row.fault.line, where=at)
    if "title" not in row.cells:
        raise FieldError(
            "no title given", where=f"{at}: column 'title'", remedy="give the words to letter"
        )
    for name, cell in row.cells.items():
        if name not in FIELD_NAMES and name not in ("title", "label"):
            raise FieldError(
                "one title a row is set here", value=cell, where=f"{at}: column '{name}'",
                remedy="leave the cell empty; 'spinefit batch' answers for sets and several texts",
            )  # fmt: skip
    return row.cells["title"]
