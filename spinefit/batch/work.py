"""What does a worker do with a chunk of rows?

In: `Unit`s, each a book or all the volumes of a set. Out: a `Done`, finished text and what to
count, so that nothing large travels back between processes. Fonts and tables stay open in the
process that runs it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.batch.books import Answered, answer_book, answer_set
from spinefit.batch.model import Fault, Result, Row, Settings
from spinefit.batch.writing import rows_of

__all__ = ["Done", "Unit", "failed", "work"]


class Unit(NamedTuple):
    """What is answered together.

    Attributes:
        rows: one book, or the volumes of a set in their order.
        set_name: the set's name, or "".
    """

    rows: tuple[Row, ...]
    set_name: str = ""


class Done(NamedTuple):
    """A chunk that is done.

    Attributes:
        text: its rows as they are written.
        verdicts: the verdict of each row, "" where it is at fault.
        faults: line and fault of the rows at fault.
    """

    text: str
    verdicts: tuple[str, ...]
    faults: tuple[tuple[int, str], ...]


def work(settings: Settings, units: Sequence[Unit]) -> Done:
    """The answers for some books.

    Args:
        settings: what holds for every row.
        units: the books.
    """
    answered: list[Answered] = []
    for unit in units:
        answered += _answers(unit, settings)
    return _done(answered, settings)


def failed(settings: Settings, unit: Unit, text: str) -> Done:
    """What is written for a book that could not be worked on at all.

    Args:
        settings: what holds for every row.
        unit: the book or set.
        text: why.
    """
    return _done(
        [
            Answered(row, Result(row.line, str(row.cells.get("title", "")), fault=Fault("", text)))
            for row in unit.rows
        ],
        settings,
    )


def _answers(unit: Unit, settings: Settings) -> list[Answered]:
    try:
        if unit.set_name:
            return answer_set(unit.rows, settings)
        return [answer_book(row, settings) for row in unit.rows]
    except Exception as fault:  # a fault of ours in one book must not cost the others
        found = Fault("", f"internal fault: {type(fault).__name__}: {fault}; please report it")
        return [
            Answered(row, Result(row.line, str(row.cells.get("title", "")), fault=found))
            for row in unit.rows
        ]


def _done(answered: Sequence[Answered], settings: Settings) -> Done:
    results = [one.result for one in answered]
    return Done(
        rows_of(answered, settings),
        tuple(found.verdict for found in results),
        tuple((found.line, found.fault.line) for found in results if found.fault is not None),
    )
