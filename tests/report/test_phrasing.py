"""Figures in a few words."""

from __future__ import annotations

import pytest

from spinefit.report.phrasing import against, bare_mm, limit_pt, mm, pt, way


@pytest.mark.parametrize(
    ("value", "shown"),
    [(12.34, "12.3"), (0.0, "0"), (-0.0, "0"), (0.04, "0.04"), (-0.04, "-0.04"),
     (-1e-9, "-0.01"), (1e-9, "0"), (-1.25, "-1.2"), (120.0, "120")],
)  # fmt: skip
def test_an_excess_never_looks_like_none(value: float, shown: str) -> None:
    """Small figures keep their sign."""
    assert bare_mm(value) == shown
    assert mm(value) == f"{shown} mm"


def test_a_limit_is_rounded_down_and_a_size_to_the_nearest() -> None:
    """What is said to be the most must fit; what is set is said as it is set."""
    assert (limit_pt(12.399), limit_pt(12.3)) == ("12.3 pt", "12.3 pt")
    assert (pt(12.788), pt(12.0)) == ("12.79 pt", "12 pt")


@pytest.mark.parametrize(
    ("value", "shown"),
    [(15.4, "15"), (15.6, "15.6"), (15.96, "15.96"), (16.0, "16"), (16.4, "16.4"), (16.5, "16.5"),
     (16.6, "17"), (15.99999999, "16")],
)  # fmt: skip
def test_a_figure_is_told_apart_from_its_limit(value: float, shown: str) -> None:
    """So that nobody reads: 16, where 16 is asked."""
    assert against(value, 16.0) == shown


def test_against_starts_at_the_decimals_asked_for() -> None:
    """Lengths go by tenths anyway."""
    assert (against(1.2, 1.6, decimals=1), against(1.58, 1.6, decimals=1)) == ("1.2", "1.58")


def test_the_way_is_said_by_its_ends() -> None:
    """Ascending and descending are words of the standard; where they start is what counts."""
    assert (way("ascending"), way("across")) == ("from tail to head", "across")
