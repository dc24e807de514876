"""Which methods does a binder's own file describe?

In: the path of a TOML file, a table for each method, with the keys of
`spinefit.catalogue.method_table`. A number may be a whole row, or bare (``0.3``) or a text with
its unit (``"0.3mm"``): then the binder is its source. ``like`` names the method that a table
takes its other numbers from. Out: the methods by name, whole and checked.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from spinefit import catalogue
from spinefit.catalogue.method_table import NUMBER_KEYS, Method, method_of
from spinefit.errors import CatalogueError, FieldError, SpinefitError, did_you_mean
from spinefit.job import values
from spinefit.job.toml_file import once_a_change, read_toml
from spinefit.provenance import Status

__all__ = ["pick_method", "read_methods"]

_OWN = {"source": "the binder's own", "status": str(Status.PRACTICE)}
_EXAMPLE = 'begin each method with its name in brackets, [our-labels], then like = "paper-label"'
_LONGEST_CHAIN = 20  # of methods each like the next: past any use


@once_a_change
def read_methods(path: str) -> Mapping[str, Method]:
    """The methods of a file, by name.

    Args:
        path: the file.

    Raises:
        JobError: no such file, or not a TOML file.
        CatalogueError: no method in it, or a table that is at fault; file, table and key are
            named.
    """
    tables = read_toml(path, "method file", _EXAMPLE)
    where = path
    if not tables:
        raise CatalogueError("no method in the file", where=where, remedy=_EXAMPLE)
    for key, table in tables.items():
        if not isinstance(table, dict):
            raise CatalogueError("not a method", value=key, where=where, remedy=_EXAMPLE)
        if not key.strip() or not key.isprintable():
            raise CatalogueError("no name for a method", value=key, where=where, remedy=_EXAMPLE)
    return {key: _method(key, tables, where, ()) for key in tables}


def pick_method(name: str | None, own: Mapping[str, Method], path: str) -> Method:
    """The method of that name, a binder's own or a known one.

    Args:
        name: what was asked for; None where nothing was.
        own: the methods of the binder's file.
        path: the file, for messages.

    Raises:
        FieldError: there is none of that name, or several and none was asked for.
    """
    if name is None:
        if len(own) == 1:
            return next(iter(own.values()))
        raise FieldError(
            f"{len(own)} methods in the file", value=path,
            remedy=f"name one with --method: {', '.join(own)}",
        )  # fmt: skip
    if name in own:
        return own[name]
    known = catalogue.methods()
    if name in known:
        return known[name]
    hint = did_you_mean(name, (*known, *own), otherwise=f"methods of the file: {', '.join(own)}")
    raise FieldError("no such method", value=name, remedy=hint)


def _method(key: str, tables: Mapping[str, Any], where: str, trail: tuple[str, ...]) -> Method:
    """One method of a file; ``trail`` names those that are like it."""
    at = f"{where}: [{key}]"
    if key in trail or len(trail) > _LONGEST_CHAIN:
        raise CatalogueError(
            "methods that are like each other", value=key, where=f"{where}: [{trail[0]}] like",
            remedy="let one of them give its own numbers",
        )  # fmt: skip
    table = dict(tables[key])
    like = None
    if "like" in table:
        like = _likeness(table.pop("like"), key, tables, where, trail)
    return method_of(
        key, {name: _whole(name, value, at) for name, value in table.items()}, at, like=like
    )


def _likeness(
    name: object, key: str, tables: Mapping[str, Any], where: str, trail: tuple[str, ...]
) -> Method:
    """The method that another is like: of the same file, or a known one."""
    if isinstance(name, str) and name in tables and name != key:
        return _method(name, tables, where, (*trail, key))
    known = catalogue.methods()
    if isinstance(name, str) and name in known:
        return known[name]
    hint = did_you_mean(
        str(name), (*known, *tables), otherwise=f"known methods: {', '.join(known)}"
    )
    raise CatalogueError("no such method", value=name, where=f"{where}: [{key}] like", remedy=hint)


def _whole(name: str, value: object, where: str) -> object:
    """A value in the form of our own data: each number a whole row."""
    if name not in NUMBER_KEYS:
        return value
    at = f"{where} {name}"
    row = value if isinstance(value, dict) else {"value": value}
    for key in row:
        if key not in ("value", "unit", "source", "status"):
            raise CatalogueError(
                "no such part of a number", value=key, where=at,
                remedy="it has value, unit, source and status",
            )  # fmt: skip
    whole: dict[str, object] = {"unit": name[-2:], **_OWN, **row}
    if "value" in row:
        whole["value"] = _number(name, row["value"], at)
    return whole


def _number(name: str, value: object, where: str) -> object:
    """The number a value means, in the unit its key ends with."""
    read = {"sizes_pt": values.sizes_pt}.get(name) or (
        values.size_pt if name.endswith("_pt") else values.length
    )
    try:
        return read(value)
    except SpinefitError as fault:
        raise CatalogueError(
            fault.what, value=fault.value, where=where, remedy=fault.remedy
        ) from None
