"""Re-lettering on the bench: an old title stays on the back, and the new one must not show it.

What is asked, what a finisher would do, and what must stand on the page. The overlap of 2 to 3 mm,
an opaque label and a filled impression are common practice without a source; so is leaving the
old lettering where it is, since taking it off damages leather.
"""

from __future__ import annotations

import json
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main

TITLE = "The Lighthouse at Wrackness"
FOLIO = ("--width", "32", "--height", "240", "--bands", "5")


def ask(*words: str, title: str = TITLE) -> tuple[int, str]:
    """The exit code and the page, its line breaks taken out."""
    result = CliRunner().invoke(main, ["check", title, *words])
    return result.exit_code, " ".join(result.output.split())


def test_a_library_book_gets_one_label_over_its_old_title():
    """Old ink 20 x 30 mm, 60 mm down a flat back of 32 mm; the label keeps 1.25 mm from each joint.

    With 2 mm beyond on every side it has to be 24 x 34 mm; 29.5 mm are free, so that it covers,
    from 58 to 92 mm from the head. A label of another place or a lower one is no answer.
    """
    code, page = ask("--width", "32", "--height", "240", "--method", "paper-label",
                     "--old-lettering", "20x30@60")  # fmt: skip
    assert code == 0
    assert page.startswith("It fits across the spine in two lines, on a label of 29.5 x 34 mm over")
    assert "label over it 29.5 x 34 mm, 58 to 92 mm from the head" in page


def test_a_label_as_wide_as_the_back_would_bend_into_the_joints():
    """24 mm of old ink on 30 mm: 28 mm are needed, 27.5 are free. A conservator is asked."""
    code, page = ask("--width", "30", "--height", "240", "--method", "leather-label",
                     "--old-lettering", "24x20")  # fmt: skip
    assert code == 1
    assert page.startswith("It does not fit: a label over the old lettering has to be 28 mm wide")
    assert "ask a conservator" in page
    assert "It fits" not in page


def test_a_band_is_not_covered():
    """Old ink over the second band: no panel holds a label over it, and the fourth is free."""
    code, page = ask(*FOLIO, "--method", "paper-label", "--old-lettering", "20x10@74")
    assert code == 1
    assert "Letter panel 4 and leave the old lettering in view" in page


def test_hand_letters_hide_nothing():
    """The finisher letters another panel, or puts a label over the old.

    Old ink of 24 mm with its overlap leaves 2.6 mm of the second panel at most: told to letter
    that one, he asks back. Left to himself he takes the third, the nearest that is free.
    """
    hand = ("--method", "hand-letters", "--old-lettering", "20x24@47")
    code, page = ask(*FOLIO, *hand, "--title-panel", "2")
    assert code == 1
    assert "Letter panel 3 and leave the old lettering in view" in page
    assert "Cover the old lettering with a label of 24 x 28 mm" in page
    code, page = ask(*FOLIO, *hand)
    assert code == 0
    assert page.startswith("It fits across the spine in panel 3 of 6")
    assert "clear of the old lettering, which stays in view" in page


def test_a_panel_squeezed_by_old_ink_is_left_for_the_nearest_free_one():
    """Old ink 60 to 90 mm down lies in panels 2 and 3 of 230 mm; the fourth is free and as long.

    8 pt beside the old ink is no title where a panel stands empty. No custom puts a title at the
    head or the tail. Told to letter the second, what is said to be spare ends at the old ink.
    """
    asked = ("--width", "32", "--height", "230", "--bands", "5", "--method", "hand-letters",
             "--old-lettering", "20x30@60")  # fmt: skip
    code, page = ask(*asked)
    assert code == 0
    assert page.startswith("It fits across the spine in panel 4 of 6")
    _code, page = ask(*asked[:-1], "20x30@50", "--title-panel", "2", title="The Harbour Light")
    assert page.startswith("It fits across the spine in panel 2 of 6 on one line")
    assert "Letter panel 4 and leave the old lettering in view" in page
    assert "which is longer" not in page
    result = CliRunner().invoke(
        main, ["check", TITLE, *asked, "--title-panel", "2", "--format", "json"]
    )
    report = json.loads(result.output)
    assert report["panel"]["height_mm"] == pytest.approx(58 - 40.70, abs=0.01)  # 230 / 6.1 + 3


def test_old_ink_across_a_band_is_measured_again():
    """Bands of 4 mm stand 37.7 mm apart on 230 mm: ink from 60 to 90 mm would cross the second."""
    asked = ("--width", "32", "--height", "230", "--method", "hand-letters")
    _code, page = ask(*asked, "--bands", "5", "--old-lettering", "20x30@60")
    assert "across the band at 73.4 to 77.4 mm" in page
    for old in ("20x10@60", "20x10@80"):
        _code, page = ask(*asked, "--bands", "5", "--old-lettering", old)
        assert "across the band" not in page


