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

from spinefit.layout.sense import is_good_shape
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
        shape: the name of the shape of a split, by the widths of its lines and itself.
        phrases: for each piece, whether it begins a phrase; empty where none does.
    """

    def __init__(
        self,
        *,
        forced_after: tuple[bool, ...],
        widths: LineFigures,
        penalties: LineFigures | None,
        shape: Callable[[Sequence[float], Split], str],
        phrases: tuple[bool, ...] = (),
    ) -> None:
        self.count = count = len(forced_after)
        self.least_lines = 1 + sum(forced_after[:-1])
        self.shape = shape
        self._phrases = phrases
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
    def _penalties(self) -> list[Sequence[float]] | None:
        """The penalties of all lines, as `_widths` holds their widths; None where none has any."""
        if self._penalties_of is None:
            return None
        return [self._penalties_of(first, last) for first, last in enumerate(self._last_of)]

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

    def least_penalty(self, lines: int, bound: float, ends: Ends | None = None) -> float:
        """The penalty of the split that `best_within` gives; infinite where there is none."""
        return min(self._firsts(lines, bound, ends)[1], default=(math.inf, 0))[0]

    def best_within(self, lines: int, bound: float, ends: Ends | None = None) -> Split | None:
        """Of the splits whose lines are all within ``bound``, the one that reads best.

        Least penalty first; then a shape the handbooks name; then the most lines that begin a
        phrase; then the least greatest width; then the most even lines; then the earlier breaks.
        """
        within, firsts = self._firsts(lines, bound, ends)
        if not firsts:
            return None
        found = within.of(0, lines, firsts)
        return found[0] if len(found) == 1 else self._best_looking(found[:MOST_TIES])

    def _firsts(self, lines: int, bound: float, ends: Ends | None) -> tuple[_Within, _Choices]:
        """The first lines that there may be within a bound; none is beyond the widest."""
        first_to, last_from = ends or (self.count, 0)
        table = self._table(lines, last_from)
        key = min(bound * (1 + SAME_SUM_SHARE), self._widest), last_from
        within = self._within.get(key)
        if within is None:
            within = _Within(self._widths, self._penalties, table, key[0])
            self._within[key] = within
        # What is no split at all is refused here, so that it is asked of no line.
        firsts = within.choices(0, lines) if table[lines][0] <= key[0] else []
        return within, firsts if ends is None else [one for one in firsts if one[1] <= first_to]

    def _ends_of_first(self, lines: int, ends: Ends) -> range:
        """The pieces with which a first line may end; the whole title is a last line too."""
        first_to, last_from = ends
        if lines == 1 and last_from > 0:
            return range(0)
        return range(min(first_to, self._last_of[0]) + 1)

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
                if is_good_shape(self.shape(self.widths_of(split), split)):
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
        penalties = self._penalties
        if penalties is None:
            return 0.0
        return sum([penalties[first][last - first] for first, last in split])

    def phrases_of(self, split: Split) -> int:
        """How many lines after the first begin a phrase."""
        phrases = self._phrases
        return sum([phrases[first] for first, _last in split[1:]]) if phrases else 0


_Choices = list[tuple[float, int]]
"""What a line may end with: the least penalty from there on, itself counted, and its last piece."""


class _Within:
    """The ends of splits whose lines are all within a width, worked out as they are asked for.

    Args:
        widths: by the first piece of a line, the width of each.
        penalties: the same of their penalties; None where no line has any.
        table: as of a `Splitter`; filled as far as the lines that are asked for.
        bound: the width.
    """

    def __init__(
        self,
        widths: Sequence[Sequence[float]],
        penalties: Sequence[Sequence[float]] | None,
        table: Sequence[Sequence[float]],
        bound: float,
    ) -> None:
        self._widths, self._penalties, self._table = widths, penalties, table
        self._bound = bound
        self._choices: dict[tuple[int, int], _Choices] = {}
        self._cheapest: dict[tuple[int, int], list[Split]] = {}

    def choices(self, first: int, lines: int) -> _Choices:
        """The lines that may begin with a piece, where that and what follows makes so many."""
        key = first, lines
        found = self._choices.get(key)
        if found is not None:
            return found
        bound, penalties = self._bound, self._penalties
        after = range(first + 1, len(self._table[0]))
        columns = zip(after, self._widths[first], self._table[lines - 1][first + 1 :], strict=False)
        ends = [at for at, width, below in columns if width <= bound and below <= bound]
        if penalties is None:
            found = [(0.0, at - 1) for at in ends]
        else:
            own = penalties[first]
            found = [(own[at - 1 - first] + self._least(at, lines - 1), at - 1) for at in ends]
        self._choices[key] = found
        return found

    def _least(self, first: int, lines: int) -> float:
        """The least penalty of the ends from a piece on; there are some."""
        return min(self.choices(first, lines))[0] if lines else 0.0

    def of(self, first: int, lines: int, choices: _Choices) -> list[Split]:
        """The ends of least penalty that begin as these choices do, in the order of their breaks.

        Of more than `MOST_TIES` the first so many, or some more.
        """
        most, found = min(choices)[0] + SAME_COST, list[Split]()
        for penalty, last in choices:
            if penalty <= most:
                line = (first, last)
                found += [(line, *tail) for tail in self._ends(last + 1, lines - 1)]
                if len(found) >= MOST_TIES:
                    break
        return found

    def _ends(self, first: int, lines: int) -> list[Split]:
        """All of those from a piece on."""
        if not lines:
            return [()]
        key = first, lines
        found = self._cheapest.get(key)
        if found is None:
            found = self._cheapest[key] = self.of(first, lines, self.choices(first, lines))
        return found
