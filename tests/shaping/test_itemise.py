"""Stretches of one script and direction."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit.shaping.itemise import itemise, reads_right_to_left


def seen(text: str) -> list[tuple[str, str, str]]:
    return [(text[run.start : run.end], run.script, run.direction) for run in itemise(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tides 1870", [("Tides 1870", "Latn", "ltr")]),
        ("Φάρος", [("Φάρος", "Grek", "ltr")]),
        ("Λιμάνι light", [("Λιμάνι ", "Grek", "ltr"), ("light", "Latn", "ltr")]),
        ("1870 Маяк", [("1870 Маяк", "Cyrl", "ltr")]),
        ("אור", [("אור", "Hebr", "rtl")]),
        ("אור 12", [("12", "Latn", "ltr"), ("אור ", "Hebr", "rtl")]),
        ("Tide אור", [("Tide ", "Latn", "ltr"), ("אור", "Hebr", "rtl")]),
        ("Mo\u0308we", [("Mo\u0308we", "Latn", "ltr")]),
    ],
)
def test_runs_from_left_to_right_as_seen(text, expected):
    assert seen(text) == expected


@settings(max_examples=300, deadline=None)
@given(st.text(alphabet="aÉφЖ1 .אבسم港\u0301", min_size=1, max_size=20))
def test_runs_hold_every_character_once(text):
    places = sorted((run.start, run.end) for run in itemise(text))
    assert [at for start, end in places for at in range(start, end)] == list(range(len(text)))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tides", False),
        ("אור", True),
        ("12 אור", True),
        ("منارة", True),
        ("Tide אור", False),
        ("12", False),
    ],
)
def test_the_first_letter_gives_the_direction(text, expected):
    assert reads_right_to_left(text) is expected
