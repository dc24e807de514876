"""What the names in a heading mean, and that a cell says the same whatever library handed it over.

numpy's numbers are the reference for what is not Python's own.
"""

from __future__ import annotations

import unicodedata
from decimal import Decimal

import numpy as np
import pytest

from spinefit import check_row
from spinefit.batch.cells import cell_value, refuse_either, with_unit
from spinefit.batch.columns import CARRIED, KNOWN, Naming, plain_name
from spinefit.batch.heading import Columns
from spinefit.batch.model import Settings, TableOptions
from spinefit.batch.writing import head_of
from spinefit.catalogue.tables import DATA, read
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import field_named
from spinefit.vocabulary import Status

BOOK = {"title": "The Harbour Light", "width": 9, "height": 210}


def columns(*names: str, keep: tuple[str, ...] = ()) -> Columns:
    return Columns.of(names, TableOptions(keep=keep), "books.csv:1")


@pytest.mark.parametrize("name", ["band-height", "Band_Height", " BAND HEIGHT "])
def test_an_option_of_check_may_be_a_column(name) -> None:
    """With underscores, spaces and capitals too."""
    assert Naming().use_of(name).meaning == "band-height"


def test_an_unknown_column_is_refused_with_the_nearest() -> None:
    """A slip must not be taken for a remark."""
    with pytest.raises(FieldError, match=r"column 2: .*'widht'.*did you mean 'width'.*--keep"):
        columns("title", "widht")


def test_all_unknown_columns_are_named_at_once() -> None:
    """With the nearest of each, and what could be done about all."""
    with pytest.raises(FieldError) as said:
        columns("Cloth", "title", "widht", "Price")
    assert str(said.value) == (
        "books.csv:1: no columns of these names are known: "
        "'Cloth', 'widht' ('width'?), 'Price'; give --keep 'all' or --column 'Cloth=NAME'"
    )
    with pytest.raises(
        FieldError, match=r"'c11' and 8 more; give --column 'c0=note' to pass it over$"
    ):
        Columns.of([f"c{n}" for n in range(20)], TableOptions(keep=None), "books.csv:1")


# The usual names of other languages, and units


@pytest.mark.parametrize(
    "heading",
    [
        "Titel;Verfasser;Band;Jahr;Verlag;Rückenbreite;Höhe",
        "TITEL;AUTOR;BD.;ERSCHEINUNGSJAHR;verlag;Breite;Hoehe",
        "Titre;Auteur;Tome;Année;Éditeur;Largeur;Hauteur",
        "titre;auteur;tome;annee;editeur;Largeur du dos;hauteur",
        "Titel;Auteur;Deel;Jaar;Uitgever;Rugbreedte;Hoogte",
        "Título;Autor;Tomo;Año;Editorial;Ancho;Alto",
        "Titolo;Autore;Tomo;Anno;Editore;Larghezza;Altezza",
        "Book title;Authors;Vol.;Year;Publisher;Spine width;Height",
        "Titel des Buches;Autor/in;Bd.-Nr.;Jahr;Verlag;Rückenstärke;Rückenlänge",
        "Titre;Auteur(s);Tomaison;Année;Éditeur;Épaisseur dos;Hauteur dos",
        "Title;Author(s);Vol #;Year;Publisher;Spine thickness;Book height",
    ],
)
def test_the_usual_names_of_some_languages_are_known(heading: str) -> None:
    """Composed and decomposed; and it is said for what they are taken, in words to copy."""
    for form in ("NFC", "NFD"):
        names = unicodedata.normalize(form, heading).split(";")
        found = columns(*names)
        assert found.names == (
            "title", "author", "volume", "date", "imprint", "width", "height",
        )  # fmt: skip
        assert found.note is not None and f"'{names[3]}=date'" in found.note


def test_a_name_of_two_meanings_is_decided_by_the_others_or_refused() -> None:
    assert columns("Titel", "Band", "Breite").names == ("title", "volume", "width")
    assert columns("book title", "Band", "width").names == ("title", "bands", "width")
    with pytest.raises(FieldError, match="'Band'; did you mean 'bands' or 'volume'"):
        columns("title", "Band", "width")


