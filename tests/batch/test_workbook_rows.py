"""How a workbook is read: what openpyxl and others write comes back as it is displayed.

openpyxl's writer is the second hand; what it cannot write is put into the parts of its files.
"""

from __future__ import annotations

import io
import re
import tracemalloc
import zipfile
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime, time
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.chart import BarChart
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.table import Table as ListObject

from spinefit.batch.books import answer_book
from spinefit.batch.displayed import beside_figures, shown
from spinefit.batch.model import Row, Settings, TableOptions, TableStyle
from spinefit.batch.reading import Table, read_table
from spinefit.errors import FieldError

HEADING = ("title", "width", "height")


def raw(book: Workbook) -> bytes:
    sink = io.BytesIO()
    book.save(sink)
    return sink.getvalue()


def workbook(*rows: Sequence[Any], name: str = "Year") -> Workbook:
    book = Workbook()
    assert book.active is not None
    book.active.title = name
    for row in rows:
        book.active.append(row)
    return book


def read(book: Workbook | bytes, name: str = "books.xlsx", **options: Any) -> Table:
    data = book if isinstance(book, bytes) else raw(book)
    return read_table(io.BufferedReader(io.BytesIO(data)), name, TableOptions(**options))


def rows(book: Workbook | bytes, **options: Any) -> list[Row]:
    return list(read(book, **options).rows)


def changed(book: Workbook | bytes, change: Mapping[str, Callable[[bytes], bytes]]) -> bytes:
    """The workbook with some of its parts changed."""
    sink = io.BytesIO()
    source = zipfile.ZipFile(io.BytesIO(book if isinstance(book, bytes) else raw(book)))
    with zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED) as target:
        for part in source.namelist():
            target.writestr(part, change.get(part, lambda data: data)(source.read(part)))
    return sink.getvalue()


SHEET = "xl/worksheets/sheet1.xml"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_PARTS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"


def by_hand(cells: str, *texts: str) -> bytes:
    """A workbook as other programs write it, with its texts in a part of their own."""
    strings = "".join(f"<si><t>{text}</t></si>" for text in texts)
    parts = {
        "[Content_Types].xml": (
            '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
            '<Default Extension="xml" ContentType="application/xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{_TYPES}.sheet.main+xml"/>'
            f'<Override PartName="/{SHEET}" ContentType="{_TYPES}.worksheet+xml"/>'
            f'<Override PartName="/xl/strings.xml" ContentType="{_TYPES}.sharedStrings+xml"/>'
            "</Types>"
        ),
        "xl/workbook.xml": (
            f'<workbook xmlns="{_MAIN}" xmlns:r="{_PARTS}"><sheets>'
            '<sheet name="Year" sheetId="1" r:id="rId1"/></sheets></workbook>'
        ),
        "xl/_rels/workbook.xml.rels": (
            '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
            f'<Relationship Id="rId1" Type="{_PARTS}/worksheet" Target="/{SHEET}"/>'
            "</Relationships>"
        ),
        "xl/strings.xml": f'<sst xmlns="{_MAIN}">{strings}</sst>',
        SHEET: f'<worksheet xmlns="{_MAIN}"><sheetData>{cells}</sheetData></worksheet>',
    }
    sink = io.BytesIO()
    with zipfile.ZipFile(sink, "w") as archive:
        for part, text in parts.items():
            archive.writestr(part, text)
    return sink.getvalue()


def test_texts_in_a_part_of_their_own_and_rows_without_numbers() -> None:
    """As other programs write them; without a part of styles too."""
    cells = (
        '<row><c t="s"><v>0</v></c><c t="s"><v>1</v></c></row>'
        '<row><c t="s"><v>2</v></c><c><v>9.5</v></c></row>'
    )
    (row,) = rows(by_hand(cells, "title", "width", "Tides &amp; Fog"))
    assert (row.line, dict(row.cells)) == (2, {"title": "Tides & Fog", "width": 9.5})


