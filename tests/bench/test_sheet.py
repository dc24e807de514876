"""Labels to choose from, as a binder asks for them: one command, one sheet, then the knife.

Standing: which sizes to lay side by side is our own choice (sheet.toml); that a label is chosen by
eye, printed with spares, and measured before it is cut is common practice.
"""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.drawing.rendered import needs_pdftoppm, rendered

JOB = Path(__file__).parents[2] / "shared" / "jobs" / "labels-to-choose-from.toml"
WITHIN_MM = 0.1
DARK = 200


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, Any], Path]:
    """The sheet of the job file, and what is said of it."""
    file = tmp_path_factory.mktemp("sheet") / "labels.pdf"
    done = CliRunner().invoke(
        main, ["sheet", "--job", str(JOB), "--output", str(file), "--format", "json"]
    )
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout), file


def test_four_sizes_two_spares_on_both_rectangles(asked) -> None:
    """Author, title, date on a label of 30 x 40 mm and one of 34 x 30: eight settings, 24 labels.

    Each label has four sizes that fit it, a point apart, about the one advised for it; the author
    stays smaller than the title and the date smaller still, but not under 8 pt (0.70 to 0.85,
    chosen; 0.60 to 0.75, memory). None is missing without a word.
    """
    said, _file = asked
    assert said["labels"] == 24 and not said["left_out"]
    assert Counter((one["label"]["width_mm"], one["label"]["height_mm"])
                   for one in said["settings"]) == {(30, 40): 4, (34, 30): 4}  # fmt: skip
    for one in said["settings"]:
        assert len(one["places"]) == 3 and one["fits"]
        author, title, date = one["texts"]
        assert [text["role"] for text in one["texts"]] == ["author", "title", "date"]
        assert title["set_pt"] == one["set_pt"] <= one["largest_pt"]
        assert 0.69 <= author["set_pt"] / title["set_pt"] <= 0.86
        assert date["set_pt"] <= max(author["set_pt"], 8)
        (rule,) = one["rules"]
        assert author["baselines_mm"][-1] < rule["from_head_mm"] < title["baselines_mm"][0]


@needs_pdftoppm
def test_every_printed_label_is_where_and_as_large_as_is_said(asked) -> None:
    """In the pixels of another engine: edges, ink and rule of all 24, to 0.1 mm."""
    said, file = asked
    pages = [
        rendered(file.read_bytes(), file.parent, page=at, dpi=600, smooth=False)
        for at in range(1, said["sheets"] + 1)
    ]
    for one in said["settings"]:
        (rule,) = one["rules"]
        for place in one["places"]:
            page, left, bottom = pages[place["sheet"] - 1], place["left_mm"], place["bottom_mm"]
            right, top = left + place["width_mm"], bottom + place["height_mm"]
            edges = page.ink_within_mm(left - 1, bottom - 0.9, right + 1, top + 1, below=DARK)
            assert edges == pytest.approx((left, bottom, right, top), abs=WITHIN_MM)
            ink = page.ink_within_mm(left + 0.6, bottom + 0.6, right - 0.6, top - 0.6, below=DARK)
            x, y = (left + right) / 2, (bottom + top) / 2
            across, up = one["ink_width_mm"] / 2, one["ink_height_mm"] / 2
            assert ink == pytest.approx((x - across, y - up, x + across, y + up), abs=WITHIN_MM)
            rule_top = top - rule["from_head_mm"]
            near = (rule_top - rule["thickness_mm"][0] - 0.4, rule_top + 0.4)
            line = page.ink_within_mm(left + 0.6, near[0], right - 0.6, near[1], below=DARK)
            assert line[3] == pytest.approx(rule_top, abs=WITHIN_MM)
            assert line[2] - line[0] == pytest.approx(rule["length_mm"], abs=2 * WITHIN_MM)


def test_one_label_for_the_plotter_out_of_the_same_job_file(tmp_path) -> None:
    """The job file that gives the sheet of two labels gives its own label alone, too.

    What the file says to compare is for the sheet; labels typed beside --single are still refused
    (our own choice).
    """
    file = tmp_path / "label.svg"
    words = ["sheet", "--job", str(JOB), "--single", "--output", str(file)]
    done = CliRunner().invoke(main, [*words, "--format", "json"])
    assert done.exit_code == 0, done.stderr
    assert json.loads(done.stdout)["settings"][0]["label"]["width_mm"] == 30
    typed = CliRunner().invoke(main, [*words, "--force", "--labels", "30x40,34x30mm"])
    assert typed.exit_code == 2
    assert "one label at a time" in typed.stderr


def test_more_lines_than_a_label_is_usually_searched_for(tmp_path) -> None:
    """A tall label of an index of letters beside a date: sixteen lines where sixteen are asked.

    What is searched unasked ends sooner (our own choice); what is asked for is a binder's to ask.
    """
    job = tmp_path / "index.toml"
    job.write_text(
        'panel = "60x200mm"\nmethod = "paper-label"\n'
        '[[text]]\nrole = "title"\ntext = "A B C D E F G H I J K L M N O P Q R"\n'
        '[[text]]\nrole = "date"\ntext = "1889"\n',
        encoding="utf-8",
    )
    done = CliRunner().invoke(
        main, ["check", "--job", str(job), "--lines", "16", "--format", "json"]
    )
    assert done.exit_code in (0, 1), done.stderr
    lines = json.loads(done.stdout)["layouts"][0]["lines"]
    assert len(lines) == 16 + 1
