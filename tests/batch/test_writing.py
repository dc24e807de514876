"""What is written can be read by others, and runs nowhere.

CSV is read back by the standard library; JSON by its own. The page has tests of its own.
"""

from __future__ import annotations

import csv
import io
import json
import math

import pytest

from spinefit.batch.books import answer_book
from spinefit.batch.guarding import safe_cell, unguarded
from spinefit.batch.model import RESULT_COLUMNS, Fault, Row, Settings, TableStyle
from spinefit.batch.work import Unit, failed, work
from spinefit.batch.writing import encoding_of, head_of, rows_of
from spinefit.say.page import cells as cells_of
from spinefit.say.screen import Screen, encoded

FORMULAS = ["=1+1", "+1+1", "-1+cmd|' /C calc'!A0", "@SUM(1)", "\tx", "\r=1", "  =1", "＝1"]
KEPT = ("id",)


def book(title: str = "Tides", *, kept: str = "7", line: int = 2, **cells: object):
    said = {"title": title, "width": 20, "height": 200, **cells}
    said = {name: value for name, value in said.items() if value is not None}
    return answer_book(Row(line, said, (kept,)), Settings(form="html"))


def as_csv(*books) -> list[dict[str, str]]:
    settings = Settings(form="csv", kept=KEPT)
    text = head_of(settings) + rows_of(books, settings)
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("text", FORMULAS)
def test_no_cell_runs_as_a_formula(text: str) -> None:
    """Whether it is carried along, a title, or in a message about a fault."""
    assert safe_cell(text) == f"'{text}"
    assert unguarded(safe_cell(text)) == text
    found = as_csv(book(text.strip(), kept=text), book(kept=text, width=text))
    for row in found:
        for name, cell in row.items():
            assert not cell.lstrip(" ").startswith(tuple("=+@\t\r＝")), name
            assert not cell.startswith("-") or float(cell) < 0


def test_numbers_stay_numbers() -> None:
    """A negative spare is no formula; a leading nought is no number."""
    (found,) = as_csv(book("The Harbour Light of Wrackness", width=4, height=20, size=30))
    assert float(found["spare_mm"]) < 0
    assert safe_cell("-3.1") == "-3.1"
    settings = Settings(form="csv", kept=KEPT)
    assert rows_of([book(kept="007")], settings).startswith("2,007,Tides")
    assert rows_of([book(kept="7")], settings).startswith("2,7,Tides")


def test_a_semicolon_begins_no_cell() -> None:
    """A spreadsheet that parts cells by semicolons finds a text with one in quotes."""
    settings = Settings(form="csv", kept=KEPT)
    text = rows_of([book("Tides;=1+1")], settings)
    (row,) = csv.reader(io.StringIO(text), delimiter=",")
    assert row[2] == "Tides;=1+1"
    assert '"Tides;=1+1"' in text


STYLES = [
    TableStyle(),
    TableStyle(delimiter=";", decimal_comma=True),
    TableStyle(delimiter=",", decimal_comma=True),
    TableStyle(delimiter="\t", newline="\r\n", quoted=True),
    TableStyle(delimiter="|", quoted=True, decimal_comma=True),
]


@pytest.mark.parametrize("style", STYLES, ids=repr)
def test_a_table_goes_back_in_the_form_it_came(style: TableStyle) -> None:
    """Read by the standard library: its own cells as they were, our figures with its commas."""
    kept = ('say "no"', "a;b", "c,d", "e\tf|g", "two\nlines", "9,5", "007", "12", "")
    names = tuple(f"own {at}" for at in range(len(kept)))
    settings = Settings(form="csv", kept=names, style=style)
    found = answer_book(Row(2, {"title": "Tides", "width": 9}, kept), settings)
    text = head_of(settings) + rows_of([found], settings)
    assert text.count(style.newline) == 2 + (style.newline == "\n")
    heading, row = csv.reader(io.StringIO(text, newline=""), delimiter=style.delimiter)
    assert tuple(row[1 : len(kept) + 1]) == kept
    figure = row[heading.index("set_pt")]
    assert ("," in figure, float(figure.replace(",", "."))) == (
        style.decimal_comma, found.result.set_pt,
    )  # fmt: skip
    assert ('"Tides"' in text) == style.quoted
    assert '"a;b"' in text and '"c,d"' in text  # whatever program parts it


def test_only_a_table_that_had_a_mark_gets_one() -> None:
    marked = Settings(form="csv", style=TableStyle(marked=True))
    assert head_of(marked) == "\ufeff" + head_of(Settings(form="csv"))


@pytest.mark.parametrize(("encoding", "shown"), [("cp1252", "–"), ("latin-1", "-"), ("ascii", "-")])
def test_an_encoding_keeps_its_words_and_ours_are_plainer_where_it_must(encoding, shown) -> None:
    assert encoded("1848–1870", encoding).decode(encoding) == f"1848{shown}1870"
    settings = Settings(form="csv", style=TableStyle(encoding=encoding))
    assert encoding_of(settings) == encoding
    assert encoding_of(settings._replace(form="html")) == "utf-8"


