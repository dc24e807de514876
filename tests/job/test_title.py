"""The words of a title, its forced lines and its language."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit.errors import FieldError
from spinefit.job.title import guess_language, title_lines


@pytest.mark.parametrize(
    ("typed", "lines"),
    [
        ("The Harbour Light", ("The Harbour Light",)),
        ("  The   Harbour  Light ", ("The Harbour Light",)),
        ("The Harbour / Light", ("The Harbour", "Light")),
        ("The Harbour  /  Light", ("The Harbour", "Light")),
        ("Tides/Currents", ("Tides/Currents",)),
        ("A / B / C", ("A", "B", "C")),
        ("Vol.\u00a02", ("Vol.\u00a02",)),
        ("Vol.\u202f2", ("Vol.\u202f2",)),
        ("Tide\u2003Tables", ("Tide Tables",)),
        ("港\u3000灯", ("港 灯",)),
        ("Mo\u0308we", ("Möwe",)),
    ],
)
def test_spaces_close_up_and_slashes_force_breaks(typed, lines):
    """No-break spaces stay, since they bind words."""
    assert title_lines(typed, slash_breaks=True) == lines


def test_without_slash_breaks_a_slash_is_a_sign():
    """Catalogues put it before the author."""
    assert title_lines("Tides / A. Binder", slash_breaks=False) == ("Tides / A. Binder",)


@pytest.mark.parametrize(
    "typed",
    ["", " ", "\u00a0", "\u200b", "\u0301", "Tides / ", " / ", "A / \u00a0 / B"],
)
def test_a_line_without_letters_is_refused(typed):
    with pytest.raises(FieldError) as fault:
        title_lines(typed, slash_breaks=True)
    assert fault.value.where == "TITLE"


def test_an_empty_line_between_two_breaks_is_refused():
    """The middle line of A / / B has nothing in it; no slash is lettered in its stead."""
    with pytest.raises(FieldError):
        title_lines("A / / B", slash_breaks=True)


@pytest.mark.parametrize("char", ["\n", "\t", "\0", "\x1b", "\u2028", "\u2029", "\ud800", "\u0378"])
def test_a_character_that_cannot_be_lettered_is_named(char):
    with pytest.raises(FieldError, match=f"U\\+{ord(char):04X}") as fault:
        title_lines(f"Ti{char}des", slash_breaks=True)
    assert str(fault.value).isprintable()


def test_a_title_past_2000_characters_is_refused():
    assert title_lines("A" * 2000, slash_breaks=True) == ("A" * 2000,)
    with pytest.raises(FieldError, match="2001"):
        title_lines("A" * 2001, slash_breaks=True)


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="aéØ漢 \u0301\u00a0/", min_size=1, max_size=30))
def test_nfc_and_nfd_give_the_same_lines_and_again(text):
    """Any title that is taken is taken in both forms alike, and once more unchanged."""
    try:
        found = title_lines(text, slash_breaks=True)
    except FieldError:
        return
    for form in ("NFC", "NFD"):
        assert title_lines(unicodedata.normalize(form, text), slash_breaks=True) == found
    assert title_lines(" / ".join(found), slash_breaks=True) == found
    assert not any(line.startswith(" ") or line.endswith(" ") or "  " in line for line in found)


@pytest.mark.parametrize(
    ("line", "languages", "language"),
    [
        ("The Light of the Harbour", (), "en"),
        ("The Light of the Harbour", ("fr",), "en"),
        ("THE LIGHT OF THE HARBOUR", ("de",), "en"),
        ("La Gardienne du phare et la mer", ("en", "fr"), "fr"),
        ("Phare", ("fr",), "fr"),
        ("Phare", ("de", "fr", "it"), None),
        ("Phare", (), None),
    ],
)
def test_small_words_speak_for_their_language(line, languages, language):
    assert guess_language((line,), languages) == language


def test_on_a_tie_the_markets_language_goes_first():
    """In is a small word of English and of German."""
    assert guess_language(("Licht in Licht",), ("de",)) == "de"
    assert guess_language(("Licht in Licht",), ()) == "en"


def test_small_words_of_every_forced_line_count():
    assert guess_language(("Gardienne", "du phare", "et la mer"), ("en", "fr")) == "fr"


def test_a_greek_line_takes_no_accent_from_another() -> None:
    """Portuguese até stays a small word beside a line of Greek, whose accents are dropped."""
    assert guess_language(("até", "Φάρος"), ("el", "pt")) == "pt"


@pytest.mark.parametrize("space", ["  ", "   ", "\u2003", " \u2003 "])
def test_spaces_close_up_alike_in_plain_and_other_titles(space: str) -> None:
    """What is known of plain letters at once is found for others letter by letter."""
    plain, other = f" The{space}Harbour / Light ", f" Thé{space}Harbour / Light "
    assert title_lines(plain, slash_breaks=True) == ("The Harbour", "Light")
    assert title_lines(other, slash_breaks=True) == ("Thé Harbour", "Light")