def test_rows_are_read_with_the_numbers_of_their_rows() -> None:
    """Blank rows are passed over; measures stay numbers, in all their digits."""
    book = workbook(
        (), HEADING, ("Tides", 9.123456789, 210), (), (None, " "), ("Quay", "9mm", "21cm")
    )
    table = read(book, heading_row=None)
    assert [(row.line, dict(row.cells)) for row in table.rows] == [
        (3, {"title": "Tides", "width": 9.123456789, "height": 210}),
        (6, {"title": "Quay", "width": "9mm", "height": "21cm"}),
    ]
    assert table.style == TableStyle(kind="xlsx", sheet="Year", heading_row=2, heading=HEADING)
    assert (table.meanings, table.notes) == (HEADING, ())


def test_every_column_is_kept_as_displayed() -> None:
    book = workbook(("Title", "Price", "Bought", "width"), ("Tides", 9.5, date(2024, 5, 3), 12))
    sheet = book["Year"]
    sheet["B2"].number_format, sheet["C2"].number_format = "0.00", "d.m.yyyy"
    table = read(book, keep=("all",))
    assert (table.kept, next(table.rows).kept) == (
        ("Title", "Price", "Bought", "width"),
        ("Tides", "9.50", "3.5.2024", "12"),
    )


def cell(value: object, form: str = "General", *, column: str = "title") -> Row:
    """A row of a book with one cell of that format."""
    names = dict.fromkeys(("title", "width", column))
    book = workbook([*names], ["Tides" if name == "title" else 12 for name in names])
    at = book["Year"].cell(2, [*names].index(column) + 1)
    at.value, at.number_format = value, form
    (row,) = rows(book)
    return row


@pytest.mark.parametrize(
    ("value", "form", "displayed"),
    [
        (823.9, "0.00", "823.90"),
        (7, "000", "007"),
        (20.5, "000.0", "020.5"),
        (1984, "General", "1984"),
        (1984, "@", "1984"),
        (2.5, "General", "2.5"),
        (0.1 + 0.2, "General", "0.3"),
        (9783161484100, "General", "9783161484100"),
        (1234567.891, "#,##0.00", "1,234,567.89"),
        (2.675, "0.00", "2.68"),
        (2.5, "0", "3"),
        (-3, "0;(0)", "(3)"),
        (-3, "0.0", "-3.0"),
        (0, '0;-0;"none"', "none"),
        (0.25, "0%", "25%"),
        (0.256, "0.0%", "25.6%"),
        (9.5, '#,##0.00\\ "€"', "9.50 €"),
        (9.5, "[$€-407] #,##0.00", "€ 9.50"),
        (3, '"Vol. "0', "Vol. 3"),
        (3, "[Red]0", "3"),
        (0.5, "#.0#", ".5"),
        (-3, "0;;", ""),
        (7, "0,000", "0,007"),
        (1234567, "#,###", "1,234,567"),
        (True, "General", "TRUE"),
        (date(1987, 4, 3), "yyyy", "1987"),
        (date(1987, 4, 3), "d.m.yyyy", "3.4.1987"),
        (date(1987, 4, 3), "dd/mm/yy;@", "03/04/87"),
        (datetime(1987, 4, 3, 0, 0), "yyyy-mm-dd", "1987-04-03"),
        ("  Fog ", "General", "  Fog "),
        ("007", "General", "007"),
    ],
)
def test_words_are_what_is_displayed(value: object, form: str, displayed: str) -> None:
    row = cell(value, form)
    assert (row.cells.get("title", ""), row.fault) == (displayed, None)


