"""Random tables come back as they were written, in any form and encoding.

The csv module and openpyxl are the writers.
"""

from __future__ import annotations

import csv
import io
import unicodedata

from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from spinefit.batch.model import TableOptions
from spinefit.batch.reading import Table, read_table

_NAMES = ["title", "width", "author", "Cloth", "call-number"]
_MARKED = ("utf-8", "utf-8-sig", "utf-16", "utf-32")  # known by their bytes; others are said
_ENCODINGS = (*_MARKED, "utf-16-be", "cp1252", "mac-roman", "iso8859-7", "koi8-r", "shift_jis")
_NO_WORDS = ("Cc", "Cs", "Cn", "Zl", "Zp")  # what parts words in a text of the back, and no text


def _alphabet(encoding: str) -> str:
    """The characters below U+3100 that come back from an encoding."""
    kept = "".join(
        chr(code)
        for code in range(0x20, 0x3100)
        if unicodedata.category(chr(code)) not in _NO_WORDS
    )
    return "".join(dict.fromkeys(kept.encode(encoding, "ignore").decode(encoding)))


_ALPHABETS = {one: _alphabet(one) for one in _ENCODINGS}


@st.composite
def _tables(draw: st.DrawFn) -> tuple[str, list[list[str]]]:
    encoding = draw(st.sampled_from(_ENCODINGS))
    words = st.text(st.sampled_from("aB7 ,;|'=\"-" + _ALPHABETS[encoding]), max_size=12)
    figures = st.decimals(1, 400, places=2).map(str)
    row = st.tuples(words.filter(str.strip), figures, *[words] * 3).map(list)
    return encoding, draw(st.lists(row, min_size=1, max_size=6))


def _read(raw: bytes, name: str, **options: str) -> Table:
    stream = io.BufferedReader(io.BytesIO(raw))
    return read_table(stream, name, TableOptions(keep=("all",), **options))


def _same(table: Table, rows: list[list[str]]) -> None:
    for row, cells in zip(table.rows, rows, strict=True):
        assert row.fault is None
        assert row.kept == tuple(cells)
        said = dict(zip(_NAMES, cells, strict=False))
        del said["Cloth"]
        assert {name: str(cell) for name, cell in row.cells.items()} == {
            name: cell for name, cell in said.items() if cell.strip()
        }


@settings(deadline=None, max_examples=60)
@given(
    _tables(),
    st.sampled_from(",;\t|"),
    st.sampled_from(["\n", "\r\n"]),
    st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL, csv.QUOTE_NONNUMERIC]),
)
def test_a_csv_comes_back_as_it_was_written(drawn, delimiter, end, quoting) -> None:
    encoding, rows = drawn
    sink = io.StringIO()
    writer = csv.writer(sink, delimiter=delimiter, lineterminator=end, quoting=quoting)
    writer.writerows([_NAMES, *rows])
    options = {} if encoding in _MARKED else {"encoding": encoding}
    table = _read(sink.getvalue().encode(encoding), "books.csv", **options)
    assert (table.style.delimiter, table.style.newline) == (delimiter, end)
    assert table.style.heading == tuple(_NAMES)
    _same(table, rows)


@settings(deadline=None, max_examples=60)
@given(_tables())
def test_a_workbook_comes_back_as_it_was_written(drawn) -> None:
    """Figures are numbers in it, texts never formulas."""
    _, rows = drawn
    book = Workbook()
    assert book.active is not None
    for line, row in enumerate([_NAMES, *rows], 1):
        for column, text in enumerate(row, 1):
            cell = book.active.cell(line, column, text)
            cell.data_type = "s"
            if column == 2 and line > 1:
                cell.value, cell.number_format = float(text), "General"
    sink = io.BytesIO()
    book.save(sink)
    table = _read(sink.getvalue(), "books.xlsx")
    assert table.style.heading == tuple(_NAMES)
    figured = [[row[0], f"{float(row[1]):g}", *row[2:]] for row in rows]
    _same(table, [[cell if cell.strip() else "" for cell in row] for row in figured])
