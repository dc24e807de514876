"""How a table is read, whoever wrote it, and how it goes on behind what cannot be read.

The standard library's own writer of CSV is the second hand: what it writes, in every dialect and
encoding, has to come back.
"""

from __future__ import annotations

import csv
import io
import json
import re

import pytest

from spinefit.batch import check_row
from spinefit.batch.model import Row, TableOptions, TableStyle
from spinefit.batch.reading import Table, read_table
from spinefit.batch.text_stream import LONGEST_RECORD
from spinefit.errors import FieldError, SpinefitError

NASTY = [
    "The Harbour Light",
    "Fog, Signals; and\tLamps",
    "Two\nlines",
    'The "Mary"',
    '"quoted"',
    "Ώρες και Маяк",
    "carriage\r\nreturn",
]


def read(raw: bytes, name: str = "books.csv", **options) -> Table:
    return read_table(io.BufferedReader(io.BytesIO(raw)), name, TableOptions(**options))


def rows(raw: bytes, name: str = "books.csv", **options) -> list[Row]:
    return list(read(raw, name, **options).rows)


def titles(raw: bytes, name: str = "books.csv") -> list[object]:
    return [row.cells.get("title") for row in rows(raw, name)]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"]
)
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_what_the_standard_writer_writes_comes_back(encoding, delimiter, end) -> None:
    """Quoted newlines, quotes, separators and scripts in every usual dialect."""
    sink = io.StringIO()
    writer = csv.writer(sink, delimiter=delimiter, lineterminator=end)
    writer.writerow(["title", "width", "note"])
    writer.writerows([title, 12, title] for title in NASTY)
    mark = {"utf-16-le": "\ufeff", "utf-16-be": "\ufeff"}.get(encoding, "")
    found = rows((mark + sink.getvalue()).encode(encoding))
    assert [row.kept for row in found] == [(title,) for title in NASTY]
    assert [row.cells["title"] for row in found] == [
        re.sub(r"[\t\r\n]+", " ", title) for title in NASTY
    ]
    assert not any(row.fault for row in found)
    assert all(row.cells["width"] == "12" for row in found)


def test_the_line_is_where_the_row_begins() -> None:
    """With newlines in cells above it, and blank lines between."""
    raw = b'title,width\n"a\nb\nc",9\n\n,\nTides,9\n'
    assert [(row.line, row.cells["title"]) for row in rows(raw)] == [(2, "a b c"), (7, "Tides")]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\t", "\u2028", "\x0b"])
def test_a_line_break_in_a_text_parts_words_and_forces_nothing(end: str) -> None:
    """As a spreadsheet's narrow cells have them; the other cells stay as they are."""
    raw = f'title,author,width,note\n"The{end}Light","A.{end}Quay",9,"x{end}y"\n'.encode()
    (row,) = rows(raw)
    assert (row.cells["title"], row.cells["author"]) == ("The Light", "A. Quay")
    assert row.kept == (f"x{end}y",)
    (said,) = rows(json.dumps({"title": f"The{end}Light"}).encode(), "books.jsonl")
    assert said.cells["title"] == "The Light"
    assert check_row({"title": f"The{end}Light", "width": 30, "height": 200})["error"] == ""


def test_a_spreadsheets_own_hint_of_its_separator_is_taken() -> None:
    assert titles(b"sep=|\r\ntitle|width\r\nTides, a book;|9\r\n") == ["Tides, a book;"]


def test_an_ending_of_tabs_decides() -> None:
    assert titles(b"title\nTides, or; none\n", "books.tsv") == ["Tides, or; none"]


