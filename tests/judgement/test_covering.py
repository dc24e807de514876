"""Lettering that stands on the back already: is it covered, and does that govern?

The arithmetic of every case is done by hand here: what is free between the joints, where the
panels are, and the old ink grown by the overlap.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, catalogue, check
from spinefit.errors import FieldError
from spinefit.job import values
from spinefit.job.model import Shape, Spine
from spinefit.job.places import FrontBoard
from spinefit.job.values import OldLettering, Panel
from spinefit.say.as_json import to_dict
from spinefit.say.remedies import remedies
from spinefit.vocabulary import Level, Orientation, PanelForm, Verdict

OVERLAP_MM = catalogue.rules().value("rework.overlap_mm")
LABEL_EDGE_MM = 1.25  # from joint to label
HEAD_MM, FOOT_MM = 3.0, 3.0  # kept free: headcap and turn-in
BAND_MM, BAND_CLEAR_MM, TAIL_RATIO = 4.0, 1.0, 1.1
WHY = ("width", "height", "outside", "shape", "met")


def old_ink(typed: str) -> OldLettering:
    """Old lettering as it is typed, ``WxH`` or ``WxH@D``."""
    sides, _at, head = typed.partition("@")
    width, height = map(float, sides.split("x"))
    return OldLettering(
        width_mm=width, height_mm=height, from_head_mm=float(head) if head else None
    )


def a_job(title="The Harbour Light", *, old="20x12@60", spine=None, **fields) -> Job:
    back = None
    if fields.get("panel") is None and fields.get("front_board") is None:
        back = Spine(**({"width_mm": 32.0, "height_mm": 240.0} | (spine or {})))
    fields = {"method": "paper-label", **fields}
    return Job(title=title, spine=back, old_lettering=old and old_ink(old), **fields)


def found(report) -> dict:
    return {finding.topic.removeprefix("old-lettering-"): finding for finding in report.findings}


def why(report) -> str:
    """The fault that is found, "" for none."""
    own = [
        topic
        for topic, finding in found(report).items()
        if topic in WHY and finding.level is Level.FAILURE
    ]
    assert len(own) <= 1
    return "".join(own)


def arc_mm(width_mm: float, rise_mm: float | None) -> float:
    """A circular segment's arc, by chord and rise."""
    if rise_mm is None:
        return width_mm
    half_rad = 2 * math.atan(2 * rise_mm / width_mm)
    return width_mm / math.sin(half_rad) * half_rad


def panels_mm(height_mm: float, bands: int) -> list[tuple[float, float]]:
    """From the head, where each panel begins and ends."""
    part_mm = height_mm / (bands + TAIL_RATIO)
    away_mm = BAND_MM / 2 + BAND_CLEAR_MM
    begins = [HEAD_MM, *(part_mm * at + away_mm for at in range(1, bands + 1))]
    ends = [*(part_mm * at - away_mm for at in range(1, bands + 1)), height_mm - FOOT_MM]
    return list(zip(begins, ends, strict=True))


class Case(NamedTuple):
    """A back, and old lettering on it."""

    width_mm: float
    old: str
    bands: int = 0
    rise_mm: float | None = None
    height_mm: float = 240.0
    panel: int | None = None

    @property
    def job(self) -> Job:
        spine = {
            "width_mm": self.width_mm, "height_mm": self.height_mm, "bands": self.bands or None,
            "rise_mm": self.rise_mm, "title_panel": self.panel,
        }  # fmt: skip
        return a_job("Tides", old=self.old, spine=spine)


def by_hand(case: Case) -> str:
    """Which side cannot be covered, by plain arithmetic; "" where a label does."""
    old = old_ink(case.old)
    room_mm = arc_mm(case.width_mm, case.rise_mm) - 2 * LABEL_EDGE_MM
    if old.width_mm + 2 * OVERLAP_MM > room_mm + 1e-6:
        return "width"
    panels = panels_mm(case.height_mm, case.bands)
    part_mm = case.height_mm / (case.bands + TAIL_RATIO)
    number = case.panel
    if number is None and old.from_head_mm is not None:
        number = 1 + sum(
            part_mm * at < old.from_head_mm + old.height_mm / 2 for at in range(1, case.bands + 1)
        )
    begins, ends = panels[(number or min(2, case.bands + 1)) - 1]
    if old.height_mm + 2 * OVERLAP_MM > ends - begins + 1e-6:
        return "height"
    if old.from_head_mm is None:
        return ""
    upper, lower = old.from_head_mm - OVERLAP_MM, old.from_head_mm + old.height_mm + OVERLAP_MM
    return "" if upper > begins - 1e-6 and lower < ends + 1e-6 else "outside"


