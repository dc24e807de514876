"""How long is every line that a title could be set in?

In: font, text, language, case, tracking. The title is shaped once; the ink of a candidate
line is cut out of that run, and reshaped only where HarfBuzz says that breaking there would
change it. Plane: em, pen running to the right, baseline at y = 0. Ink never counts spaces.
"""

from __future__ import annotations

import itertools
import unicodedata
from typing import TYPE_CHECKING, NamedTuple

from spinefit.errors import FontError, MissingCharacterError
from spinefit.shaping.fontfile import OpenFont, bundled_fonts_covering
from spinefit.shaping.harfbuzz import Glyph
from spinefit.shaping.ink import union
from spinefit.shaping.itemise import CURSIVE, Directions, Run, directions, itemise
from spinefit.shaping.outline import Box
from spinefit.shaping.setter import Face, LetterSetter, Levels

if TYPE_CHECKING:
    from spinefit.shaping.stack import FontStack

__all__ = ["Piece", "RunShaper", "ShapedRun"]


class Piece(NamedTuple):
    """A stretch of the title that no line break parts.

    Attributes:
        start, end: indexes into the text, spaces at the end left out.
        forced_after: True where the person forced a line break after it.
        in_word: True where the break after it lies inside a word.
    """

    start: int
    end: int
    forced_after: bool = False
    in_word: bool = False


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
        self._stack = _stack_of(self._fonts) if fallback else None
        self.font = self._stack or font
        self._language = language
        self.tracking_em = tracking_em
        self._right_to_left = right_to_left
        if tracking_em:
            features = {"liga": False, "clig": False, **features}
        self._features = features or None

    def directions(self, text: str) -> Directions | None:
        """Which way the letters of a text read; None where all do from left to right."""
        return directions(text, right_to_left=self._right_to_left)

    def shape(self, text: str, levels: Levels = None) -> list[Glyph]:
        """Glyphs of a text as seen from left to right.

        Args:
            text: a line.
            levels: its levels in the text that it was cut out of; those of its own if None.

        Raises:
            MissingCharacterError: the font lacks a character.
        """
        glyphs: list[Glyph] = []
        if levels is None:
            own = self.directions(text)
            levels = None if own is None else own.of_line(0, len(text))
        for run in itemise(text, levels):
            glyphs.extend(self._shape_run(text, run))
        self._refuse_missing(text, glyphs)
        return glyphs

    def _shape_run(self, text: str, run: Run) -> list[Glyph]:
        """Glyphs of one run of a text, tracked; clusters are indexes into the text."""
        start, end, script, direction = run
        part = text if end - start == len(text) else text[start:end]
        if self._stack is None:
            glyphs = self._set_by(self._fonts[0], part, script, direction)
        else:
            glyphs = self._composite(self._stack, part, script, direction)
        # In a column letters stand apart, whatever they do in a line.
        if self.tracking_em and (script not in CURSIVE or direction == "ttb"):
            glyphs = _tracked(glyphs, self.tracking_em)
        return glyphs if start == 0 else [_moved(glyph, start) for glyph in glyphs]

    def _set_by(self, font: OpenFont, text: str, script: str, direction: str) -> list[Glyph]:
        return font.shaper.shape(
            text,
            script=script,
            direction=direction,
            language=self._language,
            features=self._features,
        )

    def _composite(self, stack: FontStack, text: str, script: str, direction: str) -> list[Glyph]:
        """Glyphs of a run of which several fonts set a portion each, in the order seen."""
        portions = stack.portions(text)
        found: list[Glyph] = []
        for start, end, at in reversed(portions) if direction == "rtl" else portions:
            part = self._set_by(stack.fonts[at], text[start:end], script, direction)
            found.extend(
                glyph._replace(
                    cluster=glyph.cluster + start,
                    gid=glyph.gid + at * stack.step if glyph.gid else 0,
                )
                for glyph in part
            )
        return found

    def shape_down(self, text: str) -> list[Glyph]:
        """Glyphs of upright characters in a column, from its top, in vertical forms.

        Raises:
            MissingCharacterError: the font lacks a character.
        """
        glyphs: list[Glyph] = []
        for run in itemise(text):
            glyphs.extend(self._shape_run(text, run._replace(direction="ttb")))
        self._refuse_missing(text, glyphs)
        return glyphs

    def _refuse_missing(self, text: str, glyphs: list[Glyph]) -> None:
        if all(glyph.gid for glyph in glyphs):
            return
        starts = sorted({glyph.cluster for glyph in glyphs})
        ends = dict(zip(starts, [*starts[1:], len(text)], strict=True))
        missing = {
            char
            for glyph in glyphs
            if glyph.gid == 0
            for char in text[glyph.cluster : ends[glyph.cluster]]
            if not self.has(char)
        } or set(text)
        others = bundled_fonts_covering(frozenset(char for char in text if not char.isspace()))
        first, has = ("--font", "has") if self._stack is None else ("--fallback", "have")
        remedy = f"give {first} one that has it: 'spinefit fonts --installed --covers TEXT'"
        if others:
            remedy = f"try {' or '.join(others[:3])}"
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


