"""How does a text stand in a column, read from the head down?

For scripts that are written vertically: characters upright by HarfBuzz's top-to-bottom
direction with the font's vertical forms and metrics, Latin words turned clockwise, a number of
one or two figures upright in one cell. What turns is Unicode Standard Annex #50's to say.
Plane: em, the middle of the column at x = 0, the top of its first cell at y = 0, y up.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from spinefit.catalogue.words import vertical_orientation
from spinefit.shaping.breaks import clusters
from spinefit.shaping.font_setter import RunShaper
from spinefit.shaping.outline import Box, Contour, Outline, Placed, Point, union

__all__ = ["Column", "Stretch", "set_column", "stretches"]

UPRIGHT, TURNED, CELL = "upright", "turned", "cell"
# A number of one or two figures that is no part of a longer one, nor of a Latin word.
_SHORT_NUMBER = re.compile(
    r"(?<![A-Za-z0-9])(?<![0-9][.,:/–-])[0-9]{1,2}(?![A-Za-z0-9])(?![.,:/–-][0-9])"
)


_CELL_EM = 1.0


class Column(NamedTuple):
    """A text set in a column.

    Attributes:
        placed: its outlines with where their origins stand.
        box: extents of its ink, None for none.
        length_em: from the top of its first cell to the end of its last.
    """

    placed: list[Placed]
    box: Box | None
    length_em: float


class Stretch(NamedTuple):
    """Characters from start to end that stand one way: upright, turned, or in one cell."""

    start: int
    end: int
    way: str


def stretches(text: str, shaper: RunShaper) -> list[Stretch]:
    """Which characters of a column stand upright and which are turned.

    Args:
        text: the column's text.
        shaper: says whether the font has a vertical form for a character that wants one.
    """
    cells = {match.start(): match.end() for match in _SHORT_NUMBER.finditer(text)}
    found: list[Stretch] = []
    at = cell_end = 0
    for cluster in clusters(text):
        end = at + len(cluster)
        if at in cells:
            cell_end = cells[at]
            found.append(Stretch(at, cell_end, CELL))
        elif at >= cell_end:
            way = UPRIGHT if _stands_upright(cluster, shaper) else TURNED
            if found and found[-1].way == way:
                found[-1] = found[-1]._replace(end=end)
            else:
                found.append(Stretch(at, end, way))
        at = end
    return found


def _stands_upright(cluster: str, shaper: RunShaper) -> bool:
    way = vertical_orientation(cluster[0])
    if way == "Tr":
        upright, level = shaper.shape_down(cluster), shaper.shape(cluster)
        return [glyph.gid for glyph in upright] != [glyph.gid for glyph in level]
    return way in ("U", "Tu")


def set_column(text: str, shaper: RunShaper) -> Column:
    """The text in one column.

    Raises:
        MissingCharacterError: the font lacks a character.
    """
    placed: list[Placed] = []
    boxes: list[Box] = []
    pen = 0.0
    for start, end, way in stretches(text, shaper):
        spots, length = _set_stretch(text[start:end], way, shaper)
        for gid, x, y in spots:
            ink = shaper.font.ink(gid)
            if ink is None:
                continue
            outline = shaper.font.outline(gid)
            left, bottom, right, top = ink
            if way == TURNED:
                outline = _turned(outline)
                left, bottom, right, top = bottom, -right, top, -left
            placed.append((outline, x, y + pen))
            boxes.append((left + x, bottom + y + pen, right + x, top + y + pen))
        pen -= length
    return Column(placed, union(boxes), -pen)


_Spot = tuple[int, float, float]
"""A glyph, and where its origin stands from the top of its stretch."""


def _set_stretch(text: str, way: str, shaper: RunShaper) -> tuple[list[_Spot], float]:
    """The glyphs of one stretch, and its length down the column in em."""
    glyphs = shaper.shape_down(text) if way == UPRIGHT else shaper.shape(text)
    pens = [0.0]
    for glyph in glyphs:
        pens.append(pens[-1] + glyph.advance_em)
    length = pens.pop()
    along = list(zip(glyphs, pens, strict=True))
    if way == UPRIGHT:
        return [(glyph.gid, glyph.x_em, glyph.y_em - pen) for glyph, pen in along], length
    # A line's middle, between ascender and descender, stands on that of the column.
    middle = shaper.font.middle_em
    if way == TURNED:
        return [(glyph.gid, glyph.y_em - middle, -pen - glyph.x_em) for glyph, pen in along], length
    left, base = -(length - shaper.tracking_em) / 2, -_CELL_EM / 2 - middle
    spots = [(glyph.gid, left + pen + glyph.x_em, base + glyph.y_em) for glyph, pen in along]
    return spots, _CELL_EM + shaper.tracking_em


def _turned(outline: Outline) -> Outline:
    """An outline turned clockwise about its origin."""

    def turn(point: Point) -> Point:
        return point[1], -point[0]

    return tuple(
        Contour(turn(start), tuple(tuple(map(turn, segment)) for segment in segments))
        for start, segments in outline
    )
