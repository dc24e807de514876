"""Titles of which only the boxes of their words are known, so that a search meets any heights."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from operator import sub
from random import Random

from spinefit.shaping.breaks import Piece
from spinefit.shaping.glyphs import Box
from spinefit.vocabulary import BreakWords

SPACE_EM = 0.25


class SketchedRun:
    """Words side by side; what else a run of letters says of a line follows from their boxes."""

    keeps_ink = True

    def __init__(self, words: Sequence[str], boxes: Sequence[Box], forced: Sequence[int]) -> None:
        self.text = " ".join(words)
        self.boxes = boxes
        found, at = [], 0
        for number, word in enumerate(words):
            found.append(Piece(at, at + len(word), forced_after=number in forced))
            at += len(word) + 1
        self.pieces = tuple(found)
        self.asked: list[tuple[int, int]] = []

    def line_text(self, first: int, last: int) -> str:
        self.asked.append((first, last))
        return self.text[self.pieces[first].start : self.pieces[last].end]

    def line_ink(self, first: int, last: int) -> Box:
        lefts, bottoms, rights, tops = zip(*self.boxes[first : last + 1], strict=True)
        return min(lefts), min(bottoms), max(rights), max(tops)

    def line_widths(self, first: int, last: int) -> list[float]:
        lefts, _bottoms, rights, _tops = zip(*self.boxes[first : last + 1], strict=True)
        return list(map(sub, accumulate(rights, max), accumulate(lefts, min)))

    def line_tops(self, last: int) -> list[float]:
        return [self.line_ink(0, to)[3] for to in range(last + 1)]

    def line_bottoms(self, first: int) -> list[float]:
        end = len(self.pieces) - 1
        return [self.line_ink(at, end)[1] for at in range(first, end + 1)]

    def line_levels(self, first: int, last: int) -> None:
        """All read from left to right."""


class SketchedTitle:
    """As much of a shaped title as a search asks of it."""

    stack = nudges = ()
    sets_columns = all_capitals = mostly_small = False
    has_case = True
    cap_height_em, x_height_em = 0.7, 0.45
    language = "en"

    def __init__(
        self, words: Sequence[str], boxes: Sequence[Box], forced: Sequence[int] = ()
    ) -> None:
        self.run = SketchedRun(words, boxes, forced)
        self.text = self.run.text
        starts = (0, *[at + 1 for at in forced])
        ends = (*starts[1:], len(words))
        self.lines = tuple(" ".join(words[a:b]) for a, b in zip(starts, ends, strict=True))
        _left, bottom, _right, top = self.run.line_ink(0, len(words) - 1)
        self.ascent_em, self.descent_em = top, -bottom

    def run_broken(self, mode: BreakWords) -> SketchedRun:
        """The same whatever is allowed: no word is divided."""
        return self.run


def sketched(
    words: Sequence[str],
    widths: Sequence[float],
    tops: Sequence[float],
    bottoms: Sequence[float],
    forced: Sequence[int] = (),
) -> SketchedTitle:
    """A title with words of these widths, tops and bottoms in em, a space apart."""
    boxes, left = [], 0.0
    for width, top, bottom in zip(widths, tops, bottoms, strict=True):
        boxes.append((left, bottom, left + width, top))
        left += width + SPACE_EM
    return SketchedTitle(words, boxes, forced)


def at_random(random: Random, most: int) -> SketchedTitle:
    """A title of small words and others, many of them alike, their heights very different."""
    count = random.randint(2, most)
    words = random.choices(("The", "of", "and", "Quay", "Tide", "Rope", "Light", "Bay"), k=count)
    return sketched(
        words,
        random.choices((0.5, 1.0, 1.5, 2.0, 4.0), k=count),
        random.choices((0.2, 0.5, 0.7, 0.9), k=count),
        random.choices((0.0, -0.2, -0.4), k=count),
        sorted(at for at in range(count - 1) if random.random() < 0.08),
    )
