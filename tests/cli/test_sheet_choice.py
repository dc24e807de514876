"""One job in several sizes, cases and weights side by side, by options or a job file's table."""

from __future__ import annotations

import csv
import io
import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from spinefit import catalogue
from spinefit.cli.main import main
from spinefit.job.sheet import SHEET_FIELDS

TITLE = "The Harbour Light"
LABEL = (TITLE, "--panel", "30x40mm", "--splits", "1")


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["sheet", *words])


def said(file: Path, *words: str) -> dict[str, Any]:
    done = run(*words, "--output", str(file), "--force", "--format", "json")
    assert done.exit_code == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def sizes(found: dict[str, Any]) -> list[float]:
    return [one["set_pt"] for one in found["settings"]]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "labels.pdf"


@pytest.mark.parametrize("count", [1, 2, 4, 7])
def test_as_many_sizes_as_were_asked_for(file: Path, count: int) -> None:
    """A step apart about the advised size, all of them fitting, half of the others larger."""
    (advised,) = sizes(said(file, *LABEL, "--size-count", "1"))
    found = said(file, *LABEL, "--size-count", str(count))
    assert sizes(found) == sorted(sizes(found), reverse=True)
    assert len(sizes(found)) == count and not found["left_out"]
    assert advised in sizes(found)
    assert all(one["fits"] for one in found["settings"])
    steps = [round(a - b, 6) for a, b in zip(sizes(found), sizes(found)[1:], strict=False)]
    assert set(steps) <= {1.0}


def test_sizes_near_the_limit_are_taken_from_below(file: Path) -> None:
    """No larger one fits: those below make up for it, so that there are four to choose from."""
    first = said(file, *LABEL, "--size-count", "1")["settings"][0]["largest_pt"]
    found = sizes(said(file, *LABEL, "--size", str(int(first)), "--size-count", "4"))
    assert found == [int(first) - below for below in range(4)]


def test_a_drawer_gives_its_sizes_nearest_to_the_advised_one(file: Path) -> None:
    drawer = (*LABEL, "--sizes", "8,10,12,14,18,36")
    (advised,) = sizes(said(file, *drawer, "--size-count", "1"))
    found = said(file, *drawer, "--size-count", "3")
    assert sizes(found) == [14, 12, 10] and advised == 12
    assert not found["left_out"]


def test_fewer_sizes_than_asked_for_is_said(file: Path) -> None:
    found = said(file, *LABEL, "--sizes", "10,12,40", "--size-count", "4")
    assert sizes(found) == [12, 10]
    (out,) = found["left_out"]
    assert out["why"].startswith("In these lines 2 of 4 sizes can be set, from 10 pt up to ")


def test_labels_cases_weights_and_sizes_are_multiplied(file: Path) -> None:
    """Each combination has its own sizes, its letters and its font."""
    ways = ("--cases", "as-typed,capitals", "--weights", "regular,bold", "--size-count", "2")
    found = said(file, *LABEL, "--labels", "30x40,34x30mm", *ways)
    seen = [
        (one["label"]["width_mm"], one["differs"]["case"], one["differs"]["weight"])
        for one in found["settings"]
    ]
    assert len(seen) == 2 * len(set(seen)) == 16
    capitals = [one for one in found["settings"] if one["differs"]["case"] == "capitals"]
    assert {"".join(one["lines"]).isupper() for one in capitals} == {True}
    at = {
        (*key, one["set_pt"]): one["ink_width_mm"]
        for key, one in zip(seen, found["settings"], strict=True)
    }
    both = [(case, size) for width, case, weight, size in at if (width, weight) == (34, "bold")
            and (34, case, "regular", size) in at]  # fmt: skip
    assert both
    for case, size in both:  # a bold is wider
        assert at[34, case, "bold", size] > at[34, case, "regular", size]


