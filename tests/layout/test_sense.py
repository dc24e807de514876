"""What is wrong with a line of a title, and what shape its lines make."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import spinefit
from spinefit.catalogue import rules, title_words
from spinefit.layout.sense import (
    begin_phrases,
    is_good_shape,
    line_faults,
    line_penalty,
    sense_of,
    shape_name,
    shape_of,
    whole_word_penalties,
)
from spinefit.vocabulary import SmallWords


def sense(language="en", small_words=SmallWords.JOINED):
    return sense_of(title_words(language), rules(), small_words)


BROKEN_WORD, LINE_ALONE, STRANDED = sense()[2:5]
EQUAL = rules().value("lines.equal_share")
DATA = Path(spinefit.__file__).parent / "data"


def penalty(text: str, *, is_last: bool = False, in_word: bool = False, language: str = "en"):
    return line_penalty(text, is_last=is_last, in_word=in_word, words=sense(language))


def test_a_line_of_catch_words_alone_is_penalised_in_any_place():
    """Pleger: OF THE joins a neighbour."""
    assert penalty("OF THE") == penalty("of the", is_last=True) == LINE_ALONE
    assert penalty("the") == LINE_ALONE
    assert penalty("OF THE PORT") == 0


def test_a_stranded_article_costs_more_than_a_hanging_preposition():
    assert penalty("Light of the") == STRANDED
    assert 0 < penalty("Light of") < STRANDED
    assert penalty("Light of the", is_last=True) == 0
    assert penalty("Light of") > penalty("The Light") == 0


def test_a_broken_word_is_worse_than_any_two_other_faults():
    assert penalty("CORIO-", in_word=True) == BROKEN_WORD
    assert BROKEN_WORD > LINE_ALONE + STRANDED
    assert penalty("LANUS", in_word=True, is_last=True) == 0


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("Le phare de la", "fr"),
        ("Das Licht der", "de"),
        ("Il faro del", "it"),
        ("El faro de la", "es"),
    ],
)
def test_each_language_has_its_articles(text, language):
    assert penalty(text, language=language) >= STRANDED
    assert penalty(text.upper(), language=language) >= STRANDED


@pytest.mark.parametrize("text", ["Ο φάρος της", "Ο ΦΑΡΟΣ ΤΗΣ", "φάρος στους", "ὁ λιμὴν τῆς"])
def test_greek_articles_are_known_with_either_sigma(text):
    """Της ends in a final sigma, which folds to the other one."""
    assert penalty(text, language="el") >= STRANDED


@pytest.mark.parametrize(
    "language",
    sorted(
        key
        for key in tomllib.loads((DATA / "catchwords.toml").read_text(encoding="utf-8"))
        if key != "rules"
    ),
)
def test_every_small_word_of_the_lists_is_recognised(language):
    """As it stands and in capitals, though it be written with a point, an accent or an ς."""
    words = sense(language)
    table = tomllib.loads((DATA / "catchwords.toml").read_text(encoding="utf-8"))[language]
    for word in table["catch_words"]:
        assert line_penalty(word, is_last=True, in_word=False, words=words) == LINE_ALONE
    for word in table["articles"]:
        assert line_penalty(f"Xyz {word}", is_last=False, in_word=False, words=words) >= STRANDED


def test_points_after_a_small_word_are_no_part_of_it():
    assert penalty("And,") == LINE_ALONE


@pytest.mark.parametrize("text", ["Letters of J.", "LETTERS OF J.", "Capt. J.-P.", "by J.R.", "É."])
def test_an_initial_had_better_not_be_left_by_its_name(text):
    """As little as a preposition: it is no fault that makes another setting smaller."""
    assert penalty(text) == penalty("Light of")
    assert whole_word_penalties([text, "Hale"], [False, True], sense())(0, 1) == [penalty(text), 0]
    assert penalty(text, is_last=True) == 0


@pytest.mark.parametrize("text", ["Book V.", "Capt.", "Vol. 2.", "Tides etc.", "Quay j.", "Plan B"])
def test_what_only_looks_like_an_initial_may_end_a_line(text):
    assert penalty(text) == 0


def test_faults_are_named_line_by_line():
    words = title_words("en")
    lines = ("Light", "of the", "Har-", "bour and the", "Sea")
    broken = (False, False, True, False, False)
    assert line_faults(lines, words, broken=broken, small_words=SmallWords.JOINED) == (
        "alone: of the",
        "broken: Har-",
        "stranded: the",
    )
    assert line_faults(("Of the",), words, broken=(False,), small_words=SmallWords.JOINED) == ()
    assert line_faults(
        ("Of", "the"), words, broken=(False, False), small_words=SmallWords.JOINED
    ) == ("alone: Of", "alone: the")


def test_the_binder_may_let_small_words_stand_alone():
    """Adam, rule 2, against Pleger: no fault then, but an article is still not stranded."""
    alone = sense(small_words=SmallWords.ALONE)
    for line in ("OF THE", "the"):
        assert line_penalty(line, is_last=False, in_word=False, words=alone) == 0
    assert line_penalty("Light of the", is_last=False, in_word=False, words=alone) == STRANDED
    faults = line_faults(
        ("Light", "of the", "Quay"),
        title_words("en"),
        broken=(False,) * 3,
        small_words=SmallWords.ALONE,
    )
    assert faults == ("chosen: of the",)


@pytest.mark.parametrize("choice", list(SmallWords))
def test_the_fast_way_weighs_as_the_plain_one(choice):
    """Every line of a title, either way."""
    words, pieces = sense(small_words=choice), ["The", "Light", "of", "the", "Port"]
    fast = whole_word_penalties(pieces, [False] * 4 + [True], words)
    assert fast is not None
    for first in range(5):
        for last in range(first, 5):
            plain = [
                line_penalty(
                    " ".join(pieces[first : to + 1]), is_last=to == 4, in_word=False, words=words
                )
                for to in range(first, last + 1)
            ]
            assert fast(first, last) == plain


def test_small_words_begin_phrases():
    """The first word of a piece counts; a title without any has none."""
    pieces = ["Tide", "Tables", "of", "The", "North", "and\u00a0South", "\u2014"]
    assert begin_phrases(pieces, sense("en")) == (False, False, True, True, False, True, False)
    assert begin_phrases(["Tide", "Tables"], sense("en")) == ()


@pytest.mark.parametrize(
    ("widths", "name"),
    [
        ([5], "one line"),
        ([5, 5], "squared"),
        ([5, 5, 5], "squared"),
        ([100, 97], "squared"),
        ([100, 95], "half-diamond"),
        ([9, 6, 3], "half-diamond"),
        ([9, 6], "half-diamond"),
        ([3, 9], "long and short"),
        ([4, 9, 4], "lozenge"),
        ([4, 6, 9, 6, 4], "lozenge"),
        ([4, 9, 9, 4], "lozenge"),
        ([9, 4, 9], "long and short"),
        ([4, 9, 4, 9], "long and short"),
        ([9, 4, 9, 4], "long and short"),
        ([3, 6, 9], "irregular"),
        ([9, 9, 4], "irregular"),
        ([4, 9, 4, 4, 9], "irregular"),
        ([9, 4, 4, 9], "irregular"),
    ],
)
def test_shapes_have_the_trades_names(widths, name):
    assert shape_name(widths, EQUAL) == name
    assert is_good_shape(name) is (name != "irregular")


@pytest.mark.parametrize(
    ("widths", "lines", "name"),
    [
        ([9.5, 4, 9], ["Winds", "and", "Waves"], "squared"),
        ([9, 4, 9, 4, 9], ["Winds", "and", "Waves", "of the", "World"], "squared"),
        ([9, 4, 9], ["Winds", "over", "Waves"], "long and short"),
        ([9.5, 9], ["Winds", "Waves"], "half-diamond"),
        ([4, 9, 4], ["The", "Lighthouse", "Log"], "lozenge"),
        ([9, 4, 6], ["Winds", "and", "Sea"], "long and short"),
    ],
)
def test_equal_halves_joined_by_a_small_word_are_squared(widths, lines, name):
    """Common practice, no source; what looks equal on both sides of a line is our choice."""
    assert shape_of(widths, lambda: lines, sense()) == name


@given(st.lists(st.floats(0.1, 50), min_size=1, max_size=8), st.floats(0.01, 100))
def test_a_shape_does_not_depend_on_the_size(widths, scale):
    """Powers of two scale without rounding."""
    scale = 2.0 ** round(scale % 8)
    assert shape_name([width * scale for width in widths], EQUAL) == shape_name(widths, EQUAL)
