"""Results go back into the workbook that their rows came from.

Read back by openpyxl; `tests/cli/test_batch_workbook.py` asks an office suite too.
"""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.table import Table as ListedTable
from openpyxl.worksheet.worksheet import Worksheet

from spinefit.batch import beside, held
from spinefit.batch.beside import INKS, Book
from spinefit.batch.books import answer_book
from spinefit.batch.model import Row, Settings, TableStyle
from spinefit.batch.results import headings
from spinefit.errors import FieldError, OutputError

NAMES = ("Shelfmark", "Title", "Author", "Width", "Height", "Price")
BOOKS = (
    ("W 3", "The Wreck Register of the Coast", None, 5, 20, 3),
    ("W 1", "Tide Tables", "E. Tellett", 24, 210, 12.5),
    ("W 2", "Fog", None, "wide", 210, "=F3*2"),
    ("W 4", "Northern Roads", "H. Quay", 12, 200, None),
)


def made(*, top: int = 1) -> Workbook:
    """A workbook of a list as a library keeps one."""
    book = Workbook()
    sheet: Any = book.active
    sheet.title = "1931"
    for at, name in enumerate(NAMES, 1):
        sheet.cell(top, at, name).font = Font(name="Georgia", bold=True)
    for row, cells in enumerate(BOOKS, top + 1):
        for at, cell in enumerate(cells, 1):
            sheet.cell(row, at, cell)
    sheet["B3"].fill = PatternFill("solid", fgColor="FFEEDD")
    sheet["B4"].comment = Comment("back torn", "bindery")
    sheet["A2"].hyperlink = "https://example.org/w3"
    sheet.column_dimensions["B"].width = 41
    sheet.row_dimensions[3].height = 33
    book.create_sheet("Cloth")["C3"] = "=SUM(1,2)"
    return book


def stream_of(book: Workbook) -> io.BytesIO:
    stream = io.BytesIO()
    book.save(stream)
    return stream


def settings_of(sheet: Worksheet, *, top: int = 1, **more: Any) -> Settings:
    names = tuple(str(cell.value) for cell in sheet[top][: len(NAMES)])
    style = TableStyle(kind="xlsx", sheet=sheet.title, heading_row=top, heading=names)
    return Settings(
        **({"form": "xlsx", "kept": names, "texts": ("author",), "style": style} | more)
    )


def answered(settings: Settings, top: int = 1) -> list:
    """The rows of `BOOKS`, as a reader of the workbook would have them."""
    found = []
    for line, cells in enumerate(BOOKS, top + 1):
        said = dict(zip(map(str.casefold, NAMES), cells, strict=True))
        given = {name: said[name] for name in ("title", "author", "width", "height") if said[name]}
        kept = tuple("" if cell is None else f"{cell}" for cell in cells)
        found.append(answer_book(Row(line, given, kept), settings))
    return found


def rows_in_order(settings: Settings, top: int = 1) -> list[Any]:
    lines = held.lines(answered(settings, top), held.cells_of, settings)
    return list(held.in_order(io.BytesIO(lines.encode()), settings.sort))


def filled(book: Workbook, *, top: int = 1, **more: Any) -> tuple[Book, Any]:
    """The book that was filled, and its sheet as openpyxl reads it again."""
    settings = settings_of(book.worksheets[0], top=top, **more)
    into = Book(settings, stream_of(book))
    return into, load_workbook(io.BytesIO(into.filled(rows_in_order(settings, top)))).worksheets[0]


def column(sheet: Any, name: str, top: int = 1) -> list[Any]:
    names = [cell.value for cell in sheet[top]]
    at = names.index(name) + 1
    return [sheet.cell(row, at).value for row in range(top + 1, top + 1 + len(BOOKS))]


