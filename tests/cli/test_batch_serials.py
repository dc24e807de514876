"""Rows of a serial are held against its saved pattern."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit import Job, Lettering, Spine, check, check_row, pattern_of
from spinefit.cli.main import main

BACK = ("--width", "30", "--height", "230")
HEADING = "title,width,height,serial\n"
GOOD = "Tide Tables / 1890,30,230,Tide Tables\n"


def run(*words: object) -> Result:
    return CliRunner().invoke(main, list(map(str, words)))


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A folder with the patterns of two serials."""
    folder = tmp_path / "shelf"
    folder.mkdir()
    for name, title in (("tide-tables", "Tide Tables / 1889"), ("Annals", "Annals / 7")):
        done = run("check", title, *BACK, "--save-pattern", folder / f"{name}.toml")
        assert (done.exit_code, done.stderr) == (0, "")
    return folder


def batch(folder: Path, rows: str, *words: object, heading: str = HEADING) -> Result:
    table = folder / "books.csv"
    table.write_text(heading + rows, encoding="utf-8")
    return run("batch", table, "--slash-breaks", "--jobs", "1", *words)


def read(done: Result) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(done.stdout)))


@pytest.mark.parametrize("name", ["Tide Tables", "TIDE TABLES.", "tide_tables", "«Tide–Tables»"])
def test_a_serial_is_found_by_its_name(tmp_path: Path, shelf: Path, name: str) -> None:
    """Case, spaces and punctuation are forgiven."""
    rows = f"Tide Tables / 1890,30,230,{name}\nOther,20,,\n"
    done = batch(tmp_path, rows, "--patterns", shelf)
    matched, plain = read(done)
    assert (done.exit_code, matched["verdict"], plain["verdict"]) == (0, "fits", "fits")
    assert matched["answer"].startswith("It matches the pattern")
    assert "pattern" not in plain["answer"]


def test_what_differs_is_a_breach_and_never_solved_again(tmp_path: Path, shelf: Path) -> None:
    done = batch(tmp_path, "Tide Tables / 1890,12,230,Tide Tables\n", "--patterns", shelf)
    alone = run("check", "Tide Tables / 1890", "--width", "12", "--height", "230",
                "--match", shelf / "tide-tables.toml")  # fmt: skip
    (row,) = read(done)
    assert (done.exit_code, alone.exit_code, row["verdict"]) == (1, 1, "does not fit")
    assert " ".join(alone.stdout.split()).startswith(row["answer"])
    (free,) = read(batch(tmp_path, "Tide Tables / 1890,12,230,\n"))
    assert float(free["set_pt"]) < float(row["set_pt"])


def test_a_back_of_several_texts_has_its_title_matched(tmp_path: Path, shelf: Path) -> None:
    """As its job file is."""
    rows = "Tide Tables / 1890,30,230,Tide Tables,Harbour Office\n"
    done = batch(tmp_path, rows, "--patterns", shelf, "--format", "jsonl",
                 heading="title,width,height,serial,author\n")  # fmt: skip
    job = tmp_path / "back.toml"
    job.write_text(
        "width = 30\nheight = 230\n"
        '[[text]]\nrole = "author"\ntext = "Harbour Office"\n'
        '[[text]]\nrole = "title"\ntext = "Tide Tables / 1890"\n'
    )
    alone = run("check", "--job", job, "--match", shelf / "tide-tables.toml", "--format", "json")
    found, wanted = json.loads(done.stdout)["report"], json.loads(alone.stdout)
    assert found["verdict"] == wanted["verdict"]
    assert found["answer"] == wanted["answer"] and "the pattern" in found["answer"]
    sizes = [{one["role"]: one["set_pt"] for one in report["texts"]} for report in (found, wanted)]
    assert sizes[0] == sizes[1]
    assert {one["topic"] for one in found["findings"]} == {
        one["topic"] for one in wanted["findings"]
    }


def test_a_text_beside_the_title_finds_no_room_for_the_reason_that_its_figures_give(
    tmp_path: Path, shelf: Path
) -> None:
    """Across the back where that binds, and not along a back that is long enough."""
    rows = "Tide Tables / 1890,12,230,Tide Tables,Harbour Office\n"
    done = batch(tmp_path, rows, "--patterns", shelf, "--format", "jsonl",
                 heading="title,width,height,serial,author\n")  # fmt: skip
    report = json.loads(done.stdout)["report"]
    (found,) = (one for one in report["findings"] if one["topic"] == "text-without-room")
    assert found["value"] > found["limit"] > 0
    assert "across the back, where 8 mm are left for it" in found["text"]


def test_volumes_of_a_set_are_matched_one_by_one(tmp_path: Path, shelf: Path) -> None:
    """As a job file with them is; one that is too thin spoils no other."""
    heading = "title,width,height,serial,set\n"
    rows = "".join(f"Annals / {n},{width},230,annals,a\n" for n, width in ((8, 30), (9, 9)))
    found = read(batch(tmp_path, rows, "--patterns", shelf, heading=heading))
    assert [row["verdict"] for row in found] == ["fits", "does not fit"]
    job = tmp_path / "set.toml"
    job.write_text("height = 230\n" + "".join(
        f'[[volume]]\nlabel = "{n}"\ntitle = "Annals / {n}"\nwidth = {width}\n'
        for n, width in ((8, 30), (9, 9))
    ))  # fmt: skip
    alone = run("check", "--job", job, "--match", shelf / "Annals.toml", "--format", "json")
    for row, one in zip(found, json.loads(alone.stdout)["volumes"], strict=True):
        assert row["verdict"] == one["report"]["verdict"]
        assert row["answer"] == one["report"]["answer"]
    mixed = batch(tmp_path, f"{rows}Annals / 10,30,230,,a\n", "--patterns", shelf, heading=heading)
    assert mixed.exit_code == 2
    assert "books.csv:4: column 'serial': none given, as others of this set have" in mixed.stderr