@pytest.mark.parametrize(
    ("value", "form"),
    [
        (0.25, "# ?/?"),
        (1e5, "0.00E+00"),
        (12, "00-00"),
        (1234567, "0.0,,"),
        (12, "[<10]0;00"),
        (12, "0x"),
        (1e16, "0"),
        (date(1987, 4, 3), "mmm-yy"),
        (date(1987, 4, 3), "mm-dd-yy"),
        (time(9, 30), "h:mm"),
        (datetime(1987, 4, 3, 9, 30), "d.m.yyyy h:mm"),
    ],
)
def test_what_may_look_otherwise_elsewhere_is_refused_by_its_cell(value: object, form: str) -> None:
    """Only where it is to be lettered; in a column carried along it is what comes nearest."""
    row = cell(value, form)
    assert row.fault is not None
    assert row.fault.column == "title"
    assert row.fault.text.startswith("sheet 'Year', cell A2: a format that may look otherwise")
    assert f"'{form}'; format the cell as text" in row.fault.text
    carried = cell(value, form, column="note")
    assert carried.fault is None and carried.kept[0]


@pytest.mark.parametrize(
    ("value", "form", "read"),
    [
        (9, "General", 9),
        (9.123456789, "0.0", 9.123456789),
        (9.375, "# ?/?", 9.375),
        (0.9, '0.0" cm"', "0.9cm"),
        (0.9, "0.0\\ \\c\\m", "0.9cm"),
        (9, "#,##0.00 ", 9),
        ("9mm", "General", "9mm"),
        ("9,5", "@", "9,5"),
    ],
)
def test_measures_are_numbers_in_the_unit_that_is_displayed(value, form, read) -> None:
    row = cell(value, form, column="width")
    assert (row.cells["width"], row.fault) == (read, None)


def test_a_measure_that_became_a_date_or_a_share_is_no_measure() -> None:
    row = cell(date(2024, 8, 3), "d-mmm", column="width")
    assert row.fault is not None and row.fault.column == "width"
    assert "cell B2: a date, as 3/8 becomes where it is typed" in row.fault.text
    found = answer_book(cell(0.5, "0%", column="width"), Settings()).result
    assert found.fault is not None and "no unit '%'" in found.fault.text


def test_a_job_number_and_a_flag_are_read() -> None:
    assert cell(7, "0000", column="job-number").cells["job-number"] == "0007"
    assert cell(True, column="recess").cells["recess"] == "yes"


@pytest.mark.parametrize(
    ("value", "form", "words", "asked"),
    [
        (823.9, "General", 823.9, "823.9"),
        (20.5, "General", 20.5, "20.5"),
        (20, "General", 20, "20"),
        (823.9, "0.00", "823.90", None),
        (20, "000", "020", None),
        (823, "General", "823", None),
        ("823.90", "General", "823.90", None),
    ],
)
def test_a_call_number_that_may_have_lost_a_nought_is_questioned(value, form, words, asked) -> None:
    """As a note on its row, which is answered."""
    row = cell(value, form, column="call-number")
    assert row.cells["call-number"] == words
    found = answer_book(row._replace(cells={**row.cells, "width": 30, "height": 200}), Settings())
    assert found.result.fault is None
    assert ("may have lost a nought" in found.result.mind) == (asked is not None)
    assert asked is None or asked in found.result.mind


# Formulas, errors and what else stands in cells


def test_a_formula_is_its_stored_value_or_refused_by_its_cell() -> None:
    """An empty text that a formula gave is an empty cell."""
    book = workbook(
        (*HEADING, "note"), ("Tides", "=4+5", 200, "=1"), ("Quay", "=A1", 200), ('=""', 9, 200)
    )

    def stored(data: bytes) -> bytes:
        data = re.sub(rb"(<f>4\+5</f>)<v ?/>", rb"\1<v>9</v>", data)
        return re.sub(rb'r="A4"(.*?<f>"")(</f>)<v ?/>', rb'r="A4" t="str"\1\2<v></v>', data)

    first, second, third = rows(changed(book, {SHEET: stored}), keep=("note",))
    assert (first.cells["width"], first.fault, first.kept) == (9, None, ("=1",))
    assert second.fault is not None
    assert second.fault.column == "width"
    assert second.fault.text.startswith("sheet 'Year', cell B3: a formula without a stored value;")
    assert (third.fault, "title" in third.cells) == (None, False)


