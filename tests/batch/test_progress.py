"""Where an interrupted batch goes on."""

from __future__ import annotations

import json

import pytest

from spinefit.batch.model import Fault, Row, Settings
from spinefit.batch.progress import Journal, fresh_mark, read_mark
from spinefit.batch.work import Done, Unit
from spinefit.errors import JobError

FRESH = fresh_mark(Settings(), "1")


def units(*titles: str) -> list[Unit]:
    return [Unit((Row(line, {"title": title}),)) for line, title in enumerate(titles, 2)]


def begun(*titles: str, done: int) -> Journal:
    journal = Journal(FRESH, "books.csv")
    list(journal.to_do(units(*titles)))
    for _ in range(done):
        journal.done(Done("x", ("fits",), ()), 10)
    return journal


def test_what_is_done_is_passed_over() -> None:
    mark = begun("a", "b", "c", done=2).mark
    assert (mark.rows, mark.written_bytes, mark.counts["fits"]) == (2, 20, 2)
    again = Journal(mark, "books.csv")
    assert [unit.rows[0].cells["title"] for unit in again.to_do(units("a", "b", "c"))] == ["c"]


@pytest.mark.parametrize("titles", [("a", "other", "c"), ("a",), ()])
def test_another_table_is_refused(titles) -> None:
    """One changed before the mark, or shorter than what was done."""
    mark = begun("a", "b", "c", done=2).mark
    with pytest.raises(JobError, match="the table has changed"):
        list(Journal(mark, "books.csv").to_do(units(*titles)))


def test_a_table_that_grew_at_its_end_goes_on() -> None:
    mark = begun("a", "b", done=2).mark
    assert len(list(Journal(mark, "books.csv").to_do(units("a", "b", "c", "d")))) == 2


def test_a_mark_comes_back_as_it_was_saved() -> None:
    """With the faults that were counted, so that another run counts on."""
    journal = begun("a", "b", "c", done=1)
    bad = Fault("width", "no unit 'mn' here: '9mn'; use mm")
    assert journal.done(Done("x", ("", ""), ((3, bad), (4, bad)), minded=1), 10)
    found = read_mark(journal.mark.as_json(), FRESH, "x")
    assert found == journal.mark
    assert (found.minded, found.kinds) == (1, {"column 'width': no unit 'mn' here": (2, (3, 4))})


def test_rows_that_count_as_failed_are_counted_on() -> None:
    """A run that goes on ends with the code of one that was never interrupted."""
    journal = begun("a", "b", "c", done=0)
    journal.done(Done("x", ("fits",), (), failed=1), 10)
    mark = read_mark(journal.mark.as_json(), FRESH, "x")
    again = Journal(mark, "books.csv")
    list(again.to_do(units("a", "b", "c")))
    again.done(Done("x", ("fits", "tight"), (), failed=1), 10)
    assert (mark.failed, again.mark.failed) == (1, 2)


def test_other_options_are_refused() -> None:
    other = fresh_mark(Settings(slash_breaks=True), "1")
    assert fresh_mark(Settings(), "2").asked != FRESH.asked
    with pytest.raises(JobError, match="other options"):
        read_mark(other.as_json(), FRESH, "x")


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", "null", '{"schema": "spinefit.partial/1"}',
     json.dumps({"schema": "spinefit.partial/1", **FRESH._asdict(), "rows": -1}),
     json.dumps({"schema": "spinefit.partial/1", **FRESH._asdict(), "minded": "2"}),
     json.dumps({"schema": "spinefit.partial/1", **FRESH._asdict(), "kinds": {"x": [1, ["2"]]}}),
     json.dumps({"schema": "spinefit.partial/1", **FRESH._asdict(), "failed": "1"}),
     json.dumps({"schema": "spinefit.partial/1", **FRESH._asdict(), "counts": {"fits": 1}})],
)  # fmt: skip
def test_what_is_no_mark_is_refused(text) -> None:
    with pytest.raises(JobError, match="no record of a partial result"):
        read_mark(text, FRESH, "x")
