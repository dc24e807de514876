"""A strip to wrap round the book: as long as the back, 10 mm beyond each joint (chosen)."""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.drawing.rendered import needs_pdftoppm, rendered

BACK = ("--width", "28", "--height", "220", "--font", "Alegreya Sans")
WITHIN_MM = 0.1


@needs_pdftoppm
def test_a_strip_is_lettered_where_the_report_says_measured_in_pixels(tmp_path):
    """Across on a bare back by foil, at 12 pt: ink, strip and joints to a tenth of a millimetre."""
    title, file = "The Harbour Light", tmp_path / "strips.pdf"
    words = (title, *BACK, "--orientation", "transverse", "--size", "12", "--method",
             "blocked-case", "--format", "json")  # fmt: skip
    answer = CliRunner().invoke(main, ["check", *words])
    assert answer.exit_code == 0, answer.output
    report = json.loads(answer.stdout)
    layout = report["layouts"][report["recommended"]]
    made = CliRunner().invoke(main, ["sheet", *words, "--trial", "--output", str(file)])
    assert made.exit_code == 0, made.output
    setting = json.loads(made.stdout)["settings"][0]
    assert setting["lines"] == layout["lines"]
    assert (setting["label"]["width_mm"], setting["label"]["height_mm"]) == (48, 220)
    (place,) = setting["places"]
    left, bottom = place["left_mm"], place["bottom_mm"]
    right, top = left + 48, bottom + 220
    paper = rendered(file.read_bytes(), tmp_path, dpi=600, smooth=False)
    ink = paper.ink_within_mm(left + 1, bottom + 1, right - 1, top - 1)
    half_mm, middle = layout["ink_width_mm"] / 2, (left + right) / 2
    assert (ink[0], ink[2]) == pytest.approx((middle - half_mm, middle + half_mm), abs=WITHIN_MM)
    assert ink[3] - ink[1] == pytest.approx(layout["ink_height_mm"], abs=WITHIN_MM)
    lowest = (
        top
        - layout["first_from_head_mm"]
        - sum(
            upper - lower
            for upper, lower in zip(
                layout["baselines_mm"], layout["baselines_mm"][1:], strict=False
            )
        )
    )
    assert ink[1] <= lowest + WITHIN_MM < ink[1] + 2.0
    ticks = paper.cut(left + 2, top + 0.9, right - 2, top + 4.1).ink_mm()
    assert (ticks[0] + 2, ticks[2] + 2) == pytest.approx((10, 38), abs=0.15)


def test_sizes_and_splits_stand_side_by_side_and_no_label_is_meant(tmp_path):
    """Hand letters too; one strip of each is enough."""
    file = tmp_path / "strips.pdf"
    made = CliRunner().invoke(main, ["sheet", "The Harbour Light", *BACK, "--bands", "5", "--trial",
                                     "--output", str(file)])  # fmt: skip
    assert made.exit_code == 0, made.output
    assert "trial strips on" in made.output and "one of each" in made.output
    assert "no label" not in made.output


@pytest.mark.parametrize(
    "words", [("--width", "28"), ("--panel", "30x40mm"), (*BACK, "--labels", "20x30mm")]
)
def test_a_strip_needs_a_back_of_known_length(words, tmp_path):
    file = tmp_path / "strips.pdf"
    made = CliRunner().invoke(main, ["sheet", "Tides", *words, "--trial", "--output", str(file)])
    assert made.exit_code == 2
    assert "a trial strip is" in made.stderr
    assert not file.exists()


@pytest.mark.parametrize(
    ("words", "paper", "larger"),
    [
        (("--width", "28", "--trial", "--height"), "A4", "A3"),
        (("--panel", "label"), "A4", "A3"),
    ],
)
def test_what_is_too_long_for_the_paper_is_told_the_most_and_a_paper_that_takes_it(
    words, paper, larger, tmp_path
):
    """What the refusal says is tried: the most it names fits, a millimetre more does not."""
    file = str(tmp_path / "strips.pdf")

    def made(high_mm, *more):
        own = [f"30x{high_mm}" if one == "label" else one for one in words]
        own += [str(high_mm)] if words[-1] == "--height" else []
        return CliRunner().invoke(
            main, ["sheet", "Tides", *own, "--output", file, "--force", *more]
        )

    refused = made(320)
    assert refused.exit_code == 2
    told = re.search(rf"{paper} leaves [\d.]+ x ([\d.]+) mm beside its caption; take --paper (\w+)",
                     refused.stderr)  # fmt: skip
    assert told and told[2] == larger
    assert made(int(float(told[1]))).exit_code == 0
    assert made(int(float(told[1])) + 1).exit_code == 2
    assert made(320, "--paper", larger).exit_code == 0
