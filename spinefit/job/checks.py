"""Is a field's value one that it can hold, and what is taken where there is none?

In: a value as `Job` holds it, and where it was said. Out: the same, whole numbers made floats
where a length or a size is meant. Finite numbers in bounds, lengths no book exceeds, members of
an enumeration; each fault names its option, the value and what to give instead.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum
from typing import Any, TypeGuard, TypeVar

from spinefit.catalogue import Method
from spinefit.errors import FieldError, nearest
from spinefit.job.values import KeepFree, OldLettering, Panel

T = TypeVar("T")

LARGEST_MM = 2000.0
"""No book is larger; a slip of a unit is."""

SMALLEST = 0.001
"""Of what must be more than nothing, in mm, points, degrees or em: less is a slip too, and the
arithmetic of what is nearly nothing ends in nothing or without end."""

LARGEST_SIZE_PT = 5000.0
"""No type is larger."""

MOST_CARDS = 9
"""More, and a recess needs a thicker card."""

_THICKEST_LABEL_MM = 10.0  # a board, not a label

_MOST_RECTANGLES = 50
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


def width_mm(value: float | tuple[float, float], where: str) -> float | tuple[float, float]:
    """A width in mm, or the least and greatest of a range.

    Raises:
        FieldError: no such width, or a range that runs backwards.
    """
    if not isinstance(value, tuple):
        return length_mm(value, where)
    least, most = (length_mm(width, where) for width in value)
    if least > most:
        raise FieldError(
            "the range runs backwards", value=f"{least:g}..{most:g}", where=where,
            remedy="give the lesser width first",
        )  # fmt: skip
    return least, most


def label_thickness_mm(value: float, where: str) -> float:
    """The thickness of a label in mm.

    Raises:
        FieldError: it is that of a board.
    """
    thickness_mm = length_mm(value, where)
    if thickness_mm > _THICKEST_LABEL_MM:
        raise FieldError(
            f"{value:g} mm is no label", where=where,
            remedy=f"give at most {_THICKEST_LABEL_MM:g} mm",
        )  # fmt: skip
    return thickness_mm


def sides(value: Panel, where: str) -> Panel:
    """A rectangle with two sides."""
    width, height = length_mm(value.width_mm, where), length_mm(value.height_mm, where)
    return Panel(width_mm=width, height_mm=height)


def rectangles(value: tuple[Panel, ...], where: str) -> tuple[Panel, ...]:
    """Rectangles to choose from, no more than anyone can compare by eye."""
    if len(value) > _MOST_RECTANGLES:
        raise FieldError(
            f"{len(value)} rectangles", where=where, remedy=f"give 1 to {_MOST_RECTANGLES}"
        )
    return tuple([sides(one, where) for one in value])


def old_ink(value: OldLettering, where: str) -> OldLettering:
    """The ink of old lettering, and where it begins if that was said."""
    from_head_mm = value.from_head_mm
    return replace(
        value,
        width_mm=length_mm(value.width_mm, where),
        height_mm=length_mm(value.height_mm, where),
        from_head_mm=None if from_head_mm is None else length_mm(from_head_mm, where, zero=True),
    )


def areas(value: tuple[KeepFree, ...], where: str) -> tuple[KeepFree, ...]:
    """Areas to keep free, each with two sides and a middle no farther off than a book."""
    for area in value:
        length_mm(area.width_mm, where)
        length_mm(area.height_mm, where)
        for offset_mm in (area.x_mm, area.y_mm):
            number(offset_mm, where, least=-LARGEST_MM, most=LARGEST_MM)
    return value


def size_pt(value: float, where: str) -> float:
    """A type size in points."""
    return number(value, where, least=0.0, most=LARGEST_SIZE_PT, above=True)


def drawer(sizes_pt: tuple[float, ...], where: str) -> tuple[float, ...]:
    """The sizes of the binder's own drawer in points, rising.

    Raises:
        FieldError: no size, one twice, or one that no type has.
    """
    for one_pt in sizes_pt:
        size_pt(one_pt, where)
    if not sizes_pt or len(set(sizes_pt)) < len(sizes_pt):
        what = "a size given twice" if sizes_pt else "no size in the drawer"
        raise FieldError(what, where=where, remedy="give each size once, such as 10,12,14")
    return tuple(sorted(map(float, sizes_pt)))


def numbers(
    values: tuple[float, ...], where: str, *, least: float, most: float, unit: str = ""
) -> tuple[float, ...]:
    """Numbers in bounds, each as of `number`."""
    return tuple([number(value, where, least=least, most=most, unit=unit) for value in values])


def is_whole(value: object) -> TypeGuard[int]:
    """Whether a value is a whole number, and no yes or no."""
    return isinstance(value, int) and not isinstance(value, bool)


def whole(
    noun: str, least: int, most: int, advice: str = "give a whole number"
) -> Callable[[int, str], int]:
    """A check of numbers of something.

    Args:
        noun: what is counted.
        least: how many there have to be.
        most: how many there may be.
        advice: how the remedy begins.
    """

    def check(value: int, where: str) -> int:
        if not is_whole(value) or not least <= value <= most:
            raise FieldError(
                f"no number of {noun}", value=value, where=where,
                remedy=f"{advice} from {least} to {most}",
            )  # fmt: skip
        return value

    return check


def panel_number(value: int, where: str) -> int:
    """A panel's number; whether there is such a panel is seen when the back is divided."""
    if not is_whole(value):
        raise FieldError("no panel's number", value=value, where=where)
    return value


