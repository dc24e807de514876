"""Front board and recess on the command line and in job files; `spinefit recess`."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main

BOARD = ("--front-board", "135x215mm")


def run(*words: str) -> Result:
    """``spinefit`` in this process."""
    return CliRunner().invoke(main, list(words))


def test_check_tells_of_board_and_recess() -> None:
    """In text, JSON and as a checklist."""
    words = ("check", "Tide Tables", *BOARD, "--leather-width", "40mm", "--recess")
    text = " ".join(run(*words).stdout.split())
    assert "across the front board" in text and "47.5 mm from the leather" in text
    assert "card 0.3 cut through" in text
    report = json.loads(run(*words, "--format", "json").stdout)
    assert report["panel"]["of"] == "front board"
    assert report["front_board"]["from_fore_edge_mm"] == 47.5
    assert report["recess"]["depth_mm"] == 0.3
    checklist = run(*words, "--format", "checklist").stdout
    assert "Breadth of the front board" in checklist and "fingers clear of its path" in checklist
    assert "Cut the opening before the boards are made up" in checklist
    assert "method: a printed paper label" in report["assumed"]


def test_a_job_file_says_the_same(tmp_path: Path) -> None:
    """``recess = true``; ``false`` takes it away again."""
    path = tmp_path / "job.toml"
    path.write_text('title = "Tide Tables"\nfront-board = "135x215mm"\nrecess = true\ncards = 1\n')
    options = ("check", "Tide Tables", *BOARD, "--recess", "--cards", "1", "--format", "json")
    from_file = json.loads(run("check", "--job", str(path), "--format", "json").stdout)
    assert from_file == json.loads(run(*options).stdout)
    path.write_text('title = "Tide Tables"\nfront-board = "135x215mm"\nrecess = false\n')
    assert json.loads(run("check", "--job", str(path), "--format", "json").stdout)["recess"] is None


def test_the_drawing_is_written_whole_and_never_over_another(tmp_path: Path) -> None:
    """SVG and PDF; the board on a page of its own."""
    for ending in ("svg", "pdf"):
        path = tmp_path / f"recess.{ending}"
        words = ("recess", "Tide Tables", *BOARD, "--output", str(path))
        assert run(*words).exit_code == 0
        first = path.read_bytes()
        assert run(*words).exit_code == 2
        assert run(*words, "--force").exit_code == 0
        assert path.read_bytes() == first
    assert (tmp_path / "recess.pdf").read_bytes().count(b"/Type /Page\n") == 2
    assert sorted(one.name for one in tmp_path.iterdir()) == ["recess.pdf", "recess.svg"]


def test_what_does_not_fit_is_not_drawn(tmp_path: Path) -> None:
    """Code 1 and the answer."""
    path = tmp_path / "recess.pdf"
    done = run("recess", "Tide Tables", "--panel", "8x5", "--output", str(path))
    assert done.exit_code == 1 and "does not fit" in done.stdout
    assert not path.exists()


TORN = ("recess", "Tide Tables", "--width", "30mm", "--height", "200mm", "--edge", "1.1mm")


@pytest.mark.parametrize("ending", ["svg", "pdf"])
def test_a_wall_that_tears_is_not_drawn(tmp_path: Path, ending: str) -> None:
    """0.4 mm of card: code 1 and no file; by force it is drawn, and the drawing says so."""
    path = tmp_path / f"recess.{ending}"
    done = run(*TORN, "--output", str(path))
    said = " ".join(done.stdout.split())
    assert (done.exit_code, path.exists()) == (1, False)
    assert said.startswith(
        "It does not fit: beside the recess for its label only 0.4 mm of card would be left"
    )
    assert "Only 0.4 mm of card are left" in said
    assert "Take a label at most 22.6 mm wide (--edge 3.7mm)" in said
    assert "Nothing was drawn; --force" in said
    assert run(*TORN, "--output", str(path), "--force").exit_code == 1
    assert path.exists()
    if ending == "svg":
        drawn = path.read_text(encoding="utf-8")
        assert "Does not fit: not to be cut as it stands" in drawn and 'class="edges"' in drawn
        assert "Only 0.4 mm of card" in drawn
    warned = run("check", *TORN[1:], "--method", "paper-label", "--recess").stdout
    assert "Only 0.4 mm of card" in " ".join(warned.split())


def test_the_edge_it_names_is_enough(tmp_path: Path) -> None:
    """With it the recess is drawn, without a warning of the card."""
    path = tmp_path / "recess.svg"
    done = run(*TORN[:-1], "3.7mm", "--output", str(path))
    said = "".join(done.stdout.split())  # a long path is broken over lines
    assert done.exit_code == 0 and f"{path}:cut" in said
    assert "Does not fit" not in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((*BOARD, "--label-thickness", "0.5", "--cards", "1"), "is shallower than the label"),
        (("--width", "30", "--height", "200", "--edge", "6", "--rise", "5"), "has no board to cut"),
        ((*BOARD, "--board-label", "134x60mm"), "over the edge"),
    ],
)  # fmt: skip
def test_what_would_spoil_the_board_is_not_drawn(
    tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    """A label that is rubbed, a back without a board, card that tears."""
    path = tmp_path / "recess.pdf"
    done = run("recess", "Tide Tables", *words, "--output", str(path))
    assert done.exit_code == 1, done.stdout
    first = done.stdout.splitlines()[0]
    assert first.startswith("It does not fit: ") and said in " ".join(done.stdout.split())
    checked = run("check", "Tide Tables", *words, "--method", "paper-label", "--recess")
    assert (checked.exit_code, checked.stdout.splitlines()[0]) == (1, first)
    assert not path.exists()


def test_a_weak_board_is_drawn_with_a_warning(tmp_path: Path) -> None:
    """It was not measured; the drawing and the page say that a thicker one is asked for."""
    path = tmp_path / "recess.svg"
    words = (*BOARD, "--label-thickness", "0.5", "--cards", "2", "--board-thickness", "1.6mm")
    done = run("recess", "Tide Tables", *words, "--output", str(path))
    assert done.exit_code == 0 and "take a thicker board" in " ".join(done.stdout.split())
    assert "are whole board between" in path.read_text(encoding="utf-8")


BAD = {
    "a board and a width": (("check", "T", *BOARD, "--width", "9"), "--width beside the front"),
    "a board and a panel": (("check", "T", *BOARD, "--panel", "9x9"), "--panel beside the front"),
    "a cover": (("check", "T", *BOARD, "--method", "paperback-cover", "--recess"), "is no label"),
    "squares": (("check", "T", *BOARD, "--squares", "3"), "--squares: squares count only"),
    "a thickness": (("check", "T", *BOARD, "--recess", "--label-thickness", "12"), "12 mm is no"),
    "an oval": (
        ("check", "T", "--panel", "40x30", "--panel-shape", "oval", "--recess"), "a rectangular",
    ),
    "no file": (("recess", "T", *BOARD), "missing option '--output'"),
    "a name": (("recess", "T", *BOARD, "--output", "x.txt"), "--output: a drawing is SVG or PDF"),
    "a folder": (("recess", "T", *BOARD, "--output", "none/x.svg"), "cannot be written"),
}  # fmt: skip


@pytest.mark.parametrize(("words", "said"), BAD.values(), ids=BAD)
def test_what_cannot_be_is_refused_in_one_line(words: tuple[str, ...], said: str) -> None:
    """Code 2, nothing on standard output."""
    done = run(*words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("ending", ["svg", "pdf", "html"])
def test_the_drawing_of_a_check_shows_the_board_not_a_back(tmp_path: Path, ending: str) -> None:
    """Board, label and recess; of the back nothing, since there is none."""
    file = tmp_path / f"board.{ending}"
    done = run("check", "Tide Tables", *BOARD, "--recess", "--drawing", str(file))
    assert done.exit_code == 0
    data = file.read_bytes()
    if ending == "pdf":
        assert data.count(b"/Type /Page\n") == 2
        return
    assert b"front-board" in data and b"pressing-piece" in data
    assert b"usable-panel" not in data


def test_the_drawing_of_a_recess_in_a_back_has_both(tmp_path: Path) -> None:
    """The back first, then how the recess is cut, on one sheet."""
    file = tmp_path / "back.svg"
    words = ("--width", "34", "--height", "216", "--edge", "5", "--method", "leather-label")
    done = run("check", "Tide Tables", *words, "--recess", "--drawing", str(file))
    assert done.exit_code == 0
    text = file.read_text(encoding="utf-8")
    assert text.index("usable-panel") < text.index("pressing-piece")


def test_a_board_on_which_it_does_not_fit_is_drawn_all_the_same(tmp_path: Path) -> None:
    """With the nearest setting, and said so; a recess is cut for what fits."""
    file = tmp_path / "board.svg"
    words = ("--board-label", "20x6mm", "--size", "18", "--lines", "1", "--recess")
    done = run("check", "Tide Tables", *BOARD, *words, "--drawing", str(file))
    assert done.exit_code == 1
    text = file.read_text(encoding="utf-8")
    words_of = " ".join(re.sub(r"<[^>]*>", " ", text).split())
    assert "does not fit" in words_of and 'class="lettering"' in text
    assert "pressing-piece" not in text
