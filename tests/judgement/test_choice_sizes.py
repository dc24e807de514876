"""The size each layout is judged at, what is spare there, and whether it can be placed."""

from __future__ import annotations

import math

import pytest

from spinefit import catalogue
from spinefit.catalogue import Method
from spinefit.geometry import outright_panel, usable_panel
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.judgement.sizing import judge_layouts
from spinefit.layout import search
from spinefit.shaping import shape_title
from spinefit.units import arcminutes_of, mm_from_pt, pt_from_mm
from spinefit.vocabulary import BackForm, Case, Orientation, SetBy, Sourced, Status, Work

ACROSS, ALONG, PILLAR = Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR


def a_method(smallest: float, step: float, placing: float) -> Method:
    def row(value: float, unit: str) -> Sourced:
        return Sourced(value, unit, "a test", Status.PRACTICE)

    return Method(
        key="test",
        name="test",
        smallest=row(smallest, "pt"),
        step=row(step, "pt"),
        placing=row(placing, "mm"),
    )


def judged(title="The Harbour Light", *, spine=None, panel=None, method=None, rules=None, **fields):
    """Resolved job, shaped title and every judged layout."""
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    if isinstance(method, str):
        fields["method"] = method
    job = Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)
    resolved = resolve(job)
    if isinstance(method, Method):
        resolved = resolved._replace(method=method)
    if rules is not None:
        resolved = resolved._replace(rules=resolved.rules.replaced(**rules))
    shaped = shape_title(resolved)
    if resolved.spine is not None:
        room = usable_panel(resolved.spine, resolved.shape, resolved.rules)
    else:
        room = outright_panel(resolved.panel, resolved.shape)
    words = catalogue.title_words(resolved.language)
    return resolved, shaped, judge_layouts(resolved, shaped, search(resolved, shaped, room, words))


def one_of(all_judged, orientation, lines=1):
    return next(
        one
        for one in all_judged
        if one.layout.candidate.orientation is orientation
        and len(one.layout.group.texts) == lines
        and not one.layout.over_bands
    )


def by_hand(resolved, title, one) -> float:
    """Nine tenths of the largest; across what eyes ask for, along what covers of that width have.

    Capitals of 0.45 of the back and 12 mm at most, ink of 0.6 of it; at least the floor.
    """
    largest = one.layout.limit.size_mm / (25.4 / 72)
    capital_mm = 2 * resolved.reading_distance_mm * math.tan(math.radians(31 / 60) / 2)
    aim = capital_mm / title.cap_height_em
    if one.orientation is ALONG:
        width, (_left, bottom, _right, top) = resolved.spine.width_mm, one.layout.group.box
        capital_mm = min(0.45 * width, 12.0)
        aim = min(capital_mm / title.cap_height_em, 0.6 * width / (top - bottom))
    step = resolved.method.step.value
    size = math.floor(min(0.9 * largest, aim / (25.4 / 72)) / step + 1e-6) * step
    return max(size, resolved.method.smallest.value)


@pytest.mark.parametrize("width", [3.0, 6.0, 9.0, 14.0, 30.0, 60.0])
@pytest.mark.parametrize("distance", [300.0, 500.0, 2000.0])
@pytest.mark.parametrize("method", [None, a_method(8.0, 1.0, 1.0), a_method(6.0, 0.5, 0.2)])
def test_the_advised_size_is_exactly_the_rules(width, distance, method):
    """For every layout of a title, by arithmetic of the test's own."""
    resolved, title, layouts = judged(
        spine={"width_mm": width}, reading_distance_mm=distance, method=method
    )
    for one in layouts:
        assert one.set_by is SetBy.ADVISED
        assert one.set_pt == pytest.approx(by_hand(resolved, title, one), abs=1e-6)


def test_a_pillar_has_nine_tenths():
    resolved, title, (one,) = judged("TIDES", orientation=PILLAR, reading_distance_mm=5000.0)
    assert one.set_pt == pytest.approx(by_hand(resolved, title, one), abs=1e-6)


def test_the_shares_can_be_adjusted():
    _resolved, _title, layouts = judged(
        spine={"width_mm": 60.0},
        rules={"advised__share": 0.5},
        reading_distance_mm=9000.0,
    )
    one = one_of(layouts, ACROSS)
    assert one.set_pt == pytest.approx(math.floor(0.5 * one.largest_pt * 10 + 1e-6) / 10)


