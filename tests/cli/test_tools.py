"""Hand letters and type on the command line: `--tools`, its report and its refusals."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main

SHARED = Path(__file__).parents[2] / "shared"
TOOLS = SHARED / "tools" / "reading-room-brass.toml"
JOB = SHARED / "jobs" / "hand-letters.toml"
BACK = ("--width", "25.4mm", "--height", "200mm", "--case", "capitals")


def run(*words: str) -> Result:
    """``spinefit check`` in this process."""
    return CliRunner().invoke(main, ["check", *words])


@pytest.mark.parametrize("form", ["text", "json", "checklist"])
def test_the_example_fits_in_every_format(form: str) -> None:
    """In every format, its tools named where a font would be."""
    done = run("--job", str(JOB), "--format", form)
    assert done.exit_code == 0, done.stderr
    assert "reading-room brass" in done.stdout


def test_the_tools_stand_where_a_font_would() -> None:
    """Name, file and digest; the size judged is the body of one of them."""
    done = run("The Coasting Pilot", *BACK, "--tools", str(TOOLS), "--format", "json")
    report = json.loads(done.stdout)
    assert report["font"] == {
        "name": "reading-room brass",
        "file": str(TOOLS),
        "sha256": hashlib.sha256(TOOLS.read_bytes()).hexdigest(),
        "face": None,
        "axes": {},
        "of": "tools",
    }
    shown = run("The Coasting Pilot", *BACK, "--tools", str(TOOLS)).stdout
    assert "Tools       reading-room brass" in shown
    assert "\nFont " not in shown
    assert {one["set_pt"] for one in report["layouts"]} <= {10, 13, 18}
    assert {one["topic"] for one in report["findings"]} >= {"tools-measured"}
    assert "method: a set of hand letters, since tools are given" in report["assumed"]


def test_a_font_beside_tools_changes_nothing() -> None:
    """It is said that it is not used."""
    words = ("Tides", *BACK, "--tools", str(TOOLS), "--format", "json")
    plain, beside = (json.loads(run(*words, *more).stdout) for more in ((), ("--font", "Cinzel")))
    assert plain["layouts"] == beside["layouts"]
    assert "font: not used, since the letters are tools" in beside["assumed"]


def test_a_size_that_the_tools_have_not() -> None:
    """It does not fit, in words: it is not at hand."""
    done = run("Tides", *BACK, "--tools", str(TOOLS), "--size", "12")
    assert done.exit_code == 1
    assert "12 pt is not among the sizes at hand" in " ".join(done.stdout.split())


def test_a_pattern_of_tools_is_matched_with_the_same_tools(tmp_path: Path) -> None:
    """The next volume is judged at the size of the set; a font's letters are a breach."""
    pattern = str(tmp_path / "pattern.toml")
    first = run("Tides / Vol. 1", *BACK, "--tools", str(TOOLS), "--save-pattern", pattern)
    assert first.exit_code == 0, first.stderr
    matched = run("Tides / Vol. 2", *BACK, "--tools", str(TOOLS), "--match", pattern)
    assert matched.exit_code == 0, matched.stderr
    other = run("Tides / Vol. 2", *BACK, "--method", "hand-letters", "--match", pattern)
    assert other.exit_code == 1


# Each: what was typed beside a title and a back, and a part of the line that should be read.
BAD = {
    "no such file": (("--tools", "none.toml"), "--tools: no such tools file: 'none.toml'"),
    "a folder": (("--tools", "."), "a folder, not a tools file"),
    "sizes": (("--tools", str(TOOLS), "--sizes", "10,12"), "--sizes: sizes beside tools"),
    "a label": (("--tools", str(TOOLS), "--method", "paper-label"), "not lettered with tools"),
    "small letters": (("--tools", str(TOOLS), "--case", "as-typed"), "take --case capitals"),
    "small capitals": (("--tools", str(TOOLS), "--case", "small-capitals"), "no small capitals"),
}


@pytest.mark.parametrize(("words", "said"), BAD.values(), ids=BAD)
def test_what_cannot_be_is_refused_in_one_line(words: tuple[str, ...], said: str) -> None:
    """Code 2, nothing on standard output."""
    done = run("Tides", *BACK, *words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_a_letter_that_no_size_has_is_named_with_the_sizes() -> None:
    done = run("Tides Ω", *BACK, "--tools", str(TOOLS))
    assert done.exit_code == 2
    assert "has no Ω in 10 pt, 13 pt, 18 pt; give its width in the file" in done.stderr
