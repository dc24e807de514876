"""Which options does a command have, and how are they set out in its help?

Options of a job are made from `spinefit.job.fields`, name for name. Their values stay texts:
our own parsers read them, so that every fault is said in our words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple, TypeVar

import click

from spinefit.errors import FieldError
from spinefit.job.fields import FIELDS
from spinefit.job.model import HEADINGS
from spinefit.job.numbers import parse_choice
from spinefit.vocabulary import Level

__all__ = [
    "GroupedCommand",
    "Wanted",
    "chosen_fail_on",
    "chosen_format",
    "drawing_options",
    "fail_on_option",
    "format_option",
    "job_options",
    "parameter_of",
]

F = TypeVar("F", bound=Callable[..., Any])
_GROUP_OF = {f"--{field.name}": field.heading for field in FIELDS}
_REST = "This command"


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


class GroupedCommand(click.Command):
    """A command whose help lists its options under the headings of their groups."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the options of each group under its heading."""
        groups: dict[str, list[tuple[str, str]]] = {name: [] for name in (*HEADINGS, _REST)}
        for param in self.get_params(ctx):
            record = param.get_help_record(ctx)
            if record is not None and isinstance(param, click.Option):
                groups[_GROUP_OF.get(param.opts[0], _REST)].append(record)
        for name, records in groups.items():
            if records:
                with formatter.section(name):
                    formatter.write_dl(records, col_max=26)


def job_options(command: F) -> F:
    """Give a command every option of a job, in the order of the fields."""
    for field in reversed(FIELDS):
        names = (f"--{field.name}", parameter_of(field.name))
        kind = field.kind
        how: dict[str, Any] = {"metavar": kind.metavar, "multiple": kind.repeatable}
        if kind.flag:
            how = {"is_flag": True, "default": None}
        command = click.option(*names, help=field.meaning, **how)(command)
    return command


def parameter_of(name: str) -> str:
    """The name under which click hands over the option of a field."""
    return f"job_{name.replace('-', '_')}"


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
    try:
        return parse_choice(typed, formats)
    except FieldError as fault:
        raise fault.at("--format") from None


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
    try:
        return parse_choice(typed, (Level.WARNING, Level.FAILURE))
    except FieldError as fault:
        raise fault.at("--fail-on") from None
