"""`spinefit worksheet`: text, JSON, a PDF whole or absent, and its refusals."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main

SHARED = Path(__file__).parents[2] / "shared"
JOB = str(SHARED / "jobs" / "hand-letters.toml")
BACK = ("--width", "30mm", "--height", "200mm", "--case", "capitals")


def run(*words: str) -> Result:
    """``spinefit worksheet`` in this process."""
    return CliRunner().invoke(main, ["worksheet", *words])


def test_text_on_standard_output() -> None:
    """The middle letter is marked, the figures signed."""
    done = run("The Works", *BACK, "--size", "10", "--orientation", "longitudinal")
    assert done.exit_code == 0, done.stderr
    assert "9 places, the middle one is W" in done.stdout
    assert any(line.endswith("middle") and "  W  " in line for line in done.stdout.splitlines())


@pytest.mark.parametrize("columns", [40, 44, 60])
def test_a_narrow_screen_is_kept_to(monkeypatch: pytest.MonkeyPatch, columns: int) -> None:
    """As by every command; from 44 columns on no word of the table is broken."""
    monkeypatch.setattr("spinefit.say.screen.columns", lambda: columns)
    done = run("The Works", *BACK, "--size", "10", "--orientation", "longitudinal")
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= columns
    assert columns == 40 or any(line.endswith("middle") for line in lines)


def test_json_has_every_letter() -> None:
    """One object, the letters in their order."""
    found = json.loads(run("--job", JOB, "--format", "json").stdout)
    assert found["schema"] == "spinefit.worksheet/1"
    assert [line["text"] for line in found["lines"]] == ["THE", "COASTING", "PILOT"]
    letters = [one["letter"] for line in found["lines"] for one in line["letters"]]
    assert "".join(letters) == "THECOASTINGPILOT"


def test_a_file_is_written_whole_and_never_over_another(tmp_path: Path) -> None:
    """Beside it which file that is, and what to mind; --force replaces it."""
    path = tmp_path / "pattern.pdf"
    done = run("--job", JOB, "--output", str(path))
    assert done.exit_code == 0
    said = "".join(done.stdout.split())  # a long path is broken over lines
    assert f"{path}:thepaperpattern,2pages." in said
    assert "test piece of the same leather" in " ".join(done.stdout.split())
    first = path.read_bytes()
    assert first.startswith(b"%PDF") and first.rstrip().endswith(b"%%EOF")
    again = run("--job", JOB, "--output", str(path))
    assert again.exit_code == 2 and "such a file already" in again.stderr
    assert run("--job", JOB, "--output", str(path), "--force").exit_code == 0
    assert path.read_bytes() == first
    assert [one.name for one in tmp_path.iterdir()] == ["pattern.pdf"]


def test_what_does_not_fit_draws_nothing(tmp_path: Path) -> None:
    """Code 1 and the answer, by widths or at one pitch."""
    path = tmp_path / "pattern.pdf"
    small = ("--panel", "12x6", "--case", "capitals", "--output", str(path))
    done = run("Illumination of the Harbour", *small)
    assert done.exit_code == 1 and "does not fit" in done.stdout
    pitched = run("ILLUMINATION", "--panel", "30x20", "--lines", "1", "--size", "10",
                  "--pitch", "equal", "--output", str(path))  # fmt: skip
    assert pitched.exit_code == 1 and "at a pitch of" in pitched.stdout
    assert not path.exists()


def test_a_letter_alone_has_no_pitch() -> None:
    """It stands on the middle, whatever pitch was asked for."""
    done = run("A", "--panel", "30x20", "--pitch", "equal")
    assert done.exit_code == 0, done.stderr
    assert "one letter, on the middle" in done.stdout and "One pitch" not in done.stdout


WOMBAT = ("WOMBAT", "--panel", "40x20", "--size", "12", "--lines", "1")


def test_a_pitch_of_ones_own(tmp_path: Path) -> None:
    """Too narrow for the gap of the tools, it is said beside the pattern and on it."""
    path = tmp_path / "pattern.pdf"
    done = run(*WOMBAT, "--pitch", "3.6mm", "--output", str(path))
    assert done.exit_code == 0, done.stderr
    said = " ".join(done.stdout.split())
    assert "W and O of WOMBAT stand 0.2" in said
    assert "from 3.90 mm on; 7.21 mm is the widest pitch that fits" in said
    found = json.loads(run(*WOMBAT, "--pitch", "3.6mm", "--format", "json").stdout)
    assert "W and O of WOMBAT stand 0.2" in found["warnings"][0]
    assert found["file"] is None
    wide = json.loads(run(*WOMBAT, "--pitch", "3.9mm", "--format", "json").stdout)
    assert wide["warnings"] == [] and wide["lines"][0]["least_gap_mm"] >= 0.5


@pytest.mark.parametrize("pitch", ["3mm", "3.3mm", "0.1mm"])
def test_letters_that_overlap_are_refused(tmp_path: Path, pitch: str) -> None:
    """Code 1, no file, and between which pitches it would do."""
    path = tmp_path / "pattern.pdf"
    done = run(*WOMBAT, "--pitch", pitch, "--output", str(path))
    assert (done.exit_code, done.stderr) == (1, "")
    assert "W and O of WOMBAT would overlap by" in done.stdout
    assert "from 3.90 mm on; 7.21 mm is the widest" in " ".join(done.stdout.split())
    assert not path.exists()


@pytest.mark.parametrize(("pitch", "code"), [("7.21mm", 0), ("7.22mm", 1), ("7.3mm", 1)])
def test_the_widest_pitch_named_is_the_widest_that_fits(pitch: str, code: int) -> None:
    """To a hundredth of a millimetre."""
    assert run(*WOMBAT, "--pitch", pitch).exit_code == code


def test_where_no_pitch_fits_that_is_said() -> None:
    """The widest that fits is narrower than the letters need."""
    done = run("ILLUMINATION", "--panel", "30x20", "--lines", "1", "--size", "10", "--pitch", "4mm")
    assert done.exit_code == 1
    assert "by their widths, or a smaller size" in " ".join(done.stdout.split())


def test_letters_across_a_space_may_not_overlap_either() -> None:
    """A pitch so narrow that the place of the space is less than a letter."""
    done = run("A B", "--panel", "40x20", "--size", "12", "--lines", "1", "--pitch", "1mm")
    assert done.exit_code == 1 and "A and B of A B would overlap" in done.stdout


def test_by_widths_the_distance_is_that_of_the_ink() -> None:
    """A V reaches over the foot of an A: their boxes overlap, the letters stand apart."""
    words = ("AVAVA", "--panel", "40x20", "--size", "12", "--lines", "1", "--format", "json")
    found = json.loads(run(*words).stdout)
    assert found["lines"][0]["least_gap_mm"] > 0.5 and found["warnings"] == []
    close = json.loads(run("HIM", *words[1:]).stdout)
    assert "--tracking, about" in close["warnings"][0]


BAD = {
    "no title": (BACK, "no title given"),
    "a pitch": (("Tides", *BACK, "--pitch", "even"), "--pitch: no such choice: 'even'"),
    "a pitch of nothing": (("Tides", *BACK, "--pitch", "0mm"), "--pitch: "),
    "a format": (("Tides", *BACK, "--format", "checklist"), "--format: "),
    "no PDF": (("Tides", *BACK, "--output", "x.svg"), "--output: a worksheet is a PDF: 'x.svg'"),
    "a paper": (("Tides", *BACK, "--paper", "a9", "--output", "none/x.pdf"), "--paper: "),
    "a folder": (("Tides", *BACK, "--output", "none/x.pdf"), "--output: the file cannot be"),
    "a method": (("Tides", *BACK, "--method", "paper-label"), "not struck one by one"),
    "a width": (("Tides", "--width", "x"), "--width: "),
    "several texts": (
        ("--job", str(SHARED / "jobs" / "commissioners-set.toml")),
        "where one title is asked for",
    ),
}


@pytest.mark.parametrize(("words", "said"), BAD.values(), ids=BAD)
def test_what_cannot_be_is_refused_in_one_line(words: tuple[str, ...], said: str) -> None:
    """Code 2, nothing on standard output."""
    done = run(*words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_each_text_of_a_back_has_its_pages(tmp_path: Path) -> None:
    """Title and date of one back, each with its own pattern, in one file; JSON is of one text."""
    job, pattern = tmp_path / "back.toml", tmp_path / "pattern.pdf"
    job.write_text(
        'width = "40mm"\nheight = "220mm"\nbands = 5\ncase = "capitals"\n'
        '[[text]]\nrole = "title"\ntext = "The Coasting Pilot"\n'
        '[[text]]\nrole = "date"\ntext = "1874"\n'
    )
    done = run("--job", str(job), "--output", str(pattern))
    assert done.exit_code == 0, done.stderr
    assert " ".join(done.stdout.split()).count("the paper pattern, 2 pages") == 2
    assert pattern.read_bytes().count(b"/Type /Page\n") == 4
    whole = run("--job", str(job)).stdout
    assert "THE COASTING PILOT" in whole and "Line 1: 1874" in whole
    refused = run("--job", str(job), "--format", "json")
    assert refused.exit_code == 2
    assert "JSON tells of one text" in refused.stderr
    assert json.loads(refused.stdout)["error"]["where"] == "--format"