@pytest.mark.parametrize(
    ("line", "column", "said"),
    [
        (b"Ti\0des,9", "title", "a NUL character"),
        (b"Tides \xc3\xa9 \xff,9", "title", "no UTF-8"),
        ("Tides Å,9".encode() + b"\xe9", "width", "no UTF-8; save the table as UTF-8, or say its"),
        (b"Tides", "width", "1 cell where the heading has 2; end every cell"),
        (b"Tides,9,10", "", "3 cells where the heading has 2; a cell that holds"),
        (b'"Tides"x,9', "", """cannot be read (',' expected after '"'); double a quote"""),
        (b"x" * 200_000 + b",9", "", "a cell of more than 131072 characters"),
        (b"x" * (LONGEST_RECORD + 10) + b",9", "", "in one row; is a quote left open"),
    ],
    ids=["nul", "bytes", "latin-1", "few", "many", "quote", "gigantic field", "gigantic line"],
)
def test_a_bad_row_is_named_and_the_next_ones_are_read(line, column, said) -> None:
    found = rows(b"title,width\nFirst,9\n" + line + b"\nLast,9\n")
    assert [row.line for row in found] == [2, 3, 4]
    assert [bool(row.fault) for row in found] == [False, True, False]
    assert found[1].fault is not None
    assert found[1].fault.column == column
    assert said in found[1].fault.text
    assert found[1].fault.text.count("(") == found[1].fault.text.count(")")
    assert found[2].cells["title"] == "Last"


def test_an_open_quote_does_not_swallow_the_table() -> None:
    """Reading goes on somewhere behind it; what was swallowed is said once, with its line."""
    raw = b'title,width\n"Open,9\n' + b"Tides,9\n" * 50_000
    found = rows(raw)
    assert found[0].line == 2
    assert found[0].fault is not None
    assert sum(row.cells.get("title") == "Tides" for row in found) > 20_000


def test_an_open_quote_at_the_end_is_a_fault() -> None:
    found = rows(b'title,width\nTides,9\n"Open,9\n')
    assert [bool(row.fault) for row in found] == [False, True]


def test_json_lines() -> None:
    """Numbers and nothing are as good as texts; a fault in one line is that line's."""
    lines = [
        {"title": "Tides", "width": 9.5, "height": None, "id": 7},
        {"Title": "Tides", "band_height": "4mm"},
    ]
    raw = "\n".join(map(json.dumps, lines)).encode()
    found = rows(raw)
    assert dict(found[0].cells) == {"title": "Tides", "width": 9.5}
    assert found[0].kept[0] == "7"
    assert dict(found[1].cells) == {"title": "Tides", "band-height": "4mm"}


@pytest.mark.parametrize(
    ("line", "column", "said"),
    [
        ('{"title": "a", "width": NaN}', "", "NaN is no number"),
        ('{"title": "a"', "", "no JSON object in one line"),
        ("[1, 2]", "", "no JSON object"),
        ('{"title": "a", "widht": 9}', "widht", "did you mean 'width'"),
        ('{"title": "a", "Title": "b"}', "Title", "twice"),
        ('{"title": "a\\u0000"}', "title", "NUL"),
        ('{"title": "a\\ud800"}', "title", "half a character"),
        ('{"title": "a" "width": 9}', "", "at character 15)"),
        ('{"title": ' + "[" * 100_000 + "]" * 100_000 + "}", "", "nested too deeply"),
        ('{"title": "a", "width": ' + "9" * 5000 + "}", "", "a number of 5000 digits"),
    ],
)
def test_a_bad_line_of_json_is_a_row_at_fault(line, column, said) -> None:
    found = rows(f'{{"title": "First"}}\n{line}\n{{"title": "Last"}}\n'.encode(), "books.jsonl")
    assert [(row.line, bool(row.fault)) for row in found] == [(1, False), (2, True), (3, False)]
    assert found[1].fault is not None
    assert (found[1].fault.column, said in found[1].fault.text) == (column, True)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "an empty table"),
        (b"\n \n", "an empty table"),
        ("title,width\nTides,9\n".encode("utf-16-le"), "no text.*--encoding"),
        (b'title,"width\n', "the heading cannot be read"),
        (b"width,height\nTides,9\n", "no column 'title'"),
        (b'[{"title": "Tides", "width": 9}]', "JSON that is not one object a line"),
        (b'[\n  {"title": "Tides"}\n]', "JSON that is not one object a line"),
        (b'{\n  "title": "Tides"\n}', "JSON that is not one object a line"),
        (b"PK\x03\x04\x14\0\x06\0\x08\0\0\0!\0\x93", "the workbook cannot"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1\0\0", "a workbook"),
    ],
)
def test_a_heading_that_is_none_is_refused(raw, said) -> None:
    with pytest.raises(SpinefitError, match=said):
        rows(raw)


