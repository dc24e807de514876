"""The command: results in the form their table had, in an order, and as a workbook."""

from __future__ import annotations

import csv
import io
import os
import shutil
import signal
import subprocess
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from tests.cli.test_batch import HEADING, MANY, SPINEFIT, interrupted, run, table

BOOKS = (
    "Signature;title;author;width;height;method;price\n"
    "W 1;Fog;H. Quay;9,5;210;paper-label;12,50\n"
    'W 2;"Tides; a History";;24mm;210;blocked-case;007\n'
    "W 3;Lamp;;wide;210;;=1+1\n"
    "W 4;Mast;;30;210;paper-label;\n"
)


def cells_of(path: Path) -> list[list[Any]]:
    return [[cell.value for cell in row] for row in load_workbook(path).worksheets[0].iter_rows()]


def as_rows(path: Path) -> list[dict[str, Any]]:
    heading, *rows = cells_of(path)
    return [dict(zip(heading, row, strict=True)) for row in rows]


def test_csv_goes_back_as_it_came(tmp_path: Path) -> None:
    """Semicolons, decimal commas, line ends, UTF-16 with its mark; every column with keep all."""
    path, out = tmp_path / "books.csv", tmp_path / "found.csv"
    path.write_bytes(b"\xff\xfe" + BOOKS.replace("\n", "\r\n").encode("utf-16-le"))
    assert run(path, "--keep", "all", "--output", out).returncode == 2
    raw = out.read_bytes()
    assert raw.startswith(b"\xff\xfel\0i\0n\0e\0;\0")
    text = raw[2:].decode("utf-16-le")
    assert text.count("\r\n") == text.count("\n") == 5
    rows = list(csv.DictReader(io.StringIO(text), delimiter=";"))
    assert [row["Signature"] for row in rows] == ["W 1", "W 2", "W 3", "W 4"]
    assert [row["width"] for row in rows] == ["9,5", "24mm", "wide", "30"]
    assert [row["price"] for row in rows] == ["12,50", "007", "'=1+1", ""]
    assert rows[0]["width_mm"] == "9,5" and "," in rows[0]["set_pt"]
    assert rows[0]["author_pt"] and not rows[1]["author_pt"]
    assert [row["found_method"] for row in rows][:2] == ["paper-label", "blocked-case"]


def test_json_becomes_plain_csv(tmp_path: Path) -> None:
    path = table(
        tmp_path,
        '{"title": "Fog; a Tale", "width": 40, "height": 200, "date": 1889}\n',
        "books.jsonl",
    )
    heading, row = csv.reader(io.StringIO(run(path, "--format", "csv").stdout))
    assert row[heading.index("title")] == "Fog; a Tale"
    assert float(row[heading.index("date_pt")]) > 4


def test_a_byte_order_mark_on_request(tmp_path: Path) -> None:
    path = table(tmp_path)
    done = run(path, "--bom")
    assert done.stdout == "\ufeff" + run(path).stdout
    done = run(path, "--bom", "--format", "html")
    assert (done.returncode, done.stdout) == (2, "")
    assert "--bom: no byte order mark but in CSV: 'html'" in done.stderr


@pytest.mark.parametrize("form", ["csv", "text", "jsonl"])
def test_an_order_by_method_and_size_goes_to_a_pipe_too(tmp_path: Path, form: str) -> None:
    path, out = table(tmp_path, BOOKS), tmp_path / "found.out"
    words = ("--keep", ["Signature", "price"][0], "--keep", "price", "--format", form)
    done = run(path, *words, "--sort", "method,-size")
    assert done.returncode == 2
    assert "wide" in done.stderr
    order = [done.stdout.index(f"{name}") for name in ("Tides", "Mast", "Fog")]
    assert order == sorted(order)
    assert run(path, *words, "--sort", "method,-size", "--output", out).returncode == 2
    written = out.read_text(encoding="utf-8")
    if form != "text":  # a file is wider than a pipe
        assert written == done.stdout


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
@pytest.mark.parametrize(("ending", "number"), [("csv", "SIGKILL"), ("xlsx", "SIGINT")])
def test_what_is_held_goes_on_where_it_was_interrupted(tmp_path: Path, ending, number) -> None:
    path, out, whole = table(tmp_path, MANY), tmp_path / f"a.{ending}", tmp_path / f"b.{ending}"
    words = ("--sort", "-set_pt,title")
    interrupted(path, out, getattr(signal, number), *words)
    assert not out.exists()
    other = run(path, "--output", out, "--resume", "--sort", "title")
    assert "other options" in other.stderr
    assert run(path, "--output", out, "--resume", *words).returncode in (0, 1)
    assert run(path, "--output", whole, *words).returncode in (0, 1)
    if ending == "csv":
        assert out.read_bytes() == whole.read_bytes()
    else:
        assert cells_of(out) == cells_of(whole)
    assert sorted(one.name for one in tmp_path.iterdir()) == sorted(
        ["books.csv", out.name, whole.name]
    )
    sizes = [float(row["set_pt"]) for row in (
        as_rows(out)
        if ending == "xlsx"
        else csv.DictReader(io.StringIO(out.read_text(encoding="utf-8")))
    )]  # fmt: skip
    assert len(sizes) == 1500 and sizes == sorted(sizes, reverse=True)


