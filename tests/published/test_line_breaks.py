"""Does the short rule for plain titles break them where UAX #14 does?

The whole rule is held against the uniseg library, which carries its own tables of the Unicode
line breaking classes: every short text over an alphabet with one of each kind of character,
and longer ones at random. Only texts that the short rule claims for itself count.
"""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uniseg.linebreak import line_break_boundaries

from spinefit.shaping import segments

ALPHABET = "a1 -.,'’&éαя"
LONGEST = 5
PARTS = (" ", "-", ", ", ". ", " & ", "’", "Light", "harbour", "vol", "2", "1848", "ё", "Ή", "ö")


def _by_the_library(text: str) -> list[int]:
    return [at for at in line_break_boundaries(text) if 0 < at < len(text)]


def _by_the_rule(text: str) -> list[int]:
    return [match.start() for match in segments._PLAIN_BREAK.finditer(text)]


def _claimed(text: str) -> bool:
    return text == text.strip(" ") and segments._PLAIN.fullmatch(text) is not None


@pytest.mark.parametrize("length", range(1, LONGEST + 1))
def test_short_rule_is_uax_14_for_every_short_text(length: int) -> None:
    """Source: Unicode Standard Annex #14, as the uniseg library has it, exhaustively."""
    claimed = 0
    for letters in itertools.product(ALPHABET, repeat=length):
        text = "".join(letters)
        if _claimed(text):
            claimed += 1
            assert _by_the_rule(text) == _by_the_library(text), text
    assert claimed >= 6**length  # letters and figures alone make so many


def test_every_letter_claimed_behaves_as_a_letter() -> None:
    """Source: UAX #14 as uniseg has it; each character of the rule's ranges in four places."""
    claimed = [char for char in map(chr, range(0x20, 0x530)) if segments._PLAIN.fullmatch(char)]
    assert len(claimed) > 800
    for char in claimed:
        for text in (f"a{char}", f"{char}a", f"a {char}", f"{char}-a", f"a-{char}", f"1{char}1"):
            if _claimed(text):
                assert _by_the_rule(text) == _by_the_library(text), text


@settings(max_examples=800, deadline=None)
@given(st.from_regex(segments._PLAIN, fullmatch=True))
def test_short_rule_is_uax_14_for_longer_texts(text: str) -> None:
    """Source: Unicode Standard Annex #14, as the uniseg library has it, at random."""
    if _claimed(text):
        assert _by_the_rule(text) == _by_the_library(text)


@settings(max_examples=800, deadline=None)
@given(st.lists(st.sampled_from(PARTS), min_size=1, max_size=12))
def test_short_rule_is_uax_14_for_titles(parts: list[str]) -> None:
    """Source: Unicode Standard Annex #14, as the uniseg library has it, at random."""
    text = "".join(parts).strip(" ")
    if _claimed(text):
        assert _by_the_rule(text) == _by_the_library(text)


@pytest.mark.parametrize(
    "title",
    [
        "The Harbour Light",
        "Tide-Tables, Vol. 2",
        "L’Avenir du Nord-Ouest",
        "Tyne & Wear",
        "Ή θάλασσα και το λιμάνι",
        "Маяк у моря, том 2",
        "O'Brien's Log-Book: 1848, 1870",
    ],
)
def test_usual_titles_are_claimed(title: str) -> None:
    """Source: UAX #14; such titles take the short rule, so the comparison is of use."""
    assert _claimed(title)
    assert _by_the_rule(title) == _by_the_library(title)


@pytest.mark.parametrize(
    ("text", "kept"),
    [("Light 1848–1870", [6]), ("Log, Vol. 2", [5]), ("Tide Tables", [5]), ("A\u00a0B C", [4])],
)
def test_trade_rules_only_take_breaks_away(text: str, kept: list[int]) -> None:
    """Source: UAX #14 as uniseg has it; ranges and numbers of volumes are not parted."""
    found = list(segments.line_breaks(text, "en"))
    assert found == kept
    assert set(found) <= set(_by_the_library(text))
