"""What does a job file say?

In: the path of a TOML file with a ``title`` and the fields of `spinefit.job.fields`, one a
line. Out: the title and the values as they stand, files named in them looked for beside it, for
`fields.assemble` to read. `read_toml` serves other files of the binder's too. Every fault is
one line with the file, and the line and column where there is one. A rim: it reads files.
"""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Callable, Mapping
from functools import lru_cache, wraps
from pathlib import Path
from typing import NamedTuple, TypeVar

from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job.beside import beside, folder_of, looked_in
from spinefit.job.fields import field_named

__all__ = [
    "JobTables",
    "digest_of",
    "once_a_change",
    "read_job_file",
    "read_job_tables",
    "read_toml",
]

R = TypeVar("R")

_LARGEST_FILE = 1_000_000  # bytes; a job file is a page
_FILES_KEPT = 32  # of each kind: more than a table of books names
_SPOT = re.compile(r"(.*) \(at line ([0-9]+), column ([0-9]+)\)", re.DOTALL)
_AT_END = " (at end of document)"
_OF_A_PLAN = ("order", "relation")  # fields that only a back with several texts has


class JobTables(NamedTuple):
    """What stands in a job file, not yet parsed.

    Attributes:
        title: the title, or None where the file has none.
        values: the other fields by name.
        texts: the ``[[text]]`` tables of a back with several texts.
        volumes: the ``[[volume]]`` tables of a set; with ``[[volume.text]]`` or ``[[text]]``
            tables each volume has several texts.
    """

    title: str | None
    values: dict[str, object]
    texts: tuple[dict[str, object], ...]
    volumes: tuple[dict[str, object], ...]

    @property
    def are_backs(self) -> bool:
        """Whether it is a set whose volumes have several texts each."""
        return bool(self.volumes) and (
            bool(self.texts) or any("text" in one for one in self.volumes)
        )


def read_job_file(path: str | Path) -> tuple[str | None, dict[str, object]]:
    """The title and the values of a job file, not yet parsed.

    Args:
        path: the file.

    Returns:
        The title, or None where the file has none; and the other fields by name.

    Raises:
        JobError: no such file, not readable, not UTF-8, not TOML, an unknown name, a table,
            or a title that is no text.
    """
    found = read_job_tables(path)
    if found.texts or found.volumes:
        raise FieldError(
            "several texts or volumes, where one title is asked for",
            value="text" if found.texts else "volume",
            where=str(path),
            remedy="give it to 'spinefit check --job'",
        )
    return found.title, found.values


def read_job_tables(path: str | Path) -> JobTables:
    """What stands in a job file of one text, of several texts or of a set.

    Args:
        path: the file.

    Raises:
        JobError: as of `read_job_file`, or both texts and volumes.
    """
    where = str(path)
    table = read_toml(
        path,
        "job file",
        'write one field a line, texts in quotes, such as width = "13mm"',
    )
    title = table.pop("title", None)
    if title is not None and not isinstance(title, str):
        raise FieldError(
            "the title must be a text",
            value=title,
            where=f"{where}: title",
            remedy='put it in quotes: title = "1984"',
        )
    texts, volumes = (_tables(table, name, where) for name in ("text", "volume"))
    several = bool(texts) or any("text" in one for one in volumes)
    for name, value in table.items():
        if isinstance(value, dict) and name != "axes":
            raise FieldError(
                "a job file has no tables",
                value=name,
                where=where,
                remedy="write one field a line, such as width = 13",
            )
        if not (several and name in _OF_A_PLAN):
            _check_name(name, where)
    folder = folder_of(path)
    return JobTables(
        title,
        _found_beside(table, folder),
        tuple(_found_beside(text, folder) for text in texts),
        tuple(_found_beside(volume, folder) for volume in volumes),
    )


def _found_beside(table: Mapping[str, object], folder: str) -> dict[str, object]:
    """A table with the files it names, and those of its texts, looked for in a folder."""
    found = beside(table, folder)
    texts = found.get("text")
    if isinstance(texts, list):
        found["text"] = [beside(text, folder) if isinstance(text, dict) else text for text in texts]
    return found


def _tables(table: dict[str, object], name: str, where: str) -> tuple[dict[str, object], ...]:
    """The tables ``[[name]]``, taken out of ``table``."""
    found = table.pop(name, [])
    if isinstance(found, dict):
        raise FieldError(
            "one table where several are meant",
            value=name,
            where=where,
            remedy=f"write [[{name}]] with two brackets",
        )
    if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        raise FieldError(
            "tables are meant", value=name, where=where, remedy=f"write [[{name}]] above each"
        )
    return tuple(found)


def _check_name(name: str, where: str) -> None:
    try:
        field_named(name)
    except SpinefitError as fault:
        raise fault.at(where) from None


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
