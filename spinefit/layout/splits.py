"""Which split into k lines has the least greatest line, and which makes the best sense?

In: widths of all candidate lines and where breaks are forced. Out: splits, exact. A dynamic
programme over break opportunities finds the least greatest width; a second one finds the
least penalty among the splits within a bound; those that tie are told apart by shape and
evenness, so many of them as `MOST_TIES` says. How long the first and last line are can be
bounded too, for groups limited by their height.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import combinations, groupby
from operator import itemgetter, mul

from spinefit.layout.sense import is_good_shape, shape_name
from spinefit.tolerances import SAME_COST, SAME_SUM_SHARE, WIDTH_DECIMALS

Split = tuple[tuple[int, int], ...]
"""First and last piece of every line, both included."""

LineFigures = Callable[[int, int], Sequence[float]]
"""A figure of each of the lines that begin with a first piece and end with each up to a last."""

Ends = tuple[int, int]
"""The last piece that the first line may hold, and the first that the last line may hold."""

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
        self._within: dict[tuple[float, int], _Within] = {}

    @cached_property
    def _penalties(self) -> list[Sequence[float]]:
        """The penalties of all lines, as `_widths` holds their widths."""
        if self._penalties_of is None:
            return [[0.0] * len(widths) for widths in self._widths]
        return [self._penalties_of(first, last) for first, last in enumerate(self._last_of)]

    @cached_property
    def _lines(self) -> list[list[tuple[int, float, float]]]:
        """By the first piece of a line: its last, its width and its penalty."""
        figures = zip(self._widths, self._penalties, strict=True)
        return [
            list(zip(range(first, first + len(widths)), widths, penalties, strict=True))
            for first, (widths, penalties) in enumerate(figures)
        ]

    def least_width(self, lines: int, ends: Ends | None = None) -> float:
        """The least possible width of the widest line; infinite where no split exists.

        Args:
            lines: number of lines.
            ends: how long the first and the last line may be; None for any length.
        """
        if ends is None:
            return self._table(lines, 0)[lines][0]
        below, widths = self._table(lines - 1, ends[1])[lines - 1], self._widths[0]
        lasts = self._ends_of_first(lines, ends)
        return min((max(widths[last], below[last + 1]) for last in lasts), default=math.inf)

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

    def _ends_of_first(self, lines: int, ends: Ends | None) -> range:
        """The pieces with which a first line may end; the whole title is a last line too."""
        first_to, last_from = ends or (self.count - 1, 0)
        if lines == 1 and last_from > 0:
            return range(0)
        return range(min(first_to, self._last_of[0]) + 1)

    def least_penalty(self, lines: int, bound: float, ends: Ends | None = None) -> float:
        """The penalty of the split that `best_within` gives; infinite where there is none."""
        return min(self._totals(lines, self._all_within(bound, ends), ends), default=math.inf)

    def best_within(self, lines: int, bound: float, ends: Ends | None = None) -> Split | None:
        """Of the splits whose lines are all within ``bound``, the one that reads best.

        Least penalty first; then a shape the handbooks name; then the most lines that begin a
        phrase; then the least greatest width; then the most even lines; then the earlier breaks.
        """
        within = self._all_within(bound, ends)
        totals = self._totals(lines, within, ends)
        least = min(totals, default=math.inf)
        if math.isinf(least):
            return None
        found: list[Split] = []
        for last, total in enumerate(totals):
            if total <= least + SAME_COST:
                tails = within.cheapest(last + 1, lines - 1)
                found += [((0, last), *tail) for tail in tails]
            if len(found) >= MOST_TIES:
                break
        return found[0] if len(found) == 1 else self._best_looking(found[:MOST_TIES])

    def _all_within(self, bound: float, ends: Ends | None) -> _Within:
        """What is known of the lines within a bound; none is beyond the widest."""
        key = min(bound * (1 + SAME_SUM_SHARE), self._widest), ends[1] if ends else 0
        found = self._within.get(key)
        if found is None:
            table = self._table(1, key[1])
            found = _Within(self._lines, table[1], key[0])
            self._within[key] = found
        return found

    def _totals(self, lines: int, within: _Within, ends: Ends | None) -> list[float]:
        """By the end of the first line, the least penalty of the splits it begins."""
        rests = within.costs(lines - 1)
        widths, penalties, bound = self._widths[0], self._penalties[0], within.bound
        return [
            penalties[last] + rests[last + 1] if widths[last] <= bound else math.inf
            for last in self._ends_of_first(lines, ends)
        ]

    def every(self, lines: int) -> Iterator[Split]:
        """Every split into so many lines, in the order of their breaks."""
        for cuts in combinations(range(1, self.count), lines - 1):
            split = tuple(zip((0, *cuts), [cut - 1 for cut in (*cuts, self.count)], strict=True))
            if all([last <= self._last_of[first] for first, last in split]):
                yield split

    def looks_of(self, split: Split) -> tuple[float, ...]:
        """What is compared of splits of one shape: of two the less reads better, or looks so."""
        return self.penalty_of(split), -self.phrases_of(split), self._unevenness(split)[0]

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

    def _best_looking(self, splits: Sequence[Split]) -> Split:
        """Of splits that read alike, at least one, the best in the order of `best_within`."""
        # Rounded, so that the order in which widths were added up does not decide.
        ranked = sorted(
            [
                (-self.phrases_of(split), round(max(self.widths_of(split)), WIDTH_DECIMALS), split)
                for split in splits
            ]
        )
        first: Split | None = None
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
        return round(sum(map(mul, widths, widths)), WIDTH_DECIMALS), split

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


class _Within:
    """The ends of splits whose lines are all within a width, worked out as they are asked for.

    Args:
        lines: by their first piece, the last, the width and the penalty of each.
        last_lines: the width of the last line that begins with each piece; infinite for none.
        bound: the width.
    """

    def __init__(
        self,
        lines: Sequence[Sequence[tuple[int, float, float]]],
        last_lines: Sequence[float],
        bound: float,
    ) -> None:
        self.bound = bound
        # By the first piece of a line: the first of the next line, and the penalty.
        self._lines = [
            [(last + 1, penalty) for last, width, penalty in own if width <= bound] for own in lines
        ]
        self._costs = [
            [math.inf] * len(lines) + [0.0],
            [
                own[-1][2] if width <= bound else math.inf
                for own, width in zip(lines, last_lines, strict=False)
            ]
            + [math.inf],
        ]
        self._cheapest: dict[tuple[int, int], list[Split]] = {}

    def costs(self, lines: int) -> list[float]:
        """By the piece that they begin with, the least penalty of ends in so many lines."""
        while len(self._costs) <= lines:
            rests = self._costs[-1]
            row = [
                min([cost + rests[after] for after, cost in own], default=math.inf)
                for own in self._lines
            ]
            row.append(math.inf)
            self._costs.append(row)
        return self._costs[lines]

    def cheapest(self, first: int, lines: int) -> list[Split]:
        """The ends of least penalty from a piece on, in the order of their breaks.

        Of more than `MOST_TIES` the first so many, or some more.
        """
        if lines == 0:
            return [()]
        found = self._cheapest.get((first, lines))
        if found is None:
            found = []
            rests, most = self.costs(lines - 1), self.costs(lines)[first] + SAME_COST
            for after, penalty in self._lines[first]:
                if penalty + rests[after] <= most:
                    line = (first, after - 1)
                    found += [(line, *tail) for tail in self.cheapest(after, lines - 1)]
                    if len(found) >= MOST_TIES:
                        break
            self._cheapest[first, lines] = found
        return found
