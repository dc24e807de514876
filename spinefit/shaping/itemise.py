"""Which stretches of a text are of one script and one direction?

HarfBuzz shapes a run of one script at a time. Characters that many scripts share (figures,
spaces, marks) go with what stands before them. Where a letter reads from right to left, the
Unicode Bidirectional Algorithm gives the directions and the order; `bidi` is loaded then only.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.shaping.harfbuzz import script_and_direction

__all__ = ["CURSIVE", "Directions", "Run", "directions", "itemise"]

CURSIVE = frozenset({"Arab", "Syrc", "Mong", "Nkoo", "Mand", "Adlm", "Rohg", "Phag"})
"""Scripts whose letters join; letterspacing would tear them."""

_LAST_LATIN = "\u024f"
_FIRST_TURNING = "\u0590"  # Hebrew; what stands before it, Greek and Cyrillic too, does not turn
_TURNING = frozenset(("R", "AL", "AN", "RLE", "RLO", "RLI"))


class Run(NamedTuple):
    """A stretch of text: indexes of its characters, its script and its direction."""

    start: int
    end: int
    script: str
    direction: str


class Directions(NamedTuple):
    """Which way the letters of a text read, found for all of it at once.

    Attributes:
        base: 1 where the text as a whole reads from right to left, else 0.
        levels: embedding level of each character.
        classes: Bidi_Class of each character.
    """

    base: int
    levels: tuple[int, ...]
    classes: tuple[str, ...]

    def of_line(self, start: int, end: int) -> tuple[int, ...]:
        """Levels of the characters of a line cut out of the text."""
        from spinefit.shaping.bidi import line_levels

        return tuple(line_levels(self.levels, self.classes, self.base, start, end))


def directions(text: str, *, right_to_left: bool) -> Directions | None:
    """Which way the letters read; None where all of them read from left to right.

    Args:
        text: the whole text.
        right_to_left: whether it does so as a whole.
    """
    if text.isascii() or max(text) < _FIRST_TURNING or not any(map(_turns, text)):
        return None
    from spinefit.shaping.bidi import classes_of, levels_of

    base, classes = int(right_to_left), classes_of(text)
    return Directions(base, tuple(levels_of(text, base, classes)), tuple(classes))


def _turns(char: str) -> bool:
    return char >= _FIRST_TURNING and unicodedata.bidirectional(char) in _TURNING


def itemise(text: str, levels: Sequence[int] | None = None) -> list[Run]:
    """The runs of a text from left to right as they are seen.

    Args:
        text: one line.
        levels: embedding level of each character; None where all read from left to right.
    """
    if levels is None and (text.isascii() or max(text) <= _LAST_LATIN):
        return [Run(0, len(text), "Latn", "ltr")]
    runs = _of_one_script(text)
    return runs if levels is None else _as_seen(runs, levels)


def _of_one_script(text: str) -> list[Run]:
    """Runs in the order of the text; what many scripts share goes with what stands before."""
    scripts = {found for found, _way in map(script_and_direction, set(text)) if found}
    if len(scripts) == 1:
        return [Run(0, len(text), scripts.pop(), "ltr")]
    script = next((found for found, _way in map(script_and_direction, text) if found), "Latn")
    runs: list[Run] = []
    start = 0
    for index, char in enumerate(text):
        found, _way = script_and_direction(char)
        if found in (None, "Zinh", script):
            continue
        if index > start:
            runs.append(Run(start, index, script, "ltr"))
        script, start = found or script, index
    runs.append(Run(start, len(text), script, "ltr"))
    return runs


def _as_seen(runs: list[Run], levels: Sequence[int]) -> list[Run]:
    """Runs cut where the level changes, in the order in which they are seen."""
    from spinefit.shaping.bidi import seen_order

    cut: list[Run] = []
    for start, end, script, _direction in runs:
        at = start
        for index in range(start + 1, end + 1):
            if index == end or levels[index] != levels[at]:
                cut.append(Run(at, index, script, "rtl" if levels[at] % 2 else "ltr"))
                at = index
    return [cut[at] for at in seen_order([levels[run.start] for run in cut])]
