"""Figures in a few words."""

from __future__ import annotations

import pytest

from spinefit.say.phrasing import against, bare_mm, limit_pt, mm, mm_against, pt, way


@pytest.mark.parametrize(
    ("value", "shown"),
    [(12.34, "12.3"), (0.0, "0"), (-0.0, "0"), (0.04, "0.04"), (-0.04, "-0.04"),
     (-1e-9, "-0.01"), (1e-9, "0"), (-1.25, "-1.2"), (120.0, "120")],
)  # fmt: skip
def test_an_excess_never_looks_like_none(value: float, shown: str) -> None:
    """Small figures keep their sign."""
    assert bare_mm(value) == shown
    assert mm(value) == f"{shown} mm"


@pytest.mark.parametrize(
    ("size_pt", "shown"), [(12.0, "12 pt"), (12.34, "12.34 pt"), (12.788, "12.79 pt")]
)
def test_sizes_are_said_as_they_are_set(size_pt: float, shown: str) -> None:
    """To a hundredth: a drawer in other points has sizes that are no tenths of ours."""
    assert pt(size_pt) == shown


@pytest.mark.parametrize(
    ("size_pt", "shown"),
    [(12.0, "12 pt"), (12.39, "12.3 pt"), (12.399, "12.3 pt"), (19.9999, "19.9 pt")],
)
def test_limits_are_never_rounded_up(size_pt: float, shown: str) -> None:
    """What is said to be the most must fit."""
    assert limit_pt(size_pt) == shown


def test_no_tenth_is_lost_to_binary_fractions() -> None:
    """A limit of a whole number of tenths is said as that."""
    for tenths in range(1, 2000):
        assert limit_pt(tenths / 10) == f"{tenths / 10:g} pt"


@pytest.mark.parametrize(
    ("value", "shown"),
    [(15.4, "15"), (15.6, "15.6"), (15.96, "15.96"), (16.0, "16"), (16.4, "16.4"), (16.6, "17"),
     (15.99999999, "16")],
)  # fmt: skip
def test_a_figure_is_told_apart_from_its_limit(value: float, shown: str) -> None:
    """So that nobody reads: 16, where 16 is asked."""
    assert against(value, 16.0) == shown


def test_a_length_is_told_apart_from_its_limit() -> None:
    """By as many decimals as that takes; small ones keep their sign."""
    said = [mm_against(value, 1.6) for value in (1.2, 1.58, 1.6, 1.64, -0.03)]
    assert said == ["1.2 mm", "1.58 mm", "1.6 mm", "1.64 mm", "-0.03 mm"]


def test_the_way_is_said_by_its_ends() -> None:
    """Ascending and descending are words of the standard; where they start is what counts."""
    assert way("descending") == "from head to tail"
    assert way("ascending") == "from tail to head"
