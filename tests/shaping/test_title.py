"""A job's title in its font and case."""

from __future__ import annotations

import unicodedata

import pytest

from spinefit import catalogue
from spinefit.errors import FontError, FontNotFoundError, MissingCharacterError
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.shaping import shape_title
from spinefit.shaping.fontfile import open_font
from spinefit.vocabulary import BreakWords, Case

FONTS = [row.name for row in catalogue.font_rows()]


def shaped(title: str, *, language: str | None = None, market: str | None = None, **lettering):
    job = Job(
        title=title,
        spine=Spine(width_mm=20.0, height_mm=200.0),
        lettering=Lettering(**lettering),
        language=language,
        market=market,
    )
    return shape_title(resolve(job))


def texts(title) -> list[str]:
    run = title.run
    return [run.line_text(at, at) for at in range(len(run.pieces))]


def test_a_title_is_cut_at_spaces_hyphens_and_forced_breaks():
    title = shaped("Tide-Tables of / the Harbour, Vol. 2")
    assert texts(title) == ["Tide-", "Tables", "of", "the", "Harbour,", "Vol. 2"]
    assert [piece.forced_after for piece in title.run.pieces] == [
        False, False, True, False, False, False,
    ]  # fmt: skip
    assert title.lines == ("Tide-Tables of", "the Harbour, Vol. 2")
    assert title.text == "Tide-Tables of the Harbour, Vol. 2"


def test_capitals_are_those_of_the_titles_language():
    assert shaped("ışık izi", language="tr", case=Case.CAPITALS).text == "IŞIK İZİ"
    assert shaped("Straße", language="de", case=Case.CAPITALS).text == "STRASSE"
    assert shaped("Λιμάνι", case=Case.CAPITALS).lines == ("ΛΙΜΑΝΙ",)


def test_composed_and_decomposed_titles_are_one_title():
    """NFC and NFD have the same text and the same ink."""
    typed = "Möwe, été, Φάρος, й"
    one, other = (shaped(unicodedata.normalize(form, typed)) for form in ("NFC", "NFD"))
    assert one.text == other.text
    assert one.run.ink == other.run.ink


@pytest.mark.parametrize("font", FONTS)
def test_capitals_stand_higher_than_small_letters(font):
    """Heights are those of a flat capital and a flat small letter, in em."""
    title = shaped("Tides", font=font)
    face = open_font(font)
    assert title.cap_height_em == face.ink(face.shaper.nominal("H"))[3]
    assert title.x_height_em == face.ink(face.shaper.nominal("x"))[3]
    assert 0.55 < title.cap_height_em < 0.8
    if not font.startswith("Cinzel"):
        assert 0.35 < title.x_height_em < 0.85 * title.cap_height_em


def test_ascent_and_descent_are_the_inks():
    """Of the title's own letters: none below the line in HIE, some in Qgj."""
    assert shaped("HIE").descent_em == pytest.approx(0.0, abs=0.005)
    assert shaped("HIE").ascent_em == pytest.approx(shaped("HIE").cap_height_em, abs=0.005)
    assert shaped("Qgj").descent_em > 0.1
    assert shaped("É").ascent_em > shaped("E").ascent_em + 0.1


def test_small_capitals_are_real_ones():
    """Their height counts as the height that is read, and lines may stand as close as capitals'."""
    small = shaped("Tides", font="EB Garamond", case=Case.SMALL_CAPITALS)
    plain = shaped("Tides", font="EB Garamond")
    assert small.all_capitals
    assert not plain.all_capitals
    assert small.reading_height_em == small.x_height_em
    assert plain.reading_height_em == plain.cap_height_em
    assert small.x_height_em < small.cap_height_em
    curves = [{outline for outline, _x, _y in one.set_line("ides")[0]} for one in (small, plain)]
    assert not curves[0] & curves[1]


def test_small_capitals_are_refused_where_the_font_has_none():
    """EB Garamond has none for Cyrillic, Libre Baskerville none at all; none are faked."""
    with pytest.raises(FontError, match="no small capitals") as fault:
        shaped("Маяк", font="EB Garamond", case=Case.SMALL_CAPITALS)
    assert fault.value.where == "--case"
    assert "М" not in fault.value.what.split("for")[-1]
    assert "а" in fault.value.what
    with pytest.raises(FontError, match="no small capitals"):
        shaped("Tides", font="Libre Baskerville", case=Case.SMALL_CAPITALS)


