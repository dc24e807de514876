"""Sharp joins are no strokes; bow ties and hairlines still count."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest

from spinefit.geometry.rings import near_pairs
from spinefit.geometry.strokes import thinner_stroke, thinnest_stroke
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Contour

WITHIN = 0.005  # the accuracy promised


def ring(*points):
    return Contour(points[0], tuple((point,) for point in points[1:]))


def near(value):
    return pytest.approx(value, rel=WITHIN)


def turned(outline, degrees):
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def change(p):
        return p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos

    return tuple(
        Contour(change(c.start), tuple(tuple(map(change, s)) for s in c.segments)) for c in outline
    )


def bow_tie(degrees, neck_em=0.04):
    """Two bodies with a neck between two wedges of white of that angle."""
    deep = 0.3 / math.tan(math.radians(degrees / 2))
    half = neck_em / 2
    return (
        ring((0, -half - deep), (0.3, -half), (0.6, -half - deep),
             (0.6, half + deep), (0.3, half), (0, half + deep)),
    )  # fmt: skip


def crotch(degrees, over_em=0.03):
    """A stem and a block beside it, parted from below by a wedge of white of that angle."""
    tip = 0.7 - over_em
    low = tip - 0.5 / math.tan(math.radians(degrees))
    return (ring((0, low), (0.1, low), (0.1, tip), (0.6, low), (0.9, low), (0.9, 0.7), (0, 0.7)),)


def stroke_em_of(outline):
    return thinnest_stroke(outline).width_em


@pytest.mark.parametrize("degrees", [30, 45, 60, 75, 90, 105, 120, 140, 160])
@pytest.mark.parametrize("lean", [0, 33])
def test_a_bow_tie_counts_by_its_neck(degrees, lean):
    """Two wedges that point at one another, however sharp, leave a stroke between them."""
    assert stroke_em_of(turned(bow_tie(degrees), lean)) == near(0.04)


@pytest.mark.parametrize("degrees", [10, 20, 30, 45, 60, 75])
@pytest.mark.parametrize("lean", [0, 33])
def test_ink_over_a_sharp_crotch_is_no_stroke(degrees, lean):
    assert stroke_em_of(turned(crotch(degrees), lean)) >= 0.1 * (1 - WITHIN)


def test_ink_over_a_blunt_crotch_is_a_neck():
    """From 80 degrees on a wedge is no longer sharp."""
    assert stroke_em_of(crotch(84)) == near(0.03)


def hairline_arch(length_em, hair_em=0.02):
    """Two stems joined at the top by a level hairline over a notch with square corners."""
    right = 0.1 + length_em
    return (
        ring((0, 0), (0.1, 0), (0.1, 0.5 - hair_em), (right, 0.5 - hair_em), (right, 0),
             (right + 0.1, 0), (right + 0.1, 0.5), (0, 0.5)),
    )  # fmt: skip


@pytest.mark.parametrize("length_em", [0.06, 0.1, 0.3])
def test_a_hairline_that_joins_two_stems_counts(length_em):
    assert stroke_em_of(hairline_arch(length_em)) == near(0.02)


def pointed_arch(degrees, hair_em):
    """A stem from which an arm of one width springs at an angle, as the arch of an n does."""
    sin, cos = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    across, up = hair_em / sin, 0.4 * cos / sin
    return (
        ring((0, 0), (0.1, 0), (0.1, 0.3), (0.5, 0.3 + up), (0.5, 0.3 + up + across),
             (0.1, 0.3 + across), (0.1, 0.9), (0, 0.9)),
    )  # fmt: skip


@pytest.mark.parametrize("degrees", [30, 45, 60, 90])
@pytest.mark.parametrize("hair_em", [0.008, 0.02, 0.05])
def test_a_hairline_that_springs_from_a_sharp_crotch_counts(degrees, hair_em):
    """Only the join is left out: the limb that runs on from it is measured."""
    assert stroke_em_of(pointed_arch(degrees, hair_em)) == near(hair_em)


SHAPES = [bow_tie(60), bow_tie(120), crotch(30), crotch(84), pointed_arch(45, 0.02)]


@pytest.mark.parametrize("outline", SHAPES)
def test_what_is_below_a_limit_is_told_with_its_width(outline):
    """Search below a limit, test and measure have one answer."""
    found_em = stroke_em_of(outline)
    for limit_em in (0.005, 0.02, 0.0399, 0.0402, 0.05, 0.2):
        assert thinner_stroke(outline, limit_em) == (found_em if found_em < limit_em else None)


@pytest.mark.parametrize("name", ["EB Garamond", "IBM Plex Sans Var", "Source Serif 4"])
def test_arches_spring_from_their_stems_without_a_thin_stroke(name):
    """Where they join, n and r of these fonts are drawn 0.018 to 0.03 em thin."""
    font = open_font(name)
    for letter in "nr":
        assert stroke_em_of(font.outline(font.shaper.nominal(letter))) > 0.035, letter


# A letter o of a damaged file: its closing line crosses it and cuts off a sliver.
CROSSING = (
    "[[[0.46900000000000003,-0.004],[[[0.451,-0.004],[0.4435,-0.003]],"
    "[[0.436,-0.002],[0.436,0.016]],[[0.436,0.033],[0.438,0.034]],"
    "[[0.44,0.035],[0.445,0.038]],[[0.446,0.039],[0.4575,0.0405]],"
    "[[0.469,0.042],[0.469,0.047]],[[0.469,0.529]],[[0.469,0.535],[0.4605,0.5555]],"
    "[[0.452,0.576],[0.421,0.583]],[[0.413,0.586],[0.413,0.814]],"
    "[[0.413,1.002],[0.415,1.007]],[[0.447,1.016],[0.464,1.023]],"
    "[[0.481,1.03],[0.4995,1.0335]],[[0.518,1.037],[0.527,1.042]],"
    "[[0.535,1.044],[0.546,1.044]],[[0.556,1.044],[0.5595,1.043]],"
    "[[0.563,1.042],[0.563,0.893]],[[0.563,0.801],[0.5625,0.77]],"
    "[[0.562,0.739],[0.562,0.494]],[[0.562,0.189]],[[0.562,0.187],[0.5705,0.1855]],"
    "[[0.579,0.184],[0.582,0.179]],[[0.583,0.176],[0.5835,0.171]],"
    "[[0.584,0.166],[0.584,0.06]],[[0.584,-0.008],[0.576,-0.0105]],"
    "[[0.568,-0.013],[0.548,-0.013]],[[0.36,-0.013],[0.3445,-0.0105]],"
    "[[0.329,-0.008],[0.317,-0.0065]],[[0.305,-0.005],[0.075,-0.005]],"
    "[[0.067,-0.005],[0.0585,-0.0085]],[[0.05,-0.012],[0.0345,-0.0135]],"
    "[[0.019,-0.015],[0.469,-0.004]]]]]"
)


def test_a_crossing_outline_whose_sliver_is_lost_when_drawn_finer_is_measured():
    """The coarse boundary has two rings and the fine one a single one, far from the thin place."""
    outline = tuple(
        Contour(tuple(start), tuple(tuple(map(tuple, each)) for each in segments))
        for start, segments in json.loads(CROSSING)
    )
    assert 0 < thinner_stroke(outline, 0.01) < 0.01


def test_nothing_is_near_nothing():
    some, none = np.zeros((3, 2)), np.zeros((0, 2))
    for points, others in ((some, none), (none, some), (none, none)):
        assert [len(each) for each in near_pairs(points, others, 0.1)] == [0, 0]
