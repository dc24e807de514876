"""What the method and the binder's drawer make of a job."""

from __future__ import annotations

import math

import pytest

from spinefit import catalogue
from spinefit.errors import FieldError, UnitError
from spinefit.job.fields import assemble
from spinefit.job.lengths import parse_size, parse_sizes
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.units import DIDOT_POINT_MM, PRINTERS_POINT_MM, mm_from_pt
from spinefit.vocabulary import Place

LABELS = [key for key, row in catalogue.methods().items() if row.place is Place.LABEL]
OTHERS = [key for key in catalogue.methods() if key not in LABELS]


def on_a_back(method, *, width_mm=20.0, edge_mm=None, **lettering):
    return resolve(
        Job(
            title="Tides",
            spine=Spine(width_mm=width_mm, height_mm=200.0, edge_mm=edge_mm),
            lettering=Lettering(**lettering),
            method=method,
        )
    )


# --- a label's own allowances --------------------------------------------------------------


@pytest.mark.parametrize("key", LABELS)
def test_a_label_brings_its_own_edge_and_clearance(key):
    """Joint to label; then inner margin and frame line. All named as assumed."""
    job, row = on_a_back(key), catalogue.method(key)
    assert job.spine.edge_mm == row.label_edge.value
    assert job.lettering.clearance_mm == pytest.approx(row.inner_margin.value + row.frame.value)
    assert f"edge: {row.label_edge.value:g} mm from each joint to the label" in job.assumed
    said = next(line for line in job.assumed if line.startswith("clearance: "))
    assert f"inner margin of {row.inner_margin.value:g} mm" in said
    assert f"frame line of {row.frame.value:g} mm" in said


@pytest.mark.parametrize("key", OTHERS)
def test_lettering_on_the_back_keeps_the_methods_own_edge(key):
    """A case 2 mm less than the bulk in all; a printed cover by the rule of printed covers."""
    job, row = on_a_back(key), catalogue.method(key)
    edge_mm = 2.0 if row.edge is None else row.edge.value
    assert (row.edge is None) == (key == "paperback-cover")
    assert (job.spine.edge_mm, job.lettering.clearance_mm) == (edge_mm, 0.0)
    assert "clearance: none" in job.assumed


@pytest.mark.parametrize("key", [*LABELS, *OTHERS])
def test_only_a_printed_cover_keeps_clear_of_trims(key):
    """The squares of the boards, a headcap or a turn-in of 3 mm elsewhere (common practice)."""
    ends_mm = 4.0 if key == "paperback-cover" else 3.0
    job = on_a_back(key)
    assert (job.spine.head_mm, job.spine.foot_mm) == (ends_mm, ends_mm)


@pytest.mark.parametrize("key", LABELS)
def test_what_was_typed_stands_on_a_label_too(key):
    job = on_a_back(key, edge_mm=0.0, clearance_mm=0.0)
    assert (job.spine.edge_mm, job.lettering.clearance_mm) == (0.0, 0.0)
    assert not any(line.startswith(("edge", "clearance")) for line in job.assumed)


def test_a_label_on_a_range_has_the_same_edge_at_both_ends():
    job = on_a_back("paper-label", width_mm=(9.0, 35.0))
    assert job.spine.edge_mm == job.widest.edge_mm == 1.25
    case = on_a_back("blocked-case", width_mm=(9.0, 35.0))
    assert case.spine.edge_mm == case.widest.edge_mm == 1.0
    plain = on_a_back("paperback-cover", width_mm=(9.0, 35.0))
    assert (plain.spine.edge_mm, plain.widest.edge_mm) == (1.0, 3.0)


@pytest.mark.parametrize("key", LABELS)
def test_a_label_given_outright_keeps_its_inner_margin(key):
    row = catalogue.method(key)
    job = resolve(Job(title="Tides", panel=Panel(width_mm=20.0, height_mm=30.0), method=key))
    assert job.lettering.clearance_mm == pytest.approx(row.inner_margin.value + row.frame.value)


def test_a_label_without_a_frame_has_its_inner_margin_alone():
    job = on_a_back(catalogue.method("leather-label")._replace(frame=None))
    assert job.lettering.clearance_mm == 2.0
    assert "clearance: 2 mm inside the label's edge, an inner margin of 2 mm" in job.assumed


def test_a_method_may_be_given_itself():
    row = catalogue.method("screen-print")._replace(key="ours")
    assert on_a_back(row).method is row
    with pytest.raises(FieldError, match="not a text"):
        on_a_back(3)


# --- sizes ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "size_mm"),
    [
        ("14didot", 14 * DIDOT_POINT_MM),
        ("14 dd", 14 * DIDOT_POINT_MM),
        ("14 Didot pt", 14 * DIDOT_POINT_MM),
        ("14pica", 14 * PRINTERS_POINT_MM),
        ("14pt", 14 * 25.4 / 72),
        ("14", 14 * 25.4 / 72),
    ],
)
def test_a_size_may_be_in_any_of_three_points(text, size_mm):
    assert mm_from_pt(parse_size(text)) == pytest.approx(size_mm, abs=1e-8)


@pytest.mark.parametrize(
    ("value", "sizes_mm"),
    [
        ("10,12,14,18", [size * 25.4 / 72 for size in (10, 12, 14, 18)]),
        ("10; 12; 14pt", [size * 25.4 / 72 for size in (10, 12, 14)]),
        ("18,10", [size * 25.4 / 72 for size in (10, 18)]),
        ("10,12didot", [size * DIDOT_POINT_MM for size in (10, 12)]),
        ("10,12dd", [size * DIDOT_POINT_MM for size in (10, 12)]),
        ("10,12pica", [size * PRINTERS_POINT_MM for size in (10, 12)]),
        ("10pt,12didot", [10 * 25.4 / 72, 12 * DIDOT_POINT_MM]),
        ([10, "12didot"], [10 * DIDOT_POINT_MM, 12 * DIDOT_POINT_MM]),
        (12, [12 * 25.4 / 72]),
    ],
)
def test_a_drawer_is_in_points_of_which_the_last_lends_its_unit(value, sizes_mm):
    found = assemble("Tides", {"width": 20, "sizes": value}).lettering.sizes_pt
    assert [mm_from_pt(size) for size in found] == pytest.approx(sizes_mm, abs=1e-8)
    assert on_a_back("hand-letters", sizes_pt=found).lettering.sizes_pt == found


@pytest.mark.parametrize(
    "texts", [[""], ["10", ""], ["0"], ["nan"], ["-8"], ["10", "10.0"], ["10didot", "12"], ["4mm"]]
)
def test_a_drawer_that_cannot_be_is_refused(texts):
    with pytest.raises(UnitError) as fault:
        parse_sizes(texts)
    assert fault.value.remedy


@pytest.mark.parametrize(
    "sizes_pt", [(), (10.0, 10.0), (0.0,), (-1.0,), (math.nan,), (math.inf,), (1e6,), ("10",)]
)
def test_a_drawer_from_a_program_is_checked_too(sizes_pt):
    with pytest.raises(FieldError) as fault:
        on_a_back("hand-letters", sizes_pt=sizes_pt)
    assert fault.value.where == "--sizes"


def test_a_drawer_rises_and_is_none_where_nothing_was_said():
    assert on_a_back("hand-letters", sizes_pt=(18.0, 8)).lettering.sizes_pt == (8.0, 18.0)
    assert on_a_back("hand-letters").lettering.sizes_pt is None
