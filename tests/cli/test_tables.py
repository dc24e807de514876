"""Tables as people have them, at the commands that read one: how they are read is said beside."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import Workbook

from spinefit.cli.main import main
from tests.cli.test_batch import interrupted
from tests.cli.test_batch import run as run_batch

GERMAN = (
    "Neu gebunden\n\nTitel;Rückenbreite [mm];Höhe;Signatur\nGezeiten für Fischer;12,5;210;Nau 7\n"
)
AS_SAID = ("--column", "Stärke=width", "--heading-row", "2")


def run(*words: str, stdin: bytes = b"") -> tuple[int, list[dict], list[str]]:
    """The code of a batch, its rows in JSON Lines, and the lines on standard error but the last."""
    done = subprocess.run(
        [sys.executable, "-m", "spinefit", "batch", *words, "--format", "jsonl", "--jobs", "1"],
        input=stdin, capture_output=True, check=False,
    )  # fmt: skip
    said = done.stderr.decode().splitlines()
    return done.returncode, [json.loads(line) for line in done.stdout.splitlines()], said


def workbook(path: Path) -> Path:
    """A sheet of two sound rows and two at fault."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Year"
    for row in (
        ("Title", "Stärke", "call number"), ("Tides", 20.5, 823.9), ("Quay", "=1+1", None),
        ("Fog", date(2024, 8, 3), None), ("Lamps", "2cm", "F 7"),
    ):  # fmt: skip
        sheet.append(row)
    sheet.insert_rows(1)
    sheet["A1"] = "A year's work"
    book.save(path)
    return path


def test_a_list_in_another_language_and_encoding_says_how_it_was_read() -> None:
    """On standard error, and the exit code is that of the books."""
    raw = GERMAN.encode("mac-roman")
    code, (row,), said = run("-", "--heading-row", "3", stdin=raw)
    assert code == 0
    assert row["report"]["title"] == "Gezeiten für Fischer"
    assert (row["line"], row["kept"]) == (4, {"Signatur": "Nau 7"})
    assert said[:2] == [
        "spinefit: standard input: no UTF-8, so read as mac-roman; --encoding says otherwise",
        "spinefit: standard input: columns taken by their usual names: 'Titel=title', "
        "'Rückenbreite [mm]=width', 'Höhe=height', 'Signatur=shelfmark'",
    ]
    code, rows, said = run("-", stdin=raw)
    assert (code, said) == (
        2,
        [
            "spinefit: standard input:1: column 1: no column of that name is known: "
            "'Neu gebunden'; line 3 may be the heading: give --heading-row 3"
        ],
    )
    assert "error" in rows[0]


def test_a_workbook_is_a_table(tmp_path: Path) -> None:
    """Its faults name the row and the cell; a file and a pipe are read the same."""
    path = workbook(tmp_path / "books.xlsx")
    code, rows, said = run(str(path), *AS_SAID, "--height", "200")
    assert code == 2
    assert [(row["line"], "report" in row) for row in rows] == [
        (3, True), (4, False), (5, False), (6, True),
    ]  # fmt: skip
    assert rows[0]["report"]["findings"][0]["topic"] == "call-number-noughts"
    assert (
        f"spinefit: {path}:4: column 'width': sheet 'Year', cell B4: a formula without a" in said[0]
    )
    assert f"spinefit: {path}:5: column 'width': sheet 'Year', cell B5: a date, as 3/8" in said[1]
    piped = run("-", *AS_SAID, "--height", "200", stdin=path.read_bytes())
    assert piped[:2] == (code, rows)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--sheet", "Old"), "--sheet: no such sheet: 'Old'; there are 'Year'"),
        (
            (),
            'row 1: column 1: no column of that name is known: "A year\'s work"'.replace('"', "'"),
        ),
        (("--encoding", "cp1252"), "--encoding: a workbook has no encoding"),
        (("--heading-row", "0"), "--heading-row: no number of a line: '0'"),
        (("--heading-row", "9"), "no such line with names: '9'"),
        (("--heading-row", "2", "--column", "Stärke"), "--column: no column with what it means"),
    ],
)
@pytest.mark.parametrize("command", ["batch", "sheet"])
def test_what_cannot_be_is_one_line(tmp_path: Path, command: str, words, said: str) -> None:
    path = str(workbook(tmp_path / "books.xlsx"))
    out = str(tmp_path / "out.pdf")
    start = ["batch", path] if command == "batch" else ["sheet", "--titles", path, "--output", out]
    done = CliRunner().invoke(main, [*start, *words])
    assert (done.exit_code, done.stdout, done.stderr.count("\n")) == (2, "", 1)
    assert said in done.stderr
    assert [one.name for one in tmp_path.iterdir()] == ["books.xlsx"]


def test_labels_are_set_from_such_tables_too(tmp_path: Path) -> None:
    csv = tmp_path / "books.csv"
    csv.write_bytes("Titel;Schild\nGezeiten für Fischer;30x20\n".encode("cp1252"))
    out = tmp_path / "labels.pdf"
    words = ["sheet", "--titles", str(csv), "--column", "Schild=panel", "--output", str(out)]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.stderr
    assert "read as cp1252" in done.stderr and "'Titel=title'" in done.stderr
    assert out.read_bytes().startswith(b"%PDF")


def test_options_of_a_table_say_nothing_without_one(tmp_path: Path) -> None:
    words = ["sheet", "Tides", "--panel", "30x20", "--sheet", "Year", "--output", "x.pdf"]
    done = CliRunner().invoke(main, words)
    assert (done.exit_code, "--titles: an option of a table without one" in done.stderr) == (
        2,
        True,
    )


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
def test_a_batch_of_a_workbook_goes_on_behind_what_it_has_done(tmp_path: Path) -> None:
    """To the same bytes, and not where its rows are read otherwise now."""
    path, out, whole = (tmp_path / name for name in ("books.xlsx", "a.jsonl", "b.jsonl"))
    book = Workbook()
    assert book.active is not None
    for row in [("Titel", "Breite", "Höhe"), *((f"Tide {n}", 20, 200) for n in range(1500))]:
        book.active.append(row)
    book.save(path)
    interrupted(path, out, signal.SIGINT)  # which saves where it stands
    swapped = ("--column", "Höhe=width", "--column", "Breite=height")
    other = run_batch(path, "--output", out, "--resume", *swapped)
    assert "the table has changed since the partial result was made" in other.stderr
    assert not out.exists()
    assert run_batch(path, "--output", out, "--resume").returncode == 0
    assert run_batch(path, "--output", whole).returncode == 0
    assert out.read_bytes() == whole.read_bytes()
