"""How much is looked at to find a split, and which of two comes first."""

from __future__ import annotations

import pytest

from spinefit.catalogue import rules
from spinefit.layout import splits
from spinefit.layout.splits import Splitter

EQUAL = rules().value("lines.equal_share")


def splitter(count: int, phrases: tuple[bool, ...] = ()) -> Splitter:
    """Pieces of one width, a line being as wide as it has pieces; none reads badly."""
    return Splitter(
        forced_after=(False,) * count,
        widths=lambda first, last: [float(to - first + 1) for to in range(first, last + 1)],
        penalties=None,
        equal_share=EQUAL,
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


@pytest.mark.parametrize("most", [1, 4, 5])
def test_no_more_ties_are_gathered_than_are_compared(most, monkeypatch):
    """Six pieces in two lines tie in five ways; gathering ends with as many as are wanted."""
    gathered = []
    of = splits._Within.of

    def watched(self, first, lines, choices):
        gathered.append(of(self, first, lines, choices))
        return gathered[-1]

    monkeypatch.setattr(splits, "MOST_TIES", most)
    monkeypatch.setattr(splits._Within, "of", watched)
    found = splitter(6).best_within(2, 6.0)
    assert found == min(gathered[-1], key=lambda split: abs(split[0][1] - 2))
    assert len(gathered[-1]) == most


def test_of_splits_of_one_shape_more_phrases_come_before_even_lines():
    """Six pieces in two lines: those that begin a phrase, then the others, the even ones first."""
    own = splitter(6, phrases=(False, True, False, False, True, False))
    ranked = sorted(own.every(2), key=own.looks_of)
    phrases = [own.phrases_of(split) for split in ranked]
    assert phrases == [1, 1, 0, 0, 0]
    assert ranked[0] == ((0, 3), (4, 5))
    assert ranked[2] == ((0, 2), (3, 5))