def test_one_line_stands_in_the_middle_of_what_the_old_leaves():
    """Old ink 60 to 90 mm down: 135 mm are free below it, 55 above. The new goes below."""
    result = CliRunner().invoke(main, [
        "check", "The Harbour Light", "--width", "32", "--height", "230", "--method",
        "blocked-case", "--old-lettering", "20x30@60", "--orientation", "longitudinal",
        "--format", "json",
    ])  # fmt: skip
    report = json.loads(result.output)
    assert report["panel"]["height_mm"] == pytest.approx(227 - 92)
    shown = report["layouts"][report["recommended"]]
    assert len(shown["lines"]) == 1
    assert shown["set_pt"] >= 24
    assert shown["spare_mm"]["head"] == pytest.approx(shown["spare_mm"]["tail"], abs=0.1)


def test_where_no_label_covers_one_clear_of_the_old_is_offered():
    """24 mm of old ink on 30 mm, 50 to 70 mm down: 155 mm are free below, for a label of its own.

    The remedy's own options, asked, give what it claims, with the old ink in view.
    """
    asked = ("--width", "30", "--height", "230", "--method", "paper-label",
             "--old-lettering", "24x20@50", "--format", "json")  # fmt: skip
    result = CliRunner().invoke(main, ["check", "The Harbour Light", *asked])
    report = json.loads(result.output)
    assert "another panel" not in str(report["findings"])
    (clear,) = [one for one in report["remedies"] if one["change"] == "old-clear"]
    assert clear["text"].startswith("Put the label below the old lettering, which stays in view")
    result = CliRunner().invoke(
        main, ["check", "The Harbour Light", *asked, *shlex.split(clear["options"])]
    )
    assert result.exit_code == 0
    report = json.loads(result.output)
    assert report["layouts"][report["recommended"]]["largest_pt"] == clear["largest_pt"]
    assert "clear of the old lettering, which stays in view" in report["answer"]
    assert not report["old_lettering"]["hidden"]


def test_nearest_to_covering_is_the_label_that_would(tmp_path: Path):
    """24 mm of old ink on 30 mm: the label of 28 mm is shown where it would lie, and lacks 0.5 mm.

    Not a label over the whole back with letters along it; and the old ink lies under it, dashed.
    """
    file = tmp_path / "back.svg"
    asked = ("--width", "30", "--height", "230", "--method", "paper-label",
             "--old-lettering", "24x20@50")  # fmt: skip
    code, page = ask(*asked, "--drawing", str(file), title="The Harbour Light")
    assert code == 1
    assert "Across the label" in page
    assert "label 28 x 24 mm; its room 27.5 mm wide" in page
    assert "it stays in view" not in page
    drawn = file.read_text("utf-8")
    assert "old lettering not covered" in drawn
    assert "old lettering, in view" not in drawn
    assert "label 24" in drawn


def test_spare_is_told_to_the_edge_of_the_label_over_the_old():
    """29.5 x 16 mm of label, inner margin and frame 1.85 mm: 1.3 mm are spare, not 100 mm."""
    asked = ("--width", "32", "--height", "230", "--method", "paper-label",
             "--old-lettering", "20x12@60")  # fmt: skip
    _code, page = ask(*asked, title="The Harbour Light")
    assert "label 29.5 x 16 mm; its room 29.5 mm wide, 224 mm high" in page
    assert "head 1.3, tail 1.3 mm" in page
    result = CliRunner().invoke(main, ["check", "The Harbour Light", *asked, "--format", "json"])
    report = json.loads(result.output)
    spare = report["old_lettering"]["label_spare_mm"]
    shown = report["layouts"][report["recommended"]]
    assert 2 * (spare["head"] + 1.85) + shown["ink_height_mm"] == pytest.approx(16, abs=0.01)
    assert spare["left"] == pytest.approx(shown["spare_mm"]["left"])


def test_no_recess_is_cut_under_a_covering(tmp_path: Path):
    """What bears old lettering is covered: the label is pasted on, or let in by lifting that."""
    back = ("--width", "32", "--height", "200", "--edge", "4mm", "--old-lettering", "20x12@60")
    code, page = ask("--recess", *back, title="Tides")
    assert code == 1
    assert page.startswith("It does not fit: what bears old lettering is covered already")
    assert "let it in where the covering is lifted" in page
    file = tmp_path / "recess.svg"
    result = CliRunner().invoke(main, ["recess", "Tides", *back, "--output", str(file)])
    assert result.exit_code == 1
    assert "covered already" in result.output
    assert not file.exists()
    assert ask("--recess", *back[:-2], "--method", "paper-label", title="Tides")[0] == 0


def test_no_title_goes_into_the_panel_at_the_head():
    """A label over old ink that reaches the second band: the third panel, not the first."""
    _code, page = ask("--width", "40", "--height", "230", "--bands", "5", "--back", "rounded",
                      "--rise", "8mm", "--method", "leather-label",
                      "--old-lettering", "20x12@60")  # fmt: skip
    assert "Letter panel 3 and leave the old lettering in view" in page


TEXTS = """
width = 34
height = 230
method = "paper-label"
old-lettering = "20x{high}@60"
[[text]]
role = "title"
text = "The Harbour Light"
label = "piece"
label-size = "28x36mm"
[[text]]
role = "author"
text = "M. Tregear"
label = "piece"
"""


