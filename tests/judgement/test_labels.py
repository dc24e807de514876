"""Labels that bend over a round."""

from __future__ import annotations

import math

import pytest

from spinefit import catalogue
from spinefit.errors import FieldError
from spinefit.job.model import Job, Spine
from spinefit.pipeline import check
from spinefit.say.as_json import to_dict
from spinefit.vocabulary import BackForm


def a_job(title="The Harbour Light", *, spine=None, **fields) -> Job:
    back = Spine(**({"width_mm": 40.0, "height_mm": 210.0} | (spine or {})))
    return Job(title=title, spine=back, **fields)


def found(report) -> dict:
    return {finding.topic: finding for finding in report.findings}


def test_a_label_over_a_round_is_cut_wider_than_what_it_covers():
    """By half its thickness times the angle it covers."""
    job = a_job(spine={"radius_mm": 24.0}, method="leather-label")
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
        "lap": None,
    }
    assert f"cut it {label.cut_width_mm:.2f} mm wide" in found(report)["label-cut-width"].text


def test_the_thickness_typed_has_the_last_word():
    job = a_job(spine={"rise_mm": 9.0}, method="paper-label", label_thickness_mm=0.3)
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
    report = check(a_job(spine=spine, method=method))
    assert report.label is None
    assert "label-cut-width" not in found(report)
    assert to_dict(report)["label"] is None


@pytest.mark.parametrize(
    ("job", "said"),
    [
        (a_job(label_thickness_mm=0.2), "--label-thickness"),
        (a_job(method="paper-label", label_thickness_mm=30.0), "30 mm is no label"),
    ],
)
def test_what_cannot_be_is_refused(job, said):
    with pytest.raises(FieldError, match=said):
        check(job)
