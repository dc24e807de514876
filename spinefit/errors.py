"""What can be wrong with what a person gave us, and how is it said in one line?

    SpinefitError
    ├── JobError                    what was asked for
    │   ├── UnitError               a length or a size that cannot be read
    │   ├── FieldError              a value outside what a field may hold
    │   └── ImpossibleBackError     a spine that cannot exist
    ├── FontError                   what it is lettered with
    │   ├── FontNotFoundError
    │   ├── FontBrokenError
    │   ├── MissingCharacterError
    │   └── NoInkError              a line of which nothing would be seen
    ├── CatalogueError              a data file of ours or of the binder's
    ├── OutputError                 a file that cannot be written
    └── VerificationError           the geometry engine disagrees with the arithmetic

A title that does not fit is a result, never one of these.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping

_LONGEST_VALUE_SHOWN = 80


class SpinefitError(Exception):
    """A fault in the input, said as one line: where, what, which value, what to do.

    Args:
        what: what was wrong, in plain words.
        value: the offending value as it was given, if there is one.
        where: the option, or file, row and column it came from.
        remedy: what to do about it.

    Attributes:
        rows: of a table that is refused as a whole each row at fault: its line, what is wrong.
    """

    rows: tuple[tuple[int, str], ...] = ()

    def __init__(
        self, what: str, *, value: object = None, where: str = "", remedy: str = ""
    ) -> None:
        self.what = what
        self.value = value
        self.where = where
        self.remedy = remedy
        super().__init__(what)

    def __str__(self) -> str:
        line = f"{self.where}: {self.what}" if self.where else self.what
        if self.value is not None:
            line += f": {_shown(self.value)}"
        if self.remedy:
            line += f"; {self.remedy}"
        return one_line(line)

    def at(self, where: str) -> SpinefitError:
        """The same fault with its place named, unless a nearer place is named already."""
        if not self.where:
            self.where = where
        return self


class FaultsAt:
    """While it lasts, a fault that names no place gets one.

    Args:
        where: the option, or file, row and column.
    """

    def __init__(self, where: str) -> None:
        self._where = where

    def __enter__(self) -> None:
        return None

    def __exit__(self, _kind: object, fault: BaseException | None, _trace: object) -> None:
        if isinstance(fault, SpinefitError):
            fault.at(self._where)


class FaultsMoved:
    """While it lasts, a fault at one place is said of another.

    Args:
        places: by the place that a fault names, the one where it can be mended.
    """

    def __init__(self, places: Mapping[str, str]) -> None:
        self._places = places

    def __enter__(self) -> None:
        return None

    def __exit__(self, _kind: object, fault: BaseException | None, _trace: object) -> None:
        if isinstance(fault, SpinefitError):
            fault.where = self._places.get(fault.where, fault.where)


class JobError(SpinefitError):
    """The job asks for something that cannot be understood or cannot be."""


class UnitError(JobError):
    """A length or a size that cannot be read."""


class FieldError(JobError):
    """A value that its field cannot hold."""


class ImpossibleBackError(JobError):
    """Measurements that no spine can have."""


class FontError(SpinefitError):
    """The font cannot serve."""


class FontNotFoundError(FontError):
    """No font of that name or file."""


class FontBrokenError(FontError):
    """A file that is no usable font."""


class MissingCharacterError(FontError):
    """The font lacks characters of the title."""


class NoInkError(FontError):
    """A line of which nothing would be seen."""

    def __init__(self, text: str) -> None:
        super().__init__(
            "a line without ink", value=text, where="TITLE",
            remedy="take out characters that nobody sees, or give a font with outlines for these",
        )  # fmt: skip


class CatalogueError(SpinefitError):
    """A data file lacks what every row must have."""


class OutputError(SpinefitError):
    """The result cannot be written."""


class VerificationError(SpinefitError):
    """The geometry engine and the arithmetic disagree about a fit."""


def reason_of(fault: OSError | ValueError) -> str:
    """What the system says of a file, or why it can be none."""
    return (fault.strerror or str(fault)) if isinstance(fault, OSError) else str(fault)


def one_line(text: str) -> str:
    r"""``text`` with everything that could break or hide a line made visible.

    >>> one_line("a" + chr(10) + "b" + chr(0x202E))
    'a\\nb\\u202e'
    """
    return "".join(
        char if char.isprintable() else char.encode("unicode_escape", "surrogatepass").decode()
        for char in text
    )


def _shown(value: object) -> str:
    text = str(value)
    if len(text) > _LONGEST_VALUE_SHOWN:
        text = text[: _LONGEST_VALUE_SHOWN - 1] + "…"
    return f"'{text}'"


def nearest(word: str, choices: Iterable[str], *, least: float = 0.6) -> str | None:
    """The choice most like ``word``, or None where nothing is like it.

    Args:
        word: what was typed; case, accents and spaces are forgiven.
        choices: what could have been meant.
        least: how like it has to be, from 0 to 1 (Ratcliff and Obershelp's measure).

    >>> nearest("taransverse", ["transverse", "pillar"])
    'transverse'
    """
    import difflib

    def plain(text: str) -> str:
        decomposed = unicodedata.normalize("NFKD", text.casefold())
        return "".join(char for char in decomposed if char.isalnum())

    table = {plain(choice): choice for choice in choices}
    found = difflib.get_close_matches(plain(word), list(table), n=1, cutoff=least)
    return table[found[0]] if found else None


def did_you_mean(word: str, choices: Iterable[str], *, otherwise: str) -> str:
    """What to do about a word that is none of the choices: the nearest, or something else."""
    like = nearest(word, choices)
    return f"did you mean '{like}'?" if like else otherwise
