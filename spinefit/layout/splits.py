"""Which split into k lines has the least greatest line, and which makes the best sense?

In: widths of all candidate lines and where breaks are forced. Out: splits, exact. A dynamic
programme over break opportunities finds the least greatest width; a second one finds the
least penalty among the splits within a bound; the few that tie are told apart by shape and
evenness. Greatest and least ink of the first and last line can be bounded too, for groups
limited by their height.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import cache

from spinefit.layout.shapes import is_good_shape, shape_name
from spinefit.layout.title_rules import LinePenalty
from spinefit.shaping.run import ShapedRun

__all__ = ["Split", "Splitter", "all_splits", "end_bounds"]

Split = tuple[tuple[int, int], ...]
"""First and last piece of every line, both included."""

_SAME_WIDTH = 1 + 1e-12  # widths that are equal but for the order of additions
_MOST_TIES = 64  # so many splits of equal penalty are compared by shape; more never matters


class Splitter:
    """Splits of one title.

    Args:
        count: number of pieces.
        forced_after: pieces after which the person forced a break.
        width: ink width of the line of pieces first to last, any unit.
        penalty: penalty of that line.
    """

    def __init__(
        self,
        *,
        count: int,
        forced_after: tuple[bool, ...],
        width: Callable[[int, int], float],
        penalty: LinePenalty,
    ) -> None:
        self.count = count
        self.least_lines = 1 + sum(forced_after[:-1])
        # The same lines are asked for again under every bound.
        self._width = cache(width)
        self._penalty = cache(penalty)
        self._last_of: list[int] = []
        limit = count - 1
        for piece in range(count - 1, -1, -1):
            if forced_after[piece] and piece < count - 1:
                limit = piece
            self._last_of.append(limit)
        self._last_of.reverse()
        self._tables: dict[tuple[int, int], list[list[float]]] = {}

    def least_width(
        self, lines: int, *, first_line_to: int | None = None, last_line_from: int | None = None
    ) -> float:
        """The least possible width of the widest line; infinite where no split exists.

        Args:
            lines: number of lines.
            first_line_to: the last piece the first line may hold.
            last_line_from: the first piece the last line may hold.
        """
        return self._table(lines, first_line_to, last_line_from)[lines][0]

    def _table(
        self, lines: int, first_line_to: int | None, last_line_from: int | None
    ) -> list[list[float]]:
        """table[k][i]: least greatest width of pieces from i on in k lines."""
        end, start = _or(first_line_to, self.count - 1), _or(last_line_from, 0)
        key = (end, start)
        table = self._tables.setdefault(key, [[math.inf] * self.count + [0.0]])
        while len(table) <= lines:
            table.append(self._next_row(table[-1], len(table), start))
        if first_line_to is None:
            return table
        bounded = [list(row) for row in table]
        bounded[lines][0] = min(
            (
                max(self._width(0, last), table[lines - 1][last + 1])
                for last in range(0, min(end, self._last_of[0]) + 1)
                if lines > 1 or (last == self.count - 1 and start == 0)
            ),
            default=math.inf,
        )
        return bounded

    def _next_row(self, below: list[float], lines: int, last_from: int) -> list[float]:
        row = [math.inf] * (self.count + 1)
        width = self._width
        for first in range(self.count - 1, -1, -1):
            if lines == 1:
                whole = self._last_of[first] == self.count - 1 and first >= last_from
                row[first] = width(first, self.count - 1) if whole else math.inf
                continue
            best = math.inf
            for last in range(first, self._last_of[first] + 1):
                rest = below[last + 1]
                if rest >= best:
                    continue
                best = min(best, max(width(first, last), rest))
            row[first] = best
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

        Least penalty first; then a shape the handbooks name; then the least greatest width;
        then the most even lines; then the earlier breaks.
        """
        bound *= _SAME_WIDTH
        ends = (_or(first_line_to, self.count - 1), _or(last_line_from, 0))
        costs = self._costs(lines, bound, ends[1])
        least = min(
            (
                cost + costs[lines - 1][last + 1]
                for last, cost in self._openings(lines, bound, ends)
            ),
            default=math.inf,
        )
        if math.isinf(least):
            return None
        found: list[Split] = []
        for split in self._of_cost(lines, bound, least, costs, ends):
            found.append(split)
            if len(found) == _MOST_TIES:
                break
        return min(found, key=self._looks)

    def _openings(
        self, lines: int, bound: float, ends: tuple[int, int]
    ) -> Iterator[tuple[int, float]]:
        """Ends of a first line within the bound, with its penalty."""
        top = min(ends[0], self._last_of[0])
        for last in range(0, top + 1):
            if lines == 1 and (last != self.count - 1 or ends[1] > 0):
                continue
            if self._width(0, last) <= bound:
                yield last, self._penalty(0, last)

    def _costs(self, lines: int, bound: float, last_from: int) -> list[list[float]]:
        """costs[k][i]: least penalty of pieces from i on in k lines within the bound."""
        costs = [[math.inf] * self.count + [0.0]]
        for k in range(1, lines):
            row = [math.inf] * (self.count + 1)
            for first in range(self.count):
                lasts = range(first, self._last_of[first] + 1)
                if k == 1:
                    lasts = range(self.count - 1, self._last_of[first] + 1)
                    if first < last_from:
                        continue
                for last in lasts:
                    if self._width(first, last) > bound:
                        continue
                    rest = costs[k - 1][last + 1]
                    if rest < math.inf:
                        row[first] = min(row[first], self._penalty(first, last) + rest)
            costs.append(row)
        return costs

    def _of_cost(
        self,
        lines: int,
        bound: float,
        cost: float,
        costs: list[list[float]],
        ends: tuple[int, int],
    ) -> Iterator[Split]:
        """Every split of exactly the least penalty."""
        slack = 1e-9

        def rest(first: int, k: int, left: float) -> Iterator[Split]:
            if k == 0:
                if first == self.count:
                    yield ()
                return
            for last in range(first, self._last_of[first] + 1 if first < self.count else first):
                if self._width(first, last) > bound or (k == 1 and first < ends[1]):
                    continue
                remaining = left - self._penalty(first, last)
                if costs[k - 1][last + 1] > remaining + slack:
                    continue
                for tail in rest(last + 1, k - 1, remaining):
                    yield ((first, last), *tail)

        for last, penalty in self._openings(lines, bound, ends):
            if penalty + costs[lines - 1][last + 1] <= cost + slack:
                for tail in rest(last + 1, lines - 1, cost - penalty):
                    yield ((0, last), *tail)

    def _looks(self, split: Split) -> tuple[bool, float, float, Split]:
        widths = [self._width(first, last) for first, last in split]
        # Rounded, so that the order in which widths were added up does not decide.
        unevenness = round(sum(width * width for width in widths), 9)
        good = is_good_shape(shape_name(widths))
        return (not good, round(max(widths), 9), unevenness, split)

    def may_be_line(self, first: int, last: int) -> bool:
        """True where no forced break parts pieces first to last."""
        return last <= self._last_of[first]

    def penalty_of(self, split: Split) -> float:
        """The penalties of a split's lines, added up."""
        return sum(self._penalty(first, last) for first, last in split)


