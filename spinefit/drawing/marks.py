"""With which strokes and words is a drawing drawn, and how wide are its words?

Pens, labels, arrows, hatching and break lines, as items of a scene in mm. Line widths 0.35, 0.18
and 0.13 mm, long dashes and dots for middles and oblique strokes at the ends of dimensions,
after the practice of ISO 128 and ISO 129 (common practice; no number of the trade rests on it).
Words get their width in mm here, so that every writer sets them to it and what was laid out
side by side stays so. Their font is the bundled one that `pdf` embeds, measured through the one
door to HarfBuzz; characters it lacks are drawn from the lettering's outlines.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache, partial

from spinefit.drawing.scene import (
    Anchor,
    Area,
    Group,
    Item,
    Line,
    Pen,
    Text,
    box_contour,
    mapped,
    ring_contour,
)
from spinefit.errors import one_line
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Box, Contour, Placed, Point, ink_box, union
from spinefit.shaping.harfbuzz import HarfBuzzFont

FACES = {False: "Fira Sans Condensed", True: "Fira Sans Condensed Bold"}
"""Name of the drawing's font among the bundled ones, by whether it is the bold one."""

WORDS_MM = 3.1
"""Em of figures and names, near 9 pt."""

Letters = Callable[[str], tuple[list[Placed], Box | None]]
"""Sets a line in the lettering's font: outlines from pen 0 and their extents, in em."""

_PLAIN = {"kern": False, "liga": False, "calt": False}  # as the PDF's writer sets words
_UNKNOWN_EM = 0.6  # a character of another font: room enough for most letters
_UNKNOWN_WIDE_EM = 1.3  # an ideograph or a picture, as wide as high
_LEADING = 1.25
# How much wider DejaVu Sans, among the widest of sans serifs, is than the drawing's font, plain and
# bold: its small letters, and all others (computed).
_WIDER = {False: (1.22, 1.38), True: (1.38, 1.47)}


def text_width_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """Width of one line as it is written, in mm.

    Args:
        text: any characters; what cannot be shown counts as the escape it is shown by.
        size_mm: its em.
        bold: in the bold face.
    """
    return _width_em(one_line(text), bold) * size_mm


def room_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """The room that a line takes where another sans serif writes it; as of `text_width_mm`.

    Not every reader of SVG has the drawing's font, or holds words to their width.
    """
    small, other = _WIDER[bold]
    widths_em = _widths_em(one_line(text), bold)
    wider_em = sum(width * (small if char.islower() else other) for char, width in widths_em)
    return wider_em * size_mm


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
    """The text in lines of at most a width, broken at spaces; a longer word stands alone.

    A wider font has room for them too.
    """
    lines: list[str] = []
    for word in filter(None, text.split(" ")):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and room_mm(longer, size_mm, bold=bold) <= most_mm:
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
) -> tuple[list[Item], float]:
    """Paragraphs one under another, and the y below the last of them.

    Args:
        paragraphs: words, or words and whether they are a heading.
        at: left end of the first baseline.
        width_mm: the greatest width of a line.
    """
    x, y = at
    items: list[Item] = []
    for paragraph in paragraphs:
        words, bold = (paragraph, False) if isinstance(paragraph, str) else paragraph
        size = WORDS_MM * 1.15 if bold else WORDS_MM
        for number, words_of_line in enumerate(wrapped(words, size, width_mm, bold=bold)):
            if bold and number == 0 and items:
                y -= 0.5 * size
            items.append(Text((x, y), words_of_line, size, bold=bold))
            y -= size * _LEADING
        y -= 0.35 * WORDS_MM
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
    return sum(width_em for _char, width_em in _widths_em(text, bold))


def _widths_em(text: str, bold: bool) -> Iterator[tuple[str, float]]:
    glyphs = _font(bold).shape(text, script="Latn", direction="ltr", language="en", features=_PLAIN)
    for glyph in glyphs:
        char = text[glyph.cluster]
        yield char, glyph.advance_em if glyph.gid else _unknown_em(char)


def _unknown_em(char: str) -> float:
    return _UNKNOWN_WIDE_EM if unicodedata.east_asian_width(char) in "WF" else _UNKNOWN_EM


def _font(bold: bool) -> HarfBuzzFont:
    return open_font(FACES[bold]).shaper


OUTLINE = Pen(0.35)
CUT = Pen(0.25)
THICK = Pen(0.5)
THIN = Pen(0.18)
FINE = Pen(0.13)
DASHED = Pen(0.18, (1.8, 0.9))
GUIDE = Pen(0.13, grey=0.45)
CENTRE = Pen(0.13, (5.0, 0.8, 0.6, 0.8))
EXTENTS = Pen(0.13, (0.6, 0.6), grey=0.4)
GREY = 0.9
"""Of what is kept free: light enough for figures to stand on, dark enough for any printer."""

