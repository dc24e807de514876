"""Where does a house say its defaults, and by which file does a command go?

In: ``--house``, ``--no-house`` and the variable ``SPINEFIT_HOUSE``, empty for no house. Out: the
`House` of the file named, else of ``spinefit.toml`` in the user's configuration folder, else none;
the folder one stands in is never asked. That folder is the one that platformdirs names, worked out
here where the XDG Base Directory Specification alone settles it: a check takes a look there, and
loads no library for it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Collection
from contextlib import suppress

import click

from spinefit.cli import output
from spinefit.errors import FaultsAt, FieldError
from spinefit.job.house import NO_HOUSE, House

_FILE, _VARIABLE = "spinefit.toml", "SPINEFIT_HOUSE"


def takes_house(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options about a house, for `house_of`."""
    named = click.option(
        "--house", "house_file", metavar="FILE",
        help="A TOML file with what the house says once for all its books: market, method, font, "
        f"margins ... [that of {_VARIABLE}, else {_usual_file() or _FILE}]",
    )  # fmt: skip
    ignored = click.option("--no-house", is_flag=True, help="Go by no file of a house.")
    return named(ignored(command))


def house_of(named: str | None, *, ignored: bool) -> House:
    """What the house says once for all: nothing where it has no file, or none is to be read.

    Args:
        named: the file of ``--house``, or None.
        ignored: whether ``--no-house`` was given.

    Raises:
        FieldError: both options, or a variable that would mean another file in each folder.
        JobError: the file cannot be read, or something in it cannot be.
    """
    if ignored:
        if named is not None:
            raise FieldError(
                "a house both named and ignored", value=named, where="--house",
                remedy="leave out one of --house and --no-house",
            )  # fmt: skip
        return NO_HOUSE
    where, file = "--house", named
    if file is None and (file := os.environ.get(_VARIABLE)) is not None:
        where, file = _VARIABLE, os.path.expanduser(file)
        if not file:
            return NO_HOUSE
        if not os.path.isabs(file):
            raise FieldError(
                "another file in each folder", value=file, where=where,
                remedy="give it from the root on, or name it with --house",
            )  # fmt: skip
    if file is None:
        file = _usual_file()
        if not file or not os.path.lexists(file):
            return NO_HOUSE
    from spinefit.job.read import read_house

    with FaultsAt(where):
        return read_house(file)


def tell(words: Collection[str]) -> None:
    """Say on standard error what a house says, where an answer does not name what was assumed."""
    if words:
        output.complain(f"house defaults, where nothing else was said: {'; '.join(words)}")


def _usual_file() -> str:
    """The file in the user's configuration folder, be it there or not; "" for no such folder."""
    if sys.platform == "linux" and "ANDROID_DATA" not in os.environ:
        set_folder, home = os.environ.get("XDG_CONFIG_HOME", ""), os.environ.get("HOME", "")
        if os.path.isabs(set_folder):
            return os.path.join(set_folder, "spinefit", _FILE)
        if os.path.isabs(home):
            return os.path.join(home, ".config", "spinefit", _FILE)
    from platformdirs import user_config_path

    with suppress(RuntimeError):  # there is no home
        path = user_config_path("spinefit", appauthor=False) / _FILE
        return str(path) if path.is_absolute() else ""
    return ""
