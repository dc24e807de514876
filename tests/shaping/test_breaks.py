"""Where a title may break, and what stays together."""

from __future__ import annotations

import itertools
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icu4py.breakers import LineBreaker

from spinefit.shaping.breaks import clusters, dividing_points, line_breaks


def pieces(text: str, language: str | None = "en") -> list[str]:
    """A title cut at every break, spaces at the ends taken off."""
    starts = (0, *line_breaks(text, language))
    return [
        text[start:end].rstrip(" ")
        for start, end in zip(starts, (*starts[1:], len(text)), strict=True)
    ]


@pytest.mark.parametrize(
    ("text", "language", "expected"),
    [
        ("The Harbour Light", "en", ["The", "Harbour", "Light"]),
        ("Tide-Tables", "en", ["Tide-", "Tables"]),
        ("Tides, Vol. 2", "en", ["Tides,", "Vol. 2"]),
        ("Tides, Vol. II", "en", ["Tides,", "Vol. II"]),
        ("TIDES VOL. 2", "en", ["TIDES", "VOL. 2"]),
        ("Tides No. 12 of 1870", "en", ["Tides", "No. 12", "of", "1870"]),
        ("Gezeiten, 2. Band", "de", ["Gezeiten,", "2. Band"]),
        ("Gezeiten, Bd. 2", "de", ["Gezeiten,", "Bd. 2"]),
        ("Marées, tome 3", "fr", ["Marées,", "tome 3"]),
        ("Getijden, dl. 4", "nl", ["Getijden,", "dl. 4"]),
        ("Gezeiten, Bd. 2", None, ["Gezeiten,", "Bd. 2"]),
        ("Seven 2 Light", "en", ["Seven", "2", "Light"]),
        ("Lights 1848–1870", "en", ["Lights", "1848–1870"]),
        ("Lights 1848 – 1870", "en", ["Lights", "1848 – 1870"]),
        ("Lights 1848—70", "en", ["Lights", "1848—70"]),
        ("Lights 1848-1870", "en", ["Lights", "1848-1870"]),
        ("Light\u00a0House", "en", ["Light\u00a0House"]),
        ("Light\u202fHouse", "en", ["Light\u202fHouse"]),
        ("Vol.\u00a02 Tides", "en", ["Vol.\u00a02", "Tides"]),
        ("Light\u2060house", "en", ["Light\u2060house"]),
        ("Pilot’s Book", "en", ["Pilot’s", "Book"]),
        ("l’île d’or", "fr", ["l’île", "d’or"]),
        ("Ropes & Knots", "en", ["Ropes", "&", "Knots"]),
        ("12,5 Knots", "en", ["12,5", "Knots"]),
        ("(The) Tides", "en", ["(The)", "Tides"]),
    ],
)
def test_pieces_of_titles(text, language, expected):
    """A number stays with its word, a range with its dash, what a no-break space binds together."""
    assert pieces(text, language) == expected


@pytest.mark.parametrize("text", ["Λιμάνι, τόμος 2", "ΛΙΜΑΝΙ, ΤΟΜΟΣ 2", "Λιμάνι, μέρος 2"])
def test_a_greek_number_stays_with_its_word(text):
    """Whichever sigma the word ends in, in capitals or not."""
    assert len(pieces(text, "el")) == 2


def test_a_soft_hyphen_is_no_leave_to_break_a_word():
    """Words are broken only where the binder allows it, and never without the mark."""
    assert pieces("Light\u00adhouse keeping") == ["Light\u00adhouse", "keeping"]


def test_a_word_is_never_broken():
    """But for a written hyphen, every break follows a space in Latin, Greek and Cyrillic."""
    for text in ("Lighthouse keeping", "Φάρος στο λιμάνι", "Маяк в гавани", "Éclaireur d’été"):
        assert all(text[at - 1] == " " for at in line_breaks(text, None))


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Light –house", ["Light", "–house"]),
        ("–Light, -House", ["–Light,", "-House"]),
        ("עם -ישראל", ["עם", "-ישראל"]),
        ("Lights – and Roads", ["Lights", "–", "and", "Roads"]),
        ("Light—house", ["Light", "—", "house"]),
        ("Harbour Lights #3", ["Harbour", "Lights", "#3"]),
        ("Lights (2nd ed.) [repr.]", ["Lights", "(2nd", "ed.)", "[repr.]"]),
        ("Roads/Quays", ["Roads/", "Quays"]),
        ("Lights: “Roads” and «Quays»", ["Lights:", "“Roads”", "and", "«Quays»"]),
    ],
)
def test_a_mark_stays_with_what_it_belongs_to(text, parts):
    """A dash that begins a word is not left behind; a bracket or quote keeps to its words."""
    assert pieces(text) == parts


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("灯台 ちょっと", ["灯", "台", "ちょっ", "と"]),
        ("コーヒー", ["コー", "ヒー"]),
    ],
)
@pytest.mark.parametrize("language", [None, "en", "ja", "ko"])
def test_no_line_begins_with_a_small_kana_or_a_long_mark(text, parts, language):
    """Nor does it matter which language a title is said to be in."""
    assert pieces(text, language) == parts


def test_characters_beyond_the_first_plane_count_as_one():
    """Places are those of Python's strings, not of UTF-16."""
    assert pieces("😀😀 𐐀𐐁 Light") == ["😀", "😀", "𐐀𐐁", "Light"]
    assert clusters("a😀👍🏽𐐀") == ("a", "😀", "👍🏽", "𐐀")


