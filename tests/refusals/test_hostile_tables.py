"""Tables that are damaged, vast or laid as a trap: one line, or rows at fault; never a formula."""

from __future__ import annotations

import csv
import io
import json
import unicodedata
from pathlib import Path

import pytest

from tests.fuzz.judging import Outcome, faults, outcome

HEADING = b"title,width,height\n"
GOOD = b"Tides,45,210\n"


def batch(folder: Path, raw: bytes, *words: str, name: str = "books.csv") -> Outcome:
    """What a batch makes of a table."""
    path = folder / name
    path.write_bytes(raw)
    done = outcome(["batch", str(path), "--jobs", "1", *words])
    assert not faults(["batch"], done)
    assert path.read_bytes() == raw
    return done


# Each: a table that no row can be read from, and a part of the line that says so.
NO_TABLE = {
    "a column twice": (b"title,width,width\n" + GOOD, "a column twice, as number 2 and 3"),
    "twice by another spelling": (b"title,Width, WIDTH\nTides,45,45\n", "a column twice"),
    "a slip": (b"title,widht\nTides,45\n", "did you mean 'width'?"),
    "NUL in the heading": (b"title,wid\0th\nTides,45\n", "column 2: bytes that are no text"),
    "half of UTF-8 in the heading": ("title,Höhe,Länge\xe9\n".encode()[:-2], "say its --encoding"),
    "100,000 columns": (b"title" + b"".join(b",c%d" % n for n in range(99_999)), "100000 columns"),
    "a heading of 10 MB": (b"title," + b"x" * 10_000_000, "too long"),
    "a quote left open": (b'title,"width\n' + GOOD * 9, "the heading cannot be read"),
    "no title": (b"name,width\nTides,45\n", "books.csv"),
    "a picture": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + bytes(200), "books.csv"),
    "an archive": (b"PK\x03\x04" + bytes(range(256)), "books.csv"),
    "UTF-16 that says nothing": ("title,width\nTides,45\n".encode("utf-16-le"), "--encoding"),
    "nothing but NUL": (bytes(5000), "books.csv"),
}  # fmt: skip


@pytest.mark.parametrize("form", ["csv", "jsonl", "html", "text"])
@pytest.mark.parametrize("name", NO_TABLE)
def test_what_is_no_table_is_one_line(tmp_path: Path, name: str, form: str) -> None:
    raw, said = NO_TABLE[name]
    out = tmp_path / "OUT"
    done = batch(tmp_path, raw, "--format", form, "--output", str(out))
    assert (done.code, done.out) == (2, "")
    assert done.err.count("\n") == 1
    assert said in done.err
    assert len(done.err) < 800
    if form == "jsonl":
        (line,) = out.read_text("utf-8").splitlines()
        assert said in json.loads(line)["error"]["text"]
        out.unlink()
    assert [one.name for one in tmp_path.iterdir()] == ["books.csv"]


# Each: a row among sound ones, and a part of its fault.
BAD_ROWS = {
    "NUL": (b"Ti\0des,45,210\n", "column 'title': a NUL character"),
    "Latin-1": ("Île,45,210\n".encode("latin-1"), "column 'title': bytes that are no UTF-8"),
    "cp1252": (b"Tides \x96 Fog,45,210\n", "bytes that are no UTF-8"),
    "half of UTF-8": (b"Tides \xe2\x82,45,210\n", "bytes that are no UTF-8"),
    "an overlong form": (b"Tides \xc0\xaf,45,210\n", "bytes that are no UTF-8"),
    "a half character": (b"Tides \xed\xa0\x80,45,210\n", "bytes that are no UTF-8"),
    "10 MB in a cell": (b'"' + b"Tides " * 1_700_000 + b'",45,210\n', "in one row"),
    "10 MB of a number": (b"Tides," + b"9" * 10_000_000 + b",210\n", "in one row"),
    "100,000 cells": (b"Tides," + b"1," * 100_000 + b"\n", "100002 cells where the heading has 3"),
    "too few cells": (b"Tides,45\n", "column 'height': 2 cells where the heading has 3"),
    "a stray quote": (b'"Tides"x,45,210\n', "the row cannot be read"),
    "a bell": (b"Ti\x07des,45,210\n", "U+0007"),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD_ROWS)
