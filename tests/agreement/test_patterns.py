"""A pattern is the same, and is matched alike, by whichever door the title comes."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.agreement.books import BOOKS, Book
from tests.agreement.doors import (
    asked_of,
    asked_rows,
    differences,
    flat_seen,
    job_of_one_text,
    job_of_two_volumes,
    of_rows,
    options,
    seen,
)

NAMES = ("plain", "plain and short", "forced lines", "bands", "rise", "accents", "lines and size")
MATCHED = [book for book in BOOKS if book.name in NAMES]
each_book = pytest.mark.parametrize("book", MATCHED, ids=lambda book: book.name)
OTHERS: dict[str, list[str]] = {
    "alike": [],
    "wider": ["--width", "38mm"],
    "another font": ["--font", "EB Garamond Bold"],
    "lower": ["--height", "150mm"],
}


def saved(words: list[str], folder: Path) -> dict[str, Any]:
    """The pattern that a command saves."""
    path = folder / "pattern.toml"
    done = CliRunner().invoke(main, [*words, "--save-pattern", str(path), "--force"])
    assert (done.exit_code, done.stderr) == (0, "")
    return tomllib.loads(path.read_text(encoding="utf-8"))


def asked_in(folder: Path, text: str) -> list[str]:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return ["check", "--job", str(path)]


def typed(book: Book) -> list[str]:
    return ["check", book.title, *options(book.said)]


@pytest.mark.parametrize(
    "job_of", [job_of_one_text, job_of_two_volumes], ids=["one text", "a set of it twice"]
)
@each_book
def test_a_saved_pattern_is_that_of_the_title_alone(
    book: Book, job_of: Callable[[Book], str], tmp_path: Path
) -> None:
    wanted = saved(typed(book), tmp_path)
    found = saved(asked_in(tmp_path, job_of(book)), tmp_path)
    assert not differences(plain(found), plain(wanted))


def plain(pattern: dict[str, Any]) -> dict[str, Any]:
    """Every figure under a name of its own."""
    lists = {name: value for name, value in pattern.items() if isinstance(value, list)}
    single = {name: value for name, value in pattern.items() if name not in lists}
    return single | {
        f"{name} {at}": one for name, value in lists.items() for at, one in enumerate(value, 1)
    }


@pytest.mark.parametrize("more", OTHERS.values(), ids=list(OTHERS))
@each_book
def test_a_text_is_matched_as_the_title_alone(book: Book, more: list[str], tmp_path: Path) -> None:
    pattern = tmp_path / "shelf.toml"
    assert saved(typed(book), tmp_path)
    (tmp_path / "pattern.toml").rename(pattern)
    match = [*more, "--match", str(pattern)]
    wanted = asked_of([*typed(book), *match])
    found = asked_of([*asked_in(tmp_path, job_of_one_text(book)), *match])
    assert not differences(seen(found.reports[0]), seen(wanted.reports[0]))
    assert (found.verdict, found.code) == (wanted.verdict, wanted.code)


def test_a_row_of_a_serial_is_matched_as_the_title_alone(tmp_path: Path) -> None:
    """By the pattern of its serial's name, whatever its case and punctuation; in every column."""
    folder = tmp_path / "shelf"
    folder.mkdir()
    rows, wanted = [], {}
    for book in MATCHED:
        assert saved(typed(book), tmp_path)
        pattern = (tmp_path / "pattern.toml").rename(folder / f"{book.name.replace(' ', '_')}.toml")
        for name, more in OTHERS.items():
            said = {**book.said, **dict(zip(more[::2], more[1::2], strict=True))}
            fields = {key.removeprefix("--"): value for key, value in said.items()}
            serial = f"{book.name.upper()}."
            rows.append((f"{book.name}, {name}", book.title, {**fields, "serial": serial}))
            wanted[rows[-1][0]] = asked_of([*typed(book), *more, "--match", str(pattern)])
    path = tmp_path / "books.csv"
    found = asked_rows(rows, path, "--patterns", str(folder))
    assert not found.faults
    for name, alone in wanted.items():
        row = of_rows(found, name)
        assert not differences(seen(row.reports[0]), seen(alone.reports[0])), name
        assert row.verdict == alone.verdict
    assert {one.verdict for one in wanted.values()} >= {"fits", "does not fit"}
    words = ["batch", str(path), "--format", "csv", "--slash-breaks", "--patterns", str(folder)]
    flat = list(csv.DictReader(io.StringIO(CliRunner().invoke(main, words).stdout)))
    for row, alone in zip(flat, wanted.values(), strict=True):
        for column, value in flat_seen(alone.reports[0]).items():
            assert row[column] == ("" if value is None else f"{value}"), (row["id"], column)
