"""Whole jobs, from what was said to the report."""

from __future__ import annotations

import math
import sys
from dataclasses import replace

import pytest

from spinefit import Job, Lettering, Panel, Shape, Spine, SpinefitError, check
from spinefit.errors import FieldError, ImpossibleBackError, JobError, MissingCharacterError
from spinefit.job.values import KeepFree
from spinefit.vocabulary import (
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    LimitedBy,
    Measured,
    Orientation,
    PanelForm,
    Reading,
    Verdict,
)

ACROSS, ALONG, PILLAR = Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR


def a_job(title="The Harbour Light", *, spine=None, panel=None, **fields) -> Job:
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    return Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)


def a_report(title="The Harbour Light", **fields):
    return check(a_job(title, **fields), verify=True)


def the_layout(report, orientation=ACROSS, lines=1):
    return next(
        one
        for one in report.layouts
        if one.orientation is orientation and len(one.lines) == lines and not one.over_bands
    )


# --- a panel given outright --------------------------------------------------------------


def test_a_panel_is_taken_as_it_stands():
    """No allowance is taken, and the ink is centred both ways."""
    report = a_report("Quay", panel=Panel(width_mm=30.0, height_mm=18.0), size_pt=14.0)
    assert (report.panel.width_mm, report.panel.height_mm) == (30.0, 18.0)
    for one in report.layouts:
        assert one.spare_mm.left == pytest.approx(one.spare_mm.right)
        assert one.spare_mm.head == pytest.approx(one.spare_mm.tail)


def test_the_largest_in_a_panel_by_hand():
    """Two divisions: room over ink, across and along; the lesser of the two."""
    bare = the_layout(a_report("HEI", panel=Panel(width_mm=30.0, height_mm=900.0), size_pt=10.0))
    for width, height, kept in ((30.0, 18.0, 0.0), (30.0, 6.0, 0.5), (12.0, 40.0, 2.0)):
        one = the_layout(
            a_report("HEI", panel=Panel(width_mm=width, height_mm=height), clearance_mm=kept)
        )
        sizes = (
            10.0 * (width - 2 * kept) / bare.ink_width_mm,
            10.0 * (height - 2 * kept) / bare.ink_height_mm,
        )
        assert one.largest_pt == pytest.approx(min(sizes), abs=1.001e-3)
        assert one.largest_pt <= min(sizes)
        assert one.limited_by is (LimitedBy.WIDTH if sizes[0] < sizes[1] else LimitedBy.HEIGHT)


def test_turning_the_panel_turns_the_answer():
    """What fits across a 30 x 18 panel fits along an 18 x 30 one."""
    across = a_report(panel=Panel(width_mm=30.0, height_mm=18.0), orientation=ACROSS)
    along = a_report(panel=Panel(width_mm=18.0, height_mm=30.0), orientation=ALONG)
    for one in across.layouts:
        for other in along.layouts:
            if one.lines == other.lines:
                assert one.largest_pt == pytest.approx(other.largest_pt, abs=1.001e-3)


def test_a_typed_clearance_that_leaves_nothing_is_refused():
    """Section 7: typed allowances that leave nothing are bad input."""
    with pytest.raises(ImpossibleBackError, match="clearance") as fault:
        a_report(panel=Panel(width_mm=30.0, height_mm=6.0), clearance_mm=3.0)
    assert fault.value.where == "lettering.clearance_mm"


def test_a_default_clearance_that_leaves_nothing_does_not_fit():
    """A label's own margins are more than a label 3 mm high has."""
    report = a_report(panel=Panel(width_mm=30.0, height_mm=3.0), method="paper-label")
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert all(one.largest_pt == 0 for one in report.layouts)


