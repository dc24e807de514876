"""The pictures that the README shows: what its commands draw, byte for byte."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from spinefit.drawing.scene import Scene
from spinefit.drawing.svg import to_svg

SHARED = Path(__file__).parents[2] / "shared"
SHEET = ("sheet", "--job", "harbour-light-label.toml", "--spares", "0", "--paper", "A5")
WORKSHEET = ("worksheet", "--job", "hand-letters.toml")


@pytest.mark.parametrize(("name", "words"), [("label-sheet", SHEET), ("worksheet", WORKSHEET)])
def test_a_picture_is_the_first_page_that_the_command_draws(
    name: str, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a PDF the scenes are taken on their way to its writer: a README shows SVG."""
    pages: list[Scene] = []

    def keep(scenes: Iterable[Scene]) -> bytes:
        pages.extend(scenes)
        return b"kept"

    monkeypatch.setattr("spinefit.drawing.pdf.to_pdf", keep)
    monkeypatch.chdir(SHARED / "jobs")
    done = CliRunner().invoke(main, [*words, "--output", str(tmp_path / "drawn.pdf")])
    assert done.exit_code == 0, done.stderr
    expected = SHARED / "drawings" / f"{name}.svg"
    assert to_svg(pages[0]).encode() == expected.read_bytes()


def test_a_back_is_what_the_command_draws(tmp_path: Path) -> None:
    """Author, title and call number on one back, at true size."""
    job, drawn = SHARED / "jobs" / "gazetteer.toml", tmp_path / "gazetteer.svg"
    done = CliRunner().invoke(main, ["check", "--job", str(job), "--drawing", str(drawn)])
    assert done.exit_code == 0, done.stderr
    assert drawn.read_bytes() == (SHARED / "drawings" / "gazetteer.svg").read_bytes()
