"""Lengths around a group that stands off the middle, each by hand."""

from __future__ import annotations

import math

import pytest

from spinefit import catalogue
from spinefit.geometry import outright_panel, usable_panel
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.judgement import judged
from spinefit.judgement.judged import Judged, Sides
from spinefit.judgement.offer import offer_of
from spinefit.layout import search
from spinefit.layout.divisions import SetLines
from spinefit.shaping import shape_title
from spinefit.units import mm_from_pt, pt_from_mm
from spinefit.vocabulary import BackForm, Orientation, Place, SetBy

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
BOX = (-3.0, -1.0, 2.0, 0.5)
ROUND = {"width_mm": 30.0, "height_mm": 200.0, "back": BackForm.ROUNDED, "rise_mm": 5.0}


def a_layout(orientation, *, spine=None, panel=None, centre_mm=(1.0, 2.0), market="GB", **fields):
    """Job, title and a layout; its box is (-3, -1, 2, 0.5) em, its baselines at 0.2 and -0.7."""
    if panel is None:
        spine = Spine(**({"width_mm": 30.0, "height_mm": 200.0} | (spine or {})))
    lettering = Lettering(orientation=orientation, **fields)
    job = resolve(
        Job(title="Tidal Log", spine=spine, panel=panel, lettering=lettering, market=market)
    )
    title = shape_title(job)
    if job.spine is not None:
        room = usable_panel(job.spine, job.shape, job.rules)
    else:
        room = outright_panel(job.panel, job.shape)
    layout = search(job, title, room, catalogue.title_words(job.language))[0]
    lines = SetLines(
        ("Tidal", "Log"), (2.0, 1.0), (-0.2, 0.7), (False, False), 0.0, shape="squared"
    )
    group = layout.group._replace(box=BOX, lines=lines, middle_em=0.0)
    limit = layout.limit._replace(centre_mm=centre_mm)
    return job, title, layout._replace(group=group, limit=limit)


def at_4_mm(job, _title, layout) -> Judged:
    """The layout at 4 mm to the em."""
    offer = offer_of(job, layout.title)
    return Judged(job, layout, offer, set_pt=pt_from_mm(4.0), why="asked", largest_pt=99.0)


def test_spare_off_the_middle():
    """In a panel 60 x 40 with 1 mm of clearance, 4 mm to the em, standing at (1, 2)."""
    job, _title, layout = a_layout(
        ACROSS, panel=Panel(width_mm=60.0, height_mm=40.0), clearance_mm=1.0
    )
    centre, spare = judged.place(job, layout, 4.0)
    assert centre == (1.0, 2.0)
    assert spare == pytest.approx((30 - 1 + 1 - 12, 30 - 1 - 1 - 8, 20 - 1 - 2 - 2, 20 - 1 + 2 - 4))


def test_what_floats_stands_in_the_middle_of_a_back_too_low_for_it():
    """Its ink then reaches as far over the head as over the tail."""
    job, _title, layout = a_layout(ACROSS, spine={"height_mm": 30.0})
    assert layout.floats
    (x, y), spare = judged.place(job, layout, 18.0)
    assert (x, y) == pytest.approx((1.0, 18 * (1.0 - 0.5) / 2))
    assert spare.head == pytest.approx(spare.tail)
    assert spare.head < 0


@pytest.mark.parametrize("place", [Place.BACK, Place.LABEL])
def test_to_the_edge_of_a_label_or_to_the_joint(place):
    job, _title, layout = a_layout(ACROSS, clearance_mm=0.5)
    job = job._replace(method=job.method._replace(place=place))
    panel = layout.panel._replace(
        margin_left_mm=1.0, margin_right_mm=2.0, margin_head_mm=3.0, margin_tail_mm=4.0
    )
    found = judged.to_edge(job, layout._replace(panel=panel), Sides(10.0, 20.0, 30.0, 40.0))
    label = place is Place.LABEL
    margins = (0.0, 0.0, 0.0, 0.0) if label else (1.0, 2.0, 3.0, 4.0)
    assert found == pytest.approx(
        tuple(side + 0.5 + more for side, more in zip((10, 20, 30, 40), margins, strict=True))
    )


def test_no_edge_is_known_where_the_height_is_open():
    job, _title, layout = a_layout(ALONG, spine={"height_mm": None})
    spare = judged.place(job, layout, 4.0)[1]
    assert (spare.head, spare.tail) == (None, None)
    beyond = judged.to_edge(job, layout, spare)
    assert (beyond.head, beyond.tail) == (None, None)
    assert judged.to_edge(job, layout, Sides(1.0, 1.0, 5.0, 5.0)).head is None
    assert len(beyond.known()) == 2
    assert at_4_mm(job, _title, layout).first_from_head_mm is None


