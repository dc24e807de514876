"""What stands in a TOML file of the binder's, and which methods does one describe?

In: a path. Out: what the file holds, as TOML has it (a job, methods, tools or a pattern), or the
methods of it by name, whole and checked. A file of methods has a table for each, with the keys of
`spinefit.catalogue.method_table`. A number may be a whole row, or bare (``0.3``) or a text with
its unit (``"0.3mm"``): then the binder is its source. ``like`` names the method that a table
takes its other numbers from. A rim: it reads files; every fault is one line with the file, and
the line and column or the key where there is one.
"""

from __future__ import annotations

import errno
import os
import re
import stat
import tomllib
from collections.abc import Callable, Mapping
from functools import lru_cache, wraps
from io import BufferedReader
from pathlib import Path
from typing import Any, TypeVar

from spinefit import catalogue
from spinefit.catalogue.meant import method_meant
from spinefit.catalogue.method_table import NUMBER_KEYS, Method, method_of
from spinefit.errors import CatalogueError, FieldError, JobError, SpinefitError, reason_of
from spinefit.job import values
from spinefit.vocabulary import Status

R = TypeVar("R")

_LARGEST_FILE = 1_000_000  # bytes; a job file is a page
_PIPE_SECONDS = 2.0
_FILES_KEPT = 32  # of each kind: more than a table of books names
_SPOT = re.compile(r"(.*) \(at line ([0-9]+), column ([0-9]+)\)", re.DOTALL)
_KEY_PART = r"""(?:[\w-]+|"(?:[^"\\\n]|\\.)*+"|'[^'\n]*')"""
_MOST_PARTS = 50  # of a key: past any; the reader's time grows with their square
_LONG_KEY = re.compile(
    rf"(?:^|[\[{{,])[ \t]*{_KEY_PART}(?:[ \t]*\.[ \t]*{_KEY_PART}){{{_MOST_PARTS}}}", re.MULTILINE
)

_AT_END = " (at end of document)"
_OWN = {"source": "the binder's own", "status": str(Status.PRACTICE)}
_EXAMPLE = 'begin each method with its name in brackets, [our-labels], then like = "paper-label"'
_LONGEST_CHAIN = 20  # of methods each like the next: past any use


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
        return os.path.dirname(path) or "this folder, which is gone"


def opened(path: str | Path) -> BufferedReader:
    """A file of the binder's, to be read; a pipe is given a moment for its writer to come.

    Raises:
        OSError: it cannot be opened, or is a pipe that nobody writes into.
    """
    if not stat.S_ISFIFO(os.stat(path).st_mode):
        return open(path, "rb")
    import threading

    found: list[BufferedReader | OSError] = []

    def wait() -> None:  # as opening a pipe does, without end
        try:
            found.append(open(path, "rb"))  # noqa: SIM115 (handed on)
        except OSError as fault:
            found.append(fault)

    waiting = threading.Thread(target=wait, daemon=True)
    waiting.start()
    waiting.join(_PIPE_SECONDS)
    file = found[0] if found else OSError(errno.EAGAIN, "a pipe that nobody writes into")
    if isinstance(file, OSError):
        raise file
    return file


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
            now = os.stat(path)
        except (OSError, ValueError):
            return read(str(path))  # it knows how to say what is wrong
        return kept(str(path), now.st_mtime_ns, now.st_size)

    return found


