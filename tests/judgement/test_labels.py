"""Labels that cover old lettering, and labels that bend over a round."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from spinefit import catalogue
from spinefit.errors import FieldError
from spinefit.job.model import Job, OldLettering, Panel, Spine
from spinefit.pipeline import check
from spinefit.say.as_json import to_dict
from spinefit.say.remedies import remedies
from spinefit.vocabulary import BackForm, Level

INK = OldLettering(width_mm=28, height_mm=12)
OVERLAP = catalogue.rules().value("rework.overlap_mm")


def a_job(title="The Harbour Light", *, old=INK, spine=None, **fields) -> Job:
    back = None
    if fields.get("panel") is None:
        back = Spine(**({"width_mm": 40.0, "height_mm": 210.0} | (spine or {})))
    return Job(title=title, spine=back, old_lettering=old, **fields)


def found(report) -> dict:
    return {finding.topic: finding for finding in report.findings}


def remedy(report):
    return next((one for one in remedies(report) if one.change == "cover-old"), None)


def test_the_least_label_is_the_ink_with_the_overlap_on_every_side():
    report = check(a_job("Tides"))
    finding = found(report)["old-lettering-covered"]
    assert finding.level is Level.GOOD
    assert finding.value == 28 + 2 * OVERLAP
    assert f"{28 + 2 * OVERLAP:g} x {12 + 2 * OVERLAP:g} mm" in finding.text
    assert remedy(report).options.startswith("--panel 32x16mm --method paper-label")


def test_the_overlap_is_the_binders():
    report = check(a_job("Tides", overlap_mm=3.5))
    assert found(report)["old-lettering-covered"].value == 35
    assert "--panel 35x19mm" in remedy(report).options
    assert not any(text.startswith("overlap") for text in report.assumed)
    assert any(text.startswith("overlap: 2 mm") for text in check(a_job()).assumed)


def test_its_upper_edge_stands_above_the_old_ink():
    report = check(a_job(old=replace(INK, from_head_mm=35)))
    assert (
        "its upper edge stands 33 mm from the head" in found(report)["old-lettering-covered"].text
    )


@pytest.mark.parametrize(
    ("spine", "topic", "room_mm"),
    [
        ({"width_mm": 34.0}, "old-lettering-width", 34 - 2 * 1.25),
        ({"bands": 12, "height_mm": 150.0}, "old-lettering-height", None),
    ],
)
def test_a_back_that_cannot_take_it_is_warned_of_and_nothing_is_offered(spine, topic, room_mm):
    """The label's edge, 1.25 mm (practice), counts for it, not that of lettering."""
    report = check(a_job(spine=spine))
    finding = found(report)[topic]
    assert finding.level is Level.WARNING
    assert finding.limit == pytest.approx(room_mm or report.panel.height_mm)
    assert finding.value > finding.limit
    assert remedy(report) is None
    assert "old-lettering-covered" not in found(report)


def test_old_lettering_at_a_band_is_warned_of():
    report = check(a_job(old=replace(INK, from_head_mm=38), spine={"bands": 5, "height_mm": 300.0}))
    finding = found(report)["old-lettering-outside"]
    assert finding.level is Level.WARNING
    assert "36 to 52 mm" in finding.text.replace(" mm to", " to")


@pytest.mark.parametrize(("width", "covers"), [(32.0, True), (31.9, False)])
def test_a_label_already_cut_covers_or_shows_what_is_under_it(width, covers):
    panel = Panel(width_mm=width, height_mm=30.0)
    report = check(a_job("Tides", panel=panel, method="paper-label"))
    assert ("old-lettering-covered" in found(report)) is covers
    assert ("old-lettering-width" in found(report)) is not covers
    assert (remedy(report) is None) is covers


def test_a_title_too_long_for_the_least_label_gets_a_larger_one():
    old = OldLettering(width_mm=10, height_mm=4)
    job = a_job("Quays and Piers of the Coast and Sound", old=old, method="paper-label")
    report = check(job)
    width, height = map(float, remedy(report).options.split()[1].removesuffix("mm").split("x"))
    assert (width, height) != (14.0, 8.0)
    assert width >= 14.0 and height >= 8.0
    least = replace(job, spine=None, old_lettering=None, panel=Panel(width_mm=14, height_mm=8))
    assert not check(least).fits


def test_tooled_letters_stay_tooled_on_the_label():
    report = check(a_job("Tides", method="hand-letters"))
    assert "--method hand-letters --clearance 2" in remedy(report).options


def test_a_label_over_a_round_is_cut_wider_than_what_it_covers():
    """By half its thickness times the angle it covers."""
    job = a_job(old=None, spine={"radius_mm": 24.0}, method="leather-label")
    report = check(job)
    half_deg = math.degrees(report.panel.width_mm / 24.0) / 2
    thickness = catalogue.method("leather-label").thickness.value
    label = report.label
    assert label.covers_mm == report.panel.width_mm
    assert label.cut_width_mm - label.covers_mm == pytest.approx(
        2 * math.radians(half_deg) * thickness / 2
    )
    assert any(text.startswith("label thickness: 0.4 mm") for text in report.assumed)
    assert to_dict(report)["label"] == {
        "covers_mm": round(label.covers_mm, 4),
        "cut_width_mm": round(label.cut_width_mm, 4),
        "thickness_mm": 0.4,
        "face_stretch": round((24 + 0.4) / (24 + 0.2), 4),
    }
    assert f"cut it {label.cut_width_mm:.2f} mm wide" in found(report)["label-cut-width"].text


def test_the_thickness_typed_has_the_last_word():
    job = a_job(old=None, spine={"rise_mm": 9.0}, method="paper-label", label_thickness_mm=0.3)
    assert check(job).label.thickness_mm == 0.3


@pytest.mark.parametrize(
    ("spine", "method"),
    [
        ({}, "paper-label"),
        ({"rise_mm": 9.0}, "hand-letters"),
        ({"back": BackForm.ROUNDED}, "paper-label"),
    ],
    ids=["flat", "no label", "radius not known"],
)
def test_no_cut_width_is_claimed_elsewhere(spine, method):
    report = check(a_job(old=None, spine=spine, method=method))
    assert report.label is None
    assert "label-cut-width" not in found(report)
    assert to_dict(report)["label"] is None


@pytest.mark.parametrize(
    ("job", "said"),
    [
        (a_job(old=None, overlap_mm=2), "--overlap: an overlap over what"),
        (a_job(label_thickness_mm=0.2), "--label-thickness"),
        (a_job(method="paper-label", label_thickness_mm=30.0), "30 mm is no label"),
        (a_job(old=replace(INK, from_head_mm=205)), "beyond the tail"),
        (
            a_job(old=replace(INK, from_head_mm=5), panel=Panel(width_mm=40, height_mm=30)),
            "no back to measure",
        ),
        (a_job(old=OldLettering(width_mm=0, height_mm=12)), "--old-lettering"),
    ],
)
def test_what_cannot_be_is_refused(job, said):
    with pytest.raises(FieldError, match=said):
        check(job)
