"""Whatever becomes of the process or the place to write: inputs as they were, outputs whole."""

from __future__ import annotations

import csv
import io
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.fuzz.judging import faults, outcome

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals and devices of Unix")

TITLE = "<script>alert(1)</script> & ]]> Light"
BACK = ("--width", "45mm", "--height", "210mm")
JOB = 'title = "Tides"\nwidth = 22\nheight = 210\n'
# The signal comes when a file is written beside its place and not yet named.
KILLED = """
import os, sys
from spinefit.__main__ import run
number = int(sys.argv.pop(1))
def killed(*_):
    os.kill(os.getpid(), number)
os.replace = killed
run()
"""


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
@pytest.mark.parametrize("before", [None, "what stood there"])
def test_a_process_that_is_ended_while_it_writes(tmp_path, number, before) -> None:
    """The drawing is absent, or what stood there; the job is as it was."""
    job, drawing = tmp_path / "job.toml", tmp_path / "a.svg"
    job.write_text(JOB)
    if before is not None:
        drawing.write_text(before)
    words = ["check", "--job", str(job), "--drawing", str(drawing), "--force"]
    done = subprocess.run(
        [sys.executable, "-c", KILLED, str(int(number)), *words], capture_output=True, check=False
    )
    assert done.returncode == (-9 if number == signal.SIGKILL else 2)
    assert (drawing.read_text() if drawing.exists() else None) == before
    assert job.read_text() == JOB
    if number != signal.SIGKILL:
        assert done.stdout == b""
        assert done.stderr == b"spinefit: stopped before there was an answer\n"
        assert not list(tmp_path.glob(".*"))


PLACES = (
    "/dev/full/a.svg",
    "/dev/null/a.svg",
    "no/such/folder/a.svg",
    "x" * 300 + ".svg",
    "a\0.svg",
)


@pytest.mark.parametrize("place", PLACES)
def test_a_place_that_cannot_be_written(place) -> None:
    words = ["check", "Tides", *BACK, "--drawing", place]
    done = outcome(words)
    assert done.code == 2
    assert not faults(words, done)


def test_a_full_disk_for_the_answer() -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "spinefit", "check", "Tides", *BACK],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.startswith("spinefit: the answer cannot be written")
    assert done.stderr.count("\n") == 1


def test_a_link_is_replaced_and_not_followed(tmp_path: Path) -> None:
    """What a link points to is nobody's to overwrite."""
    real, link = tmp_path / "real.svg", tmp_path / "link.svg"
    real.write_text("precious")
    link.symlink_to(real)
    assert outcome(["check", "Tides", *BACK, "--drawing", str(link)]).code == 2
    assert real.read_text() == "precious"
    assert outcome(["check", "Tides", *BACK, "--drawing", str(link), "--force"]).code == 0
    assert real.read_text() == "precious"
    assert link.read_text().startswith("<")


@pytest.mark.parametrize("ending", ["svg", "html"])
def test_a_title_brings_no_script_into_a_drawing(tmp_path: Path, ending: str) -> None:
    words = ["check", TITLE, *BACK, "--drawing", str(tmp_path / f"DRAWING.{ending}")]
    done = outcome(words)
    assert done.code in (0, 1)
    assert not faults(words, done, tmp_path)
    text = (tmp_path / f"DRAWING.{ending}").read_text()
    assert "<script>alert" not in text
    assert "alert(1)" in text


def test_a_batch_in_html_has_a_policy_and_no_script_of_a_title(tmp_path: Path) -> None:
    table = tmp_path / "books.csv"
    table.write_text(f'title,width,height\n"{TITLE}",45,210\n')
    done = outcome(["batch", str(table), "--format", "html", "--jobs", "1"])
    assert done.code in (0, 1), done.err
    assert "Content-Security-Policy" in done.out
    assert "<script>alert" not in done.out


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "＝"])
def test_no_cell_of_the_results_is_a_formula(tmp_path: Path, start: str) -> None:
    """Titles and carried notes that a spreadsheet would run begin with something else."""
    table = tmp_path / "books.csv"
    table.write_text(f'title,width,height,note\n"{start}1+1 Light",45,210,"{start}SUM(A1)"\n')
    done = outcome(["batch", str(table), "--format", "csv", "--jobs", "1"])
    cells = [cell for row in csv.reader(io.StringIO(done.out)) for cell in row]
    assert any("SUM(A1)" in cell for cell in cells)
    assert not [cell for cell in cells if cell[:1] in "=+-@\t\r＝" and cell and "1" in cell[1:]
                and not cell.lstrip("-").replace(".", "").isdigit()]  # fmt: skip
