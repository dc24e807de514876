"""Titles whose letters are tools: lines by hand arithmetic, sizes that fit, the box of a face.

Worked with letters of invented widths, in round figures.
"""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Panel, Spine, check
from spinefit.errors import MissingCharacterError
from spinefit.job.model import Shape
from spinefit.job.resolve import resolve
from spinefit.job.tools import Tools, ToolSize
from spinefit.say.model import LayoutReport, Report
from spinefit.shaping import ShapedTitle, open_font, shape_title, shape_titles
from spinefit.units import mm_from_pt
from spinefit.vocabulary import BreakWords, Case, Level, Orientation, PanelForm, SetBy, Verdict

ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ&"
THE_WORKS = {"T": 2.2, "H": 2.6, "E": 2.0, "W": 3.4, "O": 2.7, "R": 2.4, "K": 2.5, "S": 1.7}


def even(face_mm: float, letter_mm: float, **more: float) -> ToolSize:
    """A size whose letters are all equally wide."""
    widths = tuple((char, letter_mm) for char in ALPHABET)
    return ToolSize(face_mm=face_mm, widths_mm=widths, **more)


SMALL = even(1.6, 1.7, body_pt=7.0)
MIDDLE = even(2.1, 2.0, body_pt=8.0)
LARGE = even(3.5, 3.5, body_pt=14.0)
THREE = Tools(name="three", sizes=(LARGE, SMALL, MIDDLE))


def a_job(title: str, tools: Tools, **said: object) -> Job:
    """A title in tools on a back an inch wide, 1.6 mm kept free at each joint."""
    shape = said.pop("shape", None)
    panel = said.pop("panel", None)
    lettering = Lettering(tools=tools, **{"case": Case.CAPITALS, **said})
    spine = None if panel else Spine(width_mm=25.4, height_mm=203.2, edge_mm=1.6)
    return Job(title=title, spine=spine, panel=panel, shape=shape, lettering=lettering)


def line_mm(title: ShapedTitle) -> float:
    """Ink of the whole title on one line, in mm."""
    assert title.only_pt is not None
    left, _bottom, right, _top = title.run.ink
    return (right - left) * mm_from_pt(title.only_pt)


def one_line(report: Report, orientation: Orientation) -> LayoutReport:
    (found,) = (
        one
        for one in report.layouts
        if one.orientation is orientation and len(one.lines) == 1 and not one.over_bands
    )
    return found


def finding(report: Report, topic: str):
    return next((one for one in report.findings if one.topic == topic), None)


def test_the_works_by_hand():
    """THE 2.2+2.6+2.0 and two gaps, a space of an E and two gaps, WORKS 12.7 and four gaps."""
    size = ToolSize(
        face_mm=2.5, body_pt=10.0, widths_mm=tuple(THE_WORKS.items()), letter_gap_mm=0.5
    )
    title = shape_title(resolve(a_job("The Works", Tools(name="brass", sizes=(size,)))))
    the, space, works = 6.8 + 2 * 0.5, 2.0 + 2 * 0.5, 12.7 + 4 * 0.5
    assert line_mm(title) == pytest.approx(the + space + works) == pytest.approx(25.5)
    assert title.cap_height_em * mm_from_pt(10) == pytest.approx(2.5)
    widths = [title.run.line_ink(at, at) for at in (0, 1)]
    assert [(box[2] - box[0]) * mm_from_pt(10) for box in widths] == pytest.approx([the, works])


def test_a_word_space_is_from_face_to_face():
    size = ToolSize(
        face_mm=2.5, body_pt=10.0, widths_mm=tuple(THE_WORKS.items()), letter_gap_mm=0.5,
        word_space_mm=1.8,
    )  # fmt: skip
    title = shape_title(resolve(a_job("The Works", Tools(name="brass", sizes=(size,)))))
    assert line_mm(title) == pytest.approx(7.8 + 1.8 + 14.7)


def test_coriolanus_by_hand():
    """Ten letters and nine gaps of 0.5 on the 22.2 mm that an inch leaves: the 1.7 mm letters.

    10 x 2.0 + 4.5 = 24.5 is too long, 10 x 1.7 + 4.5 = 21.5 is not: 0.35 mm to spare each side.
    The limit is in points of that size: 7 x 22.2 / 21.5.
    """
    across = one_line(check(a_job("Coriolanus", THREE), verify=True), Orientation.TRANSVERSE)
    assert across.fits
    assert across.set_pt == 7
    assert across.ink_width_mm == pytest.approx(21.5)
    assert across.spare_mm.left == pytest.approx(0.35)
    assert across.largest_pt == pytest.approx(7 * 22.2 / 21.5, abs=0.001)
    assert across.cap_height_mm == pytest.approx(1.6)


