"""What can stand next on a command line? For a shell that asks while somebody types it.

In: what click's scripts for bash, zsh and fish hand over in the environment. Out: names of options
and commands, and for the value of an option what it may be: a choice, a method, a country's code,
the tag of a language, a bundled font, a paper, or a file. Loaded only where a shell asks, and loads
no engine.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import click
from click.shell_completion import (
    BashComplete,
    CompletionItem,
    FishComplete,
    ShellComplete,
    ZshComplete,
    add_completion_class,
    shell_complete,
)

from spinefit import catalogue
from spinefit.catalogue.trade import papers
from spinefit.cli.options import OneOf
from spinefit.errors import FieldError, SpinefitError
from spinefit.job import kinds
from spinefit.job.fields import FIELDS
from spinefit.job.sheet import SHEET_FIELDS

_KIND_OF = {f"--{field.name}": field.kind for field in (*SHEET_FIELDS, *FIELDS)}
_KIND_OF |= {"codes": kinds.COUNTRY, "names": kinds.METHOD, "name": kinds.FONT}  # of the lists


def complete(group: click.Group, instruction: str) -> int:
    """Answer a shell, or give it the script that asks; the exit code.

    Args:
        group: all commands.
        instruction: what is asked for, such as ``bash_source`` or ``zsh_complete``.

    Raises:
        FieldError: a shell for which there is no script, or no such instruction.
    """
    for shell in (BashComplete, ZshComplete, FishComplete):
        add_completion_class(type(shell.__name__, (_Joined, shell), {}))
    try:
        if shell_complete(group, {}, "spinefit", "_SPINEFIT_COMPLETE", instruction) == 0:
            return 0
    except SpinefitError:
        return 0  # what stands there so far is at fault, and whoever types sees to that
    raise FieldError(
        "no completion for that shell", value=instruction, where="_SPINEFIT_COMPLETE",
        remedy="give bash_source, zsh_source or fish_source",
    )  # fmt: skip


class _Joined(ShellComplete):
    """Any shell, for ``--name=value`` too: bash parts that into three words, others into none."""

    def get_completions(self, args: list[str], incomplete: str) -> list[CompletionItem[str]]:
        """What click finds, the option before the value where both are one word."""
        parted = len(args) > 1 and args[-1] == "="
        found = super().get_completions(args[:-1] if parted else args, incomplete)
        name, sign, _value = incomplete.partition("=")
        if sign and name.startswith("--"):
            for item in found:
                item.value = f"{name}={item.value}"
        return found


def with_offers(command: click.Command) -> click.Command:
    """The command, each of its options and arguments knowing what it may be."""
    for param in command.params:
        if not (isinstance(param, click.Option) and param.is_flag):
            param.type = _Offered(param)
    return command


class _Offered(click.types.StringParamType):
    """What may be chosen from: words, each with its meaning, and files where none is meant."""

    def __init__(self, param: click.Parameter) -> None:
        metavar = param.metavar or ""
        is_folder, is_file = "FOLDER" in metavar, "FILE" in metavar or metavar == "FONT"
        self._files = "dir" if is_folder else "file" if is_file else ""

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem[Any]]:
        """The words that begin so, of a list its last one; else that files are meant."""
        if isinstance(param, click.Argument) and ctx.params.get("job_files"):
            return [CompletionItem(incomplete, type="file")]
        before, comma, begun = incomplete.rpartition(",")
        words = ((word.replace(" ", "-"), use) for word, use in _words(param))  # one to a shell
        found = [
            CompletionItem(f"{before}{comma}{word}", help=use or None)
            for word, use in words
            if word.casefold().startswith(begun.casefold())
        ]
        return found or ([CompletionItem(incomplete, type=self._files)] if self._files else [])


def _words(param: click.Parameter) -> Iterable[tuple[str, str]]:
    """What the value may be, as far as that can be listed."""
    kind = _KIND_OF.get(param.opts[0])
    if kind is kinds.METHOD:
        return ((key, row.name) for key, row in catalogue.methods().items())
    if kind is kinds.COUNTRY:
        return catalogue.iso_3166_codes().items()
    if kind is kinds.LANGUAGE:
        tags = {tag for row in catalogue.markets().values() for tag in row.languages}
        return ((tag, "") for tag in sorted(tags))
    if kind in (kinds.FONT, kinds.FONTS):
        return ((row.name, row.use) for row in catalogue.font_rows())
    if param.metavar == "PAPER":
        choices: Iterable[str] = papers()
    elif isinstance(param.callback, OneOf):
        choices = param.callback.choices
    else:
        choices = () if kind is None else kind.choices
    return ((str(choice), "") for choice in choices)