def _or(value: int | None, default: int) -> int:
    return default if value is None else value


def all_splits(count: int, lines: int) -> Iterator[Split]:
    """Every split of ``count`` pieces into ``lines`` lines, for checking the search by force."""
    from itertools import combinations

    for cuts in combinations(range(1, count), lines - 1):
        starts = (0, *cuts)
        ends = (*cuts, count)
        yield tuple((start, end - 1) for start, end in zip(starts, ends, strict=True))


def end_bounds(run: ShapedRun, splitter: Splitter) -> Iterator[tuple[int, int]]:
    """Pairs (last piece of the first line, first piece of the last line) that bound their ink.

    A longer first line never has a lower top, so each distinct top is met once, at the
    longest line that has it; likewise the bottoms.
    """
    last = splitter.count - 1
    tops = [run.line_ink(0, at)[3] for at in range(last) if splitter.may_be_line(0, at)]
    bottoms = {
        at: run.line_ink(at, last)[1] for at in range(1, last + 1) if splitter.may_be_line(at, last)
    }
    first_tos = [at for at, top in enumerate(tops) if at + 1 == len(tops) or tops[at + 1] > top]
    last_froms = [
        at for at, bottom in bottoms.items() if at - 1 not in bottoms or bottoms[at - 1] < bottom
    ]
    for first_to in first_tos:
        for last_from in last_froms:
            yield first_to, last_from