@pytest.mark.parametrize("top", [1, 3])
def test_every_cell_stays_and_the_answers_stand_beside_them(top: int) -> None:
    """Cells, formulas, styles, widths, comments, links, and the other sheet."""
    before = made(top=top)
    _, sheet = filled(before, top=top)
    own = before.worksheets[0]
    for row in own.iter_rows():
        for cell in row:
            other = sheet[cell.coordinate]
            assert (other.value, other.number_format) == (cell.value, cell.number_format)
            assert (other.font.name, other.fill.fgColor.rgb) == (
                cell.font.name,
                cell.fill.fgColor.rgb,
            )
    assert sheet["B4"].comment.text == "back torn"
    assert sheet["A2"].hyperlink.target == "https://example.org/w3"
    assert sheet.column_dimensions["B"].width == 41
    assert sheet.row_dimensions[3].height == 33
    assert sheet.parent["Cloth"]["C3"].value == "=SUM(1,2)"
    names = [cell.value for cell in sheet[top]]
    assert names[: len(NAMES)] == [*NAMES]
    assert names[len(NAMES) : len(NAMES) + 3] == ["verdict", "largest_pt", "set_pt"]
    assert "title" not in names and "line" not in names
    assert column(sheet, "verdict", top) == ["does not fit", "fits", "at fault", "fits"]
    found = [one.result for one in answered(settings_of(own, top=top), top)]
    assert column(sheet, "set_pt", top) == [one.set_pt for one in found]
    author = [one.texts["author"].pt if "author" in one.texts else None for one in found]
    assert column(sheet, "author_pt", top) == author
    assert column(sheet, "error", top)[2] == found[2].fault.line
    assert sheet.freeze_panes == f"A{top + 1}"


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_a_verdict_stands_in_words_and_in_a_colour_that_can_be_read() -> None:
    _, sheet = filled(made())
    at = [cell.value for cell in sheet[1]].index("verdict") + 1
    grounds = set()
    for row in range(2, 6):
        cell = sheet.cell(row, at)
        ground, letters = cell.fill.fgColor.rgb[-6:], cell.font.color.rgb[-6:]
        assert (ground, letters) == INKS[cell.value]
        assert (luminance(ground) + 0.05) / (luminance(letters) + 0.05) >= 7
        grounds.add(ground)
    assert len(grounds) == 3 and len({ground for ground, _ in INKS.values()}) == 4


def test_an_earlier_run_is_written_anew_and_not_doubled() -> None:
    """Where its columns stand, whatever stands behind them; a text that is gone leaves nothing."""
    settings = settings_of(made().worksheets[0])
    once = load_workbook(
        io.BytesIO(Book(settings, stream_of(made())).filled(rows_in_order(settings)))
    )
    sheet = once.worksheets[0]
    names = [cell.value for cell in sheet[1]]
    for row in range(2, 6):
        sheet.cell(row, names.index("answer") + 1, "old")
    sheet.cell(1, len(names) + 1, "Ordered")
    sheet.cell(2, len(names) + 1, "yes")
    _, again = filled(once, texts=())
    assert [cell.value for cell in again[1]][: len(names)] == [
        None if name.startswith("author_") else name for name in names
    ]
    assert again.cell(2, len(names) + 1).value == "yes"
    assert again.max_column == len(names) + 1
    assert "old" not in column(again, "answer")


@pytest.mark.parametrize("title", ["=1+1", "+1", "-1+cmd", "@SUM(1)", "=", "#REF!"])
def test_no_text_runs_as_a_formula(title: str) -> None:
    """Nor is it an error; in a new workbook, too, and when somebody edits it."""
    settings = Settings(form="xlsx", kept=("title", "cloth"), measures=())
    said = {"title": title, "width": 30, "height": 200}
    one = answer_book(Row(2, said, (title, title)), settings)
    rows = [json.loads(json.dumps(held.cells_of(one, settings)))]
    sheet: Any = load_workbook(io.BytesIO(Book(settings, None).filled(rows))).worksheets[0]
    for cell in (sheet["A2"], sheet["B2"]):
        assert (cell.value, cell.data_type) == (title, "s")
        assert cell.quotePrefix == (title[0] in "=+-@")
    assert column_of(sheet, "lines").value == title


def column_of(sheet: Any, name: str) -> Any:
    return sheet.cell(2, [cell.value for cell in sheet[1]].index(name) + 1)


def test_a_new_workbook_has_measures_as_figures_and_texts_as_texts() -> None:
    """As they came: 007 and 1907 are texts, 9,5 is nine and a half where commas are decimals."""
    names = ("Title", "Width", "Height", "Barcode", "Price")
    style = TableStyle(decimal_comma=True)
    settings = Settings(form="xlsx", kept=names, measures=("Width", "Height"), style=style)
    kept = ("1907", "9,5", "210mm", "007", "12,50")
    one = answer_book(Row(2, {"title": "1907", "width": "9,5", "height": "210mm"}, kept), settings)
    sheet: Any = load_workbook(
        io.BytesIO(Book(settings, None).filled([held.cells_of(one, settings)]))
    ).worksheets[0]
    assert [cell.value for cell in sheet[2][:5]] == ["1907", 9.5, "210mm", "007", "12,50"]
    assert [cell.value for cell in sheet[1][:5]] == [*names]
    assert sheet.auto_filter.ref == f"A1:{sheet.cell(2, sheet.max_column).coordinate}"
    assert isinstance(column_of(sheet, "largest_pt").value, float)


