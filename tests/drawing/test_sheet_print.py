"""What comes out of the printer is what was checked: measured in the pixels of another engine.

The pages are drawn by poppler (pdftoppm), their words read by pdftotext, without smoothing.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.drawing.rendered import Page, needs_pdftoppm, rendered

pytestmark = needs_pdftoppm

DARK = 200  # the grey of what is beside the labels counts too
WITHIN_MM = 0.1
FONT = ("--font", "Alegreya Sans")
HOSTILE = r"<b>Tides</b> & (\Moons) %PDF"


def sheet(file: Path, *words: str) -> dict[str, Any]:
    """A sheet as its JSON says it is."""
    command = ["sheet", *words, *FONT, "--output", str(file), "--format", "json"]
    done = CliRunner().invoke(main, command)
    assert done.exit_code == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def printed(file: Path) -> Page:
    """Its first page, without smoothing."""
    return rendered(file.read_bytes(), file.parent, dpi=600, smooth=False)


def words_of(file: Path) -> str:
    done = subprocess.run(
        ["pdftotext", "-layout", str(file), "-"], check=True, capture_output=True, text=True
    )
    return " ".join(done.stdout.split())


@pytest.fixture(scope="module")
def framed(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, Any], Page]:
    file = tmp_path_factory.mktemp("sheet") / "labels.pdf"
    said = sheet(file, "The Harbour Light", "--labels", "30x24,33.3x27.7mm")
    assert said["sheets"] == 1
    return said, printed(file)


def test_frame_and_ink_are_where_and_as_large_as_is_said(framed) -> None:
    """Every label: its frame's outer edge at its sides, its ink in the middle, to 0.1 mm."""
    said, paper = framed
    seen = 0
    for setting in said["settings"]:
        assert setting["orientation"] == "transverse"
        for place in setting["places"]:
            left, bottom = place["left_mm"], place["bottom_mm"]
            right, top = left + place["width_mm"], bottom + place["height_mm"]
            outer = paper.ink_within_mm(left - 1, bottom - 1, right + 1, top + 1, below=DARK)
            assert outer == pytest.approx((left, bottom, right, top), abs=WITHIN_MM)
            ink = paper.ink_within_mm(left + 0.6, bottom + 0.6, right - 0.6, top - 0.6, below=DARK)
            half = setting["ink_width_mm"] / 2, setting["ink_height_mm"] / 2
            x, y = (left + right) / 2, (bottom + top) / 2
            there = (x - half[0], y - half[1], x + half[0], y + half[1])
            assert ink == pytest.approx(there, abs=WITHIN_MM)
            seen += 1
    assert seen == said["labels"] >= 12


def test_the_rulers_and_the_square_are_true(framed) -> None:
    """Marks of 10 mm along both edges, the square 50 mm each way."""
    _said, paper = framed
    origin, margin = 5 + 7 + 4, 5
    level = paper.cut(origin - 1, margin + 2.6, origin + 102, margin + 2.8)
    upright = paper.cut(margin + 2.6, origin - 1, margin + 2.8, origin + 102)
    tens = pytest.approx([1 + 10 * mark for mark in range(11)], abs=WITHIN_MM)
    assert level.upright_strokes_mm(below=DARK) == tens
    assert upright.level_strokes_mm(below=DARK) == tens
    box = paper.ink_within_mm(origin - 1, origin - 1, origin + 51, origin + 51, below=DARK)
    there = (origin, origin, origin + 50, origin + 50)
    assert box == pytest.approx(there, abs=WITHIN_MM)


def test_nothing_stands_in_the_printers_margin(framed) -> None:
    _said, paper = framed
    left, bottom, right, top = paper.ink_within_mm(0, 0, 210, 297, below=DARK)
    assert min(left, bottom) >= 5 - WITHIN_MM
    assert right <= 205 + WITHIN_MM
    assert top <= 292 + WITHIN_MM


def test_ticks_point_at_the_corners_from_outside(tmp_path: Path) -> None:
    """Nothing inside a label but its lettering; ticks in line with its sides."""
    file = tmp_path / "ticks.pdf"
    said = sheet(
        file, "Tides", "--panel", "30x20", "--marks", "ticks", "--paper", "letter", "--landscape"
    )
    paper = printed(file)
    assert paper.size_mm == pytest.approx((279.4, 215.9), abs=paper.mm_a_pixel)
    for setting in said["settings"]:
        for place in setting["places"]:
            left, bottom = place["left_mm"], place["bottom_mm"]
            right, top = left + place["width_mm"], bottom + place["height_mm"]
            above = paper.ink_within_mm(left - 0.5, top + 0.5, left + 0.5, top + 4.2, below=DARK)
            assert above[0] == pytest.approx(left, abs=WITHIN_MM)
            assert (above[1], above[3]) == pytest.approx((top + 1, top + 4), abs=WITHIN_MM)
            beside = paper.ink_within_mm(
                right + 0.5, bottom - 0.5, right + 4.2, bottom + 0.5, below=DARK
            )
            assert (beside[0], beside[2]) == pytest.approx((right + 1, right + 4), abs=WITHIN_MM)
            ink = paper.ink_within_mm(left, bottom, right, top, below=DARK)
            assert ink[2] - ink[0] == pytest.approx(setting["ink_width_mm"], abs=WITHIN_MM)


def test_hostile_titles_come_out_as_text(tmp_path: Path) -> None:
    """Markup and PDF's own signs are letters like others; captions are real text."""
    file = tmp_path / "hostile.pdf"
    said = sheet(
        file, HOSTILE, "--labels", "90x20", "--lines", "2", "--splits", "1", "--size", "12"
    )
    found = words_of(file)
    for setting in said["settings"]:
        assert "".join(setting["lines"]).replace(" ", "") == HOSTILE.replace(" ", "")
        caption = " / ".join(setting["lines"])
        assert found.count(caption) == len(setting["places"])
    assert f"{said['settings'][0]['set_pt']:g} pt 90 × 20 mm" in found
    assert "Print at 100 %" in found.replace("“", "")


def test_a_caption_says_how_many_lines_where_it_cannot_say_which(
    tmp_path: Path, needs_font: Callable[[str, str], str]
) -> None:
    """The caption's own font has no such letters."""
    font = needs_font("/usr/share/fonts/truetype/ezra/SILEOT.ttf", "fonts-sil-ezra")
    file = tmp_path / "hebrew.pdf"
    done = CliRunner().invoke(
        main,
        ["sheet", "אור", "--panel", "60x30", "--output", str(file), "--font", font],
    )
    assert done.exit_code == 0, done.stderr
    assert "one line" in words_of(file)


def test_the_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    files = [tmp_path / name for name in ("one.pdf", "two.pdf")]
    for file in files:
        sheet(file, "The Harbour Light", "--panel", "30x24")
    assert files[0].read_bytes() == files[1].read_bytes()
    assert b"/PrintScaling /None" in files[0].read_bytes()
