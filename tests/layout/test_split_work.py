"""How much is looked at to find a split, and which of two comes first."""

from __future__ import annotations

import pytest

from spinefit.layout import splits
from spinefit.layout.splits import Splitter
from tests.layout.all_splits import by_widths


def splitter(count: int, phrases: tuple[bool, ...] = ()) -> Splitter:
    """Pieces of one width, a line being as wide as it has pieces; none reads badly."""
    return Splitter(
        forced_after=(False,) * count,
        widths=lambda first, last: [float(to - first + 1) for to in range(first, last + 1)],
        penalties=None,
        shape=by_widths,
        phrases=phrases,
    )


@pytest.mark.parametrize("lines", [2, 3, 6])
def test_no_more_rows_are_reckoned_than_there_are_lines_below_the_first(lines, monkeypatch):
    """The first line stands over one line less; of a last line the width is known."""
    reckoned = []
    row = Splitter._next_row

    def watched(self, below):
        reckoned.append(below)
        return row(self, below)

    monkeypatch.setattr(Splitter, "_next_row", watched)
    assert splitter(12).least_width(lines, ends=(11, 0)) == 12 / lines
    assert len(reckoned) == lines - 2


@pytest.mark.parametrize(
    ("most", "lines", "expected"),
    [(1, 2, 1), (4, 2, 4), (5, 2, 5), (9, 2, 5), (4, 3, 4), (5, 3, 7), (8, 3, 9), (11, 3, 10)],
)
def test_gathering_ties_ends_with_as_many_as_are_compared(most, lines, expected, monkeypatch):
    """Or some more: six pieces tie in five ways in two lines, in 4 + 3 + 2 + 1 in three."""
    gathered = []
    of = splits._Within.of

    def watched(self, first, lines, choices):
        gathered.append(of(self, first, lines, choices))
        return gathered[-1]

    monkeypatch.setattr(splits, "MOST_TIES", most)
    monkeypatch.setattr(splits._Within, "of", watched)
    assert splitter(6).best_within(lines, 6.0) in gathered[-1][:most]
    assert len(gathered[-1]) == expected


def test_widths_that_differ_by_the_order_of_adding_up_are_within_the_bound():
    """A bound comes from quotients of lengths, and may end a last digit below the width."""
    for share, found in ((5e-13, ((0, 2), (3, 5))), (2e-12, None)):
        assert splitter(6).best_within(2, 3.0 * (1 - share)) == found


def test_where_no_line_begins_a_phrase_there_is_none():
    assert splitter(4).phrases_of(((0, 0), (1, 2), (3, 3))) == 0


def test_of_splits_of_one_shape_more_phrases_come_before_even_lines():
    """Six pieces in two lines: those that begin a phrase, then the others, the even ones first."""
    own = splitter(6, phrases=(False, True, False, False, True, False))
    ranked = sorted(own.every(2), key=own.looks_of)
    phrases = [own.phrases_of(split) for split in ranked]
    assert phrases == [1, 1, 0, 0, 0]
    assert ranked[0] == ((0, 3), (4, 5))
    assert ranked[2] == ((0, 2), (3, 5))
