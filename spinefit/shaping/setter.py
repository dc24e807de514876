"""How is a line set, whatever its letters are: a font's, or tools?

A `LetterSetter` turns texts into glyphs one after another; from these come curves and ink.
Where the glyphs come from is for those made of it, `RunShaper` and `ToolSetter`. A `Face`
answers for its glyphs. Plane: em, pen running to the right, baseline at y = 0.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from itertools import accumulate, groupby
from typing import TYPE_CHECKING, NamedTuple, Protocol

from spinefit.shaping.glyphs import Box, Extents, Outline, Placed, Reach, scaled_outline

if TYPE_CHECKING:
    from spinefit.shaping.glyphs import Glyphs
    from spinefit.shaping.scripts import Directions


class SetLetter(NamedTuple):
    """One letter of a line as it is set, or a space; in em from pen 0.

    Attributes:
        start: index of its first character in the text.
        text: the characters it stands for; several where they make one letter.
        ink: extents of its ink; None for a space.
        placed: its curves and where they stand.
    """

    start: int
    text: str
    ink: Box | None
    placed: tuple[Placed, ...]

    def scaled(self, scale: float) -> SetLetter:
        """The same so many times as large."""
        if scale == 1:
            return self
        ink = self.ink
        if ink is not None:
            ink = (ink[0] * scale, ink[1] * scale, ink[2] * scale, ink[3] * scale)
        placed = [(scaled_outline(one, scale), x * scale, y * scale) for one, x, y in self.placed]
        return self._replace(ink=ink, placed=tuple(placed))


Levels = Sequence[int] | None
"""Embedding levels of the characters of a line; None where all read from left to right."""


class Damage(NamedTuple):
    """A font whose file is not what it says of itself.

    Attributes:
        font: its name.
        tables: those that do not have their checksums.
        borne_out: whether only the table with the units per em is among them, and either its
            letters are as high as letters are by those units, or the whole file has its checksum.
    """

    font: str
    tables: tuple[str, ...]
    borne_out: bool


class Face(Protocol):
    """What a title's letters are: a font, or one size of a set of tools.

    Attributes:
        name: as it is spoken of.
        file: the file it came from, as the person named it.
        sha256: digest of the file's bytes, in hexadecimal.
        face: which face of a collection, from 1; None for tools.
        axes: every axis of a variable font with its value.
        assumed: what was not said of it, in words.
        damaged: the fonts whose checksums are not theirs.
        cap_height_em, x_height_em: heights of its letters; 0 where it has none.
        plain_thinness_em: thinnest stroke and least counter of any plain character,
            where they are known.
    """

    name: str
    file: str
    sha256: str
    face: int | None
    axes: tuple[tuple[str, float], ...]
    assumed: tuple[str, ...]
    damaged: tuple[Damage, ...]
    cap_height_em: float
    x_height_em: float
    plain_thinness_em: tuple[float, float] | None

    def __hash__(self) -> int: ...

    def outline(self, gid: int) -> Outline:
        """The curves of a glyph in em."""

    def ink(self, gid: int) -> Box | None:
        """Exact ink extents of a glyph in em from the pen, None for a glyph without ink."""


class LetterSetter(ABC):
    """Sets texts with one face.

    Args:
        font: the face.
    """

    def __init__(self, font: Face) -> None:
        self.font = font
        self._extents = Extents(font.ink)

    @abstractmethod
    def shape(self, text: str, levels: Levels = None) -> Glyphs:
        """Glyphs of a text as seen from left to right.

        Args:
            text: a line.
            levels: embedding level of each of its characters, where it was cut out of a text
                in which some read from right to left.

        Raises:
            MissingCharacterError: the face lacks a character.
        """

    @abstractmethod
    def has(self, char: str) -> bool:
        """Whether the face has a letter for that character."""

    def reach(self, glyphs: Glyphs, pen_em: float = 0.0) -> Reach:
        """How far each of some glyphs reaches, set one after another from ``pen_em``."""
        return Reach(glyphs, self._extents, pen_em)

    def ink(self, glyphs: Glyphs, pen_em: float = 0.0) -> Box | None:
        """Extents of the ink of glyphs set one after another from ``pen_em``."""
        return self.reach(glyphs, pen_em).box(0, len(glyphs))

    def inked_glyphs(self, text: str, glyphs: Glyphs) -> list[tuple[str, Outline]]:
        """Each different glyph of a shaped text: the characters it stands for, and its curves."""
        ends = glyphs.ends(len(text))
        found: dict[int, str] = {}
        for gid, cluster in zip(glyphs.gids, glyphs.clusters, strict=True):
            if gid not in found and self.font.outline(gid):
                found[gid] = text[cluster : ends[cluster]]
        return [(chars, self.font.outline(gid)) for gid, chars in found.items()]

    def letters_by_font(self, text: str) -> list[tuple[Face, str]]:
        """Each face with the different letters of a text that it sets."""
        return [(self.font, "".join(dict.fromkeys(text.replace(" ", ""))))]

    def directions(self, text: str) -> Directions | None:
        """Which way the letters of a text read; None where all do from left to right."""
        return None

    def set_line(self, text: str, levels: Levels = None) -> tuple[list[Placed], Box | None]:
        """The curves of a text and where they stand from pen 0, and its ink, in em."""
        glyphs = self.shape(text, levels)
        return self.placed(glyphs), self.ink(glyphs)

    def placed(self, glyphs: Glyphs, pen_em: float = 0.0) -> list[Placed]:
        """The curves of glyphs set one after another from ``pen_em``, and where they stand."""
        # One more than there are glyphs: where the pen stands after the last.
        pens_em = accumulate(glyphs.advances_em, initial=pen_em)
        outlines = map(self.font.outline, glyphs.gids)
        columns = zip(outlines, pens_em, glyphs.xs_em, glyphs.ys_em, strict=False)
        return [(outline, pen + x_em, y_em) for outline, pen, x_em, y_em in columns if outline]

    def set_letters(self, text: str) -> tuple[SetLetter, ...]:
        """The letters and spaces of a text from left to right, where they stand from pen 0."""
        glyphs = self.shape(text)
        ends = glyphs.ends(len(text))
        pen, at = 0.0, 0
        found: list[SetLetter] = []
        for start, group in groupby(glyphs.clusters):
            count = len(list(group))
            same = glyphs[at : at + count]
            ink, placed = self.ink(same, pen), tuple(self.placed(same, pen))
            found.append(SetLetter(start, text[start : ends[start]], ink, placed))
            for advance_em in same.advances_em:
                pen += advance_em
            at += count
        return tuple(found)
