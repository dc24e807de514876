"""Is the largest size the largest, for any ink in any panel? Shapely is the judge."""

from __future__ import annotations

import math
from contextlib import contextmanager
from unittest import mock

import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from spinefit.geometry import Limit, UsablePanel, fit, largest, outright_panel
from spinefit.geometry.panel_polygons import panel_polygon, verify_fit
from spinefit.geometry.polygons import ink_polygon, ink_rings
from spinefit.job.model import Shape
from spinefit.job.values import KeepFree, Panel
from spinefit.shaping.glyphs import Contour
from spinefit.tolerances import FLATTENING_ERROR_EM
from spinefit.vocabulary import LimitedBy, PanelForm

CASES = settings(
    max_examples=200, deadline=None, suppress_health_check=[HealthCheck.filter_too_much]
)


def numbers(least, most):
    """Floats on a grid of thousandths, as a person types lengths."""
    return st.integers(round(least * 1000), round(most * 1000)).map(lambda n: n / 1000)


@st.composite
def stars(draw, *, reach=1.0, corners=9):
    """Rings that turn once about a point inside them, convex or not."""
    count = draw(st.integers(3, corners))
    radii = draw(st.lists(numbers(0.15, 1.0), min_size=count, max_size=count))
    start = draw(numbers(0, 6))
    angles = [start + 2 * math.pi * k / count for k in range(count)]
    return tuple(
        (reach * r * math.cos(a), reach * r * math.sin(a))
        for r, a in zip(radii, angles, strict=True)
    )


def combs(ring):
    """A ring that is star-shaped about no point: a bracket of its bounding box."""
    xs, ys = zip(*ring, strict=True)
    left, right, low, high = min(xs), max(xs), min(ys), max(ys)
    third = (right - left) / 3
    return (
        (left, low),
        (right, low),
        (right, high),
        (right - third, high),
        (right - third, low + (high - low) / 5),
        (left + third, low + (high - low) / 4),
        (left + third, high - (high - low) / 6),
        (left, high),
    )


@st.composite
def inks(draw):
    """One to three glyph-like parts, anywhere about the placing point."""
    parts = []
    for _ in range(draw(st.integers(1, 3))):
        ring = draw(stars())
        if draw(st.booleans()):
            ring = combs(ring)
        contour = Contour(ring[0], tuple((point,) for point in ring[1:]))
        parts.append(((contour,), draw(numbers(-1, 1)), draw(numbers(-0.7, 0.7))))
    ink = ink_polygon(parts)
    assume(not ink.is_empty and max(ink.bounds[2], -ink.bounds[0]) > 0.05)
    return ink


@st.composite
def rectangles(draw):
    return outright_panel(
        Panel(width_mm=draw(numbers(3, 60)), height_mm=draw(numbers(3, 90))), Shape()
    )


@st.composite
def convex_panels(draw):
    form = draw(st.sampled_from(["oval", "rounded", "cut", "hull"]))
    width_mm, height_mm = draw(numbers(6, 60)), draw(numbers(6, 90))
    panel = Panel(width_mm=width_mm, height_mm=height_mm)
    if form == "hull":
        hull = shapely.Polygon(draw(stars(reach=min(width_mm, height_mm) / 2))).convex_hull
        ring = tuple(hull.exterior.coords[:-1])
        return outright_panel(panel, Shape(form=PanelForm.POLYGON, outline_mm=ring))
    corner_mm = None if form == "oval" else min(width_mm, height_mm) * draw(numbers(0.05, 0.5))
    return outright_panel(panel, Shape(form=PanelForm(form), corner_mm=corner_mm))


@st.composite
def any_panels(draw):
    """Stars with or without areas kept free, and rectangles with them."""
    width_mm, height_mm = draw(numbers(8, 60)), draw(numbers(8, 60))
    free = tuple(
        KeepFree(
            width_mm=draw(numbers(0.3, width_mm / 3)),
            height_mm=draw(numbers(0.3, height_mm / 3)),
            x_mm=draw(numbers(-width_mm / 2, width_mm / 2)),
            y_mm=draw(numbers(-height_mm / 2, height_mm / 2)),
        )
        for _ in range(draw(st.integers(0, 3)))
    )
    panel = Panel(width_mm=width_mm, height_mm=height_mm)
    if draw(st.booleans()):
        ring = draw(stars(reach=min(width_mm, height_mm) / 2))
        return outright_panel(panel, Shape(form=PanelForm.POLYGON, outline_mm=ring, keep_free=free))
    return outright_panel(panel, Shape(keep_free=free))


clearances = st.one_of(st.just(0.0), numbers(0, 3))


@contextmanager
def exact_ink():
    """The ink of these tests has no curves, so that no error need be added to it."""
    with mock.patch.object(fit, "FLATTENING_ERROR_EM", 0.0):
        yield


@contextmanager
def as_any_polygon():
    """Even a convex outline is solved by first contact, without its half planes."""
    with mock.patch.object(fit, "is_convex", lambda ring: False):
        yield


def by_first_contact(panel: UsablePanel, ink, clearance_mm: float) -> Limit:
    with as_any_polygon():
        return fit.largest_in_shape(panel, ink.bounds, ink_rings(ink), clearance_mm=clearance_mm)


def solve(panel: UsablePanel, ink, clearance_mm: float) -> Limit:
    return largest(panel, ink.bounds, lambda: ink_rings(ink), clearance_mm=clearance_mm)


def judged(panel, ink, limit, clearance_mm, error_em=0.0):
    return verify_fit(
        ink,
        panel,
        centre_mm=limit.centre_mm,
        size_mm=limit.size_mm,
        clearance_mm=clearance_mm,
        error_em=error_em,
    )


