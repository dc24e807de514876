"""Where lettering across a back without bands stands, asked for or not."""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.errors import FieldError
from spinefit.job.fields import assemble
from spinefit.job.values import OldLettering
from spinefit.vocabulary import Centre, Orientation


def the_layout(**spine):
    job = Job(
        title="Tides",
        spine=Spine(**({"width_mm": 40.0, "height_mm": 200.0} | spine)),
        lettering=Lettering(orientation=Orientation.TRANSVERSE, lines=1),
    )
    (layout,) = check(job, verify=True).layouts
    return layout


def middle_mm(layout):
    """Middle of the ink from the head, with the usual 4 mm kept free there."""
    return 4 + layout.spare_mm.head + layout.ink_height_mm / 2


def test_a_quarter_down_unless_asked():
    assert middle_mm(the_layout()) == pytest.approx(50)
    assert middle_mm(the_layout(from_head_mm=120.0)) == pytest.approx(120)


def test_the_ends_still_hold():
    """It is moved no farther than the usable panel reaches, and the limit stays."""
    for from_head_mm in (0.0, 200.0):
        layout = the_layout(from_head_mm=from_head_mm)
        assert layout.fits
        assert min(layout.spare_mm.head, layout.spare_mm.tail) == pytest.approx(0, abs=1e-9)
        assert layout.largest_pt == the_layout().largest_pt


def beside_old(old, *, method, from_head_mm=None, title="Tides", **more):
    spine = Spine(width_mm=31.0, height_mm=233.0, from_head_mm=from_head_mm)
    report = check(Job(title=title, spine=spine, old_lettering=old, method=method, **more))
    return report, 3 + report.shown.spare_mm.head + report.shown.ink_height_mm / 2


@pytest.mark.parametrize(("asked_mm", "there_mm"), [(10.0, 20.5), (40.0, 40.0), (225.0, 212.5)])
def test_a_label_over_old_lettering_keeps_to_the_back(asked_mm, there_mm):
    """Of 35 mm: 31 mm of old ink and 2 mm beyond it; 3 mm are free at the ends of 233 mm."""
    old = OldLettering(width_mm=15.0, height_mm=31.0)
    bare = Lettering(orientation=Orientation.TRANSVERSE, lines=1, clearance_mm=0.3)
    report, middle = beside_old(old, method="paper-label", from_head_mm=asked_mm, lettering=bare)
    assert report.fits
    assert middle + 0.3 == pytest.approx(there_mm)


def test_beside_old_lettering_it_stands_where_it_was_asked_for():
    """Old ink lies from 160 to 191 mm: 33 mm is free of it, and a quarter down is as well."""
    old = OldLettering(width_mm=15.0, height_mm=31.0, from_head_mm=160.0, in_view=True)
    across = Lettering(orientation=Orientation.TRANSVERSE, lines=1, clearance_mm=1.0)
    for asked_mm, there_mm in ((33.0, 33.0), (None, 233 / 4)):
        report, middle = beside_old(
            old, method="blocked-case", from_head_mm=asked_mm, lettering=across
        )
        assert report.fits
        assert middle + 1 == pytest.approx(there_mm)


@pytest.mark.parametrize(("bands", "way"), [(None, "longitudinal"), (5, "transverse")])
def test_over_old_lettering_of_unknown_place_it_stands_in_the_middle(bands, way):
    """Of the back or of the panel; a quarter down is for lines across on a bare back alone."""
    job = Job(
        title="Tides",
        spine=Spine(width_mm=31.0, height_mm=233.0, bands=bands),
        old_lettering=OldLettering(width_mm=15.0, height_mm=12.0),
        lettering=Lettering(orientation=Orientation(way), lines=1),
        method="paper-label",
    )
    spare_mm = check(job).shown.spare_mm
    assert spare_mm.head == pytest.approx(spare_mm.tail)


def test_on_old_lettering_it_is_told_how_far_they_overlap():
    """Both in the middle of the width: half of either, where that is less than along the back."""
    old = OldLettering(width_mm=15.0, height_mm=31.0)
    across = Lettering(orientation=Orientation.TRANSVERSE, lines=1)
    report, _middle = beside_old(old, method="hand-letters", lettering=across)
    (met,) = [one for one in report.findings if one.topic == "old-lettering-met"]
    assert met.limit == pytest.approx(-(15 + report.shown.ink_width_mm) / 2)


def test_it_is_read_from_the_command_line():
    assert assemble("Tides", {"width": 40, "height": 200, "from-head": "12cm"}).spine == Spine(
        width_mm=40.0, height_mm=200.0, from_head_mm=120.0
    )


@pytest.mark.parametrize(
    ("spine", "said"),
    [
        ({"from_head_mm": 200.1}, "beyond the tail"),
        ({"from_head_mm": -1.0}, "out of bounds"),
        ({"from_head_mm": float("nan")}, "not a number"),
        ({"from_head_mm": 50.0, "height_mm": None}, "needs the height"),
        ({"from_head_mm": 50.0, "bands": 3}, "between bands"),
    ],
)
def test_what_cannot_be_is_refused(spine, said):
    with pytest.raises(FieldError, match=said) as found:
        the_layout(**spine)
    assert found.value.where == "spine.from_head_mm"


def test_capitals_on_the_middle_are_verified_where_the_height_limits():
    """A group that may move fills its panel from end to end, wherever its placing point is."""
    job = Job(
        title="Quay Gag",
        spine=Spine(width_mm=60, height_mm=14),
        lettering=Lettering(centre=Centre.CAPITALS, orientation=Orientation.TRANSVERSE),
    )
    assert check(job, verify=True).fits
