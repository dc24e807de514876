"""What a batch says in the end, on standard error."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main

HEADING = "title,width,height\n"
BOOKS = "Tides,20,210\nHarbour Lights : a log / by E. Quay,30,210\nThe Wreck Register,5,20\n"
WHOLE = "3 books: 2 fit, 0 tight, 1 does not fit; no row at fault; something to mind in 1"


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["batch", *map(str, words), "--jobs", "1"])


def table(folder: Path, rows: str = BOOKS) -> Path:
    path = folder / "books.csv"
    path.write_text(HEADING + rows, encoding="utf-8")
    return path


@pytest.mark.parametrize("form", ["csv", "jsonl", "html"])
def test_how_many_fit_and_what_to_mind_is_said_beside_the_results(tmp_path, form) -> None:
    """Not among them, so that what reads them is not disturbed."""
    done = run(table(tmp_path), "--format", form)
    assert (done.exit_code, done.stderr) == (1, f"spinefit: {WHOLE}\n")
    assert "something to mind" not in done.stdout or form == "html"


def test_where_the_results_went_is_said(tmp_path) -> None:
    for name in ("found.csv", "found.txt", "found.html"):
        done = run(table(tmp_path), "--output", tmp_path / name)
        assert (done.stdout, done.stderr) == (
            "", f"spinefit: {WHOLE}; written to {tmp_path / name}\n",
        )  # fmt: skip


def test_a_table_on_the_screen_has_it_at_its_foot_and_nowhere_else(tmp_path) -> None:
    done = run(table(tmp_path), "--format", "text")
    assert done.stderr == ""
    assert " ".join(done.stdout.split()).count(WHOLE) == 1


def test_artwork_is_told_before_the_whole(tmp_path) -> None:
    words = ("--artwork", tmp_path / "art", "--format", "csv")
    lines = run(table(tmp_path, "Tides,20,210\n"), *words).stderr.splitlines()
    assert len(lines) == 2
    assert "1 file of artwork written" in lines[0]
    assert lines[1] == "spinefit: 1 book: 1 fits, 0 tight, 0 do not fit; no row at fault"


def test_rows_with_the_same_fault_are_counted(tmp_path) -> None:
    """Three are told; each row of the results still says its own."""
    rows = "".join(f"Tides {n},{n}mn,210\n" for n in range(10, 60)) + "Quay,20,high\n"
    path = table(tmp_path, rows)
    done = run(path, "--format", "jsonl")
    lines = done.stderr.splitlines()
    assert done.exit_code == 2
    assert [line.split(": ")[1] for line in lines[:4]] == [f"{path}:{n}" for n in (2, 3, 4, 52)]
    assert lines[4:] == [
        f"spinefit: {path}: column 'width': no unit 'mn' here: 50 rows, "
        "lines 2, 3, 4, 5, 6, 7, 8, 9 and 42 more",
        "spinefit: 0 books: 0 fit, 0 tight, 0 do not fit; 51 rows at fault",
    ]
    errors = [json.loads(line)["error"] for line in done.stdout.splitlines()]
    assert errors[49].startswith("no unit 'mn' here: '59mn'")


def test_a_run_that_goes_on_counts_on(tmp_path) -> None:
    """Of a kind told three times before it was stopped nothing is told again but the sum."""
    path, out = (
        table(tmp_path, "".join(f"Tides,{n}mn,210\n" for n in range(40))),
        tmp_path / "a.csv",
    )
    stopped = subprocess.run(
        [sys.executable, "-c", _STOPS, str(path), str(out)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert stopped.returncode == 2
    assert stopped.stderr.splitlines()[3:] == [
        f"spinefit: stopped after 32 rows; {out}.partial has them, --resume goes on"
    ]
    assert json.loads(Path(f"{out}.partial.json").read_text())["kinds"]
    done = run(path, "--output", out, "--resume")
    assert done.stderr.splitlines() == [
        f"spinefit: {path}: column 'width': no unit 'mn' here: 40 rows, "
        "lines 2, 3, 4, 5, 6, 7, 8, 9 and 32 more",
        f"spinefit: 0 books: 0 fit, 0 tight, 0 do not fit; 40 rows at fault; written to {out}",
    ]


_STOPS = """
import os, signal, sys
from spinefit.cli import batch_run
from spinefit.cli.main import status

class Bar:
    def __enter__(self):
        return lambda rows: os.kill(os.getpid(), signal.SIGINT)
    def __exit__(self, *_):
        pass

batch_run._bar = lambda *_: Bar()
sys.exit(status(["batch", sys.argv[1], "--output", sys.argv[2], "--jobs", "1"]))
"""