def lies_inside(ink, panel, centre_mm, size_mm, clearance_mm):
    """The judge's own words, without the room's predicate: distance to the whole plane outside."""
    shape = panel_polygon(panel)
    grown = shapely.transform(ink, lambda points: points * size_mm + centre_mm)
    outside = shapely.box(-500, -500, 500, 500).difference(shape)
    if clearance_mm == 0:
        return grown.intersection(outside).area <= 1e-9
    return grown.distance(outside) >= clearance_mm - 1e-9


@CASES
@given(panel=rectangles(), ink=inks(), clearance_mm=clearances)
def test_rectangle_inside_at_the_limit_and_outside_above(panel, ink, clearance_mm):
    """Two divisions give the size that shapely finds, to a part in a thousand above."""
    limit = solve(panel, ink, clearance_mm)
    assert judged(panel, ink, limit, clearance_mm).agreed
    assert (limit.size_mm > 0) == (min(panel.width_mm, panel.height_mm) / 2 > clearance_mm)


@CASES
@given(panel=convex_panels(), ink=inks(), clearance_mm=clearances)
def test_convex_inside_at_the_limit_and_outside_above(panel, ink, clearance_mm):
    """Half planes and support functions give the size that shapely finds."""
    with exact_ink():
        limit = solve(panel, ink, clearance_mm)
    assert judged(panel, ink, limit, clearance_mm).agreed


@CASES
@given(panel=any_panels(), ink=inks(), clearance_mm=clearances)
def test_any_panel_first_contact(panel, ink, clearance_mm):
    """Ink is inside at a dozen sizes up to the first contact, and not just above it."""
    with exact_ink():
        limit = solve(panel, ink, clearance_mm)
    found = judged(panel, ink, limit, clearance_mm)
    assert found.inside
    assert found.outside_above
    for part in range(1, 13):
        size_mm = limit.size_mm * (1 - 1e-9) * part / 12
        assert size_mm == 0 or lies_inside(ink, panel, limit.centre_mm, size_mm, clearance_mm)


@CASES
@given(panel=convex_panels(), ink=inks(), clearance_mm=clearances)
def test_first_contact_agrees_with_half_planes(panel, ink, clearance_mm):
    """Two independent computations give a convex panel the same size."""
    with exact_ink():
        by_planes = solve(panel, ink, clearance_mm)
        by_contact = by_first_contact(panel, ink, clearance_mm)
    assume(by_planes.centre_mm == by_contact.centre_mm)  # they choose alike but for rounding
    assert math.isclose(by_planes.size_mm, by_contact.size_mm, rel_tol=1e-9, abs_tol=1e-9)


@CASES
@given(panel=any_panels(), ink=inks(), clearance_mm=clearances)
def test_error_of_curves_only_lowers_the_size(panel, ink, clearance_mm):
    """Ink grown by the flattening error still keeps the clearance."""
    safe = by_first_contact(panel, ink, clearance_mm)
    with exact_ink():
        bare = by_first_contact(panel, ink, clearance_mm)
    assert safe.size_mm <= bare.size_mm
    size_mm = safe.size_mm * (1 - 1e-9)
    grown_mm = clearance_mm + FLATTENING_ERROR_EM * size_mm
    assert size_mm == 0 or lies_inside(ink, panel, safe.centre_mm, size_mm, grown_mm)


@CASES
@given(panel=convex_panels(), ink=inks(), clearance_mm=clearances)
def test_error_of_curves_in_convex_panels_is_a_small_loss(panel, ink, clearance_mm):
    """What is given away for curves is the error over the ink's least reach, at the most."""
    safe = solve(panel, ink, clearance_mm)
    with exact_ink():
        bare = solve(panel, ink, clearance_mm)
    assert safe.size_mm <= bare.size_mm
    assert judged(panel, ink, safe, clearance_mm, FLATTENING_ERROR_EM).agreed


@CASES
@given(panel=rectangles(), ink=inks(), clearance_mm=clearances, more_mm=numbers(0, 20))
def test_a_larger_panel_never_lowers_the_size(panel, ink, clearance_mm, more_mm):
    larger = outright_panel(
        Panel(width_mm=panel.width_mm + more_mm, height_mm=panel.height_mm), Shape()
    )
    assert solve(larger, ink, clearance_mm).size_mm >= solve(panel, ink, clearance_mm).size_mm


@CASES
@given(panel=any_panels(), ink=inks(), clearance_mm=numbers(0.1, 2))
def test_clearance_never_raises_the_size(panel, ink, clearance_mm):
    with_it, without = solve(panel, ink, clearance_mm), solve(panel, ink, 0.0)
    assume(with_it.centre_mm == without.centre_mm)
    assert with_it.size_mm <= without.size_mm * (1 + 1e-9)


@CASES
@given(panel=rectangles(), ink=inks(), clearance_mm=clearances)
def test_first_contact_in_a_rectangle_names_the_same_side(panel, ink, clearance_mm):
    """A rectangle solved as any polygon gives the size and the side of the two divisions."""
    limit = solve(panel, ink, clearance_mm)
    assume(limit.size_mm > 0)
    left, bottom, right, top = ink.bounds
    room_mm = [s / 2 - clearance_mm for s in (panel.width_mm, panel.height_mm)]
    sizes = [room_mm[0] / max(right, -left), room_mm[1] / max(top, -bottom, 1e-12)]
    assume(not math.isclose(*sizes, rel_tol=1e-6))
    with exact_ink():
        general = by_first_contact(panel, ink, clearance_mm)
    assert math.isclose(limit.size_mm, general.size_mm, rel_tol=1e-9)
    assert limit.by is general.by
    assert limit.by in (LimitedBy.WIDTH, LimitedBy.HEIGHT)
