from __future__ import annotations

import math

import pytest

from spinefit.errors import ImpossibleBackError
from spinefit.geometry.back import angle_at, build_back, foreshortening
from spinefit.vocabulary import BackForm

FIGURES = ("rise_mm", "radius_mm", "arc_mm")


def measures(back, max_angle_deg=90.0):
    """Everything that the published tables list of a circular segment."""
    angle = 2 * back.half_angle_rad
    return {
        "chord_mm": back.chord_mm,
        "radius_mm": back.radius_mm,
        "rise_mm": back.rise_mm,
        "arc_mm": back.arc_mm,
        "angle_deg": math.degrees(angle),
        "area_mm2": back.radius_mm**2 / 2 * (angle - math.sin(angle)),
        "lettering_arc_mm": 2 * back.radius_mm * math.radians(max_angle_deg),
        "foreshortening": foreshortening(back, back.arc_mm / 2),
    }


def measured(inputs):
    """Chord, and rise, radius and arc, of the segment a row describes, by plain trigonometry."""
    if "rise_mm" in inputs:
        chord, rise = inputs["chord_mm"], inputs["rise_mm"]
        half = math.asin(chord * rise / (chord**2 / 4 + rise**2))
    else:
        half = math.radians(inputs["angle_deg"]) / 2
        chord = inputs.get("chord_mm", 2 * inputs.get("radius_mm", 1.0) * math.sin(half))
    radius = chord / 2 / math.sin(half)
    return chord, {
        "rise_mm": radius * (1 - math.cos(half)),
        "radius_mm": radius,
        "arc_mm": 2 * radius * half,
    }


@pytest.mark.parametrize("figure", FIGURES)
def test_published_segments(segment, figure, spine, rules):
    """Each row of the circular-segment tables is met, from the rise, the radius or the tape."""
    inputs = dict(segment["inputs"])
    if "foreshortening" in segment["expected"]:
        inputs["angle_deg"] *= 2  # the row's angle runs from the middle to one side
        if inputs["angle_deg"] > 180:  # no such back: past a half circle it is refused
            with pytest.raises(ImpossibleBackError):
                build_back(spine(form=BackForm.ROUNDED, width_mm=10.0, rise_mm=5.1), rules)
            return
    chord, figures = measured(inputs)
    back = build_back(
        spine(form=BackForm.ROUNDED, width_mm=chord, **{figure: figures[figure]}), rules
    )
    found = measures(back, inputs.get("max_angle_deg", 90.0))
    for name, expected in segment["expected"].items():
        assert found[name] == pytest.approx(expected, abs=segment["tolerance"]), name


def test_chord_30_rise_5_has_radius_25(spine, rules):
    back = build_back(spine(form=BackForm.ROUNDED, width_mm=30.0, rise_mm=5.0), rules)
    assert back.radius_mm == pytest.approx(25, abs=1e-12)
    assert back.rise_mm == pytest.approx(5, abs=1e-12)
    assert back.curve_known
    assert back.developed_width_mm == back.arc_mm == pytest.approx(32.175, abs=5e-4)


@pytest.mark.parametrize("share", [1e-9, 1e-6, 1e-3, 0.01, 0.1, 0.3, 0.5, 0.57, 0.5707963])
def test_a_tape_gives_back_its_own_length(share, spine, rules):
    """The half angle found from an arc is exact: the arc built from it is the arc given."""
    arc_mm = 30.0 * (1 + share)
    back = build_back(spine(form=BackForm.ROUNDED, arc_mm=arc_mm), rules)
    assert back.arc_mm == pytest.approx(arc_mm, rel=2e-15)
    assert back.arc_mm - back.chord_mm == pytest.approx(arc_mm - 30, rel=1e-5)


@pytest.mark.parametrize(
    ("figure", "value"), [("rise_mm", 15.0), ("radius_mm", 15.0), ("arc_mm", 15 * math.pi)]
)
def test_the_half_circle_itself_is_a_back(figure, value, spine, rules):
    back = build_back(spine(form=BackForm.ROUNDED, **{figure: value}), rules)
    assert back.radius_mm == pytest.approx(15)
    assert back.rise_mm == pytest.approx(15)
    assert back.arc_mm == pytest.approx(15 * math.pi)
    assert foreshortening(back, back.arc_mm / 2) == pytest.approx(0, abs=1e-9)
    assert foreshortening(back, back.arc_mm * 0.6) == 0


@pytest.mark.parametrize(
    ("figure", "value", "says"),
    [
        ("rise_mm", 0.0, "give a length above 0"),
        ("rise_mm", -2.0, "give a length above 0"),
        ("rise_mm", 15.01, "at most 15 mm"),
        ("rise_mm", math.nan, "give a length above 0"),
        ("radius_mm", 14.99, "at least 15 mm"),
        ("radius_mm", -20.0, "give a length above 0"),
        ("radius_mm", math.inf, "give a length above 0"),
        ("arc_mm", 30.0, "or call the back flat"),
        ("arc_mm", 12.0, "or call the back flat"),
        ("arc_mm", 47.13, "at most 47.12 mm"),
    ],
)
def test_refuses_a_round_that_cannot_be(figure, value, says, spine, rules):
    """The option, the value and the remedy are named."""
    with pytest.raises(ImpossibleBackError) as caught:
        build_back(spine(form=BackForm.ROUNDED, **{figure: value}), rules)
    line = str(caught.value)
    assert line.startswith("--" + figure.removesuffix("_mm") + ": ")
    assert f"'{value:g} mm'" in line
    assert says in line


def test_the_least_radius_is_the_exact_half_of_an_odd_width(spine, rules):
    with pytest.raises(ImpossibleBackError, match=r"at least 15\.5 mm"):
        build_back(spine(form=BackForm.ROUNDED, width_mm=31.0, radius_mm=15.3), rules)


@pytest.mark.parametrize("width_mm", [0.0, -3.0, math.inf, math.nan])
def test_refuses_a_back_without_width(width_mm, spine, rules):
    with pytest.raises(ImpossibleBackError, match="--width"):
        build_back(spine(width_mm=width_mm), rules)


def test_a_flat_back_turns_nowhere(spine, rules):
    back = build_back(spine(), rules)
    assert (back.arc_mm, back.rise_mm, back.radius_mm) == (30.0, 0.0, None)
    assert angle_at(back, 12.0) == 0
    assert foreshortening(back, 12.0) == 1


def test_a_round_without_a_figure_is_fitted_as_flat(spine, rules):
    """A third of a circle serves the picture and the foreshortening, the chord the fit."""
    back = build_back(spine(form=BackForm.ROUNDED), rules)
    assert not back.curve_known
    assert back.radius_mm == pytest.approx(17.32, abs=0.005)
    assert back.arc_mm == pytest.approx(36.28, abs=0.005)
    assert back.developed_width_mm == 30.0
    assert foreshortening(back, 15.0) == pytest.approx(math.cos(15 / back.radius_mm))


def test_the_angle_has_the_sign_of_its_side(spine, rules):
    back = build_back(spine(form=BackForm.ROUNDED, radius_mm=20.0), rules)
    assert angle_at(back, -5.0) == -angle_at(back, 5.0) == -0.25


def test_a_flat_back_has_nothing_of_a_round(spine, rules):
    back = build_back(spine(rise_mm=3.0), rules)
    assert (back.half_angle_rad, back.rise_mm) == (0.0, 0.0)
    assert back.curve_known
    assert back.form is BackForm.FLAT
    assert build_back(spine(form=BackForm.ROUNDED, rise_mm=3.0), rules).form is BackForm.ROUNDED