def test_the_rows_are_read_as_they_are_asked_for() -> None:
    """A stream without an end has a first row."""

    class Endless(io.RawIOBase):
        begun = False

        def readable(self) -> bool:
            return True

        def readinto(self, buffer) -> int:
            raw = b"Tides,9\n" * 100 if self.begun else b"title,width\n"
            self.begun = True
            buffer[: len(raw)] = raw
            return len(raw)

    table = read_table(io.BufferedReader(Endless()), "endless.csv")
    assert next(table.rows).cells["title"] == "Tides"


@pytest.mark.parametrize("delimiter", [b";", b"\t"])
def test_decimal_commas_stay_for_the_fields_to_read(delimiter) -> None:
    """As spreadsheets of many countries write them; a list that rises is a list."""
    heading = b"title;width;panel;sizes;bands-at;reading-distance\n"
    row = b'"Tides, 9,5";9,5;"30,5x24,25mm";10,12;40,80;1,500\n'
    (found,) = rows((heading + row).replace(b";", delimiter))
    assert dict(found.cells) == {
        "title": "Tides, 9,5",
        "width": "9,5",
        "panel": "30,5x24,25mm",
        "sizes": "10,12",
        "bands-at": "40,80",
        "reading-distance": "1,500",
    }


def test_a_decimal_comma_in_quotes_is_read_where_commas_part_the_cells_too() -> None:
    assert rows(b'title,width\nTides,"9,5"\n')[0].cells["width"] == "9,5"


def json_rows(*said: dict[str, object], keep: tuple[str, ...] = ()) -> tuple[list[Row], list]:
    """Rows of JSON Lines, and each with what is carried along of it by name."""
    raw = "\n".join(map(json.dumps, said)).encode()
    table = read_table(io.BufferedReader(io.BytesIO(raw)), "books.jsonl", TableOptions(keep=keep))
    found = list(table.rows)
    return found, [
        {name: cell for name, cell in zip(table.kept, row.kept, strict=True) if cell}
        for row in found
    ]


def test_names_in_json_are_forgiven_as_in_a_heading() -> None:
    """What is carried along too, and what is asked for both ways is read both ways."""
    found, carried = json_rows({"TITLE": "Tides", "ISBN": 7, "Width": 9}, keep=("WIDTH",))
    assert (dict(found[0].cells), found[0].fault) == ({"title": "Tides", "width": 9}, None)
    assert carried == [{"WIDTH": "9", "isbn": "7"}]