def test_coriolanus_broken_by_hand():
    """Source: Cockerell, ch. XV, fig. 95 (2): broken, larger letters. 5 x 3.5 + 4 x 0.5 = 19.5."""
    report = check(a_job("Corio / lanus", THREE, size_pt=14.0), verify=True)
    broken = next(one for one in report.layouts if one.orientation is Orientation.TRANSVERSE)
    assert broken.fits
    assert broken.line_widths_mm == pytest.approx((19.5, 19.5))
    assert broken.spare_mm.left == pytest.approx((22.2 - 19.5) / 2)
    assert broken.ink_height_mm == pytest.approx(1.6 * 3.5 + 3.5)  # lines 1.6 capitals apart


def test_a_word_is_broken_where_it_is_allowed():
    """With no tool for a hyphen only plainly; CORI OLANUS is 23.5 mm long in the 3.5 mm letters."""
    job = a_job("Coriolanus", THREE, break_words=BreakWords.PLAIN)
    broken = next(one for one in check(job, verify=True).layouts if one.word_broken)
    assert broken.lines == ("CORI", "OLANUS")
    assert (broken.set_pt, broken.ink_width_mm) == (8, pytest.approx(6 * 2.0 + 5 * 0.5))
    with pytest.raises(MissingCharacterError, match="three has no -"):
        check(a_job("Coriolanus", THREE, break_words=BreakWords.HYPHEN))


def test_a_size_asked_for_is_judged_in_its_own_letters():
    """8 pt is too long by 2.3 mm, though the limit of the 7 pt letters is 7.2 pt."""
    report = check(
        a_job("Coriolanus", THREE, size_pt=8.0, orientation=Orientation.TRANSVERSE), verify=True
    )
    (across,) = report.layouts
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert across.ink_width_mm == pytest.approx(24.5)
    assert across.spare_mm.left == pytest.approx(-1.15)
    assert across.largest_pt == pytest.approx(8 * 22.2 / 24.5, abs=0.001)
    other = check(a_job("Coriolanus", THREE, size_pt=9.0))
    assert not other.fits
    assert any(one.topic == "size-not-offered" for one in other.layouts[1].findings)


def test_where_no_size_fits_the_smallest_is_judged():
    """And it is the tools that set the floor, not the sizes of the trade."""
    report = check(a_job("Coriolanus", THREE, panel=Panel(width_mm=20, height_mm=20)))
    assert not report.fits
    for one in report.layouts:
        assert (one.set_pt, one.largest_pt) == (7, pytest.approx(7 * 20 / 21.5, abs=0.001))
        (told,) = (each for each in one.findings if each.topic == "below-method")
        assert (told.limit, told.source) == (7, "the smallest of the tools given")


def test_along_the_advised_size_is_one_of_the_tools():
    """The largest fits: 14 pt is 39.5 mm long; it is under 0.65 of the limit and not too high."""
    along = one_line(check(a_job("Coriolanus", THREE), verify=True), Orientation.LONGITUDINAL)
    assert (along.set_pt, along.ink_width_mm) == (14, pytest.approx(10 * 3.5 + 9 * 0.5))
    assert along.largest_pt > 14


def test_the_eye_asks_for_no_more():
    """At 500 mm capitals of 4.5 mm are enough: of two sizes that fit the smaller is advised."""
    tools = Tools(name="two", sizes=(even(4.0, 3.0, body_pt=16.0), even(6.0, 4.0, body_pt=24.0)))
    report = check(a_job("Tide", tools, orientation=Orientation.TRANSVERSE))
    (across,) = report.layouts
    assert across.set_pt == 16
    assert any(one.topic == "advised-eye" for one in across.findings)


def test_a_line_just_as_long_as_its_panel_fits():
    """Sums of widths are not lost to binary fractions."""
    size = ToolSize(face_mm=2.0, body_pt=8.0, widths_mm=(("I", 0.7),), letter_gap_mm=0.1)
    job = a_job("III", Tools(name="thin", sizes=(size,)), panel=Panel(width_mm=2.3, height_mm=9))
    across = one_line(check(job, verify=True), Orientation.TRANSVERSE)
    assert across.fits
    assert across.set_pt == across.largest_pt == 8


def test_a_wider_letter_of_a_smaller_size_is_no_hindrance():
    """Sizes need not be of one design: the largest that fits counts, whatever the others do."""
    tools = Tools(name="odd", sizes=(even(2.0, 4.0, body_pt=8.0), even(3.0, 2.0, body_pt=12.0)))
    across = one_line(check(a_job("Tides", tools), verify=True), Orientation.TRANSVERSE)
    assert across.fits  # 8 pt would be 5 x 4 + 2 = 22; 12 pt is 12 mm long
    assert across.set_pt == 12


