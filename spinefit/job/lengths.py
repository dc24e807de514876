"""Which length or size does a typed text mean?

In: text as a person types it. Out: millimetres (`Length`) or DTP points; a bare length is
millimetres, a bare size DTP points. Only the figures 0 to 9 and the decimal point are read; a
decimal comma is refused rather than guessed at. Whether a field may hold zero is for
`spinefit.job.resolve`. Units: `spinefit.units`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from spinefit.errors import UnitError, nearest
from spinefit.job.numbers import DECIMAL, plain_spaces, refuse_comma
from spinefit.units import MM_PER_SIZE_UNIT, MM_PER_UNIT, pt_from_mm

__all__ = [
    "Length",
    "parse_figures",
    "parse_length",
    "parse_range",
    "parse_rectangle",
    "parse_size",
    "parse_sizes",
]

_LONGEST_MM = 10_000.0  # ten metres: past any book, shelf or reading distance
_DECIMAL_UNITS = ("cm", "in")  # of so many mm by definition, in a few decimals
_DECIMALS_MM = 9  # far below what anyone can set, and above the rounding of a product
_LONGEST_TEXT = 60  # past any figure with its unit
_SPELT_UNITS = {"inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in"}
_SPELT_POINTS = {"dd": "didot", "didot pt": "didot", "pica pt": "pica"}
_POINTS = ("pt", "pica", "didot")
_UNSERVED = ("m", "ft", "'", "′", "km", "yd", "feet", "foot", "metre", "metres", "meter")
_EXAMPLES = "write figures and a unit, such as 9mm, 3/8in or 24pt"

_FIGURE = re.compile(
    rf"(?P<sign>[-+−]?) *(?:(?:(?P<whole>[0-9]+) *[ -] *)?(?P<over>[0-9]+) */ *(?P<under>[0-9]+)"
    rf"|(?P<decimal>{DECIMAL})) *(?P<unit>[^0-9/,.]*)"
)
_DASHED_RANGE = re.compile(rf"({DECIMAL}) *[-–—] *({DECIMAL}) *([a-z\"]*)")


class Length(NamedTuple):
    """A length in mm, with the text it was typed as.

    Attributes:
        value_mm: the length in mm.
        typed: what the person wrote, so that a message can repeat it.
    """

    value_mm: float
    typed: str


class _Figure(NamedTuple):
    """A number and the unit beside it, before anything is converted."""

    number: float
    unit: str | None
    typed: str


def parse_length(text: str, *, signed: bool = False) -> Length:
    """The length a text means; a bare number is millimetres.

    Args:
        text: ``9mm``, ``0.9 cm``, ``3/8in``, ``1 3/8"``, ``24pt`` or ``9``.
        signed: True where the length may point the other way.

    Raises:
        UnitError: no such length or unit, negative, or longer than ten metres.

    >>> parse_length("1 1/4 in").value_mm
    31.75
    """
    return parse_figures([text], last="length", signed=signed)[0]


def parse_figures(texts: Sequence[str], *, last: str, signed: bool = False) -> tuple[Length, ...]:
    """Several lengths, of which the last lends its unit to those typed without one.

    Args:
        texts: the lengths, in order.
        last: what the last one is called, for a message.
        signed: True where they may be negative.

    Raises:
        UnitError: one of them is no length, or an earlier one has a unit other than mm and
            the last has none, so that nobody can tell what the last one means.

    >>> [length.value_mm for length in parse_figures(["1", "2cm"], last="height")]
    [10.0, 20.0]
    """
    figures = [_figure(text, signed=signed) for text in texts]
    end = figures[-1].unit
    if end is None and any(figure.unit not in (None, "mm") for figure in figures[:-1]):
        raise UnitError(
            f"no unit for the {last}",
            value=figures[-1].typed,
            remedy=f"say the unit of the {last} too",
        )
    return tuple(_length(figure, figure.unit or end or "mm") for figure in figures)


def parse_range(text: str) -> Length | tuple[Length, Length]:
    """A length, or the least and greatest of a range.

    Args:
        text: a length, or two with ``..`` between them; a unit on the upper serves both.

    Raises:
        UnitError: no such length, or a range that runs backwards.

    >>> [end.value_mm for end in parse_range("13..15mm")]
    [13.0, 15.0]
    """
    plain = plain_spaces(text)
    ends = plain.replace("…", "..").split("..")
    if len(ends) == 1:
        dashed = _DASHED_RANGE.fullmatch(plain)
        if dashed:
            low, high, unit = dashed.groups()
            raise UnitError(
                "not a length", value=text, remedy=f"write a range as {low}..{high}{unit or 'mm'}"
            )
        return parse_length(text)
    if len(ends) != 2 or not all(end.strip(" ") for end in ends):
        raise UnitError("not a range", value=text, remedy="write it as 13..15mm")
    least, greatest = parse_figures(ends, last="upper figure")
    if least.value_mm > greatest.value_mm:
        raise UnitError(
            "the range runs backwards", value=text, remedy="give the lesser length first"
        )
    return least, greatest


def parse_rectangle(text: str) -> tuple[Length, Length]:
    """The width and height of a rectangle; a unit on the height alone serves both.

    Raises:
        UnitError: no such rectangle, or a unit on the width alone that is not mm.

    >>> [side.value_mm for side in parse_rectangle("2x3cm")]
    [20.0, 30.0]
    """
    sides = re.split("[xX×]", plain_spaces(text))
    if len(sides) != 2 or not all(side.strip(" ") for side in sides):
        raise UnitError("not a rectangle", value=text, remedy="write width and height as 20x30mm")
    width, height = parse_figures(sides, last="height")
    return width, height


def parse_size(text: str) -> float:
    """The type size a text means, in DTP points; a bare number is DTP points.

    Args:
        text: ``12``, ``12pt``, ``14pica`` (printer's points), ``14didot`` or ``14dd`` (Didot
            points), or a length.

    Raises:
        UnitError: no such size, or not above zero.

    >>> parse_size("12"), parse_size("1in"), round(parse_size("24didot"), 3)
    (12.0, 72.0, 25.578)
    """
    figure = _figure(text, noun="size")
    return _size_pt(figure, figure.unit or "pt")


def parse_sizes(texts: Sequence[str]) -> tuple[float, ...]:
    """The sizes of a drawer in DTP points, rising; the last lends its unit.

    Args:
        texts: one or more, each bare or in ``pt``, ``pica`` or ``didot`` (``dd``).

    Raises:
        UnitError: one is no such size, not in points or there twice; or an earlier one has a
            unit of its own and the last has none.

    >>> parse_sizes(["14", "10", "12pt"])
    (10.0, 12.0, 14.0)
    """
    figures = [_figure(text, noun="size") for text in texts]
    end = figures[-1].unit
    for figure in figures:
        if figure.unit not in (None, *_POINTS):
            raise UnitError(
                "not a size in points", value=figure.typed, remedy="use pt, pica or didot"
            )
    if end is None and any(figure.unit not in (None, "pt") for figure in figures):
        raise UnitError(
            "no unit for the last size",
            value=figures[-1].typed,
            remedy="say the unit of the last size too",
        )
    found: dict[float, str] = {}
    for figure in figures:
        size_pt = _size_pt(figure, figure.unit or end or "pt")
        if size_pt in found:
            raise UnitError("a size given twice", value=figure.typed, remedy="take one of them out")
        found[size_pt] = figure.typed
    return tuple(sorted(found))


def _size_pt(figure: _Figure, unit: str) -> float:
    """A size in DTP points; one typed in them stays as it was typed."""
    length = _length(figure, unit)
    if figure.number <= 0:
        raise UnitError(
            "a size must be more than nothing", value=figure.typed, remedy="such as 12pt"
        )
    return figure.number if unit == "pt" else round(pt_from_mm(length.value_mm), 9)


def _figure(text: str, *, signed: bool = False, noun: str = "length") -> _Figure:
    plain = plain_spaces(text)
    if not plain:
        raise UnitError(f"no {noun} given", value=text, remedy=_EXAMPLES)
    refuse_comma(plain, text, UnitError)
    found = _FIGURE.fullmatch(plain) if len(plain) <= _LONGEST_TEXT else None
    if not found:
        raise UnitError(f"not a {noun}", value=text, remedy=_EXAMPLES)
    number = _number(found, text)
    if found["sign"] in ("-", "−") and number:
        if not signed:
            raise UnitError(f"a {noun} cannot be negative", value=text, remedy="take off the minus")
        number = -number
    return _Figure(number, _unit(found["unit"], text, noun), text)


def _number(found: re.Match[str], text: str) -> float:
    if found["decimal"]:
        return float(found["decimal"])
    if not float(found["under"]):
        raise UnitError("a fraction over nothing", value=text, remedy="such as 3/8in")
    return float(found["whole"] or 0) + float(found["over"]) / float(found["under"])


def _length(figure: _Figure, unit: str) -> Length:
    value_mm = figure.number * MM_PER_SIZE_UNIT[unit]
    if not math.isfinite(value_mm) or abs(value_mm) > _LONGEST_MM:
        raise UnitError(
            "longer than 10 m", value=figure.typed, remedy="look at the figure and its unit"
        )
    if unit in _DECIMAL_UNITS:  # so that a length is the same number as if typed in mm
        value_mm = round(value_mm, _DECIMALS_MM)
    return Length(value_mm, figure.typed)


def _unit(said: str, text: str, noun: str) -> str | None:
    """The unit written beside a number; a size may be in more kinds of points than a length."""
    plain = said.strip(" ").casefold()
    units = MM_PER_SIZE_UNIT if noun == "size" else MM_PER_UNIT
    spelt = _SPELT_UNITS | _SPELT_POINTS if noun == "size" else _SPELT_UNITS
    unit = spelt.get(plain, plain)
    if not unit:
        return None
    if unit in units:
        return unit
    like = None if plain in _UNSERVED else _nearest_unit(plain, units)
    hint = f"did you mean '{like}'? " if like else ""
    *most, last = units
    said_units = f"{', '.join(most)} or {last}"
    raise UnitError(f"no unit '{plain}' here", value=text, remedy=f"{hint}use {said_units}")


def _nearest_unit(word: str, units: Mapping[str, float]) -> str | None:
    """The unit most like a word; one wrong letter of two is a slip of the finger."""
    like = nearest(word, (*units, "inch", "inches"))
    if like:
        return _SPELT_UNITS.get(like, like)
    slips = (
        unit for unit in units if len(word) == len(unit) and sum(map(str.__ne__, word, unit)) == 1
    )
    return next(slips, None)
