"""Which command was asked for, and with which code does it end?

Exit codes: 0 it fits, 1 it does not, 2 anything else, with one line on standard error. The
commands are loaded when they are asked for, so that ``--help`` is quick. Nothing but a title
that does not fit ever ends with 1: click's own faults, a full disk and Ctrl-C end with 2.
"""

from __future__ import annotations

import errno
import importlib
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NoReturn

import click

from spinefit.cli.output import complain, hush_stdout
from spinefit.errors import FieldError, JobError, SpinefitError, did_you_mean, nearest

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

_BAD_INPUT = 2
_COMMANDS = {
    "check": ("spinefit.cli.check", "Whether a title fits, how large, in which lines, which way."),
    "batch": ("spinefit.cli.batch", "A whole table of books, one row each."),
    "sheet": ("spinefit.cli.sheet", "Labels to print at true size and cut; or one to plot."),
    "worksheet": ("spinefit.cli.bench", "Where each hand letter is struck, with a pattern."),
    "recess": ("spinefit.cli.bench", "How the recess for a label is cut, drawn."),
    "page": ("spinefit.cli.page", "The whole job in a browser, on this machine only."),
    "fonts": ("spinefit.cli.lists", "The fonts that come with spinefit, and those installed."),
    "markets": ("spinefit.cli.lists", "Which way lettering runs along the back, by market."),
    "methods": ("spinefit.cli.lists", "What each way of lettering holds, and who says so."),
}
_NO_WORDS = "nothing asked; such as: spinefit check TITLE --width 9mm; 'spinefit --help' says more"
_DASHED_TITLE = "a title that begins with a dash goes last, after --"


class _Commands(click.Group):
    """The commands, loaded on use, their faults said in one line."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        command = getattr(importlib.import_module(_COMMANDS[cmd_name][0]), cmd_name)
        assert isinstance(command, click.Command)
        if ctx.resilient_parsing:  # a shell asks what may come next
            from spinefit.cli.completion import with_offers

            return with_offers(command)
        return command

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem[Any]]:
        from click.shell_completion import CompletionItem

        own = super(click.Group, self).shell_complete(ctx, incomplete)  # which loads no command
        return own + [
            CompletionItem(name, help=meaning)
            for name, (_, meaning) in _COMMANDS.items()
            if name.startswith(incomplete)
        ]

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, meaning) for name, (_, meaning) in _COMMANDS.items()])

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        name = args[0]
        command = self.get_command(ctx, name)
        if command is None:
            known = f"write 'spinefit check TITLE'; others: {', '.join(list(_COMMANDS)[1:])}"
            hint = did_you_mean(name, _COMMANDS, otherwise=known)
            raise FieldError("no such command", value=name, remedy=hint)
        if not ctx.resilient_parsing:
            _refuse_lacking(command.get_params(ctx), args[1:])
        return name, command, args[1:]

    def main(self, args: Sequence[str] | None = None, *_: Any, **__: Any) -> NoReturn:
        """Run a command line and end with its code; the one place where faults end.

        Args:
            args: the words after ``spinefit``; those of the process if None.
        """
        sys.exit(status(list(sys.argv[1:] if args is None else args)))


def _version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if not wanted or ctx.resilient_parsing:
        return
    from importlib.metadata import PackageNotFoundError, version

    try:
        number = version("spinefit")
    except PackageNotFoundError:
        number = "of a checkout that is not installed"
    click.echo(f"spinefit {number}")
    ctx.exit()


@click.group(
    cls=_Commands,
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.option(
    "--version", is_flag=True, is_eager=True, expose_value=False, callback=_version,
    help="Show the version and stop.",
)  # fmt: skip
def main() -> None:
    """Check whether a title fits the spine of a book before anything is cut.

    spinefit check "The Harbour Light" --width 13mm --height 198mm
    """


def status(args: list[str]) -> int:
    """Run a command line and say its exit code; faults become one line on standard error.

    Args:
        args: the words after ``spinefit``.
    """
    try:
        if instruction := os.environ.get("_SPINEFIT_COMPLETE"):
            from spinefit.cli.completion import complete

            return complete(main, instruction)
        with main.make_context("spinefit", args) as ctx:
            code = main.invoke(ctx)
        return code if isinstance(code, int) else 0
    except click.exceptions.Exit as end:
        return int(end.exit_code)
    except click.exceptions.NoArgsIsHelpError:
        complain(_NO_WORDS)
    except SpinefitError as fault:
        _tell(fault, args)
    except click.ClickException as fault:
        _tell(_of_click(fault), args)
    except (KeyboardInterrupt, click.Abort, EOFError):
        complain("stopped before there was an answer")
    except OSError as fault:
        return _unwritten(fault, args)
    except MemoryError:
        complain("not enough memory for this job")
    except Exception as fault:
        _internal(fault)
    return _BAD_INPUT


def _tell(fault: SpinefitError, args: list[str]) -> None:
    """Say a fault in one line, and to a program in the form it asked for."""
    complain(str(fault))
    if any(word.startswith("--format") for word in args) and args[0] in _COMMANDS:
        from spinefit.cli.faults import tell

        command = getattr(importlib.import_module(_COMMANDS[args[0]][0]), args[0])
        tell(fault, command, args[1:])


def _unwritten(fault: OSError, args: list[str]) -> int:
    """Exit code where click's own help or version could not be written, or no place is left."""
    try:
        os.getcwd()
    except OSError:
        _tell(JobError("the current folder is gone", remedy="go to one that is there"), args)
        return _BAD_INPUT
    hush_stdout()
    if fault.errno == errno.EPIPE:
        return 0  # the reader has gone
    complain(f"stopped by the system: {fault.strerror or fault}")
    return _BAD_INPUT


