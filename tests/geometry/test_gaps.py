"""The narrowest gap between glyphs set next to one another."""

from __future__ import annotations

import pytest

from spinefit.geometry.gaps import closed_up_pair, gap_between
from spinefit.geometry.polygons import glyph_polygon
from spinefit.shaping.font_setter import RunShaper
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Contour


def bar(left, bottom, right, top):
    return Contour((left, bottom), (((right, bottom),), ((right, top),), ((left, top),)))


STEM = (bar(0, 0, 0.1, 0.7),)
FRAME = (
    bar(0, 0, 1, 1),
    Contour((0.2, 0.2), (((0.2, 0.8),), ((0.8, 0.8),), ((0.8, 0.2),))),
)


def test_two_stems_side_by_side():
    gap = gap_between([(STEM, 0.5, 0), (STEM, 0.64, 0)], at_most_em=0.1)
    assert gap is not None
    assert gap.gap_em == pytest.approx(0.04, abs=1e-12)
    assert (gap.first, gap.second) == (0, 1)


def test_the_narrowest_of_several_and_of_several_lines():
    placed = [(STEM, 0, 0), (STEM, 0.3, 0), (STEM, 0.45, 0), (STEM, 0.05, -0.72)]
    gap = gap_between(placed, at_most_em=0.5)
    assert gap is not None
    assert (gap.first, gap.second) == (0, 3)
    assert gap.gap_em == pytest.approx(0.02)


def test_a_corner_to_a_corner():
    gap = gap_between([(STEM, 0, 0), (STEM, 0.13, 0.74)], at_most_em=0.1)
    assert gap is not None
    assert gap.gap_em == pytest.approx(0.05)


@pytest.mark.parametrize("x_em", [0.05, 0.1, 0.1 + 1e-5, 0.0])
def test_joined_letters_have_no_gap(x_em):
    """Overlapping, touching, or nearer than a fault of drawing."""
    assert gap_between([(STEM, 0, 0), (STEM, x_em, 0)], at_most_em=0.5) is None


def test_one_inside_the_other():
    """In the ink they are one; in the white of a counter there is a gap all round."""
    dot = (bar(0, 0, 0.1, 0.1),)
    assert gap_between([(FRAME, 0, 0), (dot, 0.05, 0.05)], at_most_em=0.5) is None
    gap = gap_between([(FRAME, 0, 0), (dot, 0.25, 0.4)], at_most_em=0.5)
    assert gap is not None
    assert gap.gap_em == pytest.approx(0.05)


def test_none_within_reach_and_no_ink():
    assert gap_between([(STEM, 0, 0), (STEM, 0.3, 0)], at_most_em=0.19) is None
    assert gap_between([((), 0, 0), (STEM, 0.3, 0)], at_most_em=0.5) is None
    assert gap_between([], at_most_em=0.5) is None


@pytest.mark.parametrize("text", ["Öffentliche", "AVATAR WAVES", "The Harbour Lights"])
@pytest.mark.parametrize("name", ["EB Garamond", "Source Serif 4 Bold", "IBM Plex Sans Var"])
def test_letters_are_as_far_apart_as_their_polygons(text, name):
    """Shapely's distance of every pair; joined ones have none."""
    shaper = RunShaper(open_font(name), language="de", features={}, tracking_em=0)
    placed, _ = shaper.set_line(text)
    from shapely.affinity import translate

    inks = [translate(glyph_polygon(outline), x, y) for outline, x, y in placed]
    distances = [one.distance(other) for at, one in enumerate(inks) for other in inks[:at]]
    gap = gap_between(placed, at_most_em=0.5)
    assert gap is not None
    least = min(distance for distance in distances if distance > 5e-4)
    assert gap.gap_em == pytest.approx(least, rel=2e-3, abs=5e-5)


def test_arabic_letters_that_join_have_no_gap():
    """Of a made-up alphabet: a stroke on the baseline that runs into its neighbour's."""
    letter = (bar(0.0, 0.0, 0.5, 0.06), bar(0.2, 0.0, 0.3, 0.5))
    word = [(letter, 0.48 * at, 0.0) for at in range(4)]
    assert gap_between(word, at_most_em=0.1) is None
    apart = [*word, (letter, 0.48 * 4 + 0.05, 0.0)]
    gap = gap_between(apart, at_most_em=0.1)
    assert gap is not None
    assert (gap.first, gap.second) == (3, 4)
    assert gap.gap_em == pytest.approx(0.03)


def test_letters_touch_where_they_were_closed_up_and_not_by_design():
    """Two bars 0.05 em apart, closed up by more; a pair that overlaps anyway is a join."""
    pair = [(STEM, 0.0, 0.0), (STEM, 0.12, 0.0)]
    assert closed_up_pair(pair, 0.0) is None
    closer = [(STEM, 0.0, 0.0), (STEM, 0.09, 0.0)]
    assert closed_up_pair(closer, 0.03) == (0, 1)
    joined = [(STEM, 0.0, 0.0), (STEM, 0.05, 0.0)]
    assert closed_up_pair(joined, 0.03) is None