def test_a_row_that_cannot_be_read_is_a_row_at_fault(tmp_path: Path, name: str) -> None:
    """Its line is named; those before and behind it are answered."""
    raw, said = BAD_ROWS[name]
    sound = "Îles d’été,45,210\n".encode()  # so that nobody takes it for another encoding
    done = batch(tmp_path, HEADING + sound + raw + sound, "--format", "jsonl")
    assert done.code == 2
    rows = [json.loads(line) for line in done.out.splitlines()]
    assert ["report" in row for row in rows] == [True, False, True]
    assert done.err.startswith(f"spinefit: {tmp_path / 'books.csv'}:3: ")
    assert said in done.err
    assert len(done.err) < 800


def test_a_mixture_of_encodings_costs_the_strange_rows_alone(tmp_path: Path) -> None:
    rows = ["Île,45,210\n".encode(name) for name in ("utf-8", "latin-1", "cp850", "utf-8")]
    done = batch(tmp_path, HEADING + b"".join(rows), "--format", "jsonl")
    assert ["report" in json.loads(line) for line in done.out.splitlines()] == [
        True, False, False, True,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (b'{"title": "Tides", "width": 45, "width": 20}', "a column twice"),
        (b'{"title": "Tides", "widht": 45}', "did you mean 'width'?"),
        (b'{"title": "Ti\xe9des", "width": 45}', "bytes that are no UTF-8"),
        (b'{"title": "Tides", "width": ' + b"9" * 2_000_000 + b"}", "in one row"),
        (b'{"title": "Tides", "width": 1e999}', "column 'width'"),
        (b'{"title": "Tides", "width": -Infinity}', "-Infinity is no number"),
        (b'{"title": {"a": [1]}, "width": 45}', "column 'title'"),
        (b'{"title": "Tides", "width": 45, "author": {"a": 1}}', "column 'author'"),
        (b'{"title": "Tides", "width": 45, "axes": {"wght": 400, "wght": 500}}', "a key twice"),
        (b'{"title": "Tides", "width": 45, "axes": {"wght": [4]}}', "column 'axes'"),
        (b'{"": "Tides"}', "a column without a name"),
        (b'"Tides"', "no JSON object"),
    ],
)
def test_a_line_of_json_that_cannot_be_read(tmp_path: Path, line: bytes, said: str) -> None:
    good = b'{"title": "Tides", "width": 45}\n'
    done = batch(tmp_path, good + line + b"\n" + good, "--format", "jsonl", name="books.jsonl")
    assert done.code == 2
    assert ["report" in json.loads(one) for one in done.out.splitlines()] == [True, False, True]
    assert done.err.startswith(f"spinefit: {tmp_path / 'books.jsonl'}:2: ")
    assert said in done.err


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"title,panel,panel\nTides,20x30,20x30\n", "a column twice"),
        (b"title,panel\nTides,20x30,9\n", "3 cells where the heading has 2"),
        (
            b"title,panel\n" + "Été,20x30\n".encode() + "Île,20x30\n".encode("latin-1"),
            "titles.csv:3: column 'title': bytes that are no UTF-8",
        ),
        (b"title,panel\nTi\0des,20x30\n", "titles.csv:2"),
        (b'title,panel\n"' + b"x" * 200_000 + b'",20x30\n', "titles.csv"),
        (b"title,panel\n" + b"x" * 2_000_000, "more than 1048576 characters in one row"),
        (b"title," + b",".join(b"c%d" % n for n in range(100_000)), "titles.csv:1"),
        (b'title,panel\n"Tides,20x30\n', "titles.csv:2"),
        (b"title,panel\n" + b"Tides,20x30\n" * 600, "more than 500 titles"),
        (bytes(5000), "titles.csv"),
    ],
)
def test_a_table_of_titles(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, raw: bytes, said: str
) -> None:
    """For a sheet of labels one bad row is a bad table: a label would be missing."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "titles.csv").write_bytes(raw)
    done = outcome(["sheet", "--titles", "titles.csv", "--output", "OUT.pdf"])
    assert (done.code, done.out) == (2, "")
    assert not faults(["sheet"], done, tmp_path)
    assert said in done.err
    assert len(done.err) < 800
    assert [one.name for one in tmp_path.iterdir()] == ["titles.csv"]


# What a spreadsheet takes for the beginning of a formula; the wide forms fold to the plain ones.
SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", "﹢", "﹣", "﹫", " =",
         "\u00a0=", "\u3000＝", "\ufeff=", "\u200b=", "\u2060+", "\u2066@")  # fmt: skip


def runs(cell: str) -> bool:
    """Whether a spreadsheet may take a cell for a formula, judged without the code's list."""
    seen = "".join(
        char
        for char in unicodedata.normalize("NFKC", cell)
        if unicodedata.category(char) not in ("Cf", "Zs")
    )
    try:
        float(seen)
    except ValueError:
        return seen[:1] in tuple("=+-@\t\r\n") and seen != ""
    return False


