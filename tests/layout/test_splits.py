"""Splits of a title, against every split there is."""

from __future__ import annotations

import math
from math import comb

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit.layout.divisions import bottoms_of, end_bounds, tops_of
from spinefit.layout.sense import is_good_shape, shape_name
from spinefit.layout.splits import MOST_TIES, Splitter
from tests.layout.all_splits import EQUAL, all_splits, by_widths

MOST, LINES = 12, 6


def rows_of(width):
    """Widths of all lines that begin with a piece, from the width of one."""
    return lambda first, last: [width(first, to) for to in range(first, last + 1)]


def splitter_of(**said):
    """A splitter to which widths look equal as they do by the rules."""
    return Splitter(shape=by_widths, **said)


class Case:
    """Pieces of random widths and lines of random penalties."""

    def __init__(self, widths, gap, forced, penalties, phrases=()) -> None:
        self.widths, self.gap, self.penalties = widths, gap, penalties
        self.phrases = tuple(phrases[: len(widths)])
        self.count = len(widths)
        self.forced = (*forced[: self.count - 1], False)
        self.splitter = Splitter(
            forced_after=self.forced,
            widths=rows_of(self.width),
            penalties=rows_of(self.penalty),
            shape=by_widths,
            phrases=self.phrases,
        )

    def width(self, first: int, last: int) -> float:
        return sum(self.widths[first : last + 1]) + self.gap * (last - first)

    def penalty(self, first: int, last: int) -> float:
        return self.penalties[(first * 7 + last * 3) % len(self.penalties)]

    def splits(self, lines: int):
        """Every split that keeps to the forced breaks."""
        for split in all_splits(self.count, lines):
            ends = {last for _first, last in split}
            if all(at in ends for at, forced in enumerate(self.forced) if forced):
                yield split

    def greatest(self, split) -> float:
        return max(self.width(*line) for line in split)

    def cost(self, split) -> float:
        return sum(self.penalty(*line) for line in split)


cases = st.builds(
    Case,
    # few whole numbers, so that many widths tie
    st.lists(st.integers(1, 5), min_size=1, max_size=MOST),
    st.sampled_from([0, 1, 2, -2]),  # the last: longer lines that are narrower, as of a ligature
    st.lists(st.booleans(), min_size=MOST, max_size=MOST).map(
        lambda flags: [flag and at % 3 == 1 for at, flag in enumerate(flags)]
    ),
    st.lists(st.sampled_from([0.0, 0.0, 0.0, 1.0, 3.0, 7.0]), min_size=1, max_size=6),
    st.one_of(st.just([]), st.lists(st.booleans(), min_size=MOST, max_size=MOST)),
)
line_counts = st.integers(1, LINES)


@settings(max_examples=250, deadline=None)
@given(cases, line_counts)
def test_least_width_equals_brute_force(case, lines):
    """Infinite where the pieces are fewer than the lines, or the forced breaks more."""
    expected = min((case.greatest(split) for split in case.splits(lines)), default=math.inf)
    if lines <= case.count:
        assert case.splitter.least_width(lines) == expected
    else:
        assert expected == math.inf


@settings(max_examples=250, deadline=None)
@given(cases, line_counts, st.integers(0, 11), st.integers(0, 11))
def test_least_width_with_bounded_ends_equals_brute_force(case, lines, to, start):
    """Of the splits whose first line ends early and whose last begins late enough."""
    to, start = min(to, case.count - 1), min(start, case.count - 1)
    expected = min(
        (
            case.greatest(split)
            for split in case.splits(lines)
            if split[0][1] <= to and split[-1][0] >= start
        ),
        default=math.inf,
    )
    if lines <= case.count:
        found = case.splitter.least_width(lines, ends=(to, start))
        assert found == expected


@settings(max_examples=250, deadline=None)
@given(cases, line_counts, st.integers(1, 30))
def test_best_within_equals_brute_force(case, lines, bound):
    """Least penalty first, then shape, phrases, width, evenness, and the earlier breaks."""
    within = [split for split in case.splits(lines) if case.greatest(split) <= bound]
    found = case.splitter.best_within(lines, bound) if lines <= case.count else None
    if not within:
        assert found is None
        return

    def rank(split):
        widths = [case.width(*line) for line in split]
        return (
            case.cost(split),
            not is_good_shape(shape_name(widths, EQUAL)),
            -sum(case.phrases[first] for first, _last in split[1:]) if case.phrases else 0,
            max(widths),
            sum(width * width for width in widths),
            split,
        )

    assert found in within
    assert case.cost(found) == min(case.cost(split) for split in within)
    assert case.cost(found) == case.splitter.least_penalty(lines, bound)
    cheapest = [split for split in within if case.cost(split) == case.cost(found)]
    if len(cheapest) <= MOST_TIES:
        assert found == min(within, key=rank)
    assert case.splitter.penalty_of(found) == case.cost(found)


