"""Which letters has the binder's set of tools, and how wide are they?

In: the path of a TOML file with a ``name`` and a table ``[[size]]`` for each size: ``face``,
``body``, then ``widths`` or ``e_row`` and ``e_count``; ``word_space``, ``letter_gap``,
``descent``, ``x_height``. Lengths are bare millimetres or texts with a unit, a body is in
points. Out: the `Tools`. What they make possible is for `spinefit.job.tools`.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import Any

from spinefit.errors import FieldError, JobError, SpinefitError, nearest
from spinefit.job import values
from spinefit.job.read import digest_of, once_a_change, read_toml
from spinefit.job.tools_model import Tools, ToolSize

__all__ = ["read_tools"]

_EXAMPLE = 'write name = "brass", then [[size]] with face = 3.2 and widths = { A = 3.1, B = 2.6 }'
_HANGING = frozenset("gjpqy")


@once_a_change
def read_tools(path: str) -> Tools:
    """The tools of a file.

    Args:
        path: the file.

    Raises:
        JobError: no such file, not TOML, no size in it, or a value that cannot be read; file,
            size and key are named.
    """
    where = path
    table = read_toml(path, "tools file", _EXAMPLE)
    for key in table:
        if key not in ("name", "size"):
            raise FieldError("no such key", value=key, where=where, remedy=_EXAMPLE)
    sizes = table.get("size")
    if not isinstance(sizes, list) or not sizes or not all(isinstance(s, dict) for s in sizes):
        raise JobError("no sizes", where=where, remedy=_EXAMPLE)
    return Tools(
        name=_read(values.text, table.get("name", Path(path).stem), f"{where}: name"),
        sizes=tuple(
            _size(size, f"{where}: size {number}") for number, size in enumerate(sizes, start=1)
        ),
        file=where,
        sha256=digest_of(path),
    )


_KEYS: dict[str, tuple[str, Callable[[object], Any]]] = {
    "face": ("face_mm", values.length),
    "body": ("body_pt", values.size_pt),
    "e_row": ("e_row_mm", values.length),
    "e_count": ("e_count", values.count),
    "word_space": ("word_space_mm", values.length),
    "letter_gap": ("letter_gap_mm", values.length),
    "descent": ("descent_mm", values.length),
    "x_height": ("x_height_mm", values.length),
}
"""Each key of a size: its attribute, and its reader."""


def _size(table: dict[str, object], where: str) -> ToolSize:
    found: dict[str, Any] = {}
    for key, value in table.items():
        if key == "widths":
            found["widths_mm"] = _widths(value, f"{where}, widths")
            continue
        if key not in _KEYS:
            like = nearest(key, (*_KEYS, "widths"))
            hint = f"did you mean '{like}'?" if like else f"it has {', '.join(_KEYS)} and widths"
            raise FieldError("no such key", value=key, where=where, remedy=hint)
        attribute, read = _KEYS[key]
        found[attribute] = _read(read, value, f"{where}, {key}")
    if "face_mm" not in found:
        raise FieldError(
            "no face", where=where, remedy="give the height of a capital in mm: face = 3.2"
        )
    hanging = [char for char, _mm in found.get("widths_mm", ()) if char in _HANGING]
    if hanging and "descent_mm" not in found:
        raise FieldError(
            f"{' and '.join(hanging[:2])} hang below the line", where=where,
            remedy="say how far in mm: descent = 1.0",
        )  # fmt: skip
    return ToolSize(**found)


def _widths(value: object, where: str) -> tuple[tuple[str, float], ...]:
    if not isinstance(value, dict):
        raise FieldError("no widths of letters", where=where, remedy=_EXAMPLE)
    found: dict[str, float] = {}
    for key, width in value.items():
        char = unicodedata.normalize("NFC", key)
        if len(char) != 1 or char.isspace() or not char.isprintable() or char in found:
            what = "given twice" if char in found else "not one letter"
            raise FieldError(
                what, value=key, where=where, remedy='a letter each: A = 3.1, "&" = 3.4'
            )
        found[char] = _read(values.length, width, f"{where}, {char}")
    return tuple(found.items())


def _read(reader: Callable[[object], Any], value: object, where: str) -> Any:
    try:
        return reader(value)
    except SpinefitError as fault:
        raise fault.at(where) from None
