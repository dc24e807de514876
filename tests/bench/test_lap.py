"""Labels on the bench that go round over both joints, their ends under the sides.

What is asked, and what a binder measures off the page. That paper cracks at a joint, that cloth
or lined paper holds and leather is pared is common practice without a source; the arc of a round
and the bending of a sheet about its middle are computed.
"""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.drawing.rendered import needs_pdftoppm, rendered

TITLE = "The Harbour Light"
BACK = ("--width", "24", "--height", "210")
LAP = ("--lap", "12mm", "--joint-width", "8mm")


def ask(*words: str) -> tuple[int, str]:
    """The exit code and the page, its line breaks taken out."""
    result = CliRunner().invoke(main, ["check", TITLE, *words])
    return result.exit_code, " ".join(result.output.split())


def asked(*words: str) -> dict:
    result = CliRunner().invoke(main, ["check", TITLE, *words, "--format", "json"])
    found: dict = json.loads(result.output)
    return found


def test_a_paper_label_over_the_joints_of_a_flat_back():
    """24 + 2 x (8 + 12) = 64 mm; ink may take the back less the margin of 1.5 mm from each joint.

    A finisher who is asked for paper says that it will crack, and what to take instead.
    """
    code, page = ask(*BACK, *LAP, "--method", "paper-label")
    assert code == 0
    assert "Label cut 64.00 x" in page
    assert "grain from head to tail" in page
    assert "8 mm of joint and 12 mm of board each side" in page
    assert "warning Paper cracks where the boards open over a joint" in page
    report = asked(*BACK, *LAP, "--method", "paper-label")
    assert report["label"]["cut_width_mm"] == 64
    assert report["panel"]["width_mm"] == 24
    layout = report["layouts"][report["recommended"]]
    spare_mm = layout["spare_mm"]
    assert layout["ink_width_mm"] + spare_mm["left"] + spare_mm["right"] == pytest.approx(
        24 - 2 * 1.5, abs=1e-3
    )
    high_mm = report["label"]["lap"]["cut_height_mm"]
    assert high_mm == math.ceil(layout["ink_height_mm"] + 2 * 1.5)
    assert report["label"]["lap"] == {"joint_mm": 8, "board_mm": 12, "cut_height_mm": high_mm}


def test_a_cloth_label_over_a_round_is_as_long_as_its_middle():
    """Chord 24, rise 5: R = (144 + 25) / 10 = 16.9, the arc 2 R x 2 atan(10 / 24).

    The label of 0.35 mm bends about its middle, at R + 0.175; then joints and laps lie flat.
    """
    report = asked(*BACK, *LAP, "--rise", "5", "--method", "cloth-print")
    angle = 2 * 2 * math.atan(10 / 24)
    assert report["label"]["covers_mm"] == pytest.approx(16.9 * angle, abs=1e-3)
    assert report["label"]["cut_width_mm"] == pytest.approx(17.075 * angle + 40, abs=1e-3)
    topics = {one["topic"]: one for one in report["findings"]}
    assert topics["lap-holds"]["level"] == "good"
    assert "lap-cracks" not in topics


def test_a_round_that_was_not_measured_asks_for_a_tape():
    """Cut too wide rather than too narrow: the excess lies under the covering."""
    report = asked(*BACK, *LAP, "--back", "rounded", "--method", "leather-label")
    found = next(one for one in report["findings"] if one["topic"] == "label-lap")
    assert found["level"] == "warning"
    assert "lay a tape over it" in found["text"]
    assert report["label"]["cut_width_mm"] > 24 * 1.2 + 40
    assert any(one["topic"] == "lap-pared" for one in report["findings"])


def test_a_back_of_uncertain_width_is_lettered_at_the_least_and_cut_at_the_most():
    report = asked("--width", "22..24mm", "--height", "210", *LAP, "--method", "cloth-print")
    assert report["label"]["cut_width_mm"] == 64
    assert report["panel"]["width_mm"] == 22


def test_placing_counts_to_the_joint():
    """Ink let out to 0.2 mm from the joints is tight, though the label has no edge there.

    With an edge of 2 mm as well it stands 2.2 mm off, and is safe across.
    """
    close = (
        *BACK,
        *LAP,
        "--method",
        "cloth-print",
        "--clearance",
        "0.2",
        "--font",
        "Alegreya Sans",
    )
    largest = max(one["largest_pt"] for one in asked(*close)["layouts"] if one["fits"])
    size = str(math.floor(largest * 10) / 10)
    assert asked(*close, "--size", size)["verdict"] == "tight"
    wide = asked(*close, "--edge", "2")
    assert wide["panel"]["width_mm"] == 20
    assert wide["verdict"] == "fits"


def test_a_short_lap_is_not_held():
    report = asked(*BACK, "--lap", "3mm", "--method", "cloth-print")
    short = next(one for one in report["findings"] if one["topic"] == "lap-short")
    assert (short["level"], short["value"], short["limit"]) == ("warning", 3, 5)
    assert short["status"] == "chosen"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--panel", "20x30mm", "--method", "paper-label"), "a panel of its own has no joints"),
        ((*BACK, "--method", "hand-letters"), "a set of hand letters is no label"),
        (("--front-board", "130x200mm", "--method", "paper-label"), "a front board has no joints"),
        ((*BACK, "--front-board", "9x210mm"), "beyond the fore edge of the board"),
        ((*BACK, "--recess"), "a label in a recess ends there"),
        ((*BACK, "--panel-shape", "oval"), "is a rectangle"),
        ((*BACK, "--method", "paper-label", "--frame", "thin"), "a frame runs along the edge"),
        ((*BACK, "--leather-width", "30mm"), "beside the front board"),
    ],
)
def test_what_no_label_over_the_joints_can_be_is_refused_in_a_line(words, said):
    done = CliRunner().invoke(main, ["check", TITLE, *words, "--lap", "10mm"])
    assert done.exit_code == 2
    assert said in done.stderr
    assert done.stderr.count("\n") == 1
    assert not done.stdout


