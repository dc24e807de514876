from __future__ import annotations

import math

import pytest

from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.fit import refuse_no_room
from spinefit.geometry.usable import outright_panel, usable_panel
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedFrame
from spinefit.job.values import KeepFree, Panel
from spinefit.vocabulary import BackForm, Frame, PanelForm

PLAIN = Shape()


def test_a_flat_back_loses_edges_head_and_foot(spine, rules):
    panel = usable_panel(spine(edge_mm=2.0, head_mm=4.0, foot_mm=30.0), PLAIN, rules)
    assert (panel.width_mm, panel.height_mm) == (26, 166)
    assert (panel.margin_left_mm, panel.margin_right_mm) == (2, 2)
    assert (panel.margin_head_mm, panel.margin_tail_mm) == (4, 30)
    assert panel.middle_from_head_mm == 87
    assert panel.back_height_mm == 200
    assert panel.number is None
    assert panel.is_plain
    assert not panel.developed
    assert not panel.angle_limited


def test_the_panel_between_bands_has_its_number_and_margins(spine, rules):
    panel = usable_panel(spine(bands=5, title_panel=2, head_mm=3.0), PLAIN, rules)
    part_mm = 200 / 6.1
    assert panel.number == 2
    assert panel.height_mm == pytest.approx(part_mm - 6)
    assert panel.middle_from_head_mm == pytest.approx(1.5 * part_mm)
    assert (panel.margin_head_mm, panel.margin_tail_mm) == pytest.approx((1, 1))


def test_a_round_is_limited_by_its_edges_or_its_angle(spine, rules):
    """The least of arc less edges and twice radius times angle."""
    round_back = {"form": BackForm.ROUNDED, "rise_mm": 5.0, "edge_mm": 2.0}
    wide = usable_panel(spine(**round_back, max_angle_deg=90.0), PLAIN, rules)
    assert wide.developed
    assert not wide.angle_limited
    assert wide.width_mm == pytest.approx(32.175 - 4, abs=5e-4)
    narrow = usable_panel(spine(**round_back, max_angle_deg=30.0), PLAIN, rules)
    assert narrow.angle_limited
    assert narrow.width_mm == pytest.approx(2 * 25 * math.radians(30))
    assert narrow.margin_left_mm == pytest.approx((narrow.back.arc_mm - narrow.width_mm) / 2)


def test_an_unmeasured_round_is_fitted_on_its_chord(spine, rules):
    panel = usable_panel(
        spine(form=BackForm.ROUNDED, edge_mm=2.0, max_angle_deg=10.0), PLAIN, rules
    )
    assert panel.width_mm == 26
    assert not panel.developed
    assert not panel.angle_limited
    assert panel.margin_left_mm == 2


def test_edges_that_leave_nothing(spine, rules):
    """Typed, they are refused; by default, the panel has no width."""
    with pytest.raises(ImpossibleBackError, match=r"--edge: .*'15 mm'"):
        usable_panel(spine(edge_mm=15.0, typed={"edge"}), PLAIN, rules)
    panel = usable_panel(spine(edge_mm=15.0), PLAIN, rules)
    assert panel.width_mm == 0
    assert panel.margin_left_mm == 15


def test_an_open_height_leaves_the_height_open(spine, rules):
    panel = usable_panel(spine(height_mm=None, bands=5, title_panel=3), PLAIN, rules)
    assert panel.height_mm is None
    assert panel.margin_head_mm is None
    assert panel.middle_from_head_mm is None
    assert panel.number == 3


@pytest.mark.parametrize(
    "shape", [Shape(form=PanelForm.OVAL), Shape(keep_free=(KeepFree(width_mm=2, height_mm=2),))]
)
def test_a_shape_needs_a_height(shape, spine, rules):
    with pytest.raises(FieldError, match="--height"):
        usable_panel(spine(height_mm=None), shape, rules)


def test_a_shape_on_nothing_is_nothing(spine, rules):
    panel = usable_panel(spine(edge_mm=15.0), Shape(form=PanelForm.OVAL), rules)
    assert panel.width_mm == 0
    assert panel.outline_mm is None


def test_a_panel_given_outright_is_taken_whole():
    panel = outright_panel(Panel(width_mm=30.0, height_mm=40.0), PLAIN)
    assert (panel.width_mm, panel.height_mm) == (30, 40)
    assert (panel.margin_left_mm, panel.margin_head_mm) == (0, 0)
    assert panel.back is None
    assert panel.middle_from_head_mm is None


@pytest.mark.parametrize(
    "sides", [(0.0, 40.0), (30.0, -1.0), (math.nan, 40.0), (30.0, math.inf), (math.inf, 40.0)]
)
def test_refuses_a_panel_without_sides(sides):
    with pytest.raises(FieldError, match="--panel"):
        outright_panel(Panel(width_mm=sides[0], height_mm=sides[1]), PLAIN)


def test_a_polygon_given_outright_has_its_own_box():
    """Width, height and origin are those of its bounding box, and kept areas move with it."""
    shape = Shape(
        form=PanelForm.POLYGON,
        outline_mm=((0.0, 0.0), (10.0, 0.0), (5.0, 8.0)),
        keep_free=(KeepFree(width_mm=1, height_mm=1, x_mm=5, y_mm=2),),
    )
    panel = outright_panel(Panel(width_mm=30.0, height_mm=40.0), shape)
    assert (panel.width_mm, panel.height_mm) == (10, 8)
    assert panel.outline_mm == ((-5, -4), (5, -4), (0, 4))
    assert panel.holes_mm[0][0] == (-0.5, -2.5)


