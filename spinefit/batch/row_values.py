"""Which values does a row have, beside what holds for every row?

In: the cells of a row and the defaults of the command line. Out: values by field, the row
having the last word: its own panel or width, or its own round, puts the others aside.
"""

from __future__ import annotations

from collections.abc import Mapping

from spinefit.job.fields import FIELDS

__all__ = ["FIELD_NAMES", "values_of"]

FIELD_NAMES = frozenset(field.name for field in FIELDS)
"""Columns that are fields of a job."""

_OF_BACK = frozenset(field.name for field in FIELDS if field.part == "spine")
_ROUNDS = frozenset(("rise", "radius", "arc"))


def values_of(cells: Mapping[str, object], defaults: Mapping[str, object]) -> dict[str, object]:
    """Fields by name: what the row says, and the defaults that it does not put aside.

    Args:
        cells: what the row says, by the meaning of its columns; those that are no fields are
            left out.
        defaults: values of fields for rows that do not say them.

    >>> values_of({"title": "Tides", "panel": "20x30"}, {"width": "9mm", "market": "GB"})
    {'market': 'GB', 'panel': '20x30'}
    """
    said = {name: value for name, value in cells.items() if name in FIELD_NAMES}
    aside: set[str] = set()
    if "panel" in said:
        aside |= _OF_BACK
    elif "width" in said:
        aside |= {"panel"}
    if _ROUNDS & said.keys():
        aside |= _ROUNDS
    kept = {name: value for name, value in defaults.items() if name not in aside}
    return {**kept, **said}
