"""Totals and remarks below the last book are no books; a book without a title is none of them."""

from __future__ import annotations

import io
from typing import Any

import pytest
from openpyxl import Workbook

from spinefit.batch.model import TableOptions
from spinefit.batch.reading import Table, read_table

BOOKS = "Nr;Titel;Verfasser;Breite;Höhe;Preis\n1;Ebbe;;9,5;210;12\n2;Flut;E. Quay;12;200;9,90\n"


def read(raw: bytes) -> tuple[list[int], list[int], Table]:
    """The lines of the rows that were read, of those among them without a title, and the table."""
    table = read_table(io.BufferedReader(io.BytesIO(raw)), "books", TableOptions(keep=("all",)))
    rows = list(table.rows)
    return [row.line for row in rows], [row.line for row in rows if not row.title], table


@pytest.mark.parametrize(
    "foot",
    [
        ";;;21,5;410;21,90", ";;;21,5;;", "Summe;;;21,5;410;", "Gesamt:;;;;;21,90", "Summe",
        ";Summe;;21,5;410;", ";;;;;Stand vom März 1931", "TOTAL;;;999;;",
        "gebunden von der Stadt;;;;;",
    ],
)  # fmt: skip
def test_what_stands_below_the_last_book_is_passed_over_and_said(foot: str) -> None:
    for below in (foot, f"\n{foot}", f"{foot}\n\n{foot}"):
        lines, bare, table = read(f"{BOOKS}{below}\n".encode())
        assert (lines, bare) == ([2, 3], [])
        assert table.foot.lines and "passed over as total or remark" in str(table.foot.note)


@pytest.mark.parametrize(
    "book",
    [
        "3;;;12;210;", "3;;E. Tellett;21,5;410;", ";;;9,5;210;", "W 3;;;;;", "3;;;;;9,90",
        ";;Fog;;;", ";;;21,5;411;", "3;;;;",
    ],
)  # fmt: skip
def test_a_book_whose_title_was_forgotten_is_at_fault(book: str) -> None:
    lines, bare, table = read(f"{BOOKS}{book}\n".encode())
    assert (lines, bare, table.foot.note) == ([2, 3, 4], [4], None)


def test_a_total_between_books_is_no_end() -> None:
    lines, bare, _ = read(f"{BOOKS}Summe;;;21,5;410;\n3;Fog;;9;210;\n".encode())
    assert (lines, bare) == ([2, 3, 4, 5], [4])


def test_a_book_of_that_name_is_a_book() -> None:
    lines, _, _ = read(f"{BOOKS}3;Total;;12;210;\n".encode())
    assert lines == [2, 3, 4]


def test_a_formula_that_adds_up_needs_no_stored_value() -> None:
    book = Workbook()
    sheet: Any = book.active
    for row in (("title", "width", "height"), ("Fog", 9, 210), ("Quay", 12, 210),
                (None, "=SUM(B2:B3)", None), ("Total", "=SUBTOTAL(9,B2:B3)", None)):  # fmt: skip
        sheet.append(row)
    stream = io.BytesIO()
    book.save(stream)
    lines, _, table = read(stream.getvalue())
    assert (lines, table.foot.lines) == ([2, 3], [4, 5])


def test_more_rows_without_titles_than_any_foot_has_are_faults() -> None:
    """And none of them is held for long."""
    lines, bare, _ = read((BOOKS + "Summe;;;;;\n" * 50).encode())
    assert len(bare) >= 40 and lines[-1] <= 52