def test_a_table_becomes_a_workbook_of_its_rows_with_their_answers(tmp_path: Path) -> None:
    """Every column, known or not, its texts as texts and measures as figures."""
    path, out = table(tmp_path, BOOKS), tmp_path / "found.xlsx"
    done = run(path, "--output", out)
    assert done.returncode == 2
    assert "columns kept that say nothing to the check: Signature, price" in done.stderr
    rows = as_rows(out)
    assert [row["verdict"] for row in rows] == ["fits", "fits", "at fault", "fits"]
    assert [row["width"] for row in rows] == [9.5, "24mm", "wide", 30]
    assert [row["price"] for row in rows] == ["12,50", "007", "=1+1", None]
    assert (
        "kept that say nothing" not in run(path, "--keep", "all", "--output", out, "--force").stderr
    )
    lines = table(tmp_path, '{"title": "Fog", "width": 9, "cloth": "red"}\n', "books.jsonl")
    assert run(lines, "--output", out, "--force").returncode == 0
    assert [(row["title"], row["width"], row["cloth"]) for row in as_rows(out)] == [
        ("Fog", 9, "red")
    ]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--format", "xlsx"), "--format: a workbook goes into a file; give --output books.xlsx"),
        (("--sort", "verdikt"), "--sort: no such column to sort by: 'verdikt'; did you mean"),
        (("--sort", "author_pt"), "--sort: no such column to sort by: 'author_pt'"),
    ],
)
def test_what_cannot_be_is_one_line_and_nothing_else(words, said) -> None:
    done = run("-", *words, stdin=HEADING + "1,Fog,9,200\n")
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_a_workbook_that_cannot_be_written_leaves_what_was_found(tmp_path: Path) -> None:
    """A folder that is gone read-only in between costs nothing but another run."""
    path, out = table(tmp_path), tmp_path / "found.xlsx"
    code = (
        "import sys\n"
        "from spinefit.batch import beside\n"
        "def full(*_): raise OSError(28, 'No space left on device')\n"
        "beside.Workbook.save = full\n"
        "from spinefit.cli.main import status\n"
        f"sys.exit(status(['batch', {str(path)!r}, '--output', {str(out)!r}]))\n"
    )
    done = subprocess.run([SPINEFIT[0], "-c", code], capture_output=True, check=False, text=True)
    assert done.returncode == 2
    assert "No space left on device" in done.stderr and "Traceback" not in done.stderr
    left = sorted(one.name for one in tmp_path.iterdir())
    assert left == ["books.csv", "found.xlsx.partial", "found.xlsx.partial.json"]
    assert run(path, "--output", out, "--resume").returncode == 0
    assert [row["verdict"] for row in as_rows(out)] == ["fits", "fits"]


def workbook(path: Path) -> Path:
    """A list with a line above its heading, a formula in each row and one below them."""
    book = Workbook()
    sheet: Any = book.active
    sheet["A1"] = "To be bound in 1931"
    for row, cells in enumerate(csv.reader(BOOKS.splitlines(), delimiter=";"), 2):
        for at, cell in enumerate(cells, 1):
            try:
                sheet.cell(row, at, float(cell.replace(",", ".")))
            except ValueError:
                sheet.cell(row, at, cell or None).data_type = "s" if cell else "n"
        sheet.cell(row, 8, f"=E{row}*2" if row > 2 else "height twice")
    book.create_sheet("Cloth")["B2"] = "red"
    book.save(path)
    return path


