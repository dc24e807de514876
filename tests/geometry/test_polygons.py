"""Ink by the non-zero winding rule, and shapely's word on a fit."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import shapely
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from spinefit.errors import VerificationError
from spinefit.geometry import outright_panel, panel_polygons, polygons
from spinefit.geometry.panel_polygons import panel_polygon, verify_fit
from spinefit.geometry.plane import flatten, signed_area
from spinefit.geometry.polygons import glyph_polygon, ink_polygon, ink_rings
from spinefit.job.model import Shape
from spinefit.job.values import KeepFree, Panel
from spinefit.shaping import open_font
from spinefit.shaping.glyphs import Contour
from spinefit.tolerances import FLATTENING_ERROR_EM
from spinefit.vocabulary import Turn

FONTS = sorted((Path(__file__).parents[2] / "fonts_open").glob("*/*.[ot]tf"))


def ring(*points):
    return Contour(points[0], tuple((point,) for point in points[1:]))


def square(left, bottom, side, *, clockwise=False):
    right, top = left + side, bottom + side
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    return ring(*(corners[::-1] if clockwise else corners))


BOTH_WAYS = pytest.mark.parametrize("clockwise", [False, True], ids=["postscript", "truetype"])


@BOTH_WAYS
def test_overlapping_contours_of_one_direction_are_their_union(clockwise):
    ink = glyph_polygon(
        (square(0, 0, 2, clockwise=clockwise), square(1, 1, 2, clockwise=clockwise))
    )
    assert ink.area == pytest.approx(7)
    assert ink.covers(shapely.Point(1.5, 1.5))


@BOTH_WAYS
def test_overlapping_contours_of_opposite_directions_cancel(clockwise):
    """Where winding is 0 there is no ink: the two outer parts are left."""
    ink = glyph_polygon(
        (square(0, 0, 2, clockwise=clockwise), square(1, 1, 2, clockwise=not clockwise))
    )
    assert ink.area == pytest.approx(6)
    assert not ink.covers(shapely.Point(1.5, 1.5))


@BOTH_WAYS
def test_a_counter_is_a_hole_only_if_it_runs_the_other_way(clockwise):
    outer = square(0, 0, 4, clockwise=clockwise)
    assert glyph_polygon((outer, square(1, 1, 2, clockwise=not clockwise))).area == 12
    assert glyph_polygon((outer, square(1, 1, 2, clockwise=clockwise))).area == 16


@BOTH_WAYS
def test_contours_in_any_order_and_islands_in_counters(clockwise):
    """A ring in a ring in a ring, with a second glyph part beside it."""
    contours = (
        square(2, 2, 1, clockwise=clockwise),
        square(1, 1, 4, clockwise=not clockwise),
        square(0, 0, 6, clockwise=clockwise),
        square(8, 0, 1, clockwise=clockwise),
    )
    expected = 36 - 16 + 1 + 1
    assert glyph_polygon(contours).area == expected
    assert glyph_polygon(contours[::-1]).area == expected


@BOTH_WAYS
def test_deep_winding_needs_two_counters(clockwise):
    """Inside two rings of one direction, one counter leaves winding 1, a second makes a hole."""
    outer = (square(0, 0, 8, clockwise=clockwise), square(1, 1, 6, clockwise=clockwise))
    counter = square(2, 2, 4, clockwise=not clockwise)
    deeper = square(3, 3, 2, clockwise=not clockwise)
    assert glyph_polygon((*outer, counter)).area == 64
    assert glyph_polygon((*outer, counter, deeper)).area == 60


def test_a_figure_eight_is_filled_in_both_loops():
    ink = glyph_polygon((ring((0, 0), (2, 2), (2, 0), (0, 2)),))
    assert ink.area == pytest.approx(2)


def test_a_pentagram_keeps_its_middle():
    """Even-odd would leave the middle out."""
    points = [(math.sin(k * 4 * math.pi / 5), math.cos(k * 4 * math.pi / 5)) for k in range(5)]
    ink = glyph_polygon((ring(*points),))
    assert ink.covers(shapely.Point(0, 0))
    assert ink.area == pytest.approx(1.12257, abs=1e-5)


@BOTH_WAYS
def test_touching_and_coinciding_contours(clockwise):
    first = square(0, 0, 1, clockwise=clockwise)
    assert glyph_polygon((first, square(1, 0, 1, clockwise=clockwise))).area == pytest.approx(2)
    assert glyph_polygon((first, first)).area == pytest.approx(1)
    assert glyph_polygon((first, square(0, 0, 1, clockwise=not clockwise))).is_empty


def test_points_and_strokes_hold_no_ink():
    assert glyph_polygon(()).is_empty
    assert glyph_polygon((ring((1, 1)),)).is_empty
    assert glyph_polygon((ring((0, 0), (1, 0), (0, 0)),)).is_empty
    assert glyph_polygon((ring((0, 0), (1, 0), (2, 0)), square(0, 1, 1))).area == 1


def test_glyphs_join_over_one_another():
    """Two glyphs that overlap are a union whichever way each is drawn."""
    placed = (((square(0, 0, 2),), 0.0, 0.0), ((square(0, 0, 2, clockwise=True),), 1.0, 0.0))
    assert ink_polygon(placed).area == pytest.approx(6)
    assert ink_polygon([((), 0.0, 0.0)]).is_empty


@pytest.mark.parametrize(
    ("turn", "bounds"),
    [
        (Turn.NONE, (-1, -2, 3, 0)),
        (Turn.CLOCKWISE, (-2, -3, 0, 1)),
        (Turn.ANTICLOCKWISE, (0, -1, 2, 3)),
    ],
)
def test_ink_is_moved_to_its_place_and_turned(turn, bounds):
    """A line from (2, 1), 4 long and 2 high, about (3, 3)."""
    line = ((ring((0, 0), (4, 0), (4, 2), (0, 2)),), 2.0 - 3.0, 1.0 - 3.0)
    ink = ink_polygon([line], turn=turn)
    assert ink.bounds == bounds
    (outer,) = ink_rings(ink)
    assert len(outer) == 4


def test_panels_as_polygons():
    """Areas kept free are cut away, over the outline too."""
    box = Panel(width_mm=10, height_mm=20)
    assert panel_polygon(outright_panel(box, Shape())).area == 200
    free = (KeepFree(width_mm=2, height_mm=2), KeepFree(width_mm=2, height_mm=2, x_mm=5, y_mm=10))
    assert panel_polygon(outright_panel(box, Shape(keep_free=free))).area == 195


def test_verification_sees_a_size_too_large_and_too_small():
    panel = outright_panel(Panel(width_mm=10, height_mm=20), Shape())
    ink = ink_polygon([((square(-0.5, -0.5, 1),), 0.0, 0.0)])

    def verified(size_mm, clearance_mm=0.0):
        return verify_fit(
            ink, panel, centre_mm=(0.0, 0.0), size_mm=size_mm, clearance_mm=clearance_mm
        )

    assert verified(10).agreed
    assert verified(8, 1).agreed
    assert verified(0, 5).agreed
    assert not verified(10.001).inside
    assert not verified(9.98).outside_above
    assert not verified(8.001, 1).inside
    assert not verified(7.99, 1).outside_above
    assert not verified(0, 0).outside_above


def test_verification_refuses_ink_that_is_not_there():
    """An empty polygon is inside nothing and outside nothing."""
    panel = outright_panel(Panel(width_mm=10, height_mm=20), Shape())
    with pytest.raises(VerificationError, match="no ink"):
        verify_fit(shapely.Polygon(), panel, centre_mm=(0.0, 0.0), size_mm=1.0, clearance_mm=0.0)


def test_the_freest_point_of_a_cut_panel_is_in_its_larger_part():
    free = (KeepFree(width_mm=10, height_mm=2, y_mm=3),)
    shape = panel_polygon(outright_panel(Panel(width_mm=10, height_mm=20), Shape(keep_free=free)))
    (x_mm, y_mm), free_mm = panel_polygons.freest_point(shape)
    assert free_mm == pytest.approx(5, abs=0.01)
    assert abs(x_mm) < 0.01
    assert -5.01 <= y_mm <= -2.99
    assert panel_polygons.free_distance(shape, (0.0, 3.0)) == -1


@pytest.mark.parametrize("width_mm", [20.0, 23.0, 26.0, 30.0])
def test_in_a_strip_the_freest_point_is_the_middle_of_its_longest_stretch(width_mm):
    """Above or below an area kept free in the middle; of two as long the upper one."""
    panel = Panel(width_mm=width_mm, height_mm=192)
    for y_mm, sign in ((0.0, 1), (-20.0, 1), (20.0, -1)):
        free = (KeepFree(width_mm=6, height_mm=6, y_mm=y_mm),)
        shape = panel_polygon(outright_panel(panel, Shape(keep_free=free)))
        (x_mm, found_mm), free_mm = panel_polygons.freest_point(shape)
        assert x_mm == pytest.approx(0, abs=0.1)
        assert found_mm == pytest.approx((y_mm + sign * 3 + sign * 96) / 2, abs=2.5)
        assert free_mm == pytest.approx(width_mm / 2, rel=0.02)


def turns_about(ring, points):
    """How often a ring goes round each point: the sum of the angles between its corners.

    A second way to the winding number, unlike the room's own, which counts crossings.
    """
    corners = np.asarray(ring)[None, :, :] - np.asarray(points)[:, None, :]
    angles = np.arctan2(corners[..., 1], corners[..., 0])
    steps = np.diff(angles, axis=1, append=angles[:, :1])
    return np.rint(np.sum((steps + np.pi) % (2 * np.pi) - np.pi, axis=1) / (2 * np.pi))


def check_points(ink, rings, name):
    """Ink is where the winding number is not 0, at a few hundred places that are on no line."""
    corners = np.concatenate(rings)
    (left, low), (right, high) = corners.min(axis=0), corners.max(axis=0)
    rng = np.random.default_rng(1)
    points = np.stack([rng.uniform(left, right, 150), rng.uniform(low, high, 150)], axis=1)
    lines = shapely.multilinestrings([shapely.linearrings(ring) for ring in rings])
    points = points[shapely.distance(lines, shapely.points(points)) > 1e-9]
    winding = sum(turns_about(ring, points) for ring in rings)
    assert (shapely.contains_xy(ink, points) == (winding != 0)).all(), name


def overlap(rings):
    """Whether the signed area is not the ink's: rings meet, or nest alike, or stand apart unlike.

    The last are composites with a mirrored accent, whose area is counted below 0.
    """
    outermost = set()
    lines = [shapely.linearrings(ring) for ring in rings]
    if not all(line.is_simple for line in lines):
        return True
    if any(a.intersects(b) for a, b in combinations(lines, 2)):
        return True
    for ring in rings:
        others = [other for other in rings if other is not ring]
        around = sum(turns_about(other, [ring[0]])[0] for other in others)
        area = signed_area(ring.tolist())
        if around * area > 0:
            return True
        if around == 0:
            outermost.add(area > 0)
    return len(outermost) > 1


@pytest.mark.parametrize("path", FONTS, ids=lambda path: path.stem)
def test_ink_of_every_glyph_against_a_second_engine(path, drawn):
    """Area is that of fontTools' pen where contours do not overlap; winding decides elsewhere.

    Extents of the flattened rings are those of fontTools' exact bounds pen, for every glyph.
    """
    font = TTFont(path)
    glyphs, upem = font.getGlyphSet(), font["head"].unitsPerEm
    compared = 0
    for name in font.getGlyphOrder():
        outline = drawn(glyphs, name, upem)
        area_pen, bounds_pen = AreaPen(glyphs), BoundsPen(glyphs)
        glyphs[name].draw(area_pen)
        glyphs[name].draw(bounds_pen)
        rings = [np.array(ring) for ring in flatten(outline) if len(ring) >= 3]
        ink = glyph_polygon.__wrapped__(outline)
        if not rings:
            assert ink.is_empty
            continue
        assert ink.is_valid, name
        exact = [bound / upem for bound in bounds_pen.bounds]
        corners = np.concatenate(rings)
        assert [*corners.min(axis=0), *corners.max(axis=0)] == pytest.approx(exact, abs=1e-12), name
        if overlap(rings):
            check_points(ink, rings, name)
            continue
        length = sum(shapely.linearrings(ring).length for ring in rings)
        counted = abs(area_pen.value) / upem**2
        assert ink.area == pytest.approx(counted, abs=FLATTENING_ERROR_EM * length), name
        compared += 1
    assert compared > 100


def test_one_small_hull_stands_for_a_long_line():
    """It reaches as far as the ink in every direction, and has few corners."""
    font = open_font("EB Garamond")
    letters = [font.outline(font.shaper.nominal(char)) for char in "Sg&" * 60]
    line = [(letter, 0.6 * at, 0.0) for at, letter in enumerate(letters)]
    hull = np.array(polygons.ink_hull(line, turn=Turn.CLOCKWISE))
    rings = np.concatenate(ink_rings(polygons.ink_parts(line, turn=Turn.CLOCKWISE)))
    assert len(rings) > 20_000
    assert len(hull) < 400
    for angle in np.linspace(0, 2 * math.pi, 50):
        toward = np.array((math.cos(angle), math.sin(angle)))
        assert np.max(hull @ toward) == pytest.approx(np.max(rings @ toward), abs=1e-12)


def test_ink_in_parts_reaches_as_far_as_united_ink():
    """Overlapping glyphs, an area kept free, by parts and by their union."""
    placed = [((square(0, 0, 2),), x, 0.0) for x in (-3.0, -2.0, 0.5)]
    free = KeepFree(width_mm=1.0, height_mm=1.0, x_mm=3.5, y_mm=0.5)
    on = outright_panel(Panel(width_mm=40.0, height_mm=40.0), Shape(keep_free=(free,)))
    parts, whole = polygons.ink_parts(placed), ink_polygon(placed)
    for size_mm in (0.5, 1.0, 1.1, 3.0):
        said = {"centre_mm": (0.0, 0.0), "size_mm": size_mm}
        by_parts = panel_polygons.distance_to_shape(parts, on, **said)
        assert by_parts == pytest.approx(panel_polygons.distance_to_shape(whole, on, **said))
    assert by_parts < 0


def test_no_ink_has_no_hull():
    assert polygons.ink_hull([((), 0.0, 0.0)]) == ()
    assert polygons.ring_line(()).is_empty


def test_the_nearest_open_place_lies_up_or_down():
    """A waist in the middle of a panel; a place far enough inside, up before down."""
    waisted = shapely.Polygon(
        [
            (-5, -20),
            (5, -20),
            (5, -2),
            (1, 0),
            (5, 2),
            (5, 20),
            (-5, 20),
            (-5, 2),
            (-1, 0),
            (-5, -2),
        ]
    )
    nearest = panel_polygons.nearest_open_place
    assert nearest(waisted, (0.0, 10.0), open_mm=4.9) == (0.0, 10.0)
    x, y = nearest(waisted, (0.0, -1.0), open_mm=4.5)
    assert (x, y % 1) == (0.0, 0.0)
    assert y < -1
    up, down = nearest(waisted, (0.0, 1.0), open_mm=4.5)[1], y
    assert up == -down
    assert nearest(waisted, (0.0, 0.0), open_mm=4.5)[1] == up
    assert nearest(waisted, (0.0, 0.0), open_mm=5.1) is None
