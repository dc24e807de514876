"""Which font sets a letter that the first one lacks?

Several fonts in order as one `Face`, at the same em. A word goes to the first font that has all
of it; where none has, each cluster, a letter with its marks, goes so; a space stays with the
font before it. Glyphs are numbered through: that of font n is n times `FontStack.step` plus its
own number. Loaded only where fallback fonts were given.
"""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from spinefit.shaping.breaks import clusters
from spinefit.shaping.fontfile import OpenFont
from spinefit.shaping.outline import Box, Outline

__all__ = ["FontStack", "Portion"]

_WORD_OR_SPACE = re.compile(r"\s+|\S+")
_STEP = 1 << 16  # OpenType numbers the glyphs of a font with sixteen bits


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
        self.ascii_thinness_em: tuple[float, float] | None = first.ascii_thinness_em
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
