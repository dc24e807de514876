"""What would be cut as a mistake is named with its code point and its place."""

from __future__ import annotations

import json
import re
import unicodedata

import pytest
from click.testing import CliRunner

from spinefit import check, check_row, draw
from spinefit.cli.main import main
from spinefit.errors import FieldError
from spinefit.job import Job, Lettering, Panel
from spinefit.job.title import read_again, title_lines
from spinefit.job.values import Part
from spinefit.judgement import book_findings, letter_findings
from spinefit.judgement.letter_findings import _straight_quotes
from spinefit.say.model import FindingReport, Report
from spinefit.say.terminal import render
from spinefit.vocabulary import Role

TOPICS = {"letter-of-another-script", "character-without-ink", "straight-quote", "two-spaces"}


def _report(title: str, **keys: object) -> Report:
    return check(Job(title=title, panel=Panel(width_mm=60, height_mm=60), **keys))  # type: ignore[arg-type]


def _found(title: str, **keys: object) -> list[FindingReport]:
    return [one for one in _report(title, **keys).findings if one.topic in TOPICS]


@pytest.mark.parametrize(
    ("title", "value", "limit", "words"),
    [
        ("The Hаrbour Light", "а", "a", "Letter 2 of Hаrbour is а (cyrillic small letter a)"),
        ("TIDE ΤABLES", "Τ", "T", "Letter 1 of ΤABLES is Τ (greek capital letter tau)"),
        ("Мaяк", "a", "а", "Letter 2 of Мaяк is a (latin small letter a)"),
        ("Λιμάvι", "v", "ν", "Letter 5 of Λιμάvι is v (latin small letter v)"),
        ("Wяeck", "я", None, "Letter 2 of Wяeck is я (cyrillic small letter ya)"),
        ("The СОРА Harbour", "С", "COPA", "Every letter of СОРА is of another script"),
    ],
)
def test_a_letter_of_another_script_is_named(title, value, limit, words):
    """Source: Unicode Technical Standard #39, confusables.txt."""
    (one,) = _found(title)
    assert (one.topic, one.level, one.value, one.limit) == (
        "letter-of-another-script",
        "warning",
        value,
        limit,
    )
    assert words in one.text


@pytest.mark.parametrize(
    "title",
    [
        "The Harbour Light",
        "Маяк у моря",
        "Λιμάνι / Harbour",
        "Маяк и Harbour",
        "L’Avenir & Ågot, Łódź",
        "Light 1848–1870",
        "“Quoted” Words",
    ],
)
def test_titles_well_spelt_raise_nothing(title):
    assert not _found(title)


def test_two_mistakes_are_two_findings():
    assert [one.value for one in _found("Hаrbоur")] == ["а", "о"]


@pytest.mark.parametrize(
    ("title", "code"),
    [
        ("Har\u00adbour", "an invisible character (soft hyphen)"),
        ("Har\u200bbour", "an invisible character (zero width space)"),
        ("Har\u200dbour", "an invisible character (zero width joiner)"),
        ("Harbour\u200e Light", "an invisible character (left-to-right mark)"),
        ("Har\u200fbour", "an invisible character (right-to-left mark)"),
        ("Har\u061cbour", "an invisible character (arabic letter mark)"),
        ("Har\ufeffbour", "an invisible character (zero width no-break space)"),
    ],
)
def test_what_leaves_no_ink_is_named(title, code):
    (one,) = _found(title)
    assert one.topic == "character-without-ink"
    assert one.level == "warning"
    assert f"stands {code}, which leaves no ink" in one.text