def test_a_mark_after_a_space_is_not_parted_from_it():
    """UAX #14 would break there, inside one cluster."""
    assert line_breaks("a \u0300b c", None) == (5,)


@settings(max_examples=300, deadline=None)
@given(
    st.lists(
        st.sampled_from(["The", "tide-tables", "Vol.", "2", "1848–1870", "&", "L’Île", "Nº", "IV"]),
        min_size=1,
        max_size=8,
    ).map(" ".join),
    st.sampled_from([None, "en", "de", "fr"]),
)
def test_breaks_only_ever_leave_some_of_the_librarys(text, language):
    """The trade refuses breaks; it adds none."""
    library = set(itertools.accumulate(map(len, LineBreaker(text, "und"))))
    assert set(line_breaks(text, language)) <= library - {len(text)}


@pytest.mark.parametrize(
    ("text", "language", "expected"),
    [
        ("IJzer", "nl", ("IJ", "z", "e", "r")),
        ("ijs", "nl-BE", ("ij", "s")),
        ("ijs", "en", ("i", "j", "s")),
        ("iJs", "nl", ("i", "J", "s")),
        ("bijzijn", "nl", ("b", "ij", "z", "ij", "n")),
        ("Mo\u0308we", "de", ("M", "o\u0308", "w", "e")),
        ("a\u0323\u0302b", None, ("a\u0323\u0302", "b")),
        ("港の灯", "ja", ("港", "の", "灯")),
        ("กำ", "th", ("กำ",)),
        ("ភ្លើង", "km", ("ភ្លើ", "ង")),
        ("ក្រ", "km", ("ក្រ",)),
        ("মক্ষ", "bn", ("ম", "ক্ষ")),
        ("A B", None, ("A", " ", "B")),
        ("👩\u200d🚀", None, ("👩\u200d🚀",)),
    ],
)
def test_grapheme_clusters(text, language, expected):
    assert clusters(text, language) == expected


@settings(max_examples=200, deadline=None)
@given(st.text(min_size=0, max_size=20), st.sampled_from([None, "nl", "en"]))
def test_clusters_lose_nothing(text, language):
    assert "".join(clusters(text, language)) == text


@pytest.mark.parametrize(
    ("word", "language", "parts"),
    [
        ("harbour", "en-GB", ["har", "bour"]),
        ("Leuchtturm", "de", ["Leucht", "turm"]),
        ("(Leuchtturm),", "de", ["(Leucht", "turm),"]),
    ],
)
def test_words_are_divided_by_their_languages_patterns(word, language, parts):
    points = dividing_points(word, language)
    starts = (0, *points)
    assert [word[a:b] for a, b in zip(starts, (*points, len(word)), strict=True)] == parts


def test_a_word_that_the_patterns_do_not_divide_stays_whole():
    """Nor is a word divided in a language of which no patterns are known."""
    assert dividing_points("Tides", "en") == ()
    assert dividing_points("Tides", None) == ()
    assert dividing_points("CORIOLANUS", "xx") == ()
    assert dividing_points("", "en") == ()


def test_a_title_of_unknown_language_is_divided_by_english_patterns():
    assert dividing_points("CORIOLANUS", None) == dividing_points("CORIOLANUS", "en") != ()


@settings(max_examples=300, deadline=None)
@given(
    st.text(alphabet="abéo\u0308ßİﬁж.,;:()’-", max_size=12),
    st.sampled_from([None, "en", "de", "fr", "xx"]),
)
def test_dividing_points_leave_two_characters_and_never_part_a_mark(word, language):
    points = dividing_points(word, language)
    inner = word.strip("\"'’.,;:()-")
    start = word.find(inner)
    assert list(points) == sorted(set(points))
    for at in points:
        assert start + 2 <= at <= start + len(inner) - 2
        assert not unicodedata.combining(word[at])


@pytest.mark.parametrize(
    ("text", "breaks"),
    [
        ("ประภาคารท่าเรือ", (8,)),
        ("ປະພາຄານ", ()),
        ("ប៉មភ្លើង", (3,)),
        ("မီးပြတိုက်", ()),
        ("ประภาคาร ท่าเรือ", (9,)),
        ("የወደብ መብራት", (5,)),
        ("የወደብ፡መብራት", (5,)),
        ("ნავსადგურის შუქი", (12,)),
        ("बंदरगाह का प्रकाश", (8, 11)),
        ("港口的灯", (1, 2, 3)),
    ],
)
def test_breaks_in_many_scripts(text, breaks):
    """Source: UAX #14; the Ethiopic word space lets a line break after it. Khmer: tower, light."""
    assert line_breaks(text, None) == breaks


@pytest.mark.parametrize(("word", "language"), [("दीपस्तंभावरील", "mr"), ("దీపస్తంభము", "te")])
def test_no_word_is_divided_inside_a_cluster(word, language):
    """Source: UAX #29; a vowel sign stays with its consonant."""
    ends = set(itertools.accumulate(map(len, clusters(word))))
    points = dividing_points(word, language)
    assert points
    assert set(points) <= ends


def test_thai_is_not_divided_by_patterns():
    """Its lines end between words, and no mark says that a word goes on."""
    assert dividing_points("ประภาคารท่าเรือ", "th") == ()
