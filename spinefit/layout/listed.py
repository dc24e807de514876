"""Which split of a few pieces is best, where every split can be told over?

In and out as of `Splitter`, whose answers these are. Most titles have so few pieces that all
their splits are looked at sooner than a dynamic programme is set up: of `MOST_LISTED` pieces
there are 512. Which splits there are depends on the number of pieces alone, so that they are
written out once for all titles.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cache, cached_property
from operator import itemgetter
from typing import Any, NamedTuple

from spinefit.layout.splits import (
    SAME_COST,
    SAME_WIDTH,
    Split,
    Splitter,
    all_splits,
)

__all__ = ["MOST_LISTED", "ListedSplits"]

MOST_LISTED = 10


class _Listed(NamedTuple):
    """Every split of so many pieces into so many lines.

    Attributes:
        splits: in the order of their breaks.
        picks: for each, what takes the values of its lines from a table of all lines.
    """

    splits: tuple[Split, ...]
    picks: tuple[Callable[[Sequence[float]], Any], ...]


class _Told(NamedTuple):
    """The splits of one title into so many lines that keep to its forced breaks.

    Attributes:
        splits: in the order of their breaks.
        widths: the width of the widest line of each.
        least_width: the least of them; infinite where there is none.
        picks: as of `_Listed`.
    """

    splits: Sequence[Split]
    widths: Sequence[float]
    least_width: float
    picks: Sequence[Callable[[Sequence[float]], Any]]


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
            splits, picks = _listed(self.count, lines)
            of_lines = self._of_lines
            widths = [max(pick(of_lines)) for pick in picks]
            if self.least_lines > 1:
                kept = [at for at, width in enumerate(widths) if width < math.inf]
                splits = tuple([splits[at] for at in kept])
                picks = tuple([picks[at] for at in kept])
                widths = [widths[at] for at in kept]
            self._told[lines] = told = _Told(splits, widths, min(widths, default=math.inf), picks)
        return told

    def _all_costs(self, lines: int) -> list[float]:
        """The penalty of each split into so many lines."""
        found = self._costs_told.get(lines)
        if found is None:
            told = self._all(lines)
            penalties = self._in_rows(self._penalties)
            found = [sum(pick(penalties)) for pick in told.picks]
            self._costs_told[lines] = found
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
            return told.least_width
        return min(
            [told.widths[at] for at in self._ending(told, first_line_to, last_line_from)],
            default=math.inf,
        )

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
        splits, widths = told.splits, told.widths
        return self._best_looking([splits[at] for at in within], [widths[at] for at in within])

    def _within(
        self, lines: int, bound: float, first_line_to: int | None, last_line_from: int | None
    ) -> Sequence[int]:
        """Places of the splits whose lines are all within a width, and that end as they may."""
        asked = lines, bound, first_line_to, last_line_from
        if self._asked == asked:  # the penalty was asked for, and now the split
            return self._answered
        told = self._all(lines)
        bound *= SAME_WIDTH
        if first_line_to is None and last_line_from is None:
            found = [at for at, width in enumerate(told.widths) if width <= bound]
        else:
            widths = told.widths
            ending = self._ending(told, first_line_to, last_line_from)
            found = [at for at in ending if widths[at] <= bound]
        self._asked, self._answered = asked, found
        return found

    def _ending(
        self, told: _Told, first_line_to: int | None, last_line_from: int | None
    ) -> list[int]:
        """Places of the splits whose first and last line are no longer than they may be."""
        to = self.count if first_line_to is None else first_line_to
        start = last_line_from or 0
        return [
            at
            for at, split in enumerate(told.splits)
            if split[0][1] <= to and split[-1][0] >= start
        ]


@cache
def _listed(count: int, lines: int) -> _Listed:
    splits = tuple(all_splits(count, lines))
    return _Listed(splits, tuple(_pick(count, split) for split in splits))


@cache
def _pick(count: int, split: Split) -> Callable[[Sequence[float]], Any]:
    places = [first * count + last for first, last in split]
    # Of a single place an itemgetter would give the value itself; of a stretch it gives a list.
    return itemgetter(*places) if len(places) > 1 else itemgetter(slice(places[0], places[0] + 1))