def test_what_differs_stands_in_the_table_and_below_each_label(file: Path) -> None:
    done = run(*LABEL, "--cases", "capitals", "--weights", "regular,bold", "--output", str(file))
    rows = [line for line in done.stdout.splitlines() if "30 x 40 mm" in line]
    assert ["capitals, regular" in row for row in rows].count(True) == len(rows) / 2
    assert ["capitals, bold" in row for row in rows].count(True) == len(rows) / 2
    printed = subprocess.run(
        ["pdftotext", "-layout", str(file), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert printed.count("capitals, bold") == printed.count("capitals, regular") == len(rows)


@pytest.mark.parametrize("font", [row.name for row in catalogue.font_rows()])
def test_every_bundled_family_has_both_weights(file: Path, font: str) -> None:
    """And a bold asked for by name has its regular."""
    words = ("Tides", "--panel", "30x20mm", "--size", "10", "--font", font)
    found = said(file, *words, "--weights", "bold,regular")["settings"]
    widths = {one["differs"]["weight"]: one["ink_width_mm"] for one in found}
    own = said(file, *words)["settings"][0]["ink_width_mm"]
    assert widths["bold" if "Bold" in font else "regular"] == own
    assert widths["bold"] > widths["regular"]


def test_font_files_find_the_bold_beside_them(file: Path, tmp_path: Path) -> None:
    folder = catalogue.fonts_folder() / "libre-baskerville"
    for name in ("Regular", "Bold"):
        shutil.copy(folder / f"LibreBaskerville-{name}.ttf", tmp_path / f"{name[0]}.ttf")
    words = ("Tides", "--panel", "30x20mm", "--size", "10", "--weights", "regular,bold")
    found = said(file, *words, "--font", str(tmp_path / "R.ttf"))["settings"]
    assert found == said(file, *words, "--font", "Libre Baskerville")["settings"]
    (tmp_path / "B.ttf").unlink()
    done = run(*words, "--font", str(tmp_path / "R.ttf"), "--output", str(tmp_path / "b.pdf"))
    assert done.exit_code == 2
    assert done.stderr.startswith(
        "spinefit: --weights: no bold of the family of Libre Baskerville: 'bold'; leave it out"
    )
    assert not (tmp_path / "b.pdf").exists()


SEVERAL = """
panel = "30x40mm"
[[text]]
role = "author"
text = "Ebenezer Quillfeather"
[[text]]
role = "rule"
[[text]]
role = "title"
text = "The Harbour Light"
[[text]]
role = "date"
text = "1889"
[sheet]
"""


def test_rules_of_a_label_are_compared(file: Path, tmp_path: Path) -> None:
    """Each kind of rule, and none: more room then, and larger letters."""
    job = tmp_path / "label.toml"
    job.write_text(SEVERAL + 'rules = ["none", "thin", "thick", "double", "thick-and-thin"]\n')
    found = said(file, "--job", str(job), "--size-count", "1")["settings"]
    assert [one["differs"]["rule"] for one in found] == [
        "none", "thin", "thick", "double", "thick-and-thin"
    ]  # fmt: skip
    assert {tuple(one["lines"])[-1] for one in found} == {"1889"}
    largest = [one["largest_pt"] for one in found]
    assert all(none >= other for none, other in zip(largest[:1] * 4, largest[1:], strict=True))
    printed = subprocess.run(
        ["pdftotext", str(file), "-"], capture_output=True, text=True, check=True
    ).stdout
    for words in ("no rule", "thin rule", "double rule", "thick and thin rule"):
        assert words in printed
    done = run(*LABEL, "--rules", "thin", "--output", str(file), "--force")
    assert done.exit_code == 2
    assert done.stderr.startswith("spinefit: --rules: no rule in the label to vary; write [[text]]")


JOB = f"""
title = "{TITLE}"
panel = "30x40mm"
method = "paper-label"
[sheet]
"""
TABLE = """
labels = ["30x40mm", "34x30mm"]
sizes = 2
splits = 1
spares = 2
cases = ["capitals"]
weights = ["bold"]
paper = "A5"
landscape = true
margin = 6
gutter = "3mm"
marks = "ticks"
no-grain = true
"""
OPTIONS = (
    "--labels", "30x40,34x30mm", "--size-count", "2", "--splits", "1", "--spares", "2",
    "--cases", "capitals", "--weights", "bold", "--paper", "A5", "--landscape", "--margin", "6",
    "--gutter", "3mm", "--marks", "ticks", "--no-grain",
)  # fmt: skip


def written(tmp_path: Path, table: str) -> str:
    job = tmp_path / "label.toml"
    job.write_text(JOB + table, encoding="utf-8")
    return str(job)


def test_a_job_file_says_what_the_options_say(file: Path, tmp_path: Path) -> None:
    """The same pages; every option of a sheet has its key."""
    assert len(TABLE.split("\n")) - 2 == len(SHEET_FIELDS) - 2  # neither rules nor trial strips
    by_file = said(file, "--job", written(tmp_path, TABLE))
    drawn = file.read_bytes()
    assert by_file == said(file, *LABEL, *OPTIONS)
    assert drawn == file.read_bytes()
    assert by_file["labels"] == 12 and by_file["paper"]["name"] == "A5 landscape"


def test_an_option_wins_over_the_job_file(file: Path, tmp_path: Path) -> None:
    job = written(tmp_path, "sizes = 4\nspares = 2\n")
    found = said(file, "--job", job, "--size-count", "3", "--spares", "0")
    assert len(found["settings"]) == found["labels"] == 3


@pytest.mark.parametrize("command", ["check", "worksheet", "sheet"])
def test_other_commands_pass_over_the_table_but_no_slip_in_it(tmp_path: Path, command: str) -> None:
    words = [] if command == "check" else ["--output", str(tmp_path / "a.pdf")]
    job = written(tmp_path, "sizzes = 4\n")
    done = CliRunner().invoke(main, [command, "--job", job, *words])
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == (
        f"spinefit: {job}: [sheet] sizzes: no key of a sheet: 'sizzes'; did you mean 'sizes'?\n"
    )
    if command == "check":
        assert CliRunner().invoke(main, [command, "--job", written(tmp_path, TABLE)]).exit_code == 0


@pytest.mark.parametrize(
    ("table", "fault"),
    [
        ("sizes = 0", "[sheet] sizes: no number of sizes: '0'; give a whole number from 1 to 20"),
        ("sizes = [10, 12]", "[sheet] sizes: neither a number nor a text"),
        ("spares = true", "[sheet] spares: neither a number nor a text"),
        ('labels = ["30y40"]', "[sheet] labels: not a rectangle: '30y40'"),
        ("labels = []", "[sheet] labels: 0 values"),
        ('cases = ["capital"]', "[sheet] cases: no such choice: 'capital'; did you mean"),
        ('cases = ["capitals", "capitals"]', "[sheet] cases: one of them given twice"),
        ('weights = "heavy"', "[sheet] weights: no such choice: 'heavy'; choose from"),
        ('paper = "A44"', "[sheet] paper: no such paper: 'A44'; did you mean 'A4'?"),
        ('margin = "wide"', "[sheet] margin: not a length"),
        ("gutter = 400", "[sheet] gutter: leaves no room for labels: '400 mm'"),
        (
            "spares = 100\nsizes = 20\nlabels = '31x40,32x40'",
            "[sheet] spares: 2222 labels; print at",
        ),
        ('font = "Cinzel"', "[sheet] font: no key of a sheet: 'font'"),
    ],
)
def test_faults_of_the_table_are_placed(file: Path, tmp_path: Path, table: str, fault: str) -> None:
    job = written(tmp_path, table)
    done = run("--job", job, "--output", str(file))
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(f"spinefit: {job}: {fault}"), done.stderr
    assert done.stderr.count("\n") == 1
    assert not file.exists()


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (("--cases", "small-capitals", "--font", "Cinzel"), "--cases: Cinzel has no small capit"),
        (("--size-count", "20", "--labels", ",".join(f"{30 + at}x20" for at in range(49)),
          "--weights", "regular,bold"), "--labels: 1960 settings to compare; at most 1000 at a ti"),
        (("--single", "--cases", "capitals"), "--cases: not for a single label"),
    ],
)  # fmt: skip
def test_what_cannot_be_compared_is_refused(
    tmp_path: Path, words: tuple[str, ...], fault: str
) -> None:
    output = tmp_path / ("a.svg" if "--single" in words else "a.pdf")
    done = run(*LABEL[:3], *words, "--output", str(output))
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(f"spinefit: {fault}"), done.stderr
    assert done.stderr.count("\n") == 1
    assert not output.exists()