@pytest.mark.parametrize(
    "shape",
    [
        Shape(form=PanelForm.OVAL),
        Shape(form=PanelForm.ROUNDED, corner_mm=4.0),
        Shape(form=PanelForm.CUT, corner_mm=4.0),
        Shape(form=PanelForm.POLYGON, outline_mm=((-15, -10), (15, -10), (0, 10))),
        Shape(keep_free=(KeepFree(width_mm=4.0, height_mm=4.0, x_mm=11.0, y_mm=6.0),)),
        Shape(keep_free=(KeepFree(width_mm=4.0, height_mm=4.0),)),
    ],
    ids=lambda shape: f"{shape.form}{len(shape.keep_free)}",
)
@pytest.mark.parametrize("clearance", [0.0, 0.7])
def test_a_shape_never_takes_more_than_its_rectangle(shape, clearance):
    """And the geometry engine agrees with every answer."""
    panel = Panel(width_mm=30.0, height_mm=20.0)
    plain = a_report(panel=panel, clearance_mm=clearance, lines=2)
    shaped = a_report(panel=panel, shape=shape, clearance_mm=clearance, lines=2)
    most = {one.lines: one.largest_pt for one in plain.layouts}
    for one in shaped.layouts:
        if one.lines in most and not shape.keep_free:
            assert (
                one.largest_pt
                <= max(
                    other.largest_pt
                    for other in plain.layouts
                    if other.orientation is one.orientation
                )
                + 1e-3
            )


# --- backs -------------------------------------------------------------------------------


def test_a_wide_and_a_narrow_back():
    """The reading-room's two commonest answers."""
    wide, narrow = a_report(spine={"width_mm": 40.0}), a_report(spine={"width_mm": 9.0})
    assert wide.layouts[wide.recommended].orientation is ACROSS
    assert narrow.layouts[narrow.recommended].orientation is ALONG


def test_the_panel_is_what_the_allowances_leave():
    for width, usable in ((9.0, 7.0), (20.0, 16.0), (40.0, 34.0)):
        panel = a_report(spine={"width_mm": width, "head_mm": 5.0, "foot_mm": 30.0}).panel
        assert (panel.width_mm, panel.height_mm) == pytest.approx((usable, 165.0))


def test_published_panels_of_five_bands():
    """H 222 with a tail ratio of 1.1: parts of 36.39 mm, the tail 40.03 (trade facts, 3.1)."""
    part = 222 / 6.1
    spine = {"height_mm": 222.0, "bands": 5, "band_height_mm": 4.0, "band_clearance_mm": 1.0}
    assert part == pytest.approx(36.39, abs=0.005)
    report = a_report(spine=spine | {"title_panel": 3})
    assert report.panel.number == 3
    assert report.panel.height_mm == pytest.approx(part - 4.0 - 2.0)


def test_a_round_of_radius_25_has_its_arc():
    """Chord 30, rise 5: arc 32.175 less the edges."""
    spine = {"width_mm": 30.0, "rise_mm": 5.0, "edge_mm": 2.0}
    report = a_report(spine=spine)
    assert report.panel.developed
    assert report.panel.width_mm == pytest.approx(32.175 - 4.0, abs=1e-3)
    limited = a_report(spine=spine | {"max_angle_deg": 20.0})
    assert limited.panel.width_mm == pytest.approx(2 * 25.0 * math.radians(20.0))
    assert limited.layouts[0].limited_by is LimitedBy.ANGLE


def test_over_boards_is_the_back_less_the_boards():
    spine = {"width_mm": 25.0, "measured": Measured.OVER_BOARDS, "board_mm": 2.5}
    boards, back = a_report(spine=spine), a_report(spine={"width_mm": 20.0})
    assert boards.layouts == back.layouts


@pytest.mark.parametrize(
    ("spine", "error"),
    [
        ({"foot_mm": 250.0}, ImpossibleBackError),
        ({"head_mm": 100.0, "foot_mm": 100.0}, ImpossibleBackError),
        ({"edge_mm": 10.0}, ImpossibleBackError),
        ({"bands": 40, "band_height_mm": 6.0}, ImpossibleBackError),
        ({"bands": 5, "title_panel": 7}, JobError),
        ({"bands": 5, "title_panel": 0}, JobError),
        ({"title_panel": 2}, JobError),
        ({"rise_mm": 0.0}, JobError),
        ({"rise_mm": 10.5}, ImpossibleBackError),
        ({"radius_mm": 9.5}, ImpossibleBackError),
        ({"arc_mm": 20.0}, ImpossibleBackError),
        ({"arc_mm": 31.5}, ImpossibleBackError),
        ({"bands": 2, "bands_at_mm": (50.0, 210.0)}, JobError),
    ],
    ids=str,
)
def test_a_back_that_cannot_be_is_refused(spine, error):
    with pytest.raises(error) as fault:
        a_report(spine=spine)
    assert fault.value.where.startswith("spine.")
    assert fault.value.remedy or fault.value.value is not None