def test_errors_are_refused_by_their_cells() -> None:
    """Where they count; carried along they are what they are."""
    found = rows(workbook((*HEADING, "note"), ("Tides", "#REF!", 200), ("Quay", 9, 200, "#N/A")))
    assert found[0].fault == (
        "width", "sheet 'Year', cell B2: an error, #REF!; mend its formula",
    )  # fmt: skip
    assert (found[1].fault, found[1].kept) == (None, ("#N/A",))


def test_rich_text_inline_text_and_escapes() -> None:
    rich = CellRichText("Tide ", TextBlock(InlineFont(b=True), "Tables"))
    book = workbook(HEADING, (rich, 9, 200), ("Quay", 9, 200), ("Fog_x000D_\nLamp", 9, 200))

    def inline(data: bytes) -> bytes:
        cell = b'<c r="A3" t="inlineStr"><is><r><t>The </t></r><r><t>Quay</t></r></is></c>'
        return re.sub(rb'<c r="A3".*?</c>', cell, data)

    found = rows(changed(book, {SHEET: inline}))
    assert [row.cells["title"] for row in found] == ["Tide Tables", "The Quay", "Fog Lamp"]


def test_dates_of_either_epoch() -> None:
    for epoch in (None, CALENDAR_MAC_1904):
        book = workbook(("title", "date", "width"), ("Tides", date(1987, 4, 3), 9))
        book["Year"]["B2"].number_format = "yyyy"
        if epoch is not None:
            book.epoch = epoch
        (row,) = rows(book)
        assert row.cells["date"] == "1987"


def test_hidden_rows_and_columns_are_read_and_merged_cells_stand_for_those_below() -> None:
    book = workbook(
        ("set", "title", "width", "height"),
        ("Pilot", "North", 20, 200), (None, "South", 20, 200), (None, "East", 20, 200),
        ("", "Alone", 20, 200),
    )  # fmt: skip
    sheet = book["Year"]
    sheet.merge_cells("A2:A4")
    sheet.row_dimensions[3].hidden = True
    sheet.column_dimensions["C"].hidden = True
    found = rows(book)
    assert [row.cells.get("set") for row in found] == ["Pilot", "Pilot", "Pilot", None]
    assert [row.cells["width"] for row in found] == [20] * 4


def test_a_row_merged_across_heads_a_part_of_the_list() -> None:
    """A book whose title alone was typed is none, nor one of merged cells beside its measures."""
    book = workbook(
        ("Nr", "title", "width", "height"), ("History",), (1, "Tides", 20, 200), ("Seafaring",),
        (None, "Fog"), (2, "Quay", 20, 200),
    )  # fmt: skip
    for cells in ("A2:D2", "A4:F4", "B5:C5"):
        book["Year"].merge_cells(cells)
    table = read(book)
    assert [row.line for row in table.rows] == [3, 5, 6]
    said = "lines 2, 4 merged across all columns, passed over as headings of a part"
    assert table.foot.note == said
    answered = workbook(*book["Year"].values)  # as it is after an earlier run
    for at, name in enumerate(("verdict", "largest_pt", "set_pt", "lines"), 5):
        answered["Year"].cell(1, at, name)
    answered["Year"].merge_cells("A2:D2")
    assert [row.line for row in rows(answered)] == [3, 4, 5, 6]


def test_a_heading_in_two_lines_is_asked_for_by_its_last() -> None:
    """With the names that are merged down to it; one that is not stays above."""
    book = workbook(
        ("Reading room", None, None, None, None), ("Titel", "Rücken", None, "Band", None),
        (None, "Breite", "Höhe", None, None), ("Tides", 20, 200, 2, None),
    )  # fmt: skip
    book["Year"].merge_cells("A2:A3")
    book["Year"].merge_cells("D2:D3")
    book["Year"].merge_cells("B2:C2")
    assert read(book, heading_row=3).style.heading == ("Titel", "Breite", "Höhe", "Band")
    (row,) = rows(book, heading_row=3)
    assert row.cells == {"title": "Tides", "width": 20, "height": 200, "volume": "2"}
    with pytest.raises(FieldError, match="'Rücken'"):
        rows(book, heading_row=2)


