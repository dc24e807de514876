"""How is an answer to be given: in which form, with which drawings, when is it a failure?

In: the texts of the command line. Out: what they ask for, each fault said with its option. The
options of a job are for `spinefit.cli.jobs`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple, TypeVar

import click

from spinefit.errors import FaultsAt
from spinefit.job.lengths import parse_choice
from spinefit.vocabulary import Level

__all__ = [
    "Wanted",
    "chosen_fail_on",
    "chosen_format",
    "drawing_options",
    "fail_on_option",
    "format_option",
]

F = TypeVar("F", bound=Callable[..., Any])


class Wanted(NamedTuple):
    """How an answer is to be given.

    Attributes:
        form: text, json, checklist or junit.
        fail_on: the level of findings from which on the exit code is 1; None for none.
        drawings: files to draw into.
        force: whether files that stand there may be replaced.
        picture: whether a picture is shown on the screen; None where the terminal decides.
    """

    form: str
    fail_on: Level | None = None
    drawings: tuple[str, ...] = ()
    force: bool = False
    picture: bool | None = None


def format_option(*formats: str) -> Callable[[F], F]:
    """The option ``--format``, the first format being the usual one."""
    return click.option(
        "--format",
        "format_name",
        metavar="FORMAT",
        default=formats[0],
        help=f"{', '.join(formats[:-1])} or {formats[-1]}. [{formats[0]}]",
    )


def drawing_options(command: F) -> F:
    """The options ``--drawing``, ``--force`` and ``--picture``."""
    for option in (
        click.option(
            "--picture/--no-picture",
            "picture",
            default=None,
            help="Show the lettering in its panel on the screen. [on a terminal that can]",
        ),
        click.option(
            "--force", is_flag=True, help="Replace the files of --drawing and --save-pattern."
        ),
        click.option(
            "--drawing",
            "drawings",
            metavar="FILE",
            multiple=True,
            help="Draw the back at true size into a .svg or .pdf, or give the whole answer as "
            ".html; repeatable.",
        ),
    ):
        command = option(command)
    return command


def chosen_format(typed: str, formats: Iterable[str]) -> str:
    """The format that was asked for.

    Raises:
        FieldError: there is none of that name.
    """
    with FaultsAt("--format"):
        return parse_choice(typed, formats)


def fail_on_option(command: F) -> F:
    """The option ``--fail-on``."""
    return click.option(
        "--fail-on",
        "fail_on",
        metavar="LEVEL",
        help="warning or failure: exit 1 also where a finding of the job or of the advised "
        "setting is as grave; a failure of legibility counts too. [only what does not fit]",
    )(command)


def chosen_fail_on(typed: str | None) -> Level | None:
    """The level that was asked for, or None.

    Raises:
        FieldError: no such level may be chosen.
    """
    if typed is None:
        return None
    with FaultsAt("--fail-on"):
        return parse_choice(typed, (Level.WARNING, Level.FAILURE))