def test_a_table_says_whose_labels_and_how_many(file: Path, tmp_path: Path) -> None:
    """Each row its copies with the spares beside them; customer and number below its labels."""
    table = tmp_path / "titles.csv"
    table.write_text(
        "title,panel,copies,customer,job number\nTides,30x20mm,3,Reading-room,1907\n"
        "Herring,30x20mm,,,\n",
        encoding="utf-8",
    )
    found = said(file, "--titles", str(table), "--spares", "2")
    assert [len(one["places"]) for one in found["settings"]] == [5, 3]
    assert [one["commission"] for one in found["settings"]] == [
        {"customer": "Reading-room", "job_number": "1907", "copies": 3},
        {"customer": None, "job_number": None, "copies": None},
    ]
    printed = subprocess.run(
        ["pdftotext", str(file), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert printed.count("Reading-room, 1907") == 5
    shown = run("--titles", str(table), "--spares", "2", "--output", str(file), "--force").stdout
    assert "2 settings, of each its copies and 2 spares." in shown
    table.write_text("title,panel,copies\nTides,30x20mm,0\n", encoding="utf-8")
    fault = run("--titles", str(table), "--output", str(file), "--force").stderr
    assert fault.startswith(f"spinefit: {table}:2: column 'copies': no number of copies: '0'")


def test_a_job_file_says_whose_labels_and_how_many(file: Path, tmp_path: Path) -> None:
    job = tmp_path / "label.toml"
    job.write_text('title = "Tides"\npanel = "30x20mm"\ncopies = 4\njob-number = 12\n')
    (one,) = said(file, "--job", str(job), "--size-count", "1", "--spares", "0")["settings"]
    assert len(one["places"]) == 4
    assert one["commission"]["job_number"] == "12"


BOOKS = """title,author,volume,date,panel
The Harbour Light,Ebenezer Quillfeather,,1889,30x40mm
Tide Tables,,3,1907,
Herring,,,,
"""


def test_a_row_with_several_texts_is_a_label_of_several(file: Path, tmp_path: Path) -> None:
    """In the order of custom, or of a job file that has their order and rules; as in a batch."""
    table = tmp_path / "books.csv"
    table.write_text(BOOKS, encoding="utf-8")
    words = ("--titles", str(table), "--panel", "34x30mm", "--spares", "0")
    light, tides, herring = said(file, *words)["settings"]
    assert "".join(light["lines"]).startswith("Ebenezer") and light["lines"][-1] == "1889"
    assert (tides["lines"], herring["lines"]) == (["Tide Tables", "3", "1907"], ["Herring"])
    batch = ["batch", str(table), "--panel", "34x30mm", "--method", "paper-label"]
    rows = list(csv.DictReader(io.StringIO(CliRunner().invoke(main, batch).stdout)))
    assert [row["lines"] for row in rows] == [
        " / ".join(one["lines"]) for one in (light, tides, herring)
    ]
    assert [float(row["set_pt"]) for row in rows] == [
        one["set_pt"] for one in (light, tides, herring)
    ]
    job = tmp_path / "label.toml"
    job.write_text(SEVERAL.replace("[sheet]", ""), encoding="utf-8")
    ruled = said(file, *words, "--job", str(job))["settings"]
    assert [one["lines"][-1] for one in ruled] == ["1889", "1907", "Herring"]
    assert (len(ruled[0]["rules"]), light["rules"]) == (1, [])
    assert ruled[1]["ink_height_mm"] == tides["ink_height_mm"]  # nothing for a rule to part


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("Tides,日本,,,30x40mm", "column 'author': EB Garamond has no 日"),
        ("Tides,B,,,30y40mm", "column 'panel': not a rectangle: '30y40mm'"),
    ],
)
def test_faults_of_a_label_of_several_texts_name_their_column(
    file: Path, tmp_path: Path, row: str, fault: str
) -> None:
    """The same line for a sheet as for a batch."""
    table = tmp_path / "books.csv"
    table.write_text(f"{BOOKS.splitlines()[0]}\n{row}\n", encoding="utf-8")
    method = ("--method", "paper-label", "--font", "EB Garamond")
    done = run("--titles", str(table), "--output", str(file), *method)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(f"spinefit: {table}:2: {fault}")
    batch = CliRunner().invoke(main, ["batch", str(table), *method])
    assert batch.stderr.splitlines(keepends=True)[0] == done.stderr
