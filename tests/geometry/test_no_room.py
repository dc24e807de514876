"""What is said of panels and ink of which nothing is left, or too little."""

from __future__ import annotations

import math

import pytest
import shapely

from spinefit.geometry.gaps import gap_between, gap_em_of, least_gap_em
from spinefit.geometry.panel_polygons import free_distance, nearest_open_place
from spinefit.geometry.polygons import ink_contours, inset_ring, least_counter_em
from spinefit.geometry.strokes import thinnest_stroke
from spinefit.shaping.glyphs import Contour

STEM = (Contour((0, 0), (((0.1, 0),), ((0.1, 0.7),), ((0, 0.7),))),)
HAIR = (Contour((0, 0), (((0, 0.7),), ((0, 0.2),))),)  # drawn, and without ink
SIDES = ((0.0, 0.0), (10.0, 0.0), (10.0, 20.0), (0.0, 20.0))


@pytest.mark.parametrize("blank", [(), HAIR])
def test_a_glyph_without_ink_has_no_strokes_and_no_neighbours(blank: tuple[Contour, ...]) -> None:
    assert thinnest_stroke(blank) is None
    assert least_counter_em(blank) is None
    assert gap_em_of(STEM, blank, (0.2, 0.0)) is gap_em_of(blank, STEM, (0.2, 0.0)) is None
    assert least_gap_em(STEM, blank, (0.2, 0.0)) == math.inf


@pytest.mark.parametrize("reach_em", [0.0, -1.0, math.inf, math.nan])
def test_no_gap_is_looked_for_within_nothing_or_without_end(reach_em: float) -> None:
    placed = [(STEM, 0.0, 0.0), (STEM, 0.14, 0.0)]
    assert gap_between(placed, at_most_em=reach_em) is None
    assert gap_between(placed, at_most_em=0.1) is not None


def test_ink_of_a_space_is_empty() -> None:
    assert ink_contours([((), 0.0, 0.0)]).is_empty
    assert not ink_contours([(STEM, 0.0, 0.0)]).is_empty


def test_a_panel_of_which_nothing_is_left_has_no_place() -> None:
    nothing = shapely.Polygon()
    assert nearest_open_place(nothing, (0.0, 0.0), open_mm=1.0) is None
    assert free_distance(nothing, (0.0, 0.0)) == -math.inf


def test_the_nearest_place_that_is_open_enough_or_none() -> None:
    panel = shapely.Polygon(SIDES)
    assert nearest_open_place(panel, (5.0, 1.0), open_mm=4.0) == (5.0, 4.0)
    assert nearest_open_place(panel, (5.0, 19.0), open_mm=4.0) == (5.0, 16.0)
    assert nearest_open_place(panel, (5.0, 10.0), open_mm=5.1) is None


def test_a_ring_inside_another_or_itself_for_want_of_room() -> None:
    assert shapely.Polygon(inset_ring(SIDES, 1.0)).bounds == (1.0, 1.0, 9.0, 19.0)
    assert inset_ring(SIDES, 5.0) == SIDES
    assert inset_ring(SIDES, 50.0) == SIDES