@pytest.mark.parametrize(
    ("serial", "words", "said"),
    [
        ("Tide Tabels", True, "no pattern is saved for the serial: 'Tide Tabels'; did you mean "
         "'tide-tables'? there are Annals, tide-tables; 'spinefit check --save-pattern' saves one"),
        ("Quay", True, "no pattern is saved for the serial: 'Quay'; there are Annals, tide-tables"),
        ("...", True, "no pattern is saved for the serial: '...'; there are Annals, tide-tables"),
        ("Quay", False, "no saved pattern is at hand for the serial: 'Quay'; name the folder of "
         "the patterns with --patterns"),
    ],
)  # fmt: skip
def test_a_serial_without_a_pattern_is_a_row_at_fault(
    tmp_path: Path, shelf: Path, serial: str, words: bool, said: str
) -> None:
    """Nothing is solved in its place, and the others go on."""
    more = ("--patterns", shelf) if words else ()
    done = batch(tmp_path, f"Quay,30,230,{serial}\nOther,30,230,\n", *more)
    assert done.exit_code == 2
    assert f"books.csv:2: column 'serial': {said}" in done.stderr
    assert [row["verdict"] for row in read(done)] == ["", "fits"]


def test_two_patterns_of_one_name_are_refused_where_it_is_asked_for(tmp_path, shelf: Path) -> None:
    text = (shelf / "Annals.toml").read_text(encoding="utf-8")
    (shelf / "ANNALS!.toml").write_text(text, encoding="utf-8")
    done = batch(tmp_path, f"Annals / 8,30,230,annals\n{GOOD}", "--patterns", shelf)
    assert [row["verdict"] for row in read(done)] == ["", "fits"]
    said = "2 patterns are saved for the serial: 'annals'; keep one of ANNALS!, Annals"
    assert f"books.csv:2: column 'serial': {said}" in done.stderr


def test_what_the_pattern_needs_is_a_fault_of_its_column(tmp_path: Path, shelf: Path) -> None:
    done = batch(tmp_path, "Tide Tables / 1890,30,,Tide Tables\n", "--patterns", shelf)
    assert done.exit_code == 2
    assert "a pattern's height over the shelf needs the height of the back" in done.stderr


def test_a_label_of_several_texts_matches_none(tmp_path: Path, shelf: Path) -> None:
    heading = "title,author,panel,method,serial\n"
    rows = "Annals,E. Quay,30x40,paper-label,annals\n"
    done = batch(tmp_path, rows, "--patterns", shelf, heading=heading)
    assert done.exit_code == 2
    assert "the texts of one label are no back; plan or match a title alone" in done.stderr


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({}, "--patterns: no pattern, as NAME.toml, in the folder"),
        ({"Annals.toml": "title = 'Annals'"}, "Annals.toml: schema: no pattern that can be read"),
        ({"Annals.toml": "x = ["}, "Annals.toml:1:6: not a pattern"),
        ({"Annals.toml": None, ".Annals.toml": "x", "notes.txt": "x"}, ""),
    ],
)  # fmt: skip
def test_a_folder_that_cannot_serve_is_one_line(
    tmp_path: Path, shelf: Path, files: dict[str, str | None], said: str
) -> None:
    """Before a row is read; what no pattern can be is passed over."""
    folder = tmp_path / "other"
    folder.mkdir()
    for name, text in files.items():
        saved = (shelf / "Annals.toml").read_text(encoding="utf-8")
        (folder / name).write_text(saved if text is None else text, encoding="utf-8")
    done = batch(tmp_path, "Annals / 8,30,230,Annals\n", "--patterns", folder)
    if not said:
        assert done.exit_code == 0
        return
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr and done.stderr.count("\n") == 1


@pytest.mark.parametrize("name", ["", "nowhere", "books.csv", "a\0b"])
def test_what_is_no_folder_is_one_line(tmp_path: Path, name: str) -> None:
    done = batch(tmp_path, GOOD, "--patterns", tmp_path / name if name != "" else "")
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith("spinefit: --patterns: no folder that can be read (")
    assert done.stderr.count("\n") == 1


def test_another_pattern_is_no_going_on(tmp_path: Path, shelf: Path) -> None:
    """What was matched before would match another."""
    out = tmp_path / "found.csv"
    done = batch(tmp_path, GOOD, "--patterns", shelf, "--output", out)
    assert done.exit_code == 0
    marks = []
    for size in ("", "1"):
        pattern = shelf / "tide-tables.toml"
        text = pattern.read_text(encoding="utf-8").replace("size_pt = ", f"size_pt = {size}")
        pattern.write_text(text, encoding="utf-8")
        marks.append(_mark(shelf))
    assert marks[0] != marks[1]


def _mark(folder: Path) -> str:
    from spinefit.batch.model import Settings
    from spinefit.batch.progress import fresh_mark
    from spinefit.cli.batch import _patterns

    return fresh_mark(Settings(patterns=_patterns(str(folder))), "1").asked


def test_in_python_the_patterns_are_handed_over() -> None:
    job = Job(title="Tide Tables", spine=Spine(width_mm=30, height_mm=230),
              lettering=Lettering(size_pt=14))  # fmt: skip
    patterns = {"Tide Tables": pattern_of(check(job), job)}
    row = {"title": "Tide Tables", "width": 30, "height": 230, "serial": "TIDE TABLES"}
    assert check_row(row, patterns=patterns)["set_pt"] == 14
    assert check_row({**row, "serial": None}, patterns=patterns)["set_pt"] != 14
    assert "no saved pattern is at hand" in check_row(row)["error"]
