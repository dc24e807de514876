"""A letter that holds smaller is named where the advised size is set by a thin stroke or gap."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import check
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement.setting_findings import sturdier_letter
from spinefit.say.model import Report

SWAN = Job(
    title="The Wreck of the Swan",
    spine=Spine(width_mm=30.0, height_mm=220.0),
    method="leather-label",
    language="en",
)


def lettered(job: Job, **lettering: object) -> Report:
    return check(replace(job, lettering=Lettering(**lettering)))


def named(report: Report) -> list[tuple[object, object]]:
    assert report.recommended is not None
    found = report.layouts[report.recommended].findings
    return [(one.value, one.text) for one in found if one.topic == "sturdier-letter"]


def test_the_letter_named_holds_from_the_size_named_and_not_below():
    """Asked for in that font and size the title fits; a tenth of a point below it does not."""
    ((from_pt, text),) = named(check(SWAN))
    assert isinstance(from_pt, float)
    assert from_pt < 12
    font = "IBM Plex Sans Var"
    assert font in str(text)
    assert f"{from_pt:g} pt" in str(text)
    assert lettered(SWAN, font=font, size_pt=from_pt).recommended is not None
    assert lettered(SWAN, font=font, size_pt=round(from_pt - 0.1, 1)).recommended is None


@pytest.mark.parametrize(
    "job",
    [
        Job(title="Tides", spine=SWAN.spine, language="en"),  # print holds all but any stroke
        Job(title="Tides", spine=SWAN.spine, method="hand-letters", language="en"),
    ],
)
def test_none_is_named_where_strokes_set_no_floor(job):
    assert named(check(job)) == []


def test_none_is_named_that_helps_by_less_than_a_tenth():
    job = resolve(SWAN)
    found = sturdier_letter(job, 30.4)
    assert found is not None
    assert sturdier_letter(job, found[1] / 0.91) is None
    assert sturdier_letter(job, found[1] / 0.89) == found


def test_fonts_that_lack_a_letter_are_passed_over():
    """Arabic is in none of the bundled fonts: no name, and no error."""
    job = resolve(Job(title="البحر", spine=SWAN.spine, method="leather-label", language="ar"))
    assert sturdier_letter(job, 30.0) is None