def test_every_setting_is_laid_in_every_size():
    """Each listed setting has the limit of the largest size that fits in just these lines."""
    thin = even(2.0, 1.0, body_pt=8.0, letter_gap_mm=2.0)
    tools = Tools(name="odd", sizes=(thin, even(3.0, 3.0, body_pt=12.0, letter_gap_mm=0.1)))
    title = "I Am The Harbour Of The Light"
    for one in check(a_job(title, tools), verify=True).layouts:
        if one.orientation is Orientation.TRANSVERSE:
            longest = max(
                3.0 * len(line.replace(" ", "")) + 0.1 * (len(line) - 1 - 2 * line.count(" "))
                + line.count(" ") * 3.2 for line in one.lines
            )  # fmt: skip
            fits = longest <= 22.2
            assert (one.largest_pt >= 12) is fits
            assert one.set_pt == 12 or not fits or one.largest_pt * 0.9 < 12


def test_a_row_of_e_lends_its_width_to_the_others():
    """E is (31 - 9 x 0.5) / 10 = 2.65 mm; others by the advances of the default font."""
    size = ToolSize(face_mm=2.1, body_pt=9.0, e_row_mm=31.0, e_count=10, letter_gap_mm=0.5)
    tools = Tools(name="row", sizes=(size,))
    assert line_mm(shape_title(resolve(a_job("E" * 10, tools)))) == pytest.approx(31)
    font = open_font("EB Garamond")
    advance = {
        char: font.shaper.shape(
            char, script="Latn", direction="ltr", language=None, features=None
        )[0].advance_em
        for char in "WE"
    }  # fmt: skip
    wide = line_mm(shape_title(resolve(a_job("W", tools))))
    assert wide == pytest.approx(2.65 * advance["W"] / advance["E"])
    report = check(a_job("Tides", tools))
    told = finding(report, "tools-estimated")
    assert told is not None and "Cockerell" in told.source and "10%" in told.text


def test_widths_given_are_exact_and_said_so():
    report = check(a_job("Tides", THREE))
    told = finding(report, "tools-measured")
    assert told is not None and told.level is Level.GOOD
    assert report.font.name == "three"


def test_without_tools_a_font_stands_in():
    """Said with its tenth, for a method whose letters are tools and for no other."""
    spine = Spine(width_mm=25.4)
    told = finding(check(Job(title="Tides", spine=spine, method="hand-letters")), "tools-unknown")
    assert told is not None
    assert (told.level, told.limit, str(told.status)) == (Level.NOTE, 0.1, "chosen")
    assert "good to about 10%" in told.text
    assert finding(check(Job(title="Tides", spine=spine)), "tools-unknown") is None
    assert finding(check(a_job("Tides", THREE)), "tools-unknown") is None


def test_a_size_that_lacks_a_letter_is_not_offered():
    """And a finding names the size and the letter."""
    few = ToolSize(face_mm=4.0, body_pt=16.0, widths_mm=(("T", 3.0), ("I", 1.0), ("D", 3.0)))
    tools = Tools(name="uneven", sizes=(few, MIDDLE))
    assert [one.only_pt for one in shape_titles(resolve(a_job("Tides", tools)))] == [8]
    assert [one.only_pt for one in shape_titles(resolve(a_job("Tid", tools)))] == [8, 16]
    report = check(a_job("Tides", tools))
    told = finding(report, "tools-lacking")
    assert told is not None and told.value == 16 and "E S" in told.text
    assert {one.set_pt for one in report.layouts} == {8}


def test_a_letter_in_no_size_is_refused():
    """In one line, with the letter and the sizes."""
    with pytest.raises(MissingCharacterError) as refusal:
        shape_titles(resolve(a_job("Tides 5", THREE)))
    assert str(refusal.value) == (
        "--tools: three has no 5 in 7 pt, 8 pt, 14 pt; give its width in the file"
    )


def test_small_letters_are_refused_unless_there_are_some():
    with pytest.raises(MissingCharacterError, match="take --case capitals"):
        shape_titles(resolve(a_job("Tides", THREE, case=Case.AS_TYPED)))
    row = Tools(name="row", sizes=(ToolSize(face_mm=2.1, e_row_mm=31.0, e_count=10),))
    with pytest.raises(MissingCharacterError, match="take --case capitals"):
        shape_titles(resolve(a_job("Tides", row, case=Case.AS_TYPED)))
    widths = tuple((char, 2.0) for char in "Tyde")
    both = ToolSize(face_mm=3.0, body_pt=12.0, widths_mm=widths, descent_mm=1.0, x_height_mm=2.0)
    title = shape_title(
        resolve(a_job("Tyde", Tools(name="both", sizes=(both,)), case=Case.AS_TYPED))
    )
    assert title.descent_em * mm_from_pt(12) == pytest.approx(1.0)
    assert title.x_height_em * mm_from_pt(12) == pytest.approx(2.0)