@pytest.mark.parametrize(("high", "code"), [(32, 0), (33, 1)])
def test_a_label_of_a_size_covers_or_does_not(tmp_path: Path, high: int, code: int):
    """36 mm of label hide 32 mm of old ink with 2 mm to spare above and below, and no more."""
    job = tmp_path / "job.toml"
    job.write_text(TEXTS.format(high=high), "utf-8")
    result = CliRunner().invoke(main, ["check", "--job", str(job), "--format", "json"])
    assert result.exit_code == code
    report = json.loads(result.output)
    (title,) = [one for one in report["texts"] if one["role"] == "title"]
    old = title["report"]["old_lettering"]
    assert old["hidden"] is (code == 0)
    assert old["label_height_mm"] == 36
    (label,) = report["labels"]
    assert old["label_from_head_mm"] == label["begins_from_head_mm"]
    if code:
        assert "a label over the old lettering has to be 37 mm high" in report["answer"]


def test_volumes_of_a_set_keep_one_height_over_their_old_titles(tmp_path: Path):
    """Old titles 60 and 63 mm down two equal backs: one baseline, and both are covered."""
    table = tmp_path / "set.csv"
    table.write_text(
        "set,title,width,height,method,old-lettering\n"
        "annals,The Harbour Annals,32,240,paper-label,20x12@60\n"
        "annals,The Harbour Annals,36,240,paper-label,20x12@63\n",
        "utf-8",
    )
    result = CliRunner().invoke(main, ["batch", str(table), "--format", "jsonl"])
    assert result.exit_code == 0
    reports = [json.loads(line)["report"] for line in result.stdout.splitlines()]
    assert [one["verdict"] for one in reports] == ["fits", "fits"]
    assert all(one["old_lettering"]["hidden"] for one in reports)
    first, second = (one["layouts"][one["recommended"]]["first_from_head_mm"] for one in reports)
    assert first == pytest.approx(second, abs=0.01)


SET = """
height = 230
method = "paper-label"
old-lettering = "16x14@50"
[[volume]]
label = "1"
width = 30
title = "The Harbour Annals"
[[volume]]
label = "2"
width = {width}
title = "The Harbour Annals"
"""


def test_a_thin_volume_whose_old_title_shows_is_named_with_the_reason(tmp_path: Path):
    """18.5 mm are free on a back of 21 mm, and 20 are asked: that decides, not the size."""
    job = tmp_path / "set.toml"
    pages = {}
    for width in (21, 26):
        job.write_text(SET.format(width=width), "utf-8")
        result = CliRunner().invoke(main, ["check", "--job", str(job)])
        assert result.exit_code == (1 if width == 21 else 0)
        pages[width] = " ".join(result.output.split())
    assert pages[21].startswith("The set does not fit: on 2, a label over the old lettering has to")
    assert "labels over the old lettering." in pages[26]


@pytest.mark.parametrize(
    ("method", "drawn"),
    [("paper-label", "old lettering under the label"), ("hand-letters", "view")],
)
def test_drawings_show_the_old_ink(tmp_path: Path, method: str, drawn: str):
    """Where it begins, how large it is, and in the legend what the box means."""
    for kind in ("svg", "html"):
        file = tmp_path / f"back.{kind}"
        code, _page = ask(*FOLIO, "--method", method, "--title-panel", "2",
                          "--old-lettering", "20x10@52", "--drawing", str(file))  # fmt: skip
        assert code == 0
        text = file.read_text("utf-8")
        assert 'class="old-lettering"' in text or 'id="old-lettering"' in text
        assert "52 old ink begins" in text
        assert drawn in text or kind == "html"  # where the findings say it
        assert "old lettering" in text


def test_a_title_among_texts_is_not_crowded_against_the_old(tmp_path: Path):
    """Old ink 45 to 65 mm down, where the title would stand: 159 mm are free below the author's.

    It stands in the middle of those, not 2 mm under the old.
    """
    job = tmp_path / "job.toml"
    texts = TEXTS.format(high=20).replace("@60", "@45").replace("paper-label", "hand-letters")
    lines = [line for line in texts.splitlines() if not line.startswith("label")]
    job.write_text("\n".join(lines), "utf-8")
    result = CliRunner().invoke(main, ["check", "--job", str(job), "--format", "json"])
    assert result.exit_code == 0
    (title,) = [one for one in json.loads(result.output)["texts"] if one["role"] == "title"]
    report = title["report"]
    shown = report["layouts"][report["recommended"]]
    assert shown["spare_mm"]["head"] == pytest.approx(shown["spare_mm"]["tail"], abs=0.01)
    assert shown["first_from_head_mm"] > 67 + 20


def test_for_a_label_already_cut_another_place_is_named():
    """22 mm of label over 20 of old ink: there is no panel to speak of, and no back to clear."""
    code, page = ask("--panel", "22x30mm", "--method", "paper-label", "--old-lettering", "20x20",
                     title="Tides")  # fmt: skip
    assert code == 1
    assert "Letter another place and leave the old in view" in page