@settings(max_examples=200, deadline=None)
@given(cases, line_counts, st.integers(1, 30), st.integers(0, 11), st.integers(0, 11))
def test_best_within_with_bounded_ends_equals_brute_force(case, lines, bound, to, start):
    to, start = min(to, case.count - 1), min(start, case.count - 1)
    within = [
        split
        for split in case.splits(lines)
        if case.greatest(split) <= bound and split[0][1] <= to and split[-1][0] >= start
    ]
    if lines > case.count:
        return
    found = case.splitter.best_within(lines, bound, ends=(to, start))
    least = case.splitter.least_penalty(lines, bound, ends=(to, start))
    if not within:
        assert found is None
        assert least == math.inf
    else:
        assert found in within
        assert least == case.cost(found)
        assert case.cost(found) == min(case.cost(split) for split in within)


@settings(max_examples=150, deadline=None)
@given(cases, line_counts, st.integers(0, 11))
def test_asking_in_any_order_gives_the_same_answer(case, lines, to):
    """Tables that are kept don't leak from one question into another."""
    if lines > case.count:
        return
    to = min(to, case.count - 1)
    fresh = Case(case.widths, case.gap, case.forced, case.penalties, case.phrases).splitter
    expected = fresh.least_width(lines)
    case.splitter.least_width(lines, ends=(to, 0))
    case.splitter.least_width(lines, ends=(case.count - 1, to))
    case.splitter.least_width(lines, ends=(to, to))
    assert case.splitter.least_width(lines) == expected


@settings(max_examples=150, deadline=None)
@given(cases, line_counts)
def test_a_forced_break_never_makes_the_longest_line_shorter(case, lines):
    """The free optimum of as many lines is as good at the least."""
    if not case.splitter.least_lines <= lines <= case.count:
        return
    free = Case(case.widths, case.gap, [False] * MOST, case.penalties).splitter
    assert free.least_width(lines) <= case.splitter.least_width(lines)


@pytest.mark.parametrize("bound", [4.0, 6.0, 8.0])
def test_a_longer_line_may_be_narrower(bound):
    """As where a break changes the letters; no line beyond the bound counts for that."""
    width = {0: 8.0, 1: 4.0, 2: 6.0, 3: 5.0}
    splitter = splitter_of(
        forced_after=(False,) * 6,
        widths=rows_of(lambda first, last: width.get(last - first, 9.0)),
        penalties=rows_of(lambda first, last: float((first * 5 + last * 3) % 7)),
    )
    for lines in (2, 3, 4):
        within = [
            split
            for split in all_splits(6, lines)
            if all(width.get(last - first, 9.0) <= bound for first, last in split)
        ]
        least = min((splitter.penalty_of(split) for split in within), default=math.inf)
        assert splitter.least_penalty(lines, bound) == least
        found = splitter.best_within(lines, bound)
        assert (found in within) if within else found is None


def test_a_good_shape_comes_before_even_lines():
    """Lines of 4, 4 and 8 are the most even, and irregular; 8, 5 and 3 taper (De Vinne)."""
    splitter = Splitter(
        forced_after=(False,) * 6,
        widths=rows_of(lambda first, last: float(sum([3, 1, 4, 5, 1, 2][first : last + 1]))),
        penalties=None,
        shape=by_widths,
    )
    assert splitter.best_within(3, 8.0) == ((0, 2), (3, 3), (4, 5))
    assert splitter.least_penalty(3, 8.0) == 0.0
    assert splitter.least_penalty(3, 7.0) == math.inf
    assert splitter.best_within(3, math.inf) == ((0, 2), (3, 3), (4, 5))


