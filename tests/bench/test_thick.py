"""Books that are lettered before they are bound: the width of the back from their making.

Standing: a sewn spine 1 to 2 mm thicker, case lettering no wider than the bulk of the paper at its
lowest page count, and the block and 9 mm for a round before the bulk is known are published (UK
book manufacturer); a block 8 % thinner to 5 % thicker than its leaves is recalled; cover paper and
boards are common practice. All sums below were made by hand.
"""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main

PAPERBACK = ["--extent", "320", "--grammage", "80", "--paper-bulk", "1.25", "--height", "198mm"]
ESTIMATE = "estimate from 320 pages of 80 g/m2, bulk 1.25: 15.3 to 17.8 mm; measure before cutting."


def said(*words: str) -> str:
    done = CliRunner().invoke(main, ["check", "The Harbour Light", *words])
    assert done.exit_code in (0, 1), done.stderr
    return " ".join(done.stdout.split())


def answered(*words: str) -> dict:
    return json.loads(said(*words, "--format", "json"))


def test_a_paperback_still_at_the_printers():
    """160 x 0.1 x 0.92 + 0.6 = 15.32 mm: as a back measured at that, said so in every form."""
    found = answered(*PAPERBACK)
    measured = answered("--width", "15.32mm", "--height", "198mm")
    assert found["panel"]["thickness"]["back_mm"] == pytest.approx([15.32, 17.8])
    assert found["panel"]["width_mm"] == measured["panel"]["width_mm"]
    assert found["layouts"][found["recommended"]]["set_pt"] == pytest.approx(
        measured["layouts"][measured["recommended"]]["set_pt"]
    )
    assert measured["panel"]["thickness"] is None
    assert ESTIMATE in found["answer"]
    assert ESTIMATE in said(*PAPERBACK)
    assert "so far only an estimate" in said(*PAPERBACK, "--format", "checklist")
    level = [one["level"] for one in found["findings"] if one["topic"] == "width-estimated"]
    assert level == ["warning"]


def test_a_pamphlet_of_one_section_has_no_swell_and_hardly_a_back():
    """24 x 0.12 x 0.92 + 0.6 = 3.25 mm: under the 5 mm of the trade (published), and said so."""
    found = answered("--extent", "48", "--caliper", "0.12mm", "--sewing", "fold")
    assert found["panel"]["thickness"]["back_mm"][0] == pytest.approx(3.2496)
    assert {"thin-back", "width-estimated"} <= {one["topic"] for one in found["findings"]}
    assert found["verdict"] == "does not fit"


def test_a_rounded_dictionary_is_no_wider_for_its_round():
    """602 leaves of 0.036 mm, sewn: 19.94 + 1 mm across; lettering on 19.94 - 2 (published)."""
    found = answered(
        "--extent", "1200", "--grammage", "40", "--paper-bulk", "0.9", "--sewing", "sewn",
        "--back", "rounded", "--method", "blocked-case", "--height", "240mm",
    )  # fmt: skip
    made = found["panel"]["thickness"]
    assert made["back_mm"][0] == pytest.approx(20.9382, abs=1e-4)
    assert made["over_round_mm"] == pytest.approx([20.9382 * 1.05, 24.7556 * 1.21], abs=1e-3)
    assert made["case_mm"] == pytest.approx([28.9382, 31.7556], abs=1e-4)
    assert found["panel"]["width_mm"] == pytest.approx(17.9382, abs=1e-4)


def test_volumes_of_a_set_are_each_estimated(tmp_path):
    """The answer of the set names them, beside one that was measured."""
    job = tmp_path / "set.toml"
    job.write_text(
        'height = "200mm"\n'
        '[[volume]]\nlabel = "I"\ntitle = "Annals / 1"\nwidth = "20mm"\n'
        '[[volume]]\nlabel = "II"\ntitle = "Annals / 2"\nextent = 400\ncaliper = "0.1mm"\n'
    )
    done = CliRunner().invoke(main, ["check", "--job", str(job), "--format", "json"])
    found = json.loads(done.stdout)
    sentence = "The width of the back of II is an estimate: measure before cutting."
    assert found["answer"].endswith(sentence)
    first, second = (one["report"]["panel"]["thickness"] for one in found["volumes"])
    assert first is None
    assert second["block_mm"] == pytest.approx([18.4, 21])


def test_an_odd_page_is_told_and_the_estimate_in_one_way():
    """321 pages are 161 leaves: 161 x 0.1 x 0.92 + 0.6 = 15.41 mm, x 1.05 + 1 = 17.91 mm."""
    odd = ("--extent", "321", "--caliper", "0.1mm", "--height", "198mm")
    assert "321 pages (161 leaves, one page blank) of paper 0.1 mm thick" in said(*odd)
    told = said(*odd, "--format", "checklist")
    assert "15.4 to 17.9 mm used, judged at the least" in told
    assert "17.91" not in told