@pytest.mark.parametrize(
    ("title", "fields", "rule"),
    [
        ("The Harbour Light", {}, "paperback.along_ink"),
        ("TIDES", {}, "paperback.along_capitals"),
        ("TIDES", {"width_mm": 60.0}, "paperback.along_most_mm"),
        ("TIDES", {"height_mm": 25.0}, "advised.share"),  # the length binds
        ("TIDES", {"width_mm": 3.2}, "floor"),
        ("TIDES", {"work": Work.CASE}, "case.along_capitals"),
        ("TIDES", {"work": Work.CASE, "width_mm": 50.0}, "case.along_most_pt"),
        ("TIDES", {"work": Work.CASE, "width_mm": 10.0}, "case.along_least_pt"),
        ("TIDES", {"work": Work.LIBRARY}, "library.along_most_pt"),
        ("TIDES", {"work": Work.LEATHER}, "leather.along_capitals"),
    ],
)
def test_the_rule_that_sets_the_size_along_is_named(title, fields, rule):
    work = fields.get("work")
    spine = {name: value for name, value in fields.items() if name != "work"}
    one = one_of(judged(title, spine=spine, work=work)[2], ALONG)
    assert (one.set_by, one.set_because) == (SetBy.ADVISED, rule)


def test_the_share_of_a_label_is_of_its_own_width():
    """It stands 1.25 mm inside both joints: 16.9 mm of back take a label of 14.4."""
    _resolved, title, layouts = judged("TIDES", spine={"width_mm": 16.9}, method="paper-label")
    one = one_of(layouts, ALONG)
    step_mm = mm_from_pt(0.1) * title.cap_height_em
    assert 0.4 * 14.4 - step_mm < one.cap_height_mm <= 0.4 * 14.4


def test_small_capitals_are_graded_by_their_own_height():
    """Their full capitals reach 31 minutes of arc; what is read is mostly smaller."""
    resolved, title, layouts = judged(
        "Tides", font="EB Garamond", case=Case.SMALL_CAPITALS, spine={"width_mm": 60.0}
    )
    one = one_of(layouts, ACROSS)
    size_mm = mm_from_pt(one.set_pt)
    assert one.cap_height_mm == pytest.approx(title.x_height_em * size_mm)
    full = arcminutes_of(title.cap_height_em * size_mm, resolved.reading_distance_mm)
    assert one.arcminutes < 30.5 < full <= 31
    assert one.set_pt == pytest.approx(by_hand(resolved, title, one))


def test_the_floor_is_taken_where_the_panel_allows_it():
    """Nine tenths of 5.5 pt is under 5; the method begins at 5, and 5 fits."""
    _resolved, _title, layouts = judged(spine={"width_mm": 3.9})
    one = one_of(layouts, ALONG)
    assert 5 <= one.largest_pt < 5 / 0.9
    assert (one.set_pt, one.fits) == (5.0, True)


def test_where_no_offered_size_fits_the_smallest_is_judged():
    _resolved, _title, layouts = judged(spine={"width_mm": 3.0})
    one = one_of(layouts, ALONG)
    assert one.largest_pt < 5
    assert (one.set_pt, one.fits, one.tight) == (5.0, False, False)


def test_the_largest_is_rounded_down_to_a_thousandth():
    _resolved, _title, layouts = judged()
    for one in layouts:
        exact = pt_from_mm(one.layout.limit.size_mm)
        assert 0 <= exact - one.largest_pt < 0.001
        assert one.largest_pt == pytest.approx(round(one.largest_pt, 3), abs=1e-12)


@pytest.mark.parametrize(
    ("size", "fits"), [(4.9, False), (5.0, True), ("largest", True), ("above", False)]
)
def test_an_asked_size_fits_from_the_floor_to_the_largest(size, fits):
    """Both ends included; and it's judged at what was asked."""
    largest = one_of(judged()[2], ALONG).largest_pt
    asked = {"largest": largest, "above": largest + 0.001}.get(size, size)
    one = one_of(judged(size_pt=asked)[2], ALONG)
    assert (one.set_pt, one.set_by) == (asked, SetBy.ASKED)
    assert one.fits is fits


# --- spare and placing -------------------------------------------------------------------


