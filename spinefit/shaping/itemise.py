"""Which stretches of a text are of one script and one direction?

HarfBuzz shapes a run of one script at a time. Characters that many scripts share (figures,
spaces, marks) go with what stands before them. A text whose first letter reads from right to
left is laid out from the right; figures and words of the other direction keep theirs.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.shaping.harfbuzz import script_and_direction

__all__ = ["CURSIVE", "Run", "itemise", "reads_right_to_left"]

CURSIVE = frozenset({"Arab", "Syrc", "Mong", "Nkoo", "Mand", "Adlm", "Rohg", "Phag"})
"""Scripts whose letters join; letterspacing would tear them."""

_LAST_LATIN = "\u024f"
_NOT_LATIN = frozenset("\u00d7\u00f7")


class Run(NamedTuple):
    """A stretch of text: indexes of its characters, its script and its direction."""

    start: int
    end: int
    script: str
    direction: str


def itemise(text: str) -> list[Run]:
    """The runs of a text from left to right as they are seen."""
    if text.isascii() or all(char <= _LAST_LATIN for char in text):
        return [Run(0, len(text), "Latn", "ltr")]
    runs = _logical_runs(text)
    if runs[0].direction == "rtl" and len(runs) > 1:
        runs = _seen_from_the_right(runs)
    return runs


def reads_right_to_left(text: str) -> bool:
    """True where the first letter that has a direction reads from right to left."""
    if text.isascii():
        return False
    for char in text:
        script, direction = script_and_direction(char)
        if script is not None:
            return direction == "rtl"
    return False


def _logical_runs(text: str) -> list[Run]:
    """Runs in the order of the text; what many scripts share goes with what stands before."""
    script, direction = next(
        ((found, way) for found, way in map(script_and_direction, text) if found),
        ("Latn", "ltr"),
    )
    runs: list[Run] = []
    start = 0
    for index, char in enumerate(text):
        found, way = script_and_direction(char)
        if char.isdecimal() and direction == "rtl":
            found, way = "Latn", "ltr"
        if found in (None, "Zinh", script):
            continue
        if index > start:
            runs.append(Run(start, index, script, direction))
        script, direction, start = found or script, way, index
    runs.append(Run(start, len(text), script, direction))
    return runs


def _seen_from_the_right(runs: list[Run]) -> list[Run]:
    """Runs of a right-to-left text as seen from the left.

    Inner left-to-right stretches keep their own order.
    """
    seen: list[Run] = []
    stretch: list[Run] = []
    for run in reversed(runs):
        if run.direction == "ltr":
            stretch.insert(0, run)
            continue
        seen.extend(stretch)
        stretch = []
        seen.append(run)
    return seen + stretch