def _stack_of(fonts: tuple[OpenFont, ...]) -> FontStack:
    from spinefit.shaping.stack import FontStack

    return FontStack(fonts)


def _moved(glyph: Glyph, by: int) -> Glyph:
    return glyph._replace(cluster=glyph.cluster + by)


def _tracked(run: list[Glyph], tracking_em: float) -> list[Glyph]:
    """The run with space added after the last glyph of every cluster."""
    last = len(run) - 1
    return [
        glyph._replace(advance_em=glyph.advance_em + tracking_em)
        if index == last or run[index + 1].cluster != glyph.cluster
        else glyph
        for index, glyph in enumerate(run)
    ]


def _named(char: str) -> str:
    name = unicodedata.name(char, "")
    point = f"U+{ord(char):04X}" + (f" {name}" if name else "")
    return f"{char} ({point})" if char.isalnum() else point


class ShapedRun:
    """A title shaped once, from which any line's ink is cut.

    Args:
        shaper: font and features.
        text: the whole title; forced breaks are spaces here.
        pieces: what no break parts, in order.
        suffix: what is set at the end of a line that breaks a word: "" or "-".
    """

    def __init__(
        self, shaper: LetterSetter, text: str, pieces: tuple[Piece, ...], suffix: str
    ) -> None:
        self._shaper = shaper
        self.text = text
        self.pieces = pieces
        self._suffix = suffix
        self._directions = shaper.directions(text)
        self._glyphs = shaper.shape(text)
        ink = shaper.ink(self._glyphs)
        if ink is None:
            raise FontError(
                f"{shaper.font.name} draws no ink for this title",
                value=text,
                where="--font",
                remedy="give a font with outlines for its letters",
            )
        self.ink: Box = ink
        clusters = [glyph.cluster for glyph in self._glyphs]
        rising = all(a <= b for a, b in itertools.pairwise(clusters))
        self._sliceable = rising and self._directions is None
        self._boxes: dict[tuple[int, int], Box] = {}
        if self._sliceable:
            self._prepare(clusters)

    def _prepare(self, clusters: list[int]) -> None:
        """Where the pen stands at each character, and the ink of each piece in place."""
        pens, pen = [], 0.0
        for glyph in self._glyphs:
            pens.append(pen)
            pen += glyph.advance_em
        first: dict[int, int] = {}
        for index, cluster in enumerate(clusters):
            first.setdefault(cluster, index)
        self._first = first
        self._pens = [*pens, pen]
        unsafe = {glyph.cluster for glyph in self._glyphs if glyph.unsafe}
        self._safe = {cluster: cluster not in unsafe for cluster in first}
        self._safe[len(self.text)] = True
        first[len(self.text)] = len(self._glyphs)
        self._inner = [self._cut(piece.start, piece.end) for piece in self.pieces]
        self._opening = [self._opened(at, piece) for at, piece in enumerate(self.pieces)]
        self._closing = [self._closed(at, piece) for at, piece in enumerate(self.pieces)]
        self._reach: dict[int, list[Box | None]] = {}

    def _cut(self, start: int, end: int) -> Box | None:
        """Ink of the characters from start to end, where they stand in the run."""
        if start >= end or start not in self._first or end not in self._first:
            return None
        low, high = self._first[start], self._first[end]
        return self._shaper.ink(self._glyphs[low:high], self._pens[low])

    def _opened(self, at: int, piece: Piece) -> Box | None:
        """Ink of a piece that begins a line; None where only reshaping the line tells."""
        if self._is_safe(piece.start):
            return self._inner[at]
        safe = next(
            (spot for spot in range(piece.start + 1, piece.end + 1) if self._is_safe(spot)), None
        )
        if safe is None:
            return None
        fresh = self._shaper.shape(self.text[piece.start : safe])
        length = sum(glyph.advance_em for glyph in fresh)
        ink = self._shaper.ink(fresh, self._pens[self._first[safe]] - length)
        return _both(ink, self._cut(safe, piece.end))

    def _closed(self, at: int, piece: Piece) -> Box | None:
        """Ink of a piece that ends a line; None where only reshaping the line tells."""
        if piece.in_word and self._suffix:
            return None
        if self._is_safe(piece.end):
            return self._inner[at]
        safe = next(
            (spot for spot in range(piece.end - 1, piece.start - 1, -1) if self._is_safe(spot)),
            None,
        )
        if safe is None:
            return None
        fresh = self._shaper.shape(self.text[safe : piece.end])
        return _both(
            self._cut(piece.start, safe), self._shaper.ink(fresh, self._pens[self._first[safe]])
        )

    def _is_safe(self, at: int) -> bool:
        return self._safe.get(at, False)

    def line_text(self, first: int, last: int) -> str:
        """The text of a line of pieces first to last, both included."""
        piece = self.pieces[last]
        suffix = self._suffix if piece.in_word and last + 1 < len(self.pieces) else ""
        return self.text[self.pieces[first].start : piece.end] + suffix

    def line_levels(self, first: int, last: int) -> Levels:
        """Levels of the characters of that line's text; None where all read left to right."""
        if self._directions is None:
            return None
        found = self._directions.of_line(self.pieces[first].start, self.pieces[last].end)
        # A hyphen at a break goes with the letter before it.
        return (*found, *found[-1:] * (len(self.line_text(first, last)) - len(found)))

    def line_ink(self, first: int, last: int) -> Box:
        """Ink of a line of pieces first to last in em; x from an arbitrary origin.

        Raises:
            FontError: the line has no ink.
        """
        key = (first, last)
        box = self._boxes.get(key)
        if box is None:
            box = self._line_box(first, last)
            self._boxes[key] = box
        return box

    def line_widths(self, first: int, last: int) -> list[float]:
        """Ink widths in em of the lines of pieces first to each piece up to last."""
        box = self.line_ink(first, first)
        found = [box[2] - box[0]]
        opening = self._opening[first] if self._sliceable else None
        if opening is None or None in self._inner[first : last + 1]:
            later = (self.line_ink(first, at) for at in range(first + 1, last + 1))
            return [*found, *(box[2] - box[0] for box in later)]
        left, right = opening[0], opening[2]
        for at in range(first + 1, last + 1):
            closing, inner = self._closing[at], self._inner[at]
            if closing is None or inner is None:
                box = self.line_ink(first, at)
                found.append(box[2] - box[0])
            else:
                ends = right if right > closing[2] else closing[2]
                found.append(ends - (left if left < closing[0] else closing[0]))
            if inner is not None:
                left = left if left < inner[0] else inner[0]
                right = right if right > inner[2] else inner[2]
        return found

    def _line_box(self, first: int, last: int) -> Box:
        cut = self._cut_line(first, last) if self._sliceable else None
        if cut is not None:
            return cut
        text = self.line_text(first, last)
        ink = self._shaper.ink(self._shaper.shape(text, self.line_levels(first, last)))
        if ink is None:
            raise FontError("a line without ink", value=text, where="TITLE")
        return ink

    def _cut_line(self, first: int, last: int) -> Box | None:
        """Ink of a line cut out of the run; None where only reshaping tells."""
        opening, closing = self._opening[first], self._closing[last]
        if opening is None or closing is None or None in self._inner[first : last + 1]:
            return None  # a piece without ink of its own, as where a break cuts a ligature
        if first < last:
            return _both(self._reached(first, last - 1), closing)
        inner = self._inner[first]
        if opening is inner:
            return closing
        return opening if closing is inner else None

    def _reached(self, first: int, last: int) -> Box | None:
        """Ink of pieces first to last, the first one as it opens a line."""
        reach = self._reach.setdefault(first, [self._opening[first]])
        while len(reach) <= last - first:
            reach.append(_both(reach[-1], self._inner[first + len(reach)]))
        return reach[last - first]


def _both(one: Box | None, other: Box | None) -> Box | None:
    return union([box for box in (one, other) if box is not None])
