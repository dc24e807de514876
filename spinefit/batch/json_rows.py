"""Which books stand in JSON Lines?

In: lines of text, each an object of column to value (jsonlines.org). Out: its `Row`s as they come,
and in which form it is written. A line that cannot be read is a row with a fault.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from typing import Any, NamedTuple, NoReturn

from spinefit.batch.cells import cell_value
from spinefit.batch.columns import (
    CARRIED,
    EVERY,
    KNOWN,
    ON_COMMAND_LINE,
    plain_name,
    refuse_clash,
    use_of,
)
from spinefit.batch.model import TOO_LONG, Fault, Row, TableStyle
from spinefit.batch.text_stream import Lines, TooLongError, unreadable
from spinefit.errors import SpinefitError


def read_json_lines(
    lines: Lines, first: str, keep: Sequence[str] | None
) -> tuple[tuple[str, ...], TableStyle, Iterator[Row]]:
    """The names carried along from JSON Lines, their form and their rows.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        keep: columns to carry along; ``all`` for every one of the first row.

    Raises:
        FieldError: the results have a column of a name to carry along.
    """
    columns = _JsonColumns.of(first, keep)
    plain = first.rstrip("\r\n")
    style = TableStyle(
        kind="jsonl",
        newline=first[len(plain) :] or "\n",
        encoding=lines.encoding,
        marked=lines.marked,
        heading_row=lines.number,
        heading=tuple(name for name, _ in _pairs_of(first)),
    )
    return columns.kept, style, _json_rows(lines, first, columns)


class _JsonColumns(NamedTuple):
    """What is carried along of every row.

    Attributes:
        kept: the names carried along, as they were asked for.
        places: their places by plain name.
        carry: how another one could be, for messages.
    """

    kept: tuple[str, ...]
    places: Mapping[str, int]
    carry: str | None

    @classmethod
    def of(cls, first: str, keep: Sequence[str] | None) -> _JsonColumns:
        """With ``all`` of every name in the first row."""
        wanted = {plain_name(name): name for name in (*(keep or ()), *CARRIED)}
        every = wanted.pop(EVERY, None) is not None
        if every:
            named = {plain_name(name): name for name, _ in _pairs_of(first)}
            wanted = named | {plain: name for plain, name in wanted.items() if plain not in named}
        for plain, name in wanted.items():
            if not (every and plain in KNOWN):
                refuse_clash(name, "--keep")
        places = {plain: at for at, plain in enumerate(wanted)}
        return cls(tuple(wanted.values()), places, None if keep is None else ON_COMMAND_LINE)


def _pairs_of(line: str) -> Sequence[tuple[str, Any]]:
    """The names and values of a row; none where it cannot be read, which the row itself reports."""
    try:
        pairs = _read_json(line)
    except _NO_JSON:
        return ()
    return pairs if isinstance(pairs, _Pairs) else ()


def _json_rows(lines: Lines, first: str, columns: _JsonColumns) -> Iterator[Row]:
    """The rows, one at a time.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        columns: what is carried along.
    """
    blank = ("",) * len(columns.kept)
    records = chain([first], lines)
    while True:
        lines.begin_record()
        try:
            line = next(records)
        except StopIteration:
            return
        except TooLongError:
            yield Row(lines.number, {}, blank, TOO_LONG)
            continue
        if line.strip():
            row = _json_row(lines.number, line, columns)
            yield Row(lines.number, {}, blank, row) if isinstance(row, Fault) else row


def _json_row(number: int, line: str, columns: _JsonColumns) -> Row | Fault:
    try:
        pairs = _read_json(line)
    except _NO_JSON as fault:
        return Fault("", f"no JSON object in one line ({_why(fault)})")
    if not isinstance(pairs, _Pairs):
        return Fault("", "no JSON object; write {...}, one a line")
    cells: dict[str, object] = {}
    carried = [""] * len(columns.kept)
    seen: set[str] = set()
    for name, value in pairs:
        plain = plain_name(name)
        wrong = _unfit(name, value) or (_TWICE if plain in seen else None)
        if wrong:
            return Fault(name, wrong)
        seen.add(plain)
        try:
            goes_along, meaning = use_of(name, columns.places, every=False, carry=columns.carry)
        except SpinefitError as fault:
            return Fault(name, str(fault))
        plain_value = dict(value) if isinstance(value, _Pairs) else value
        if goes_along and plain_value is not None:
            carried[columns.places[plain]] = str(plain_value)
        if meaning:
            cells[meaning] = cell_value(meaning, plain_value)
    said_cells = {name: value for name, value in cells.items() if value not in (None, "", [])}
    return Row(number, said_cells, tuple(carried))


_TWICE = "a column twice; keep one of them"


def _unfit(name: str, value: object) -> str | None:
    """What keeps a name and its value from being read."""
    wrong = unreadable(f"{name}{value}" if isinstance(value, str) else name)
    if not wrong and isinstance(value, _Pairs) and len(value) > len(dict(value)):
        return "a key twice; keep one of them"
    return wrong


def _read_json(line: str) -> object:
    return json.loads(
        line, object_pairs_hook=_Pairs, parse_constant=_no_number, parse_int=_whole_number
    )


_NO_JSON = (ValueError, RecursionError)


class _Pairs(list[tuple[str, Any]]):
    """An object of JSON, its keys as they stand, twice where they stand twice."""


def _whole_number(text: str) -> int:
    if len(text) > _MOST_DIGITS:
        raise ValueError(f"a number of {len(text)} digits")
    return int(text)


_MOST_DIGITS = 100


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} is no number")


def _why(fault: Exception) -> str:
    if isinstance(fault, RecursionError):
        return "nested too deeply"
    if isinstance(fault, json.JSONDecodeError):
        return f"{fault.msg} at character {fault.pos + 1}"
    return str(fault)