def test_what_tells_a_book_apart_is_carried_along_by_its_usual_names() -> None:
    found = columns("Signatur", "Titel", "Strichcode", "Bemerkungen", "lfd. Nr.")
    assert found.kept_names == ("Signatur", "Strichcode", "Bemerkungen", "lfd. Nr.")


def test_whose_work_a_book_is_and_how_often_it_is_wanted_have_usual_names() -> None:
    found = columns("Titel", "Breite", "Stück", "Kunde", "Auftragsnr.")
    assert found.names[2:] == ("copies", "customer", "job-number")


@pytest.mark.parametrize("language", ["en", "de", "fr", "nl", "es", "it"])
def test_every_usual_name_means_something(language: str) -> None:
    """None of them is a name of ours for something else, and each comes back as a heading."""
    table = read(DATA / "columns.toml")[language]
    assert table.pop("status") in list(Status) and table.pop("source")
    assert table.pop("total")  # a line of the table, and no column
    for meaning, names in table.items():
        assert meaning in (*KNOWN, *CARRIED)
        for name in names:
            assert plain_name(name) not in {*KNOWN, *CARRIED} - {meaning}, name
            found = Naming(languages=frozenset({language})).use_of(name)
            assert found.meaning == meaning or (meaning in CARRIED and found.carried), name


@pytest.mark.parametrize(
    ("name", "cell", "meant"),
    [
        ("width_mm", "9", "9mm"),
        ("Width (cm)", "0,9", "0,9cm"),
        ("Breite [mm]", "9.5", "9.5mm"),
        ("Breite in cm", "1", "1cm"),
        ("width in", "3/8", "3/8in"),
        ("Width, in.", "3/8", "3/8in"),
        ("Height (inches)", "8 1/2", "8 1/2inches"),
        ("Höhe [cm]", "21", "21cm"),
        ("panel (cm)", "2x3", "2x3cm"),
        ("size (mm)", "4", "4mm"),
        ("Width (cm)", "9mm", "9mm"),
        ("Width (cm)", '3/8"', '3/8"'),
        ("Width (cm)", 0.9, "0.9cm"),
        ("Width (cm)", 2, "2cm"),
        ("title (mm)", "9", None),
        ("mm", "9", None),
    ],
)
def test_a_unit_in_the_heading_serves_bare_figures(name: str, cell: object, meant: object) -> None:
    """A value with its own unit wins; a column that has no unit has none in its name."""
    if meant is None:
        with pytest.raises(FieldError):
            Naming().use_of(name)
        return
    use = Naming().use_of(name)
    assert with_unit(cell_value(use.meaning, cell), use.unit) == meant


def test_a_unit_in_the_heading_counts_as_if_it_were_typed() -> None:
    """In Python too."""
    assert check_row({"Titel": "Tide Tables", "Breite [cm]": 1.2, "Höhe (in)": "8"}) == check_row(
        {"title": "Tide Tables", "width": "12mm", "height": "8in"}
    )


@pytest.mark.parametrize(
    ("said", "names"),
    [
        (("Dicke=width",), ("title", "width", "")),
        (("dicke = WIDTH", "Cloth=note"), ("title", "width", "")),
        (("Dicke [cm]=width",), ("title", "width", "")),
    ],
)
def test_what_a_column_means_can_be_said(said: tuple[str, ...], names: tuple[str, ...]) -> None:
    options = TableOptions(keep=("cloth",), columns=said)
    found = Columns.of(["title", "Dicke [cm]", "Cloth"], options, "books.csv:1")
    assert (found.names, found.units) == (names, ("", "cm", ""))
    assert (found.kept_names, found.note) == (("Cloth",), None)