@pytest.mark.parametrize(
    ("title", "seen", "character"),
    [
        ("\u202eHarbour", "ruobraH", "U+202E right-to-left override"),
        ("The \u2067Harbour\u2069 (1)", "The Harbour (1)", "U+2067 right-to-left isolate"),
        ("\u202dTides\u202c", "Tides", "U+202D left-to-right override"),
        ("Tides\U000e0061", "Tides", "U+E0061 tag latin small letter a"),
        ("Vol. 12\u200f-14", "Vol. 1214-", "U+200F right-to-left mark"),
        ("Tides \u05d9\u05dd\u200f (1)", "Tides (1) \u05dd\u05d9", "U+200F right-to-left mark"),
    ],
)
def test_what_steers_the_letters_is_named_with_what_will_be_seen(title, seen, character):
    """Source: UAX #9; and it stands in the first lines, since other words are lettered."""
    report = _report(title)
    (one,) = [one for one in report.findings if one.topic == "order-of-letters"]
    assert (one.level, one.value) == ("warning", seen)
    assert character in one.text and f": {seen}." in one.text
    words = render(report)
    assert words.index("Unseen characters") < words.index("Recommended setting")


def test_what_is_seen_is_what_is_drawn():
    """Of each letter of the override, from left to right, by its ink."""
    (line,) = [line for line in _report("\u202eHarbour").layouts if line.reading == "across"]
    mirrored = _report("ruobraH").layouts[0]
    assert line.ink_width_mm == pytest.approx(mirrored.ink_width_mm, rel=1e-6)


@pytest.mark.parametrize("title", ["Harbour \ufffd", "Harb\ufffd\ufffdur"])
def test_a_lost_character_is_told(title):
    (one,) = [one for one in _report(title).findings if one.topic == "character-lost"]
    assert one.level == "warning" and "U+FFFD" in one.text


