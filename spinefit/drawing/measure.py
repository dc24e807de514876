"""How wide are words in the drawing's own font?

In: words and their size in mm. Out: their width in mm, or the lines they make in a column. The
font is the bundled one that `pdf` embeds, measured through the one door to HarfBuzz.
"""

from __future__ import annotations

from functools import lru_cache

from spinefit.drawing.scene import Text
from spinefit.errors import one_line
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.harfbuzz import HarfBuzzFont

__all__ = ["covers", "measured", "text_width_mm", "wrapped"]

_FACES = {False: "Alegreya Sans", True: "Alegreya Sans Bold"}
_UNKNOWN_EM = 0.6  # a character of another font: room enough for most letters


def text_width_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """Width of one line as it is written, in mm.

    Args:
        text: any characters; what cannot be shown counts as the escape it is shown by.
        size_mm: its em.
        bold: in the bold face.
    """
    return _width_em(one_line(text), bold) * size_mm


def covers(text: str, *, bold: bool = False) -> bool:
    """Whether the drawing's font has every character of a text.

    >>> covers("Wrackness, 1931"), covers(chr(0x05D0))
    (True, False)
    """
    font = _font(bold)
    return all(font.nominal(char) for char in one_line(text))


def measured(text: Text) -> Text:
    """The text with its width, so that every writer sets it so wide, whatever its font."""
    if text.width_mm:
        return text
    return text._replace(width_mm=text_width_mm(text.text, text.size_mm, bold=text.bold))


def wrapped(text: str, size_mm: float, most_mm: float, *, bold: bool = False) -> list[str]:
    """The text in lines of at most a width, broken at spaces; a longer word stands alone."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, size_mm, bold=bold) <= most_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


@lru_cache(maxsize=4096)
def _width_em(text: str, bold: bool) -> float:
    glyphs = _font(bold).shape(
        text, script="Latn", direction="ltr", language="en", features={"liga": False}
    )
    return sum(glyph.advance_em if glyph.gid else _UNKNOWN_EM for glyph in glyphs)


def _font(bold: bool) -> HarfBuzzFont:
    return open_font(_FACES[bold]).shaper
