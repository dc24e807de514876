"""How is a text set with letters that are tools?

In: a set of tools, each size with the widths of its letters. Out: what sets a text in every size
that has all its letters; the em is that size's body, so that each is true at this one size.
Letters are the boxes of their faces. Where only a row of E was measured, other letters have
their widths by the advances of the default font.
"""

from __future__ import annotations

from functools import lru_cache

from spinefit import catalogue
from spinefit.errors import MissingCharacterError
from spinefit.job.resolved import ResolvedJob, ResolvedTools, ResolvedToolSize
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Box, Contour, Glyphs, Outline
from spinefit.shaping.setter import Damage, LetterSetter, Levels
from spinefit.units import mm_from_pt

_SAME_TOOL = {"’": "'", "'": "’", "‐": "-"}
_MOST_NAMED = 6  # letters in one message
_HANGING = frozenset("gjpqy")


class ToolFace:
    """One size of a set of tools; a glyph's number is that of its character.

    Args:
        tools: the set.
        size: the size.
        proportions: the font that lends its proportions where only E was measured.
    """

    def __init__(self, tools: ResolvedTools, size: ResolvedToolSize, proportions: str) -> None:
        self.name, self.file, self.sha256 = tools.name, tools.file, tools.sha256
        self.face: int | None = None
        self.axes: tuple[tuple[str, float], ...] = ()
        self.assumed: tuple[str, ...] = ()
        self.damaged: tuple[Damage, ...] = ()
        self.em_mm = mm_from_pt(size.body_pt)
        self.cap_height_em = size.face_mm / self.em_mm
        self.x_height_em = size.x_height_mm / self.em_mm
        self.plain_thinness_em: tuple[float, float] | None = None
        self._size = size
        self._widths = dict(size.widths_mm or ())
        self._proportions = proportions

    def width_em(self, char: str) -> float | None:
        """Width of a letter's face in em; None where there is no such tool."""
        e_mm = self._size.e_mm
        if e_mm is not None:
            share = None if char.islower() else _share_of_e(self._proportions, char)
            return None if share is None else share * e_mm / self.em_mm
        width_mm = self._widths.get(char) or self._widths.get(_SAME_TOOL.get(char, ""))
        return None if width_mm is None else width_mm / self.em_mm

    def ink(self, gid: int) -> Box | None:
        """The box of a letter's face; None for a space."""
        char = chr(gid)
        width_em = None if char.isspace() else self.width_em(char)
        if width_em is None:
            return None
        bottom = -self._size.descent_mm / self.em_mm if char in _HANGING else 0.0
        return 0.0, bottom, width_em, self.cap_height_em

    def outline(self, gid: int) -> Outline:
        """The same box as a contour."""
        box = self.ink(gid)
        if box is None:
            return ()
        left, bottom, right, top = box
        corners = ((right, bottom), (right, top), (left, top))
        return (Contour((left, bottom), tuple((corner,) for corner in corners)),)


@lru_cache(maxsize=1024)
def _share_of_e(font_name: str, char: str) -> float | None:
    """The advance of a letter over that of E in a font; None where the font lacks it."""
    font = open_font(font_name)
    advances = []
    for letter in (char, "E"):
        if not font.shaper.nominal(letter):
            return None
        glyphs = font.shaper.shape(
            letter, script="Latn", direction="ltr", language=None, features=None
        )
        advances.append(sum(glyphs.advances_em))
    return advances[0] / advances[1] or None


class ToolSetter(LetterSetter):
    """Sets texts with tools of one size, a gap between letters, a space between words.

    Args:
        face: the tools.
        gap_em: from letter to letter in em.
        space_em: from the last letter of a word to the first of the next in em.
    """

    font: ToolFace

    def __init__(self, face: ToolFace, *, gap_em: float, space_em: float) -> None:
        super().__init__(face)
        self._gap_em = gap_em
        self._space_em = space_em

    def shape(self, text: str, levels: Levels = None) -> Glyphs:
        """The letters of a text, one after another.

        Raises:
            MissingCharacterError: there is no tool for one of them.
        """
        missing = self.lacks(text)
        if missing:
            raise MissingCharacterError(
                f"{self.font.name} has no {' '.join(missing)}", where="--tools"
            )
        return Glyphs(
            [ord(char) for char in text],
            list(range(len(text))),
            [self._advance_em(char) for char in text],
            [0.0] * len(text),
            [0.0] * len(text),
        )

    def _advance_em(self, char: str) -> float:
        if char.isspace():
            return self._space_em - self._gap_em
        return (self.font.width_em(char) or 0.0) + self._gap_em

    def has(self, char: str) -> bool:
        """Whether there is a tool for that character."""
        return char.isspace() or self.font.width_em(char) is not None

    def lacks(self, text: str) -> list[str]:
        """The letters of a text for which there is no tool."""
        return sorted({char for char in text if not self.has(char)})


def setters_for(
    job: ResolvedJob, tools: ResolvedTools, text: str
) -> tuple[tuple[float, ToolSetter], ...]:
    """Each size in points that has all the letters of a text, rising, and what sets it.

    Args:
        job: for the tracking.
        tools: the set of tools.
        text: the title in its case.

    Raises:
        MissingCharacterError: no size has them all.
    """
    setters = [_setter(job, tools, size) for size in tools.sizes]
    found = tuple(
        (size.body_pt, setter)
        for size, setter in zip(tools.sizes, setters, strict=True)
        if not setter.lacks(text)
    )
    if not found:
        _refuse(tools, setters, text)
    return found


def lacking(job: ResolvedJob, text: str) -> tuple[tuple[float, str], ...]:
    """Sizes in points that are not to be had for a text, each with the letters it lacks."""
    tools = job.lettering.tools
    if tools is None:
        return ()
    missing = [(size.body_pt, _setter(job, tools, size).lacks(text)) for size in tools.sizes]
    return tuple((body_pt, " ".join(letters)) for body_pt, letters in missing if letters)


def _setter(job: ResolvedJob, tools: ResolvedTools, size: ResolvedToolSize) -> ToolSetter:
    face = ToolFace(tools, size, catalogue.default_font())
    tracking_em = job.lettering.tracking_em
    return ToolSetter(
        face,
        gap_em=size.letter_gap_mm / face.em_mm + tracking_em,
        space_em=size.word_space_mm / face.em_mm + 2 * tracking_em,
    )


def _refuse(tools: ResolvedTools, setters: list[ToolSetter], text: str) -> None:
    """Say which letters are missing in which size."""
    letters = [" ".join(setter.lacks(text)[:_MOST_NAMED]) for setter in setters]
    sizes = [f"{size.body_pt:g} pt" for size in tools.sizes]
    if len(set(letters)) == 1:
        each = [f"{letters[0]} in {', '.join(sizes)}"]
    else:
        each = [f"{lacked} in {size}" for lacked, size in zip(letters, sizes, strict=True)]
    small = any(char.islower() for setter in setters for char in setter.lacks(text))
    remedy = "take --case capitals" if small else "give its width in the file"
    raise MissingCharacterError(
        f"{tools.name} has no {', no '.join(each)}", where="--tools", remedy=remedy
    )
