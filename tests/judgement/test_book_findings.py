"""Where authorities disagree, or the book lies another way, the binder is told who says what.

Trade facts: sections 2.1 (geometry, computed), 5 and 11 (side margin and thinnest spine).
"""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.vocabulary import BindingSide, Level, Orientation, Reading, Status
from tests.fonts.conftest import build

ACROSS = Lettering(orientation=Orientation.TRANSVERSE)


def found(title="Tides", *, method=None, market="GB", lettering=None, **spine):
    said = Spine(**{"height_mm": 210.0, **spine})
    report = check(
        Job(
            title=title,
            spine=said,
            method=method,
            market=market,
            lettering=lettering or Lettering(),
        )
    )
    return {one.topic: one for one in report.findings}


def test_the_printers_space_at_the_joint_is_disputed_where_it_decides():
    """1 to 3 mm in the UK, 1/8 in (3.2 mm) in the US; both named, with the option."""
    one = found(width_mm=12.0)["edge-disagreed"]
    assert (one.value, one.limit, one.status) == (2.0, 3.2, Status.PUBLISHED)
    assert "--edge" in one.text and "UK" in one.text and "US" in one.text


@pytest.mark.parametrize(
    "more",
    [
        {"edge_mm": 2.0},  # the binder has chosen
        {"method": "paper-label"},  # no printer's rule
        {
            "width_mm": 29.0,
            "height_mm": 14.0,
            "lettering": ACROSS,
        },  # the height decides
    ],
)
def test_where_the_rule_decided_nothing_it_is_not_disputed(more):
    assert "edge-disagreed" not in found(**{"width_mm": 12.0, **more})


@pytest.mark.parametrize(("width", "said"), [(4.9, False), (5.0, True), (6.3, True), (6.35, False)])
def test_the_thinnest_back_is_disputed_between_the_two_figures(width, said):
    """5 mm (UK printer, EU guide) and 1/4 in (US printer); below both there is a warning."""
    topics = found(width_mm=width)
    assert ("thin-back-disagreed" in topics) is said
    assert ("thin-back" in topics) is (width < 5)


@pytest.mark.parametrize(
    ("reading", "lies"),
    [(Reading.DESCENDING, "upside down"), (Reading.ASCENDING, "upright")],
)
def test_a_left_to_right_title_on_a_right_bound_book(reading, lies):
    """Clockwise on a right-bound book: not upright front cover up (trade facts 2.1, computed)."""
    one = found(
        width_mm=12.0, binding_side=BindingSide.RIGHT, lettering=Lettering(reading=reading)
    )["reading-right-bound"]
    assert f"lies {lies}" in one.text
    assert one.level is (Level.NOTE if lies == "upside down" else Level.GOOD)
    assert one.status is Status.COMPUTED


def test_other_books_are_not_told_so():
    """Bound at the left, or a title that can only run across."""
    right = {"width_mm": 30.0, "binding_side": BindingSide.RIGHT}
    for topics in (
        found(width_mm=12.0),
        found(**right, lettering=ACROSS),
    ):
        assert "reading-right-bound" not in topics


@pytest.mark.parametrize(("share", "told"), [(1.0, False), (0.8, False), (0.5, True), (0.0, True)])
def test_letters_that_a_font_sets_on_one_another_are_told(tmp_path, share, told):
    """Their advances are a share of what they were, every checksum being right."""
    font = build()
    for name, (advance, bearing) in font["hmtx"].metrics.items():
        font["hmtx"][name] = (round(share * advance), bearing)
    path = tmp_path / "close.ttf"
    font.save(path)
    spine = Spine(width_mm=22.0, height_mm=210.0)
    report = check(Job(title="HIETHIET", spine=spine, lettering=Lettering(font=str(path))))
    assert ("letters-heaped" in [one.topic for one in report.findings]) is told


@pytest.mark.parametrize(("tracking", "told"), [(0.0, False), (-50.0, False), (-200.0, True)])
def test_letters_tracked_onto_one_another_are_told(tracking, told):
    spine = Spine(width_mm=22.0, height_mm=210.0)
    lettering = Lettering(tracking=tracking)
    report = check(Job(title="The Harbour Light", spine=spine, lettering=lettering))
    assert ("letters-heaped" in [one.topic for one in report.findings]) is told
