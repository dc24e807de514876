"""Which numbers does the trade give, and who says so?

Every number of ``rules.toml`` that is neither a method's nor a market's, by name, with its
unit, source and status. `Rules.replaced` changes some of them in a copy.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from spinefit.catalogue.tables import DATA, read, sourced
from spinefit.provenance import Sourced, Status

__all__ = ["Rules", "rules"]


class Rules(Mapping[str, Sourced]):
    """The numbers of the trade by name, ``"edge.narrow_mm"`` and the like."""

    __slots__ = ("_rows",)

    def __init__(self, rows: Mapping[str, Sourced]) -> None:
        self._rows = dict(rows)

    def __getitem__(self, name: str) -> Sourced:
        return self._rows[name]

    def __iter__(self) -> Any:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def __hash__(self) -> int:
        return hash(frozenset(self._rows.items()))

    def value(self, name: str) -> float:
        """The bare number of a rule, in the unit its row states."""
        return self._rows[name].value

    def replaced(self, **values: float) -> Rules:
        """A copy with some numbers changed; ``__`` stands for the point in a name."""
        rows = dict(self._rows)
        for key, number in values.items():
            name = key.replace("__", ".", 1)
            old = rows[name]
            rows[name] = Sourced(number, old.unit, "set by hand", Status.PRACTICE)
        return Rules(rows)


@lru_cache(maxsize=1)
def rules() -> Rules:
    """All numbers of the trade that are not a method's or a market's."""
    tables = read(DATA / "rules.toml")
    return Rules(
        {
            f"{group}.{name}": sourced(row, f"rules.toml {group}.{name}")
            for group, rows in tables.items()
            for name, row in rows.items()
        }
    )
