"""The trade's tables: rows that are whole, and look-ups that say what is meant."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

import spinefit
from spinefit import catalogue
from spinefit.catalogue import Rules
from spinefit.catalogue import words as words_module
from spinefit.catalogue.tables import sourced
from spinefit.catalogue.trade import sheet_rules
from spinefit.errors import CatalogueError, FieldError
from spinefit.job.fields import FIELDS
from spinefit.job.sheet import SHEET_FIELDS
from spinefit.vocabulary import Firmness, Reading, Sourced, Status

DATA = Path(spinefit.__file__).parent / "data"
UNITS = {"mm", "pt", "em", "deg", "arcmin", "", "cap heights", "letters", "days"}


def tables(name: str) -> dict:
    return tomllib.loads((DATA / name).read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("group", "name"),
    [(group, name) for group, rows in tables("rules.toml").items() for name in rows],
)
def test_every_rule_has_value_unit_source_and_status(group, name):
    """In the file, and as it is loaded."""
    row = tables("rules.toml")[group][name]
    assert set(row) >= {"value", "unit", "source", "status"}
    assert row["unit"] in UNITS
    assert row["status"] in set(Status)
    assert len(row["source"]) > 5
    loaded = catalogue.rules()[f"{group}.{name}"]
    assert (loaded.value, loaded.unit, loaded.source, loaded.status) == (
        row["value"],
        row["unit"],
        row["source"],
        row["status"],
    )


def test_practice_and_published_are_told_apart_by_their_sources():
    """Common practice names no publication; what is published names one."""
    for row in catalogue.rules().values():
        if row.status is Status.PUBLISHED:
            assert "common practice" not in row.source
        if "common practice" in row.source:
            assert row.status in (Status.PRACTICE, Status.MEMORY)


def test_our_own_choices_say_so_and_name_real_options():
    """What nobody but us stands behind is no custom; an option that adjusts it exists."""
    rows = [*catalogue.rules().values(), *sheet_rules().values()]
    for method in catalogue.methods().values():
        rows += [row for row in method if isinstance(row, Sourced)]
    chosen = [row for row in rows if row.status is Status.CHOSEN]
    assert len(chosen) > 30
    options = {field.name for field in (*FIELDS, *SHEET_FIELDS)}
    for row in chosen:
        assert "common practice" not in row.source
        assert set(re.findall(r"--([a-z-]+)", row.source)) <= options, row
    assert not [row for row in rows if "our choice" in row.source and row not in chosen]


def test_a_rule_without_its_provenance_is_refused():
    good = {"value": 1, "unit": "mm", "source": "a book", "status": "published"}
    assert sourced(good, "here") == Sourced(1.0, "mm", "a book", Status.PUBLISHED)
    for key in good:
        with pytest.raises(CatalogueError, match="here"):
            sourced({k: v for k, v in good.items() if k != key}, "here")
    for bad in ({"status": "hearsay"}, {"source": ""}, {"value": "two"}):
        with pytest.raises(CatalogueError):
            sourced(good | bad, "here")
    with pytest.raises(CatalogueError):
        sourced(None, "here")


def test_rules_can_be_adjusted_in_a_copy():
    """The copy says so, and the original is as it was."""
    rules = catalogue.rules()
    changed = rules.replaced(across__most_lines=3.0)
    assert changed.value("across.most_lines") == 3.0
    assert changed["across.most_lines"].source == "set by hand"
    assert rules.value("across.most_lines") == 4
    assert len(changed) == len(rules)
    assert isinstance(changed, Rules)
    with pytest.raises(KeyError):
        rules.replaced(no__such=1.0)


@pytest.mark.parametrize("code", sorted(tables("markets.toml")))
def test_every_market_is_whole(code):
    """A code of ISO 3166, a source, a status, a way of reading along."""
    row = catalogue.markets()["" if code == "international" else code]
    assert code == "international" or code in catalogue.iso_3166_codes()
    assert row.reading in (Reading.DESCENDING, Reading.ASCENDING, Reading.UPRIGHT)
    assert row.firmness in Firmness
    assert row.status in Status
    assert row.source
    assert row.name
    assert row.code or not row.languages


@pytest.mark.parametrize("code", [None, *sorted(tables("markets.toml"))])
def test_one_market_is_read_as_all_are(code):
    """The short way to a single row gives the row of the whole table."""
    if code == "international":
        with pytest.raises(FieldError):
            catalogue.market(code)
        return
    row, known = catalogue.market(code)
    assert known
    assert row == catalogue.markets()[code or ""]
    if code:
        assert catalogue.market(f" {code.lower()} ") == (row, True)
        for titles in catalogue.titles_of(code):
            (language,) = titles.languages
            assert catalogue.market(code, f"{language}-Latn") == (titles, True)


def test_the_rows_for_titles_of_one_language_are_whole():
    """They stand only where something sets them apart, and each is said of one language."""
    apart = set()
    for row in catalogue.markets().values():
        titles = catalogue.titles_of(row.code)
        for one in titles:
            assert (one.code, len(one.languages), bool(one.source)) == (row.code, 1, True)
            assert one.name.startswith(f"{row.name} (")
        if titles:
            apart.add(row.code)
            ways = {(one.reading, one.firmness, one.binding_side) for one in (row, *titles)}
            assert len(ways) > 1 or row.code == "PK"  # there the script alone turns the book
    assert apart >= {"BE", "CA", "CH", "LB"}


def test_what_is_only_recalled_is_mixed():
    """Usual, or firm, needs a source."""
    rows = catalogue.markets().values()
    rows = [*rows, *(one for row in rows for one in catalogue.titles_of(row.code))]
    recalled = [row for row in rows if row.status is Status.MEMORY]
    assert len(recalled) > 40
    assert {row.firmness for row in recalled} == {Firmness.MIXED}


def test_a_country_is_known_by_its_name():
    """Whatever its case, with a row of ours or without."""
    for code, name in catalogue.iso_3166_codes().items():
        assert catalogue.country(code.lower()) == catalogue.country(f" {name.upper()} ") == code
    assert catalogue.market("germany") == (catalogue.markets()["DE"], True)
    assert catalogue.market("Germany", "de") == catalogue.market("DE", "de")
    assert [*map(catalogue.country, ("Deutschland", "ÖSTERREICH", "England"))] == ["DE", "AT", "GB"]


def test_a_name_of_a_country_means_no_other():
    """Nor is it the code of one, nor hardly like the name of another that is offered."""
    also = [name for row in tables("markets.toml").values() for name in row.get("also", ())]
    names = {*catalogue.iso_3166_codes(), *catalogue.iso_3166_codes().values()}
    assert len({*also}) == len(also) and names.isdisjoint(also)
    for typed, hint in (("Osterreich", "Österreich is AT"), ("Duitsland", "give two letters")):
        with pytest.raises(FieldError, match=hint):
            catalogue.country(typed)


@pytest.mark.parametrize("typed", ["", " ", "Germanny", "international", "CA.fr", "UK"])
def test_what_is_no_country_is_refused(typed):
    with pytest.raises(FieldError, match="no ISO 3166 country code"):
        catalogue.market(typed)


def test_there_are_249_countries():
    codes = catalogue.iso_3166_codes()
    assert len(codes) == 249
    assert all(len(code) == 2 and code.isupper() and name for code, name in codes.items())


def folded(words) -> set[str]:
    """Words as they are compared: without case, accents and the second sigma."""
    return {words_module.folded(word) for word in words}


LANGUAGES = sorted(key for key in tables("catchwords.toml") if key != "rules")


@pytest.mark.parametrize("language", LANGUAGES)
def test_small_words_are_lower_case_and_articles_among_them(language):
    words = catalogue.title_words(language)
    table = tables("catchwords.toml")[language]
    assert folded(words.articles) == folded(table["articles"])
    assert folded(words.catch_words) == folded(table["catch_words"])
    assert words.articles <= words.catch_words
    assert folded(words.catch_words) == words.catch_words


def test_a_language_without_a_list_has_the_english_one():
    english = catalogue.title_words("en")
    for tag in (None, "xx", "rules", "", "en-GB", "EN"):
        assert catalogue.title_words(tag) == english


@pytest.mark.parametrize(
    "language", sorted(key for key in tables("abbreviations.toml") if key != "rules")
)
def test_number_words_are_those_of_the_language_and_english(language):
    own = catalogue.number_words(language)
    english = tables("abbreviations.toml")["en"]
    table = tables("abbreviations.toml")[language]
    for key in ("before_number", "after_number"):
        expected = folded(table.get(key, ())) | folded(english.get(key, ()))
        assert folded(getattr(own, key)) == expected
        assert all(word == word.strip(".") for word in getattr(own, key))


def test_where_no_language_is_known_all_number_words_count():
    every = catalogue.number_words(None)
    for table in tables("abbreviations.toml").values():
        assert folded(table.get("before_number", ())) <= folded(every.before_number)
    assert catalogue.number_words("xx") == every


@pytest.mark.parametrize(
    "language", sorted(key for key in tables("shortenings.toml") if key != "rules")
)
def test_shortenings_are_shorter_and_say_where_they_come_from(language):
    table = tables("shortenings.toml")[language]
    assert folded(table) == set(table)
    for word, row in catalogue.shortenings(language).items():
        assert len(row.short) < len(word)
        assert row.source
        assert row.status in Status
        assert table[word]["short"] == row.short


def test_english_words_are_shortened_where_no_language_is_known():
    assert catalogue.shortenings(None) == catalogue.shortenings("en-GB")
    assert catalogue.shortenings("xx") == {}


@pytest.mark.parametrize("row", catalogue.font_rows(), ids=lambda row: row.name)
def test_every_bundled_font_is_there_with_its_licence(row):
    path = catalogue.fonts_folder() / row.file
    assert path.is_file()
    assert (path.parent / "OFL.txt").is_file()
    assert row.licence == "OFL-1.1"
    assert row.copyright
    assert row.origin


@pytest.mark.parametrize("row", catalogue.font_rows(), ids=lambda row: row.name)
def test_every_bundled_font_has_the_scripts_it_says(row):
    from spinefit.shaping.fontfile import open_font

    letters = {"Latn": "AZazéßøł", "Grek": "ΑΩαωάϊ", "Cyrl": "АЯаяйЖ"}
    covered = open_font(row.name).shaper.covered()
    for script, sample in letters.items():
        assert (script in row.scripts) == all(ord(char) in covered for char in sample)


def test_font_names_are_told_apart():
    names = ["".join(row.name.casefold().split()) for row in catalogue.font_rows()]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("de-DE", "that is a language; its country is DE"),
        ("en_gb", "that is a language; its country is GB"),
        ("EU", "give two letters"),
        ("xx-XX", "give two letters"),
        ("Germny", "Germany is DE"),
        ("uk", "the United Kingdom is GB"),
    ],
)
def test_what_is_no_country_code_is_helped_on(typed, hint):
    """By what was meant, never by what two letters happen to be like."""
    with pytest.raises(FieldError) as caught:
        catalogue.market(typed)
    assert caught.value.remedy.startswith(hint)