@pytest.mark.parametrize("row", catalogue.font_rows(), ids=lambda row: row.name)
def test_the_catalogue_says_truly_which_fonts_have_small_capitals(row):
    if row.small_capitals:
        shaped("Tides", font=row.name, case=Case.SMALL_CAPITALS)
    else:
        with pytest.raises(FontError):
            shaped("Tides", font=row.name, case=Case.SMALL_CAPITALS)


def test_capitals_and_figures_need_no_small_capitals():
    """TIDES 2 has no small letter to replace."""
    assert shaped("TIDES 2", font="Libre Baskerville", case=Case.SMALL_CAPITALS).text == "TIDES 2"


def test_a_missing_character_is_an_error_with_a_way_out():
    with pytest.raises(MissingCharacterError) as fault:
        shaped("Маяк", font="Libre Baskerville")
    assert "U+041C CYRILLIC CAPITAL LETTER EM" in str(fault.value)
    assert "EB Garamond" in fault.value.remedy


def test_a_character_missing_only_in_capitals_is_found():
    """The test is on the letters as lettered."""
    lacking = [
        name
        for name in FONTS
        if open_font(name).shaper.nominal("ı") and not open_font(name).shaper.nominal("Ŵ")
    ]
    for name in lacking:
        with pytest.raises(MissingCharacterError):
            shaped("ŵ", font=name, case=Case.CAPITALS)


@pytest.mark.parametrize(
    "name", ["EB Garamond", "eb garamond", "EBGaramond", "EB Garamond Regular"]
)
def test_a_font_is_found_by_its_name(name):
    assert shaped("Tides", font=name).font.name == "EB Garamond"


@pytest.mark.parametrize("name", ["EB Garamont", "Nonesuch", "", " ", "no/such.ttf", "x.otf"])
def test_a_font_that_is_not_there_is_refused(name):
    with pytest.raises(FontNotFoundError) as fault:
        shaped("Tides", font=name)
    assert fault.value.where == "--font"


def test_the_nearest_name_is_offered():
    with pytest.raises(FontNotFoundError) as fault:
        shaped("Tides", font="EB Garamont")
    assert "EB Garamond" in fault.value.remedy


def test_all_capitals_is_seen_from_the_text():
    assert shaped("TIDES").all_capitals
    assert not shaped("Tides").all_capitals
    assert shaped("tides").mostly_small
    assert not shaped("TIdes 1870 A").mostly_small
    assert not shaped("TIDES").mostly_small


def test_letters_of_a_pillar_are_clusters_with_ink():
    letters = shaped("Mo\u0308 We").letters()
    assert [text for text, _box in letters] == ["M", "ö", " ", "W", "e"]
    assert [box is None for _text, box in letters] == [False, False, True, False, False]


def test_dutch_ij_is_one_letter_of_a_pillar():
    letters = shaped("IJmuiden", language="nl", case=Case.CAPITALS).letters()
    assert [text for text, _box in letters][:2] == ["IJ", "M"]


def test_words_are_broken_only_on_request():
    """Hyphens stand at the end of a line that breaks a word, and only there."""
    title = shaped("Lighthouse keeping", language="en")
    assert title.run_broken(BreakWords.NEVER) is title.run
    for mode, mark in ((BreakWords.PLAIN, ""), (BreakWords.HYPHEN, "-")):
        run = title.run_broken(mode)
        assert len(run.pieces) > len(title.run.pieces)
        for at, piece in enumerate(run.pieces):
            expected = title.text[piece.start : piece.end]
            ends_word = at + 1 == len(run.pieces) or not piece.in_word
            assert run.line_text(at, at) == expected + ("" if ends_word else mark)
        assert run.line_text(0, len(run.pieces) - 1) == title.text


def test_no_break_spaces_bind_words():
    assert texts(shaped("The\u00a0Harbour Light")) == ["The\u00a0Harbour", "Light"]


@pytest.mark.parametrize("font", FONTS)
def test_a_no_break_space_is_as_wide_as_a_space(font):
    widths = [
        (box[2] - box[0])
        for box in (shaped(text, font=font).run.ink for text in ("H H", "H\u00a0H"))
    ]
    assert widths[0] == pytest.approx(widths[1], abs=0.02)


def test_the_same_font_is_kept_open():
    assert open_font("EB Garamond") is open_font("eb garamond")