def test_what_stands_beside_the_list_is_passed_over_and_within_it_needs_a_name() -> None:
    book = workbook(("title", None, "width"), ("Tides", None, 9, None, "a remark"), ("Quay", 1, 9))
    book["Year"]["H9"] = "a legend"
    first, second = rows(book)
    assert (first.fault, first.cells["width"]) == (None, 9)
    assert second.fault == ("", "a cell below no name, in column 2; name it in the heading")


def test_a_list_object_and_a_number_for_a_name() -> None:
    book = workbook(("title", "width", "2024"), ("Tides", 9, "x"))
    book["Year"].add_table(ListObject(displayName="Books", ref="A1:C2"))
    table = read(book, keep=("2024",))
    assert (table.kept, next(table.rows).kept) == (("2024",), ("x",))


# Sheets


def sheets(**filled: Sequence[Sequence[Any]]) -> Workbook:
    book = Workbook()
    assert book.active is not None
    book.remove(book.active)
    for name, content in filled.items():
        sheet = book.create_sheet(name)
        for row in content:
            sheet.append(row)
    return book


LIST = (HEADING, ("Tides", 9, 210))


def test_the_first_sheet_that_is_shown_and_has_a_heading_is_read() -> None:
    """Not a title page, a hidden one or an empty one; others that have rows are named."""
    book = sheets(Hidden=LIST, Info=[("Reading room",)], Empty=[], Year=LIST, Old=LIST)
    book["Hidden"].sheet_state = "hidden"
    book.create_chartsheet("Chart").add_chart(BarChart())
    table = read(book)
    assert table.style.sheet == "Year"
    assert table.notes == ("sheet 'Year' is read; --sheet names another: 'Info', 'Old'",)
    assert read(book, sheet=" old ").style.sheet == "Old"
    assert read(book, sheet="Hidden").notes == ()
    with pytest.raises(FieldError, match=r"--sheet: no such sheet: '2024'; .*'Hidden', 'Info', 'E"):
        read(book, sheet="2024")


def test_where_the_heading_may_be_is_said_of_a_sheet_too() -> None:
    book = sheets(Info=[("Reading room",)], Year=[("Works of a year",), (), *LIST])
    with pytest.raises(FieldError, match=r"sheet 'Year', row 1.*line 3 may be .*--heading-row 3$"):
        read(book)
    assert [row.line for row in rows(book, heading_row=3)] == [4]
    with pytest.raises(FieldError, match="no such line with names: '2'"):
        read(book, heading_row=2)
    with pytest.raises(FieldError, match="sheet 'Info', row 1: column 1: no column of that name"):
        read(book, sheet="Info")


def test_usual_names_and_units_are_known_in_a_workbook() -> None:
    table = read(workbook(("Titel", "Breite [cm]", "Signatur"), ("Gezeiten", 0.9, "Nau 7")))
    row = next(table.rows)
    assert (dict(row.cells), row.kept) == ({"title": "Gezeiten", "width": "0.9cm"}, ("Nau 7",))
    assert "'Titel=title'" in table.notes[0]


# Other kinds of files, damaged and vast ones