def test_forced_breaks_are_counted():
    case = Case([1, 1, 1, 1], 1, [True, False, True, False], [0.0])
    assert case.splitter.least_lines == 3
    assert [case.splitter.may_be_line(0, at) for at in range(4)] == [True, False, False, False]
    assert case.splitter.may_be_line(1, 2)
    assert not case.splitter.may_be_line(2, 3)


def test_many_equal_splits_are_no_trouble():
    """Sixty pieces in thirty lines, all alike: an answer, and at once."""
    splitter = Splitter(
        forced_after=(False,) * 60,
        widths=rows_of(lambda first, last: float(last - first + 1)),
        penalties=rows_of(lambda first, last: 0.0),
        shape=by_widths,
    )
    found = splitter.best_within(30, splitter.least_width(30))
    assert len(found) == 30
    assert max(last - first + 1 for first, last in found) == 2


@pytest.mark.parametrize(("count", "lines"), [(1, 1), (5, 1), (5, 5), (8, 3)])
def test_all_splits_is_all_of_them(count, lines):
    """As many as there are ways to cut, each covering every piece once."""
    found = list(all_splits(count, lines))
    assert len(found) == len(set(found)) == comb(count - 1, lines - 1)
    for split in found:
        assert [at for first, last in split for at in range(first, last + 1)] == list(range(count))


STEVENSON = ["THE", "WORKS", "OF", "ROBERT", "LOUIS", "STEVENSON"]


@pytest.mark.parametrize(
    ("lines", "longest", "split"),
    [
        (1, 35, None),
        (2, 19, ["THE WORKS OF ROBERT", "LOUIS STEVENSON"]),
        (3, 12, ["THE WORKS OF", "ROBERT LOUIS", "STEVENSON"]),
        (4, 9, ["THE WORKS", "OF ROBERT", "LOUIS", "STEVENSON"]),
        (5, 9, None),
        (6, 9, STEVENSON),
    ],
)
def test_cockerells_case_counted_in_letters(lines, longest, split):
    """Least possible longest lines with a space as a letter (ch. XV, computed)."""
    splitter = Splitter(
        forced_after=(False,) * 6,
        widths=rows_of(lambda first, last: float(len(" ".join(STEVENSON[first : last + 1])))),
        penalties=rows_of(lambda first, last: 0.0),
        shape=by_widths,
    )
    assert splitter.least_width(lines) == longest
    if split is not None:
        found = splitter.best_within(lines, longest)
        assert [" ".join(STEVENSON[first : last + 1]) for first, last in found] == split


@settings(max_examples=150, deadline=None)
@given(cases, line_counts, st.integers(1, 30), st.integers(0, 11), st.integers(0, 11))
def test_no_penalties_are_as_good_as_penalties_of_nothing(case, lines, bound, to, start):
    """The shorter way where no line has a fault finds what the longer one finds."""
    if lines > case.count:
        return
    ends = {"ends": (min(to, case.count - 1), min(start, case.count - 1))}
    said = {"forced_after": case.forced, "widths": rows_of(case.width)}
    bare = Splitter(**said, penalties=None, shape=by_widths)
    nothing = Splitter(**said, penalties=rows_of(lambda first, last: 0.0), shape=by_widths)
    for asked in ({}, ends):
        found = bare.best_within(lines, bound, **asked)
        assert found == nothing.best_within(lines, bound, **asked)
        if found is not None:
            assert case.greatest(found) <= bound
            assert bare.penalty_of(found) == 0.0


@pytest.mark.parametrize("penalty", [None, lambda first, last: 2.0 * (first == 0)])
def test_one_line_holds_everything_or_is_none(penalty):
    """Whatever bounds its ends: it ends with the last piece and begins with the first."""
    said = {
        "widths": rows_of(lambda first, last: float(last - first + 1)),
        "penalties": None if penalty is None else rows_of(penalty),
    }
    free = splitter_of(forced_after=(False,) * 4, **said)
    assert free.least_width(1, ends=(3, 0)) == 4.0
    assert free.least_width(1, ends=(2, 0)) == math.inf
    assert free.least_width(1, ends=(3, 1)) == math.inf
    assert free.best_within(1, 4.0) == ((0, 3),)
    assert free.best_within(1, 3.9) is None
    assert free.best_within(1, 4.0, ends=(2, 0)) is None
    assert free.best_within(1, 4.0, ends=(3, 1)) is None
    broken = splitter_of(forced_after=(False, True, False, False), **said)
    assert broken.least_width(1, ends=(3, 0)) == math.inf
    assert broken.best_within(1, 9.0) is None
    assert free.penalty_of(((0, 3),)) == (0.0 if penalty is None else 2.0)