_TICK_MM = 0.9
_HEAD_MM = (2.4, 0.8)  # length and half width of an arrow's head
_HATCH_MM = 1.1
_HALO_MM = 0.5


def label(
    at: Point,
    words: str,
    *,
    anchor: Anchor = "start",
    size_mm: float = WORDS_MM,
    bold: bool = False,
    turn_deg: float = 0.0,
    halo: bool = True,
) -> tuple[Item, ...]:
    """Words whose middle height stands at a point, on white so that no line runs through them.

    Args:
        at: the point at half the height of the figures that ``anchor`` names.
        words: one line.
        anchor: which end stands at the point.
        size_mm: em.
        bold: in the bold face.
        turn_deg: anticlockwise from level.
        halo: whether they bring a white ground.
    """
    low = -0.32 * size_mm  # half the height of a capital below the middle
    turn = math.radians(turn_deg)
    base = (at[0] - low * math.sin(turn), at[1] + low * math.cos(turn))
    text = measured(Text(base, words, size_mm, anchor, turn_deg, bold))
    if not halo or turn_deg:
        return (text,)
    left = at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text.width_mm
    ground = box_contour(
        left - _HALO_MM,
        base[1] - 0.22 * size_mm,
        left + text.width_mm + _HALO_MM,
        base[1] + 0.74 * size_mm,
    )
    return Area((ground,), 1.0), text


def tick(at: Point) -> Line:
    """The oblique stroke at the end of a dimension."""
    x, y = at
    return Line(((x - _TICK_MM, y - _TICK_MM), (x + _TICK_MM, y + _TICK_MM)), OUTLINE)


def arrow(begin: Point, end: Point) -> tuple[Item, ...]:
    """A line with a filled head at its end."""
    length = math.dist(begin, end)
    dx, dy = (end[0] - begin[0]) / length, (end[1] - begin[1]) / length
    back, half = _HEAD_MM
    root = (end[0] - dx * back, end[1] - dy * back)
    return Line((begin, root), THIN), arrow_head(end, root, (-dy * half, dx * half))


def arrow_head(tip: Point, root: Point, side: Point) -> Area:
    """A filled head: its tip, the middle of its base, and the way from there to a corner."""
    (x, y), (dx, dy) = root, side
    return Area((ring_contour((tip, (x + dx, y + dy), (x - dx, y - dy))),))


def box(
    left: float,
    bottom: float,
    right: float,
    top: float,
    *,
    grey: float | None = None,
    pen: Pen | None = None,
) -> Area:
    """A rectangle, filled where a grey is given, outlined where a pen is."""
    return Area((box_contour(left, bottom, right, top),), grey, pen)


def hatching(area: Box) -> tuple[Line, ...]:
    """Oblique lines in a rectangle."""
    left, bottom, right, top = area
    found = []
    offset = left - top + _HATCH_MM
    while offset < right - bottom:  # the lines x - y = offset
        low = (max(left, bottom + offset), max(bottom, left - offset))
        high = (min(right, top + offset), min(top, right - offset))
        if high[0] - low[0] > 0.1:
            found.append(Line((low, high), FINE))
        offset += _HATCH_MM
    return tuple(found)


def end_line(left: float, right: float, y: float, *, goes_on: bool) -> Line:
    """Where a part ends: its edge, or a thin zigzag where it goes on."""
    if not goes_on:
        return Line(((left, y), (right, y)), OUTLINE)
    middle, out, half = (left + right) / 2, 2.0, min(1.2, (right - left) / 6)
    return Line(
        (
            (left - out, y),
            (middle - half, y),
            (middle - half / 2, y + 1.6),
            (middle + half / 2, y - 1.6),
            (middle + half, y),
            (right + out, y),
        ),
        THIN,
    )


def extents_mm(items: Iterable[Item]) -> Box:
    """Left, bottom, right and top of items in mm, words included.

    Raises:
        ValueError: there are no items.
    """
    found = union(list(boxes_mm(items)))
    if found is None:
        raise ValueError("nothing drawn")
    return found


def boxes_mm(items: Iterable[Item]) -> Iterator[Box]:
    """The extents of every line, area and text, one by one."""
    for item in items:
        if isinstance(item, Group):
            yield from boxes_mm(item.items)
        elif isinstance(item, Text):
            yield _text_box(item)
        elif isinstance(item, Line):
            xs, ys = zip(*item.points, strict=True)
            yield min(xs), min(ys), max(xs), max(ys)
        else:
            found = ink_box(item.contours)
            if found is not None:
                yield found


def _text_box(text: Text) -> Box:
    long = measured(text).width_mm
    begin = -{"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * long
    turn = math.radians(text.turn_deg)
    corners = [
        (
            text.at[0] + x * math.cos(turn) - y * math.sin(turn),
            text.at[1] + x * math.sin(turn) + y * math.cos(turn),
        )
        for x in (begin, begin + long)
        for y in (-0.22 * text.size_mm, 0.74 * text.size_mm)
    ]
    xs, ys = zip(*corners, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
