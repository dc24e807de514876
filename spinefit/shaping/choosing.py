"""Which fonts have these characters, this weight and this width?

In: a text to be covered, a weight, a width, a pattern of names. Out: the bundled fonts, and the
installed ones, that meet all of them; a variable font meets what lies on its axes. Coverage is
that of the character map. Source of the classes and their names: OpenType specification, OS/2
table, usWeightClass and usWidthClass.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from fnmatch import fnmatchcase
from typing import NamedTuple

from spinefit import catalogue
from spinefit.catalogue import FontRow
from spinefit.errors import FieldError, did_you_mean
from spinefit.shaping.faces import Installed, has_all, installed_fonts, plain_name
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.harfbuzz import Axis

_WEIGHTS = {
    "thin": 100, "extra-light": 200, "ultra-light": 200, "light": 300, "normal": 400,
    "regular": 400, "medium": 500, "semi-bold": 600, "demi-bold": 600, "bold": 700,
    "extra-bold": 800, "ultra-bold": 800, "black": 900, "heavy": 900,
}  # fmt: skip
_WIDTHS = (
    ("ultra-condensed", 50.0), ("extra-condensed", 62.5), ("condensed", 75.0),
    ("semi-condensed", 87.5), ("normal", 100.0), ("semi-expanded", 112.5),
    ("expanded", 125.0), ("extra-expanded", 150.0), ("ultra-expanded", 200.0),
)  # fmt: skip
_WIDTH_NAMES = tuple(name for name, _percent in _WIDTHS)
_NEAR_WEIGHT = 50  # a name stands for the weights nearer to it than to its neighbours
_HEAVIEST = 1000

Bounds = tuple[float, float]
"""From the least to the most, both included."""


class FontFilter(NamedTuple):
    """What a font has to meet; None for anything.

    Attributes:
        covers: a text whose every character it must have; spaces are left out.
        weight: from which to which weight class.
        width_percent: from which to which width, in per cent of the normal.
        name: a part of its name, or a pattern with ``*`` and ``?`` for the whole of it.
    """

    covers: str | None = None
    weight: Bounds | None = None
    width_percent: Bounds | None = None
    name: str | None = None

    @property
    def opens_fonts(self) -> bool:
        """Whether a font has to be opened to see if it meets them."""
        return (self.covers, self.weight, self.width_percent) != (None, None, None)

    @property
    def codes(self) -> frozenset[int]:
        """The code points that must be covered."""
        text = unicodedata.normalize("NFC", self.covers or "")
        return frozenset(
            ord(char)
            for char in text
            if not char.isspace() and unicodedata.category(char) not in ("Cf", "Cc")
        )


def weight_range(typed: str) -> Bounds:
    """The weight classes a text means: a class, a name, or two with ``..`` between them.

    Raises:
        FieldError: none of these.

    >>> weight_range("semi-bold"), weight_range("600..700")
    ((550, 649), (600.0, 700.0))
    """
    return _range("weight", typed, _weight, tuple(_WEIGHTS), "a class from 1 to 1000")


def width_range(typed: str) -> Bounds:
    """The widths in per cent a text means: a class from 1 to 9, a per cent, a name, or two.

    Raises:
        FieldError: none of these.

    >>> width_range("condensed"), width_range("3"), width_range("75%")
    ((68.75, 81.25), (68.75, 81.25), (75.0, 75.0))
    """
    return _range("width", typed, _width, _WIDTH_NAMES, "a class from 1 to 9 or a per cent")


def _range(
    what: str,
    typed: str,
    bounds_of: Callable[[str], Bounds | None],
    names: tuple[str, ...],
    numbers: str,
) -> Bounds:
    """The bounds of one word or number, or from the least of one to the most of another."""
    found = []
    for part in typed.split("..", 1):
        plain = part.strip().casefold().replace(" ", "-")
        bounds = bounds_of(plain)
        if bounds is None:
            other = f"give {numbers}, or a name such as {names[2]}"
            remedy = did_you_mean(plain, names, otherwise=other)
            raise FieldError(f"no {what} of a font", value=typed, remedy=remedy)
        found.append(bounds)
    least, most = found[0][0], found[-1][1]
    if least > most:
        raise FieldError(f"a {what} that runs backwards", value=typed, remedy="the least first")
    return least, most


def _weight(plain: str) -> Bounds | None:
    if plain in _WEIGHTS:
        return _WEIGHTS[plain] - _NEAR_WEIGHT, _WEIGHTS[plain] + _NEAR_WEIGHT - 1
    value = _number(plain)
    return None if value is None or not 1 <= value <= _HEAVIEST else (value, value)


def _width(plain: str) -> Bounds | None:
    if plain in _WIDTH_NAMES:
        return _class(_WIDTH_NAMES.index(plain) + 1)
    value = _number(plain.removesuffix("%"))
    if value is not None and not plain.endswith("%") and value in range(1, 10):
        return _class(int(value))
    return None if value is None or not 10 <= value <= 1000 else (value, value)


def _class(number: int) -> Bounds:
    """The widths nearer to a class than to its neighbours."""
    percents = [percent for _name, percent in _WIDTHS]
    own = percents[number - 1]
    under = (percents[number - 2] + own) / 2 if number > 1 else 0.0
    over = (percents[number] + own) / 2 if number < len(percents) else 1000.0
    return under, over


def _number(plain: str) -> float | None:
    try:
        return float(plain) if plain.isascii() and plain[:1].isdigit() else None
    except ValueError:
        return None


def bundled_with(wanted: FontFilter) -> tuple[FontRow, ...]:
    """The bundled fonts that meet what is wanted."""
    return tuple(row for row in catalogue.font_rows() if _bundled_meets(row, wanted))


def installed_with(wanted: FontFilter) -> tuple[tuple[Installed, ...], int]:
    """The installed fonts that meet what is wanted, and how many files could not be read.

    Raises:
        FontNotFoundError: the system does not say which fonts it has.
    """
    fonts, broken = installed_fonts()
    return tuple(one for one in fonts if _installed_meets(one, wanted)), broken


def _bundled_meets(row: FontRow, wanted: FontFilter) -> bool:
    if not _named_so((row.name,), wanted.name):
        return False
    if not wanted.opens_fonts:
        return True
    font = open_font(row.name)
    weight, width_percent = font.shaper.weight_and_width
    return (
        _lies(weight, (), "wght", wanted.weight)
        and _lies(width_percent, (), "wdth", wanted.width_percent)
        and (wanted.covers is None or wanted.codes <= font.shaper.covered())
    )


def _installed_meets(one: Installed, wanted: FontFilter) -> bool:
    face = one.face
    return (
        _named_so((face.name, *face.also), wanted.name)
        and _lies(face.weight, face.axes, "wght", wanted.weight)
        and _lies(face.width_percent, face.axes, "wdth", wanted.width_percent)
        and (wanted.covers is None or has_all(one, wanted.codes))
    )


def _named_so(names: tuple[str, ...], pattern: str | None) -> bool:
    if pattern is None:
        return True
    if any(char in pattern for char in "*?["):
        return any(fnmatchcase(name.casefold(), pattern.casefold()) for name in names)
    return any(plain_name(pattern) in plain_name(name) for name in names)


def _lies(value: float, axes: tuple[Axis, ...], tag: str, bounds: Bounds | None) -> bool:
    """Whether a font's value, or some place on its axis, lies within bounds."""
    if bounds is None:
        return True
    least, most = next(((one.least, one.most) for one in axes if one.tag == tag), (value, value))
    return least <= bounds[1] and most >= bounds[0]