def test_more_lines_than_pieces_have_no_split():
    splitter = splitter_of(
        forced_after=(False, False),
        widths=rows_of(lambda first, last: 1.0),
        penalties=rows_of(lambda first, last: 0.0),
    )
    assert splitter.least_width(3) == math.inf
    assert splitter.best_within(3, 9.0) is None


def test_no_more_ties_are_compared_than_ever_matter():
    """Past so many, the best looking of those found first is taken."""
    looked_at = []

    class Watched(Splitter):
        def _best_looking(self, splits):
            looked_at.extend(splits)
            return super()._best_looking(splits)

    Watched(
        forced_after=(False,) * 16,
        widths=rows_of(lambda first, last: 1.0),
        penalties=rows_of(lambda first, last: 0.0),
        shape=by_widths,
    ).best_within(5, 1.0)
    assert len(looked_at) == MOST_TIES


def test_a_break_forced_after_the_last_piece_is_none():
    said = {"widths": rows_of(lambda first, last: 1.0), "penalties": None}
    splitter = splitter_of(forced_after=(True, False, True), **said)
    assert splitter.least_lines == 2
    assert splitter.only(2) == ((0, 0), (1, 2))
    assert splitter.only(3) == ((0, 0), (1, 1), (2, 2))
    assert splitter_of(forced_after=(False,) * 3, **said).only(2) is None


class Run:
    """A run of which only the heights of its pieces are known."""

    def __init__(self, heights) -> None:
        self.heights = heights

    def line_ink(self, first, last):
        pieces = self.heights[first : last + 1]
        return 0.0, min(low for low, _high in pieces), 1.0, max(high for _low, high in pieces)

    def line_tops(self, last):
        return [self.line_ink(0, at)[3] for at in range(last + 1)]

    def line_bottoms(self, first):
        count = len(self.heights)
        return [self.line_ink(at, count - 1)[1] for at in range(first, count)]


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from([-0.3, -0.2, 0.0]), st.sampled_from([0.4, 0.7, 0.9])),
        min_size=2,
        max_size=7,
    ),
    st.integers(0, 6),
)
def test_the_bounds_on_the_ends_are_all_that_differ(heights, forced):
    """Each height that a first or last line can have, once, with the longest such line."""
    count = len(heights)
    splitter = splitter_of(
        forced_after=tuple(at == forced and at < count - 1 for at in range(count)),
        widths=rows_of(lambda first, last: 1.0),
        penalties=None,
    )
    run = Run(heights)
    firsts, lasts = {}, {}
    for at in range(count - 1):
        if splitter.may_be_line(0, at):
            firsts[run.line_ink(0, at)[3]] = at
    for at in range(count - 1, 0, -1):
        if splitter.may_be_line(at, count - 1):
            lasts[run.line_ink(at, count - 1)[1]] = at
    found = list(end_bounds(tops_of(run, splitter), bottoms_of(run, splitter)))
    assert len(found) == len(firsts) * len(lasts)
    for bound in found:
        assert firsts[bound.top] == bound.ends[0]
        assert lasts[bound.bottom] == bound.ends[1]


@pytest.mark.parametrize(
    ("pieces", "penalties", "expected"),
    [
        # Even lines 2, 2, 2 cost 2; the lines 2, 1, 3 cost only their first.
        ([2, 1, 1, 2], {(0, 0): 1, (1, 2): 1, (0, 1): 5}, ((0, 0), (1, 1), (2, 3))),
        # Even lines 3, 3, 3 cost 2 at their end; the lines 3, 4, 2 cost 1 before it.
        ([3, 3, 1, 2], {(2, 3): 2, (1, 2): 1, (0, 1): 9}, ((0, 0), (1, 2), (3, 3))),
    ],
)
def test_looks_never_buy_a_penalty(pieces, penalties, expected):
    """Only splits of the very least penalty are compared by their looks."""
    splitter = splitter_of(
        forced_after=(False,) * 4,
        widths=rows_of(lambda first, last: float(sum(pieces[first : last + 1]))),
        penalties=rows_of(lambda first, last: float(penalties.get((first, last), 0))),
    )
    assert splitter.best_within(3, 9.0) == expected
