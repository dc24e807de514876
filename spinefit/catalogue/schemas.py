"""Which keys has the JSON that is written, and what may stand in them?

The files in ``spinefit/data/schema`` are JSON Schema 2020-12, one for each kind of object. In:
the kind. Out: its schema with those that it refers to inside it, whole in itself. A number is
the same as long as keys are only added; a key renamed, moved or taken away makes it the next.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from spinefit.catalogue.tables import DATA, text_of
from spinefit.errors import FieldError

__all__ = ["schema", "schema_names"]

_FOLDER = DATA / "schema"
_ENDING = ".json"
_PREFIX = "spinefit."  # apart from the names that a file gives its own parts


def schema_names() -> tuple[str, ...]:
    """Every kind of object that is written as JSON, in the order of the alphabet."""
    return tuple(sorted(path.stem for path in _FOLDER.glob(f"*{_ENDING}")))


def schema(name: str) -> dict[str, Any]:
    """The JSON Schema of one kind of object that is written.

    Args:
        name: report, back, backs, set, pattern, sheet, worksheet, batch (a line of JSON Lines),
            partial, fonts, markets or methods.

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
    whole = _read(name)
    inside: dict[str, Any] = {}
    waiting = [*_others(whole)]
    while waiting:
        other = waiting.pop()
        if other not in inside and other != name:
            inside[other] = _read(other)
            waiting += _others(inside[other])
    if inside:
        whole["$defs"] = whole.get("$defs", {}) | {
            f"{_PREFIX}{other}": part for other, part in sorted(inside.items())
        }
    return whole


def _read(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(text_of(_FOLDER / f"{name}{_ENDING}"))
    return found


def _others(part: Any) -> Iterator[str]:
    """The schemas that one refers to by their identifier, ``urn:spinefit:NAME:NUMBER``."""
    if isinstance(part, dict):
        refers = part.get("$ref", "")
        if isinstance(refers, str) and refers.startswith("urn:"):
            yield refers.split(":")[2]
        part = list(part.values())
    if isinstance(part, list):
        for each in part:
            yield from _others(each)