def test_one_tool_serves_both_apostrophes():
    widths = (*((char, 2.0) for char in "TIDES"), ("'", 0.5))
    tools = Tools(name="a", sizes=(ToolSize(face_mm=2.0, body_pt=8.0, widths_mm=widths),))
    assert line_mm(shape_title(resolve(a_job("Tide’s", tools)))) == pytest.approx(10.5 + 5 * 0.5)


def test_tracking_opens_every_gap():
    """By thousandths of the size: 125 of 8 pt is a point."""
    plain, open_ = (
        line_mm(shape_title(resolve(a_job("Tides", Tools(name="a", sizes=(MIDDLE,)), **said))))
        for said in ({}, {"tracking": 125.0})
    )
    assert open_ - plain == pytest.approx(4 * mm_from_pt(1))


def test_a_pillar_of_tools_by_hand():
    """Five faces of 3.5 mm, and four gaps of 0.22 of that."""
    report = check(a_job("Tides", THREE, orientation=Orientation.PILLAR), verify=True)
    (pillar,) = report.layouts
    assert (pillar.set_pt, pillar.ink_width_mm) == (14, pytest.approx(3.5))
    assert pillar.ink_height_mm == pytest.approx(5 * 3.5 + 4 * 0.22 * 3.5)


PANELS = [(19.0, 30.0), (24.0, 9.0), (12.0, 60.0), (40.0, 40.0)]


@pytest.mark.parametrize("panel", PANELS, ids=str)
@pytest.mark.parametrize(
    "title", ["The Coasting Pilot of Wrackness", "Tide Tables", "Sea and Sand"]
)
def test_a_set_of_sizes_is_no_more_than_each_of_them(panel, title):
    """A setting fits in a set of tools where one of its sizes alone fits, the largest of them."""
    where = {"panel": Panel(width_mm=panel[0], height_mm=panel[1])}
    alone: dict[object, list[float]] = {}
    for size in (SMALL, MIDDLE, LARGE):
        tools = Tools(name="one", sizes=(size,))
        for one in check(a_job(title, tools, **where)).layouts:
            fitting = alone.setdefault((one.orientation, one.lines), [])
            assert one.set_pt == size.body_pt
            if one.fits:
                fitting.append(one.set_pt)
    together = check(a_job(title, THREE, **where), verify=True).layouts
    assert {(one.orientation, one.lines) for one in together} == set(alone)
    for one in together:
        fitting = alone[one.orientation, one.lines]
        assert one.fits or not fitting
        if fitting:
            assert one.largest_pt >= max(fitting)
            assert one.set_pt <= max(fitting)


@pytest.mark.parametrize("form", [PanelForm.OVAL, PanelForm.ROUNDED, PanelForm.CUT])
def test_panels_of_other_shapes_are_verified(form):
    """The boxes of the faces are what must lie inside."""
    corner_mm = None if form is PanelForm.OVAL else 4.0
    job = a_job(
        "Tides of Wrackness", THREE, panel=Panel(width_mm=30, height_mm=24),
        shape=Shape(form=form, corner_mm=corner_mm),
    )  # fmt: skip
    report = check(job, verify=True)
    assert report.fits
    assert report.recommended is not None
    assert report.layouts[report.recommended].set_pt in (7, 8, 14)


HUGE = Tools(name="huge", sizes=(even(6.0, 5.0, body_pt=24.0), even(9.0, 8.0, body_pt=36.0)))


def test_where_all_sizes_are_larger_than_wanted_the_smallest_is_taken():
    """No eye asks for capitals of 6 mm at arm's length; those of 9 mm would fit as well."""
    job = a_job("TIDE", HUGE, panel=Panel(width_mm=40.0, height_mm=40.0))
    one = one_line(check(job), Orientation.TRANSVERSE)
    assert (one.set_pt, one.set_by) == (24.0, SetBy.ADVISED)
    assert one.largest_pt >= 36


def test_the_largest_is_of_tools_that_fit_though_others_are_nearer_to_the_size_asked_for():
    """33 pt is in no drawer; 36 pt, which is nearer, does not fit, and 24 pt does."""
    job = a_job("TIDE", HUGE, size_pt=33.0)
    one = one_line(check(job), Orientation.TRANSVERSE)
    assert not one.fits
    assert 24 <= one.largest_pt < 33
    assert one.largest_pt == one_line(check(a_job("TIDE", HUGE)), one.orientation).largest_pt
