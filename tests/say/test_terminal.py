"""The report on a screen, and in a pipe."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from rich.cells import cell_len

from spinefit.say.label_model import SpareReport
from spinefit.say.model import Report
from spinefit.say.phrasing import shown_layout
from spinefit.say.screen import Screen
from spinefit.say.terminal import render
from spinefit.vocabulary import Centre, Level, Orientation, Reading, Turn


def test_the_answer_stands_first(report: Report) -> None:
    """One plain sentence, the setting, what to mind, what can hurt and what was assumed."""
    text = render(report)
    flat = " ".join(text.split())
    assert flat.startswith(report.answer)
    order = ["Recommended setting", "What to mind", "Take care", "Assumed", "--why"]
    places = [text.index(heading) for heading in order]
    assert places == sorted(places)
    assert "Other settings" not in text and "good" not in text and "[" not in text


def test_asked_why_it_says_all(report: Report) -> None:
    """The others, all that was assumed, the reasons, and every caution."""
    text = render(report, why=True)
    order = [
        "Recommended setting", "What to mind", "Other settings", "Assumed, as it was not stated",
        "Why", "Take care",
    ]  # fmt: skip
    places = [text.index(f"\n{heading}") for heading in order]
    assert places == sorted(places)
    assert all(caution in text for caution in report.cautions)
    assert "--why" not in text


def test_of_what_was_assumed_the_weightiest_stays(report: Report) -> None:
    """Method, market and font; an allowance is for those who ask why."""
    assumed = ("edge: 2 mm", "method: a printed cover", "market: none given", "font: EB Garamond")
    text = render(report._replace(assumed=assumed))
    shown = text[text.index("Assumed") :].split("More")[0]
    assert shown.split(maxsplit=1)[1].strip() == "; ".join(assumed[1:])


def test_notes_that_only_give_a_reason_wait(report: Report) -> None:
    """A note on which way shelves go stays; why a width counted as narrow does not."""
    note = report.findings[0]._replace(level=Level.NOTE, text="Shelves are mixed.")
    for topic, stays in (("reading-mixed", True), ("across-narrow", False)):
        found = report._replace(findings=(note._replace(topic=topic),))
        assert (note.text in render(found)) is stays
        assert note.text in render(found, why=True)


def test_no_warning_is_left_out(report: Report) -> None:
    """However many there are, and whatever they are about."""
    warning = report.findings[0]
    many = tuple(
        warning._replace(topic=topic, level=level, text=f"{topic} {level}.")
        for topic in ("across-narrow", "placing", "edge-disagreed")
        for level in (Level.WARNING, Level.FAILURE)
    )
    text = render(report._replace(findings=many))
    assert all(one.text in text for one in many)
    assert text.index("\nfailure") < text.index("\nwarning")


def test_the_lines_stand_centred(report: Report) -> None:
    """As they will stand on the back."""
    drawn = [line.strip() for line in render(report).splitlines() if "│" in line]
    assert drawn == ["│    The    │", "│  Harbour  │", "│   Light   │"]


def test_the_four_spares_are_named(report: Report) -> None:
    """Each side by name, in mm."""
    assert "left 1.2, right 1.2, head 20, tail 120.5 mm" in render(report)


@pytest.mark.parametrize("columns", [1, 40, 60, 80, 200])
def test_no_line_is_wider_than_the_screen(report: Report, columns: int) -> None:
    """At 80 columns and at others, down to the narrowest it can do with."""
    long = report._replace(answer=report.answer * 3, assumed=("x" * 200, "灯台" * 60))
    room = max(columns, 40)
    assert all(
        cell_len(line) <= room for line in render(long, Screen.to_read(columns)).splitlines()
    )


@pytest.mark.parametrize("columns", [40, 44, 60, 79, 80, 110])
@pytest.mark.parametrize("turn", Turn)
def test_the_lines_are_shown_letter_for_letter(
    report_of: Callable[..., Report], columns: int, turn: Turn
) -> None:
    """However narrow the screen."""
    for count in (1, 15, 16, 20, 36, 55, 56, 57, 90):
        line = f"{'x' * (count - 1)}y"
        text = render(report_of(lines=(line,), turn=turn), Screen.to_read(columns))
        assert line in re.sub(r"\s", "", text.split("Lines  ")[0])


def test_levels_are_words(report: Report) -> None:
    """Without colour the gravest finding still stands first and says what it is."""
    text = render(report, why=True)
    assert text.index("\nwarning") < text.index("\ngood")
    assert "\x1b" not in text


def test_sources_are_shown_with_their_status(report: Report) -> None:
    """Who says so, and how far it may be trusted."""
    flat = " ".join(render(report, why=True).split())
    assert "[US short-run book printer's cover guide; published]" in flat


def test_colour_is_only_added_on_request(report: Report) -> None:
    """The same words with colours."""
    assert "\x1b[" in render(report, Screen(has_colour=True))


def test_titles_are_taken_letter_for_letter(report_of: Callable[..., Report]) -> None:
    """What looks like markup or an emoji code is a title's own."""
    lines = ("[bold]Tides[/bold] :smile:", "[/]")
    text = render(report_of(lines=lines))
    assert all(line in text for line in lines)


