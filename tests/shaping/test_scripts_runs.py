"""Stretches of one script and direction."""

from __future__ import annotations

import itertools
import sys
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit.job.title import reads_right_to_left
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.shaping.scripts import _FIRST_TURNING, Run, directions, itemise


def runs_of(text: str, start: int = 0, end: int | None = None) -> list[Run]:
    """The runs of a line cut out of a text."""
    end = len(text) if end is None else end
    found = directions(text, right_to_left=reads_right_to_left(text))
    return itemise(text[start:end], None if found is None else found.of_line(start, end))


def seen(text: str) -> list[tuple[str, str, str]]:
    return [(text[run.start : run.end], run.script, run.direction) for run in runs_of(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tides 1870", [("Tides 1870", "Latn", "ltr")]),
        ("Φάρος", [("Φάρος", "Grek", "ltr")]),
        ("Λιμάνι light", [("Λιμάνι ", "Grek", "ltr"), ("light", "Latn", "ltr")]),
        ("1870 Маяк", [("1870 Маяк", "Cyrl", "ltr")]),
        ("אור", [("אור", "Hebr", "rtl")]),
        ("אור 12", [("12", "Hebr", "ltr"), ("אור ", "Hebr", "rtl")]),
        ("Tide אור", [("Tide ", "Latn", "ltr"), ("אור", "Hebr", "rtl")]),
        (
            "אור Tide, Log ים",
            [
                ("ים", "Hebr", "rtl"),
                (" ", "Latn", "rtl"),
                ("Tide, Log", "Latn", "ltr"),
                ("אור ", "Hebr", "rtl"),
            ],
        ),
        ("Mo\u0308we", [("Mo\u0308we", "Latn", "ltr")]),
    ],
)
def test_runs_from_left_to_right_as_seen(text, expected):
    assert seen(text) == expected


def test_nothing_before_hebrew_turns():
    """Texts below that letter are not asked character by character; it is the first that does."""
    turning = {"R", "AL", "AN", "RLE", "RLO", "RLI"}
    chars = map(chr, range(sys.maxunicode + 1))
    found = [char for char in chars if unicodedata.bidirectional(char) in turning]
    assert _FIRST_TURNING <= min(found) == "\u05be"


@settings(max_examples=500, deadline=None)
@given(st.text(alphabet="αφЖ1 .\u0301港ー", min_size=1, max_size=8))
def test_scripts_are_those_of_each_character_asked_in_turn(text):
    """What many scripts share goes with what stands before it, first of all with what follows."""
    own = [script_and_direction(char)[0] for char in text]
    script = next(filter(None, own), "Latn")
    expected = []
    for found in own:
        script = script if found in (None, "Zinh") else found
        expected.append(script)
    if any(char > "\u024f" for char in text):
        runs = itemise(text)
        assert [run.script for run in runs for _ in range(run.start, run.end)] == expected
        assert all(one.script != other.script for one, other in itertools.pairwise(runs))


@settings(max_examples=300, deadline=None)
@given(st.text(alphabet="aÉφЖ1 .אבسم港\u0301", min_size=1, max_size=20))
def test_runs_hold_every_character_once(text):
    places = sorted((run.start, run.end) for run in runs_of(text))
    assert [at for start, end in places for at in range(start, end)] == list(range(len(text)))


@pytest.mark.parametrize(
    ("text", "language", "expected"),
    [
        ("Tides", "he", False),
        ("אור", None, True),
        ("12 אור", None, True),
        ("منارة", "en", True),
        ("Tide אור", None, False),
        ("Tide אור", "he", True),
        ("Tide אור", "fa-Latn", False),
        ("12", "ar", False),
    ],
)
def test_the_language_or_the_first_letter_gives_the_direction(text, language, expected):
    assert reads_right_to_left(text, language) is expected


def test_a_line_keeps_the_directions_of_the_whole_title():
    """UAX #9: levels are found before lines are cut; a comma between Latin words stays theirs."""
    text = "אור Tide, Log"
    line = text.index("Log")
    cut = runs_of(text, 0, line)
    assert [(run.direction, text[run.start : run.end]) for run in cut] == [
        ("rtl", " "),
        ("ltr", "Tide,"),
        ("rtl", "אור "),
    ]
    alone = runs_of(text[:line])
    assert next(text[run.start : run.end] for run in alone) == ", "


def test_arabic_figures_keep_their_ranges_apart():
    """UAX #9, W2 and W4: after an Arabic word European figures count as Arabic ones."""
    text = "سنة 1848-1870"
    line = text.index("1")
    assert [text[line + run.start : line + run.end] for run in runs_of(text, line)] == [
        "1870",
        "-",
        "1848",
    ]
