"""Faults of one kind are told a few times, and then counted."""

from __future__ import annotations

import pytest

from spinefit.batch.alike import gathered, kind_of, untold
from spinefit.batch.model import Fault


def unit(value: str) -> Fault:
    return Fault("width", f"no unit 'mn' here: '{value}'; did you mean 'mm'? use mm, cm, in or pt")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (unit("9mn"), unit("12.5mn")),
        (unit("9mn"), unit("it's: 'x'; 9mn")),
        (
            Fault("", "4 cells where the heading has 6"),
            Fault("", "7 cells where the heading has 6"),
        ),
        (Fault("size", "-3.5 is out of bounds; 1 to 9"), Fault("size", "99 is out of bounds")),
    ],
)
def test_values_and_figures_make_no_other_kind(one: Fault, other: Fault) -> None:
    assert kind_of(one) == kind_of(other)


@pytest.mark.parametrize(
    "other",
    [
        unit("9mn")._replace(column="height"),
        Fault("width", "no unit 'mmm' here: '9mmm'; did you mean 'mm'?"),
        Fault("width", "a comma in a number: '9,500'"),
    ],
)
def test_another_column_or_fault_is_another_kind(other: Fault) -> None:
    assert kind_of(unit("9mn")) != kind_of(other)


def test_the_first_three_are_told_and_the_rest_counted_however_they_come() -> None:
    """One by one, in chunks, and a run that went on from another."""
    faults = [(line, unit(f"{line}mn")) for line in range(2, 2002)]
    for step in (1, 7, 2000):
        kinds, told = {}, []
        for at in range(0, 2000, step):
            kinds, more = gathered(kinds, faults[at : at + step])
            told += more
        assert told == faults[:3]
        assert list(untold(kinds)) == [
            "column 'width': no unit 'mn' here: 2000 rows, "
            "lines 2, 3, 4, 5, 6, 7, 8, 9 and 1992 more"
        ]


def test_what_was_told_in_full_is_not_told_again() -> None:
    kinds, told = gathered({}, [(line, unit("9mn")) for line in (2, 3, 4)])
    assert (len(told), list(untold(kinds))) == (3, [])


def test_kinds_without_end_are_not_all_kept() -> None:
    """A table of nothing but nonsense takes no more memory, and no more of a screen."""
    faults = [(line, Fault("c" * line, "bad")) for line in range(2, 1002)]
    kinds, told = gathered({}, faults)
    assert (len(kinds), len(told)) == (51, 53)
    (last,) = untold(kinds)
    assert last.startswith("other faults: 950 rows, lines 52, 53, 54,")