def test_every_name_of_the_first_row_of_json_is_carried_along() -> None:
    """The first row stands for a heading; a name that comes later is asked for by name."""
    first = {"title": "Tides", "Cloth": "blue", "width": 9}
    found, carried = json_rows(first, first | {"Cloth": None}, first | {"Price": 3}, keep=("all",))
    known = {"title": "Tides", "width": "9"}
    assert carried[:2] == [{"Cloth": "blue", **known}, known]
    assert [row.fault is None for row in found] == [True, True, False]
    assert "--keep 'Price'" in found[2].fault.line
    found, carried = json_rows(first, first | {"Price": 3}, keep=("all", "price"))
    assert carried[1] == {"Cloth": "blue", **known, "price": "3"}


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("quoting", [csv.QUOTE_ALL, csv.QUOTE_MINIMAL])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("figure", ["9,5", "9.5", "9,5 mm", "20,5x30"])
def test_the_form_of_a_table_is_told(delimiter, end, quoting, encoding, figure) -> None:
    """As the standard library's writer made it, for results to go back in the same."""
    sink = io.StringIO()
    writer = csv.writer(sink, delimiter=delimiter, lineterminator=end, quoting=quoting)
    names = ("Title", "panel" if "x" in figure else "width", "note")
    writer.writerows([names, ("Tides, 1,5", figure, "1,5")])
    raw = sink.getvalue().encode(encoding)
    found = read_table(io.BufferedReader(io.BytesIO(raw)), "books.csv", TableOptions(keep=("all",)))
    assert (found.kept, next(found.rows).kept) == (names, ("Tides, 1,5", figure, "1,5"))
    assert found.meanings == ("title", names[1], "")
    marked = encoding != "utf-8"
    assert found.style == TableStyle(
        kind="csv",
        delimiter=delimiter,
        decimal_comma="," in figure and delimiter != ",",
        quoted=quoting == csv.QUOTE_ALL,
        figures_quoted=quoting == csv.QUOTE_ALL and (delimiter != "," or figure == "9.5"),
        newline=end,
        encoding="utf-16-le" if encoding == "utf-16" else "utf-8",
        marked=marked,
        heading_row=1,
        heading=names,
    )


def test_the_form_of_json_lines_is_told() -> None:
    raw = b'\n{"title": "Tides", "Cloth": "blue"}\r\n'
    found = read_table(io.BufferedReader(io.BytesIO(raw)), "books.jsonl")
    assert found.style == TableStyle(
        kind="jsonl", newline="\r\n", heading_row=2, heading=("title", "Cloth")
    )


def test_a_slow_stream_is_read_like_a_quick_one() -> None:
    """A little at a time, a table past what is looked at beforehand comes back whole."""

    class Slow(io.RawIOBase):
        left = io.BytesIO(b"title;width\n" + b"Tides;9,5\n" * 20_000)

        def readable(self) -> bool:
            return True

        def readinto(self, buffer) -> int:
            more = self.left.read(min(1000, len(buffer)))
            buffer[: len(more)] = more
            return len(more)

    found = read_table(io.BufferedReader(Slow()), "books.csv")
    assert found.style.decimal_comma
    assert [row.line for row in found.rows] == list(range(2, 20_002))


@pytest.mark.parametrize("bad", ["{", "[]", "7"])
def test_a_first_row_that_cannot_be_read_carries_nothing(bad: str) -> None:
    """It is one row at fault, and the next is read."""
    raw = f'{bad}\n{{"title": "Tides"}}'.encode()
    table = read_table(
        io.BufferedReader(io.BytesIO(raw)), "books.jsonl", TableOptions(keep=("all",))
    )
    assert [row.fault is None for row in table.rows] == [False, True]


def test_json_carries_the_name_of_a_result_and_none_twice() -> None:
    """As a heading."""
    _, (kept,) = json_rows({"title": "Tides", "verdict": 1}, keep=("all",))
    assert kept == {"title": "Tides", "verdict": "1"}  # where all go along, ours has another name
    _, (kept,) = json_rows({"title": "Tides", "verdict": 1}, keep=("verdict",))
    assert kept == {"verdict": "1"}
    (row,), _ = json_rows({"title": "Tides", "isbn": 1, "ISBN": 2})
    assert row.fault == ("ISBN", "a column twice; keep one of them")
    assert "1" in row.kept  # by which the book is known


