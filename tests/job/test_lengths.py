"""Lengths, sizes, numbers and choices as people type them."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from spinefit.errors import FieldError, SpinefitError, UnitError
from spinefit.job.lengths import (
    parse_choice,
    parse_count,
    parse_figures,
    parse_length,
    parse_number,
    parse_range,
    parse_rectangle,
    parse_size,
)
from spinefit.vocabulary import Measured, Orientation


@pytest.mark.parametrize(
    ("text", "value_mm"),
    [
        ("9mm", 9.0),
        ("9 mm", 9.0),
        ("9", 9.0),
        (" 9.5 ", 9.5),
        (".5mm", 0.5),
        ("0.9cm", 9.0),
        ("3/8in", 9.525),
        ("3/8 inch", 9.525),
        ("3 / 8 inches", 9.525),
        ("1 3/8in", 34.925),
        ("1-3/8 in", 34.925),
        ('3/8"', 9.525),
        ("3/8″", 9.525),
        ("3/8”", 9.525),
        ("24pt", 24 * 25.4 / 72),
        ("9MM", 9.0),
        ("9\u00a0mm", 9.0),
        ("9\u202fmm", 9.0),
        ("0", 0.0),
        ("0mm", 0.0),
        ("1000cm", 10_000.0),
        ("12,5mm", 12.5),
        ("0,125in", 3.175),
        ("9 mm.", 9.0),
        ("11 in.", 279.4),
        ("½in", 12.7),
        ("⅜ in.", 9.525),
        ("1 ½in", 38.1),
        ("1½in", 38.1),
        ("1-½ in", 38.1),
        ("3⁄8in", 9.525),
        ("⅟8in", 3.175),
    ],
)
def test_a_length_means_millimetres(text: str, value_mm: float) -> None:
    """Every unit of the trade, fractions and forgiving spaces come out in millimetres."""
    assert parse_length(text) == pytest.approx(value_mm, abs=1e-12)


def test_a_fault_repeats_what_was_typed() -> None:
    """As the person wrote it, spaces and all."""
    with pytest.raises(UnitError) as caught:
        parse_length(" 3/8  furlongs")
    assert caught.value.value == " 3/8  furlongs"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("9,5,0mm", "write decimals with a point"),
        ("1.000,5", "write decimals with a point"),
        ("1,000mm", "write 1.000 or 1000, whichever is meant"),
        ("9mn", "did you mean 'mm'? use mm, cm, in or pt"),
        ("9inhces", "did you mean 'in'?"),
        ("9m", "use mm, cm, in or pt"),
        ("9ft", "use mm, cm, in or pt"),
        ("9'", "use mm, cm, in or pt"),
        ("9furlongs", "use mm, cm, in or pt"),
        ("-9mm", "take off the minus"),
        ("−9mm", "take off the minus"),
        ("1/0in", "such as 3/8in"),
        ("nan", "write figures and a unit"),
        ("inf", "write figures and a unit"),
        ("infmm", "write figures and a unit"),
        ("", "write figures and a unit"),
        ("  ", "write figures and a unit"),
        ("mm", "write figures and a unit"),
        ("9 5", "write figures and a unit"),
        ("1/2/3", "write figures and a unit"),
        ("9..", "write figures and a unit"),
        ("９mm", "write figures and a unit"),
        ("٩mm", "write figures and a unit"),
        ("½½in", "write figures and a unit"),
        ("1½2in", "write figures and a unit"),
        ("²in", "write figures and a unit"),
        ("11 in..", "write figures and a unit"),
        ("9" * 5000, "write figures and a unit"),
        ("1e308", "write figures and a unit"),
        ("9" * 40, "look at the figure and its unit"),
        ("10001mm", "look at the figure and its unit"),
    ],
)
def test_a_bad_length_is_refused_with_what_to_do(text: str, hint: str) -> None:
    """A length that cannot be read names its value and a remedy."""
    with pytest.raises(UnitError) as caught:
        parse_length(text)
    assert caught.value.value == text
    assert hint in (caught.value.remedy)


def test_a_negative_length_is_read_where_it_may_point_both_ways() -> None:
    """Positions from a middle may be negative."""
    assert parse_length("-3mm", signed=True) == -3.0


@pytest.mark.parametrize(
    ("text", "least", "greatest"),
    [
        ("13..15mm", 13.0, 15.0),
        ("13mm..15mm", 13.0, 15.0),
        ("13..15", 13.0, 15.0),
        ("1.3..1.5cm", 13.0, 15.0),
        ("13mm..1.5cm", 13.0, 15.0),
        ("3/8..1/2in", 9.525, 12.7),
        ("13 .. 15 mm", 13.0, 15.0),
        ("13…15mm", 13.0, 15.0),
        ("13..13mm", 13.0, 13.0),
        ("12–13mm", 12.0, 13.0),
        ("12-13mm", 12.0, 13.0),
        ("12 mm — 1.3 cm", 12.0, 13.0),
        ("12,5–13,5", 12.5, 13.5),
        ("½–¾in.", 12.7, 19.05),
        ("1-1/2–1-3/4in", 38.1, 44.45),
        ("1 1/4-1 3/8in", 31.75, 34.925),
    ],
)
def test_a_range_has_two_ends(text: str, least: float, greatest: float) -> None:
    """A unit on the upper figure serves both; equal ends are a range all the same."""
    found = parse_range(text)
    assert found == pytest.approx((least, greatest))


def test_a_range_may_be_a_single_length() -> None:
    """Without dots or a dash it is a length; a hyphen before a fraction is none of a range."""
    assert parse_range("13mm") == 13.0
    assert parse_range("1-1/2in") == pytest.approx(38.1)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("15..13mm", "lesser length first"),
        ("13..", "13..15mm"),
        ("..15mm", "13..15mm"),
        ("13..14..15", "13..15mm"),
        ("15–13mm", "lesser length first"),
        ("13–", "13..15mm"),
        ("13-14-15", "13..15mm"),
        ("1,250–1,260mm", "write 1.250 or 1250"),
        ("1in..20", "say the unit of the upper figure too"),
    ],
)
def test_a_bad_range_is_refused_with_what_to_do(text: str, hint: str) -> None:
    """A range that runs backwards, lacks an end or has three is refused."""
    with pytest.raises(UnitError) as caught:
        parse_range(text)
    assert hint in caught.value.remedy


@pytest.mark.parametrize(
    "text", ["20x30mm", "20×30", "20 x 30 mm", "20X30mm", "2x3cm", "20mmx3cm", "20,0x30,0mm"]
)
def test_a_rectangle_is_width_by_height(text: str) -> None:
    """A unit on the height alone serves both."""
    assert parse_rectangle(text) == (20.0, 30.0)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("1inx30", "say the unit of the height too"),
        ("20", "20x30mm"),
        ("20x", "20x30mm"),
        ("x30", "20x30mm"),
        ("20x30x40", "20x30mm"),
        ("20,500x30", "write 20.500 or 20500"),
    ],
)
def test_a_bad_rectangle_is_refused_with_what_to_do(text: str, hint: str) -> None:
    """A rectangle needs two sides that can be told apart."""
    with pytest.raises(UnitError) as caught:
        parse_rectangle(text)
    assert hint in caught.value.remedy


def test_a_unit_other_than_mm_on_the_width_alone_is_refused() -> None:
    """Nobody can tell what the bare height means beside inches; beside mm it is plain."""
    assert parse_rectangle("20mmx30") == (20.0, 30.0)
    with pytest.raises(UnitError, match="no unit for the height"):
        parse_rectangle("2cmx3")


@pytest.mark.parametrize(
    ("text", "size_pt"),
    [("12", 12.0), ("12pt", 12.0), ("25.4mm", 72.0), ("1/2in", 36.0), ("12,5pt", 12.5)],
)
def test_a_size_is_in_points(text: str, size_pt: float) -> None:
    """A bare size is points; a length is turned into points."""
    assert parse_size(text) == size_pt


@pytest.mark.parametrize("text", ["0", "0mm", "-1", "12,500", "large", "nan", "1e308", ""])
def test_a_bad_size_is_refused(text: str) -> None:
    """A size must be a number above zero."""
    with pytest.raises(UnitError):
        parse_size(text)


@pytest.mark.parametrize(
    ("text", "endings", "number"),
    [
        ("50", (), 50.0),
        ("-20", (), -20.0),
        ("1.2em", ("em",), 1.2),
        ("45°", ("deg", "°"), 45.0),
        ("1,2em", ("em",), 1.2),
    ],
)
def test_a_number_may_carry_its_ending(text: str, endings: tuple[str, ...], number: float) -> None:
    """Tracking, leading and angles are plain numbers."""
    assert parse_number(text, endings=endings) == number


@pytest.mark.parametrize("text", ["", "x", "1,200", "nan", "inf", "1e308", "1.2em", "１"])
def test_a_bad_number_is_refused(text: str) -> None:
    """What is no finite number of a sane size is refused."""
    with pytest.raises(FieldError):
        parse_number(text)


@pytest.mark.parametrize("text", ["", "1.0", "-1", "two", "1000", "²", "9" * 5000])
def test_a_bad_count_is_refused(text: str) -> None:
    """A count is a whole number of at most three figures."""
    with pytest.raises(FieldError):
        parse_count(text)


def test_a_choice_forgives_case_and_underscores() -> None:
    """The member itself comes out."""
    assert parse_choice("Over_Boards", Measured) is Measured.OVER_BOARDS


def test_a_wrong_choice_is_offered_the_nearest_and_the_list() -> None:
    """A slip of the finger is recognised."""
    with pytest.raises(FieldError) as caught:
        parse_choice("taransverse", Orientation)
    assert "did you mean 'transverse'?" in caught.value.remedy
    assert "any, transverse, longitudinal, pillar" in caught.value.remedy


@given(st.text(max_size=30) | st.text('0123456789./- x,"mincpt', max_size=12))
@example("1" * 70 + "/")
def test_any_text_is_a_length_or_refused(text: str) -> None:
    """No text whatever gets past as anything but a finite length, or raises anything else."""
    for parse in (parse_length, parse_range, parse_rectangle, parse_size):
        try:
            found = parse(text)
        except SpinefitError as fault:
            assert "\n" not in str(fault)
            continue
        values = [found] if isinstance(found, float) else found
        assert all(math.isfinite(value) and value >= 0 for value in values)


@given(st.floats(0.001, 9000), st.sampled_from(["mm", " mm", ""]))
def test_a_decimal_length_is_read_exactly(value: float, unit: str) -> None:
    """What the interpreter writes of a float, down to a micrometre, is read back to the same."""
    assert parse_length(f"{value!r}{unit}") == value


def test_figures_share_the_unit_of_the_last() -> None:
    """Figures with a unit of their own keep it."""
    assert parse_figures(["1", "2mm", "3cm"], last="last") == (10.0, 2.0, 30.0)
