"""Points, millimetres and minutes of arc."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spinefit import units

lengths = st.floats(1e-3, 1e4)


def test_published_units():
    """An inch is 25.4 mm, 72 points an inch; printer's and Didot points as published."""
    assert units.mm_from_pt(72) == pytest.approx(25.4, rel=1e-15)
    assert pytest.approx({"mm": 1, "cm": 10, "in": 25.4, "pt": 25.4 / 72}) == units.MM_PER_UNIT
    assert pytest.approx(25.4, abs=1e-4) == units.PRINTERS_POINT_MM * 72.27
    assert pytest.approx(4.51, abs=0.005) == units.DIDOT_POINT_MM * 12


@pytest.mark.parametrize(
    ("size", "mm"), [(6, 2.117), (12, 4.233), (18, 6.350), (24, 8.467), (36, 12.700)]
)
def test_published_sizes(size, mm):
    assert units.mm_from_pt(size) == pytest.approx(mm, abs=5e-4)


@given(lengths)
def test_there_and_back(length):
    assert units.pt_from_mm(units.mm_from_pt(length)) == pytest.approx(length)
    assert units.mm_from_pt(units.pt_from_mm(length)) == pytest.approx(length)


@given(lengths)
def test_a_stated_limit_is_never_past_the_true_one(size):
    down = units.round_down_pt(size)
    assert down <= size
    assert size - down < 0.001 + 1e-9


@given(st.integers(1, 5000), st.sampled_from([0.1, 0.25, 0.5, 1.0, 2.0]))
def test_whole_steps_lose_nothing(count, step):
    size = round(count * step, 6)
    assert units.step_down_pt(size, step) == pytest.approx(size)
    assert units.step_down_pt(size + step * 0.9, step) == pytest.approx(size)


@given(lengths, st.floats(10, 1e4), st.floats(0.1, 100))
def test_angles_heights_and_distances_agree(height, distance, arcminutes):
    assert units.height_mm_at_arcminutes(
        units.arcminutes_of(height, distance), distance
    ) == pytest.approx(height, rel=1e-9)
    assert units.arcminutes_of(
        height, units.distance_mm_at_arcminutes(height, arcminutes)
    ) == pytest.approx(arcminutes, rel=1e-9)


@pytest.mark.parametrize(
    ("distance", "arcminutes", "height"),
    [(500, 16, 2.327), (700, 16, 3.258), (1000, 16, 4.654), (500, 10, 1.454), (500, 31, 4.509),
     (2000, 22, 12.799)],
)  # fmt: skip
def test_published_cap_heights(distance, arcminutes, height):
    assert units.height_mm_at_arcminutes(arcminutes, distance) == pytest.approx(height, abs=6e-4)
    # NUREG-0700's formula differs by less than a hundredth of one per cent.
    nureg = 6.283 * distance * arcminutes / 21600
    assert units.height_mm_at_arcminutes(arcminutes, distance) == pytest.approx(nureg, rel=1e-4)


def test_one_minute_of_arc():
    assert units.arcminutes_of(2 * math.tan(math.radians(1 / 120)), 1.0) == pytest.approx(1.0)
