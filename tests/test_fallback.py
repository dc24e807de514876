"""Letters that the first font lacks come from others, in order, at the same size."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from spinefit import check
from spinefit.cli.main import main
from spinefit.errors import FontNotFoundError, MissingCharacterError
from spinefit.job import Job, Lettering, Panel
from spinefit.say.model import Report
from spinefit.shaping.font_setter import FontStack, RunShaper
from spinefit.shaping.fontfile import open_font

FIRST, SECOND = "Libre Baskerville Bold", "EB Garamond"  # Latin; Latin, Greek and Cyrillic


def _report(title: str, font: str = FIRST, *fallback: str) -> Report:
    lettering = Lettering(font=font, fallback=fallback)
    return check(Job(title=title, panel=Panel(width_mm=90, height_mm=60), lettering=lettering))


def _shaper(font: str, *fallback: str) -> RunShaper:
    return RunShaper(
        open_font(font),
        language=None,
        features={},
        tracking_em=0.0,
        fallback=tuple(map(open_font, fallback)),
    )


def test_the_report_says_which_letters_come_from_where():
    report = _report("Log Λιμάνι", FIRST, SECOND)
    assert [(one.name, one.letters) for one in report.fonts] == [
        (FIRST, "Log"),
        (SECOND, "Λιμάν"),
    ]
    (one,) = [found for found in report.findings if found.topic == "letters-of-another-font"]
    assert (one.level, one.value, one.limit) == ("note", "Λιμάν", SECOND)
    assert report.font.name == FIRST


def test_one_font_is_listed_with_all_the_letters():
    (one,) = _report("Tide Tides").fonts
    assert (one.name, one.letters) == (FIRST, "Tides")


def test_a_fallback_that_is_not_needed_changes_nothing():
    alone, helped = _report("Tide Tables"), _report("Tide Tables", FIRST, SECOND)
    assert alone.layouts == helped.layouts
    assert helped.fonts[1].letters == ""


def test_advances_are_the_sums_of_what_each_font_sets():
    """Each portion as its own font sets it alone, at the same em."""

    def advance(shaper: RunShaper, text: str) -> float:
        return sum(glyph.advance_em for glyph in shaper.shape(text))

    both = _shaper(FIRST, SECOND)
    parts = advance(_shaper(FIRST), "Log ") + advance(_shaper(SECOND), "Λιμάνι")
    assert advance(both, "Log Λιμάνι") == pytest.approx(parts, abs=1e-12)


def test_ink_is_that_of_the_font_that_sets_the_letter():
    assert _shaper(FIRST, SECOND).set_line("Λ")[1] == _shaper(SECOND).set_line("Λ")[1]
    assert _shaper(FIRST, SECOND).set_line("L")[1] == _shaper(FIRST).set_line("L")[1]


def test_a_letter_goes_with_its_marks_to_one_font():
    """The first font has the base and not the mark: the whole cluster is the second's."""
    first, second = (open_font(name).shaper.nominal for name in (FIRST, SECOND))
    assert first("o")
    assert not first("\u0316")
    assert second("\u0316")
    # No font has the whole word, since one of its letters is in neither; so letter by letter.
    portions = FontStack((open_font(FIRST), open_font(SECOND))).portions("ao\u0316aก")
    assert portions == [(0, 1, 0), (1, 3, 1), (3, 5, 0)]


def test_a_word_that_one_font_has_whole_is_not_set_in_two():
    """The first font has a lone μ, as a sign of measures; the word is the second's."""
    assert open_font(FIRST).shaper.nominal("μ")
    used = _shaper(FIRST, SECOND).letters_by_font("Λιμάνι")
    assert [letters for _font, letters in used] == ["", "Λιμάν"]


def test_what_no_font_has_is_named_with_the_fonts_that_were_tried():
    with pytest.raises(MissingCharacterError) as caught:
        _report("Log ก", FIRST, SECOND)
    assert f"{FIRST} and {SECOND} have no ก (U+0E01 THAI CHARACTER KO KAI)" in str(caught.value)
    assert (
        "; give lettering.fallback a font that has it, such as the open Noto Serif Thai: "
        "'spinefit fonts" in str(caught.value)
    )


@pytest.mark.parametrize(
    ("title", "cure"),
    [
        (
            "Маяк",
            "give --fallback 'EB Garamond', which has them, or for all letters --font 'EB Gar",
        ),
        (
            "Log Ж",
            "give --fallback 'EB Garamond', which has it, or for all letters --font 'EB Gara",
        ),
        (
            "Log 日",
            "a font that has it, such as the open Noto Serif CJK SC: 'spinefit fonts --installed",
        ),
    ],
)
def test_the_cure_of_a_missing_letter_is_a_fallback_that_has_it(tmp_path, title, cure):
    """By check, sheet and batch, and the cure cures."""
    table = tmp_path / "books.csv"
    table.write_text(f"title,panel\n{title},40x30mm\n", encoding="utf-8")
    own = ("--font", "Cinzel")
    sheet = ("sheet", "--panel", "40x30mm", "--output", str(tmp_path / "a.pdf"))
    ways = (("check", title, "--panel", "40x30mm"), (*sheet, title), ("batch", str(table)))
    for words in ways:
        done = CliRunner().invoke(main, [*words, *own])
        assert done.exit_code == 2
        assert cure in done.stderr
    if "EB Garamond" in cure:
        done = CliRunner().invoke(main, [*ways[0], *own, "--fallback", "EB Garamond"])
        assert done.exit_code == 0


def test_a_fallback_that_is_no_font_is_refused_by_its_option():
    with pytest.raises(FontNotFoundError) as caught:
        _report("Log", FIRST, "no-such-font.ttf")
    assert caught.value.where == "lettering.fallback"


def test_right_to_left_portions_keep_the_order_seen(needs_font):
    """Hebrew in two fonts by turns stands as in one: the first letter at the right."""
    ezra = needs_font("/usr/share/fonts/truetype/ezra/SILEOT.ttf", "fonts-sil-ezra")
    shaper = RunShaper(
        open_font(FIRST),
        language="he",
        features={},
        tracking_em=0.0,
        right_to_left=True,
        fallback=(open_font(ezra),),
    )
    inside = [glyph.cluster for glyph in shaper.shape("אור — ים")]  # the dash is the first font's
    assert inside == sorted(inside, reverse=True)
    text = "אור Log ים"
    clusters = [glyph.cluster for glyph in shaper.shape(text)]
    order = [text[at] for at in clusters if text[at] != " "]
    assert "".join(order) == "םיLogרוא"


def test_the_option_may_be_repeated_and_a_job_file_holds_a_list(tmp_path):
    words = ("Log Λιμάνι", "--panel", "90x60", "--font", FIRST)
    told = CliRunner().invoke(
        main,
        ["check", *words, "--fallback", "Cinzel", "--fallback", SECOND, "--format", "json"],
    )
    job = tmp_path / "job.toml"
    job.write_text(
        f'title = "Log Λιμάνι"\npanel = "90x60"\nfont = "{FIRST}"\n'
        f'fallback = ["Cinzel", "{SECOND}"]\n',
        encoding="utf-8",
    )
    read = CliRunner().invoke(main, ["check", "--job", str(job), "--format", "json"])
    fonts = [json.loads(result.stdout)["fonts"] for result in (told, read)]
    assert fonts[0] == fonts[1]
    assert [one["name"] for one in fonts[0]] == [FIRST, "Cinzel", SECOND]
    assert [one["letters"] for one in fonts[0]] == ["Log", "", "Λιμάν"]
