"""Which books stand in a table that was opened in the page?

In: its bytes. Out: a draft for each book, the rows of one set being the volumes of one, read by
the reader of tables; a row at fault with its line and what is wrong, and no draft.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from spinefit.batch.cells import values_of
from spinefit.batch.columns import EVERY, ROLES, on_one_line
from spinefit.batch.model import Row, TableOptions
from spinefit.batch.reading import Table, read_table
from spinefit.batch.work import units
from spinefit.errors import SpinefitError

_MOST_BOOKS = 2000  # in a list that somebody chooses from


def books_in(path: Path, name: str) -> dict[str, Any]:
    """The books of a table, and whether there are more than are listed.

    Args:
        path: where it lies.
        name: what it is called.

    Raises:
        SpinefitError: it is no table.
    """
    with path.open("rb") as stream:
        table = read_table(stream, name, TableOptions(keep=(EVERY,)))
        found: list[dict[str, Any]] = []
        more = False
        for unit in units(table.rows):
            if len(found) == _MOST_BOOKS:
                more = True
                break
            found.append(_book(unit.rows, unit.set_name))
    notes = filter(None, [*table.notes, table.foot.note, _left_aside(table)])
    return {"books": found, "more": more, "notes": list(notes)}


def _left_aside(table: Table) -> str:
    """Which columns say nothing of a book, lest a name that was misspelt be missed."""
    names = zip(table.style.heading, table.meanings, strict=False)
    aside = [f"'{on_one_line(name)}'" for name, means in names if name.strip() and not means]
    return f"columns left aside: {', '.join(aside)}" if aside else ""


def _book(rows: tuple[Row, ...], set_name: str) -> dict[str, Any]:
    first = rows[0]
    told = {"line": first.line, "name": set_name or first.title}
    try:
        fault = next(filter(None, (row.fault for row in rows)), None)
        if fault is not None:
            return {**told, "fault": fault.line, "draft": None}
        return {**told, "fault": "", "draft": _draft(rows, in_set=bool(set_name))}
    except SpinefitError as found:
        return {**told, "fault": str(found), "draft": None}


def _draft(rows: tuple[Row, ...], *, in_set: bool) -> dict[str, Any]:
    volumes: list[dict[str, Any]] = [
        {
            "label": str(row.cells.get("label", "")) or (f"Vol. {at}" if in_set else ""),
            "apart": _yes(row.cells.get("apart")),
            "values": {k: _typed(v) for k, v in values_of(row.cells, {}).items()},
            "texts": list(_texts(row)),
        }
        for at, row in enumerate(rows, 1)
    ]
    if len(volumes) > 1:
        shared = _shared([one["values"] for one in volumes])
        for one in volumes:
            one["values"] = {k: v for k, v in one["values"].items() if k not in shared}
    else:
        shared, volumes[0]["values"] = volumes[0]["values"], {}
    return {"values": shared, "sheet": {}, "volumes": volumes}


def _texts(row: Row) -> Iterator[dict[str, str]]:
    for role in ROLES:
        if role in row.cells:
            yield {"role": role, "text": str(row.cells[role])}


def _shared(values: Iterable[dict[str, Any]]) -> dict[str, Any]:
    """What all volumes say alike."""
    first, *others = values
    return {k: v for k, v in first.items() if all(other.get(k) == v for other in others)}


def _typed(value: object) -> object:
    return value if isinstance(value, str | int | float | bool | list) else str(value)


def _yes(value: object) -> bool | None:
    return None if value is None else str(value).strip().casefold() in ("yes", "true", "1")