def _internal(fault: Exception) -> None:
    if os.environ.get("SPINEFIT_TRACEBACK") == "1":
        import traceback

        traceback.print_exception(fault)
    complain(f"internal fault: {type(fault).__name__}: {fault}; please report it")


def _refuse_lacking(params: Sequence[click.Parameter], words: list[str]) -> None:
    """Refuse an option where the value of the one before it is missing, which click would take."""
    takes_value = {
        name: not (param.is_flag or param.count)
        for param in params
        if isinstance(param, click.Option)
        for name in (*param.opts, *param.secondary_opts)
    }
    following = iter(words)
    for word in following:
        if word == "--":
            return
        if takes_value.get(word) and next(following, "").partition("=")[0] in takes_value:
            raise _lacking(word)


def _lacking(option: str) -> FieldError:
    return FieldError("lacks its value", where=option, remedy="give one behind it or leave it out")


def _of_click(fault: click.ClickException) -> SpinefitError:
    """What click found wrong, as a fault of ours."""
    if isinstance(fault, click.NoSuchOption):
        return _no_such_option(fault)
    if isinstance(fault, click.BadOptionUsage) and fault.message.endswith("requires an argument."):
        return _lacking(fault.option_name)
    message = " ".join(fault.format_message().split()).rstrip(".")
    return FieldError(f"{message[:1].lower()}{message[1:]}", remedy="--help lists the options")


def _no_such_option(fault: click.NoSuchOption) -> FieldError:
    name, ctx = fault.option_name, fault.ctx
    params = ctx.command.params if ctx else []
    known = [option for param in params for option in param.opts if option.startswith("--")]
    like = nearest(name, known)
    if like and name.startswith("--") and " " not in name:
        hint = f"did you mean {like}?"
    elif ctx and ctx.info_name == "check":
        hint = f"{_DASHED_TITLE}; 'spinefit check --help' lists the options"
    else:
        hint = "--help lists the options"
    return FieldError("no such option", value=name, remedy=hint)