def test_what_would_hide_or_reorder_is_made_visible(report_of: Callable[..., Report]) -> None:
    """Control and bidi characters are written out; a no-break space is a space."""
    text = render(report_of(lines=("Vol.\u00a02\u202e\x1b[2J\r",)))
    assert "Vol. 2\\u202e\\x1b[2J\\r" in text
    assert "\x1b" not in text and "\r" not in text


def test_wide_letters_are_centred_by_their_cells(report_of: Callable[..., Report]) -> None:
    """East Asian letters take two cells each."""
    lines = render(report_of(lines=("灯台守", "海"))).splitlines()
    found = [line for line in lines if "│" in line]
    assert found == ["            │  灯台守  │", "            │    海    │"]


def test_long_lines_are_numbered_instead_of_drawn(report_of: Callable[..., Report]) -> None:
    """A line too long for the screen is wrapped, and the next is told apart from it."""
    text = render(report_of(lines=("The Harbour " * 10, "Light")))
    assert "\n1           The Harbour" in text
    assert "\n2           Light" in text


@pytest.mark.parametrize(
    ("turn", "drawn"),
    [(Turn.CLOCKWISE, "head  │  Light  │  tail"), (Turn.ANTICLOCKWISE, "tail  │  Light  │  head")],
)
def test_turned_lines_say_where_the_head_is(
    report_of: Callable[..., Report], turn: Turn, drawn: str
) -> None:
    """A line along the back is drawn level between its two ends."""
    text = render(
        report_of(
            lines=("Light",),
            turn=turn,
            orientation=Orientation.LONGITUDINAL,
            reading=Reading.DESCENDING,
        )
    )
    assert drawn in text
    assert "Lines       Descending, one line; tops of the letters to the " in text


def test_an_excess_is_below_zero_and_explained(unfitting: Report) -> None:
    """Where nothing fits the nearest setting is shown, with what would help."""
    text = render(unfitting)
    flat = " ".join(text.split())
    assert "Nearest setting, which does not fit" in text
    assert "left -1.2, right -1.2" in text and "(minus: too large)" in flat
    assert "What would make it fit" in text
    assert "1           Set it smaller: " in text


def test_an_open_length_is_said(report_of: Callable[..., Report]) -> None:
    """Without a height the answer is the length of back that is needed."""
    spare = SpareReport(left=1.0, right=1.0, head=None, tail=None)
    opened = report_of(spare_mm=spare, needs_back_mm=71.25, first_from_head_mm=None)
    opened = opened._replace(panel=opened.panel._replace(height_mm=None))
    text = render(opened, why=True)
    assert "71.2 mm of back" in text
    assert "open length" in text
    assert "left 1, right 1 mm" in text


def test_lettering_over_the_bands_is_marked(report: Report) -> None:
    """It is listed, never without its warning."""
    over = report.layouts[1]._replace(over_bands=True, word_broken=True)
    text = render(report._replace(layouts=(report.layouts[0], over)), why=True)
    assert "(over the bands: avoid)" in text
    assert "(a word broken)" in text


def test_a_pillar_stands_letter_under_letter(report_of: Callable[..., Report]) -> None:
    """Marks stay with their letter; a pillar taller than the screen is shown on its line."""
    pillar = {"orientation": Orientation.PILLAR, "reading": Reading.STACKED}
    text = render(report_of(lines=("Mo\u0308we",), **pillar))
    drawn = [line.strip(" │") for line in text.splitlines() if "│" in line]
    assert drawn == ["M", "o\u0308", "w", "e"]
    assert "│  " + "x" * 31 + "  │" in render(report_of(lines=("x" * 31,), **pillar))


