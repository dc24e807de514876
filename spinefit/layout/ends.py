"""How far does the ink of the first and last line reach, as they are made longer?

In: a run and its splits. Out: tops of all first lines, bottoms of all last ones, and which of
them differ: only these make a difference to the height of a group. Units: em.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from spinefit.layout.splits import Splitter
from spinefit.shaping.run import ShapedRun

__all__ = ["EndBound", "bottoms_of", "end_bounds", "tops_of"]


class EndBound(NamedTuple):
    """Bounds on the ink at the ends of a group.

    Attributes:
        first_to: the last piece that the first line may hold.
        last_from: the first piece that the last line may hold.
        top: the highest ink of such a first line over its baseline, in em.
        bottom: the lowest ink of such a last line, in em.
    """

    first_to: int
    last_from: int
    top: float
    bottom: float


def tops_of(run: ShapedRun, splitter: Splitter) -> dict[int, float]:
    """By the last piece of a first line, its ink's top."""
    last = splitter.count - 1
    while not splitter.may_be_line(0, last):
        last -= 1
    return dict(enumerate(run.line_tops(last)))


def bottoms_of(run: ShapedRun, splitter: Splitter) -> dict[int, float]:
    """By the first piece of a last line, its ink's bottom."""
    first, last = 0, splitter.count - 1
    while not splitter.may_be_line(first, last):
        first += 1
    return dict(enumerate(run.line_bottoms(first), first))


def end_bounds(tops: Mapping[int, float], bottoms: Mapping[int, float]) -> Iterator[EndBound]:
    """The bounds on first and last line of several that make a difference to their ink.

    A longer first line never has a lower top, so each distinct top is met once, at the
    longest line that has it; likewise the bottoms.

    Args:
        tops: as `tops_of` gives them.
        bottoms: as `bottoms_of` gives them.
    """
    last = max(bottoms)
    firsts = {at: top for at, top in tops.items() if at < last}
    lasts = {at: bottom for at, bottom in bottoms.items() if at > 0}
    first_tos = [at for at, top in firsts.items() if at + 1 not in firsts or firsts[at + 1] > top]
    last_froms = [
        at for at, bottom in lasts.items() if at - 1 not in lasts or lasts[at - 1] < bottom
    ]
    for first_to in first_tos:
        for last_from in last_froms:
            yield EndBound(first_to, last_from, firsts[first_to], lasts[last_from])
