"""Do the figures of the trade stand in the tool's data as their sources give them?

Each row of shared/checks/figures.toml is one figure as it was read outside, with the row of our
data that must hold it; some are asked of an answer too, so that one that nobody reads is found.
"""

from __future__ import annotations

import math
import re
import tomllib

import pytest

from spinefit import catalogue, check
from spinefit.catalogue.tables import DATA
from spinefit.geometry.back import build_back
from spinefit.job import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.say.model import LayoutReport
from spinefit.units import height_mm_at_arcminutes
from spinefit.vocabulary import BackForm, Level, Orientation
from tests.published.check_rows import Row, agrees, each, rows_of


@each("figures", having="table")
def test_figures_of_the_data(row: Row) -> None:
    """Source: figures.toml; our row holds the figure, names its source and has its status."""
    inputs, expected = row["inputs"], row["expected"]
    group, name = inputs["row"].split(".")
    with (DATA / f"{inputs['table']}.toml").open("rb") as stream:
        ours = tomllib.load(stream)[group][name]
    (key,) = expected
    assert key == f"value_{ours['unit']}".removesuffix("_")
    agrees(row, {key: ours["value"]})
    assert row["names"] in ours["source"]
    assert ours["status"] == row["status"]


@each("figures", having="caution_mm")
def test_figures_a_binder_is_told(row: Row) -> None:
    """Source: figures.toml; what a printer asks of drawn lines stands in the method's cautions."""
    told = " ".join(catalogue.method(row["inputs"]["method"]).cautions)
    figures = [float(found) for found in re.findall(r"([\d.]+) mm", told)]
    nearest = min(figures, key=lambda one: abs(one - row["expected"]["caution_mm"]))
    agrees(row, {"caution_mm": nearest})
    assert row["source"] in told


@each("figures", having="characters")
def test_what_a_manufacturer_stamps_on_every_cloth_case_holds(row: Row) -> None:
    """Source: figures.toml; refusing it would refuse the day's work of a bindery."""
    inputs = row["inputs"]
    title = "The Lives of the Keepers of a Harbour Light"[: inputs["characters"]]
    lettering = Lettering(
        font="Libre Baskerville Bold",
        size_pt=inputs["size_pt"],
        orientation=Orientation.LONGITUDINAL,
        lines=1,
    )
    spine = Spine(width_mm=25.0, height_mm=230.0)
    report = check(Job(title=title, spine=spine, method=inputs["method"], lettering=lettering))
    assert len(report.title) == inputs["characters"]
    assert report.verdict == row["expected"]["verdict"]
    assert report.recommended is not None
    shown = report.layouts[report.recommended]
    assert Level.FAILURE not in {one.level for one in (*report.findings, *shown.findings)}


def test_a_round_that_was_not_measured_is_drawn_as_a_third_of_a_circle() -> None:
    """Source: figures.toml, Zaehnsdorf: the back of the geometry turns by that part."""
    (row,) = (row for row in rows_of("figures") if row["id"] == "third-of-a-circle")
    spine = resolve(Job(title="T", spine=Spine(width_mm=30.0, back=BackForm.ROUNDED))).spine
    assert spine is not None
    back = build_back(spine, catalogue.rules())
    assert not back.curve_known
    agrees(row, {"value_deg": math.degrees(2 * back.half_angle_rad)})


@pytest.mark.parametrize(("off", "level"), [(-0.01, Level.FAILURE), (0.01, Level.NOTE)])
def test_what_is_under_the_least_usable_angle_fails(off: float, level: Level) -> None:
    """Source: figures.toml, NUREG-0700: the graver finding begins where the row says."""
    (row,) = (row for row in rows_of("figures") if row["id"] == "least-usable-angle")
    cap_mm = height_mm_at_arcminutes(row["expected"]["value_arcmin"] + off, 500.0)
    spine = Spine(width_mm=20.0, height_mm=200.0)
    cap_em = check(Job(title="T", spine=spine)).layouts[0]
    size_pt = cap_mm / cap_em.cap_height_mm * cap_em.set_pt
    report = check(Job(title="T", spine=spine, lettering=Lettering(size_pt=size_pt)))
    assert report.recommended is not None
    (found,) = (
        one for one in report.layouts[report.recommended].findings if one.topic == "legibility"
    )
    assert found.level is level


def test_lettering_in_the_foot_of_a_library_is_named_with_its_height() -> None:
    """Source: figures.toml, ISO 6357: what ends nearer to the tail than the row says is noted."""
    (row,) = (row for row in rows_of("figures") if row["id"] == "library-foot")
    least_mm = row["expected"]["value_mm"]

    def shown(height_mm: float) -> LayoutReport:
        spine = Spine(width_mm=20.0, height_mm=height_mm)
        lettering = Lettering(orientation=Orientation.LONGITUDINAL, size_pt=12.0)
        report = check(Job(title="Tides", spine=spine, lettering=lettering))
        assert report.recommended is not None
        return report.layouts[report.recommended]

    ink_mm = shown(200.0).ink_width_mm
    for left_mm, noted in ((least_mm - 0.5, True), (least_mm + 0.5, False)):
        layout = shown(ink_mm + 2 * left_mm)
        found = [one.limit for one in layout.findings if one.topic == "library-foot"]
        assert found == [least_mm] * noted