def test_columns_that_a_spreadsheet_leaves_behind_are_none() -> None:
    """Empty ones behind the last name, and cells behind the last of a row."""
    raw = b"title,width,note,,\nTides,9,x,,\nQuay,9,y,,,,\nFog,9,z, ,!\nLamp,9,z,,,1\n"
    found = rows(raw)
    assert [dict(row.cells) for row in found[:2]] == [
        {"title": "Tides", "width": "9"},
        {"title": "Quay", "width": "9"},
    ]
    assert [row.kept for row in found[:3]] == [("x",), ("y",), ("z",)]
    assert found[2].fault is not None and "below no name, in column 5" in found[2].fault.text
    assert found[3].fault is not None and "6 cells" in found[3].fault.text
    between = rows(b"title,,width\nTides,,9\nQuay,x,9\n")
    assert [row.fault for row in between] == [
        None, ("", "a cell below no name, in column 2; name it in the heading"),
    ]  # fmt: skip


def test_a_row_at_fault_keeps_what_tells_which_book_it_is() -> None:
    (found,) = rows(b"id,title,width\n7,Tides \xc3\xa9 \xff,9\n")
    assert (found.kept, found.fault is None) == (("7",), False)
    (found,) = rows(b"id;title;width;sizes\n7;Tides;9;10,5\n")
    assert (found.kept, found.cells["title"]) == (("7",), "Tides")
    assert found.fault is not None and found.fault.column == "sizes"


# Where the heading stands

LISTED = "Reading room\n\ntitle;width\nTides;9,5\n"


def test_lines_above_the_heading_are_passed_over() -> None:
    table = read(LISTED.encode(), heading_row=3)
    assert [(row.line, dict(row.cells)) for row in table.rows] == [
        (4, {"title": "Tides", "width": "9,5"})
    ]
    assert (table.style.heading_row, table.style.delimiter, table.style.decimal_comma) == (
        3,
        ";",
        True,
    )


@pytest.mark.parametrize("above", [0, 1, 19])
def test_where_the_heading_may_be_is_said(above: int) -> None:
    """Among the twenty lines below the first; by its usual name too."""
    lines = ["Reading room", *[""] * above, "Titel;Breite", "Tides;9"]
    with pytest.raises(FieldError, match=f"line {above + 2} may be .* --heading-row {above + 2}$"):
        read("\n".join(lines).encode())
    lines.insert(1, "\n" * 20)
    with pytest.raises(FieldError, match="no column of that name is known: 'Reading room'") as said:
        read("\n".join(lines).encode())
    assert "--heading-row" not in str(said.value)


def test_a_heading_may_be_where_several_names_are_known_though_no_title() -> None:
    lines = ["Reading room", "", "Nr.;Titel laut Liste;Breite;Höhe", "1;Tides;9;210"]
    with pytest.raises(FieldError, match=r"line 3 may be the heading: give --heading-row 3$"):
        read("\n".join(lines).encode())
    with pytest.raises(FieldError, match=r"'Titel laut Liste'; give .*--column"):
        read("\n".join(lines).encode(), heading_row=3)


def test_a_heading_with_a_title_is_not_sought_elsewhere() -> None:
    with pytest.raises(FieldError, match="'Cloth'") as said:
        read(b"title,width,Cloth\ntitle,9,blue\n")
    assert "--heading-row" not in str(said.value)


@pytest.mark.parametrize("number", [2, 5, 900])
def test_a_heading_that_is_not_there(number: int) -> None:
    with pytest.raises(FieldError, match=f"--heading-row: no such line with names: '{number}'"):
        read(LISTED.encode(), heading_row=number)


def test_json_lines_have_no_heading() -> None:
    with pytest.raises(FieldError, match="--heading-row: JSON Lines have no heading"):
        read(b'{"title": "Tides"}', heading_row=1)


# Encodings


