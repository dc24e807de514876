"""Rows that are held until the last is there come out in the order asked for."""

from __future__ import annotations

import io
import re

import pytest

from spinefit.batch import held
from spinefit.batch.books import answer_book
from spinefit.batch.model import Row, Settings, TableStyle, Totals
from spinefit.batch.writing import foot_of, head_of, rows_of, whole_of
from spinefit.errors import FieldError

KEPT = ("Shelf", "lines")
BOOKS = (
    ("Quay", 30, "paper-label", ("b 10", "")),
    ("Fog", 9, "blocked-case", ("C 2", "2")),
    ("Tides", "wide", "", ("a 1", "")),
    ("Harbour Dues", 12, "paper-label", ("", "")),
    ("Lamp", 9, "blocked-case", ("9", "")),
    ("Mast", 24, "", ("10", "")),
)
_TEMPLATE = re.compile("<template>(.*?)</template>\n")


def settings_of(*by: str, form: str = "csv", **more: object) -> Settings:
    settings = Settings(form=form, kept=KEPT, **more)
    return settings._replace(sort=held.columns_to_sort_by(",".join(by), settings) if by else ())


def whole(settings: Settings) -> str:
    said = [
        ({"title": title, "width": width} | ({"method": method} if method else {}), kept)
        for title, width, method, kept in BOOKS
    ]
    answered = [answer_book(Row(line, *one), settings) for line, one in enumerate(said, 2)]
    text = rows_of(answered[:2], settings) + rows_of(answered[2:], settings)
    totals = Totals({"fits": 5, "tight": 0, "does not fit": 0, "": 1})
    if not settings.held:
        return head_of(settings) + text + foot_of(settings, totals)
    assert head_of(settings) == foot_of(settings, totals) == ""
    return "".join(map(str, whole_of(io.BytesIO(text.encode()), settings, totals, None)))


def titles(text: str) -> list[str]:
    """In the order in which they stand there."""
    return sorted((one[0] for one in BOOKS), key=text.index)


@pytest.mark.parametrize(
    ("by", "order"),
    [
        ("method", "Fog Lamp Quay Harbour-Dues Mast Tides"),
        ("method,size", "Fog Lamp Harbour-Dues Quay Mast Tides"),
        ("method,-size", "Fog Lamp Quay Harbour-Dues Mast Tides"),
        ("-line", "Mast Lamp Harbour-Dues Fog Quay Tides"),
        ("shelf", "Lamp Mast Quay Fog Harbour-Dues Tides"),  # 9 before 10, before texts, none last
        ("-Shelf", "Fog Quay Mast Lamp Harbour-Dues Tides"),
        ("verdict", "Quay Fog Harbour-Dues Lamp Mast Tides"),
    ],
)
def test_rows_are_sorted_and_those_at_fault_stand_last(by: str, order: str) -> None:
    """What is alike stays in the order of the table; both ways what is empty comes after."""
    found = titles(whole(settings_of(*by.split(","))))
    assert " ".join(found).replace("Harbour Dues", "Harbour-Dues") == order


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html"])
def test_every_form_has_the_same_rows_in_any_order(form: str) -> None:
    """Each as it would be written by itself, between the same head and foot."""
    plain, by_title = whole(settings_of(form=form)), whole(settings_of("-title", form=form))
    if form == "html":  # every outline once, before the first row that has it
        outlines = [one for part in _TEMPLATE.findall(by_title) for one in part.split(",")]
        assert len(outlines) == len(set(outlines)) > 10
        assert set(outlines) == set(",".join(_TEMPLATE.findall(plain)).split(","))
        plain, by_title = _TEMPLATE.sub("", plain), _TEMPLATE.sub("", by_title)
        assert ", in the order of their lines" in plain  # which sorted ones are not
        plain = plain.replace(", in the order of their lines", "")
    assert plain != by_title
    assert "".join(sorted(plain)) == "".join(sorted(by_title))
    order = ["Quay", "Mast", "Lamp", "Harbour Dues", "Fog", "Tides"]
    if form == "jsonl":  # a row at fault has its line alone
        by_title = by_title.replace('"error"', "Tides")
    assert titles(by_title) == order