def card_count(value: int, where: str) -> int:
    """How many cards a recess is cut through."""
    if not is_whole(value) or not 1 <= value <= MOST_CARDS:
        raise FieldError(
            "no number of cards", value=value, where=where,
            remedy=f"give 1 to {MOST_CARDS}, or a thicker card",
        )  # fmt: skip
    return value


def member(value: object, kind: type[StrEnum], where: str) -> Any:
    """A member of an enumeration; a text is none, even the right one.

    Raises:
        FieldError: it is none; the nearest is offered.
    """
    if not isinstance(value, kind):
        members = {str(member.value): f"{kind.__name__}.{member.name}" for member in kind}
        like = nearest(str(value), members)
        one_of = ", ".join(members.values())
        remedy = f"did you mean {members[like]}?" if like else f"choose from {one_of}"
        raise FieldError("no such choice", value=value, where=where, remedy=remedy)
    return value


def text(value: object, where: str) -> str:
    """``value`` if it is a text.

    Raises:
        FieldError: it is none.
    """
    if not isinstance(value, str):
        raise FieldError("not a text", value=value, where=where, remedy="give it in quotes")
    return value


def texts(value: tuple[str, ...], where: str) -> tuple[str, ...]:
    """``value`` if it is made of texts."""
    return tuple([text(one, where) for one in value])


def method(value: str | Method, where: str) -> str | Method:
    """The name of a method, or a method itself."""
    return value if isinstance(value, Method) else text(value, where)


def language_tag(value: object, where: str) -> str:
    """A BCP 47 language tag, spaces at its ends taken off.

    Raises:
        FieldError: it is none.
    """
    tag = text(value, where).strip()
    first, *others = tag.split("-")
    if not tag or not all(part.isalnum() and part.isascii() for part in (first, *others)):
        remedy = "give one such as en, de or el"
    elif not 2 <= len(first) <= 3:
        remedy = "its first part has two or three letters, such as en, de or el"
    else:
        return tag
    raise FieldError("no BCP 47 language tag", value=value, where=where, remedy=remedy)


def usual(value: T | None, otherwise: T, words: str, assumed: list[str]) -> T:
    """What was said, or what is usual, named as assumed.

    Args:
        value: what was said, None for nothing.
        otherwise: what is taken then.
        words: how that is named.
        assumed: takes the words.
    """
    if value is not None:
        return value
    assumed.append(words)
    return otherwise


def anything(value: object, _where: str) -> object:
    """What is judged elsewhere."""
    return value