@pytest.mark.parametrize(
    ("said", "message"),
    [
        (("Dicke",), "--column: no column with what it means: 'Dicke'; write it as"),
        (("=width",), "no column with what it means"),
        (("Dicke=",), "no column with what it means"),
        (("Dicke=widht",), "nothing that a column can mean: 'Dicke=widht'; did you mean 'width'"),
        (("Dicke=width", "dicke=height"), "said twice of one column: 'dicke=height'"),
        (("Dicke=width", "Cloth=width"), "said of two columns: 'Cloth=width'"),
        (("Thickness=width",), "--column: no such column in the table.*it has title, Dicke, Cloth"),
        (("Dicke=title", "Cloth=note"), "a column twice, as number 1 and 2: 'title, Dicke'"),
        (("Dicke=width",), "no column of that name is known: 'Cloth'"),
    ],
)
def test_what_cannot_be_said_of_a_column(said: tuple[str, ...], message: str) -> None:
    with pytest.raises(FieldError, match=message):
        Columns.of(["title", "Dicke", "Cloth"], TableOptions(columns=said), "books.csv:1")


def test_two_columns_for_one_meaning_are_refused() -> None:
    with pytest.raises(FieldError, match=r"as number 1 and 2: 'Titel, title'.*'Titel=note'"):
        columns("Titel", "title")
    found = Columns.of(["Titel", "title"], TableOptions(columns=("Titel=note",)), "books.csv:1")
    assert (found.names, found.kept) == (("", "title"), (0,))
    assert "a column twice" in check_row({"Titel": "Tides", "title": "Tides"})["error"]


def test_a_column_is_carried_along_where_asked() -> None:
    """Those for finding a book again are without asking."""
    found = columns("Shelfmark", "title", "Colour", "width", keep=("colour",))
    assert found.kept_names == ("Shelfmark", "Colour")
    assert found.names == ("", "title", "", "width")


def test_a_known_column_may_be_carried_along_and_still_counts() -> None:
    found = columns("title", "width", keep=("width",))
    assert (found.names, found.kept) == (("title", "width"), (1,))


def test_every_column_is_carried_along_where_all_are_asked_for() -> None:
    """In their order and as typed, those that mean something too."""
    found = columns("Title", "colour", "width", "lines", keep=("all",))
    assert found.kept_names == ("Title", "colour", "width", "lines")
    assert found.names == ("title", "", "width", "lines")


def test_the_answers_of_an_earlier_run_are_passed_over() -> None:
    """A column of the table of the same name still counts, if it stands before them."""
    names = (
        "line",
        "title",
        "lines",
        "verdict",
        "largest_pt",
        "lines",
        "answer",
        "date_pt",
        "cloth",
    )
    found = columns(*names, keep=("all",))
    assert found.names == ("", "title", "lines", "", "", "", "", "", "")
    assert found.kept_names == ("title", "lines", "cloth")
    assert columns(*names, keep=("all", "answer")).kept_names == (
        "title", "lines", "answer", "cloth",
    )  # fmt: skip
    with pytest.raises(FieldError, match="no column of that name is known: 'verdict'"):
        columns("title", "verdict")
    found = columns("Titel", "Breite", "title", "verdict", "largest_pt")
    assert found.names == ("title", "width", "", "", "")
    assert columns("Breite", "title", "verdict", "largest_pt").names == ("width", "title", "", "")


@pytest.mark.parametrize(
    ("names", "keep", "said"),
    [
        (("title", "band-height", "Band_Height"), (), "twice, as number 2 and 3"),
        (("author", "width"), (), "no column 'title'; say which column has them: --column 'NAME=t"),
        (("Titel laut\nListe", "Breite"), ("all",), "--column 'Titel laut Liste=title'$"),
        (("A list", ""), ("all",), "no column 'title'; the first line names the columns"),
        (("title", "width"), ("colour",), "--keep: no such column in the table: 'colour'"),
        (("ti\0tle",), (), "no text.*--encoding"),
    ],
)
def test_what_no_heading_may_be(names, keep, said) -> None:
    with pytest.raises(FieldError, match=said):
        columns(*names, keep=keep)


@pytest.mark.parametrize(
    "value", [2, 2.0, np.int64(2), np.uint8(2), np.float64(2), np.float32(2), np.float16(2)]
)
def test_a_whole_number_is_one_in_any_type(value: object) -> None:
    """A column of whole numbers with gaps is kept in floats; a volume is its figures."""
    assert repr(cell_value("lines", value)) == "2"
    assert cell_value("volume", value) == cell_value("title", value) == "2"