def test_a_result_goes_before_a_column_of_the_table_of_the_same_name() -> None:
    """A method that a row leaves open is sorted with those that name it."""
    assert settings_of("Lines", "found_lines").sort == ("lines", "lines")
    assert titles(whole(settings_of("lines"))) == [
        "Fog", "Harbour Dues", "Lamp", "Mast", "Quay", "Tides",
    ]  # fmt: skip


def test_rows_at_fault_stay_in_the_order_of_their_table() -> None:
    """A line of totals below a list, which is no book, stays below it."""
    settings = Settings(form="csv", kept=("Shelf",), sort=("-Shelf",))
    said = (({"title": "Fog"}, "1"), ({}, "2"), ({"title": "Quay", "width": 9}, "0"))
    books = [answer_book(Row(at, *one), settings) for at, one in enumerate(
        ((cells, (shelf,)) for cells, shelf in said), 2
    )]  # fmt: skip
    found = list(held.in_order(io.BytesIO(rows_of(books, settings).encode()), settings.sort))
    assert [row.partition(",")[0] for row in found] == ["4", "2", "3"]


def test_half_a_character_is_held_too() -> None:
    settings = settings_of("line")
    one = answer_book(Row(2, {"title": "Fog", "width": 9}, ("a\udce9", "")), settings)
    line = rows_of([one], settings)
    assert line.isascii()
    (row,) = held.in_order(io.BytesIO(line.encode()), settings.sort)
    assert r"a\udce9" in row


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("verdikt", "--sort: no such column to sort by: 'verdikt'; did you mean 'verdict'"),
        ("method,", "--sort: no such column to sort by: ''; there are Shelf, lines, line, title"),
        ("-", "no such column to sort by: '-'"),
    ],
)
def test_what_no_column_is_named_is_refused(typed: str, said: str) -> None:
    with pytest.raises(FieldError, match=said):
        settings_of(typed)


def test_decimal_commas_are_figures_where_the_table_has_them() -> None:
    style = TableStyle(decimal_comma=True)
    settings = Settings(form="csv", kept=("price",), style=style, sort=("price",))
    books = [
        answer_book(Row(line, {"title": name, "width": 9}, (price,)), settings)
        for line, (name, price) in enumerate((("Fog", "10,5"), ("Quay", "9,75")), 2)
    ]
    text = rows_of(books, settings)
    found = list(held.in_order(io.BytesIO(text.encode()), settings.sort))
    assert "Quay" in found[0]


def test_columns_of_the_table_are_known_by_its_names_without_being_kept() -> None:
    """Measures by what was judged, since one may be in inches and another in mm."""
    settings = Settings(form="csv")
    table = {"Verfasser": "author", "Breite": "width", "Preis": ""}
    by = held.columns_to_sort_by("verfasser,-breite", settings, table)
    assert by == ("author", "-width_mm")
    said = (("Fog", "Örtel", "1cm"), ("Quay", "Otto", "12mm"), ("Lamp", "Örtel", "0.9in"))
    rows = [
        answer_book(Row(at, {"title": title, "author": author, "width": width, "height": 200}),
                    settings._replace(sort=by))
        for at, (title, author, width) in enumerate(said, 2)
    ]  # fmt: skip
    text = rows_of(rows, settings._replace(sort=by))
    found = list(held.in_order(io.BytesIO(text.encode()), by))
    assert [row.partition(",")[0] for row in found] == ["4", "2", "3"]


def test_what_may_be_sorted_by_is_named_as_it_is_written() -> None:
    with pytest.raises(FieldError) as refused:
        held.columns_to_sort_by("xyzzy", Settings(), {"Rückenbreite [mm]": "width", "No": ""})
    names = str(refused.value).partition("there are ")[2].split(", ")
    assert names[0] == "Rückenbreite [mm]"
    assert "set_pt" in names and not any("-" in name for name in names)


def test_texts_are_sorted_as_people_sort_them() -> None:
    """Figures in them by their size, and letters with accents beside those without."""
    order = ["Band 2", "Band 10", "band 010 a", "Ebbe", "Öl", "Ort", "Zoll"]
    settings = Settings(form="csv", kept=("note",), sort=("note",))
    books = [
        answer_book(Row(line, {"title": "Fog", "width": 9}, (note,)), settings)
        for line, note in enumerate(reversed(order))
    ]
    found = held.in_order(io.BytesIO(rows_of(books, settings).encode()), settings.sort)
    assert [row.split(",")[1] for row in found] == order
