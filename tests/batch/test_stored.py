"""What the check read of a formula, it can read again from the workbook that it wrote."""

from __future__ import annotations

import io
import re
import zipfile
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from spinefit.batch import held
from spinefit.batch.beside import Book
from spinefit.batch.books import answer_book
from spinefit.batch.model import Settings, TableOptions
from spinefit.batch.reading import Table, read_table
from spinefit.batch.stored import with_values

STORED = {"D2": "9.5", "A3": "Tide &amp; Fog", "D3": "24", "D4": "1.5", "F2": "17"}


def source() -> bytes:
    """A list in which titles, widths and a price are worked out, as a spreadsheet stores it."""
    book = Workbook()
    sheet: Any = book.active
    for row in (
        ("title", "author", "note", "width", "height", "price"),
        ("Fog", None, None, "=8.5+1", 210, "=2*D2"),
        ('="Tide & "&A2', None, None, "=B9*2", 210, None),
        ("Lamps", None, None, "=1+0.5", 210, None),
    ):
        sheet.append(row)
    made, found = io.BytesIO(), io.BytesIO()
    book.save(made)
    with zipfile.ZipFile(made) as old, zipfile.ZipFile(found, "w") as new:
        for name in old.namelist():
            text = old.read(name).decode()
            if name == "xl/worksheets/sheet1.xml":
                for cell, value in STORED.items():
                    kind = "" if value[0].isdigit() else ' t="str"'
                    text, count = re.subn(
                        rf'(r="{cell}"[^>]*)(><f>[^<]*</f>)<v ?/>', rf"\1{kind}\2<v>{value}</v>",
                        text,
                    )  # fmt: skip
                    assert count == 1
            new.writestr(name, text)
    return found.getvalue()


def table_of(raw: bytes) -> Table:
    stream = io.BufferedReader(io.BytesIO(raw))
    return read_table(stream, "books.xlsx", TableOptions(keep=("all",)))


def rows_of(raw: bytes) -> list[tuple[dict[str, object], bool]]:
    return [(dict(row.cells), row.fault is None) for row in table_of(raw).rows]


def written(raw: bytes, *sort: str) -> tuple[Book, bytes]:
    found = table_of(raw)
    settings = Settings(form="xlsx", kept=found.kept, titled=True, style=found.style, sort=sort)
    rows = held.lines((answer_book(row, settings) for row in found.rows), held.cells_of, settings)
    book = Book(settings, io.BytesIO(raw), found.meanings)
    return book, book.filled(held.in_order(io.BytesIO(rows.encode()), sort))


def sheet_of(raw: bytes, *, values: bool) -> Any:
    return load_workbook(io.BytesIO(raw), data_only=values).worksheets[0]


def test_a_second_run_reads_what_the_first_one_read() -> None:
    first = rows_of(source())
    assert [cells["width"] for cells, _ in first] == [9.5, 24, 1.5] and all(ok for _, ok in first)
    book, again = written(source())
    assert rows_of(again) == first
    sheet = sheet_of(again, values=False)
    assert (sheet["D3"].value, sheet["A3"].value) == ("=B9*2", '="Tide & "&A2')
    # What says nothing to the check may hang on the answers: no value of it is kept.
    assert sheet_of(again, values=True)["F2"].value is None
    assert book.lost == ["stored values of formulas that are not read here, until a spreadsheet "
                         "opens it"]  # fmt: skip


def test_rows_that_moved_are_worked_out_by_a_spreadsheet_first() -> None:
    """And both the notice and the fault say so."""
    book, again = written(source(), "-set_pt")
    assert "open and save it once in a spreadsheet" in book.lost[0]
    faults = [row.fault.text for row in table_of(again).rows if row.fault]
    assert len(faults) == 3
    assert all("open and save the workbook once in a spreadsheet" in one for one in faults)


@pytest.mark.parametrize("value", [True, "a<b", 3])
def test_a_value_of_any_kind_is_stored(value: object) -> None:
    book, made = Workbook(), io.BytesIO()
    sheet: Any = book.active
    sheet["B2"] = "=1"
    book.save(made)
    stored = with_values(made, "xl/worksheets/sheet1.xml", {"B2": value})
    found = sheet_of(stored, values=True)["B2"].value
    assert found == value and type(found) is type(value)