@pytest.mark.parametrize("sign", SIGNS)
def test_no_cell_of_the_results_runs(tmp_path: Path, sign: str) -> None:
    """Titles, carried cells and their headings, faults that repeat them; numbers stay numbers."""
    sink = io.StringIO()
    writer = csv.writer(sink)
    writer.writerow(["title", "width", "height", "note", f"{sign}cmd"])
    for title, width in ((f"{sign}1+1 Light", "45"), (f"{sign}HYPERLINK(1)", f"{sign}9"),
                         ("The Wreck Register", "5")):  # fmt: skip
        writer.writerow([title, width, "20", f"{sign}SUM(A1)", f"{sign}x|y"])
    done = batch(tmp_path, sink.getvalue().encode(), "--format", "csv", "--keep", "all")
    rows = list(csv.reader(io.StringIO(done.out, newline="")))
    assert len(rows) == 4
    assert any("SUM(A1)" in cell for cell in rows[1])
    assert not [cell for row in rows for cell in row if runs(cell)]


def test_our_own_results_read_again_letter_no_guard_of_ours(tmp_path: Path) -> None:
    """What a first run guarded from spreadsheets is the same title to a second."""
    table = b"title,width,height\n=1+1,20,200\n-Tide-,20,200\n'Tis the Tide,20,200\n"
    first = batch(tmp_path, table, "--format", "csv", "--keep", "all")
    again = batch(tmp_path, first.out.encode(), "--format", "jsonl")
    titles = [json.loads(line)["report"]["title"] for line in again.out.splitlines()]
    assert titles == ["=1+1", "-Tide-", "'Tis the Tide"]


def test_a_spare_below_nothing_stays_a_number(tmp_path: Path) -> None:
    done = batch(
        tmp_path, HEADING + b"The Wreck Register of the Coast,5,20\n", "--format", "csv",
        "--orientation", "transverse", "--size", "20",
    )  # fmt: skip
    (row,) = csv.DictReader(io.StringIO(done.out))
    assert float(row["spare_mm"]) < 0
    assert f",{row['spare_mm']}," in done.out


def test_settings_of_axes_may_be_an_object_in_json_as_in_a_job_file(tmp_path: Path) -> None:
    row = {"title": "Tides", "width": 45, "font": "IBM Plex Sans Var", "axes": {"wght": 650}}
    done = batch(tmp_path, json.dumps(row).encode(), "--format", "jsonl", name="books.jsonl")
    assert done.code == 0, done.err
