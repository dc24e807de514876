"""How is a text set in a font, or in several, in a line or in a column?

In: a text, font, language, features, tracking. Out: its glyphs, one run of a script and a
direction after another; a character that no font has is refused by name. Em, pen running to the
right, baseline at y = 0. Several fonts in order are one `Face`: a word goes to the first that has
all of it; where none has, each cluster, a letter with its marks, goes so; a space stays with the
font before it. A column is read from the head down: characters upright by the font's vertical
forms and metrics, Latin words turned clockwise, a number of one or two figures upright in one cell;
what turns is Unicode Standard Annex #50's to say. Its middle is at x = 0, the top of its first cell
at y = 0, y up.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import NamedTuple

from spinefit.catalogue.words import open_font_of, vertical_orientation
from spinefit.errors import FontBrokenError, MissingCharacterError
from spinefit.job.title import SHORT_NUMBER
from spinefit.shaping.breaks import clusters
from spinefit.shaping.fontfile import OpenFont, bundled_fonts_covering
from spinefit.shaping.glyphs import Box, Contour, Glyphs, Outline, Placed, Point, union
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.shaping.scripts import CURSIVE, Directions, Run, directions, itemise
from spinefit.shaping.setter import Face, LetterSetter, Levels

_WORD_OR_SPACE = re.compile(r"\s+|\S+")
_STEP = 1 << 16  # OpenType numbers the glyphs of a font with sixteen bits
UPRIGHT, TURNED, CELL = "upright", "turned", "cell"
_CELL_EM = 1.0


class RunShaper(LetterSetter):
    """Shapes texts with one font, one set of features and one tracking.

    Args:
        font: the font.
        language: BCP 47 tag or None.
        features: OpenType features besides the default ones.
        tracking_em: added after every cluster, in em; turns optional ligatures off and is
            not applied to scripts whose letters join (CSS Text 3, section 8.2).
        right_to_left: whether texts read so as a whole.
        fallback: fonts for letters that the first lacks, in the order they are asked.
    """

    font: OpenFont | FontStack

    def __init__(
        self,
        font: OpenFont,
        *,
        language: str | None,
        features: dict[str, bool],
        tracking_em: float,
        right_to_left: bool = False,
        fallback: tuple[OpenFont, ...] = (),
    ) -> None:
        self._fonts = (font, *fallback)
        self._stack = FontStack(self._fonts) if fallback else None
        super().__init__(self._stack or font)
        self.language = language
        self.tracking_em = tracking_em
        self._right_to_left = right_to_left
        if tracking_em:
            features = {"liga": False, "clig": False, **features}
        self._features = features or None

    def directions(self, text: str) -> Directions | None:
        """Which way the letters of a text read; None where all do from left to right."""
        return directions(text, right_to_left=self._right_to_left)

    def shape(self, text: str, levels: Levels = None) -> Glyphs:
        """Glyphs of a text as seen from left to right.

        Args:
            text: a line.
            levels: its levels in the text that it was cut out of; those of its own if None.

        Raises:
            MissingCharacterError: the font lacks a character.
        """
        if levels is None:
            own = self.directions(text)
            levels = None if own is None else own.of_line(0, len(text))
        glyphs = Glyphs.joined([self._shape_run(text, run) for run in itemise(text, levels)])
        self._refuse_missing(text, glyphs)
        return glyphs

    def _shape_run(self, text: str, run: Run) -> Glyphs:
        """Glyphs of one run of a text, tracked; clusters are indexes into the text."""
        start, end, script, direction = run
        part = text if end - start == len(text) else text[start:end]
        if self._stack is None:
            glyphs = self._set_by(self._fonts[0], part, script, direction)
        else:
            glyphs = self._composite(self._stack, part, script, direction)
        # In a column letters stand apart, whatever they do in a line.
        if self.tracking_em and (script not in CURSIVE or direction == "ttb"):
            glyphs = glyphs.tracked(self.tracking_em)
        return glyphs if start == 0 else glyphs.moved(start)

    def _set_by(self, font: OpenFont, text: str, script: str, direction: str) -> Glyphs:
        try:
            return font.shaper.shape(
                text,
                script=script,
                direction=direction,
                language=self.language,
                features=self._features,
            )
        except MemoryError:  # HarfBuzz's word for more glyphs than it makes of so few characters
            raise FontBrokenError(
                f"the tables by which {font.name} puts glyphs for letters (GSUB or morx) run wild",
                value=text,
                where="--font",
                remedy="they make no end of glyphs: give another font, or a sound copy of this one",
            ) from None

    def _composite(self, stack: FontStack, text: str, script: str, direction: str) -> Glyphs:
        """Glyphs of a run of which several fonts set a portion each, in the order seen."""
        portions = stack.portions(text)
        found: list[Glyphs] = []
        for start, end, at in reversed(portions) if direction == "rtl" else portions:
            part = self._set_by(stack.fonts[at], text[start:end], script, direction)
            found.append(part.moved(start).numbered_from(at * stack.step))
        return Glyphs.joined(found)

    def shape_down(self, text: str) -> Glyphs:
        """Glyphs of upright characters in a column, from its top, in vertical forms.

        Raises:
            MissingCharacterError: the font lacks a character.
        """
        runs = [run._replace(direction="ttb") for run in itemise(text)]
        glyphs = Glyphs.joined([self._shape_run(text, run) for run in runs])
        self._refuse_missing(text, glyphs)
        return glyphs

    def _refuse_missing(self, text: str, glyphs: Glyphs) -> None:
        if all(glyphs.gids):
            return
        ends = glyphs.ends(len(text))
        missing = {
            char
            for glyph in glyphs
            if glyph.gid == 0
            for char in text[glyph.cluster : ends[glyph.cluster]]
            if not self.has(char)
        } or set(text)
        it = "it" if len(missing) == 1 else "them"
        remedy = f"give --fallback a font that has {it}"
        if at_hand := bundled_fonts_covering(frozenset(missing)):
            remedy = f"give --fallback '{at_hand[0]}', which has {it}"
            others = bundled_fonts_covering(frozenset(char for char in text if not char.isspace()))
            remedy += f", or for all letters --font '{others[0]}'" if others else ""
        else:
            if opened := open_fonts(missing):
                remedy += f", such as the open {' and '.join(opened)}"
            remedy += ": 'spinefit fonts --installed --covers TEXT' lists those of this machine"
        has = "has" if self._stack is None else "have"
        names = ", ".join(map(_named, sorted(missing, key=text.find)[:5]))
        tried = " and ".join(font.name for font in self._fonts)
        raise MissingCharacterError(f"{tried} {has} no {names}", where="--font", remedy=remedy)

    def has(self, char: str) -> bool:
        """Whether the font has a glyph for that character."""
        return any(font.shaper.nominal(char) for font in self._fonts)

    def sole_glyph(self, char: str) -> int:
        """The glyph mapped to a character, 0 for none; its number as in `shape`."""
        if self._stack is not None:
            at = self._stack.portions(char)[0].font
            own = self._fonts[at].shaper.nominal(char)
            return own + at * self._stack.step if own else 0
        return self._fonts[0].shaper.nominal(char)

    def letters_by_font(self, text: str) -> list[tuple[Face, str]]:
        """Each font with the different letters of a text that it sets."""
        if self._stack is None:
            return super().letters_by_font(text)
        taken: list[dict[str, None]] = [{} for _ in self._fonts]
        for run in sorted(itemise(text)):
            part = text[run.start : run.end]
            for start, end, at in self._stack.portions(part):
                taken[at].update(dict.fromkeys(part[start:end].replace(" ", "")))
        return [(font, "".join(chars)) for font, chars in zip(self._fonts, taken, strict=True)]


def open_fonts(chars: Iterable[str]) -> list[str]:
    """Open-licensed fonts that have the scripts of these letters, each once."""
    scripts = {script_and_direction(char)[0] or "" for char in chars if char.isalpha()}
    names = map(open_font_of, sorted(scripts))
    return list(dict.fromkeys(filter(None, names)))


def _named(char: str) -> str:
    name = unicodedata.name(char, "")
    point = f"U+{ord(char):04X}" + (f" {name}" if name else "")
    return f"{char} ({point})" if char.isalnum() else point


class Portion(NamedTuple):
    """Characters from start to end that one font sets, by its place in the order."""

    start: int
    end: int
    font: int


class FontStack:
    """Fonts in the order in which they are asked for a letter.

    Name, file, digest and heights are those of the first.

    Args:
        fonts: the font, then its fallbacks.
    """

    step = _STEP

    def __init__(self, fonts: tuple[OpenFont, ...]) -> None:
        self.fonts = fonts
        first = fonts[0]
        self.name, self.file, self.sha256 = first.name, first.file, first.sha256
        self.face, self.axes = first.face, first.axes
        self.assumed = tuple(text for font in fonts for text in font.assumed)
        self.damaged = tuple(one for font in fonts for one in font.damaged)
        self.cap_height_em, self.x_height_em = first.cap_height_em, first.x_height_em
        self.plain_thinness_em: tuple[float, float] | None = first.plain_thinness_em
        self.middle_em = first.middle_em

    def outline(self, gid: int) -> Outline:
        """The curves of a glyph in em."""
        font, own = divmod(gid, _STEP)
        return self.fonts[font].outline(own)

    def ink(self, gid: int) -> Box | None:
        """Exact ink extents of a glyph in em from the pen, None for a glyph without ink."""
        font, own = divmod(gid, _STEP)
        return self.fonts[font].ink(own)

    def portions(self, text: str) -> list[Portion]:
        """Which font sets which characters; what none has is left to the first.

        Args:
            text: of one script, so that a word which one font has whole is not set in two.
        """
        found: list[Portion] = []
        for match in _WORD_OR_SPACE.finditer(text):
            at, word = match.start(), match.group()
            whole = self._first(word)
            parts = (word,) if self._has(whole, word) else clusters(word)
            for part in parts:
                last = found[-1].font if found else 0
                stays = part.isspace() and self._has(last, part)
                font = last if stays else self._first(part)
                if found and font == last:
                    found[-1] = found[-1]._replace(end=at + len(part))
                else:
                    found.append(Portion(at, at + len(part), font))
                at += len(part)
        return found

    def _first(self, cluster: str) -> int:
        return next((at for at in range(len(self.fonts)) if self._has(at, cluster)), 0)

    def _has(self, font: int, cluster: str) -> bool:
        """Whether a font has every character of a cluster that leaves ink or space."""
        nominal = self.fonts[font].shaper.nominal
        composed = unicodedata.normalize("NFC", cluster)
        return all(nominal(char) or unicodedata.category(char) == "Cf" for char in composed)


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
    cells = {match.start(): match.end() for match in re.finditer(SHORT_NUMBER, text)}
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