def digest_of(path: str | Path) -> str:
    """The SHA-256 digest of a file that was read, in hexadecimal."""
    import hashlib

    with opened(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _text(path: str | Path, where: str, noun: str) -> str:
    if not where.strip():
        raise JobError(f"no {noun} named", value=where, remedy="give the name of a TOML file")
    try:
        with opened(path) as file:
            raw = file.read(_LARGEST_FILE + 1)
    except FileNotFoundError:
        raise JobError(
            f"no such {noun}", value=where, remedy=f"it was looked for in {looked_in(path)}"
        ) from None
    except IsADirectoryError:
        raise JobError(f"a folder, not a {noun}", value=where, remedy="name the file") from None
    except (OSError, ValueError) as fault:
        raise JobError(
            f"the {noun} cannot be read ({reason_of(fault)})",
            value=where,
            remedy="name a TOML file",
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
    long_key = _LONG_KEY.search(text)
    if long_key:
        raise JobError(
            f"not a {noun}: a key of more than {_MOST_PARTS} parts",
            where=f"{where}:{text.count(chr(10), 0, long_key.start()) + 1}",
            remedy=example,
        )
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


@once_a_change
def read_methods(path: str) -> Mapping[str, Method]:
    """The methods of a file, by name.

    Args:
        path: the file.

    Raises:
        JobError: no such file, or not a TOML file.
        CatalogueError: no method in it, or a table that is at fault; file, table and key are
            named.
    """
    tables = read_toml(path, "method file", _EXAMPLE)
    where = path
    if not tables:
        raise CatalogueError("no method in the file", where=where, remedy=_EXAMPLE)
    for key, table in tables.items():
        if not isinstance(table, dict):
            raise CatalogueError("not a method", value=key, where=where, remedy=_EXAMPLE)
        if not key.strip() or not key.isprintable():
            raise CatalogueError("no name for a method", value=key, where=where, remedy=_EXAMPLE)
    return {key: _method(key, tables, where, ()) for key in tables}


def pick_method(name: str | None, own: Mapping[str, Method], path: str) -> Method:
    """The method of that name, a binder's own or a known one.

    Args:
        name: what was asked for; None where nothing was.
        own: the methods of the binder's file.
        path: the file, for messages.

    Raises:
        FieldError: there is none of that name, or several and none was asked for.
    """
    if name is None:
        if len(own) == 1:
            return next(iter(own.values()))
        raise FieldError(
            f"{len(own)} methods in the file", value=path,
            remedy=f"name one with --method: {', '.join(own)}",
        )  # fmt: skip
    if name in own:
        return own[name]
    known = {**own, **catalogue.methods(), **own}  # the binder's own first
    return known[method_meant(name, {key: row.name for key, row in known.items()})]


def _method(key: str, tables: Mapping[str, Any], where: str, trail: tuple[str, ...]) -> Method:
    """One method of a file; ``trail`` names those that are like it."""
    at = f"{where}: [{key}]"
    if key in trail or len(trail) > _LONGEST_CHAIN:
        raise CatalogueError(
            "methods that are like each other", value=key, where=f"{where}: [{trail[0]}] like",
            remedy="let one of them give its own numbers",
        )  # fmt: skip
    table = dict(tables[key])
    like = None
    if "like" in table:
        like = _likeness(table.pop("like"), key, tables, where, trail)
    gaps = {name: table[name] for name in ("gap_mm", "gap_advised_mm") if name in table}
    if not any(name.startswith("counter") for name in table):  # a gap meant counters too, once
        table |= {name.replace("gap", "counter"): row for name, row in gaps.items()}
    return method_of(
        key, {name: _whole(name, value, at) for name, value in table.items()}, at, like=like
    )


def _likeness(
    name: object, key: str, tables: Mapping[str, Any], where: str, trail: tuple[str, ...]
) -> Method:
    """The method that another is like: of the same file, or a known one."""
    if isinstance(name, str) and name in tables and name != key:
        return _method(name, tables, where, (*trail, key))
    try:
        return catalogue.method(str(name))
    except FieldError as fault:
        raise CatalogueError(
            fault.what, value=name, where=f"{where}: [{key}] like", remedy=fault.remedy
        ) from None


def _whole(name: str, value: object, where: str) -> object:
    """A value in the form of our own data: each number a whole row."""
    if name not in NUMBER_KEYS:
        return value
    at = f"{where} {name}"
    row = value if isinstance(value, dict) else {"value": value}
    for key in row:
        if key not in ("value", "unit", "source", "status"):
            raise CatalogueError(
                "no such part of a number", value=key, where=at,
                remedy="it has value, unit, source and status",
            )  # fmt: skip
    whole: dict[str, object] = {"unit": name[-2:], **_OWN, **row}
    if "value" in row:
        whole["value"] = _number(name, row["value"], at)
    return whole


def _number(name: str, value: object, where: str) -> object:
    """The number a value means, in the unit its key ends with."""
    read = {"sizes_pt": values.sizes_pt}.get(name) or (
        values.size_pt if name.endswith("_pt") else values.length
    )
    try:
        return read(value)
    except SpinefitError as fault:
        raise CatalogueError(
            fault.what, value=fault.value, where=where, remedy=fault.remedy
        ) from None
