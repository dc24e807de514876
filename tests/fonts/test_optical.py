"""Optical sizes: the largest size is the one that fits in letters drawn for just that size."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, Panel, Spine, check
from spinefit.cli.main import main
from spinefit.job.values import Part
from spinefit.layout.optical import largest_pt
from spinefit.vocabulary import Orientation, Role

TITLE = "The Harbour Light"
SPINES = [(12.0, 210.0), (22.0, 200.0), (60.0, 300.0)]


def report_of(font, spine, **lettering):
    width_mm, height_mm = spine
    return check(
        Job(
            title=TITLE,
            spine=Spine(width_mm=width_mm, height_mm=height_mm),
            lettering=Lettering(font=str(font), **lettering),
        ),
        verify=True,
    )


def pinned(font, spine, size_pt, lines):
    """The largest size of the same setting in letters drawn for one size."""
    report = report_of(font, spine, axes=(("opsz", min(max(size_pt, 6.0), 72.0)),))
    same = [one for one in report.layouts if one.lines == lines.lines]
    return [one.largest_pt for one in same if one.orientation is lines.orientation]


@pytest.mark.parametrize("spine", SPINES)
def test_the_largest_size_is_a_fixed_point(make_font, spine):
    """Set in letters of its own it fits, and a hundredth of a point larger it does not.

    Found by running the font with its optical size given, which is the way without solving.
    """
    font = make_font("opsz")
    report = report_of(font, spine)
    assert report.layouts
    for one in report.layouts:
        (at_largest,) = pinned(font, spine, one.largest_pt, one)
        assert at_largest >= one.largest_pt - 1e-9
        (above,) = pinned(font, spine, one.largest_pt + 0.01, one)
        assert above < one.largest_pt + 0.01


@pytest.mark.parametrize("spine", SPINES)
def test_figures_are_those_of_the_letters_of_the_size_judged(make_font, spine):
    """Ink, heights and spare at set_pt, as with that optical size given and that size asked."""
    font = make_font("opsz")
    report = report_of(font, spine)
    for one in report.layouts:
        opsz = min(max(one.set_pt, 6.0), 72.0)
        fixed = report_of(font, spine, axes=(("opsz", opsz),), size_pt=one.set_pt)
        (same,) = [
            each
            for each in fixed.layouts
            if each.lines == one.lines and each.orientation is one.orientation
        ]
        assert one.ink_width_mm == pytest.approx(same.ink_width_mm)
        assert one.ink_height_mm == pytest.approx(same.ink_height_mm)
        assert one.spare_mm == pytest.approx(same.spare_mm)
        assert one.fits == same.fits
    shown = report.layouts[report.recommended or 0]
    assert dict(report.font.axes)["opsz"] == pytest.approx(min(max(shown.set_pt, 6.0), 72.0))
    assert "optical size: that of the letters" in report.assumed


def test_the_axes_of_the_largest_size_of_a_label_with_two_texts_make_it_again(make_font):
    """Asked for, they are the limit once more; those of the advised size are another one."""
    parts = (Part(role=Role.AUTHOR, text="HIE"), Part(role=Role.TITLE, text="TIDES"))
    lettering = Lettering(font=str(make_font("opsz")), orientation=Orientation.TRANSVERSE)
    job = Job(parts=parts, panel=Panel(width_mm=40.0, height_mm=60.0), lettering=lettering)
    one = check(job).shown
    assert one.set_axes != one.largest_axes
    for axes, same in ((one.largest_axes, True), (one.set_axes, False)):
        again = check(replace(job, lettering=replace(lettering, axes=axes))).shown
        assert (again.largest_pt == pytest.approx(one.largest_pt, abs=0.002)) is same


@pytest.mark.parametrize("size", ["set", "largest"])
def test_either_size_is_made_again_from_what_json_says(make_font, size):
    """Its axes and its size given back: the same ink, and the limit where it was the limit."""
    words = ["check", TITLE, "--width", "22", "--height", "200", "--format", "json"]
    words += ["--font", str(make_font("opsz"))]
    for one in json.loads(CliRunner().invoke(main, words).stdout)["layouts"]:
        axes = ",".join(f"{tag}={value!r}" for tag, value in one[f"{size}_axes"].items())
        asked = [*words, "--axes", axes, "--size", repr(one[f"{size}_pt"])]
        report = json.loads(CliRunner().invoke(main, asked).stdout)
        own = "lines", "orientation", "reading"
        (same,) = [each for each in report["layouts"] if all(each[key] == one[key] for key in own)]
        assert same["set_axes"] == same["largest_axes"] == one[f"{size}_axes"]
        if size == "set":
            assert same["ink_width_mm"] == pytest.approx(one["ink_width_mm"], abs=2e-4)
        else:
            assert same["largest_pt"] == pytest.approx(one["largest_pt"], abs=0.002)
            assert min(same["spare_mm"].values()) == pytest.approx(0, abs=0.002)


@pytest.mark.parametrize(
    "panel",
    [("--panel", "30x40mm", "--panel-shape", "oval"), ("--width", "30", "--height", "200")],
)
@pytest.mark.parametrize("way", ["transverse", "longitudinal", "pillar"])
def test_every_panel_and_orientation_is_verified(make_font, panel, way):
    """The command line asks the geometry engine at the size judged and at the largest."""
    words = ["check", TITLE, *panel, "--orientation", way, "--font", str(make_font("opsz"))]
    done = CliRunner().invoke(main, words)
    assert done.exit_code in (0, 1), done.stderr


def test_a_range_of_widths_is_solved_at_both(make_font):
    """The greatest width gives what it gives alone, in letters of its own."""
    words = ["check", TITLE, "--height", "210", "--font", str(make_font("opsz"))]
    words += ["--orientation", "longitudinal", "--lines", "1", "--edge", "1", "--format", "json"]
    both = json.loads(CliRunner().invoke(main, [*words, "--width", "13..15mm"]).stdout)
    alone = json.loads(CliRunner().invoke(main, [*words, "--width", "15mm"]).stdout)
    (said,) = [one["text"] for one in both["findings"] if "at 15 mm" in one["text"]]
    largest_pt = math.floor(alone["layouts"][0]["largest_pt"] * 10) / 10
    assert f"could be {largest_pt:g} pt at most" in said


def test_an_optical_size_that_was_asked_for_is_kept(make_font):
    report = report_of(make_font("opsz"), SPINES[1], axes=(("opsz", 30.0),))
    assert report.font.axes == (("opsz", 30.0),)
    assert not any(one.startswith("optical") for one in report.assumed)


def test_a_title_too_large_in_any_letters_does_not_fit(make_font):
    """On a panel no letters fit, the least size of the axis says how small they would be."""
    report = check(
        Job(
            title=TITLE,
            panel=Panel(width_mm=3.0, height_mm=3.0),
            lettering=Lettering(font=str(make_font("opsz"))),
        ),
        verify=True,
    )
    assert not report.fits
    assert all(0 < one.largest_pt < 6 for one in report.layouts)


def test_the_method_holds_the_letters_of_each_size(make_font):
    """Hairlines thicker in small letters: the floor is that of the letters set, not of others."""
    font = make_font("opsz")
    words = ["check", "HIE", "--width", "40", "--height", "200", "--font", str(font)]
    words += ["--method", "blocked-case", "--format", "json"]
    report = json.loads(CliRunner().invoke(main, words).stdout)
    own = report["layouts"][report["recommended"]]
    assert own["fits"]
    pinned_words = [*words, "--axes", f"opsz={own['set_pt']}", "--size", str(own["set_pt"])]
    fixed = json.loads(CliRunner().invoke(main, pinned_words).stdout)
    assert fixed["verdict"] == report["verdict"]


@settings(deadline=None)  # other work on the machine is no fault of the solver
@given(
    base=st.floats(0.5, 60),
    slope=st.floats(-0.6, 0.6),
    bend=st.floats(-3, 3),
)
def test_the_solver_finds_the_greatest_size_that_fits(base, slope, bend):
    """Against a search through every step of a hundredth of a point."""
    least, most = 6.0, 72.0

    def limit_pt(size_pt):
        at = min(max(size_pt, least), most)
        return base + slope * at + bend * math.sin(at / 40)

    found = largest_pt(limit_pt, (least, most))
    steps = [step / 100 for step in range(1, 16_000)]
    fitting = [size for size in steps if limit_pt(size) >= size]
    assert found == pytest.approx(max(fitting, default=0.0), abs=0.011)
    assert found == 0 or limit_pt(found) >= found - 1e-9
