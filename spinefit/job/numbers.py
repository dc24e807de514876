"""Which plain number, count or choice does a typed text mean?

In: text as a person types it. Out: a number without a unit, a whole number, or one of the
choices a field has. Only the figures 0 to 9 and the decimal point are read; a decimal comma
is refused rather than guessed at. Lengths and sizes are for `spinefit.job.lengths`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypeVar

from spinefit.errors import FieldError, UnitError, nearest

__all__ = [
    "DECIMAL",
    "parse_choice",
    "parse_count",
    "parse_number",
    "plain_spaces",
    "refuse_comma",
]

DECIMAL = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
"""Pattern of a number without a sign."""

_MOST = 1e6  # past any number asked for here
_COMMA = re.compile(r"([0-9]+),([0-9]+)")
_SPACES = re.compile(r"[\s\u00a0\u2007\u202f\u2009]+")

C = TypeVar("C", bound=str)


def parse_number(text: str, *, endings: Iterable[str] = ()) -> float:
    """The plain number a text means, of either sign.

    Args:
        text: digits with at most a decimal point.
        endings: units that may be written after it and add nothing, such as ``deg``.

    Raises:
        FieldError: no number, or one past a million.

    >>> parse_number("45 deg", endings=("deg",))
    45.0
    """
    plain = plain_spaces(text).casefold()
    for ending in endings:
        plain = plain.removesuffix(ending).rstrip(" ")
    refuse_comma(plain, text, FieldError)
    if not re.fullmatch(rf"[-+−]?{DECIMAL}", plain):
        raise FieldError("not a number", value=text, remedy="write figures, such as 1.2")
    number = float(plain.replace("−", "-"))
    if abs(number) > _MOST:
        raise FieldError(
            "far too large a number", value=text, remedy=f"no number here is above {_MOST:.0f}"
        )
    return number


def parse_count(text: str) -> int:
    """The whole number from 0 to 999 a text means.

    Raises:
        FieldError: no whole number, or out of these bounds.

    >>> parse_count(" 5 ")
    5
    """
    plain = plain_spaces(text)
    if not re.fullmatch("[0-9]{1,3}", plain):
        raise FieldError("not a whole number from 0 to 999", value=text, remedy="such as 5")
    return int(plain)


def parse_choice(text: str, choices: Iterable[C]) -> C:
    """The choice a text names, case forgiven.

    Args:
        text: what was typed.
        choices: what may be meant: strings, or members of an enumeration of strings.

    Raises:
        FieldError: none of them; the nearest is offered.

    >>> parse_choice("Flat", ["flat", "rounded"])
    'flat'
    """
    known = {str(choice): choice for choice in choices}
    plain = plain_spaces(text).casefold().replace("_", "-")
    if plain in known:
        return known[plain]
    said = f"choose from {', '.join(known)}"
    like = nearest(plain, known)
    raise FieldError(
        "no such choice", value=text, remedy=f"did you mean '{like}'? {said}" if like else said
    )


def plain_spaces(text: str) -> str:
    """``text`` without spaces at its ends; those inside it, no-break ones too, made single."""
    return _SPACES.sub(" ", text).strip(" ")


def refuse_comma(plain: str, text: str, kind: type[UnitError] | type[FieldError]) -> None:
    """Refuse a number with a decimal comma, which may also part thousands or a list.

    Args:
        plain: the number with its spaces closed up.
        text: as typed, for the message.
        kind: the error to raise.
    """
    found = _COMMA.search(plain)
    if not found:
        return
    whole, part = found.groups()
    meant = f"write {whole}.{part}, not {whole},{part}"
    if len(part) == 3:
        meant = f"write {whole}.{part} or {whole}{part}, whichever is meant"
    raise kind("a comma in a number", value=text, remedy=meant)
