"""The splits of one title: what is worked out once is what is worked out anew."""

from __future__ import annotations

import pytest

from spinefit import catalogue
from spinefit.job.model import Job, Lettering
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.layout.divisions import Divisions
from spinefit.layout.sense import line_penalty, sense_of
from spinefit.shaping import shape_title
from spinefit.vocabulary import BreakWords, SmallWords
from tests.layout.all_splits import all_splits

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
