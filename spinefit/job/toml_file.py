"""How is a TOML file of the binder's read, and where are the files that it names?

In: a path. Out: what stands in the file, as TOML has it: a job, methods, tools or a pattern.
Every fault is one line with the file, and the line and column where there is one. A rim: it
reads files. What the keys mean is for those who ask.
"""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Callable
from functools import lru_cache, wraps
from pathlib import Path
from typing import TypeVar

from spinefit.errors import JobError

__all__ = ["digest_of", "folder_of", "looked_in", "once_a_change", "read_toml"]

R = TypeVar("R")

_LARGEST_FILE = 1_000_000  # bytes; a job file is a page
_FILES_KEPT = 32  # of each kind: more than a table of books names
_SPOT = re.compile(r"(.*) \(at line ([0-9]+), column ([0-9]+)\)", re.DOTALL)
_AT_END = " (at end of document)"


def folder_of(path: str | Path) -> str:
    """The folder of a file as it was named; "" for the current one.

    >>> folder_of("books/trolley.csv"), folder_of("trolley.csv")
    ('books', '')
    """
    return os.path.dirname(path)


def looked_in(path: str | Path) -> str:
    """The folder in which a file was looked for, in full."""
    try:
        return os.path.dirname(os.path.abspath(path))
    except (OSError, ValueError):  # the current folder is gone, or it is no path at all
        return os.path.dirname(path)


def read_toml(path: str | Path, noun: str, example: str) -> dict[str, object]:
    """What stands in a TOML file of the binder's.

    Args:
        path: the file.
        noun: what kind of file it is, for messages.
        example: what to write in it, for a message about its grammar.

    Raises:
        JobError: no such file, not readable, too large, not UTF-8 or not TOML.
    """
    where = str(path)
    return _table(_text(path, where, noun), where, noun, example)


def once_a_change(read: Callable[[str], R]) -> Callable[[str | Path], R]:
    """A reader of files that reads one again only once it has changed.

    Thousands of rows of a table may name one file. A fault is found anew each time, since who
    hears of it may mend it.

    Args:
        read: from a file's name to what stands in it, which nobody changes.
    """

    @lru_cache(maxsize=_FILES_KEPT)
    def kept(path: str, _changed_ns: int, _size: int) -> R:
        return read(path)

    @wraps(read)
    def found(path: str | Path) -> R:
        try:
            stat = os.stat(path)
        except (OSError, ValueError):
            return read(str(path))  # it knows how to say what is wrong
        return kept(str(path), stat.st_mtime_ns, stat.st_size)

    return found


def digest_of(path: str | Path) -> str:
    """The SHA-256 digest of a file that was read, in hexadecimal."""
    import hashlib

    return hashlib.sha256(Path(path).read_bytes()).hexdigest()


def _text(path: str | Path, where: str, noun: str) -> str:
    if not where.strip():
        raise JobError(f"no {noun} named", value=where, remedy="give the name of a TOML file")
    try:
        with Path(path).open("rb") as file:
            raw = file.read(_LARGEST_FILE + 1)
    except FileNotFoundError:
        raise JobError(
            f"no such {noun}", value=where, remedy=f"it was looked for in {looked_in(path)}"
        ) from None
    except IsADirectoryError:
        raise JobError(f"a folder, not a {noun}", value=where, remedy="name the file") from None
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else str(fault)
        raise JobError(
            f"the {noun} cannot be read ({reason})", value=where, remedy="name a TOML file"
        ) from None
    if len(raw) > _LARGEST_FILE:
        raise JobError(f"too large for a {noun}", value=where, remedy="name the right file")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        raise JobError(
            "not UTF-8 text", where=f"{where}:{line}", remedy="save the file as UTF-8"
        ) from None


def _table(text: str, where: str, noun: str, example: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        what, line, column = _spot(str(fault), text)
        raise JobError(
            f"not a {noun}: {what}",
            where=f"{where}:{line}:{column}",
            remedy=example,
        ) from None
    except (ValueError, RecursionError) as fault:
        what = "nested too deeply" if isinstance(fault, RecursionError) else "a number too long"
        raise JobError(f"not a {noun}: {what}", where=where, remedy=example) from None


def _spot(said: str, text: str) -> tuple[str, int, int]:
    """What the TOML reader found wrong, with its line and column, from 1."""
    found = _SPOT.fullmatch(said)
    if found:
        what, line, column = found[1], int(found[2]), int(found[3])
    else:
        what = said.removesuffix(_AT_END)
        line, column = text.count("\n") + 1, len(text) - text.rfind("\n")
    return what[:1].lower() + what[1:], line, column
