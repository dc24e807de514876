"""How are results put in another order, or into a whole that cannot be written row by row?

In: answered rows. Out: a line of JSON for each while the batch goes on, with what it is sorted by
and the row as its form has it; at the end these rows in their order. Of every row only what it is
sorted by and its place are kept in memory.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import IO, Any

from spinefit.batch.books import Answered
from spinefit.batch.columns import plain_name
from spinefit.batch.model import Result, Settings
from spinefit.batch.results import headings, value_in
from spinefit.errors import FieldError, nearest

_FIGURES = re.compile("([0-9]+)")

# What a person calls the size that is set, and measures of the table that are judged in mm.
_CALLED = {"size": "set_pt", "width": "width_mm", "height": "height_mm"}


def columns_to_sort_by(
    typed: str, settings: Settings, table: Mapping[str, str] = {}
) -> tuple[str, ...]:
    """The columns that rows are sorted by, one that falls with a minus in front.

    Of a result and a column of the table with the same name it is the result.

    Args:
        typed: their names, commas between them.
        settings: which columns the results have.
        table: the names of the table's columns, with what each means; "" where nothing.

    Raises:
        FieldError: no such column.

    >>> columns_to_sort_by("method,-size,Verfasser", Settings(), {"Verfasser": "author"})
    ('method', '-set_pt', 'author')
    """
    own = Result(0).values(settings.texts)
    usual = {**{meaning: meaning for meaning in table.values()}, **_CALLED}
    of_table = {name: usual[meaning] for name, meaning in table.items() if meaning}
    names = {name: name for name in settings.kept} | of_table | {name: name for name in own}
    names |= {heading: name for name, heading in headings(settings).items()}
    known = {plain_name(name): means for name, means in {**usual, **names}.items() if name}
    found = []
    for name in map(str.strip, typed.split(",")):
        falls, plain = name[:1] == "-", plain_name(name.removeprefix("-"))
        if plain not in known:
            like = nearest(plain, names)
            raise FieldError(
                "no such column to sort by", value=name, where="--sort",
                remedy=f"did you mean '{like}'?" if like else f"there are {', '.join(names)}",
            )  # fmt: skip
        found.append("-" * falls + known[plain])
    return tuple(found)


def lines(
    answered: Iterable[Answered],
    content: Callable[[Answered, Settings], object],
    settings: Settings,
) -> str:
    """A line for each row, while the batch goes on.

    Args:
        answered: the rows.
        content: what is held of a row.
        settings: what holds for every row.
    """
    held = ([_keys(one, settings), content(one, settings)] for one in answered)
    return "".join(f"{json.dumps(one)}\n" for one in held)


def cells_of(one: Answered, settings: Settings) -> object:
    """What goes into a workbook: its line, the cells carried along into a new one, its results."""
    values = one.result.values(settings.texts)
    values["verdict"] = values["verdict"] or "at fault"
    kept = () if settings.style.kind == "xlsx" else one.row.kept
    return one.result.line, kept, [values[name] for name in headings(settings)]


def in_order(held: IO[bytes], by: Iterable[str]) -> Iterator[Any]:
    """What is held of the rows, those at fault last.

    Args:
        held: the lines, from their beginning.
        by: the columns that they are sorted by; where two rows have the same there, and where
            there are none, they stay in the order of their table.
    """
    places, at = [], 0
    for line in held:
        at_fault, *keys = json.loads(line)[0]
        places.append((at_fault, keys, at))
        at += len(line)
    for number, name in reversed([*enumerate(by)]):
        places.sort(key=lambda one: _rank(one[1][number]), reverse=name.startswith("-"))
        places.sort(key=lambda one: one[1][number] in (None, ""))
    if by:
        places.sort(key=lambda one: one[0])
    for _at_fault, _keys, place in places:
        held.seek(place)
        yield json.loads(held.readline())[1]


def _keys(one: Answered, settings: Settings) -> list[str | float | bool | None]:
    """Whether a row is at fault, and what it is sorted by."""
    comma = settings.style.decimal_comma
    if one.result.fault is not None:
        return [True, *(None for _ in settings.sort)]  # in the order of the table
    kept = (value_in(text, comma=comma) for text in one.row.kept)
    cells = one.row.cells.items()
    found: dict[str, str | float | None] = {
        name: cell if isinstance(cell, int | float) else value_in(str(cell), comma=comma)
        for name, cell in cells
    }
    found |= dict(zip(settings.kept, kept, strict=True))
    found |= one.result.values(settings.texts)
    return [False, *(found.get(name.removeprefix("-")) for name in settings.sort)]


def _rank(value: str | float | None) -> tuple[bool, float, list[str | tuple[int, str]], str]:
    """Figures before texts; texts whatever their capitals and accents, figures in them by size."""
    if not isinstance(value, str):
        return False, value or 0.0, [], ""
    decomposed = unicodedata.normalize("NFKD", value.casefold())
    bare = "".join(char for char in decomposed if not unicodedata.combining(char))
    parts: list[str | tuple[int, str]] = []
    for at, part in enumerate(_FIGURES.split(bare)):  # every second one is figures
        figures = part.lstrip("0")
        parts.append((len(figures), figures) if at % 2 else part)
    return True, 0.0, parts, decomposed
