"""How wide is the screen, has it colours, and which letters can it show?

In: standard output and the environment. Out: a `Screen`, the same for every command, and text
in the screen's encoding. No library is loaded for it.
"""

from __future__ import annotations

import codecs
import os
import sys
from typing import NamedTuple

_PIPED_COLUMNS = 80
_NARROWEST, _WIDEST = 40, 110  # lines that are read, not glanced at
_PLAINER = {
    "│": "|",
    "─": "-",
    "‐": "-",
    "‑": "-",
    "–": "-",
    "—": "-",
    "−": "-",
    "×": "x",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "°": " deg",
    "≤": "<=",
    "≥": ">=",
}


class Screen(NamedTuple):
    """What a text is written for.

    Attributes:
        columns: its width in character cells.
        has_colour: whether the terminal's colours are added.
    """

    columns: int = _PIPED_COLUMNS
    has_colour: bool = False

    @classmethod
    def to_read(cls, columns: int, *, has_colour: bool = False) -> Screen:
        """A screen of so many columns, where they are not too few or too many to read.

        >>> Screen.to_read(20).columns, Screen.to_read(200).columns
        (40, 110)
        """
        return cls(min(max(columns, _NARROWEST), _WIDEST), has_colour)


PLAIN = Screen()
"""A pipe or a file."""


def screen() -> Screen:
    """What standard output shows: 80 columns where it is no terminal."""
    return Screen.to_read(columns(), has_colour=_has_colour())


def columns() -> int:
    """Width of the terminal, or 80 where the output goes elsewhere."""
    if not on_terminal():
        return _PIPED_COLUMNS
    import shutil

    return shutil.get_terminal_size().columns


def _has_colour() -> bool:
    """True on a terminal that shows colours, unless NO_COLOR is set."""
    return on_terminal() and not _is_dumb() and not os.environ.get("NO_COLOR")


def _is_dumb() -> bool:
    return os.environ.get("TERM", "") in ("dumb", "unknown")


def picture_can_be_shown() -> bool:
    """True on a terminal that shows more than ASCII."""
    return on_terminal() and not _is_dumb() and shows_unicode()


def shows_unicode() -> bool:
    """Whether standard output takes every character."""
    return codecs.lookup(encoding()).name.startswith("utf")


def encoding() -> str:
    """The encoding of standard output."""
    return getattr(sys.stdout, "encoding", None) or "utf-8"


def encoded(text: str, name: str | None = None) -> bytes:
    """Text in an encoding, or that of standard output, what it lacks in plainer characters."""
    return text.encode(name or encoding(), "spinefit.plainer")


def on_terminal() -> bool:
    """True where somebody reads standard output as it comes."""
    try:
        return sys.stdout is not None and sys.stdout.isatty()
    except ValueError:  # closed
        return False


def _plainer(fault: UnicodeError) -> tuple[str, int]:
    """Codec error handler: a plainer character, or the escape of one that has none."""
    if not isinstance(fault, UnicodeEncodeError):
        raise fault
    lost = fault.object[fault.start : fault.end]
    shown = "".join(
        _PLAINER.get(char) or char.encode("unicode_escape", "surrogatepass").decode()
        for char in lost
    )
    return shown, fault.end


codecs.register_error("spinefit.plainer", _plainer)