def test_a_control_character_and_a_cell_too_long_are_no_crash() -> None:
    settings = Settings(form="xlsx", kept=("title", "cloth"))
    one = answer_book(Row(2, {"title": "Fog", "width": 9}, ("Fog\x0b", "x" * 40_000)), settings)
    sheet: Any = load_workbook(
        io.BytesIO(Book(settings, None).filled([held.cells_of(one, settings)]))
    ).worksheets[0]
    assert sheet["A2"].value == "Fog\\x0b"
    assert len(sheet["B2"].value) == 32_767 and sheet["B2"].value.endswith("…")


def test_filters_and_tables_reach_over_our_columns() -> None:
    book = made()
    sheet: Any = book.worksheets[0]
    sheet.auto_filter.ref = "A1:F5"
    _, found = filled(book)
    last = found.cell(5, found.max_column).coordinate
    assert found.auto_filter.ref == f"A1:{last}"
    book = made()
    table = ListedTable(displayName="Books", ref="A1:F5")
    book.worksheets[0].add_table(table)
    book.worksheets[0].freeze_panes = "C2"
    _, found = filled(book)
    assert found.tables["Books"].ref == f"A1:{last}"
    assert [one.name for one in found.tables["Books"].tableColumns] == [
        cell.value for cell in found[1]
    ]
    assert found.freeze_panes == "C2"


def test_a_width_of_many_columns_ends_where_ours_begin() -> None:
    """No two widths for one column, which a spreadsheet takes for damage."""
    book = made()
    every = book.worksheets[0].column_dimensions["E"]
    every.min, every.max, every.width = 5, 16384, 9
    _, sheet = filled(book)
    spans = sorted((one.min, one.max) for one in sheet.column_dimensions.values())
    assert all(first[1] < second[0] for first, second in pairwise(spans))
    assert sheet.column_dimensions["G"].width > 9


def test_what_stands_above_the_heading_keeps_nothing_off() -> None:
    """But what is merged with a row, or noted beside one, does."""
    book = made(top=3)
    sheet = book.worksheets[0]
    sheet["A1"] = "Books to be bound in 1931"
    sheet.merge_cells("A1:M1")
    sheet["P2"] = "for the bindery"
    _, found = filled(book, top=3)
    assert found.cell(3, 7).value == "verdict"
    sheet.merge_cells("F5:H5")
    _, found = filled(book, top=3)
    assert found.cell(3, 9).value == "verdict" and found.cell(3, 7).value is None


def test_sorted_rows_take_their_cells_along() -> None:
    """Formulas read the row that they stand in; blank rows stay where they are."""
    book = made()
    book.worksheets[0]["F3"] = "=D3*2"
    _, sheet = filled(book, sort=("-set_pt",))
    assert [sheet.cell(row, 1).value for row in range(2, 6)] == ["W 1", "W 4", "W 3", "W 2"]
    assert sheet["F2"].value == "=D2*2"
    assert sheet["A4"].hyperlink.ref == "A4"
    assert sheet["B5"].comment.text == "back torn"
    assert sheet.row_dimensions[2].height == 33
    assert column(sheet, "verdict") == ["fits", "fits", "does not fit", "at fault"]


def test_what_would_come_apart_is_not_sorted() -> None:
    book = made()
    book.worksheets[0].merge_cells("C2:C3")
    with pytest.raises(FieldError, match=r"--sort: merged cells.*'C2:C3'"):
        filled(book, sort=("set_pt",))
    filled(book)


def test_no_room_is_told_before_a_row_is_read() -> None:
    book = made()
    book.worksheets[0]["XFD9"] = "far"
    with pytest.raises(FieldError, match="1931: no room beside the rows"):
        filled(book)


def with_part(stream: io.BytesIO, name: str, data: bytes) -> io.BytesIO:
    with zipfile.ZipFile(stream, "a") as parts:
        parts.writestr(name, data)
    return stream


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("xl/vbaProject.bin", b"x", "macros"),
        ("xl/ctrlProps/ctrlProp1.xml", b"<x/>", "form controls"),
        (
            "xl/drawings/drawing9.xml",
            b"<xdr:wsDr><xdr:sp macro=''></xdr:sp></xdr:wsDr>",
            "drawn shapes",
        ),
        ("xl/strange/one.bin", b"x", "xl/strange/one.bin"),
    ],
)
def test_what_is_lost_is_named(name: str, data: bytes, said: str) -> None:
    book = made()
    settings = settings_of(book.worksheets[0])
    assert said in Book(settings, with_part(stream_of(book), name, data)).lost


