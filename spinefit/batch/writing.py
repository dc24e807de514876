"""How do the results of rows stand in the output?

In: `Answered` rows. Out: text, whole rows of it, in one of several forms: a module each, with the
three functions of `Form`. What is written for a row depends on nothing but the row.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from spinefit.batch.books import Answered
from spinefit.batch.model import Settings, Totals


class Form(Protocol):
    """A form of the results."""

    def head(self, settings: Settings) -> str:
        """What stands before the rows."""

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
    """What stands before the rows."""
    return form_of(settings).head(settings)


def rows_of(answered: Iterable[Answered], settings: Settings) -> str:
    """The rows, each whole and ended by a newline; half characters in them as escapes."""
    text = form_of(settings).rows(answered, settings)
    return text.encode("utf-8", "backslashreplace").decode()


def foot_of(settings: Settings, totals: Totals) -> str:
    """What stands after the rows."""
    return form_of(settings).foot(totals, settings)


def encoding_of(settings: Settings) -> str:
    """The encoding of what is written: of CSV that of its table, else UTF-8."""
    return settings.style.encoding if settings.form == "csv" else "utf-8"
