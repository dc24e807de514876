"""What the names in a heading mean."""

from __future__ import annotations

import pytest

from spinefit.batch.columns import Columns, meaning_of
from spinefit.errors import FieldError


def columns(*names: str, keep: tuple[str, ...] = ()) -> Columns:
    return Columns.of(names, keep=keep, where="books.csv:1")


@pytest.mark.parametrize("name", ["band-height", "Band_Height", " BAND HEIGHT "])
def test_an_option_of_check_may_be_a_column(name) -> None:
    """With underscores, spaces and capitals too."""
    assert meaning_of(name) == "band-height"


def test_an_unknown_column_is_refused_with_the_nearest() -> None:
    """A slip must not be taken for a remark."""
    with pytest.raises(FieldError, match=r"column 2: .*'widht'.*did you mean 'width'.*--keep"):
        columns("title", "widht")


def test_a_column_is_carried_along_where_asked() -> None:
    """Those for finding a book again are without asking."""
    found = columns("Shelfmark", "title", "Colour", "width", keep=("colour",))
    assert found.kept_names == ("Shelfmark", "Colour")
    assert found.names == ("", "title", "", "width")


def test_a_known_column_may_be_carried_along_and_still_counts() -> None:
    found = columns("title", "width", keep=("width",))
    assert (found.names, found.kept) == (("title", "width"), (1,))


def test_every_unknown_column_is_carried_along_where_all_are_asked_for() -> None:
    found = columns("title", "colour", "width", "cloth", keep=("all",))
    assert found.kept_names == ("colour", "cloth")


@pytest.mark.parametrize(
    ("names", "keep", "said"),
    [
        (("title", "band-height", "Band_Height"), (), "twice, as number 2 and 3"),
        (("author", "width"), (), "no column 'title'"),
        (("title", "", "width"), (), "column 2: a column without a name"),
        (("title", "width"), ("colour",), "--keep: no such column to keep: 'colour'"),
        (("title", "verdict"), ("verdict",), "the results have a column of that name"),
        (("title", "lines"), ("lines",), "the results have a column of that name"),
        (("ti\0tle",), (), "no text.*UTF-16"),
    ],
)
def test_what_no_heading_may_be(names, keep, said) -> None:
    with pytest.raises(FieldError, match=said):
        columns(*names, keep=keep)
