"""The end of an axis that still fits and holds, against a walk through every value."""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner

from spinefit import Job, Lettering, Panel, check
from spinefit.cli.main import main
from spinefit.job.kinds import parse_axes
from spinefit.vocabulary import Die, Stock

TITLE = "Harbour Light"


def report_of(
    font, axes, *, title=TITLE, size_pt=14.0, width_mm=60.0, method="leather-label", **said
):
    return check(
        Job(
            title=title,
            panel=Panel(width_mm=width_mm, height_mm=12.0),
            lettering=Lettering(font=str(font), axes=parse_axes(axes), size_pt=size_pt, lines=1),
            method=method,
            **said,
        ),
        verify=True,
    )


CASES = [
    # goal, width of the panel in mm, what stands in the way
    ("wght=lightest", 60.0, "the stroke of"),
    ("wght=heaviest", 60.0, "the end of its range"),
    ("wght=heaviest", 36.5, "there is no room"),
    ("wdth=widest", 38.0, "there is no room"),
    ("wdth=widest", 60.0, "the end of its range"),
    ("wdth=narrowest", 60.0, "the end of its range"),
]


@pytest.mark.parametrize(("goal", "width_mm", "because"), CASES)
def test_the_value_is_the_last_that_fits_and_holds(make_font, goal, width_mm, because):
    """Values all the way from that end are run, and the first that works is the one found."""
    size_pt = 14.0
    font = make_font("wght", "wdth")
    found = report_of(font, goal, size_pt=size_pt, width_mm=width_mm)
    assert found.fits
    tag = goal[:4]
    value = dict(found.font.axes)[tag]
    bounds = {"wght": (100, 900), "wdth": (50, 150)}[tag]
    downwards = goal.endswith(("heaviest", "widest"))
    way = range(bounds[1], bounds[0] - 1, -1) if downwards else range(bounds[0], bounds[1] + 1)
    near = [at for at in way if abs(at - value) <= 2]
    others = [at for at in way if abs(at - value) > 2 and (at > value) == downwards][::120]
    walked = sorted({*near, *others}, reverse=downwards)
    first = next(
        at
        for at in walked
        if report_of(font, f"{tag}={at}", size_pt=size_pt, width_mm=width_mm).fits
    )
    assert value == first
    said = found.findings[0]
    assert (said.topic, said.value) == ("axis-found", value)
    assert because in said.text
    assert said.source
    assert said.status is not None


def test_the_stroke_that_stands_in_the_way_is_that_of_the_method(make_font):
    """Stems run from 20 units at wght 100 to 80 at 400, so the limit's place can be told.

    The bar is 60 units at every weight: 0.15 mm of a photopolymer plate at 14 pt is 30.4 units,
    wght 152.
    """
    found = report_of(make_font("wght"), "wght=lightest", die=Die.PHOTOPOLYMER)
    least_mm = 0.15
    unit_mm = 14 * (1 / 2.8346456692913384) / 1000
    stem = least_mm / unit_mm
    value = dict(found.font.axes)["wght"]
    assert 0 <= value - (100 + (stem - 20) / 60 * 300) <= 1.5
    assert "under 0.15 mm" in found.findings[0].text


def test_the_counter_that_stands_in_the_way_is_that_of_the_method():
    """The bowls of a g close as it grows bolder, and coarse cloth asks for 0.35 mm."""
    said = {"title": "Eggs", "size_pt": 9.0, "method": "blocked-case", "stock": Stock.COARSE_CLOTH}
    found = report_of("IBM Plex Sans Var", "wght=heaviest", **said)
    value = dict(found.font.axes)["wght"]
    assert found.fits and 400 < value < 700
    assert f"at wght {value + 1:g} the counter of 'g' is under 0.35 mm" in found.findings[0].text
    assert not report_of("IBM Plex Sans Var", f"wght={value + 1:g}", **said).fits


def test_no_value_that_fits_is_a_result_and_said(make_font):
    found = report_of(make_font("wght", "wdth"), "wdth=widest", width_mm=12.0)
    assert not found.fits
    assert found.findings[0].topic == "axis-not-found"
    assert dict(found.font.axes)["wdth"] == 50  # where it comes nearest


def test_what_is_advised_gives_that_answer_when_typed(make_font):
    """The options of each remedy hold the value that was found, so that it can be followed."""
    words = [
        "check", TITLE, "--panel", "24x60mm", "--font", str(make_font("wght", "wdth")), "--lines",
        "1", "--orientation", "transverse", "--size", "14", "--method", "leather-label",
        "--format", "json",
    ]  # fmt: skip
    done = CliRunner().invoke(main, [*words, "--axes", "wght=lightest"])
    report = json.loads(done.stdout)
    assert report["remedies"]
    for remedy in report["remedies"]:
        if remedy["options"]:
            assert re.search(r"--axes (wght=[0-9]+|none)", remedy["options"])


def test_a_goal_is_kept_by_a_pattern_as_its_value(make_font, tmp_path):
    """The next volume is set in the same weight, not in one found anew."""
    pattern = tmp_path / "set.toml"
    words = [
        "--width", "60", "--height", "200", "--font", str(make_font("wght", "wdth")), "--lines",
        "1", "--orientation", "transverse", "--method", "leather-label", "--format", "json",
    ]  # fmt: skip
    first = CliRunner().invoke(
        main,
        ["check", TITLE, *words, "--size", "14", "--axes", "wght=lightest",
         "--save-pattern", str(pattern)],
    )  # fmt: skip
    weight = json.loads(first.stdout)["font"]["axes"]["wght"]
    assert f'axes = "wght={weight:.1f}"' in pattern.read_text()
    following = CliRunner().invoke(main, ["check", "Tides", *words, "--match", str(pattern)])
    report = json.loads(following.stdout)
    assert report["font"]["axes"]["wght"] == weight
    assert not [one for one in report["findings"] if one["level"] == "failure"]
    other = CliRunner().invoke(
        main, ["check", "Tides", *words, "--match", str(pattern), "--axes", "wght=500"]
    )
    topics = [one["topic"] for one in json.loads(other.stdout)["findings"]]
    assert "pattern-axes" in topics
