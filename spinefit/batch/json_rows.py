"""Which books stand in JSON Lines?

In: lines of text, each an object of column to value (jsonlines.org). Out: its `Row`s as they come,
and in which form it is written. A line that cannot be read is a row with a fault.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import suppress
from itertools import chain
from typing import Any, NamedTuple, NoReturn

from spinefit.batch.columns import CARRIED, Naming, Use, plain_name
from spinefit.batch.heading import naming_of, read_pairs
from spinefit.batch.model import TOO_LONG, Fault, Row, TableOptions, TableStyle
from spinefit.batch.text_stream import Lines, TooLongError, unreadable
from spinefit.errors import FieldError


def read_json_lines(
    lines: Lines, first: str, options: TableOptions
) -> tuple[JsonColumns, TableStyle, Iterator[Row]]:
    """What is carried along from JSON Lines, their form and their rows.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        options: how they are to be read; ``all`` keeps every column of the first row.
    """
    columns = JsonColumns.of(first, options)
    plain = first.rstrip("\r\n")
    style = TableStyle(
        kind="jsonl",
        newline=first[len(plain) :] or "\n",
        encoding=lines.encoding,
        marked=lines.marked,
        heading_row=lines.number,
        heading=tuple(name for name, _ in _pairs_of(first)),
    )
    return columns, style, _json_rows(lines, first, columns)


_PASSED_OVER = Use("", carried=False)


class JsonColumns(NamedTuple):
    """The names of the first row, understood, and what is carried along of every row.

    Attributes:
        kept_names: those carried along, as they were asked for.
        places: the same by plain name.
        naming: what the names of a row mean.
        names: what those of the first row mean.
        note: a line about its names that are not ours; None without any.
    """

    kept_names: tuple[str, ...]
    places: tuple[str, ...]
    naming: Naming
    names: tuple[str, ...]
    note: str | None

    @classmethod
    def of(cls, first: str, options: TableOptions) -> JsonColumns:
        """With ``all`` of every name in the first row."""
        names = [name for name, _ in _pairs_of(first)]
        naming = naming_of(options).over(names)
        uses = [_PASSED_OVER] * len(names)
        for at, name in enumerate(names):
            with suppress(FieldError):  # which the row itself reports
                uses[at] = naming.use_of(name)
        carried = {
            plain_name(name): name for name, use in zip(names, uses, strict=True) if use.carried
        }
        asked = {**naming.wanted, **{name: name for name in CARRIED}}
        kept = {**carried, **asked, **(carried if naming.every else {})}
        of_rows = naming._replace(every=False, wanted=kept)
        means = tuple(use.meaning for use in uses)
        return cls(tuple(kept.values()), tuple(kept), of_rows, means, naming.taken(names))


def _pairs_of(line: str) -> Sequence[tuple[str, Any]]:
    """The names and values of a row; none where it cannot be read, which the row itself reports."""
    try:
        pairs = _read_json(line)
    except _NO_JSON:
        return ()
    return pairs if isinstance(pairs, _Pairs) else ()


def _json_rows(lines: Lines, first: str, columns: JsonColumns) -> Iterator[Row]:
    """The rows, one at a time.

    Args:
        lines: those after the first.
        first: the first that is not blank.
        columns: what is carried along.
    """
    blank = ("",) * len(columns.kept_names)
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


def _json_row(number: int, line: str, columns: JsonColumns) -> Row | Fault:
    try:
        pairs = _read_json(line)
    except _NO_JSON as fault:
        return Fault("", f"no JSON object in one line ({_why(fault)})")
    if not isinstance(pairs, _Pairs):
        return Fault("", "no JSON object; write {...}, one a line")
    for name, value in pairs:
        if unfit := _unfit(name, value):
            return Fault(name, unfit)
    plain_pairs = [(n, dict(v) if isinstance(v, _Pairs) else v) for n, v in pairs]
    carried, cells, wrong = read_pairs(plain_pairs, columns.naming)
    texts = {plain_name(name): str(value) for name, value in carried.items() if value is not None}
    kept = tuple(texts.get(plain, "") for plain in columns.places)
    said = {name: value for name, value in cells.items() if value not in (None, "", [])}
    return Row(number, said, kept, wrong)


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
