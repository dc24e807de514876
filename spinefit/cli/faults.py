"""How does a program that asked for JSON or JUnit XML learn that the input is at fault?

In: a fault, and the words of the command line. Out: on standard output, beside the one line on
standard error, an error object, or a suite with an error; nothing where another form was asked for,
or none can be made out. In a stream of JSON Lines it is a line of its own, wherever it comes. Where
the results of a table were to go into a file, its fault does.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from itertools import pairwise
from typing import Any

import click

from spinefit.cli import output
from spinefit.cli.options import FORMAT, OneOf
from spinefit.errors import SpinefitError
from spinefit.job.lengths import parse_choice

OF_PROGRAMS = ("json", "jsonl", "junit")
"""Forms in which a fault is written too."""

_END_OF_OPTIONS = "--"


def error_dict(fault: SpinefitError) -> dict[str, Any]:
    """A fault as its parts, and the line in which it is told."""
    parts = {
        "what": fault.what,
        "value": None if fault.value is None else str(fault.value),
        "where": fault.where or None,
        "remedy": fault.remedy or None,
        "text": str(fault),
        "rows": [{"line": line, "text": text} for line, text in fault.rows],
    }
    return {"schema": "spinefit.error/1", "error": parts}


def tell(fault: SpinefitError, command: click.Command, words: Sequence[str]) -> None:
    """Write a fault to standard output in the form that was asked for, if anybody reads it.

    Args:
        fault: what was wrong.
        command: the command that was asked.
        words: what was typed after its name.
    """
    form = _form_asked(command, words)
    if form is not None and (form == "jsonl" or not output.begun()):  # half an answer stays so
        write(fault, form, f"spinefit {command.name}")


def write(fault: SpinefitError, form: str, asked: str = "") -> None:
    """Write a fault in a form that programs read, nothing in any other.

    Args:
        fault: what was wrong.
        form: json, jsonl (a single line) or junit.
        asked: the command that was asked.
    """
    if form in OF_PROGRAMS:
        with suppress(SpinefitError):  # of two faults the first is the one to tell
            output.write_utf8(_document(fault, form, asked))


def leave(fault: SpinefitError, form: str, table: str, path: str, *, force: bool) -> None:
    """Write a fault into the file that a program waits for, unless something stands there.

    Args:
        fault: what was wrong.
        form: one of `OF_PROGRAMS`.
        table: what is at fault.
        path: the file.
        force: whether what stands there may be replaced.
    """
    from spinefit.cli.files import write_whole

    with suppress(SpinefitError):  # as above
        written = _document(fault, form, "spinefit batch", table)
        write_whole(path, f"{written}\n", "--output", force=force)


def _document(fault: SpinefitError, form: str, asked: str, of: str = "") -> str:
    if form == "junit":
        from spinefit.say.junit import document, fault_suite

        return document(asked, [fault_suite(fault, of or asked)])
    from spinefit.say.as_json import to_json

    written = to_json(error_dict(fault), indent=None if form == "jsonl" else 2)
    return written.encode("utf-8", "backslashreplace").decode()


def _form_asked(command: click.Command, words: Sequence[str]) -> str | None:
    """The form that the last ``--format`` names, where it is one that the command has."""
    choices = [
        param.callback.choices
        for param in command.params
        if FORMAT in param.opts and isinstance(param.callback, OneOf)
    ]
    asked = None
    for word, following in pairwise((*words, "")):
        if word == _END_OF_OPTIONS:
            break
        name, equals, value = word.partition("=")
        if name == FORMAT:
            asked = value if equals else following
    with suppress(SpinefitError):
        return parse_choice(asked or "", *choices) if choices else None
    return None
