"""What was asked of a batch, and can it be?

In: the texts of the command line. Out: the table, the form of the results, how many processes,
and what holds for rows that do not say otherwise; each fault said with its option, before a row
is read.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import NamedTuple

from spinefit.cli.options import chosen_format
from spinefit.cli.tables import STDIN
from spinefit.errors import FaultsAt, FieldError, SpinefitError
from spinefit.job import lengths
from spinefit.job.fields import FIELDS, assemble, option_place
from spinefit.say.screen import on_terminal

__all__ = ["Asked", "checked_defaults", "chosen_form", "jobs_of", "one_table", "refuse_idle_files"]

_FORMATS = ("csv", "jsonl", "text", "html")
_ENDINGS = {
    "": "csv", ".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".txt": "text",
    ".html": "html", ".htm": "html",
}  # fmt: skip
_SHOWN = (".csv", ".jsonl", ".txt", ".html")
_MOST_JOBS = 256


class Asked(NamedTuple):
    """What was asked of a batch, beside the options of a job."""

    output: str | None
    force: bool
    resume: bool
    jobs: int


def one_table(table: tuple[str, ...]) -> str:
    """The one table that was named.

    Raises:
        FieldError: none was, or several.
    """
    if len(table) == 1 and table[0].strip():
        return table[0]
    if len(table) > 1:
        raise FieldError("more than one table", value=table[1], where="FILE", remedy="give one")
    raise FieldError(
        "no table given", where="FILE", remedy="such as: spinefit batch books.csv; - reads a pipe"
    )


def refuse_idle_files(asked: Asked, name: str) -> None:
    """Refuse options about files that say nothing here, or would do harm.

    Raises:
        FieldError: --force or --resume without a file, or both, or the table as its own result.
    """
    for option, given in (("--force", asked.force), ("--resume", asked.resume)):
        if given and asked.output is None:
            raise FieldError("no file to go with it", where=option, remedy="give --output FILE")
    if asked.force and asked.resume:
        raise FieldError(
            "begun afresh and resumed at once", where="--resume", remedy="leave out one of the two"
        )
    if asked.output is not None and name != STDIN and _same_file(asked.output, name):
        raise FieldError(
            "the results would replace the table", value=asked.output, where="--output",
            remedy="choose another name",
        )  # fmt: skip


def _same_file(one: str, other: str) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):
        return False


def jobs_of(typed: str | None) -> int:
    """How many processes: one for each core this one may use, where nothing was said.

    Raises:
        FieldError: no such number.
    """
    if typed is None:
        try:
            return min(len(os.sched_getaffinity(0)), _MOST_JOBS)
        except AttributeError:  # a system that binds no processes to cores
            return min(os.cpu_count() or 1, _MOST_JOBS)
    try:
        found = lengths.parse_count(typed)
    except SpinefitError:
        found = 0
    if not 1 <= found <= _MOST_JOBS:
        raise FieldError(
            "not a number of processes", value=typed, where="--jobs",
            remedy=f"give 1 to {_MOST_JOBS}",
        )  # fmt: skip
    return found


def chosen_form(typed: str | None, path: str | None) -> str:
    """The form of the results: as asked for, by the file's ending, or as the screen has it.

    Raises:
        FieldError: there is no such form, or none of such an ending.
    """
    if typed is not None:
        return chosen_format(typed, _FORMATS)
    if path is not None:
        ending = os.path.splitext(path)[1].casefold()
        if ending in _ENDINGS:
            return _ENDINGS[ending]
        raise FieldError(
            "no results of such an ending", value=path, where="--output",
            remedy=f"let it end in {', '.join(_SHOWN)}, or say --format",
        )  # fmt: skip
    return "text" if on_terminal() else "csv"


def checked_defaults(said: Mapping[str, object]) -> Mapping[str, object]:
    """The fields said on the command line, refused at once where no row could have them."""
    for field in FIELDS:
        if field.name in said:
            with FaultsAt(option_place(field.name)):
                field.kind.read(said[field.name])
    alike = {name: value for name, value in said.items() if name in _SAME_FOR_ANY_BACK}
    if alike:
        from spinefit.job.resolve import resolve

        resolve(assemble(_OF_MANY_WORDS, {**alike, "panel": "100x100mm"}))
    if "font" in said:
        from spinefit.shaping.fontfile import open_font

        open_font(str(said["font"]))
    if "tools" in said:
        assemble("A", {"tools": said["tools"], "panel": "100x100mm"})
    return said


# Whether these can be does not hang on title and back, so that one trial answers for all rows.
_SAME_FOR_ANY_BACK = (
    "market", "language", "method", "method-file", "reading-distance", "lines", "leading",
    "tracking",
)  # fmt: skip
_OF_MANY_WORDS = " ".join(100 * "A")  # more than the lines that may be asked for