def test_a_short_number_among_upright_letters_stands_in_one_cell(
    report_of: Callable[..., Report],
) -> None:
    """As it is drawn, longer numbers and Latin words turned; a Latin pillar figure under figure."""
    pillar = {"orientation": Orientation.PILLAR, "reading": Reading.STACKED}
    for lines, rows in (
        (("港12巻",), ["港", "12", "巻"]),
        (("港の", "12巻"), ["12 港", "巻 の"]),
        (("港123",), ["港", "123 (turned)"]),
        (("港のHarbour Light!",), ["港", "の", "Harbour Light (turned)", "!"]),
        (("No12",), ["N", "o", "1", "2"]),
        (("V 12",), ["V", "", "1", "2"]),
    ):
        text = render(report_of(lines=lines, **pillar))
        assert [line.strip(" │") for line in text.splitlines() if "│" in line] == rows


def test_many_settings_are_cut_short(report: Report) -> None:
    """The screen shows the ten most useful ones and says how many are left out."""
    fifteen = tuple(report.layouts[1]._replace(set_pt=size) for size in range(5, 20))
    text = render(report._replace(layouts=(report.layouts[0], *fifteen)), why=True)
    assert "and 5 more, all in --format json" in text


def test_no_line_ends_in_spaces(report: Report, unfitting: Report) -> None:
    """Piped text is clean."""
    for one in (report, unfitting):
        assert all(line == line.rstrip() for line in render(one).splitlines())


def test_a_baseline_is_measured_from_the_middle(report_of: Callable[..., Report]) -> None:
    """To the side away from the tops of the letters where it lies below the middle."""
    along = {"orientation": Orientation.LONGITUDINAL, "reading": Reading.DESCENDING}
    for turn, baselines, side in (
        (Turn.CLOCKWISE, (-1.4,), "baseline 1.4 mm left"),
        (Turn.ANTICLOCKWISE, (-1.4,), "baseline 1.4 mm right"),
        (Turn.CLOCKWISE, (2.1, -2.1), "first baseline 2.1 mm right"),
        (Turn.CLOCKWISE, (0.0,), "baseline on the middle"),
    ):
        text = render(report_of(turn=turn, baselines_mm=baselines, **along))
        assert f"{side} " in " ".join(text.split())


@pytest.mark.parametrize(("band", "height_mm"), [("capitals", 3.2), ("small letters", 2.0)])
def test_the_band_on_the_middle_is_named(
    report_of: Callable[..., Report], band: str, height_mm: float
) -> None:
    """For one line and for several."""
    for half_gap_mm in (0.0, 4.0):
        baselines = (-height_mm / 2 + half_gap_mm, -height_mm / 2 - half_gap_mm)
        text = render(
            report_of(
                orientation=Orientation.LONGITUDINAL,
                reading=Reading.DESCENDING,
                turn=Turn.CLOCKWISE,
                centre=Centre.CAPITALS,
                cap_height_mm=3.2,
                x_height_mm=2.0,
                baselines_mm=baselines if half_gap_mm else baselines[:1],
            ),
            why=True,
        )
        assert f"the band of the {band} stands on the middle" in " ".join(text.split())


def test_the_panel_says_what_it_is_of(report: Report) -> None:
    """Only a panel that is a back's is measured round the back."""
    for of, row, way in (
        ("back", "Panel       20 mm wide, 190 mm high, measured round the back", "Across the back"),
        ("label", "Panel       room for a label, 20 mm wide, 190 mm high;", "Across the label"),
        ("outright", "Panel       20 mm wide, 190 mm high", "Across the panel"),
    ):
        panel = report.panel._replace(of=of, developed=of != "outright")
        text = render(report._replace(panel=panel), why=True)
        assert row in text
        assert f"Lines       {way}, three lines" in text.replace("3 lines", "three lines")


def test_a_label_need_not_fill_its_room(report: Report) -> None:
    """How high it must be for its lines, in whole millimetres: 190 less 20 and 120.5 to spare."""
    text = render(report._replace(panel=report.panel._replace(of="label")))
    assert "these lines need 50 mm" in " ".join(text.split())


def test_of_a_range_both_widths_are_shown(report: Report) -> None:
    """The panel is the one at the least of them."""
    ranged = report.findings[0]._replace(topic="width-range", value=13.0, limit=15.5)
    text = render(report._replace(findings=(ranged,)), why=True)
    assert "20 mm wide, 190 mm high (where the back is 13 mm, of 13 to 15.5 mm)" in text


def test_where_none_fits_the_nearest_is_shown(unfitting: Report) -> None:
    """Whichever the judgement found nearest."""
    small = unfitting.layouts[0]
    other = small._replace(lines=("The Harbour", "Light"))
    assert shown_layout(unfitting._replace(layouts=(small, other), nearest=1)) is other