def test_a_workbook_keeps_its_cells_from_a_file_or_a_pipe(tmp_path: Path) -> None:
    path, out = workbook(tmp_path / "books.xlsx"), tmp_path / "found.xlsx"
    before = cells_of(path)
    done = run(path, "--heading-row", "2", "--output", out)
    assert done.returncode == 2
    assert f"{path}: what it has of these is not in {out}: stored values of formulas" in done.stderr
    found = cells_of(out)
    assert [row[:8] for row in found] == before
    assert found[1][8:11] == ["verdict", "largest_pt", "set_pt"]
    assert [row[8] for row in found[2:]] == ["fits", "fits", "at fault", "fits"]
    assert load_workbook(out)["Cloth"]["B2"].value == "red"
    piped = tmp_path / "piped.xlsx"
    run("-", "--heading-row", "2", "--output", piped, stdin=path.read_bytes())
    assert cells_of(piped) == found
    again = tmp_path / "again.xlsx"
    assert run(out, "--heading-row", "2", "--output", again).returncode == 2
    assert cells_of(again) == found


def test_a_workbook_may_be_sorted_and_gone_on_with(tmp_path: Path) -> None:
    path, out = workbook(tmp_path / "books.xlsx"), tmp_path / "found.xlsx"
    words = ("--heading-row", "2", "--output", out, "--sort", "method,size")
    partial = tmp_path / "found.xlsx.partial"
    partial.write_bytes(b"")
    assert run(path, *words, "--resume").returncode == 2
    rows = cells_of(out)[2:]
    assert [row[0] for row in rows] == ["W 2", "W 1", "W 4", "W 3"]
    assert [row[7] for row in rows] == ["=E3*2", "=E4*2", "=E5*2", "=E6*2"]


OFFICE = shutil.which("soffice")


def in_an_office(path: Path, folder: Path, form: str) -> Path:
    """A file as an office suite that knows nothing of us opens and saves it."""
    profile = f"-env:UserInstallation=file://{folder}/profile"
    assert OFFICE is not None
    subprocess.run(
        [OFFICE, profile, "--headless", "--convert-to", form, "--outdir", str(folder), str(path)],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    return folder / f"{path.stem}.{form.partition(':')[0]}"


@pytest.mark.skipif(OFFICE is None and "CI" not in os.environ, reason="needs an office suite")
def test_an_office_suite_shows_the_same(tmp_path: Path) -> None:
    """The new workbook, and one that it has opened and saved: same cells, same types."""
    path, out = table(tmp_path, BOOKS), tmp_path / "found.xlsx"
    run(path, "--output", out)
    (tmp_path / "office").mkdir()
    saved = in_an_office(out, tmp_path / "office", "xlsx")
    plain = [[cell for cell in row if cell != ""] for row in cells_of(out)]
    assert [[cell for cell in row if cell != ""] for row in cells_of(saved)] == plain
    shown = in_an_office(out, tmp_path / "office", "csv")
    rows = list(csv.DictReader(io.StringIO(shown.read_text(encoding="utf-8"))))
    assert [row["verdict"] for row in rows] == ["fits", "fits", "at fault", "fits"]
    assert [row["price"] for row in rows] == ["12,50", "007", "=1+1", ""]
    assert [float(row["set_pt"] or 0) for row in rows] == pytest.approx(
        [row["set_pt"] or 0 for row in as_rows(out)], abs=0.005
    )


@pytest.mark.skipif(OFFICE is None and "CI" not in os.environ, reason="needs an office suite")
def test_an_office_suite_shows_a_workbook_as_before(tmp_path: Path) -> None:
    """Its cells and what its formulas come to; one that it has saved itself is filled as well."""
    made, out = workbook(tmp_path / "books.xlsx"), tmp_path / "found.xlsx"
    for name in ("office", "first", "last"):
        (tmp_path / name).mkdir()
    path = in_an_office(made, tmp_path / "office", "xlsx")
    assert run(path, "--heading-row", "2", "--output", out).returncode == 2
    before, after = (
        list(csv.reader(io.StringIO(in_an_office(one, folder, "csv").read_text(encoding="utf-8"))))
        for one, folder in ((path, tmp_path / "first"), (out, tmp_path / "last"))
    )
    assert [row[:8] for row in after] == [row[:8] for row in before]
    assert before[2][7] == "420"
    assert [row[8] for row in after[1:]] == ["verdict", "fits", "fits", "at fault", "fits"]
