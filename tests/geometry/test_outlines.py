from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely

from spinefit.errors import FieldError
from spinefit.geometry.plane import bounds_of, is_convex, signed_area
from spinefit.geometry.usable import kept_free, outline_of
from spinefit.job.model import Shape
from spinefit.job.values import KeepFree
from spinefit.vocabulary import PanelForm

BOX = {"width_mm": 30.0, "height_mm": 40.0}


def shaped(form, **fields):
    return outline_of(Shape(form=PanelForm(form), **fields), **BOX)


def test_a_rectangle_needs_no_outline():
    assert shaped("rectangle") is None


@pytest.mark.parametrize(
    ("fields", "area_mm2"),
    [
        ({"form": "rounded", "corner_mm": 5.0}, 1200 - (4 - math.pi) * 25),
        ({"form": "rounded", "corner_mm": 15.0}, 30 * 10 + math.pi * 225),
        ({"form": "cut", "corner_mm": 5.0}, 1200 - 2 * 25),
        ({"form": "cut", "corner_mm": 15.0}, 1200 - 2 * 225),
        ({"form": "oval"}, math.pi * 15 * 20),
    ],
)
def test_outlines_keep_their_area_and_lie_inside_the_true_shape(fields, area_mm2):
    """Chords take something away and never add; the box is met exactly; all turn left."""
    ring = shaped(**fields)
    assert area_mm2 * (1 - 5e-4) <= signed_area(ring) <= area_mm2 + 1e-9
    assert bounds_of(ring) == (-15, -20, 15, 20)
    assert is_convex(ring)
    assert shapely.Polygon(ring).is_valid


def test_the_oval_is_inside_by_no_more_than_stated():
    ring = shaped("oval")
    assert len(ring) >= 256
    for (x0, y0), (x1, y1) in pairwise(ring):
        middle = math.hypot((x0 + x1) / 2 / 15, (y0 + y1) / 2 / 20)
        assert 1 - 7.6e-5 <= middle <= 1
        assert math.hypot(x0 / 15, y0 / 20) <= 1 + 1e-15


@pytest.mark.parametrize("form", ["rounded", "cut"])
@pytest.mark.parametrize("corner_mm", [None, 0.0, -1.0, 15.1, math.nan])
def test_refuses_corners_the_panel_cannot_have(form, corner_mm):
    with pytest.raises(FieldError, match="--corner") as caught:
        shaped(form, corner_mm=corner_mm)
    assert "15 mm" in str(caught.value)


def test_an_oval_reaches_half_of_odd_sides():
    ring = outline_of(Shape(form=PanelForm.OVAL), width_mm=21.0, height_mm=41.0)
    assert bounds_of(ring) == (-10.5, -20.5, 10.5, 20.5)
    assert signed_area(ring) == pytest.approx(math.pi * 10.5 * 20.5, rel=1e-3)


def test_corners_take_half_of_an_odd_side():
    ring = outline_of(Shape(form=PanelForm.CUT, corner_mm=10.5), width_mm=21.0, height_mm=40.0)
    assert signed_area(ring) == pytest.approx(21 * 40 - 2 * 10.5**2)


def test_a_polygon_runs_anticlockwise_whichever_way_it_was_given():
    ring = ((-5.0, -5.0), (5.0, -5.0), (0.0, 5.0))
    assert signed_area(shaped("polygon", outline_mm=ring)) == 50
    assert signed_area(shaped("polygon", outline_mm=ring[::-1])) == 50
    small = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    assert signed_area(shaped("polygon", outline_mm=small)) == 0.5


def test_a_polygon_may_repeat_a_corner():
    ring = ((-5.0, -5.0), (5.0, -5.0), (0.0, 5.0), (-5.0, -5.0))
    assert len(shaped("polygon", outline_mm=ring)) == 3
    assert len(shaped("polygon", outline_mm=(ring[0], ring[0], *ring[1:]))) == 3


@pytest.mark.parametrize(
    ("ring", "says"),
    [
        (None, "three corners"),
        (((0.0, 0.0), (1.0, 1.0)), "three corners"),
        (((0.0, 0.0), (1.0, 1.0), (math.nan, 2.0)), "three corners"),
        (((0.0, 0.0), (5.0, 5.0), (10.0, 10.0)), "crosses or touches"),
        (((0.0, 0.0), (1.0, 0.0), (0.5, 1e-10)), "or holds nothing"),
        (((-5.0, -5.0), (5.0, 5.0), (5.0, -5.0), (-5.0, 5.0)), "crosses or touches"),
        (((-5.0, -5.0), (15.5, -5.0), (0.0, 5.0)), "0.5 mm beyond"),
        (((-5.0, -5.0), (5.0, -5.0), (0.0, 21.0)), "1 mm beyond"),
        (((-15.5, -5.0), (5.0, -5.0), (0.0, 5.0)), "0.5 mm beyond.*'20.5 x 10 mm'"),
        (((-5.0, -22.0), (5.0, -5.0), (0.0, 5.0)), "2 mm beyond.*'10 x 27 mm'"),
    ],
)
def test_refuses_outlines_that_are_no_panel(ring, says):
    with pytest.raises(FieldError, match=says) as caught:
        shaped("polygon", outline_mm=ring)
    assert caught.value.where == "--panel-outline"


def test_convexity():
    assert is_convex(((0, 0), (2, 0), (2, 2), (0, 2)))
    assert is_convex(((0, 0), (1, 0), (2, 0), (2, 2), (0, 2)))
    assert not is_convex(((0, 0), (2, 0), (2, 2), (1, 0.5), (0, 2)))


@pytest.mark.parametrize("sides", [(0.0, 1.0), (1.0, -1.0), (math.nan, 1.0)])
def test_refuses_areas_without_sides(sides):
    with pytest.raises(FieldError, match="--keep-free"):
        kept_free((KeepFree(width_mm=sides[0], height_mm=sides[1]),))