def test_a_quote_made_plainer_ends_no_cell() -> None:
    """Latin-9 has no curly quotes, and a warning names the words beside an apostrophe in such."""
    settings = Settings(form="csv", kept=KEPT, style=TableStyle(encoding="iso8859-15"))
    text = head_of(settings) + rows_of([book("Mo's Nest", width=20, height=210)], settings)
    raw = encoded(text, encoding_of(settings)).decode("iso8859-15")
    (row,) = csv.DictReader(io.StringIO(raw), strict=True)
    assert 'Between "Mo" and "s Nest"' in row["warnings"]


def test_figures_that_stood_in_quotes_get_them_again() -> None:
    style = TableStyle(delimiter=";", quoted=True, figures_quoted=True)
    row = answer_book(Row(2, {"title": "Tides", "width": 9}, ("7", "")), Settings())
    text = rows_of([row], Settings(form="csv", kept=("id", "note"), style=style))
    assert text.startswith('"2";"7";"";"Tides";"tight";"') and text.rstrip().endswith('"')


def test_a_column_of_the_table_keeps_its_name_and_ours_gets_another() -> None:
    """The title is the same in both, and stands there once."""
    settings = Settings(form="csv", kept=("Title", "Lines", "verdict"))
    names = head_of(settings).rstrip().split(",")
    assert names[:6] == ["line", "Title", "Lines", "verdict", "found_verdict", "largest_pt"]
    assert "found_lines" in names and "title" not in names
    assert len(set(names)) == len(names)


def test_the_heading_names_every_column() -> None:
    (row,) = as_csv(book())
    assert list(row) == [RESULT_COLUMNS[0], "id", *RESULT_COLUMNS[1:]]


def test_json_lines_hold_the_whole_report() -> None:
    from spinefit.say.as_json import to_dict

    one = book()
    bad = book(width="9,500", line=3)
    lines = rows_of([one, bad], Settings(kept=KEPT)).splitlines()
    first, second = map(json.loads, lines)
    assert first == {
        "line": 2,
        "kept": {"id": "7"},
        "report": json.loads(json.dumps(to_dict(one.report))),
    }
    assert (second["line"], second["column"]) == (3, "width")
    assert "report" not in second


def test_a_text_table_keeps_to_its_width() -> None:
    settings = Settings(form="text", kept=KEPT)
    long = "The Harbour Light and the Keepers of the Lamp " * 3
    text = head_of(settings) + rows_of([book(long), book("灯台"), book(width="9,500")], settings)
    assert max(cells_of(line) for line in text.splitlines()) <= 80
    assert "a comma in a number" in text


@pytest.mark.parametrize("columns", [40, 72, 73])
def test_a_narrow_text_table_loses_no_figure(columns: int) -> None:
    settings = Settings(form="text", kept=KEPT, screen=Screen(columns))
    answered = book("The Harbour Light and the Keepers of the Lamp")
    said = head_of(settings) + rows_of([answered], settings)
    found = answered.result
    assert max(cells_of(line) for line in said.splitlines()) <= columns
    for figure in (found.set_pt, found.largest_pt, found.spare_mm):
        assert f" {math.floor(figure * 10) / 10} " in said
    assert f"  {found.reading}\n" in said and said.count("\n") == (3 if columns == 73 else 5)


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html"])
def test_volumes_and_several_texts_are_written_in_every_format(form: str) -> None:
    said = {"width": 30, "height": 210, "set": "tides"}
    volumes = [Row(at, {"title": f"Tides {at}", **said}, ("7",)) for at in (2, 3)]
    several = Row(4, {"title": "Fog", "author": "H. Quay", "width": 30, "height": 210}, ("7",))
    units = [Unit(tuple(volumes), "tides"), Unit((several,))]
    found = work(Settings(form=form, kept=KEPT), units)
    assert (found.verdicts, found.faults) == (("fits",) * 3, ())
    assert found.text.count("Tides 3") >= 1


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html"])
def test_rows_are_the_same_alone_and_together(form: str) -> None:
    """So that chunks of any size make the same bytes."""
    books = [book(), book("Quay", line=3), book(width="9,500", line=4)]
    settings = Settings(form=form, kept=KEPT)
    assert rows_of(books, settings) == "".join(rows_of([one], settings) for one in books)


def test_a_book_that_was_not_worked_on_is_written_too() -> None:
    unit = Unit((Row(5, {"title": "Tides"}, ("7",)),))
    found = failed(Settings(form="csv", kept=KEPT), unit, "the process ended")
    assert found.faults == ((5, Fault("", "the process ended")),)
    assert found.text.startswith("5,7,Tides,,")


def test_half_characters_never_reach_a_file() -> None:
    """The name of a column at fault may hold bytes that are no text."""
    row = Row(2, {}, ("",), Fault("ti\udce9", "bytes that are no UTF-8: \udce9"))
    for form in ("csv", "jsonl", "text", "html"):
        work(Settings(form=form, kept=KEPT), [Unit((row,))]).text.encode()
