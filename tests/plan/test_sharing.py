"""Arithmetic of the zones, by itself."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spinefit.plan.model import BackText, Zone
from spinefit.plan.seats import Seat
from spinefit.plan.sharing import zones_for
from spinefit.vocabulary import Orientation, Role

ROLES = (Role.AUTHOR, Role.TITLE, Role.DATE)


def a_seat(roles=ROLES, *, weights=None, orientation=Orientation.LONGITUDINAL, panel=None):
    given = weights or {}
    texts = tuple(BackText(role=role, text=role, weight=given.get(role)) for role in roles)
    return Seat(panel, Zone(4.0, 204.0), texts, orientation=orientation)


needs = st.lists(st.floats(1, 50), min_size=3, max_size=3)


@given(
    needs,
    st.floats(0, 10),
    st.floats(1, 20),
    st.sampled_from([*Orientation][1:]),
    st.booleans(),
)
def test_zones_keep_to_the_stretch_and_never_overlap(lengths, gap_mm, roomy, orientation, banded):
    seat = a_seat(orientation=orientation, panel=2 if banded else None)
    wanted = dict(zip(ROLES, lengths, strict=True))
    found = zones_for(
        seat,
        wanted,
        gap_mm=gap_mm,
        wanted_gap_mm=roomy * gap_mm,
        sliver_mm=0.1,
        title_from_head_mm=51.0,
    )
    zones = [found[role][0] for role in ROLES]
    assert zones[0].begins_mm >= 4 - 1e-9
    assert zones[-1].ends_mm <= 204 + 1e-9
    for above, below in pairwise(zones):
        assert above.ends_mm <= below.begins_mm + 1e-9
    for role, zone in zip(ROLES, zones, strict=True):
        middle_mm = found[role][1]
        half_mm = wanted[role] / 2
        assert zone.begins_mm <= middle_mm - half_mm + 1e-9
        assert zone.ends_mm >= middle_mm + half_mm - 1e-9


@given(st.lists(st.floats(0.1, 100), min_size=3, max_size=3), st.floats(0, 10))
def test_shares_go_by_weight(weights, gap_mm):
    seat = a_seat(weights=dict(zip(ROLES, weights, strict=True)))
    found = zones_for(
        seat,
        dict.fromkeys(ROLES, 1.0),
        gap_mm=gap_mm,
        wanted_gap_mm=gap_mm,
        sliver_mm=0.1,
        title_from_head_mm=51.0,
    )
    total = sum(weights)
    for role, weight in zip(ROLES, weights, strict=True):
        share = (200 - 2 * gap_mm) * weight / total
        assert found[role][0].length_mm == pytest.approx(share)


def test_a_text_without_room_gets_what_is_left():
    found = zones_for(
        a_seat(),
        {Role.AUTHOR: 50.0, Role.TITLE: 140.0},
        gap_mm=3.0,
        wanted_gap_mm=3.0,
        sliver_mm=0.1,
        title_from_head_mm=51.0,
    )
    assert found[Role.DATE][0].length_mm == pytest.approx(4)
    short = zones_for(
        a_seat(),
        {Role.AUTHOR: 50.0, Role.TITLE: 148.0},
        gap_mm=3.0,
        wanted_gap_mm=3.0,
        sliver_mm=0.1,
        title_from_head_mm=51.0,
    )
    assert short[Role.DATE][0].length_mm == pytest.approx(0.1)
    assert short[Role.DATE][0].ends_mm <= 204


@pytest.mark.parametrize(
    ("needed_mm", "gap_mm"), [(10.0, 8.0), (62.0, 7.0), (65.0, 2.5), (66.0, 2.0)]
)
def test_texts_of_an_unbanded_back_part_where_there_is_room(needed_mm, gap_mm):
    """200 mm for three texts and two gaps: 8 mm are wanted, 2 mm is the least."""
    found = zones_for(
        a_seat(orientation=Orientation.TRANSVERSE),
        dict.fromkeys(ROLES, needed_mm),
        gap_mm=2.0,
        wanted_gap_mm=8.0,
        sliver_mm=0.1,
        title_from_head_mm=51.0,
    )
    author, title = found[Role.AUTHOR][1], found[Role.TITLE][1]
    assert title - author - needed_mm == pytest.approx(gap_mm)
