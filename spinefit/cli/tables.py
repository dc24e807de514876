"""Where does a table come from, and how is it to be read?

In: its name, ``-`` for standard input, and the options that `takes_table` gives to every command
that reads one. Out: the `Table` that `spinefit.batch.reading` makes; what is to be known of how
it was read stands on standard error.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from itertools import chain
from typing import IO, TYPE_CHECKING, Any

import click

from spinefit.cli import output
from spinefit.errors import FieldError, JobError, SpinefitError, reason_of
from spinefit.job.lengths import parse_count

if TYPE_CHECKING:
    from spinefit.batch.model import TableOptions
    from spinefit.batch.reading import Table

STDIN = "-"
"""The name of a table that means standard input."""

_OPTIONS = (
    ("--column", "NAME=MEANING", "What a column of the table means, such as 'Breite=width'. [the "
     "names of options, and usual ones in English, German, French, Dutch, Spanish and Italian]"),
    ("--heading-row", "N", "The line that names the columns; those above are passed over. [the "
     "first]"),
    ("--sheet", "NAME", "The sheet of a workbook. [the first that is shown and has a heading]"),
    ("--encoding", "NAME", "Of a CSV, such as cp1252 or mac-roman. [UTF-8, or what its byte order "
     "mark says; else guessed between these two]"),
)  # fmt: skip


def takes_table(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options of how a table is to be read, as ``how``."""

    @wraps(command)
    def with_options(*args: Any, **options: Any) -> int:
        from spinefit.batch.model import TableOptions

        said = [options.pop(name) for name in ("column", "encoding", "heading_row", "sheet")]
        columns, encoding, heading_row, sheet = said
        how = TableOptions(None, columns, encoding, _row(heading_row), sheet)
        return command(*args, how=how, **options)

    taking: Callable[..., int] = with_options
    for name, metavar, meaning in reversed(_OPTIONS):
        several = name == "--column"
        taking = click.option(name, metavar=metavar, help=meaning, multiple=several)(taking)
    return taking


def _row(typed: str | None) -> int | None:
    if typed is None:
        return None
    try:
        found = parse_count(typed, figures=7)
    except SpinefitError:
        found = 0
    if found < 1:
        raise FieldError(
            "no number of a line", value=typed, where="--heading-row", remedy="such as 3"
        )
    return found


def shown_name(name: str) -> str:
    """A table's name as messages have it."""
    return "standard input" if name == STDIN else name


class RowFaults:
    """Faults of the rows of a table for a command that cannot go on without one of them.

    Args:
        name: the table's name as it was typed.
    """

    def __init__(self, name: str) -> None:
        self._where = shown_name(name)
        self._found: dict[int, SpinefitError] = {}

    @contextmanager
    def row(self, at: str) -> Iterator[None]:
        """While it lasts, a fault is put down to a row, if that has none yet.

        Args:
            at: the table's name and line; "" where there is no row, whose faults are their own.
        """
        try:
            yield
        except SpinefitError as fault:
            if not at:
                raise
            self._found.setdefault(int(at.rpartition(":")[2]), fault)

    def tell(self) -> None:
        """Say all of them, three of a kind and then how many.

        Raises:
            SpinefitError: there are some.
        """
        if not self._found:
            return
        whole = self._whole()
        whole.rows = rows = tuple(
            (line, str(fault).removeprefix(f"{self._where}:{line}: "))
            for line, fault in sorted(self._found.items())
        )
        if len(rows) == 1:
            raise whole
        from spinefit.batch.alike import gathered, untold
        from spinefit.batch.model import Fault

        kinds, told = gathered({}, ((line, Fault("", text)) for line, text in rows))
        for line, fault in told:
            output.complain(f"{self._where}:{line}: {fault.line}")
        for more in untold(kinds):
            output.complain(f"{self._where}: {more}")
        raise whole

    def _whole(self) -> SpinefitError:
        """The only fault, or one that counts them."""
        if len(self._found) == 1:
            return next(iter(self._found.values()))
        return JobError(
            f"{len(self._found)} rows at fault, and nothing is written", where=self._where,
            remedy="mend them",
        )  # fmt: skip


@contextmanager
def opened_table(name: str, where: str, how: TableOptions) -> Iterator[tuple[Table, IO[bytes]]]:
    """A table, its heading read and its rows to be read as they are asked for, and its bytes.

    Args:
        name: the file, or ``-``.
        where: the option or argument that named it.
        how: how it is to be read.

    Raises:
        JobError: it cannot be read, or has no row.
        FieldError: its heading cannot be understood.
    """
    with _opened(name, where) as stream:
        from spinefit.batch.reading import read_table
        from spinefit.job.files import folder_of

        folder = "" if name == STDIN else folder_of(name)
        table = read_table(stream, shown_name(name), how, folder=folder)
        first = next(table.rows, None)
        if first is None:
            raise JobError(
                "no row below the heading", where=shown_name(name), remedy="give a book a line"
            )
        for note in table.notes:
            output.complain(f"{shown_name(name)}: {note}")
        yield table._replace(rows=chain([first], table.rows)), stream


@contextmanager
def _opened(name: str, where: str) -> Iterator[IO[bytes]]:
    if name == STDIN:
        if sys.stdin is None:  # closed before we began
            raise JobError("standard input is closed", where=where, remedy="name a file")
        yield sys.stdin.buffer
        return
    from spinefit.job.files import opened

    try:
        file = opened(name)  # faults of its reading are not of its opening
    except (OSError, ValueError) as fault:
        raise JobError(
            f"the table cannot be read ({reason_of(fault)})", value=name, where=where,
            remedy="name a CSV, JSON Lines or .xlsx file",
        ) from None  # fmt: skip
    with file:
        yield file
