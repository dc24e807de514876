"""How does a record become JSON?

In: a `Report`, or any record made of records, tuples, words and numbers. Out: one object with a
key for each field, in the order of the fields: keys may be added at the end of an object, never
renamed or moved. Lengths in mm and ratios are rounded to four decimals; sizes in points stand
as they are. There is no NaN in it, ever.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache, partial
from typing import Any, get_args, get_type_hints

from spinefit.job.resolved import ResolvedJob
from spinefit.say.remedies import remedies_of

__all__ = ["to_dict", "to_json"]

_DECIMALS = 4  # a tenth of a micrometre, far below anything that can be cut or set
_AS_THEY_ARE = frozenset({str, bool, int, float, type(None)})
_Reader = Callable[[Any], Any]
_OBJECTS: dict[str, _Reader] = {
    "FontReport.axes": dict,
    **dict.fromkeys(
        (f"RecessReport.{name}_mm" for name in ("label", "opening", "covered", "pressing_piece")),
        lambda sides: dict(zip(("width", "height", "thickness"), sides, strict=False)),
    ),
}
"""The fields that hold a tuple and are an object in JSON."""
_REMEDIES = "Report.to_improve"
"""The field in whose place JSON has what changes of that job would do."""


def to_json(record: Any) -> str:
    """The record as JSON text, indented, letters as themselves.

    Raises:
        ValueError: a figure is NaN or infinite, which would be a fault of ours.
    """
    return json.dumps(to_dict(record), ensure_ascii=False, indent=2, allow_nan=False)


def to_dict(record: Any) -> dict[str, Any]:
    """The record as plain dictionaries, lists, strings and numbers, in the fixed order."""
    kind: Any = type(record)
    readers = _readers(kind, getattr(record, "unit", "") == "pt")
    return {name: read(value) for (name, read), value in zip(readers, record, strict=True)}


@cache
def _readers(kind: Any, of_points: bool) -> list[tuple[str, _Reader]]:
    """How each field of a kind of record is read, one that counts in points or another."""
    readers: list[tuple[str, _Reader]] = []
    for name, hint in get_type_hints(kind).items():
        if f"{kind.__name__}.{name}" == _REMEDIES:
            readers.append(("remedies", _remedies))
            continue
        is_length = _may_be_fraction(hint) and not of_points and not name.endswith("_pt")
        in_full = _rounded if is_length else _plain
        shape = _OBJECTS.get(f"{kind.__name__}.{name}")
        readers.append((name, in_full if shape is None else partial(_shaped, shape, in_full)))
    return readers


def _may_be_fraction(hint: Any) -> bool:
    return hint is float or any(map(_may_be_fraction, get_args(hint)))


def _shaped(shape: _Reader, read: _Reader, value: Any) -> Any:
    return shape(read(value))


def _remedies(job: ResolvedJob | None) -> Any:
    return _plain(remedies_of(job))


def _plain(value: Any) -> Any:
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if isinstance(value, str):
        return str(value)  # the word of an enumeration
    return to_dict(value) if hasattr(kind, "_fields") else [_plain(each) for each in value]


def _rounded(value: Any) -> Any:
    """The same, its figures rounded, whole ones too; never minus zero."""
    kind = type(value)
    if kind is float or kind is int:
        return round(value, _DECIMALS) + 0.0
    if value is None or isinstance(value, str) or hasattr(kind, "_fields"):
        return _plain(value)
    return [_rounded(each) for each in value]