def test_default_allowances_that_leave_nothing_are_a_result():
    assert a_report(spine={"width_mm": 2.0}).verdict is Verdict.DOES_NOT_FIT
    assert a_report(spine={"height_mm": 8.0}).verdict is Verdict.DOES_NOT_FIT


# --- placing -----------------------------------------------------------------------------


def test_a_q_moves_no_line_where_capitals_are_centred():
    """Volumes of a set: the baseline stays where it is from title to title."""
    for centre in (None, Centre.AUTO, Centre.CAPITALS):
        baselines = {
            the_layout(a_report(title, size_pt=12.0, centre=centre), ALONG).baselines_mm
            for title in ("TIDES", "QUAYS", "ÉTÉS")
        }
        assert len(baselines) == 1


def test_ink_is_centred_where_that_was_asked():
    one = the_layout(a_report("QUAY", size_pt=12.0, centre=Centre.INK), ALONG)
    assert one.spare_mm.left == pytest.approx(one.spare_mm.right)


def test_every_limit_belongs_to_its_placing():
    """At the largest size the nearer side has nothing to spare, and the other has."""
    limit = the_layout(a_report("QUAY"), ALONG).largest_pt
    one = the_layout(a_report("QUAY", size_pt=limit), ALONG)
    assert min(one.spare_mm.left, one.spare_mm.right) == pytest.approx(0, abs=1e-3)
    assert max(one.spare_mm.left, one.spare_mm.right) > 0.1
    ink = the_layout(a_report("QUAY", centre=Centre.INK), ALONG).largest_pt
    assert ink > limit


def test_lettering_across_stands_a_quarter_down():
    one = the_layout(a_report("HEI", size_pt=12.0, spine={"height_mm": 240.0}))
    middle = 4.0 + one.spare_mm.head + one.ink_height_mm / 2
    assert middle == pytest.approx(60.0)


def test_lettering_across_in_a_panel_stands_in_its_middle():
    one = the_layout(a_report("HEI", size_pt=12.0, spine={"bands": 5}))
    assert one.spare_mm.head == pytest.approx(one.spare_mm.tail)


# --- mirrored and turned -----------------------------------------------------------------


@pytest.mark.parametrize("title", ["Tides", "QUAY gj", "The Harbour Light"])
def test_descending_and_ascending_mirror_each_other(title):
    """The same sizes, the sides changed over."""
    down, up = (
        a_report(title, reading=reading) for reading in (Reading.DESCENDING, Reading.ASCENDING)
    )
    for one, other in zip(down.layouts, up.layouts, strict=True):
        assert one.largest_pt == other.largest_pt
        if one.orientation is ALONG:
            assert (one.spare_mm.left, one.spare_mm.right) == pytest.approx(
                (other.spare_mm.right, other.spare_mm.left)
            )


def test_the_binding_side_changes_no_size():
    left, right = (
        a_report(spine={"binding_side": side}) for side in (BindingSide.LEFT, BindingSide.RIGHT)
    )
    assert [one.largest_pt for one in left.layouts] == [one.largest_pt for one in right.layouts]


# --- scripts -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("title", "market", "font"),
    [
        ("Φάρος στο λιμάνι", "GR", "EB Garamond"),
        ("Маяк в гавани", "RU", "EB Garamond"),
        ("Möwe und Straße", "DE", "Libre Baskerville"),
        ("Işık İzi", "TR", "EB Garamond"),
    ],
)
@pytest.mark.parametrize("case", [None, Case.CAPITALS])
def test_the_scripts_of_the_bundled_fonts(title, market, font, case):
    """An answer in every language, with letters standing inside."""
    report = a_report(title, market=market, font=font, case=case)
    assert report.fits


