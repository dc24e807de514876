"""Which length, size, number or choice does a typed text mean?

In: text as a person types it. Out: millimetres, DTP points, a plain number or one of the choices
a field has; a bare length is millimetres, a bare size DTP points. Only the figures 0 to 9 and
Unicode's fractions of them are read. A decimal comma is read where it can part no thousands, and
refused rather than guessed at where it can. Whether a field may hold zero is for
`spinefit.job.checks`. Units: `spinefit.units`.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, TypeVar

from spinefit.errors import FieldError, UnitError, nearest
from spinefit.units import MM_PER_LEAF_UNIT, MM_PER_SIZE_UNIT, MM_PER_UNIT, pt_from_mm

C = TypeVar("C", bound=str)

_LONGEST_MM = 10_000.0  # ten metres: past any book, shelf or reading distance
_DECIMAL_UNITS = ("cm", "in")  # of so many mm by definition, in a few decimals
_DECIMALS_MM = 9  # far below what anyone can set, and above the rounding of a product
_LONGEST_TEXT = 60  # past any figure with its unit
_SPELT_UNITS = {"inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in"}
_SPELT_OF = {
    "size": {"dd": "didot", "didot pt": "didot", "pica pt": "pica"},
    "thickness": {"μm": "um", "micron": "um", "microns": "um", "thou": "mil"},
}
_UNITS_OF = {"size": MM_PER_SIZE_UNIT, "thickness": MM_PER_LEAF_UNIT}
_MM_PER = MM_PER_SIZE_UNIT | MM_PER_LEAF_UNIT
_POINTS = ("pt", "pica", "didot")
_UNSERVED = ("m", "ft", "'", "′", "km", "yd", "feet", "foot", "metre", "metres", "meter")
_EXAMPLES = "write figures and a unit, such as 9mm, 3/8in or 24pt"

_LARGEST_NUMBER = 1e6  # past any number asked for here

_DECIMAL = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_COMMA = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9.,])")
_THOUSANDS = re.compile("[1-9][0-9]{0,2},[0-9]{3}")
_SPACES = re.compile(r"[\s\u00a0\u2007\u202f\u2009]+")
_FIGURE = re.compile(
    rf"(?P<sign>[-+−]?) *(?:(?:(?P<whole>[0-9]+) *[ -] *)?(?P<over>[0-9]+) */ *(?P<under>[0-9]+)"
    rf"|(?P<decimal>{_DECIMAL})) *(?P<unit>[^0-9/,.–—-]*(?:[a-zA-Z]\.)?)"
)
_BETWEEN = ("..", "–", "—", "-")  # the ends of a range; a hyphen may stand in 1-3/8 as well


class _Figure(NamedTuple):
    """A number and the unit beside it, before anything is converted."""

    number: float
    unit: str | None
    typed: str


def parse_length(text: str, *, signed: bool = False) -> float:
    """The length a text means, in mm; a bare number is millimetres.

    Args:
        text: ``9mm``, ``0.9 cm``, ``12,5mm``, ``3/8in``, ``1 3/8"``, ``1½ in.``, ``24pt`` or ``9``.
        signed: True where the length may point the other way.

    Raises:
        UnitError: no such length or unit, negative, or longer than ten metres.

    >>> parse_length("1 1/4 in")
    31.75
    """
    return parse_figures([text], last="length", signed=signed)[0]


def parse_figures(texts: Sequence[str], *, last: str, signed: bool = False) -> tuple[float, ...]:
    """Several lengths in mm, of which the last lends its unit to those typed without one.

    Args:
        texts: the lengths, in order.
        last: what the last one is called, for a message.
        signed: True where they may be negative.

    Raises:
        UnitError: one of them is no length, or an earlier one has a unit other than mm and
            the last has none, so that nobody can tell what the last one means.

    >>> parse_figures(["1", "2cm"], last="height")
    (10.0, 20.0)
    """
    figures = [_figure(text, signed=signed) for text in texts]
    end = figures[-1].unit
    if end is None and any(figure.unit not in (None, "mm") for figure in figures[:-1]):
        raise UnitError(
            f"no unit for the {last}",
            value=figures[-1].typed,
            remedy=f"say the unit of the {last} too",
        )
    return tuple(_length_mm(figure, figure.unit or end or "mm") for figure in figures)


def parse_range(text: str) -> float | tuple[float, float]:
    """A length in mm, or the least and greatest of a range.

    Args:
        text: a length, or two with ``..`` or a dash between them; a unit on the upper serves both.

    Raises:
        UnitError: no such length, or a range that runs backwards.

    >>> parse_range("13..15mm"), parse_range("1-3/8 in"), parse_range("1/2–3/4in")
    ((13.0, 15.0), 34.925, (12.7, 19.05))
    """
    plain = _in_figures(text).replace("…", "..")
    between = next((mark for mark in _BETWEEN if mark in plain.lstrip("+-–—")), "")
    if not between or _FIGURE.fullmatch(plain):
        return parse_length(text)
    ends = plain.split(between)
    if len(ends) != 2 or not all(end.strip(" ") for end in ends):
        raise UnitError("not a range", value=text, remedy="write it as 13..15mm")
    least, greatest = parse_figures(ends, last="upper figure")
    if least > greatest:
        raise UnitError(
            "the range runs backwards", value=text, remedy="give the lesser length first"
        )
    return least, greatest


def parse_caliper(text: str) -> float:
    """The thickness of a leaf in mm: ``100um``, ``4mil``, ``500ppi`` (pages in an inch), a length.

    Raises:
        UnitError: no such thickness.

    >>> parse_caliper("100 µm"), parse_caliper("500 ppi"), parse_caliper("0.1")
    (0.1, 0.1016, 0.1)
    """
    figure = _figure(text, noun="thickness")
    if figure.unit == "ppi" and figure.number:
        figure = figure._replace(number=1 / figure.number)
    return round(_length_mm(figure, figure.unit or "mm"), _DECIMALS_MM)


def parse_rectangle(text: str) -> tuple[float, float]:
    """The width and height of a rectangle in mm; a unit on the height alone serves both.

    Raises:
        UnitError: no such rectangle, or a unit on the width alone that is not mm.

    >>> parse_rectangle("2x3cm")
    (20.0, 30.0)
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
    value_mm = _length_mm(figure, unit)
    if figure.number <= 0:
        raise UnitError(
            "a size must be more than nothing", value=figure.typed, remedy="such as 12pt"
        )
    return figure.number if unit == "pt" else round(pt_from_mm(value_mm), 9)