def test_spare_of_lettering_across_a_back_by_hand():
    """Half the usable width less half the ink, and a quarter of the height down."""
    resolved, title, layouts = judged("HEI", size_pt=12.0)
    one = one_of(layouts, ACROSS)
    left, bottom, right, top = (edge * mm_from_pt(12.0) for edge in title.run.ink)
    across, along = right - left, top - bottom
    assert one.spare_mm.left == pytest.approx((16.0 - across) / 2)
    assert one.spare_mm.right == pytest.approx((16.0 - across) / 2)
    assert one.spare_mm.head == pytest.approx(50.0 - along / 2 - 4.0)
    assert one.spare_mm.tail == pytest.approx(150.0 - along / 2 - 4.0)
    assert one.to_edge_mm.left == pytest.approx((20.0 - across) / 2)
    assert one.to_edge_mm.head == pytest.approx(50.0 - along / 2)
    assert one.first_from_head_mm == pytest.approx(50.0 + along / 2 + bottom)
    assert resolved.spine.edge_mm == 2.0


def test_spare_of_lettering_along_a_back_by_hand():
    """Capitals stand in the middle; descending, their tops point right."""
    _resolved, title, layouts = judged("QUAY", size_pt=12.0)
    one = one_of(layouts, ALONG)
    em = mm_from_pt(12.0)
    left, bottom, right, top = title.run.ink
    middle = title.cap_height_em / 2
    assert one.spare_mm.right == pytest.approx(8.0 - (top - middle) * em)
    assert one.spare_mm.left == pytest.approx(8.0 - (middle - bottom) * em)
    assert one.spare_mm.head == pytest.approx(96.0 - (right - left) * em / 2)
    assert one.spare_mm.tail == pytest.approx(one.spare_mm.head)


def test_ascending_lines_have_their_tops_to_the_left():
    down = one_of(judged("QUAY", size_pt=12.0, market="GB")[2], ALONG).spare_mm
    up = one_of(judged("QUAY", size_pt=12.0, market="FR")[2], ALONG).spare_mm
    assert (down.left, down.right) == pytest.approx((up.right, up.left))
    assert down.left != pytest.approx(down.right)


def test_lettering_across_keeps_clear_of_the_head():
    """Where a quarter down is too near the head, it stands lower; on a low back in the middle."""
    _resolved, title, layouts = judged(
        "HEI", size_pt=30.0, spine={"width_mm": 60.0, "height_mm": 36.0}
    )
    one = one_of(layouts, ACROSS)
    along = (title.run.ink[3] - title.run.ink[1]) * mm_from_pt(30.0)
    assert 36 / 4 - along / 2 > 4 or one.spare_mm.head == pytest.approx(0.0)
    assert one.spare_mm.tail > 0
    _resolved, _title, layouts = judged(
        "HEI", size_pt=60.0, spine={"width_mm": 60.0, "height_mm": 20.0}
    )
    over = one_of(layouts, ACROSS).spare_mm
    assert over.head == pytest.approx(over.tail)
    assert over.head < 0


def test_clearance_is_taken_off_every_side():
    bare = one_of(
        judged("HEI", size_pt=12.0, panel=Panel(width_mm=30.0, height_mm=20.0))[2], ACROSS
    )
    kept = one_of(
        judged("HEI", size_pt=12.0, clearance_mm=1.5, panel=Panel(width_mm=30.0, height_mm=20.0))[
            2
        ],
        ACROSS,
    )
    for side in ("left", "right", "head", "tail"):
        assert getattr(bare.spare_mm, side) - getattr(kept.spare_mm, side) == pytest.approx(1.5)
        assert getattr(bare.to_edge_mm, side) == pytest.approx(getattr(kept.to_edge_mm, side))


@pytest.mark.parametrize("edge", [0.0, 1.0, 1.6, 2.0])
def test_tight_is_edge_plus_spare_against_the_placing_tolerance(edge):
    """By hand, at sizes about the one where 1.6 mm lie between the joint and the ink."""
    _resolved, title, layouts = judged("HEI", spine={"edge_mm": edge, "height_mm": None})
    width = (title.run.ink[2] - title.run.ink[0]) * mm_from_pt(1.0)
    at = (20.0 - 2 * 1.6) / width
    largest = one_of(layouts, ACROSS).largest_pt
    for size in (at * 0.999, at * 1.001, largest):
        if size > largest:
            continue
        one = one_of(
            judged("HEI", size_pt=size, spine={"edge_mm": edge, "height_mm": None})[2], ACROSS
        )
        assert one.fits
        assert one.tight is ((20.0 - width * size) / 2 < 1.6 - 1e-9)


