"""How is a table of the trade read, or a schema of the JSON that is written?

The one door to the files in ``spinefit/data``: a whole file, or one of its tables without
parsing the others. A number without unit, source or status is refused. The files in its folder
``schema`` are JSON Schema 2020-12, one for each kind of object, and are handed out with those that
they refer to inside them. A number of a schema is the same as long as keys are only added; a key
renamed, moved or taken away makes it the next. A rim: it reads files.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from spinefit.errors import CatalogueError, FieldError
from spinefit.vocabulary import Sourced, SourcedList, Status

DATA = Path(__file__).parent.parent / "data"
"""Where our tables lie."""

_SCHEMAS = DATA / "schema"
_ENDING = ".json"
_PREFIX = "spinefit."  # apart from the names that a file gives its own parts

_KEYS = ("value", "unit", "source", "status")
_EXAMPLE = 'write { value = 0.3, unit = "mm", source = "who says so", status = "practice" }'


def read(path: Path) -> dict[str, Any]:
    """All tables of one of our files."""
    with path.open("rb") as file:
        return tomllib.load(file)


def text_of(path: Path) -> str:
    """One of our files as it stands."""
    return path.read_text(encoding="utf-8")


def read_lines(path: Path) -> list[str]:
    """The lines of one of our plain lists, without its remarks."""
    lines = text_of(path).splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def read_table(path: Path, name: str) -> dict[str, Any] | None:
    """One table of a file, without parsing the others; None where there is none.

    In our own data files a line that begins with a bracket is a table's head and nothing else;
    a table inside another, asked for as ``outer.inner``, is no part of that.
    """
    text = text_of(path)
    start = text.find(f"\n[{name}]")
    if start < 0:
        return None
    end = text.find("\n[", start + 1)
    table: dict[str, Any] = tomllib.loads(text[start : end if end >= 0 else None])
    for part in name.split("."):
        table = table[part]
    return table


def read_parts(path: Path, table: str) -> list[str]:
    """The texts of an array of tables, unparsed, in the order of the file."""
    return text_of(path).split(f"\n[[{table}]]\n")[1:]


def parse_part(part: str) -> dict[str, Any]:
    """One of the texts of `read_parts` as a table."""
    return tomllib.loads(part)


def sourced(row: Any, where: str) -> Sourced:
    """The number of a row, with its provenance.

    Args:
        row: a table with ``value``, ``unit``, ``source`` and ``status``.
        where: the row's file, table and key, for messages.

    Raises:
        CatalogueError: one of the four is missing or cannot be.
    """
    given = _row(row, where)
    try:
        value = float(given["value"])
    except (TypeError, ValueError, OverflowError):
        raise _no_number(given["value"], where) from None
    return Sourced(value, *_provenance(given, where))


def sourced_list(row: Any, where: str) -> SourcedList:
    """The numbers of a row whose ``value`` is a list, with their provenance.

    Raises:
        CatalogueError: as for `sourced`, or no number in the list.
    """
    given = _row(row, where)
    values = given["value"]
    if not isinstance(values, list | tuple) or not values:
        raise _no_number(values, where)
    try:
        numbers = tuple(map(float, values))
    except (TypeError, ValueError, OverflowError):
        raise _no_number(values, where) from None
    return SourcedList(numbers, *_provenance(given, where))


def _row(row: Any, where: str) -> dict[str, Any]:
    """A row with all of its keys."""
    lacking = [key for key in _KEYS if not isinstance(row, dict) or key not in row]
    if lacking:
        raise CatalogueError(
            f"a number without {' and '.join(lacking)}", where=where, remedy=_EXAMPLE
        )
    given: dict[str, Any] = row
    return given


def _provenance(row: dict[str, Any], where: str) -> tuple[str, str, Status]:
    """Unit, source and status."""
    unit, source, status = row["unit"], row["source"], row["status"]
    if not isinstance(unit, str):
        raise CatalogueError("a unit must be a text", value=unit, where=where, remedy=_EXAMPLE)
    if not isinstance(source, str) or not source.strip():
        raise CatalogueError("a number needs a source", where=where, remedy="say who gives it")
    if status not in list(Status):
        raise CatalogueError(
            "no such status", value=status, where=where, remedy=f"choose from {', '.join(Status)}"
        )
    return unit, source, Status(status)


def _no_number(value: object, where: str) -> CatalogueError:
    return CatalogueError("not a number", value=value, where=where, remedy=_EXAMPLE)


def schema_names() -> tuple[str, ...]:
    """Every kind of object that is written as JSON, in the order of the alphabet."""
    return tuple(sorted(path.stem for path in _SCHEMAS.glob(f"*{_ENDING}")))


def schema(name: str) -> dict[str, Any]:
    """The JSON Schema of one kind of object that is written.

    Args:
        name: report, back, backs, set, pattern, sheet, worksheet, batch (a line of JSON Lines),
            partial, fonts, markets, methods or error.

    Returns:
        The schema as plain dictionaries, new at each call. It knows the keys of this version
        and no others; others may be added under the same number.

    Raises:
        FieldError: there is no such kind.

    >>> schema("report")["properties"]["schema"]
    {'const': 'spinefit.report/1'}
    """
    if name not in schema_names():
        raise FieldError(
            "no such schema", value=name, where="name",
            remedy=f"choose from {', '.join(schema_names())}",
        )  # fmt: skip
    whole = _read_schema(name)
    inside: dict[str, Any] = {}
    waiting = [*_schemas_in(whole)]
    while waiting:
        other = waiting.pop()
        if other not in inside and other != name:
            inside[other] = _read_schema(other)
            waiting += _schemas_in(inside[other])
    if inside:
        whole["$defs"] = whole.get("$defs", {}) | {
            f"{_PREFIX}{other}": part for other, part in sorted(inside.items())
        }
    return whole


def _read_schema(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(text_of(_SCHEMAS / f"{name}{_ENDING}"))
    return found


def _schemas_in(part: Any) -> Iterator[str]:
    """The schemas that one refers to by their identifier, ``urn:spinefit:NAME:NUMBER``."""
    if isinstance(part, dict):
        refers = part.get("$ref", "")
        if isinstance(refers, str) and refers.startswith("urn:"):
            yield refers.split(":")[2]
        part = list(part.values())
    if isinstance(part, list):
        for each in part:
            yield from _schemas_in(each)
