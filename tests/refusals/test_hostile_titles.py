# ruff: noqa: E501
"""Titles of every odd kind: one line and 2, or an answer, in good time."""

from __future__ import annotations

import time

import pytest

from tests.fuzz.judging import faults, outcome

BACK = ("--width", "22mm", "--height", "210mm")
REFUSED = {
    "empty": ("", "no letters"), "spaces": ("   ", "no letters"),
    "100,000 letters": ("A" * 100_000, "too long"), "5,000 marks": ("A" + "\u0301" * 5000, "too long"),
    "1,900 marks": ("A" + "\u0301" * 1900, "more than 30 marks"), "half a character": ("A\ud800", "no text"),
    "a pair of halves": ("\ud83d\ude00", "no text"), "a bell": ("A\x07", "U+0007"),
    "next line": ("A\x85", "U+0085"), "private use": ("\ue000", "no letters"),
    "a noncharacter": ("A\ufffe", "U+FFFE"), "the last one": ("\U0010ffff", "no letters"),
    "emoji": ("👩‍🚒 Light", "U+1F469"),
}  # fmt: skip
ANSWERED = {
    "bidi override": "A\u202eB", "isolate": "A\u2066B\u2069", "tags": "A" + "\U000e0041" * 20,
    "variation selector": "A\ufe0f", "2,000 wide letters": "W" * 2000, "249 words": "of " * 249,
    "a no-break chain": "A\u00a0" * 900, "dashes": "—" * 1500 + "A", "200 forced lines": " / ".join("A" * 200),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_lettered_is_refused(name: str) -> None:
    title, said = REFUSED[name]
    done = outcome(["check", title, *BACK])
    assert done.code == 2
    assert not faults(["check"], done)
    assert said in done.err


@pytest.mark.parametrize("name", ANSWERED)
def test_what_is_odd_is_answered_in_good_time(name: str) -> None:
    start = time.process_time()
    done = outcome(["check", ANSWERED[name], *BACK])
    assert time.process_time() - start < 5
    assert done.code in (0, 1)
    assert not faults(["check"], done)
