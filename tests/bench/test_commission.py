"""Whose job it is stands on every paper that goes to the bench, and nothing where nobody said."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main

WHOSE = ("--customer", "Wrackness", "--job-number", "2025-17", "--copies", "3")
BACK = ("--width", "20mm", "--height", "200mm")
BOARD = ("--front-board", "140x220", "--method", "paper-label")


@pytest.mark.parametrize(
    ("words", "file"),
    [
        (("check", "Tides", *BACK, "--drawing"), "back.svg"),
        (("check", "Tides", *BACK, "--drawing"), "back.html"),
        (("check", "Tides", *BOARD, "--drawing"), "board.svg"),
        (("recess", "Tides", *BOARD, "--output"), "recess.svg"),
    ],
)
def test_papers_say_whose_job_it_is(words: tuple[str, ...], file: str, tmp_path: Path) -> None:
    path = tmp_path / file
    done = CliRunner().invoke(main, [*words, str(path), *WHOSE])
    assert done.exit_code == 0, done.stderr
    drawn = "".join(one.read_text("utf-8") for one in tmp_path.iterdir())
    assert "Wrackness, 2025-17, 3" in drawn
    for one in tmp_path.iterdir():
        one.unlink()
    assert CliRunner().invoke(main, [*words, str(path)]).exit_code == 0
    bare = "".join(one.read_text("utf-8") for one in tmp_path.iterdir())
    assert "Wrackness" not in bare and ">Job<" not in bare


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not at hand")
def test_so_does_every_page_of_a_worksheet(tmp_path: Path) -> None:
    path = tmp_path / "pattern.pdf"
    words = ["worksheet", "Tides", *BACK, *WHOSE, "--output", str(path)]
    assert CliRunner().invoke(main, words).exit_code == 0
    read = subprocess.run(["pdftotext", str(path), "-"], check=True, capture_output=True, text=True)
    assert read.stdout.count("Wrackness, 2025-17, 3 copies") == 2
