"""What --centre does for lettering across a back without bands."""

from __future__ import annotations

from spinefit import Job, Lettering, Spine, check
from spinefit.vocabulary import Centre, Orientation


def across(title: str, centre: Centre):
    lettering = Lettering(orientation=Orientation.TRANSVERSE, centre=centre, size_pt=20)
    spine = Spine(width_mm=40, height_mm=200)
    return check(Job(title=title, spine=spine, lettering=lettering), verify=True).layouts[0]


def test_centred_by_capitals_a_descender_does_not_move_the_baseline():
    """QUAY and QUAT stand on the same baseline by capitals, not by ink."""
    by_capitals = [across(title, Centre.CAPITALS) for title in ("QUAY", "TAUT")]
    by_ink = [across(title, Centre.INK) for title in ("QUAY", "TAUT")]
    assert by_capitals[0].first_from_head_mm == by_capitals[1].first_from_head_mm
    assert by_ink[0].first_from_head_mm != by_ink[1].first_from_head_mm


def test_the_largest_size_does_not_depend_on_where_it_may_float():
    """The group is free to move along the back, so that its middle is no limit."""
    assert across("QUAY", Centre.CAPITALS).largest_pt == across("QUAY", Centre.INK).largest_pt