@pytest.mark.parametrize("value", [9.2, np.float64(9.2), np.float32(9.2), np.float16(9.2)])
def test_a_measure_is_the_figure_that_was_written(value: object) -> None:
    """A float of fewer bits would else be 9.19999980926514."""
    assert repr(cell_value("width", value)) == "9.2"


def test_a_figure_too_long_for_a_float_is_not_made_up() -> None:
    """Beyond 2 to the 53rd a float names no single whole number."""
    assert cell_value("date", 1e22) == 1e22
    assert isinstance(cell_value("width", 1e300), float)
    assert cell_value("width", Decimal("9.25")) == "9.25"


class NAType:
    """As a dataframe has one of its own, which answers no question by yes or no."""

    def __bool__(self) -> bool:
        raise TypeError("neither true nor false")


@pytest.mark.parametrize(
    "value", [None, float("nan"), np.nan, np.float32("nan"), Decimal("NaN"), NAType()]
)
def test_a_gap_says_nothing(value: object) -> None:
    """In a number, in a text of the back, and for what holds for every row."""
    assert cell_value("height", value) is None
    found = check_row(BOOK | {"author": value, "lines": value, "market": value})
    own = {name: found.pop(name) for name in list(found) if name.startswith("author_")}
    assert set(own.values()) == {None}  # an engine wants the same columns of every row
    assert found == check_row(BOOK)
    assert check_row(BOOK, defaults={"height": value, "market": value}) == found


@pytest.mark.parametrize("value", [True, np.True_, [9], np.array([9]), {"a": 1}, object()])
def test_what_is_no_figure_is_told(value: object) -> None:
    """Not taken for 1, and no crash."""
    found = check_row(BOOK | {"width": value})
    assert (found["verdict"], "column 'width': " in found["error"]) == ("", True)


def test_a_text_of_another_library_is_a_text() -> None:
    """Numpy's are texts with a name of their own."""
    assert type(cell_value("title", np.str_("Tide Tables"))) is str
    names = {np.str_(name): value for name, value in BOOK.items()}
    assert check_row(names) == check_row(BOOK)


def test_columns_kept_are_handed_through_as_they_are() -> None:
    """By name, or all; where the answer has a column of the same name, that stays the answer's."""
    row = {"ISBN": 9, "Price": 2.5, 7: None} | BOOK
    assert "give keep=['all']" in check_row(row)["error"]
    assert "give keep=['Price']" in check_row({"Price": 2.5} | BOOK)["error"]
    named = check_row(row, keep=["price", "7"])
    assert list(named)[:4] == ["ISBN", "Price", "7", "title"]
    assert (named["ISBN"], named["Price"], named["7"], named["error"]) == (9, 2.5, None, "")
    assert check_row(row, keep="all") == {**BOOK, **named}
    assert check_row({**BOOK, "lines": 2}, keep="all")["lines"] == "The Harbour / Light"
    assert check_row(BOOK, keep=["width"]) == {"width": 9} | check_row(BOOK)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"verdict": "yes"}, "column 'verdict': the results have a column of that name"),
        ({"Title": "Tides"}, "column 'Title': a column twice"),
        ({"": 1}, "a column without a name"),
    ],
)
def test_what_cannot_be_kept_is_told_with_the_rest_handed_through(row, said) -> None:
    """The row is at fault, and still known by its number."""
    found = check_row(BOOK | row | {"id": 7}, keep=["verdict"])
    assert (found["id"], found["title"], found["verdict"]) == (7, "The Harbour Light", "")
    assert said in found["error"]


@pytest.mark.parametrize(
    ("name", "typed", "meant"),
    [
        ("bands", "5.0", "5"),
        ("lines", " 2.00 ", "2"),
        ("face", "1.0", "1"),
        ("volume", "3.0", "3"),
        ("date", "1907.0", "1907"),
        ("title", "3.0", "3.0"),
        ("bands", "5.5", "5.5"),
        ("width", "13.0", "13.0"),
        ("recess", "TRUE", "yes"),
        ("recess", "False", "no"),
        ("recess", True, "yes"),
        ("recess", 1.0, "yes"),
        ("recess", "YES", "YES"),
        ("title", "True", "True"),
    ],
)
def test_what_a_program_wrote_for_a_whole_number_or_a_yes(name, typed, meant) -> None:
    assert cell_value(name, typed) == meant