def ods() -> bytes:
    sink = io.BytesIO()
    with zipfile.ZipFile(sink, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", "<x/>")
    return sink.getvalue()


def bomb(part: str) -> bytes:
    return changed(workbook(*LIST), {part: lambda data: data + b" " * (1 << 27)})


COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
NO_WORKBOOKS: dict[str, tuple[Callable[[], bytes], str]] = {
    "an older form": (lambda: COMPOUND + bytes(2000), "a workbook of an older form; save it as"),
    "a password": (
        lambda: COMPOUND + bytes(90_000) + "EncryptedPackage".encode("utf-16-le"),
        "a workbook under a password; take it off",
    ),
    "OpenDocument": (ods, "a file that is no .xlsx; save it as"),
    "cut off": (lambda: raw(workbook(*LIST))[:3000], "the workbook cannot be read"),
    "no cells": (lambda: raw(workbook()), "no cells to read"),
    "a damaged part": (
        lambda: changed(workbook(*LIST), {SHEET: lambda data: data[: data.index(b"</row>")]}),
        "cannot be read",
    ),
    "a text that is not there": (
        lambda: by_hand('<row><c t="s"><v>1</v></c></row>', "x"), "cannot be read",
    ),
    "a bomb": (lambda: bomb("xl/styles.xml"), "a part of 134"),
    "no zip": (lambda: b"PK\x03\x04" + bytes(range(256)), "the workbook cannot be read"),
    "entities": (
        lambda: changed(workbook(*LIST), {SHEET: lambda data: (
            b'<!DOCTYPE x [<!ENTITY a "' + b"a" * 1000 + b'">'
            + b"".join(b'<!ENTITY %c "%s">' % (n, b"&%c;" % (n - 1) * 100) for n in range(98, 107))
            + b"]><worksheet>&j;</worksheet>"
        )}), "cannot be read",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", NO_WORKBOOKS)
def test_what_is_no_workbook_is_one_line(name: str) -> None:
    made, said = NO_WORKBOOKS[name]
    with pytest.raises(FieldError, match=r"books\.xlsx") as fault:
        rows(made())
    assert said in str(fault.value)
    assert len(str(fault.value)) < 600


def test_a_row_past_any_book_is_refused_without_being_held() -> None:
    """A single text of 200 MB, which its archive holds in some hundred KB."""
    cell = b'<c r="A99" t="inlineStr"><is><t>' + b"x" * (200 << 20) + b"</t></is></c>"
    end = b'<row r="99">' + cell + b"</row></sheetData>"
    many = workbook(HEADING, *[("Tides", 9, 210)] * 50)
    found = read(changed(many, {SHEET: lambda data: data.replace(b"</sheetData>", end)})).rows
    assert next(found).line == 2
    tracemalloc.start()
    with pytest.raises(FieldError, match="bytes without a row"):
        list(found)
    assert tracemalloc.get_traced_memory()[1] < 100 << 20
    tracemalloc.stop()


def test_a_sheet_of_a_million_empty_rows_is_its_rows() -> None:
    book = workbook(*LIST)
    book["Year"].cell(1_048_576, 3).number_format = "0.00"
    assert [row.line for row in rows(book)] == [2]


def test_options_of_other_forms_are_refused() -> None:
    with pytest.raises(FieldError, match="--encoding: a workbook has no encoding: 'cp1252'"):
        read(workbook(*LIST), encoding="cp1252")
    with pytest.raises(FieldError, match="--sheet: only a workbook has sheets: 'Year'"):
        read(b"title,width\n", name="books.csv", sheet="Year")


def test_a_workbook_is_known_by_its_content_and_may_come_from_a_pipe() -> None:
    class Pipe(io.RawIOBase):
        left = io.BytesIO(raw(workbook(*LIST)))

        def readable(self) -> bool:
            return True

        def readinto(self, buffer) -> int:
            more = self.left.read(min(999, len(buffer)))
            buffer[: len(more)] = more
            return len(more)

    table = read_table(io.BufferedReader(Pipe()), "standard input")
    assert [row.cells["title"] for row in table.rows] == ["Tides"]
    assert read(workbook(*LIST), name="books.csv").style.kind == "xlsx"


def test_nothing_beside_its_figures_is_left_in_a_plain_format() -> None:
    """What is displayed and what stands beside it go together."""
    for form in ("0", "0.00", "#,##0", "General", "000"):
        assert beside_figures(form) == ""
        assert shown(7, form) is not None
