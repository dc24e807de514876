"""Which split into k lines has the least greatest line, and which makes the best sense?

In: widths of all candidate lines and where breaks are forced. Out: splits, exact. A dynamic
programme over break opportunities finds the least greatest width; a second one finds the
least penalty among the splits within a bound; those that tie are told apart by shape and
evenness, so many of them as `MOST_TIES` says. How long the first and last line are can be
bounded too, for groups limited by their height.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import groupby, islice
from operator import add, itemgetter, mul

from spinefit.layout.shapes import is_good_shape, shape_name

__all__ = ["MOST_TIES", "SAME_COST", "SAME_WIDTH", "LineFigures", "Split", "Splitter", "all_splits"]

Split = tuple[tuple[int, int], ...]
"""First and last piece of every line, both included."""

LineFigures = Callable[[int, int], Sequence[float]]
"""A figure of each of the lines that begin with a first piece and end with each up to a last."""

SAME_WIDTH = 1 + 1e-12  # widths that are equal but for the order of additions
SAME_COST = 1e-9  # penalties are sums of small whole numbers
MOST_TIES = 512
"""So many splits of equal penalty are compared by their looks: all there are of 12 pieces, of 15
in four lines or of 33 in three; of more, those with the shortest first lines."""


class Splitter:
    """Splits of one title.

    Args:
        forced_after: for each piece, whether the person forced a break after it.
        widths: for a first piece, the ink widths of the lines that end with each piece up to
            the next forced break, any unit.
        penalties: the same of the penalties of these lines; None where no line has any.
        equal_share: widths within this part of one another look equal.
        phrases: for each piece, whether it begins a phrase; empty where none does.
    """

    def __init__(
        self,
        *,
        forced_after: tuple[bool, ...],
        widths: LineFigures,
        penalties: LineFigures | None,
        equal_share: float,
        phrases: tuple[bool, ...] = (),
    ) -> None:
        self.count = count = len(forced_after)
        self.least_lines = 1 + sum(forced_after[:-1])
        self._equal_share = equal_share
        self._phrases = phrases
        self._faultless = penalties is None
        self._penalties_of = penalties
        self._last_of: list[int] = []
        limit = count - 1
        for piece in range(count - 1, -1, -1):
            if forced_after[piece]:
                limit = piece
            self._last_of.append(limit)
        self._last_of.reverse()
        self._widths = [widths(first, last) for first, last in enumerate(self._last_of)]
        self._widest = max(map(max, self._widths))
        self._tables: dict[int, list[list[float]]] = {}
        self._costs_within: dict[tuple[float, int], list[list[float]]] = {}

    @cached_property
    def _penalties(self) -> list[Sequence[float]]:
        """The penalties of all lines, as `_widths` holds their widths."""
        if self._penalties_of is None:
            return [[0.0] * len(widths) for widths in self._widths]
        return [self._penalties_of(first, last) for first, last in enumerate(self._last_of)]

    def least_width(
        self, lines: int, *, first_line_to: int | None = None, last_line_from: int | None = None
    ) -> float:
        """The least possible width of the widest line; infinite where no split exists.

        Args:
            lines: number of lines.
            first_line_to: the last piece the first line may hold.
            last_line_from: the first piece the last line may hold.
        """
        start = last_line_from or 0
        table = self._table(lines, start)
        if first_line_to is None:
            return table[lines][0]
        below, widths = table[lines - 1], self._widths[0]
        if lines == 1:
            whole = first_line_to >= self.count - 1 == self._last_of[0] and start == 0
            return widths[-1] if whole else math.inf
        to = min(first_line_to, self._last_of[0])
        return min((max(widths[last], below[last + 1]) for last in range(to + 1)), default=math.inf)

    def _table(self, lines: int, last_from: int) -> list[list[float]]:
        """table[k][i]: least greatest width of pieces from i on in k lines."""
        table = self._tables.setdefault(last_from, [])
        if not table:
            table.append([math.inf] * self.count + [0.0])
            table.append(self._last_lines(last_from))
        while len(table) <= lines:
            table.append(self._next_row(table[-1]))
        return table

    def _last_lines(self, last_from: int) -> list[float]:
        """The width of each last line there may be."""
        end = self.count - 1
        return [
            row[-1] if last == end and first >= last_from else math.inf
            for first, (row, last) in enumerate(zip(self._widths, self._last_of, strict=True))
        ] + [math.inf]

    def _next_row(self, below: list[float]) -> list[float]:
        row = [
            min(map(max, widths, below[first:]))
            for first, widths in enumerate(self._widths, start=1)
        ]
        row.append(math.inf)
        return row

    def best_within(
        self,
        lines: int,
        bound: float,
        *,
        first_line_to: int | None = None,
        last_line_from: int | None = None,
    ) -> Split | None:
        """Of the splits whose lines are all within ``bound``, the one that reads best.

        Least penalty first; then a shape the handbooks name; then the most lines that begin a
        phrase; then the least greatest width; then the most even lines; then the earlier breaks.
        """
        bound *= SAME_WIDTH
        start = last_line_from or 0
        costs = self._costs(lines, bound, start)
        whole = self._whole(lines, bound, (_or(first_line_to, self.count - 1), start), costs)
        least = min((total for _last, _cost, total in whole), default=math.inf)
        if math.isinf(least):
            return None
        cheapest: Iterator[Split] = (
            ((0, last), *tail)
            for last, cost, total in whole
            if total <= least + SAME_COST
            for tail in self._tails(last + 1, lines - 1, bound, least - cost, costs)
        )
        found = list(islice(cheapest, MOST_TIES))
        if len(found) == 1:
            return found[0]
        # Rounded, so that the order in which widths were added up does not decide.
        levels = [round(max(self.widths_of(each)), 9) for each in found]
        phrases = [-self.phrases_of(each) for each in found]
        return self._best_looking(list(zip(phrases, levels, found, strict=True)))

    def least_penalty(
        self,
        lines: int,
        bound: float,
        *,
        first_line_to: int | None = None,
        last_line_from: int | None = None,
    ) -> float:
        """The penalty of the split that `best_within` gives; infinite where there is none."""
        bound *= SAME_WIDTH
        start = last_line_from or 0
        costs = self._costs(lines, bound, start)
        whole = self._whole(lines, bound, (_or(first_line_to, self.count - 1), start), costs)
        return min((total for _last, _cost, total in whole), default=math.inf)

    def _whole(
        self, lines: int, bound: float, ends: tuple[int, int], costs: list[list[float]]
    ) -> list[tuple[int, float, float]]:
        """Ends of a first line with its penalty, and the least of the split it begins."""
        return [
            (last, cost, cost + costs[lines - 1][last + 1])
            for last, cost in self._openings(lines, bound, ends)
        ]

    def _openings(self, lines: int, bound: float, ends: tuple[int, int]) -> list[tuple[int, float]]:
        """Ends of a first line within the bound, with its penalty."""
        widths, penalties = self._widths[0], self._penalties[0]
        if lines == 1:
            last = self.count - 1
            whole = ends[0] >= last == self._last_of[0] and ends[1] == 0
            return [(last, penalties[last])] if whole and widths[last] <= bound else []
        top = min(ends[0], self._last_of[0])
        return [(last, penalties[last]) for last in range(top + 1) if widths[last] <= bound]

    def _costs(self, lines: int, bound: float, last_from: int) -> list[list[float]]:
        """costs[k][i]: least penalty of pieces from i on in k lines within the bound."""
        if self._faultless:
            table = self._table(lines - 1, last_from)
            return [
                [0.0 if width <= bound and width < math.inf else math.inf for width in row]
                for row in table[:lines]
            ]
        # No line is beyond the widest, so that all bounds from there on come to the same.
        key = (min(bound, self._widest), last_from)
        costs = self._costs_within.setdefault(key, [[math.inf] * self.count + [0.0]])
        while len(costs) < lines:
            row = self._next_costs(costs[-1], bound) if len(costs) > 1 else None
            costs.append(row or self._costs_of_last(bound, last_from))
        return costs

    def _costs_of_last(self, bound: float, last_from: int) -> list[float]:
        """The penalty of each last line within the bound."""
        widths = self._table(1, last_from)[1]
        return [
            penalties[-1] if width <= bound and width < math.inf else math.inf
            for penalties, width in zip(self._penalties, widths[:-1], strict=True)
        ] + [math.inf]

    def _next_costs(self, below: list[float], bound: float) -> list[float]:
        row: list[float] = []
        lines = zip(self._widths, self._penalties, strict=True)
        for first, (widths, penalties) in enumerate(lines, start=1):
            if self._rising:
                count = bisect_right(widths, bound)
                costs = list(map(add, penalties[:count], below[first : first + count]))
            else:
                within = zip(widths, map(add, penalties, below[first:]), strict=True)
                costs = [cost for width, cost in within if width <= bound]
            row.append(min(costs, default=math.inf))
        row.append(math.inf)
        return row

    @cached_property
    def _rising(self) -> bool:
        """Whether a longer line is never narrower, as it is but where breaks change the letters."""
        return all(list(widths) == sorted(widths) for widths in self._widths)

    def _tails(
        self, first: int, lines: int, bound: float, cost: float, costs: list[list[float]]
    ) -> Iterator[Split]:
        """Every split of the pieces from ``first`` on that costs no more than the least."""
        if lines == 0:
            yield ()
            return
        widths, rests = self._widths[first], costs[lines - 1]
        count = bisect_right(widths, bound) if self._rising else len(widths)
        for at, penalty in enumerate(self._penalties[first][:count]):
            last, left = first + at, cost - penalty
            if rests[last + 1] <= left + SAME_COST and widths[at] <= bound:
                for tail in self._tails(last + 1, lines - 1, bound, left, costs):
                    yield ((first, last), *tail)

    def only(self, lines: int) -> Split | None:
        """The one split into so many lines, where the pieces or the breaks leave no choice."""
        if lines == self.count:
            return tuple((at, at) for at in range(self.count))
        if lines != self.least_lines:
            return None
        found, first = [], 0
        while first < self.count:
            found.append((first, self._last_of[first]))
            first = self._last_of[first] + 1
        return tuple(found)

    def _best_looking(self, ranked: list[tuple[int, float, Split]]) -> Split:
        """Of splits that read alike the best looking, in the order of `best_within`.

        Args:
            ranked: at least one: the lines after the first that begin a phrase, counted below
                zero; the greatest width, rounded; the split.
        """
        first: Split | None = None
        ranked.sort()
        for _level, tied in groupby(ranked, key=itemgetter(0, 1)):
            even = [split for _phrases, _width, split in tied]
            if len(even) > 1:
                even.sort(key=self._unevenness)
            for split in even:
                if is_good_shape(shape_name(self.widths_of(split), self._equal_share)):
                    return split
            first = first or even[0]
        assert first is not None  # there is a split
        return first

    def _unevenness(self, split: Split) -> tuple[float, Split]:
        widths = self.widths_of(split)
        return round(sum(map(mul, widths, widths)), 9), split

    def may_be_line(self, first: int, last: int) -> bool:
        """True where no forced break parts pieces first to last."""
        return last <= self._last_of[first]

    def widths_of(self, split: Split) -> tuple[float, ...]:
        """The width of each line of a split."""
        widths = self._widths
        return tuple([widths[first][last - first] for first, last in split])

    def penalty_of(self, split: Split) -> float:
        """The penalties of a split's lines, added up."""
        if self._faultless:
            return 0.0
        penalties = self._penalties
        return sum([penalties[first][last - first] for first, last in split])

    def phrases_of(self, split: Split) -> int:
        """How many lines after the first begin a phrase."""
        phrases = self._phrases
        return sum([phrases[first] for first, _last in split[1:]]) if phrases else 0


def _or(value: int | None, default: int) -> int:
    return default if value is None else value


def all_splits(count: int, lines: int) -> Iterator[Split]:
    """Every split of ``count`` pieces into ``lines`` lines, for checking the search by force."""
    from itertools import combinations

    for cuts in combinations(range(1, count), lines - 1):
        starts = (0, *cuts)
        ends = (*cuts, count)
        yield tuple((start, end - 1) for start, end in zip(starts, ends, strict=True))
