"""How do the results of rows stand in the output?

In: `Answered` rows. Out: text, whole rows of it, in one of several forms: a module each, with the
three functions of `Form`. What is written for a row depends on nothing but the row.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import IO, TYPE_CHECKING, Protocol

from spinefit.batch import held
from spinefit.batch.books import Answered
from spinefit.batch.model import Settings, Totals

if TYPE_CHECKING:
    from spinefit.batch.beside import Book


class Form(Protocol):
    """A form of the results."""

    def head(self, settings: Settings, totals: Totals) -> str:
        """What stands before the rows; what they came to is known of those that were held."""

    def rows(self, answered: Iterable[Answered], settings: Settings) -> str:
        """The rows, each whole and ended by a newline."""

    def foot(self, totals: Totals, settings: Settings) -> str:
        """What stands after the rows."""


def form_of(settings: Settings) -> Form:
    """The form that was asked for, loaded now."""
    if settings.form == "csv":
        from spinefit.batch import csv_table

        return csv_table
    if settings.form == "html":
        from spinefit.batch import overview

        return overview
    if settings.form == "text":
        from spinefit.batch import text_table

        return text_table
    if settings.form == "junit":
        from spinefit.batch import suites

        return suites
    from spinefit.batch import json_lines

    return json_lines


def head_of(settings: Settings) -> str:
    """What stands before the rows; nothing where they are held."""
    return "" if settings.held else form_of(settings).head(settings, Totals({}))


def rows_of(answered: Sequence[Answered], settings: Settings) -> str:
    """The rows, each whole and ended by a newline; half characters in them as escapes."""
    if settings.form == "xlsx":
        return held.lines(answered, held.cells_of, settings)
    form = form_of(settings)
    if settings.held:
        return held.lines(answered, lambda one, _: form.rows([one], settings), settings)
    return form.rows(answered, settings).encode("utf-8", "backslashreplace").decode()


def foot_of(settings: Settings, totals: Totals) -> str:
    """What stands after the rows; nothing where they are held."""
    return "" if settings.held else form_of(settings).foot(totals, settings)


def whole_of(
    file: IO[bytes], settings: Settings, totals: Totals, book: Book | None
) -> Iterator[str | bytes]:
    """The whole, of rows that were held, in their order.

    Args:
        file: their lines, from the beginning.
        settings: what holds for every row.
        totals: what they came to.
        book: the workbook that they go into, where they do.
    """
    rows = held.in_order(file, settings.sort)
    if book is not None:
        yield book.filled(rows)
        return
    form = form_of(settings)
    yield form.head(settings, totals)
    yield from _once(rows) if settings.form == "html" else rows
    yield form.foot(totals, settings)


def _once(rows: Iterable[str]) -> Iterator[str]:
    """Rows of a page, each without the outlines that stand before it."""
    from spinefit.batch.overview import once

    known: dict[str, None] = {}
    for row in rows:
        text, new = once(row, known)
        known |= new
        yield text


def encoding_of(settings: Settings) -> str:
    """The encoding of what is written: of CSV that of its table, else UTF-8."""
    return settings.style.encoding if settings.form == "csv" else "utf-8"