def test_several_texts_share_a_label_over_the_joints(tmp_path: Path):
    """30 + 2 x (7 + 12) = 68 mm; the label is spoken of as over the joints, not over a round."""
    job = tmp_path / "job.toml"
    job.write_text(
        'width = "30mm"\nheight = "210mm"\nmethod = "cloth-print"\nlap = "12mm"\n'
        'joint-width = "7mm"\n'
        '[[text]]\nrole = "author"\ntext = "E. Quillfeather"\nlabel = "main"\n'
        f'[[text]]\nrole = "title"\ntext = "{TITLE}"\nlabel = "main"\n',
        encoding="utf-8",
    )
    done = CliRunner().invoke(main, ["check", "--job", str(job)])
    assert done.exit_code == 0, done.stderr
    page = " ".join(done.stdout.split())
    assert "cut 68.00 mm wide, since it goes round over the joints" in page


@needs_pdftoppm
def test_the_sheet_is_cut_as_wide_with_the_joints_marked(tmp_path: Path):
    """Corner ticks 64 mm apart; dashed ticks above the label 24 and 40 mm apart; ink between."""
    file = tmp_path / "labels.pdf"
    words = ("sheet", TITLE, *BACK, *LAP, "--method", "cloth-print", "--output", str(file))
    done = CliRunner().invoke(main, [*words, "--spares", "0", "--format", "json"])
    assert done.exit_code == 0, done.stderr
    setting = json.loads(done.stdout)["settings"][0]
    place = setting["places"][0]
    assert place["width_mm"] == setting["label"]["width_mm"] == 64
    page = rendered(file.read_bytes(), tmp_path, dpi=600, smooth=False)
    left, bottom = place["left_mm"], place["bottom_mm"]
    top = bottom + place["height_mm"]
    for at_mm in (0, 12, 20, 44, 52, 64):
        x = left + at_mm
        tick = page.ink_within_mm(x - 1.5, top + 0.5, x + 1.5, top + 4.5)
        assert (tick[0] + tick[2]) / 2 == pytest.approx(x, abs=0.1)
        assert tick[1] == pytest.approx(top + 1, abs=0.15)
    ink = page.ink_within_mm(left + 0.5, bottom + 0.5, left + 63.5, top - 0.5)
    assert (ink[0] + ink[2]) / 2 == pytest.approx(left + 32, abs=0.1)
    assert ink[0] >= left + 20 + 1.5 - 0.1
    assert ink[2] - ink[0] == pytest.approx(setting["ink_width_mm"], abs=0.1)


def test_the_drawing_shows_the_ends_dashed_and_the_cut_width(tmp_path: Path):
    file = tmp_path / "back.svg"
    words = ("check", TITLE, *BACK, *LAP, "--method", "cloth-print", "--drawing", str(file))
    done = CliRunner().invoke(main, list(words))
    assert done.exit_code == 0, done.stderr
    drawn = file.read_text(encoding="utf-8")
    assert "label, cut 64.00" in drawn
    assert "end of the label, covered" in drawn
    assert drawn.count("lap 12") == 2
    assert drawn.count("joint 8") == 2


def test_one_label_for_a_plotter_is_as_wide_and_speaks_of_no_ticks(tmp_path: Path):
    """Its edge is cut 64 mm wide; ticks stand only on a sheet."""
    words = ("sheet", TITLE, *BACK, *LAP, "--method", "cloth-print", "--single")
    done = CliRunner().invoke(main, [*words, "--output", str(tmp_path / "one.dxf")])
    assert done.exit_code == 0, done.stderr
    page = " ".join(done.stdout.split())
    assert "one label, as it reads, 64 x" in page
    assert "8 mm of joint and 12 mm of board." in page
    assert "ticks" not in page


def test_the_widths_of_a_lapped_label_add_up_as_they_are_told():
    """Over a round the label is a little longer than the back under it; a finisher adds it up.

    Chord 30, rise 6. On the page the width stands once, with --why the sum as well.
    """
    words = ("--width", "30", "--height", "220", "--rise", "6", "--method", "leather-label",
             "--lap", "12mm", "--joint-width", "7mm")  # fmt: skip
    _code, page = ask(*words)
    cut, over = re.search(r"cut ([\d.]+) x .*?: ([\d.]+) mm over the back", page).groups()
    assert float(cut) == pytest.approx(float(over) + 2 * (7 + 12))
    assert page.count(cut) == 1
    _code, page = ask(*words, "--why")
    told = re.search(r"Cut the label ([\d.]+) mm wide: ([\d.]+) mm of back, ([\d.]+) mm more", page)
    cut_mm, back_mm, more_mm = map(float, told.groups())
    assert more_mm > 0
    assert cut_mm == pytest.approx(back_mm + more_mm + 2 * (7 + 12))
    _code, page = ask(*BACK, *LAP, "--method", "cloth-print", "--why")
    assert "64.00 mm wide: 24.00 mm of back, and on each side" in page
