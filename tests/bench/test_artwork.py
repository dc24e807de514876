"""What goes to the engraver and to the printer beside the answer.

Standing: the page is the back, lettering needs no bleed, 100 % black or one named spot and never
RGB, for a die positive and without marks, a separate sheet for placing: common practice without a
source. A rounded back is lettered round its arc, and so is the page: the arc of a chord of 34 mm
that rises 7 mm is 37.72 mm (computed: half angle 2 atan(14/34), radius 24.14 mm).
"""

from __future__ import annotations

import json
import subprocess

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from spinefit.units import mm_from_pt
from tests.drawing.rendered import needs_pdftoppm, rendered

pytestmark = needs_pdftoppm

ARC_MM = 37.72


def asked(*words):
    result = CliRunner().invoke(main, ["check", *words, "--format", "json"])
    return result, json.loads(result.stdout)


def boxes_mm(pdf):
    """Media and trim box of each page, as poppler reads them."""
    words = ["pdfinfo", "-box", "-l", "9", str(pdf)]
    lines = subprocess.run(words, capture_output=True, check=True, text=True).stdout.splitlines()
    found = [line.partition("Box:") for line in lines]
    return [
        tuple(mm_from_pt(float(side)) for side in rest.split())
        for name, _, rest in found
        if name.split()[-1:] in (["Media"], ["Trim"])
    ]


def test_a_die_for_a_rounded_cloth_case(tmp_path):
    """The engraver gets the lettering in the foil's name, the blocker the sheet to place it by."""
    result, report = asked(
        "The Harbour Light", "--width", "34mm", "--height", "230mm", "--back", "rounded",
        "--rise", "7mm", "--method", "blocked-case", "--spot", "Gold foil",
        "--artwork", str(tmp_path / "light.pdf"),
    )  # fmt: skip
    assert result.exit_code == 0
    assert report["verdict"] == "fits"
    assert "37.72 x 230.00 mm, the back, round its arc; one spot, Gold foil" in result.stderr
    assert "light-placing.pdf: where the die stands, at true size" in result.stderr
    for box in boxes_mm(tmp_path / "light.pdf"):
        assert box == pytest.approx((0, 0, ARC_MM, 230), abs=0.02)
    left, bottom, right, top = rendered((tmp_path / "light.pdf").read_bytes(), tmp_path).ink_mm()
    layout = report["layouts"][report["recommended"]]
    assert right - left == pytest.approx(layout["ink_width_mm"], abs=0.1)
    assert top - bottom == pytest.approx(layout["ink_height_mm"], abs=0.1)
    assert (left + right) / 2 == pytest.approx(ARC_MM / 2, abs=0.1)
    side_mm = (ARC_MM - report["panel"]["width_mm"]) / 2
    assert left == pytest.approx(side_mm + layout["spare_mm"]["left"], abs=0.1)


def test_a_printed_label_that_is_cut_already(tmp_path):
    """The page is the label, in black; nothing to be placed by is needed."""
    result, report = asked(
        "The Harbour Light", "--panel", "30x40mm", "--method", "paper-label",
        "--artwork", str(tmp_path / "label.pdf"),
    )  # fmt: skip
    assert result.exit_code == 0
    assert result.stderr.endswith("label.pdf: 30.00 x 40.00 mm, the label; 100 % black\n")
    assert [path.name for path in tmp_path.iterdir()] == ["label.pdf"]
    page = rendered((tmp_path / "label.pdf").read_bytes(), tmp_path)
    assert page.size_mm == pytest.approx((30, 40), abs=0.06)
    left, bottom, right, top = page.ink_mm()
    assert ((left + right) / 2, (bottom + top) / 2) == pytest.approx((15, 20), abs=0.1)
    layout = report["layouts"][report["recommended"]]
    assert right - left == pytest.approx(layout["ink_width_mm"], abs=0.1)


def test_a_german_paperback_and_a_title_too_long_for_it(tmp_path):
    """Lettering from the tail up stands as it is read; of what does not fit there is no artwork."""
    back = ("--width", "14mm", "--height", "190mm", "--market", "DE")
    result, report = asked("Der Seezeichenwärter", *back, "--artwork", str(tmp_path / "a.pdf"))
    assert result.exit_code == 0
    layout = report["layouts"][report["recommended"]]
    assert layout["reading"] == "ascending"
    left, bottom, right, top = rendered((tmp_path / "a.pdf").read_bytes(), tmp_path).ink_mm()
    assert top - bottom == pytest.approx(layout["ink_width_mm"], abs=0.1)
    assert right - left == pytest.approx(layout["ink_height_mm"], abs=0.1)
    result, report = asked(
        "Der Seezeichenwärter", *back, "--size", "60", "--artwork", str(tmp_path / "b.pdf")
    )
    assert (result.exit_code, report["verdict"]) == (1, "does not fit")
    assert "no artwork written" in result.stderr
    assert not (tmp_path / "b.pdf").exists()


def test_a_page_of_a_back_that_is_not_certain_says_so(tmp_path):
    """160 leaves of 0.1 mm, 8 % thinner, and 0.6 mm of cover: 15.32 mm at the least.

    A printer who places it on a back of 17.8 mm has to know, and sees only the file.
    """
    file = tmp_path / "light.pdf"
    words = ("The Harbour Light", "--height", "198mm", "--artwork", str(file))
    result, _ = asked(*words, "--extent", "320", "--caliper", "0.1mm")
    told = "15.32 x 198.00 mm, the back, the least of an estimate (15.3 to 17.8 mm across): measure"
    assert told in result.stderr
    subject = subprocess.run(["pdfinfo", str(file)], capture_output=True, check=True, text=True)
    assert f"Subject:         {told}" in subject.stdout
    result, _ = asked(*words, "--width", "22..24mm", "--force")
    assert "the back, the least of a range (22 to 24 mm across): measure" in result.stderr
    result, _ = asked(*words, "--width", "22mm", "--force")
    assert "the back; 100 % black" in result.stderr
