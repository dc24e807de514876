"""Points, rings and curves in the plane."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from spinefit.geometry.plane import flatten, turn_box, turn_point
from spinefit.shaping.glyphs import Contour
from spinefit.tolerances import FLATTENING_ERROR_EM
from spinefit.vocabulary import Turn

QUADRATIC = Contour((0.0, 0.0), (((0.3, 0.9), (0.7, -0.1)),))
CUBIC = Contour((0.0, 0.0), (((1.2, 0.1), (-0.6, 0.8), (0.5, 0.5)),))


def on_curve(contour, t):
    points = [contour.start, *contour.segments[0]]
    while len(points) > 1:
        points = [
            (x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for (x0, y0), (x1, y1) in pairwise(points)
        ]
    return points[0]


def away(point, start, end):
    (x0, y0), (x1, y1) = start, end
    along = math.dist(start, end)
    t = ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / along**2
    t = min(1.0, max(0.0, t))
    return math.dist(point, (x0 + t * (x1 - x0), y0 + t * (y1 - y0)))


@pytest.mark.parametrize("contour", [QUADRATIC, CUBIC], ids=["quadratic", "cubic"])
@pytest.mark.parametrize("tolerance_em", [1e-2, 1e-3, FLATTENING_ERROR_EM])
def test_no_point_of_a_curve_is_farther_than_the_tolerance(contour, tolerance_em):
    (ring,) = flatten((contour,), tolerance_em=tolerance_em)
    chords = list(pairwise(ring))
    for k in range(2001):
        point = on_curve(contour, k / 2000)
        assert min(away(point, *chord) for chord in chords) <= tolerance_em


@pytest.mark.parametrize("contour", [QUADRATIC, CUBIC], ids=["quadratic", "cubic"])
def test_extrema_are_among_the_points(contour):
    """However coarse the chords, the ring's extents are the curve's."""
    (ring,) = flatten((contour,), tolerance_em=10.0)
    dense = [on_curve(contour, k / 100000) for k in range(100001)]
    for axis in (0, 1):
        for extreme in (min, max):
            found = extreme(point[axis] for point in ring)
            assert found == pytest.approx(extreme(point[axis] for point in dense), abs=1e-9)


def test_lines_stay_and_repeats_go():
    contour = Contour((0.0, 0.0), (((1.0, 0.0),), ((1.0, 0.0),), ((0.0, 1.0),), ((0.0, 0.0),)))
    assert flatten((contour,)) == (((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)),)


def test_a_straight_curve_needs_no_points_between():
    contour = Contour((0.0, 0.0), (((0.5, 0.5), (1.0, 1.0)), ((0.5, 0.0),)))
    assert flatten((contour,)) == (((0.0, 0.0), (1.0, 1.0), (0.5, 0.0)),)


@pytest.mark.parametrize("turn", list(Turn))
def test_a_turned_box_is_the_box_of_its_turned_corners(turn):
    left, bottom, right, top = box = (-1.0, -0.25, 3.0, 0.75)
    corners = [turn_point((x, y), turn) for x in (left, right) for y in (bottom, top)]
    xs, ys = zip(*corners, strict=True)
    assert turn_box(box, turn) == (min(xs), min(ys), max(xs), max(ys))


def test_the_two_turns_undo_each_other():
    point = (0.3, -0.7)
    assert turn_point(turn_point(point, Turn.CLOCKWISE), Turn.ANTICLOCKWISE) == point


def test_a_descending_line_begins_at_the_head():
    """Clockwise, what stood at the right stands towards the tail."""
    assert turn_point((2.0, 0.0), Turn.CLOCKWISE) == (0.0, -2.0)
