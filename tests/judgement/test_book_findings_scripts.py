"""What is said of scripts whose setting needs a binder's eye."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import check
from spinefit.job import Job, Lettering, Panel, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement.letter_findings import script_findings
from spinefit.say.model import Report
from spinefit.shaping.breaks import clusters
from spinefit.shaping.font_setter import RunShaper
from spinefit.shaping.glyphs import Glyph
from spinefit.vocabulary import Orientation, Reading

THAI = "/usr/share/fonts/truetype/tlwg/Garuda.ttf"
DEVANAGARI = "/usr/share/fonts/truetype/lohit-devanagari/Lohit-Devanagari.ttf"


def _report(title: str, font: str, **keys: object) -> Report:
    lettering = Lettering(font=font, **keys)  # type: ignore[arg-type]
    return check(Job(title=title, panel=Panel(width_mm=90, height_mm=60), lettering=lettering))


def _topics(report: Report) -> set[str]:
    return {found.topic for found in report.findings}


def test_thai_is_broken_between_words_and_the_report_says_how(needs_font):
    """Source: UAX #14, class SA: a dictionary says where words end, and it may be wrong."""
    font = needs_font(THAI, "fonts-tlwg-garuda-ttf")
    report = _report("ประภาคารท่าเรือ", font)
    assert "breaks-by-dictionary" in _topics(report)
    assert {len(layout.lines) for layout in report.layouts} == {1, 2}
    assert "breaks-by-dictionary" not in _topics(_report("Harbour Light", font))


def test_scripts_without_a_dictionary_are_named():
    """Source: UAX #14, class SA: no words of Tai Tham are at hand."""

    class Title:
        text = "ᨴᩦ᩵ᨶᩲ ไทย"
        sets_columns = False

    class Asked:
        class lettering:
            fallback = ()

    found = script_findings(Asked, Title)  # type: ignore[arg-type]
    assert [(one.topic, one.value) for one in found] == [
        ("breaks-by-dictionary", "Thai"),
        ("breaks-need-a-dictionary", "Tai Tham"),
    ]


@pytest.mark.parametrize(("mark", "lines"), [("\u200b", {1, 2}), ("\u2060", {1})])
def test_a_mark_of_ones_own_parts_or_joins_in_thai_and_is_no_mistake(needs_font, mark, lines):
    """A zero width space lets a line end there, a word joiner does not."""
    font = needs_font(THAI, "fonts-tlwg-garuda-ttf")
    report = _report(f"ประภาคาร{mark}ท่าเรือ", font)
    assert {len(layout.lines) for layout in report.layouts} == lines
    assert "character-without-ink" not in _topics(report)


def test_a_pillar_of_devanagari_goes_by_clusters(needs_font):
    """Common practice: by syllable cluster, never by code point."""
    font = needs_font(DEVANAGARI, "fonts-lohit-deva")
    word = "प्रकाश"
    report = _report(word, font, orientation=Orientation.PILLAR)
    (pillar,) = report.layouts
    assert len(pillar.baselines_mm) == len(clusters(word)) == 3


def test_letters_that_keep_to_their_cells_raise_nothing(needs_font):
    sound = needs_font("/usr/share/fonts/opentype/ipafont-gothic/ipag.ttf", "fonts-ipafont-gothic")
    assert "letter-outside-its-cell" not in _topics(
        _report("港の灯（上）ー。", sound, orientation=Orientation.PILLAR)
    )


def test_letters_far_from_their_cells_are_named(needs_font, monkeypatch):
    """The same font, its letters put a whole em too low."""
    sound = needs_font("/usr/share/fonts/opentype/ipafont-gothic/ipag.ttf", "fonts-ipafont-gothic")
    honest = RunShaper.shape_down

    def low(self: RunShaper, text: str) -> list[Glyph]:
        return [glyph._replace(y_em=glyph.y_em - 1) for glyph in honest(self, text)]

    monkeypatch.setattr(RunShaper, "shape_down", low)
    report = _report("港の灯", sound, orientation=Orientation.PILLAR)
    assert "letter-outside-its-cell" in _topics(report)


@pytest.mark.parametrize("market", ["GB", "FR"])
def test_mongolian_stands_along_by_default_as_its_columns_do(market):
    """Source: The Unicode Standard, chapter 13.5; lines turned clockwise, in every market."""
    job = Job(title="ᠮᠣᠩᠭᠣᠯ", spine=Spine(width_mm=60.0, height_mm=210.0), market=market)
    found = resolve(job)
    assert found.lettering.orientation is Orientation.LONGITUDINAL
    assert found.lettering.reading is Reading.DESCENDING
    assert any("as Mongolian columns stand" in words for words in found.assumed)
    across = resolve(replace(job, lettering=Lettering(orientation=Orientation.TRANSVERSE)))
    assert across.lettering.orientation is Orientation.TRANSVERSE


def test_mongolian_is_set_turned_and_the_report_says_what_is_not_supported():
    class Title:
        text = "ᠮᠣᠩᠭᠣᠯ"
        sets_columns = False

    class Asked:
        class lettering:
            fallback = ()

    found = script_findings(Asked, Title)  # type: ignore[arg-type]
    assert [(one.topic, one.level) for one in found] == [("mongolian-turned", "warning")]
