"""Does the program come to the conclusions of Cockerell's worked example?

Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 95: CORIOLANUS on the rounded back
of a book not over an inch thick. Across in one line it is too small and reads as a streak of
gold; broken it is larger, which is better, if not good; along the back it is legible, but to
be avoided on a banded book unless forced.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.say.model import LayoutReport, Report
from spinefit.say.remedies import remedies
from spinefit.vocabulary import BackForm, BreakWords, Case, Level, Orientation, Reading, Verdict

INCH_MM = 25.4
BACK = Spine(
    width_mm=INCH_MM,
    height_mm=8 * INCH_MM,
    back=BackForm.ROUNDED,
    bands=5,
)
ANY_SIZE = "paperback-cover"  # what the back takes is asked, not what lies in a drawer
SERIFS = ("EB Garamond", "Cinzel", "Libre Baskerville")  # letters as wide as a finisher's
FONTS = (*SERIFS, "Source Serif 4", "Alegreya Sans", "Fira Sans Condensed")

each_font = pytest.mark.parametrize("font", FONTS)
each_serif = pytest.mark.parametrize("font", SERIFS)
each_back = pytest.mark.parametrize(
    "back",
    [BACK, replace(BACK, rise_mm=5.0), replace(BACK, width_mm=20.0), replace(BACK, arc_mm=28.0)],
    ids=["not measured", "rise 5 mm", "20 mm", "arc 28 mm"],
)


def _report(
    back: Spine = BACK,
    *,
    font: str = "EB Garamond",
    break_words: BreakWords | None = None,
    title: str = "Coriolanus",
    orientation: Orientation | None = None,
) -> Report:
    lettering = Lettering(
        font=font, case=Case.CAPITALS, break_words=break_words, orientation=orientation
    )
    job = Job(title=title, spine=back, lettering=lettering, language="en", method=ANY_SIZE)
    return check(job, verify=True)


def _one(report: Report, orientation: Orientation, *, over_bands: bool = False) -> LayoutReport:
    """The only whole setting of that orientation."""
    (found,) = (
        layout
        for layout in report.layouts
        if layout.orientation is orientation
        and layout.over_bands is over_bands
        and not layout.word_broken
    )
    return found


def _arcminutes(layout: LayoutReport) -> float:
    (found,) = (one for one in layout.findings if one.topic == "legibility")
    assert isinstance(found.value, float)
    return found.value


@each_serif
@each_back
def test_across_in_one_line_it_is_small(font: str, back: Spine) -> None:
    """Source: Cockerell, ch. XV, fig. 95 (1): it fits across, too small to be read with ease."""
    report = _report(back, font=font)
    across = _one(report, Orientation.TRANSVERSE)
    assert across.lines == ("CORIOLANUS",)
    assert across.fits and across.limited_by in ("width", "angle")
    assert _arcminutes(across) < 16
    (legibility,) = (one for one in across.findings if one.topic == "legibility")
    assert legibility.level in (Level.NOTE, Level.FAILURE)


@each_font
@each_back
def test_sizes_come_in_the_order_of_the_book(font: str, back: Spine) -> None:
    """Source: Cockerell, ch. XV, fig. 95: across < broken across < along the whole back."""
    report = _report(back, font=font, break_words=BreakWords.HYPHEN)
    across = _one(report, Orientation.TRANSVERSE).largest_pt
    over_bands = _one(report, Orientation.LONGITUDINAL, over_bands=True).largest_pt
    assert across * 1.5 < _in_two(report).largest_pt < over_bands


@each_serif
@each_back
def test_broken_only_as_a_remedy(font: str, back: Spine) -> None:
    """Source: Cockerell, ch. XV, fig. 95 (2), against Pleger, p. 250: never break a word."""
    report = _report(back, font=font)
    assert not any(layout.word_broken for layout in report.layouts)
    assert {layout.lines for layout in report.layouts} == {("CORIOLANUS",)}
    (remedy,) = (one for one in remedies(report) if one.change == "break-word")
    allowed = _in_two(_report(back, font=font, break_words=BreakWords.HYPHEN))
    assert remedy.largest_pt == allowed.largest_pt
    assert " / ".join(allowed.lines) in remedy.text
    assert f"{int(allowed.largest_pt * 10) / 10:g} pt" in remedy.text


@each_back
@pytest.mark.parametrize("mode", [BreakWords.PLAIN, BreakWords.HYPHEN])
def test_broken_is_listed_where_it_is_allowed(back: Spine, mode: BreakWords) -> None:
    """Source: Cockerell, ch. XV, fig. 95 (2): broken, the letters can be much larger."""
    report = _report(back, break_words=mode)
    broken = [layout for layout in report.layouts if layout.word_broken]
    assert broken
    for layout in broken:
        joined = "-".join(layout.lines) if mode is BreakWords.PLAIN else "".join(layout.lines)
        assert joined.replace("-", "") == "CORIOLANUS"
        assert joined.count("-") == len(layout.lines) - 1  # of ours, or one for every break
        assert any(one.topic == "words-broken" for one in layout.findings)
    assert _in_two(report).largest_pt > 1.5 * _one(report, Orientation.TRANSVERSE).largest_pt


def _in_two(report: Report) -> LayoutReport:
    """The largest setting across in two lines."""
    return max(
        (
            layout
            for layout in report.layouts
            if layout.orientation is Orientation.TRANSVERSE and len(layout.lines) == 2
        ),
        key=lambda layout: layout.largest_pt,
    )


@each_font
@each_back
def test_along_stays_inside_the_panel(font: str, back: Spine) -> None:
    """Source: Cockerell, ch. XV, fig. 95: bands stop lettering that runs along the back."""
    report = _report(back, font=font)
    along = _one(report, Orientation.LONGITUDINAL)
    assert report.panel.number == 2
    assert report.panel.height_mm is not None
    assert along.ink_width_mm <= report.panel.height_mm
    assert along.limited_by == "height"
    assert along.spare_mm.head is not None and along.spare_mm.head >= 0


@each_font
@each_back
def test_along_the_whole_back_is_listed_and_never_advised(font: str, back: Spine) -> None:
    """Source: Cockerell, ch. XV, fig. 95 (3): legible, but avoided on a banded book."""
    for orientation in (None, Orientation.LONGITUDINAL):
        report = _report(back, font=font, orientation=orientation)
        over = _one(report, Orientation.LONGITUDINAL, over_bands=True)
        assert not over.fits
        assert over.reading is Reading.DESCENDING
        assert over.largest_pt > _one(report, Orientation.LONGITUDINAL).largest_pt
        (finding,) = (one for one in over.findings if one.topic == "over-bands")
        assert finding.level is Level.WARNING and "Cockerell" in finding.source
        assert report.recommended is None or not report.layouts[report.recommended].over_bands
        assert report.panel.height_mm is not None
        assert over.ink_width_mm > report.panel.height_mm or over.set_pt < over.largest_pt


@each_font
def test_across_is_advised_in_a_panel(font: str) -> None:
    """Source: Cockerell, ch. XV: on a banded book across, unless forced along."""
    report = _report(font=font)
    assert report.verdict is Verdict.FITS
    assert report.recommended is not None
    assert report.layouts[report.recommended].orientation is Orientation.TRANSVERSE
    assert any(one.topic == "across-in-panel" for one in report.findings)


def test_along_is_forced_where_across_cannot_be_read() -> None:
    """Source: Cockerell, ch. XV, fig. 95: along the back where one is forced to it."""
    report = _report(
        replace(BACK, width_mm=10.0, band_height_mm=3.0, bands=3), title="Coriolanus", font="Cinzel"
    )
    assert report.recommended is not None
    advised = report.layouts[report.recommended]
    assert advised.orientation is Orientation.LONGITUDINAL
    assert not advised.over_bands


def test_the_works_is_one_line_of_the_worked_title() -> None:
    """Source: Cockerell, ch. XV, figs 91-94: THE WORKS stands on top of five guide lines."""
    report = _report(title="The Works of Robert Louis Stevenson")
    across = [one for one in report.layouts if one.orientation is Orientation.TRANSVERSE]
    by_lines = {len(one.lines): one for one in across if one.split in ("whole", "least width")}
    assert sorted(by_lines) == [1, 2, 3, 4, 5, 6]
    assert by_lines[4].lines == ("THE WORKS", "OF ROBERT", "LOUIS", "STEVENSON")
    assert max(len(one.lines) for one in across) == 6  # a word a line: none may be broken
    assert not any(one.word_broken for one in across)
    in_four = by_lines[4].line_widths_mm
    assert max(in_four) == by_lines[4].ink_width_mm


def test_the_works_of_four_lines_is_larger_than_of_one() -> None:
    """Source: Cockerell, ch. XV: several lines let the letters be larger on a narrow back."""
    report = _report(title="The Works of Robert Louis Stevenson")
    across = [one for one in report.layouts if one.orientation is Orientation.TRANSVERSE]
    largest = {
        lines: max(one.largest_pt for one in across if len(one.lines) == lines)
        for lines in (1, 2, 3, 4)
    }
    assert largest[1] < largest[2] < largest[3] < largest[4]