# Decimal commas are read where they can be nothing else, and never guessed at.


@pytest.mark.parametrize(
    ("name", "typed", "same"),
    [
        ("width", "13,5", "13.5"),
        ("width", "13,5..15,5mm", "13.5..15.5mm"),
        ("panel", "20,5x30,25mm", "20.5x30.25mm"),
        ("old-lettering", "22,5x12,5@35,5", "22.5x12.5@35.5"),
        ("size", "10,5", "10.5"),
        ("tracking", "12,5", "12.5"),
        ("leading", "1,15", "1.15"),
        ("sizes", "10,5;12,5", "10.5;12.5"),
        ("sizes", "10,12", "10,12"),
        ("sizes", "10,12,14", "10,12,14"),
        ("bands-at", "40,5;80,5;120", "40.5;80.5;120"),
        ("bands-at", "40,80", "40,80"),
    ],
)
def test_it_is_read_as_if_it_had_a_point(name: str, typed: str, same: str) -> None:
    read = field_named(name).kind.read
    refuse_either(name, typed)
    assert read(cell_value(name, typed)) == read(same)


@pytest.mark.parametrize("typed", ["1,234", "1.234,5", "1,2,3", "13,555"])
def test_what_may_be_thousands_is_refused_by_the_field(typed: str) -> None:
    refuse_either("width", typed)
    with pytest.raises(SpinefitError, match=typed):
        field_named("width").kind.read(cell_value("width", typed))


@pytest.mark.parametrize("typed", ["10,5", " 14,10 pt", "8,8"])
def test_a_list_that_falls_may_be_one_figure(typed: str) -> None:
    with pytest.raises(SpinefitError, match="may part two figures or begin decimals"):
        refuse_either("sizes", typed)


@pytest.mark.parametrize("name", ["title", "font", "axes", "keep-free", "panel-outline", "set"])
def test_other_cells_stay(name: str) -> None:
    refuse_either(name, "1,5")
    assert cell_value(name, "1,5") == "1,5"


def test_a_column_of_the_name_of_a_result_is_carried_along() -> None:
    """As the cure says; ours gets another name, and a second run tells the two apart."""
    with pytest.raises(FieldError, match="--keep 'Verdict'"):
        columns("title", "Verdict")
    found = columns("Line", "title", "Verdict", keep=("Line", "Verdict"))
    settings = Settings(form="csv", kept=found.kept_names)
    written = head_of(settings).rstrip().split(",")
    assert written[:6] == ["found_line", "Line", "Verdict", "title", "found_verdict", "largest_pt"]
    again = columns(*written, keep=("all",))
    assert again.kept_names == ("Line", "Verdict", "title")


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("Breite/mm", "mm"), ("Breite / cm", "cm"), ('Breite ["]', "in"), ("Breite (″)", "in"),
        ("Width, in", "in"), ("Width,cm", "cm"), ("Rücken-\nbreite\n(mm)", "mm"),
    ],
)  # fmt: skip
def test_units_stand_in_headings_in_many_ways(name: str, unit: str) -> None:
    found = columns("Title", name)
    assert (found.names, found.units) == (("title", "width"), ("", unit))


def test_nothing_far_off_is_taken_for_what_was_meant() -> None:
    """And a usual name is spelt as it is written."""
    with pytest.raises(FieldError) as refused:
        columns("Titel", "Breite", "Dicke", "Höhhe")
    assert "'Dicke', 'Höhhe' ('Höhe'?)" in str(refused.value)


def test_a_name_in_several_lines_is_told_in_one() -> None:
    note = columns("Titel", "Rücken-\nbreite\n(mm)").note
    assert note is not None and note.endswith("'Rückenbreite (mm)=width'")
