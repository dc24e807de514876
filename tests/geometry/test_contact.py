"""First contact, by hand, and the name of what is met."""

from __future__ import annotations

import math

import pytest

from spinefit.geometry import contact
from spinefit.geometry.contact import edges_of, first_contact, support_limit

DIAMOND = ((2.0, 0.0), (0.0, 2.0), (-2.0, 0.0), (0.0, -2.0))
# A square 20 x 20 without its upper right quarter from (2, 2) on.
NOTCHED = ((-10, -10), (10, -10), (10, 2), (2, 2), (2, 10), (-10, 10))


def moved(ring, x, y):
    return tuple((float(a + x), float(b + y)) for a, b in ring)


@pytest.mark.parametrize("centre", [(0.0, 0.0), (30.0, -7.0)])
def test_a_corner_met_before_any_edge_is_no_edge(centre):
    """The side of the diamond runs into the corner at (2, 2) at size 2: x + y = 2 s."""
    met = first_contact(edges_of([DIAMOND]), [moved(NOTCHED, *centre)], centre, 0.0)
    assert met.size_mm == pytest.approx(2.0)
    assert met.edge is None
    kept = first_contact(edges_of([DIAMOND]), [moved(NOTCHED, *centre)], centre, 1.0)
    assert kept.size_mm == pytest.approx((4 - math.sqrt(2)) / 2)
    assert kept.edge is None


@pytest.mark.parametrize("centre", [(0.0, 0.0), (30.0, -7.0)])
def test_the_edge_met_is_named_in_the_panels_frame(centre):
    """Tall ink at (1, 4) meets the edge y = 10 at 2.5, wide ink the edge x = -10."""
    tall = ((-0.2, -1.0), (0.2, -1.0), (0.2, 4.0), (-0.2, 4.0))
    border = moved(NOTCHED, *centre)
    met = first_contact(edges_of([tall]), [border], centre, 0.0)
    assert met.size_mm == pytest.approx(2.5)
    assert met.edge == (pytest.approx(border[4]), pytest.approx(border[5]))
    wide = ((-5.0, -0.1), (0.1, -0.1), (0.1, 0.1), (-5.0, 0.1))
    met = first_contact(edges_of([wide]), [border], centre, 1.0)
    assert met.size_mm == pytest.approx(9 / 5)
    assert met.edge == (pytest.approx(border[5]), pytest.approx(border[0]))


def test_no_border_is_met_at_no_size():
    assert first_contact(edges_of([DIAMOND]), [], (0.0, 0.0), 1.0) == (math.inf, None)


def test_support_in_a_triangle_by_hand():
    """Ink half an em high meets the base of a triangle 6 mm under its place."""
    triangle = ((-10.0, -6.0), (10.0, -6.0), (0.0, 14.0))
    ring = ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))
    met = support_limit([ring], (-0.5, -0.5, 0.5, 0.5), triangle, (0.0, 0.0), 1.0, 0.0)
    slant = math.sqrt(5)  # the sides: 2 x + y = 14
    sizes = (5 / 0.5, (14 / slant - 1) / (1.5 / slant))
    assert met.size_mm == pytest.approx(min(sizes))


def test_only_ink_that_can_meet_a_border_is_held_against_it(monkeypatch):
    """Of 20,000 edges of ink round a circle a few are near enough to an area kept free."""
    many = [2 * math.pi * at / 20_000 for at in range(20_000)]
    ink = edges_of([tuple((math.cos(at), math.sin(at)) for at in many)])
    held = []
    real = contact._edges_on_corners
    monkeypatch.setattr(
        contact,
        "_edges_on_corners",
        lambda edges, corners, mm: held.append(len(edges.length)) or real(edges, corners, mm),
    )
    area = ((10.0, -1.0), (12.0, -1.0), (12.0, 1.0), (10.0, 1.0))
    met = first_contact(ink, [area], (0.0, 0.0), 0.5)
    assert met.size_mm == pytest.approx(9.5, rel=1e-6)
    assert 0 < sum(held) < 2000
    assert first_contact(ink, [area], (0.0, 0.0), 0.5, at_most_mm=9.6) == met
    assert first_contact(ink, [area], (0.0, 0.0), 0.5, at_most_mm=9.0).size_mm == math.inf
