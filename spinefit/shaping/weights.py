"""Which font is the bold, or the regular, of a family?

In: the font a job is set in, and the weight wanted. Out: the lettering with the font, face or axis
of that weight: a variable font's axis of weight, a bundled font of the family, another face of the
file, or a file beside it. Font files say themselves what family they are of.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from spinefit import catalogue
from spinefit.errors import FontError
from spinefit.job.model import Lettering
from spinefit.shaping.faces import faces_in
from spinefit.shaping.fontfile import OpenFont, open_font
from spinefit.vocabulary import Weight

_CLASS = {Weight.REGULAR: 400.0, Weight.BOLD: 700.0}
"""Weight classes and values of the axis. Source: OpenType specification, OS/2 table and wght."""

_AXIS = "wght"
_ENDS = (".ttf", ".otf", ".ttc", ".otc")
_HEAVINESS = re.compile(
    r"\b(?:(?:extra|ultra|semi|demi) ?)?"
    r"(?:thin|light|regular|roman|normal|book|medium|bold|black|heavy)\b"
)
_MOST_BESIDE = 100  # files looked into: a family has some dozens


def of_weight(lettering: Lettering, usual: str, weight: Weight) -> Lettering:
    """The lettering in a weight of its font's family.

    Args:
        lettering: as it was asked for.
        usual: the font it is set in where none was named.
        weight: the one wanted.

    Raises:
        FontError: the family has none.
    """
    named = replace(lettering, font=lettering.font or usual)
    font = open_font(lettering.font or usual, lettering.face)
    wanted = _CLASS[weight]
    for axis in font.shaper.axes:
        if axis.tag == _AXIS and axis.least <= wanted <= axis.most:
            others = tuple(one for one in lettering.axes or () if one[0] != _AXIS)
            return replace(named, axes=(*others, (_AXIS, wanted)))
    if font.shaper.weight_and_width[0] == wanted:
        return named
    for name, face in _of_family(font, wanted):
        return replace(named, font=name, face=face)
    raise FontError(
        f"no {weight} of the family of {font.name}", value=str(weight), where="--weights",
        remedy="leave it out, or give a font that has one; 'spinefit fonts' lists bundled ones",
    )  # fmt: skip


def _of_family(font: OpenFont, wanted: float) -> Iterator[tuple[str, str | None]]:
    """Fonts of a family that have a weight, each with its face where a file holds several."""
    family = _family(font.name)
    bundled = catalogue.font_named(font.name)
    if bundled is not None and bundled.file == font.file:
        for row in catalogue.font_rows():
            weight = Weight.BOLD if "bold" in row.name.casefold().split() else Weight.REGULAR
            if _family(row.name) == family and _CLASS[weight] == wanted:
                yield row.name, None
        return
    own = Path(font.file)
    beside = [one for one in own.parent.iterdir() if one.suffix.lower() in _ENDS and one != own]
    for path in (own, *sorted(beside)[:_MOST_BESIDE]):
        for face in faces_in(path) or ():
            if _family(face.name) == family and face.weight == wanted:
                yield str(path), str(face.number)


def _family(name: str) -> list[str]:
    """The words of a font's name that do not say how heavy it is."""
    return _HEAVINESS.sub(" ", name.casefold()).split()