def test_a_missing_character_is_an_error_and_no_verdict():
    with pytest.raises(MissingCharacterError):
        a_report("Φάρος", font="Libre Baskerville")


# --- the same job said otherwise ---------------------------------------------------------


def test_millimetres_and_inches_agree():
    """Through the parser, as a person types it."""
    from spinefit.job.lengths import parse_length

    inches = {"width_mm": parse_length("3/4in"), "height_mm": parse_length("8in")}
    mm = {"width_mm": 19.05, "height_mm": 203.2}
    one, other = a_report(spine=inches), a_report(spine=mm)
    assert [layout.largest_pt for layout in one.layouts] == pytest.approx(
        [layout.largest_pt for layout in other.layouts], abs=1.001e-3
    )


def test_the_same_job_gives_the_same_report():
    """Nothing is kept from one job to the next."""
    jobs = [a_job(), a_job("Tides"), a_job(spine={"bands": 5}), a_job(break_words=BreakWords.PLAIN)]
    first = [check(job) for job in jobs]
    assert [check(job) for job in reversed(jobs)] == first[::-1]


def test_verifying_changes_nothing():
    for job in (a_job(), a_job("Tides", panel=Panel(width_mm=12.0, height_mm=30.0))):
        assert check(job, verify=True) == check(job)


def test_a_forced_title_in_one_line_is_refused_and_in_two_given():
    with pytest.raises(FieldError):
        a_report("Harbour / Light", lines=1)
    assert {one.lines for one in a_report("Harbour / Light", lines=2).layouts} == {
        ("Harbour", "Light")
    }


def test_slashes_of_a_catalogue_are_lettered():
    report = check(replace(a_job("Tides / A. Binder"), slash_breaks=False))
    assert report.title == "Tides / A. Binder"


def test_every_fault_is_one_of_ours():
    """Fields of the wrong kind are refused, never a traceback from inside."""
    for job in (
        a_job(font="no such font"),
        a_job("\x00"),
        a_job(""),
        a_job(market="XX"),
        a_job(method="dictation"),
        a_job(spine={"width_mm": math.nan}),
        a_job(spine={"width_mm": "9mm"}),
        a_job(spine={"back": BackForm.FLAT, "rise_mm": 3.0}),
        a_job(lines=99),
        a_job(size_pt=math.inf),
    ):
        with pytest.raises(SpinefitError) as fault:
            check(job)
        assert "\n" not in str(fault.value)


def test_an_empty_market_is_no_market():
    """Nothing between the quotes is no ISO 3166 code."""
    with pytest.raises(FieldError):
        a_report(market="")


def test_the_public_names():
    """What the package lists is what it has, in order, and nothing that it hides."""
    import spinefit

    assert list(spinefit.__all__) == sorted(spinefit.__all__)
    assert all(hasattr(spinefit, name) for name in spinefit.__all__)
    assert set(dir(spinefit)) == set(spinefit.__all__)
    with pytest.raises(AttributeError, match="nonesuch"):
        spinefit.nonesuch  # noqa: B018


def calls_of_a_check(title: str) -> int:
    """How many functions a check of a title calls, its font being open already."""
    job = Job(title=title, spine=Spine(width_mm=24.0, height_mm=210.0))
    check(replace(job, lettering=Lettering(tracking=1)))
    count = 0

    def called(_frame: object, event: str, _of: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(called)
    try:
        report = check(job)
        assert report.answer
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize(
    ("plain", "marked"),
    [
        (
            "The northern coast tide tables of storms",
            "The (northern) coast: tide, tables #3, x",
        ),
        (
            "The parish wreck registers and fog signal book",
            "The [parish] wreck registers – #12, 1848–1870/",
        ),
    ],
)
def test_a_title_full_of_marks_takes_little_longer_than_a_plain_one(plain, marked):
    """In calls of functions, which a busy machine does not change: at most half as many again."""
    assert len(plain) == len(marked)
    assert calls_of_a_check(marked) <= 1.5 * calls_of_a_check(plain)
