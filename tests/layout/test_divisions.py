"""The splits of one title: what is worked out once is what is worked out anew."""

from __future__ import annotations

from math import comb

import pytest

from spinefit import catalogue
from spinefit.job.model import Job, Lettering
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.layout import divisions as divisions_module
from spinefit.layout.divisions import (
    MOST_SPLITS,
    Divisions,
    bottoms_of,
    end_bounds,
    lines_of,
    tops_of,
)
from spinefit.layout.sense import line_penalty, sense_of
from spinefit.shaping import shape_title
from spinefit.vocabulary import BreakWords, GroupShape, SmallWords
from tests.layout.all_splits import all_splits
from tests.layout.sketched import SketchedRun, SketchedTitle, sketched

WORDS = sense_of(catalogue.title_words("en"), catalogue.rules(), SmallWords.JOINED)
TITLES = [
    "Light of the",
    "The Of A",
    "Rope / of the / Tide",
    "Tide-Table of the Bay",
    "Of-the Bay of the",
]


def divisions(title: str) -> Divisions:
    job = resolve(Job(title=title, panel=Panel(width_mm=30, height_mm=30), lettering=Lettering()))
    run = shape_title(job).run
    return Divisions(run, BreakWords.NEVER, WORDS, 1.2)


@pytest.mark.parametrize("title", TITLES)
def test_a_line_costs_what_the_rule_says(title):
    """Of each line there may be, whether its pieces are parted by spaces or not."""
    division = divisions(title)
    run, splitter = division._run, division.splitter
    ends = [piece.forced_after for piece in run.pieces[:-1]] + [True]
    for first in range(splitter.count):
        for last in range(first, splitter.count):
            if splitter.may_be_line(first, last):
                said = {"is_last": ends[last], "in_word": run.pieces[last].in_word, "words": WORDS}
                expected = line_penalty(run.line_text(first, last), **said)
                assert splitter.penalty_of(((first, last),)) == expected


@pytest.mark.parametrize("title", TITLES)
def test_the_least_split_is_the_narrowest(title):
    division = divisions(title)
    run = division._run
    for lines in range(1, division.splitter.count + 1):
        if not division.may_have(lines):
            continue

        def widest(split):
            return max(division.splitter.widths_of(split))

        found = division.least(lines)
        assert found is division.least(lines)
        allowed = [
            split
            for split in all_splits(len(run.pieces), lines)
            if all(division.splitter.may_be_line(*line) for line in split)
        ]
        assert widest(found) == pytest.approx(min(widest(split) for split in allowed))


def test_lines_are_from_the_forced_breaks_to_the_pieces():
    division = divisions("Rope / of the / Tide")
    assert [division.may_have(lines) for lines in range(1, 6)] == [False, False, True, True, False]
    assert division.lines(((0, 0), (1, 2), (3, 3))).depths_em == pytest.approx((0, 1.2, 2.4))


def of_words(words: str, forced=()) -> SketchedTitle:
    """Words of one width and one height."""
    count = len(words.split())
    return sketched(words.split(), [1.0] * count, [0.7] * count, [-0.2] * count, forced)


@pytest.mark.parametrize("at", range(5))
def test_a_first_and_a_last_line_keep_to_the_forced_break(at):
    """The one ends at the break at the latest, the other begins after it at the earliest."""
    run = of_words("Log of the Tides and Gales", forced=[at]).run
    splitter = Divisions(run, BreakWords.NEVER, WORDS, 1.2).splitter
    assert [*tops_of(run, splitter)] == list(range(at + 1))
    assert [*bottoms_of(run, splitter)] == list(range(at + 1, 6))


@pytest.mark.parametrize("forced", [(), (0,), (4,), (1, 3), (0, 1, 2, 3, 4)])
def test_there_is_a_choice_where_there_is_more_than_one_split(forced):
    division = Divisions(
        of_words("Log of the Tides and Gales", forced).run, BreakWords.NEVER, WORDS, 1.2
    )
    for lines in range(1, 9):
        found = len(list(division.splitter.every(lines)))
        assert division.may_have(lines) is (found > 0)
        assert division.has_choice(lines) is (found > 1)


def test_a_line_that_is_shaped_anew_may_be_the_highest_wherever_it_stands():
    """As a letter with a long stroke at the end of its line.

    Where no line has ink beyond that of the title, the first is the highest, the last the lowest.
    """

    class Stroked(SketchedRun):
        keeps_ink = False

        def line_ink(self, first, last):
            left, bottom, right, top = super().line_ink(first, last)
            return left, bottom - 3.0 * (first == 1), right, top + 2.0 * (first == 1)

    run = of_words("Log Tides Gales").run
    split = ((0, 0), (1, 1), (2, 2))
    plain = Divisions(run, BreakWords.NEVER, WORDS, 1.2).lines(split)
    assert (plain.top_em, plain.bottom_em) == pytest.approx((0.7, -2.6))
    stroked = Stroked(["Log", "Tides", "Gales"], run.boxes, ())
    found = Divisions(stroked, BreakWords.NEVER, WORDS, 1.2).lines(split)
    assert (found.top_em, found.bottom_em) == pytest.approx((1.5, -4.4))


def test_each_height_of_an_end_is_one_bound_even_where_letters_change_at_a_break():
    """A top is met at the longest first line that has it, a bottom at the longest last one."""
    tops = {0: 0.9, 1: 0.7, 2: 0.9, 3: 0.9}
    bottoms = {1: -0.3, 2: -0.3, 3: -0.1, 4: -0.3}
    found = list(end_bounds(tops, bottoms))
    assert {(bound.ends[0], bound.top) for bound in found} == {(1, 0.7), (3, 0.9)}
    assert {(bound.ends[1], bound.bottom) for bound in found} == {(1, -0.3), (3, -0.1)}
    assert len(found) == 4


@pytest.mark.parametrize(("most", "looked_at"), [(10, 10), (9, 0)])
def test_as_many_splits_as_may_be_are_looked_at(most, looked_at, monkeypatch):
    """Six pieces are cut into three lines in ten ways."""
    monkeypatch.setattr(divisions_module, "MOST_SPLITS", most)
    division = Divisions(of_words("Log of the Tides and Gales").run, BreakWords.NEVER, WORDS, 1.2)
    shapes = (*GroupShape, "irregular")
    assert sum(len(division.of_shape(shape, 3)) for shape in shapes) == looked_at


def test_all_splits_are_looked_at_for_their_shape_unless_they_are_too_many():
    """Of 44 pieces the 903 ways into three lines, none of the 12,341 into four."""
    division = Divisions(of_words("Tide " * 44).run, BreakWords.NEVER, WORDS, 1.2)
    for lines, looked_at in ((2, 43), (3, 903), (4, 0)):
        assert (comb(43, lines - 1) <= MOST_SPLITS) is (looked_at > 0)
        shapes = (*GroupShape, "irregular")
        assert sum(len(division.of_shape(shape, lines)) for shape in shapes) == looked_at


def test_lines_are_read_for_small_words_only_where_one_may_be_alone():
    """A line of them costs what it costs: with less to pay there is none."""
    run, split = of_words("Log of the Tides").run, ((0, 0), (1, 2), (3, 3))
    for penalty, alone in ((WORDS.line_alone, True), (WORDS.line_alone / 2, False)):
        run.asked.clear()
        assert lines_of(run, split, 1.2, (penalty, 0), WORDS).strands_small_words is alone
        assert bool(run.asked) is alone
