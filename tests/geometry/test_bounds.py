"""What decides without a measurement never decides otherwise than the measurement would."""

from __future__ import annotations

import math
import string

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.geometry import strokes
from spinefit.geometry.boundary import coarse_boundary
from spinefit.geometry.discs import profile_of
from spinefit.geometry.gaps import Gap, gap_between, gap_em_of, least_gap_em
from spinefit.geometry.polygons import glyph_polygon as ink_of
from spinefit.geometry.polygons import hull_corners, inscribed_em, least_counter_em, polygons_of
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Contour
from spinefit.tolerances import FLATTENING_ERROR_EM

LETTERS = string.ascii_letters + string.digits + "&@%?"
FONTS = [row.name for row in catalogue.font_rows()]


def letter(name, char):
    font = open_font(name)
    return font.outline(font.shaper.nominal(char))


letters = st.builds(letter, st.sampled_from(FONTS), st.sampled_from(LETTERS))
ways_em = st.tuples(st.floats(-0.2, 1.2), st.floats(-0.6, 0.6))


@settings(max_examples=150, deadline=None)
@given(letters, letters, ways_em)
def test_no_gap_is_smaller_than_its_bound(one, other, way_em):
    gap_em = gap_em_of(one, other, way_em)
    assert gap_em is None or least_gap_em(one, other, way_em) <= gap_em


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(letters, st.floats(0, 2), st.sampled_from((0.0, -0.9))), max_size=6))
def test_the_narrowest_gap_is_that_of_all_pairs(placed):
    """Of as near ones the last."""
    found = []
    for second, (other, x_other, y_other) in enumerate(placed):
        for first, (one, x, y) in enumerate(placed[:second]):
            way_em = round(x_other - x, 10), round(y_other - y, 10)
            gap_em = gap_em_of(one, other, way_em)
            if gap_em is not None and gap_em <= 0.3:
                found.append(Gap(gap_em, first, second))
    least = min(found, key=lambda gap: (gap.gap_em, -gap.first, -gap.second), default=None)
    assert gap_between(placed, at_most_em=0.3) == least


@pytest.mark.parametrize("name", FONTS)
def test_a_counter_is_no_smaller_than_the_circle_tried_in_it(name):
    for char in LETTERS:
        outline = letter(name, char)
        least_em = least_counter_em(outline)
        white = [type(p)(hole) for p in polygons_of(ink_of(outline)) for hole in p.interiors]
        tried_em = [inscribed_em(each) for each in white]
        if least_em is None:
            continue
        assert min(tried_em) <= least_em + 2 * FLATTENING_ERROR_EM
        assert 0.5 * least_em < min(each for each in tried_em if each > 0.01)  # no fault
        for below_em in (0.5 * least_em, 0.99 * least_em, least_em):
            assert least_counter_em(outline, below_em=below_em) is None
        for below_em in (1.0001 * least_em, 1.05 * least_em, 2 * least_em):
            assert least_counter_em(outline, below_em=below_em) == least_em


def test_the_least_of_a_large_counter_and_a_small_one():
    """Which of them is asked for first does not matter; one is a slit that counts for nothing."""

    def bar(left, bottom, right, top, *, hole=True):
        points = [(left, bottom), (right, bottom), (right, top), (left, top)]
        points = points[::-1] if hole else points
        return Contour(points[0], tuple((point,) for point in points[1:]))

    sheet = bar(0, 0, 1, 1, hole=False)
    small, large = bar(0.1, 0.1, 0.2, 0.9), bar(0.4, 0.1, 0.9, 0.9)
    slit = bar(0.3, 0.1, 0.3005, 0.9)
    for outline in ((sheet, small, large, slit), (sheet, slit, large, small)):
        assert least_counter_em(outline, below_em=0.4) == pytest.approx(0.1, abs=1e-4)
        assert least_counter_em(outline, below_em=0.1 - 1e-4) is None
    dot = bar(0.2, 0.55, 0.8, 0.85, hole=False)
    ring = (sheet, bar(0.1, 0.1, 0.9, 0.9), dot)
    assert least_counter_em(ring) == pytest.approx(0.45, abs=1e-4)  # the dot takes room


@settings(max_examples=100, deadline=None)
@given(letters, st.floats(0.005, 0.3))
def test_a_disc_is_as_wide_however_far_is_asked(outline, at_most_em):
    """Held against every piece of the edge: what touches lies within the largest disc."""
    boundary = coarse_boundary(outline)
    near = profile_of(boundary, at_most_em=at_most_em)
    far = profile_of(boundary, at_most_em=4 * boundary.side_em)
    asked = far.width_em <= at_most_em
    np.testing.assert_array_equal(near.width_em[asked], far.width_em[asked])
    assert np.isinf(near.width_em[~asked]).all()
    sure = asked & (far.width_em * 1.002 <= at_most_em)
    np.testing.assert_array_equal(near.facing[sure], far.facing[sure])


@settings(max_examples=60, deadline=None)
@given(letters, st.floats(0.02, 0.4))
def test_a_place_is_never_measured_thinner_than_the_search_allows(outline, at_most_em):
    boundary = coarse_boundary(outline)
    for place in strokes._places(boundary, at_most_em):
        found_em = float(place.profile.width_em[place.at])
        least_em = strokes._at_least(found_em, boundary.side_em)
        width_em = strokes._measured(outline, place).width_em
        assert least_em <= width_em < math.inf


points = st.tuples(st.floats(-1, 1), st.floats(-1, 1))


@given(st.lists(points, min_size=3, max_size=40), st.floats(0, 2 * math.pi))
def test_no_corner_reaches_farther_than_those_of_the_hull(corners, turn_rad):
    every = np.array(corners)
    way = np.array([math.cos(turn_rad), math.sin(turn_rad)])
    assert np.max(hull_corners(every) @ way) == pytest.approx(np.max(every @ way), abs=1e-12)
