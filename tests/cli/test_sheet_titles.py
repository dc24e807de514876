"""A table of titles with rows at fault: all are told at once, and nothing is written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jsonschema import validate

from spinefit.catalogue.tables import schema
from spinefit.cli.main import main


def sheet(folder: Path, rows: str, *words: str) -> Result:
    table = folder / "titles.csv"
    table.write_text(rows, encoding="utf-8")
    start = ["sheet", "--titles", str(table), "--output", str(folder / "labels.pdf")]
    return CliRunner().invoke(main, [*start, *words])


def test_every_row_at_fault_is_told(tmp_path: Path) -> None:
    """Whether it cannot be read, described or set; those of a kind three times and then counted."""
    rows = (
        "title,panel,size,font\nTide Tables,30x40,,\n,30x40,,\nFog,30x4q0,,\nLamps,30x40,9q,\n"
        "Mast,30x40\nQuay,30x40,,Nowhere Sans\n" + "Wreck,,7q,\n" * 5
    )
    done = sheet(tmp_path, rows)
    assert (done.exit_code, done.stdout) == (2, "")
    said = [line.removeprefix(f"spinefit: {tmp_path}/") for line in done.stderr.splitlines()]
    assert [line.split(": ")[0] for line in said] == [
        *(f"titles.csv:{line}" for line in (3, 4, 5, 6, 7, 8, 9)), "titles.csv", "titles.csv",
    ]  # fmt: skip
    assert "no title given" in said[0] and "column 'panel'" in said[1]
    assert "2 cells where" in said[3] and "Nowhere Sans" in said[4]
    assert "column 'size': no unit 'q' here: 6 rows, lines 5, 8, 9" in said[7]
    assert said[8] == "titles.csv: 10 rows at fault, and nothing is written; mend them"
    assert [one.name for one in tmp_path.iterdir()] == ["titles.csv"]


def test_one_row_at_fault_is_one_line(tmp_path: Path) -> None:
    done = sheet(tmp_path, "title,panel\nTides,30x40\nFog,30x4q0\n")
    assert (done.exit_code, done.stderr.count("\n")) == (2, 1)
    assert "titles.csv:3: column 'panel': not a length" in done.stderr


@pytest.mark.parametrize(("bad", "lines"), [(1, [3]), (12, list(range(3, 15)))])
def test_a_program_is_told_every_row_at_fault(tmp_path: Path, bad: int, lines: list[int]) -> None:
    """Not only those that standard error has, three of a kind."""
    done = sheet(tmp_path, "title,panel\nTides,30x40\n" + "Fog,30x4q0\n" * bad, "--format", "json")
    found = json.loads(done.stdout)
    validate(found, schema("error"))
    assert [row["line"] for row in found["error"]["rows"]] == lines
    assert all(row["text"].startswith("column 'panel'") for row in found["error"]["rows"])


@pytest.mark.parametrize("name", ["Verfasser", "author", "set"])
def test_the_cure_of_a_column_that_says_nothing_here_serves(tmp_path: Path, name: str) -> None:
    rows = f"title,width,height,{name}\nTides,20,210,Quay\nFog,20,210,Quay\n"
    done = sheet(tmp_path, rows)
    cure = f"--column '{name}=note'"
    assert done.exit_code == 2 and f"{cure} passes the column over" in done.stderr
    assert sheet(tmp_path, rows, "--column", f"{name}=note").exit_code == 0
