"""Which rows are worked on together."""

from __future__ import annotations

from itertools import count, islice

from spinefit.batch.model import Fault, Row
from spinefit.batch.work import Unit, chunks, units


def rows(*sets: str) -> list[Row]:
    return [
        Row(line, {"title": "Tides"} | ({"set": name} if name else {}))
        for line, name in enumerate(sets, 2)
    ]


def shape(found: list[Unit]) -> list[tuple[str, list[int]]]:
    return [(unit.set_name, [row.line for row in unit.rows]) for unit in found]


def test_consecutive_rows_of_a_set_stay_together() -> None:
    found = list(units(rows("", "a", "a", "b", "", "")))
    assert shape(found) == [("", [2]), ("a", [3, 4]), ("b", [5]), ("", [6]), ("", [7])]


def test_a_set_that_comes_again_is_refused_where_it_does() -> None:
    found = list(units(rows("a", "a", "", "a", "a", "b")))
    assert shape(found) == [("a", [2, 3]), ("", [4]), ("", [5, 6]), ("b", [7])]
    assert all("farther up" in row.fault.text for row in found[2].rows)
    assert not any(row.fault for row in found[0].rows)


def test_a_row_that_cannot_be_read_is_of_the_set_around_it() -> None:
    """But not where another set or a book alone comes behind it."""
    unread = Fault("", "3 cells where the heading has 2")
    found = rows("a", "", "a", "", "b", "b", "")
    for at in (1, 3, 6):
        found[at] = found[at]._replace(cells={}, fault=unread)
    assert shape(list(units(found))) == [("a", [2, 3, 4]), ("", [5]), ("b", [6, 7]), ("", [8])]


def test_a_row_at_fault_that_says_its_set_is_of_that_set() -> None:
    """First, in the middle or last; one that says another, or none, is not."""
    found = rows("a", "a", "b", "b", "", "c", "c")
    for at in (1, 2, 4, 5):
        found[at] = found[at]._replace(fault=Fault("sizes", "a comma"))
    assert shape(list(units(found))) == [("a", [2, 3]), ("b", [4, 5]), ("", [6]), ("c", [7, 8])]


def test_a_set_without_end_is_not_held() -> None:
    """Past five hundred volumes it is refused, and reading goes on."""
    endless = (Row(line, {"title": "Tides", "set": "a"}) for line in count(2))
    first, second = islice(units(endless), 2)
    assert len(first.rows) == 501
    assert first.rows[-1].fault is not None
    assert "more than 500" in first.rows[-1].fault.text
    assert second.rows[0].fault is not None


def test_chunks_keep_every_unit_and_its_order() -> None:
    found = [Unit((row,)) for row in rows(*[""] * 100)]
    made = list(chunks(found))
    assert [unit for chunk in made for unit in chunk] == found
    assert len(made) > 1


def test_chunks_are_made_as_they_are_asked_for() -> None:
    endless = (Unit((Row(line, {}),)) for line in count())
    assert next(chunks(endless))[0].rows[0].line == 0