@pytest.mark.parametrize("orientation", [ACROSS, ALONG, Orientation.PILLAR])
def test_the_leading_is_from_one_baseline_to_the_next(orientation):
    """Baselines at 0.2 and -0.7 em; the one line of a pillar, or of any other, has none."""
    job, title, layout = a_layout(ACROSS)
    candidate = layout.candidate._replace(orientation=orientation)
    one = at_4_mm(job, title, layout._replace(candidate=candidate))
    expected = None if orientation is Orientation.PILLAR else pytest.approx(0.9)
    assert one.leading_em == expected
    line = SetLines(("Tidal",), (2.0,), (0.0,), (False,), 0.0)
    group = layout.group._replace(lines=line)
    assert at_4_mm(job, title, layout._replace(group=group)).leading_em is None


def test_from_the_head_to_the_first_baseline_or_to_the_ink():
    """Across, to the baseline; along, descending, to the left end of the line, 3 em up."""
    across = at_4_mm(*a_layout(ACROSS))
    middle_mm = across.layout.panel.middle_from_head_mm
    expected_mm = middle_mm - across.centre_mm[1] - 0.8
    assert across.first_from_head_mm == pytest.approx(expected_mm)
    along = at_4_mm(*a_layout(ALONG, centre_mm=(1.0, 7.0)))
    assert along.first_from_head_mm == pytest.approx(middle_mm - 7 - 12)
    label = Panel(width_mm=20.0, height_mm=50.0)
    along = at_4_mm(*a_layout(ALONG, panel=label, centre_mm=(1.0, 7.0)))
    assert along.first_from_head_mm == pytest.approx(25 - 7 - 12)


@pytest.mark.parametrize(("x_mm", "outermost_mm"), [(-1.0, 13.0), (1.0, 11.0), (5.0, 13.0)])
def test_narrowing_counts_the_outermost_ink_on_either_side(x_mm, outermost_mm):
    """Ink from -12 to 8 mm about the place, on a round of radius 25."""
    one = at_4_mm(*a_layout(ACROSS, spine=ROUND, centre_mm=(x_mm, 0.0)))
    assert one.foreshortening == pytest.approx(math.cos(outermost_mm / 25))


@pytest.mark.parametrize("x_mm", [-6.0, -1.0, 0.5, 6.0])
@pytest.mark.parametrize("market", ["GB", "FR"])
def test_the_height_seen_is_that_of_the_band_farthest_round(x_mm, market):
    """Descending, tops point right: the band reaches from the last baseline to the first's top."""
    job, title, layout = a_layout(ALONG, spine=ROUND, market=market, centre_mm=(x_mm, 0.0))
    down = market == "GB"
    ends = (-0.7 * 4, (0.2 + title.reading_height_em) * 4)
    outermost = max(abs(x_mm + (end if down else -end)) for end in ends)
    seen = at_4_mm(job, title, layout).height_seen
    assert seen == pytest.approx(math.cos(outermost / 25))


def test_height_is_seen_whole_across_and_on_a_flat_back():
    assert at_4_mm(*a_layout(ACROSS, spine=ROUND, centre_mm=(9.0, 0.0))).height_seen == 1.0
    assert at_4_mm(*a_layout(ALONG, centre_mm=(9.0, 0.0))).height_seen == 1.0


def test_the_back_needed_counts_the_longer_side_twice():
    """3 em to one side at 4 mm, half a millimetre of clearance, head and foot; not over bands."""
    job, title, layout = a_layout(
        ALONG, spine={"height_mm": None, "head_mm": 6.0, "foot_mm": 9.0}, clearance_mm=0.5
    )
    assert at_4_mm(job, title, layout).needs_back_mm == pytest.approx(24 + 1 + 15)
    banded = job._replace(spine=job.spine._replace(bands=3))
    assert at_4_mm(banded, title, layout).needs_back_mm == pytest.approx(24 + 1)


def test_letters_of_one_size_fit_only_up_to_the_limit_of_their_own():
    """Tools: the size is that of the set, and the limit that of letters of that size."""
    job, title, layout = a_layout(ACROSS, size_pt=12.0)
    own_mm = mm_from_pt(12.0)
    offer = offer_of(job, title)
    for limit_mm, fits in ((own_mm, True), (own_mm * 1.01, True), (own_mm * 0.99, False)):
        tooled = layout._replace(
            at_size=lambda _size: layout, limit=layout.limit._replace(size_mm=limit_mm)
        )
        said = {"set_pt": 12.0, "why": "asked", "largest_pt": 99.0}
        one = Judged(job, tooled, offer, **said)
        assert one.fits is fits
        assert (one.set_by, one.set_because) == (SetBy.ASKED, "asked")
        over = tooled._replace(over_bands=True)
        assert not Judged(job, over, offer, **said).fits
