"""Is a field's value one that it can hold?

Checks shared by the parts of `resolve`: finite numbers in bounds, lengths no book exceeds,
members of an enumeration. Each fault names its option, the value and what to give instead.
"""

from __future__ import annotations

import math
from enum import StrEnum

from spinefit.errors import FieldError, nearest

__all__ = [
    "LARGEST_MM",
    "LARGEST_SIZE_PT",
    "SMALLEST",
    "drawer",
    "length_mm",
    "member",
    "number",
    "optional_member",
    "optional_text",
    "text",
]

LARGEST_MM = 2000.0
"""No book is larger; a slip of a unit is."""

SMALLEST = 0.001
"""Of what must be more than nothing, in mm, points, degrees or em: less is a slip too, and the
arithmetic of what is nearly nothing ends in nothing or without end."""

LARGEST_SIZE_PT = 5000.0
"""No type is larger."""

_LARGEST_WHOLE = 10**15
_PLAIN = (float, int)  # what nearly every number is; others are looked at closely


def number(
    value: float, where: str, *, least: float, most: float, above: bool = False, unit: str = ""
) -> float:
    """``value`` if it is a finite number in bounds (above ``least`` where asked).

    What has to be above 0 has to be `SMALLEST` at least.
    """
    smallest = SMALLEST if above and not least else least
    in_bounds = type(value) in _PLAIN and smallest <= value <= most
    if in_bounds and not (above and value == least):
        return float(value)
    with_unit = f" {unit}" if unit else ""
    if type(value) is int and abs(value) > _LARGEST_WHOLE:
        value = math.inf  # past all bounds, and perhaps past all floats
    if not isinstance(value, int | float) or isinstance(value, bool) or not math.isfinite(value):
        raise FieldError("not a number", value=value, where=where, remedy="give a plain number")
    if above and least == 0.0 < value < SMALLEST:
        low = f"at least {SMALLEST:g}"
    elif value > most or value < least or (above and value <= least):
        low = f"more than {least:g}" if above else f"at least {least:g}"
    else:
        return float(value)
    raise FieldError(
        f"{value:g}{with_unit} is out of bounds",
        where=where,
        remedy=f"give {low} and at most {most:g}{with_unit}",
    )


def length_mm(value: float, where: str, *, zero: bool = False) -> float:
    """A length in mm, `SMALLEST` or more, or at least 0 where ``zero`` is allowed.

    Raises:
        FieldError: it is not.
    """
    if type(value) in _PLAIN and SMALLEST <= value <= LARGEST_MM:
        return float(value)
    return number(value, where, least=0.0, most=LARGEST_MM, above=not zero, unit="mm")


def drawer(sizes_pt: tuple[float, ...] | None) -> tuple[float, ...] | None:
    """The sizes of the binder's own drawer in points, rising.

    Raises:
        FieldError: no size, one twice, or one that no type has.
    """
    if sizes_pt is None:
        return None
    where = "--sizes"
    for size_pt in sizes_pt:
        number(size_pt, where, least=0.0, most=LARGEST_SIZE_PT, above=True)
    if not sizes_pt or len(set(sizes_pt)) < len(sizes_pt):
        what = "a size given twice" if sizes_pt else "no size in the drawer"
        raise FieldError(what, where=where, remedy="give each size once, such as 10,12,14")
    return tuple(sorted(map(float, sizes_pt)))


def member(value: object, kind: type[StrEnum], where: str) -> None:
    """Refuse what is no member of an enumeration, offering the nearest.

    Raises:
        FieldError: it is none.
    """
    if not isinstance(value, kind):
        choices = [str(member.value) for member in kind]
        like = nearest(str(value), choices)
        remedy = f"did you mean '{like}'?" if like else f"choose from {', '.join(choices)}"
        raise FieldError("no such choice", value=value, where=where, remedy=remedy)


def optional_member(value: object, kind: type[StrEnum], where: str) -> None:
    """Refuse what is neither None nor a member of an enumeration.

    Raises:
        FieldError: it is neither.
    """
    if value is not None:
        member(value, kind, where)


def text(value: object, where: str) -> str:
    """``value`` if it is a text.

    Raises:
        FieldError: it is none.
    """
    if not isinstance(value, str):
        raise FieldError("not a text", value=value, where=where, remedy="give it in quotes")
    return value


def optional_text(value: object, where: str) -> str | None:
    """``value`` if it is a text or None.

    Raises:
        FieldError: it is neither.
    """
    return None if value is None else text(value, where)