CASES = [
    *(Case(width, "20x30@60") for width in (26.4, 26.5, 27, 32, 60)),
    *(Case(width, "24x20") for width in (30, 30.4, 30.5, 34)),
    *(Case(32, f"20x12@{at}") for at in (0, 3, 4.9, 5, 5.1, 100, 222, 223, 223.1, 228)),
    *(Case(32, f"20x{high}") for high in (3, 60, 229, 230, 231)),
    *(Case(32, f"20x10@{at}", bands=5) for at in (5, 20, 44, 44.4, 62, 66, 70, 74, 102, 210)),
    *(Case(32, f"20x{high}", bands=5) for high in (20, 29, 30)),
    *(Case(32, "20x10@102", bands=5, panel=panel) for panel in (1, 2, 3, 4)),
    *(Case(32, f"{wide}x12@60", rise_mm=9) for wide in (27, 31, 33.5, 34.5)),
    *(Case(45, f"{wide}x12@60", rise_mm=22.5, bands=4) for wide in (50, 63, 64.3, 66)),
    Case(7, "1x40@40"), Case(12, "6x100@30", height_mm=150), Case(12, "6x100@50", height_mm=150),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_back_covers_old_lettering_by_hand_too(case):
    report = check(case.job)
    assert why(report) == by_hand(case)
    assert report.fits is (by_hand(case) == "")
    assert (report.verdict is Verdict.DOES_NOT_FIT) is not report.fits
    assert report.old_lettering.hidden is report.fits
    assert all(one.fits is False for one in report.layouts) or report.fits


_BACKS = st.fixed_dictionaries({
    "width_mm": st.integers(10, 60),
    "height_mm": st.integers(120, 330),
    "bands": st.sampled_from([None, None, 4, 5]),
})  # fmt: skip


@settings(deadline=None)
@given(
    st.sampled_from(["Tides", "The Harbour Light", "Quays and Piers of the Coast, Part 2"]),
    _BACKS,
    st.sampled_from([None, 0.1, 0.3, 0.5]),
    st.tuples(st.floats(0.05, 1.2), st.integers(2, 70), st.one_of(st.none(), st.floats(0, 1))),
    st.sampled_from([None, 2.5, 3.0]),
    st.sampled_from([None, Orientation.TRANSVERSE, Orientation.LONGITUDINAL]),
    st.sampled_from(["paper-label", "leather-label"]),
)
def test_whenever_it_fits_the_label_covers_and_keeps_to_the_back(
    title, back, rise, ink, overlap_mm, orientation, method
):
    """The polygons: old ink grown by the overlap, in the label, in what is free of the panel."""
    width_mm, height_mm, bands = back["width_mm"], back["height_mm"], back["bands"] or 0
    rise_mm = None if rise is None else rise * width_mm
    wide, high_mm, at = ink
    from_head_mm = None if at is None else round(at * (height_mm - high_mm), 2)
    lettering = Lettering(orientation=orientation)
    job = a_job(
        title, old=None, spine={**back, "rise_mm": rise_mm}, method=method, lettering=lettering
    )
    old = OldLettering(
        width_mm=round(wide * width_mm, 1), height_mm=high_mm, from_head_mm=from_head_mm
    )
    job = replace(job, overlap_mm=overlap_mm)
    report = check(replace(job, old_lettering=old))
    if not report.fits:
        return
    over = report.old_lettering
    arc = arc_mm(width_mm, rise_mm) / 2 - LABEL_EDGE_MM
    begins, ends = panels_mm(height_mm, bands)[(report.panel.number or 1) - 1]
    room = shapely.box(-arc, -ends, arc, -begins)
    half, top = over.label_width_mm / 2, -over.label_from_head_mm
    label = shapely.box(-half, top - over.label_height_mm, half, top)
    beyond = OVERLAP_MM if overlap_mm is None else overlap_mm
    middle = top - over.label_height_mm / 2
    if from_head_mm is not None:
        middle = -from_head_mm - high_mm / 2
    reach_x, reach_y = old.width_mm / 2 + beyond, high_mm / 2 + beyond
    grown = shapely.box(-reach_x, middle - reach_y, reach_x, middle + reach_y)
    assert label.buffer(1e-6).covers(grown)
    assert room.buffer(1e-6).covers(label)
    shown = report.layouts[report.recommended]
    ink_mm = shown.ink_height_mm
    if shown.orientation is Orientation.LONGITUDINAL:
        ink_mm = shown.ink_width_mm
    assert ink_mm < over.label_height_mm  # the lettering is on it


def test_the_label_is_the_answer_and_stands_over_the_old_ink():
    """20 x 30 mm, 60 mm down: 34 mm high from 58 mm; two joints of 1.25 mm leave 29.5 mm."""
    report = check(a_job(old="20x30@60"))
    assert "on a label of 29.5 x 34 mm over the old lettering" in report.answer
    over = to_dict(report)["old_lettering"]
    assert over["label_from_head_mm"] == pytest.approx(58)
    assert (over["label_width_mm"], over["label_height_mm"]) == (29.5, 34)
    shown = report.layouts[report.recommended]
    margin_mm = 1.5 + 0.35  # inside the label, and its frame line
    middle_mm = HEAD_MM + margin_mm + shown.spare_mm.head + shown.ink_height_mm / 2
    assert middle_mm == pytest.approx(75)
    assert not any(one.change == "cover-old" for one in remedies(report))


def test_what_was_measured_of_the_old_ink_is_measured_again():
    found = {one.what: one.values for one in check(a_job()).measurements}
    assert [found[f"old-{what}"] for what in ("width", "height", "from-head")] == [
        (20,), (12,), (60,)
    ]  # fmt: skip


def test_lettering_along_the_back_is_moved_over_the_old_ink():
    along = Lettering(orientation=Orientation.LONGITUDINAL, size_pt=19.5)
    alone, report = check(a_job(old=None, lettering=along)), check(a_job(lettering=along))
    over, (shown, before) = report.old_lettering, (
        one.layouts[one.recommended] for one in (report, alone)
    )  # fmt: skip
    assert shown.largest_pt == before.largest_pt  # the whole back may be label
    assert over.label_from_head_mm + over.label_height_mm / 2 == pytest.approx(66)
    assert shown.first_from_head_mm + shown.ink_width_mm / 2 == pytest.approx(66, abs=0.01)


def test_old_ink_chooses_its_panel_unless_one_was_typed():
    report = check(a_job(old="20x10@102", spine={"bands": 5}))
    assert report.panel.number == 3
    assert "title panel: number 3 from the head, with the old lettering" in report.assumed
    typed = check(a_job(old="20x10@102", spine={"bands": 5, "title_panel": 2}))
    assert not typed.fits
    assert "panel 2 reaches from 42.3 to 75.7 mm" in typed.answer
    (remedy,) = [one for one in remedies(typed) if one.change == "old-panel"]
    assert remedy.options == "--title-panel 3"
    assert "over the old lettering" in remedy.text


def test_where_no_panel_covers_another_one_is_named_and_a_conservator():
    """Old lettering over a band: panel 2 or 3 would be reached into, 4 is clear."""
    report = check(a_job(old="20x10@74", spine={"bands": 5}))
    text = found(report)["outside"].text
    assert "ask a conservator" in text
    assert "taking it off damages leather" in text
    (remedy,) = [one for one in remedies(report) if one.change == "old-panel"]
    assert remedy.text.startswith("Letter panel 4 and leave the old lettering in view")


def test_the_overlap_is_the_binders():
    report = check(a_job("Tides", overlap_mm=3.5))
    assert report.old_lettering.overlap_mm == 3.5
    assert report.old_lettering.label_height_mm == 19
    assert not any(text.startswith("overlap") for text in report.assumed)
    assert any(text.startswith("overlap: 2 mm") for text in check(a_job()).assumed)


def test_a_label_is_meant_where_no_method_is_said():
    report = check(a_job(method=None))
    assert report.method.key == "paper-label"
    assert "method: a printed paper label" in report.assumed


def test_what_to_mind_stands_among_the_cautions():
    assert "opaque label" in check(a_job()).method.cautions[-1]
    assert check(a_job(old=None)).method.cautions == check(a_job()).method.cautions[:-1]


@pytest.mark.parametrize(("width", "covers"), [(24.0, True), (23.9, False)])
def test_a_label_already_cut_covers_or_shows_what_is_under_it(width, covers):
    panel = Panel(width_mm=width, height_mm=30.0)
    report = check(a_job("Tides", old="20x12", panel=panel))
    assert report.fits is covers
    assert why(report) == ("" if covers else "width")
    larger = [one for one in remedies(report) if one.change == "cover-old"]
    assert bool(larger) is not covers
    assert all(one.options.startswith("--panel 24x30mm") for one in larger)


def test_a_cut_label_covers_with_all_of_its_shape():
    """An oval of 40 x 30 mm holds a box of 24 x 16 mm; of 28 x 22 mm not: 0.7^2 + 0.73^2 > 1."""
    oval = {"panel": Panel(width_mm=40, height_mm=30), "shape": Shape(form=PanelForm.OVAL)}
    assert why(check(a_job("Tides", old="20x12", **oval))) == ""
    assert why(check(a_job("Tides", old="24x18", **oval))) == "shape"


def test_a_label_on_a_front_board_is_no_smaller_than_what_it_covers():
    board = FrontBoard(board=Panel(width_mm=150, height_mm=230))
    report = check(a_job("Tides", old="60x40", front_board=board))
    assert (report.front_board.label_width_mm, report.front_board.label_height_mm) == (64, 44)


@pytest.mark.parametrize("method", ["hand-letters", "type-holder"])
def test_straight_on_the_back_nothing_is_hidden(method):
    """Old ink where custom puts the title: that goes into the middle of the free part, below.

    Of 240 mm 3 are kept free at each end, so that 47 to 52 mm stay above the old, 72 to 237 below.
    """
    lettering = Lettering(orientation=Orientation.TRANSVERSE)
    job = a_job("Tides", old="20x20@50", method=method, lettering=lettering)
    assert check(replace(job, old_lettering=None)).fits
    report = check(job)
    assert report.fits
    assert "clear of the old lettering, which stays in view" in report.answer
    assert not report.old_lettering.hidden
    assert report.panel.height_mm == pytest.approx(237 - 72)
    shown = report.layouts[report.recommended]
    assert shown.spare_mm.head == pytest.approx(shown.spare_mm.tail, abs=0.01)
    above = check(replace(job, spine=replace(job.spine, from_head_mm=25.0)))
    assert above.panel.height_mm == pytest.approx(48 - 3)
    everywhere = check(replace(job, old_lettering=old_ink("20x235@2")))
    assert why(everywhere) == "met"
    assert "the old lettering cannot hide it" in everywhere.answer


@given(
    st.integers(0, 210),
    st.integers(10, 60),
    st.sampled_from([Orientation.TRANSVERSE, Orientation.LONGITUDINAL]),
)
@settings(deadline=None, max_examples=60)
def test_beside_old_lettering_the_largest_is_the_largest_that_keeps_clear(at, high, way):
    """Asked for, the largest fits, and more does not."""
    lettering = Lettering(orientation=way)
    job = a_job(
        old=f"20x{high}@{min(at, 239 - high)}", method="paperback-cover", lettering=lettering
    )
    for one in check(job).layouts:
        asked = replace(lettering, size_pt=one.largest_pt, lines=len(one.lines))
        if one.fits:
            own = [each for each in check(replace(job, lettering=asked)).layouts if each.fits]
            assert one.lines in [each.lines for each in own]
            more = replace(asked, size_pt=one.largest_pt + 0.05)
            own = [each for each in check(replace(job, lettering=more)).layouts if each.fits]
            assert one.lines not in [each.lines for each in own]


def test_old_lettering_of_unknown_place_is_not_said_to_be_clear():
    report = check(a_job("Tides", old="20x12", method="hand-letters"))
    assert why(report) == "met"
    assert "its distance from the head, as in 20x30@60mm, would tell" in report.answer


def test_another_panel_leaves_the_old_in_view():
    job = a_job(
        "Tides", old="20x27@46", spine={"bands": 5, "title_panel": 2}, method="hand-letters"
    )
    report = check(job)
    assert not report.fits
    changes = {one.change: one for one in remedies(report)}
    assert changes["old-panel"].options == "--title-panel 3"
    for panel in (3, None):  # typed, and taken of itself
        there = check(replace(job, spine=replace(job.spine, title_panel=panel)))
        assert there.panel.number == 3
        assert there.layouts[there.recommended].largest_pt == changes["old-panel"].largest_pt


def test_old_lettering_said_to_stay_in_view_is_not_covered():
    """A label then keeps clear of it, in the longer part of the back."""
    job = a_job("Tides", old="20x30@60")
    stays = check(replace(job, old_lettering=replace(job.old_lettering, in_view=True)))
    assert stays.fits
    assert not stays.old_lettering.hidden
    assert stays.panel.height_mm == pytest.approx(237 - 92)
    assert values.old_lettering("20x30@60mm in view").in_view
    assert not values.old_lettering("20x30@60mm").in_view


def test_tooled_letters_stay_tooled_on_the_label():
    report = check(a_job("Tides", method="hand-letters"))
    (remedy,) = [one for one in remedies(report) if one.change == "cover-old"]
    assert remedy.options.startswith("--panel 24x16mm --method hand-letters --clearance 2")


@pytest.mark.parametrize(
    ("job", "said"),
    [
        (a_job(old=None, overlap_mm=2), "overlap_mm: an overlap over what"),
        (a_job(old="20x12@235"), "beyond the tail"),
        (a_job(old="20x12@5", panel=Panel(width_mm=40, height_mm=30)), "no back to measure"),
        (a_job(old="0x12"), "old_lettering"),
    ],
)
def test_what_cannot_be_is_refused(job, said):
    with pytest.raises(FieldError, match=said):
        check(job)
