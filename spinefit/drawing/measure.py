"""How wide are words in the drawing's own font, and how do they stand in a column?

In: a `Text`, or paragraphs. Out: the same with its width in mm, so that every writer sets it to
that width and what was laid out side by side stays so; lines one under another. The font is the
bundled one that `pdf` embeds, measured through the one door to HarfBuzz. Characters it lacks are
drawn from the lettering's outlines where those have them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache, partial

from spinefit.drawing.scene import Group, Item, Text, mapped
from spinefit.errors import one_line
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.harfbuzz import HarfBuzzFont
from spinefit.shaping.outline import Box, Contour, Placed, Point

__all__ = [
    "FACES",
    "WORDS_MM",
    "Letters",
    "column",
    "covers",
    "held",
    "measured",
    "text_width_mm",
    "wrapped",
]

FACES = {False: "Fira Sans Condensed", True: "Fira Sans Condensed Bold"}
"""Name of the drawing's font among the bundled ones, by whether it is the bold one."""

WORDS_MM = 3.1
"""Em of figures and names, near 9 pt."""

Letters = Callable[[str], tuple[list[Placed], Box | None]]
"""Sets a line in the lettering's font: outlines from pen 0 and their extents, in em."""

_PLAIN = {"kern": False, "liga": False, "calt": False}  # as the PDF's writer sets words
_UNKNOWN_EM = 0.6  # a character of another font: room enough for most letters
_LEADING = 1.25


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


def measured(
    text: Text,
    letters: Letters | None = None,
) -> Text:
    """The text with its width, and with its outlines where the drawing's font cannot set it.

    Args:
        text: the text; one that has a width already keeps it.
        letters: sets a line in the lettering's font; None where there is none.
    """
    if text.width_mm:
        return text
    if letters is not None and not covers(text.text, bold=text.bold):
        placed, box = letters(text.text)
        if box is not None:
            return text._replace(
                width_mm=(box[2] - box[0]) * text.size_mm,
                drawn=tuple(_drawn(placed, box[0], text.size_mm)),
            )
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


def held(items: Iterable[Item]) -> tuple[Item, ...]:
    """The same items, every text with the width it was laid out with."""
    return tuple(
        item._replace(items=held(item.items))
        if isinstance(item, Group)
        else measured(item)
        if isinstance(item, Text)
        else item
        for item in items
    )


def column(
    paragraphs: Iterable[str | tuple[str, bool]],
    at: Point,
    width_mm: float,
    *,
    size_mm: float = WORDS_MM,
) -> tuple[list[Item], float]:
    """Paragraphs one under another, and the y below the last of them.

    Args:
        paragraphs: words, or words and whether they are a heading.
        at: left end of the first baseline.
        width_mm: the greatest width of a line.
        size_mm: their size.
    """
    x, y = at
    items: list[Item] = []
    for paragraph in paragraphs:
        words, bold = (paragraph, False) if isinstance(paragraph, str) else paragraph
        size = size_mm * 1.15 if bold else size_mm
        for number, words_of_line in enumerate(wrapped(words, size, width_mm, bold=bold)):
            if bold and number == 0 and items:
                y -= 0.5 * size
            items.append(Text((x, y), words_of_line, size, bold=bold))
            y -= size * _LEADING
        y -= 0.35 * size_mm
    return items, y


def _drawn(placed: list[Placed], left_em: float, size_mm: float) -> list[Contour]:
    """Outlines in mm, their ink beginning at x = 0."""

    def at(point: tuple[float, float], x: float, y: float) -> tuple[float, float]:
        return (point[0] + x - left_em) * size_mm, (point[1] + y) * size_mm

    return [
        mapped(contour, partial(at, x=x, y=y)) for outline, x, y in placed for contour in outline
    ]


@lru_cache(maxsize=4096)
def _width_em(text: str, bold: bool) -> float:
    glyphs = _font(bold).shape(text, script="Latn", direction="ltr", language="en", features=_PLAIN)
    return sum(glyph.advance_em if glyph.gid else _UNKNOWN_EM for glyph in glyphs)


def _font(bold: bool) -> HarfBuzzFont:
    return open_font(FACES[bold]).shaper