@pytest.mark.parametrize("encoding", ["cp1252", "mac-roman"])
@pytest.mark.parametrize(
    "title",
    [
        "Höhe der Flut; Ölzeug, Übersicht, Straße", "„Möwen“ – eine Zählung", "Küste",
        "Les marées de l’été à Wrackness", "« Près de la côte », garçon, cœur", "À la ligne",
        "PÊCHE À LA LIGNE", "Navegación y señales: el año", "¿Dónde está el faro?", "Geografía",
        "Fyr og tåke på kysten", "Øyer, ærfugl og sjømerker", "Båk og brenning", "Öar och skär",
        "Città e libertà", "È tardi, perché?", "Navegação e marés",
        "The Captain’s “Log”", "Fog—signals and horns", "1848–1870", "‘Tides’ … and lamps",
        "It’s 20 °C", "O’Hara of Wrackness", "Naïve café", "à bord", "ältere Flut",
    ],
)  # fmt: skip
def test_bytes_that_are_no_utf_8_are_of_one_of_two_encodings(encoding: str, title: str) -> None:
    """Of each language, of quotation marks and dashes alone too; and it is said which."""
    table = read(f'title,width\n"{title}",9\n'.encode(encoding))
    assert next(table.rows).cells["title"] == title
    assert table.style.encoding == encoding
    assert table.notes == (f"no UTF-8, so read as {encoding}; --encoding says otherwise",)


def test_a_text_that_ends_in_such_a_byte_is_no_utf_8_and_json_always_is() -> None:
    assert titles("title\nCafé".encode("cp1252")) == ["Café"]
    (row,) = rows(b'\n{"title": "Caf\xe9"}', "books.jsonl")
    assert row.fault is not None and "no UTF-8" in row.fault.text
    long = "title\n" + "é\n" * 30_000  # a character is cut where the looking ends
    for shift in ("", "x"):
        assert read((shift + long).encode(), columns=(f"{shift}title=title",)).notes == ()


def test_an_encoding_that_is_said_is_taken() -> None:
    """Any that Python knows, and no note on it."""
    for title, encoding in (("Маяк", "koi8-r"), ("Φάρος", "iso-8859-7"), ("灯台", "shift_jis")):
        table = read(f"title,width\n{title},9\n".encode(encoding), encoding=encoding)
        assert (next(table.rows).cells["title"], table.notes) == (title, ())
    table = read("title,width\nÉté,9\n".encode("utf-16-le"), encoding="UTF-16LE")
    assert (next(table.rows).cells["title"], table.style.encoding) == ("Été", "utf-16-le")


@pytest.mark.parametrize(
    ("raw", "encoding", "said"),
    [
        (b"title\nTides\n", "latin-99", "--encoding: no such encoding: 'latin-99'"),
        (b"title\nTides\n", "rot13", "--encoding: no such encoding: 'rot13'"),
        (b"title\nTides\n", "base64", "--encoding: no such encoding"),
        (b"title\nTides\n", "a\0b", "--encoding: no such encoding"),
        ("title\nÉté\n".encode(), "ascii", "another encoding .*0xc3.*: 'ascii'"),
        (b"title\n\xc9t\xe9\n", "utf-8", "another encoding .*: 'utf-8'"),
        (b"\xef\xbb\xbftitle\n", "cp1252", "byte order mark says utf-8: 'cp1252'"),
    ],
)
def test_an_encoding_that_cannot_be(raw: bytes, encoding: str, said: str) -> None:
    with pytest.raises(FieldError, match=said):
        read(raw, encoding=encoding)


def test_the_mark_of_a_table_may_be_said_too() -> None:
    for raw, encoding in (("utf-8-sig", "utf-8"), ("utf-16", "utf-16"), ("utf-8-sig", "utf8")):
        table = read("title\nÉté\n".encode(raw), encoding=encoding)
        assert (next(table.rows).cells["title"], table.style.marked) == ("Été", True)


def test_bytes_far_down_that_are_no_text_are_a_fault_of_their_row() -> None:
    """Nobody may read the rows before them otherwise than they were."""
    raw = b"title,width\n" + b"Tides,9\n" * 20_000 + b"\xc9t\xe9,9\n"
    *_, last = rows(raw)
    assert (last.line, last.fault) == (
        20_002,
        ("title", "bytes that are no UTF-8; save the table as UTF-8, or say its --encoding"),
    )
    *_, last = rows(raw, encoding="cp1252")
    assert last.cells["title"] == "Été"