def _figure(text: str, *, signed: bool = False, noun: str = "length") -> _Figure:
    plain = _with_point(_in_figures(text), text, UnitError)
    if not plain:
        raise UnitError(f"no {noun} given", value=text, remedy=_EXAMPLES)
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


def _length_mm(figure: _Figure, unit: str) -> float:
    value_mm = figure.number * _MM_PER[unit]
    if not math.isfinite(value_mm) or abs(value_mm) > _LONGEST_MM:
        raise UnitError(
            "longer than 10 m", value=figure.typed, remedy="look at the figure and its unit"
        )
    if unit in _DECIMAL_UNITS:  # so that a length is the same number as if typed in mm
        value_mm = round(value_mm, _DECIMALS_MM)
    return value_mm


def _unit(said: str, text: str, noun: str) -> str | None:
    """The unit written beside a number; a size may be in more kinds of points than a length."""
    plain = said.strip(" ").removesuffix(".").casefold()
    units = _UNITS_OF.get(noun, MM_PER_UNIT)
    unit = (_SPELT_UNITS | _SPELT_OF.get(noun, {})).get(plain, plain)
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


def parse_number(text: str, *, endings: Iterable[str] = ()) -> float:
    """The plain number a text means, of either sign.

    Args:
        text: digits with at most a decimal point or comma.
        endings: units that may be written after it and add nothing, such as ``deg``.

    Raises:
        FieldError: no number, or one past a million.

    >>> parse_number("45 deg", endings=("deg",))
    45.0
    """
    plain = _without_endings(plain_spaces(text).casefold(), endings)
    plain = _with_point(plain, text, FieldError)
    if not re.fullmatch(rf"[-+−]?{_DECIMAL}", plain):
        raise FieldError("not a number", value=text, remedy="write figures, such as 1.2")
    number = float(plain.replace("−", "-"))
    if abs(number) > _LARGEST_NUMBER:
        raise FieldError(
            "far too large a number",
            value=text,
            remedy=f"no number here is above {_LARGEST_NUMBER:.0f}",
        )
    return number


def parse_count(text: str, *, figures: int = 3, endings: Iterable[str] = ()) -> int:
    """The whole number from 0 that a text means.

    Args:
        text: what was typed.
        figures: how many figures it may have.
        endings: words that may be written after it and add nothing, such as ``pages``.

    Raises:
        FieldError: no whole number, or out of these bounds.

    >>> parse_count(" 5 "), parse_count("1200 pages", figures=5, endings=("pages",))
    (5, 1200)
    """
    plain = _without_endings(plain_spaces(text).casefold(), endings)
    if not re.fullmatch(f"[0-9]{{1,{figures}}}", plain):
        most = "9" * figures
        raise FieldError(f"not a whole number from 0 to {most}", value=text, remedy="such as 5")
    return int(plain)


def _without_endings(plain: str, endings: Iterable[str]) -> str:
    """The text without words that may stand after its figures."""
    for ending in endings:
        plain = plain.removesuffix(ending).rstrip(" ")
    return plain


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


def _in_figures(text: str) -> str:
    """``text`` with plain spaces, and ``1½`` as ``1 1/2``."""
    plain = plain_spaces(text)
    if plain.isascii():
        return plain
    return plain_spaces("".join(map(_fraction_in_figures, plain)))


def _fraction_in_figures(char: str) -> str:
    if char == "\N{FRACTION SLASH}":
        return "/"
    if not unicodedata.decomposition(char).startswith("<fraction>"):
        return char
    return f" {unicodedata.normalize('NFKC', char)} ".replace("\N{FRACTION SLASH}", "/")


def _with_point(plain: str, text: str, kind: type[UnitError] | type[FieldError]) -> str:
    """A number's decimal comma made a point; refused where it may part thousands or a list.

    Args:
        plain: the number with its spaces closed up.
        text: as typed, for the message.
        kind: the error to raise.
    """
    found = _COMMA.search(plain)
    if found is None or plain.count(",") > 1:
        if "," in plain:
            raise kind("a comma in a number", value=text, remedy="write decimals with a point")
        return plain
    whole, part = found.groups()
    if _THOUSANDS.fullmatch(found[0]):
        meant = f"write {whole}.{part} or {whole}{part}, whichever is meant"
        raise kind("a comma in a number", value=text, remedy=meant)
    return plain.replace(",", ".")
