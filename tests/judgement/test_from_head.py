"""Where lettering across a back without bands stands, asked for or not."""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.errors import FieldError
from spinefit.job.fields import assemble
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
