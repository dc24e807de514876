"""Files named in a file lie beside it, whoever asks and from wherever."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from spinefit.batch.reading import read_table
from spinefit.job.read import beside, read_job_file, read_job_tables

ROOT = Path(__file__).resolve().parents[2]
FONT = ROOT / "fonts_open" / "cinzel" / "Cinzel-Regular.ttf"
METHODS = '[our-labels]\nlike = "paper-label"\n'
TOOLS = 'name = "brass"\n[[size]]\nface = 3.2\nwidths = { T = 3, I = 1, D = 3, E = 2, S = 2 }\n'


@pytest.mark.parametrize(
    ("name", "said", "found"),
    [
        ("font", "hand.otf", "books/hand.otf"),
        ("font", " hand.WOFF2 ", "books/hand.WOFF2"),
        ("font", "fonts/hand", "books/fonts/hand"),
        ("font", "/fonts/hand.ttf", "/fonts/hand.ttf"),
        ("font", "EB Garamond", "EB Garamond"),
        ("fallback", "Cinzel; hand.otf", ["Cinzel", "books/hand.otf"]),
        ("fallback", ["hand.otf", "Cinzel"], ["books/hand.otf", "Cinzel"]),
        ("method-file", "own", "books/own"),
        ("tools", "../brass.toml", "books/../brass.toml"),
        ("tools", 7, 7),
        ("tools", " ", " "),
        ("market", "GB", "GB"),
    ],
)
@pytest.mark.skipif(os.name == "nt", reason="paths as Unix writes them")
def test_a_path_is_in_the_folder_and_a_name_stays_a_name(name, said, found) -> None:
    assert beside({name: said}, "books")[name] == found


@pytest.mark.skipif(os.name == "nt", reason="homes as Unix has them")
def test_a_home_is_no_folder_beside_the_file(monkeypatch) -> None:
    monkeypatch.setenv("HOME", "/homes/ana")
    assert beside({"font": "~/hand.otf"}, "books")["font"] == "/homes/ana/hand.otf"
    assert beside({"font": "~nobody-here/x.otf"}, "books")["font"] == "books/~nobody-here/x.otf"


def folder(tmp_path: Path) -> Path:
    """A folder of books with all that its tables and job files name."""
    books = tmp_path / "books"
    (books / "things").mkdir(parents=True)
    (books / "things" / "hand.ttf").write_bytes(FONT.read_bytes())
    (books / "things" / "own.toml").write_text(METHODS, encoding="utf-8")
    (books / "things" / "brass.toml").write_text(TOOLS, encoding="utf-8")
    return books


NAMED = {
    "font": "things/hand.ttf",
    "fallback": "things/hand.ttf",
    "method-file": "things/own.toml",
    "tools": "things/brass.toml",
}


def run(cwd: Path, *words: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "spinefit", *words], input=stdin, capture_output=True, cwd=cwd,
        check=False, encoding="utf-8", env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip


@pytest.mark.parametrize("name", NAMED)
def test_tables_and_job_files_name_what_lies_beside_them(tmp_path, name) -> None:
    """The same answer from the folder above, from a pipe within, and from a job file."""
    books = folder(tmp_path)
    head = "title,width,height,case"
    text = f"{head},{name}\nTIDES,25,200,capitals,{NAMED[name]}\n"
    (books / "books.csv").write_text(text, encoding="utf-8")
    (books / "book.toml").write_text(
        f'title = "TIDES"\nwidth = 25\nheight = 200\ncase = "capitals"\n{name} = "{NAMED[name]}"\n',
        encoding="utf-8",
    )
    above = run(tmp_path, "batch", "books/books.csv", "--format", "jsonl")
    piped = run(books, "batch", "-", "--format", "jsonl", stdin=text)
    job = run(tmp_path, "check", "--job", "books/book.toml", "--format", "json")
    told = [done.stderr.splitlines() for done in (above, piped, job)]
    assert [len(lines) for lines in told] == [1, 1, 0]  # the closing line of a batch
    assert all("no row at fault" in lines[0] for lines in told[:2])
    reports = [json.loads(done.stdout)["report"] for done in (above, piped)]
    reports.append(json.loads(job.stdout))
    assert reports[0]["layouts"] == reports[1]["layouts"]
    assert reports[0]["layouts"] == reports[2]["layouts"]
    astray = run(tmp_path, "batch", "-", "--format", "jsonl", stdin=text)
    assert astray.returncode == 2


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("font", "no such font file: '{}'; it was looked for in {}"),
        ("method-file", "no such method file: '{}'; it was looked for in {}"),
        ("tools", "no such tools file: '{}'; it was looked for in {}"),
    ],
)
def test_what_is_not_there_is_named_with_the_folder_it_was_looked_for_in(
    tmp_path, name, said
) -> None:
    books = folder(tmp_path)
    (books / "books.csv").write_text(f"title,width,{name}\nTIDES,25,none.ttf\n", encoding="utf-8")
    done = run(tmp_path, "batch", "books/books.csv")
    wanted = said.format(os.path.join("books", "none.ttf"), books)
    assert f"books.csv:2: column '{name}': {wanted}" in done.stderr
    (books / "book.toml").write_text(
        f'title = "TIDES"\nwidth = 25\n{name} = "none.ttf"\n', encoding="utf-8"
    )
    done = run(tmp_path, "check", "--job", "books/book.toml")
    assert f"book.toml: {name}: {wanted}" in done.stderr
    assert done.stderr.count("\n") == 1


def test_a_sheet_of_labels_looks_beside_its_table_too(tmp_path) -> None:
    books = folder(tmp_path)
    text = f"title,panel,font\nTIDES,40x20,{NAMED['font']}\n"
    (books / "books.csv").write_text(text, encoding="utf-8")
    words = ("sheet", "--titles", "books/books.csv", "--output", "a.pdf", "--format", "json")
    done = run(tmp_path, *words)
    assert done.stderr == ""
    assert json.loads(done.stdout)["settings"]


def test_rows_of_json_are_read_by_the_same_rule() -> None:
    raw = b'{"title": "Tides", "fallback": ["Cinzel", "hand.otf"], "tools": "brass.toml"}\n'
    stream = io.BufferedReader(io.BytesIO(raw))
    (row,) = read_table(stream, "books.jsonl", folder="books").rows
    assert row.cells["fallback"] == ["Cinzel", os.path.join("books", "hand.otf")]
    assert row.cells["tools"] == os.path.join("books", "brass.toml")


def test_fallback_fonts_of_a_job_file_lie_beside_it(tmp_path) -> None:
    """Of a job and of each volume; what is no file is handed on for its reader to refuse."""
    job = tmp_path / "job.toml"
    line = 'fallback = ["Cinzel", "hand.otf"]\n'
    job.write_text(f'title = "Tides"\n{line}', encoding="utf-8")
    wanted = ["Cinzel", str(tmp_path / "hand.otf")]
    assert read_job_file(job)[1]["fallback"] == wanted
    job.write_text(f'[[volume]]\ntitle = "Tides"\n{line}', encoding="utf-8")
    assert read_job_tables(job).volumes[0]["fallback"] == wanted
    job.write_text('title = "Tides"\ntools = 7\n[[text]]\nfont = ""\n', encoding="utf-8")
    assert read_job_tables(job).values["tools"] == 7
    assert read_job_tables(job).texts[0]["font"] == ""