def test_what_only_openpyxl_passes_over_is_named_too() -> None:
    """Rules of later versions inside a sheet; what a library says to programmers is not."""
    source, changed = stream_of(made()), io.BytesIO()
    ext = b'<extLst><ext uri="{78C0D931-6437-407d-A8EE-F0AAD7539E65}"/></extLst></worksheet>'
    with zipfile.ZipFile(source) as parts, zipfile.ZipFile(changed, "w") as out:
        for name in parts.namelist():
            data = parts.read(name)
            is_sheet = name == "xl/worksheets/sheet1.xml"
            out.writestr(name, data.replace(b"</worksheet>", ext) if is_sheet else data)
    lost = Book(settings_of(made().worksheets[0]), changed).lost
    assert lost[0] == "Conditional Formatting extension"


def test_a_workbook_that_would_fill_the_memory_is_refused(monkeypatch) -> None:
    monkeypatch.setattr(beside, "_LARGEST", 1000)
    with pytest.raises(OutputError, match=r"--output: the workbook cannot be written into"):
        Book(settings_of(made().worksheets[0]), stream_of(made()))
    Book(Settings(form="xlsx", kept=("title",)), None)


def test_nothing_is_said_to_be_lost_that_is_there() -> None:
    """Charts, pictures, names, rules for values and for formats; but formulas are worked out."""
    from openpyxl.chart import BarChart, Reference
    from openpyxl.drawing.image import Image
    from openpyxl.formatting.rule import CellIsRule
    from openpyxl.workbook.defined_name import DefinedName
    from openpyxl.worksheet.datavalidation import DataValidation
    from PIL import Image as Picture

    book = made()
    sheet: Any = book.worksheets[0]
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=4, min_row=1, max_row=5), titles_from_data=True)
    sheet.add_chart(chart, "H8")
    picture = io.BytesIO()
    Picture.new("RGB", (4, 4)).save(picture, "PNG")
    sheet.add_image(Image(picture), "H30")
    sheet.conditional_formatting.add("D2:D5", CellIsRule("lessThan", ["6"]))
    rule = DataValidation("list", '"a,b"')
    rule.add("A2:A9")
    sheet.add_data_validation(rule)
    book.defined_names["widths"] = DefinedName("widths", attr_text="'1931'!$D$2:$D$5")
    into, found = filled(book)
    assert into.lost == [
        "stored values of formulas that are not read here, until a spreadsheet opens it"
    ]
    assert (len(found._charts), len(found._images)) == (1, 1)
    assert len(found.conditional_formatting) == 1
    assert found.data_validations.dataValidation[0].sqref.ranges
    assert found.parent.defined_names["widths"].attr_text == "'1931'!$D$2:$D$5"


def test_what_cannot_be_opened_is_one_line() -> None:
    settings = settings_of(made().worksheets[0])
    with pytest.raises(OutputError, match="cannot be written into"):
        Book(settings, io.BytesIO(b"PK\x03\x04 damaged"))


def test_every_column_of_the_results_has_a_place() -> None:
    settings = settings_of(made().worksheets[0])
    _, sheet = filled(made())
    names: Sequence[Any] = [cell.value for cell in sheet[1]]
    assert [*names[len(NAMES) :]] == [*headings(settings).values()]


def test_it_prints_as_far_as_the_answer_with_its_heading_on_every_page() -> None:
    """Across the page in one width, and higher where an answer takes more lines than its row."""
    book = made(top=3)
    _, sheet = filled(book, top=3)
    answer = [cell.value for cell in sheet[3]].index("error") + 1  # there is a row at fault
    assert sheet.print_area == f"'1931'!$A$1:${get_column_letter(answer)}$7"
    assert sheet.print_title_rows == "$3:$3"
    assert sheet.page_setup.orientation == "landscape"
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.row_dimensions[4].height > 2 * 11


def test_a_sheet_that_says_how_it_prints_does_so() -> None:
    book = made()
    sheet: Any = book.worksheets[0]
    sheet.print_area = "A1:C5"
    _, found = filled(book)
    assert found.print_area == "'1931'!$A$1:$C$5"
    assert found.page_setup.orientation != "landscape" and not found.print_title_rows
