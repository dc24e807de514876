"""One book has one answer, by whichever door it is asked for.

The command line is the measure: what it says of a title, the title alone in a job file, as the
only text of a back, as both volumes of a set, as a row of a table and in Python must say too.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

from spinefit import check_row
from tests.agreement.books import BOOKS, SETS, Book, Volumes
from tests.agreement.doors import (
    OF_A_TEXT,
    ONE_BOOK,
    SET_DOORS,
    Answered,
    Rows,
    asked_rows,
    differences,
    flat_seen,
    of_rows,
    seen,
)

NAMES = [book.name for book in BOOKS]
IN_A_TABLE = BOOKS[::3]  # as sets, which are planned as those of a job file are
WITH_ITS_OWN = [book for book in BOOKS if OF_A_TEXT.keys() & book.said.keys()]
each_book = pytest.mark.parametrize("book", BOOKS, ids=NAMES)
each_set = pytest.mark.parametrize("volumes", SETS, ids=[one.name for one in SETS])


@cache
def typed(name: str) -> Answered:
    """What the command line answers of a book."""
    return ONE_BOOK["command line"](BOOKS[NAMES.index(name)], Path())


def agrees(answered: Answered, book: Book) -> None:
    """Every report says what the command line says, and the whole says no other verdict."""
    wanted = typed(book.name)
    found = [differences(seen(one), seen(wanted.reports[0])) for one in answered.reports]
    assert not any(found), "\n".join(line for lines in found for line in lines)
    assert answered.verdict == wanted.verdict
    assert answered.code in (wanted.code, None)
    if answered.common:
        assert answered.common["set_pt"] == seen(wanted.reports[0])["set_pt"]
        assert answered.common["lines"] == len(seen(wanted.reports[0])["lines"])


@each_book
def test_the_exit_code_says_the_verdict(book: Book) -> None:
    answered = typed(book.name)
    assert answered.code == (1 if answered.verdict == "does not fit" else 0)


def test_the_books_are_of_every_kind() -> None:
    """Each verdict, each orientation and each way of reading is among the answers."""
    answers = [seen(typed(name).reports[0]) for name in NAMES]
    assert {one["verdict"] for one in answers} == {"fits", "tight", "does not fit"}
    assert {one["orientation"] for one in answers} == {"transverse", "longitudinal", "pillar"}
    assert {one["reading"] for one in answers} >= {"across", "descending", "ascending", "stacked"}
    assert {one["limited_by"] for one in answers} >= {"width", "height", "shape"}
    assert {len(one["lines"]) for one in answers} >= {1, 2, 3, 4}


@pytest.mark.parametrize("door", ["title in a file", "one text", "check"])
@each_book
def test_one_book_at_every_door(book: Book, door: str, tmp_path: Path) -> None:
    agrees(ONE_BOOK[door](book, tmp_path), book)


@pytest.mark.parametrize("book", WITH_ITS_OWN, ids=[book.name for book in WITH_ITS_OWN])
def test_fields_beside_the_text_say_what_they_say_above_it(book: Book, tmp_path: Path) -> None:
    agrees(ONE_BOOK["one text with its own fields"](book, tmp_path), book)


@each_book
def test_one_book_as_a_plan_in_python(book: Book, tmp_path: Path) -> None:
    agrees(ONE_BOOK["plan_back"](book, tmp_path), book)


@pytest.mark.parametrize("door", ["a set of it twice", "a set of its text twice"])
@each_book
def test_a_set_of_one_book_twice_letters_it_as_alone(book: Book, door: str, tmp_path: Path) -> None:
    agrees(ONE_BOOK[door](book, tmp_path), book)


@pytest.fixture(scope="module", params=["books.csv", "books.xlsx"])
def rows(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Rows:
    """All books as rows of one table, or of a sheet of a workbook."""
    path = tmp_path_factory.mktemp("rows") / request.param
    return asked_rows([(book.name, book.title, book.said) for book in BOOKS], path)


@each_book
def test_a_row_of_a_table(book: Book, rows: Rows) -> None:
    agrees(of_rows(rows, book.name), book)


@each_book
def test_a_row_in_python(book: Book) -> None:
    """Its columns, the sentence among them."""
    row = check_row({"title": book.title, **book.said}, slash_breaks=True)
    assert row.pop("error") == ""
    assert row.pop("title") == book.title
    row.pop("mind")  # of the words alone; the findings of both are compared elsewhere
    row.pop("warnings")
    judged = {name: row.pop(name) for name in ("width_mm", "height_mm")}
    assert all(value is None or value > 0 for value in judged.values())
    wanted = flat_seen(typed(book.name).reports[0])
    assert not differences(row, wanted)


@pytest.fixture(scope="module")
def set_rows(tmp_path_factory: pytest.TempPathFactory) -> Rows:
    """Books as sets of one twice, and every set of different volumes, in one table."""
    path = tmp_path_factory.mktemp("sets") / "books.csv"
    twice = [
        (book.name, book.title, {**book.said, "set": book.name, "label": label})
        for book in IN_A_TABLE
        for label in "12"
    ]
    differing = [
        (
            f"set: {one.name}",
            title,
            {**one.said, **own, "set": f"set: {one.name}", "label": str(at)},
        )
        for one in SETS
        for at, (title, own) in enumerate(one.volumes, 1)
    ]
    return asked_rows([*twice, *differing], path)


@pytest.mark.parametrize("book", IN_A_TABLE, ids=[book.name for book in IN_A_TABLE])
def test_rows_of_a_set_of_one_book_twice(book: Book, set_rows: Rows) -> None:
    agrees(of_rows(set_rows, book.name), book)


def test_the_table_says_the_worst(rows: Rows) -> None:
    """No row is at fault, and one does not fit."""
    assert rows.faults == {}
    assert rows.code == 1


@cache
def titles_of(name: str) -> Answered:
    """What a job file of volumes with a title each answers."""
    one = next(one for one in SETS if one.name == name)
    with TemporaryDirectory() as folder:
        return SET_DOORS["titles"](one, Path(folder))


def alike(answered: Answered, volumes: Volumes) -> None:
    """Every volume is lettered as in the set of titles."""
    wanted = titles_of(volumes.name)
    assert len(answered.reports) == len(wanted.reports)
    for mine, theirs in zip(answered.reports, wanted.reports, strict=True):
        found = differences(seen(mine), seen(theirs))
        assert not found, "\n".join(found)
    assert answered.verdict == wanted.verdict
    if answered.common:
        assert answered.common == wanted.common


@pytest.mark.parametrize("door", ["texts", "plan_set"])
@each_set
def test_one_set_at_every_door(volumes: Volumes, door: str, tmp_path: Path) -> None:
    alike(SET_DOORS[door](volumes, tmp_path), volumes)


@each_set
def test_rows_of_a_set(volumes: Volumes, set_rows: Rows) -> None:
    alike(of_rows(set_rows, f"set: {volumes.name}"), volumes)


@each_set
def test_volumes_of_a_set_that_fits_stand_alike(volumes: Volumes, tmp_path: Path) -> None:
    """One size, lines, direction and height over the shelf, where none may be set apart."""
    together = volumes._replace(said={**volumes.said, "apart": False})
    answered = SET_DOORS["titles"](together, tmp_path)
    assert answered.code == (1 if answered.verdict == "does not fit" else 0)
    if answered.verdict == "does not fit":
        return
    figures = [seen(one) for one in answered.reports]
    for name in ("set_pt", "orientation", "reading", "turn"):
        assert len({one[name] for one in figures}) == 1
    assert len({len(one["lines"]) for one in figures}) == 1
    heights = [float(own["height"].removesuffix("mm")) for _title, own in volumes.volumes]
    begins = [
        height - one["first_from_head_mm"] - _upwards_mm(one)
        for one, height in zip(figures, heights, strict=True)
    ]
    assert begins == pytest.approx([begins[0]] * len(begins), abs=0.001)


def _upwards_mm(figures: Mapping[str, Any]) -> float:
    """How far lettering that ends at the head reaches down from there."""
    return float(figures["ink_width_mm"]) if figures["reading"] == "ascending" else 0.0
