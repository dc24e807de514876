"""Where are the files looked for that a file names?

In: the values of a job file or of a row of a table, and the folder it lies in. Out: the same
with every file named by a relative path in that folder, so that a folder of books can be moved
about and asked after from anywhere. What was read from a pipe has no folder, and means the current
one. A font may be named instead of its file: a name stays one.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

__all__ = ["FILE_FIELDS", "beside", "folder_of", "looked_in"]

FILE_FIELDS = ("font", "fallback", "method-file", "tools")
"""Fields that name a file, or fonts by name or file."""

_FONTS = ("font", "fallback")
_FONT_ENDS = (".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2")


def folder_of(path: str | Path) -> str:
    """The folder of a file as it was named; "" for the current one.

    >>> folder_of("books/trolley.csv"), folder_of("trolley.csv")
    ('books', '')
    """
    return os.path.dirname(path)


def beside(said: Mapping[str, object], folder: str) -> dict[str, object]:
    """The values with the files they name looked for in a folder.

    Args:
        said: values by field, as they stand in a file.
        folder: the folder of that file.

    >>> found = beside({"title": "Tides", "font": "Cinzel", "tools": "brass.toml"}, "books")
    >>> found["font"], found["tools"].replace(os.sep, "/")
    ('Cinzel', 'books/brass.toml')
    """
    found = dict(said)
    for name in FILE_FIELDS:
        value = found.get(name)
        if name == "fallback":
            parts = value.split(";") if isinstance(value, str) else value
            if isinstance(parts, list):
                found[name] = [_in(folder, part, font=True) for part in parts]
        elif value is not None:
            found[name] = _in(folder, value, font=name in _FONTS)
    return found


def looked_in(path: str | Path) -> str:
    """The folder in which a file was looked for, in full."""
    try:
        return os.path.dirname(os.path.abspath(path))
    except (OSError, ValueError):  # the current folder is gone, or it is no path at all
        return os.path.dirname(path)


def _in(folder: str, named: object, *, font: bool) -> object:
    """One file in the folder; what is no text or only a font's name as it stands."""
    if not isinstance(named, str) or not named.strip() or "\0" in named:
        return named
    path = os.path.join(folder, os.path.expanduser(named.strip()))
    if font and not _is_file(named.strip(), path):
        return named
    return path


def _is_file(named: str, path: str) -> bool:
    """Whether a font's file is meant: it ends like one, lies in a folder, or is there."""
    ends_so = named.lower().endswith(_FONT_ENDS)
    return ends_so or "/" in named or os.sep in named or os.path.isfile(path)