@pytest.mark.parametrize(
    ("sides", "clearance_mm", "least"),
    [((9.0, 40.0), 4.5, "4.5"), ((40.0, 7.0), 5.0, "3.5"), ((9.0, 40.0), 20.0, "4.5")],
)
def test_a_clearance_that_leaves_nothing_is_refused(sides, clearance_mm, least):
    """And how much may be kept is said: half the shorter side."""
    panel = outright_panel(Panel(width_mm=sides[0], height_mm=sides[1]), PLAIN)
    with pytest.raises(ImpossibleBackError, match=f"keep less than {least} mm between"):
        refuse_no_room(panel, clearance_mm)
    refuse_no_room(panel, min(sides) / 2 - 0.01)


def test_a_clearance_within_a_frame_is_said_as_it_was_typed():
    """5 mm were asked for; a frame of 0.5 mm whose inner edge is 1.5 mm in takes its part."""
    frame = ResolvedFrame(
        Frame.THIN, None, 0.0, corner_typed=False, ruling_mm=(0.5,), from_edge_mm=1.0
    )
    panel = outright_panel(Panel(width_mm=9.0, height_mm=40.0), PLAIN)._replace(frame=frame)
    with pytest.raises(ImpossibleBackError, match=r"'5 mm'; keep less than 3 mm between"):
        refuse_no_room(panel, 5.0 + frame.inset_mm)


def test_no_room_is_no_fault_of_defaults_or_of_an_open_height(spine, rules):
    """What is used up already cannot be kept; without a height the width alone counts."""
    refuse_no_room(usable_panel(spine(edge_mm=15.0), PLAIN, rules), 3.0)
    refuse_no_room(usable_panel(spine(height_mm=None), PLAIN, rules), 14.9)
    with pytest.raises(ImpossibleBackError, match="--clearance"):
        refuse_no_room(usable_panel(spine(height_mm=None), PLAIN, rules), 15.0)


@pytest.mark.parametrize(("side_mm", "refused"), [(29.0, False), (31.0, True)])
def test_areas_kept_free_may_not_take_everything(side_mm, refused):
    kept = Shape(keep_free=(KeepFree(width_mm=side_mm, height_mm=side_mm),))
    panel = outright_panel(Panel(width_mm=30.0, height_mm=30.0), kept)
    if not refused:
        refuse_no_room(panel, 0.0)
        return
    with pytest.raises(ImpossibleBackError, match="--keep-free"):
        refuse_no_room(panel, 0.0)


def test_the_remedy_for_edges_is_half_the_back(spine, rules):
    with pytest.raises(ImpossibleBackError, match=r"less than 10\.5 mm free at each joint"):
        usable_panel(spine(width_mm=21.0, edge_mm=11.0, typed={"edge"}), PLAIN, rules)


def test_a_shape_without_a_height_is_named(spine, rules):
    kept = Shape(keep_free=(KeepFree(width_mm=2, height_mm=2),))
    for shape, said in ((Shape(form=PanelForm.OVAL), "oval"), (kept, "an area kept free")):
        with pytest.raises(FieldError) as caught:
            usable_panel(spine(height_mm=None), shape, rules)
        assert caught.value.value == said


def test_of_nothing_the_angle_is_no_limit(spine, rules):
    """And of a panel without height no outline is made."""
    panel = usable_panel(spine(edge_mm=15.0, form=BackForm.ROUNDED, rise_mm=0.001), PLAIN, rules)
    assert panel.width_mm == pytest.approx(0, abs=1e-3)
    panel = usable_panel(spine(edge_mm=20.0), PLAIN, rules)
    assert (panel.width_mm, panel.angle_limited) == (0.0, False)
    flat = usable_panel(spine(head_mm=100.0, foot_mm=100.0), Shape(form=PanelForm.OVAL), rules)
    assert (flat.height_mm, flat.outline_mm) == (0, None)


def test_less_than_a_millimetre_has_its_outline():
    panel = outright_panel(Panel(width_mm=0.8, height_mm=0.6), Shape(form=PanelForm.OVAL))
    assert max(x for x, _y in panel.outline_mm) == 0.4


def test_a_panel_given_outright_lies_on_no_round_and_has_no_margins():
    panel = outright_panel(Panel(width_mm=0.8, height_mm=0.6), PLAIN)
    assert not panel.developed
    assert not panel.angle_limited
    margins = (panel.margin_left_mm, panel.margin_right_mm)
    assert margins == (panel.margin_head_mm, panel.margin_tail_mm) == (0, 0)


def test_a_polygon_of_odd_sides_is_moved_by_exact_halves():
    ring = ((1.0, 1.0), (8.0, 1.0), (1.0, 4.0))
    panel = outright_panel(
        Panel(width_mm=30.0, height_mm=40.0), Shape(form=PanelForm.POLYGON, outline_mm=ring)
    )
    assert panel.outline_mm == ((-3.5, -1.5), (3.5, -1.5), (-3.5, 1.5))
