"""Sharp joins are no strokes; bow ties and hairlines still count."""

from __future__ import annotations

import math

import pytest

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