@pytest.mark.parametrize(
    ("widths", "commas"),
    [
        (("9,5", "12"), True),
        (("9.5", "12,5", "10.5"), False),
        (("1,250", "12.5"), False),  # which may be thousands
        (("1,250",), False),
        (("1.250", "9,5"), True),
    ],
)
def test_most_measures_say_whether_commas_are_decimal(widths, commas) -> None:
    """One cell otherwise typed does not turn the figures of all others."""
    rows = "".join(f"Tides;{width}\n" for width in widths)
    table = read_table(io.BufferedReader(io.BytesIO(f"title;width\n{rows}".encode())), "books.csv")
    assert table.style.decimal_comma == commas


# What a row at fault keeps


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("7;Tides", ("7", "Tides", "", "")),
        ("7;Tides;a History;9;x", ("7", "Tides", "a History", "9;x")),
        ('7;"The "Mary"";9;x', ("7", 'The "Mary"', "9", "x")),
        ('7;"Open;9;x', ("7", '"Open', "9", "x")),
        ("7;Ti\0des;9;x", ("7", r"Ti\x00des", "9", "x")),
    ],
    ids=["few", "many", "bad quote", "open quote", "nul"],
)
def test_a_row_at_fault_keeps_its_cells_as_they_were(line: str, kept: tuple[str, ...]) -> None:
    """By their places; those too many stand in the last, and the rows below are read."""
    raw = f"id;title;width;note\n{line}\n8;Quay;9;y\n9;Fog;9;z\n".encode()
    found = rows(raw, keep=("all",))
    assert [row.line for row in found] == [2, 3, 4]
    assert [row.kept for row in found] == [kept, ("8", "Quay", "9", "y"), ("9", "Fog", "9", "z")]
    assert [row.fault is None for row in found] == [False, True, True]


def test_an_open_quote_costs_its_own_row_alone() -> None:
    """Whether another quote follows far below, or none."""
    for last in (b"Last,9\n", b'"Last",9\n'):
        raw = b'title,width\n"Open,9\n' + b"Tides,9\n" * 60_000 + last
        found = rows(raw)
        assert [row.line for row in found if row.fault] == [2]
        assert found[-1].line == len(found) + 1 == 60_003


@pytest.mark.parametrize(
    ("line", "quoted"),
    [(b'"Tides";"9";"007"', True), (b'"Tides";9;7', False), (b'Tides;"9";"7"', True)],
)
def test_it_is_told_whether_figures_stand_in_quotes(line: bytes, quoted: bool) -> None:
    assert read(b"title;width;note\n" + line + b"\n").style.figures_quoted is quoted


def test_what_stands_above_the_heading_goes_back_with_all_columns() -> None:
    above = 'sep=;\n"Bound\nin 1931"\n\n'
    raw = f"{above}title;width\nTides;9\n".encode()
    assert read(raw, heading_row=5, keep=("all",)).style.above == above
    assert read(raw, heading_row=5).style.above == ""


@pytest.mark.parametrize(
    "above",
    ['"Bound\nin 1931";;\r\n', '"List" of 1931\r\n\r\n', "Bound\rin 1931\r", '"a\n\nb";"c\nd"\n'],
)
def test_the_heading_is_found_below_line_breaks_in_cells(above: str) -> None:
    raw = f"{above}Titel;Breite\r\nFog;9\r\n".encode()
    with pytest.raises(FieldError) as refused:
        read(raw)
    line = str(refused.value).rpartition("--heading-row ")[2]
    assert [dict(row.cells) for row in rows(raw, heading_row=int(line))] == [
        {"title": "Fog", "width": "9"}
    ]
