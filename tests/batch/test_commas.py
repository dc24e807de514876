"""Decimal commas are points where they can be nothing else, and never guessed at."""

from __future__ import annotations

import pytest

from spinefit.batch.cells import with_points
from spinefit.errors import SpinefitError
from spinefit.job.fields import field_named


@pytest.mark.parametrize(
    ("name", "typed", "same"),
    [
        ("width", "13,5", "13.5"),
        ("width", "13,5..15,5mm", "13.5..15.5mm"),
        ("panel", "20,5x30,25mm", "20.5x30.25mm"),
        ("old-lettering", "22,5x12,5@35,5", "22.5x12.5@35.5"),
        ("size", "10,5", "10.5"),
        ("tracking", "12,5", "12.5"),
        ("leading", "1,15", "1.15"),
        ("sizes", "10,5;12,5", "10.5;12.5"),
        ("sizes", "10,12", "10,12"),
        ("sizes", "10,12,14", "10,12,14"),
        ("bands-at", "40,5;80,5;120", "40.5;80.5;120"),
        ("bands-at", "40,80", "40,80"),
    ],
)
def test_it_is_read_as_if_it_had_a_point(name: str, typed: str, same: str) -> None:
    read = field_named(name).kind.read
    assert read(with_points(name, typed)) == read(same)


@pytest.mark.parametrize("typed", ["1,234", "1.234,5", "1,2,3", "13,5555"])
def test_what_may_be_thousands_stays_for_the_field_to_refuse(typed: str) -> None:
    assert with_points("width", typed) == typed
    with pytest.raises(SpinefitError, match=typed):
        field_named("width").kind.read(with_points("width", typed))


@pytest.mark.parametrize("typed", ["10,5", " 14,10 pt", "8,8"])
def test_a_list_that_falls_may_be_one_figure(typed: str) -> None:
    with pytest.raises(SpinefitError, match="may part two figures or begin decimals"):
        with_points("sizes", typed)


@pytest.mark.parametrize("name", ["title", "font", "axes", "keep-free", "panel-outline", "set"])
def test_other_cells_stay(name: str) -> None:
    assert with_points(name, "1,5") == "1,5"