def test_tight_counts_the_nearest_of_all_edges():
    """In a panel given outright the ends count as the sides do."""
    panel = Panel(width_mm=60.0, height_mm=9.0)
    _resolved, title, layouts = judged("HEI", size_pt=20.0, panel=panel)
    one = one_of(layouts, ACROSS)
    along = (title.run.ink[3] - title.run.ink[1]) * mm_from_pt(20.0)
    assert min(one.to_edge_mm.known()) == pytest.approx((9.0 - along) / 2)
    assert one.tight is ((9.0 - along) / 2 < 1.6)
    assert one.tight is False or one.fits


def test_a_method_that_places_exactly_is_never_tight():
    _resolved, _title, layouts = judged(method=a_method(5.0, 0.1, 0.0), spine={"width_mm": 6.0})
    assert any(one.fits for one in layouts)
    assert not any(one.tight for one in layouts)


def test_what_does_not_fit_is_not_tight():
    for one in judged(size_pt=300.0)[2]:
        assert (one.fits, one.tight) == (False, False)


# --- what else is said of a size ---------------------------------------------------------


def test_the_angle_and_the_distance_agree():
    """At the distance it reads from, capitals are seen at 16 minutes of arc."""
    for one in judged(reading_distance_mm=700.0)[2]:
        radians = 2 * math.atan(one.cap_height_mm / 1400.0)
        assert one.arcminutes == pytest.approx(math.degrees(radians) * 60)
        seen = 2 * math.atan(one.cap_height_mm / (2 * one.reads_from_mm))
        assert math.degrees(seen) * 60 == pytest.approx(16.0)


def test_published_heights():
    """16 minutes at 700 mm are 3.258 mm (trade facts, section 10)."""
    from spinefit.units import height_mm_at_arcminutes

    assert height_mm_at_arcminutes(16, 700) == pytest.approx(3.258, abs=5e-4)
    assert height_mm_at_arcminutes(16, 500) == pytest.approx(2.327, abs=5e-4)


def test_the_back_needed_is_the_ink_and_the_allowances():
    """Without a height: ink along the back, clearance and head and foot."""
    _resolved, title, layouts = judged(
        "HEI", size_pt=12.0, clearance_mm=0.5, spine={"height_mm": None, "head_mm": 5.0}
    )
    one = one_of(layouts, ALONG)
    along = (title.run.ink[2] - title.run.ink[0]) * mm_from_pt(12.0)
    assert one.needs_back_mm == pytest.approx(along + 2 * 0.5 + 5.0 + 4.0)
    assert one_of(layouts, ACROSS).needs_back_mm is None
    assert one_of(judged("HEI")[2], ALONG).needs_back_mm is None


def test_a_back_as_long_as_is_needed_is_long_enough():
    """And one a tenth of a millimetre shorter is not."""
    need = one_of(judged(size_pt=12.0, spine={"height_mm": None})[2], ALONG).needs_back_mm
    for height, fits in ((need + 1e-6, True), (need - 0.1, False)):
        one = one_of(judged(size_pt=12.0, spine={"height_mm": height})[2], ALONG)
        assert one.fits is fits


def test_foreshortening_is_the_cosine_at_the_outermost_ink():
    """Chord 30 with a rise of 5 has a radius of 25 (trade facts, section 7)."""
    _resolved, title, layouts = judged(
        "HEI", size_pt=20.0, spine={"width_mm": 30.0, "back": BackForm.ROUNDED, "rise_mm": 5.0}
    )
    half = (title.run.ink[2] - title.run.ink[0]) * mm_from_pt(20.0) / 2
    assert one_of(layouts, ACROSS).foreshortening == pytest.approx(math.cos(half / 25.0))
    assert one_of(judged()[2], ACROSS).foreshortening == 1.0


def test_over_the_bands_never_fits():
    for size in (None, 6.0):
        over = [one for one in judged(spine={"bands": 5}, size_pt=size)[2] if one.layout.over_bands]
        assert over
        assert not any(one.fits or one.tight for one in over)