@pytest.mark.parametrize(
    ("title", "meant"),
    [
        ("Café Noir", "Café"), ("Über", "Über"), ("KÜSTE", "KÜSTE"), ("It’s", "It’s"),
        ("Österreich", "Österreich"), ("“Tides”", "“Tides”"), ("Маяк", "Маяк"), ("œuvre", "œuvre"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("times", [1, 2])
def test_text_read_in_a_wrong_encoding_is_told_with_what_was_meant(title, meant, times):
    word = title.split()[0]
    for _ in range(times):
        try:
            word = word.encode().decode("cp1252")
        except UnicodeDecodeError:
            return  # a byte that windows-1252 has nothing for
    assert read_again(word) == meant


def test_a_control_that_a_wrong_encoding_left_is_refused_with_what_was_meant():
    """A closing quotation mark has a byte for which windows-1252 has no letter."""
    with pytest.raises(FieldError, match="looks like “Tides”, read in a wrong encoding"):
        title_lines("â€œTidesâ€\x9d Noir", slash_breaks=True)


@pytest.mark.parametrize("title", ["\u202eHarbour", "Harbour \ufffd", "CafÃ© Noir"])
def test_a_row_of_a_table_is_warned_of_as_a_title_is(title):
    row = check_row({"title": title, "panel": "60x60"})
    (alone,) = [one.text for one in _report(title).findings if one.level == "warning"]
    assert alone in row["mind"]


def test_text_read_wrongly_is_a_warning():
    (one,) = [one for one in _report("CafÃ© Noir").findings if one.topic == "encoded-twice"]
    assert (one.level, one.value, one.limit) == ("warning", "CafÃ©", "Café")


@pytest.mark.parametrize(
    "word",
    [
        "CAFÉ’S",
        "IRMÃ’",
        "MANHÔ",
        "TROPÉ–",
        "Ñandú",
        "façade",
        "«ÉTÉ»",
        "Spaß”",
        "Île",
        "Þórr",
        "Æble",
    ],
)
def test_words_with_accents_are_not_taken_for_it(word):
    assert read_again(word) == ""


@pytest.mark.parametrize(
    ("title", "char", "meant"), [("Keeper's Log", "'", "’"), ('The "Tern" Log', '"', "“ ”")]
)
def test_straight_quotes_are_named(title, char, meant):
    found = _found(title)
    assert {(one.topic, one.value, one.limit) for one in found} == {("straight-quote", char, meant)}


@pytest.mark.parametrize(
    ("title", "meant"),
    [
        ('"אור"', ["” ”"]),  # quotation marks about a word, told once
        ('"אור הים", ספר', ["” ”"]),
        ('צה"ל', ["״"]),  # an abbreviation
        ('"צה"ל"', ["” ”", "״"]),
        ('ספר "הים" ו"הארץ" של רש"י', ["” ”", "” ”", "״"]),  # a small word before the mark
        ('וה"ארץ" של רש"י', ["” ”", "״"]),
        ("'אור'", ["’ ’"]),
        ("גב' לוי", ["׳"]),
        ('"Tern" and "Gull"', ["“ ”", "“ ”"]),
    ],
)
def test_quotation_marks_are_told_from_gershayim(title, meant):
    """Source: CLDR, Hebrew quotation marks; gershayim stand before the last letter of a word."""
    assert [one.limit for one in _straight_quotes(title)] == meant


def test_a_straight_quote_after_a_figure_may_be_a_prime():
    (one,) = _found("The 9' Gauge")
    assert "′ or ″" in one.text


def test_several_spaces_are_closed_up_and_said_so():
    report = _report("The  Harbour")
    assert report.title == "The Harbour"
    assert any(words.startswith("spaces: one") for words in report.assumed)
    (one,) = _found("The\u00a0\u00a0Harbour")
    assert (one.topic, one.value) == ("two-spaces", "U+00A0 U+00A0")


@pytest.mark.parametrize(
    "title", ["Éphémérides", "Ώρα και Άγκυρα", "ЙОД И ЁЛКА", "Việt Nam", "fj́ord"]
)
def test_composed_and_decomposed_titles_are_one(title):
    """Source: The Unicode Standard, canonical equivalence; every figure of the report."""
    composed, decomposed = (unicodedata.normalize(form, title) for form in ("NFC", "NFD"))
    font = Lettering(font="Source Serif 4")
    assert _report(composed, lettering=font) == _report(decomposed, lettering=font)


def test_of_a_label_every_text_is_shown_as_it_will_be_seen():
    """They stand in lines of their own: what steers the author leaves title and date alone."""
    texts = (
        (Role.AUTHOR, "E. \u202eQuill"),
        (Role.TITLE, "Tides"),
        (Role.DATE, "18\u206689\u2069"),
    )
    parts = tuple(Part(role=role, text=text) for role, text in texts)
    report = check(Job(parts=parts, panel=Panel(width_mm=40, height_mm=60), method="paper-label"))
    told = [one.value for one in report.findings if one.topic == "order-of-letters"]
    assert told == ["E. lliuQ", "1889"]


@pytest.mark.parametrize(
    ("title", "said"),
    [("Caf\u00c3\u00a9 Noir", "Caf\u00e9"), ("Sh\ufffdips", "U+FFFD"), ("Tid\u0435s", "cyrillic")],
)
def test_letters_that_were_not_meant_are_told_on_what_is_cut(title, said, tmp_path):
    out = tmp_path / "labels.pdf"
    words = ["sheet", title, "--panel", "40x40mm", "--output", str(out)]
    done = CliRunner().invoke(main, [*words, "--format", "json"])
    assert done.exit_code == 0, done.stderr
    assert any(said in warning for warning in json.loads(done.stdout)["warnings"])
    drawn = draw(check(Job(title=title, panel=Panel(width_mm=40, height_mm=40))), "svg")
    assert said.lower() in " ".join(re.findall(r">([^<]+)<", drawn)).lower()


def test_the_short_way_for_plain_titles_misses_nothing():
    """Every character that is let through unseen raises no finding among its like either."""
    plain = [char for char in map(chr, range(0x20, 0x3000)) if book_findings._PLAIN.fullmatch(char)]
    assert len(plain) > 450
    from spinefit.job.resolve import resolve

    job = resolve(Job(title="x", panel=Panel(width_mm=9, height_mm=9)))
    unspaced = "".join(char for char in plain if char != " ")
    assert not [*letter_findings.spelling_findings(job, unspaced, [unspaced])]
