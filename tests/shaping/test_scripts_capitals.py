"""Titles in capitals, language by language."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit.shaping.scripts import capitals, is_capitals


@pytest.mark.parametrize(
    ("typed", "language", "expected"),
    [
        ("Straße", "de", "STRASSE"),
        ("Maß und Meer", "de-AT", "MASS UND MEER"),
        ("GROẞ", "de", "GROẞ"),
        ("ışık izi", "tr", "IŞIK İZİ"),
        ("ışık izi", "TR-tr", "IŞIK İZİ"),
        ("dəniz işığı", "az", "DƏNİZ İŞIĞI"),
        ("İstanbul", "tr", "İSTANBUL"),
        ("ışık izi", "en", "IŞIK IZI"),
        ("ijzer", "nl", "IJZER"),
        ("ĳzer", "nl", "ĲZER"),
        ("i\u0307\u0300 rytas", "lt", "Ì RYTAS"),
        ("j\u0307\u0303", "lt", unicodedata.normalize("NFC", "J\u0303")),
        ("ﬁn de la ﬂotte", "fr", "FIN DE LA FLOTTE"),
        ("œuvre, été", "fr", "ŒUVRE, ÉTÉ"),
        ("ŉ dag", "af", "ʼN DAG"),
        ("Mo\u0308we", "de", "MÖWE"),
        ("Vol. 2, 1848–1870", "en", "VOL. 2, 1848–1870"),
        ("港 tide", "ja", "港 TIDE"),
        ("моряк", "ru", "МОРЯК"),
    ],
)
def test_capitals_of_each_language(typed, language, expected):
    assert capitals(typed, language) == expected


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("Λιμάνι", "ΛΙΜΑΝΙ"),
        ("φάρος", "ΦΑΡΟΣ"),
        ("Οδυσσεύς", "ΟΔΥΣΣΕΥΣ"),
        ("καΐκι", "ΚΑΪΚΙ"),
        ("μαΐου", "ΜΑΪΟΥ"),
        ("πρωινό, πρωί", "ΠΡΩΙΝΟ, ΠΡΩΙ"),
        ("Μάιος", "ΜΑΪΟΣ"),
        ("γάιδαρος", "ΓΑΪΔΑΡΟΣ"),
        ("άυλος", "ΑΫΛΟΣ"),
        ("Αύριο", "ΑΥΡΙΟ"),
        ("ρόιδι", "ΡΟΪΔΙ"),
        ("νέικος", "ΝΕΪΚΟΣ"),
        ("ταΰγετος", "ΤΑΫΓΕΤΟΣ"),
        ("ΐ, ΰ", "Ϊ, Ϋ"),
    ],
)
def test_greek_drops_its_accents_and_keeps_vowels_apart(typed, expected):
    """A dialytika stays, and comes where a dropped accent had kept two vowels apart."""
    assert capitals(typed, "el") == expected
    assert capitals(unicodedata.normalize("NFD", typed), "el") == expected
    assert capitals(typed, None) == expected  # letters tell their script, whatever the language


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("ὁ λιμήν", "Ο ΛΙΜΗΝ"),
        ("τῆς νήσου", "ΤΗΣ ΝΗΣΟΥ"),
        ("ᾄδω", "ΑΙΔΩ"),
        ("τῇ θαλάσσῃ", "ΤΗΙ ΘΑΛΑΣΣΗΙ"),
        ("ᾳ", "ΑΙ"),
        ("ᾼ", "ΑΙ"),
        ("Ὀδύσσεια", "ΟΔΥΣΣΕΙΑ"),
        ("ῥόδον", "ΡΟΔΟΝ"),
        ("ᾱ, ᾰ", "Α, Α"),
        ("ἀυλος", "ΑΥΛΟΣ"),  # a breathing keeps no vowels apart, an accent does
        ("ἄυλος", "ΑΫΛΟΣ"),
        ("πρώι", "ΠΡΩΪ"),
        ("ἵϊ", "ΙΪ"),
    ],
)
def test_polytonic_greek(typed, expected):
    """Breathings, accents and quantities go; an iota subscript is written beside its vowel.

    Each is what ICU gives in Greek (CLDR, el-Upper).
    """
    assert capitals(typed, "el") == expected


@pytest.mark.parametrize("typed", ["ή", "ήλιος ή φάρος", "«ή»", "ἢ"])
def test_the_disjunctive_eta_keeps_its_accent(typed):
    """Ή (or) is told from the article Η."""
    words = capitals(typed, "el").strip("«»").split()
    assert "Ή" in words
    assert capitals("ήλιος", "el") == "ΗΛΙΟΣ"
    assert capitals("η θάλασσα", "el") == "Η ΘΑΛΑΣΣΑ"


def test_the_polytonic_article_has_no_accent():
    """ἡ has a breathing and no accent: in capitals it is the article Η, never Ή (or)."""
    assert capitals("ἡ θάλασσα", "grc") == "Η ΘΑΛΑΣΣΑ"
    assert capitals("Ἡ θάλασσα", "el") == "Η ΘΑΛΑΣΣΑ"
    assert capitals("ᾗ", "grc") == "ΗΙ"


def test_scripts_in_one_title_keep_their_own_rules():
    assert capitals("Straße – Λιμάνι – море", "de") == "STRASSE – ΛΙΜΑΝΙ – МОРЕ"
    assert capitals("á ή é", None) == "Á Ή É"


LETTERS = st.text(
    alphabet=st.one_of(
        st.characters(min_codepoint=0x20, max_codepoint=0x24F),
        st.characters(min_codepoint=0x300, max_codepoint=0x345),
        st.characters(min_codepoint=0x370, max_codepoint=0x3FF, exclude_categories=["Cn"]),
        st.characters(min_codepoint=0x1F00, max_codepoint=0x1FFF, exclude_categories=["Cn"]),
        st.characters(min_codepoint=0x400, max_codepoint=0x52F, exclude_categories=["Cn"]),
        st.sampled_from("ﬁﬂﬃßĳŉẞ港ا"),
    ),
    max_size=24,
)


@settings(max_examples=600, deadline=None)
@given(LETTERS, st.sampled_from([None, "en", "tr", "az", "lt", "el", "de", "nl"]))
def test_capitals_of_capitals_are_the_same(text, language):
    """Applied twice nothing changes, and it is always NFC without a small letter left."""
    once = capitals(text, language)
    assert capitals(once, language) == once
    assert unicodedata.is_normalized("NFC", once)
    assert not any(char.islower() and char.upper() != char for char in once)


@settings(max_examples=300, deadline=None)
@given(LETTERS, st.sampled_from([None, "tr", "lt", "el"]))
def test_composed_and_decomposed_titles_have_the_same_capitals(text, language):
    forms = {
        capitals(unicodedata.normalize(form, unicodedata.normalize("NFC", text)), language)
        for form in ("NFC", "NFD")
    }
    assert len(forms) == 1


@pytest.mark.parametrize(
    ("text", "expected"),
    [("VOL. 2", True), ("Vol. 2", False), ("1870", False), ("港", False), ("ΦΑΡΟΣ", True)],
)
def test_what_is_in_capitals(text, expected):
    assert is_capitals(text) is expected
