"""Which split of a few pieces is best, where every split can be told over?

In and out as of `Splitter`, whose answers these are. Most titles have so few pieces that all
their splits are looked at sooner than a dynamic programme is set up: of `MOST_LISTED` pieces
there are 1,024 in up to six lines. Which splits there are depends on the number of pieces alone,
so that they are written out once for all titles.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from functools import cache, cached_property
from itertools import repeat
from operator import itemgetter, neg
from typing import Any, NamedTuple

from spinefit.layout.splits import (
    SAME_COST,
    SAME_WIDTH,
    Split,
    Splitter,
    all_splits,
)

__all__ = ["MOST_LISTED", "ListedSplits"]

MOST_LISTED = 12


class _Listed(NamedTuple):
    """Every split of so many pieces into so many lines.

    Attributes:
        splits: in the order of their breaks.
        first_to: for each, the last piece of its first line.
        last_from: for each, the first piece of its last line.
        pick: takes from a table of all lines the values of the first line of every split, then
            of every second line, and so on.
    """

    splits: tuple[Split, ...]
    first_to: tuple[int, ...]
    last_from: tuple[int, ...]
    pick: Callable[[Sequence[float]], Any]

    def rows(self, of_lines: Sequence[float]) -> list[tuple[float, ...]]:
        """The values of all first lines, of all second lines, and so on."""
        values, count = self.pick(of_lines), len(self.splits)
        return [values[at : at + count] for at in range(0, len(values), count)]


class _Told(NamedTuple):
    """The splits of one title into so many lines, forced breaks or not.

    Attributes:
        listed: the splits.
        widths: the width of the widest line of each, rounded so that the order in which widths
            were added up does not decide.
        narrowest_first: places in these of the splits that keep to the forced breaks.
        ascending: the exact widths of these.
    """

    listed: _Listed
    widths: Sequence[float]
    narrowest_first: Sequence[int]
    ascending: Sequence[float]


class ListedSplits(Splitter):
    """Splits of one title of few pieces; arguments as of `Splitter`."""

    _asked: tuple[int, float, int | None, int | None] | None = None
    _answered: Sequence[int] = ()

    @cached_property
    def _of_lines(self) -> list[float]:
        """The width of every line."""
        return self._in_rows(self._widths)

    @cached_property
    def _told(self) -> dict[int, _Told]:
        """What was told over, by the number of lines."""
        return {}

    @cached_property
    def _costs_told(self) -> dict[int, list[float]]:
        """The penalties of these splits."""
        return {}

    @cached_property
    def _phrases_told(self) -> dict[int, list[int]]:
        """How many of their lines after the first begin a phrase, less than nothing."""
        return {}

    def _in_rows(self, of_lines: Sequence[Sequence[float]]) -> list[float]:
        """A value for every line in one list; infinite for lines that a forced break parts."""
        count = self.count
        found = [math.inf] * (count * count)
        for first, values in enumerate(of_lines):
            start = first * count + first
            found[start : start + len(values)] = values
        return found

    def _all(self, lines: int) -> _Told:
        told = self._told.get(lines)
        if told is None:
            listed = _listed(self.count, lines)
            widths = list(map(max, zip(*listed.rows(self._of_lines), strict=True)))
            order = sorted(range(len(widths)), key=widths.__getitem__)
            ascending = sorted(widths)
            if self.least_lines > 1:
                kept = bisect_left(ascending, math.inf)
                del order[kept:], ascending[kept:]
            rounded = list(map(round, widths, repeat(9)))
            self._told[lines] = told = _Told(listed, rounded, order, ascending)
        return told

    def _all_costs(self, lines: int) -> list[float]:
        """The penalty of each split into so many lines."""
        found = self._costs_told.get(lines)
        if found is None:
            rows = _listed(self.count, lines).rows(self._in_rows(self._penalties))
            self._costs_told[lines] = found = list(map(sum, zip(*rows, strict=True)))
        return found

    def _all_phrases(self, lines: int) -> list[int]:
        """For each split how many lines after the first begin a phrase, less than nothing."""
        found = self._phrases_told.get(lines)
        if found is None:
            begins = [float(begin) for begin in self._phrases for _last in range(self.count)]
            rows = _listed(self.count, lines).rows(begins)[1:]
            found = list(map(neg, map(int, map(sum, zip(*rows, strict=True)))))
            self._phrases_told[lines] = found
        return found

    def widths_of(self, split: Split) -> tuple[float, ...]:
        """As of `Splitter`."""
        return tuple(_pick(self.count, split)(self._of_lines))

    def least_width(
        self, lines: int, *, first_line_to: int | None = None, last_line_from: int | None = None
    ) -> float:
        """As of `Splitter`."""
        told = self._all(lines)
        if first_line_to is None and last_line_from is None:
            return told.ascending[0] if told.ascending else math.inf
        for width, at in zip(told.ascending, told.narrowest_first, strict=True):
            if self._ends_well(told, at, first_line_to, last_line_from):
                return width
        return math.inf

    def least_penalty(
        self,
        lines: int,
        bound: float,
        *,
        first_line_to: int | None = None,
        last_line_from: int | None = None,
    ) -> float:
        """As of `Splitter`."""
        within = self._within(lines, bound, first_line_to, last_line_from)
        if self._faultless:
            return 0.0 if within else math.inf
        costs = self._all_costs(lines)
        return min([costs[at] for at in within], default=math.inf)

    def best_within(
        self,
        lines: int,
        bound: float,
        *,
        first_line_to: int | None = None,
        last_line_from: int | None = None,
    ) -> Split | None:
        """As of `Splitter`."""
        within = self._within(lines, bound, first_line_to, last_line_from)
        if len(within) > 1 and not self._faultless:
            costs = self._all_costs(lines)
            most = min([costs[at] for at in within]) + SAME_COST
            within = [at for at in within if costs[at] <= most]
        if not within:
            return None
        told = self._told[lines]
        splits, widths = told.listed.splits, told.widths
        if len(within) == 1:
            return splits[within[0]]
        phrases = self._all_phrases(lines) if self._phrases else [0] * len(splits)
        return self._best_looking([(phrases[at], widths[at], splits[at]) for at in within])

    def _within(
        self, lines: int, bound: float, first_line_to: int | None, last_line_from: int | None
    ) -> Sequence[int]:
        """Places of the splits whose lines are all within a width, and that end as they may."""
        asked = lines, bound, first_line_to, last_line_from
        if self._asked == asked:  # the penalty was asked for, and now the split
            return self._answered
        told = self._all(lines)
        found = told.narrowest_first[: bisect_right(told.ascending, bound * SAME_WIDTH)]
        if first_line_to is not None or last_line_from is not None:
            found = [at for at in found if self._ends_well(told, at, first_line_to, last_line_from)]
        self._asked, self._answered = asked, found
        return found

    def _ends_well(
        self, told: _Told, at: int, first_line_to: int | None, last_line_from: int | None
    ) -> bool:
        """Whether the first and last line of a split are no longer than they may be."""
        to = self.count if first_line_to is None else first_line_to
        listed = told.listed
        return listed.first_to[at] <= to and listed.last_from[at] >= (last_line_from or 0)


@cache
def _listed(count: int, lines: int) -> _Listed:
    splits = tuple(all_splits(count, lines))
    places = [first * count + last for line in zip(*splits, strict=True) for first, last in line]
    return _Listed(
        splits,
        tuple([split[0][1] for split in splits]),
        tuple([split[-1][0] for split in splits]),
        _getter(places),
    )


@cache
def _pick(count: int, split: Split) -> Callable[[Sequence[float]], Any]:
    return _getter([first * count + last for first, last in split])


def _getter(places: Sequence[int]) -> Callable[[Sequence[float]], Any]:
    # Of a single place an itemgetter would give the value itself; of a stretch it gives a list.
    return itemgetter(*places) if len(places) > 1 else itemgetter(slice(places[0], places[0] + 1))
