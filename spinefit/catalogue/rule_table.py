"""Which numbers does the trade give, and who says so?

Every number of ``rules.toml`` that is neither a method's nor a market's, by name, with its
unit, source and status. `Rules.replaced` changes some of them in a copy. Rows of ``sheet.toml``,
papers and the numbers of a page, are read only where something is drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from spinefit.catalogue.tables import DATA, read, sourced
from spinefit.errors import FieldError, nearest
from spinefit.provenance import Sourced, Status

__all__ = ["Paper", "Rules", "paper", "papers", "rules", "sheet_rules"]

_SHEET = "sheet.toml"


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


class Paper(NamedTuple):
    """A size of paper, upright, in mm.

    Attributes:
        name: what it is asked for by.
        width_mm, height_mm: its sides, the shorter first.
    """

    name: str
    width_mm: Sourced
    height_mm: Sourced


@lru_cache(maxsize=1)
def papers() -> dict[str, Paper]:
    """All papers by name."""
    return {
        name: Paper(
            name,
            *(sourced(row[side], f"{_SHEET}: {name} {side}") for side in ("width_mm", "height_mm")),
        )
        for name, row in read(DATA / _SHEET)["paper"].items()
    }


def paper(name: str) -> Paper:
    """The paper of that name, case forgiven.

    Raises:
        FieldError: there is none; the nearest name is offered.
    """
    known = {key.casefold(): row for key, row in papers().items()}
    found = known.get(name.strip().casefold())
    if found is not None:
        return found
    like = nearest(name, papers())
    hint = f"did you mean '{like}'? " if like else ""
    raise FieldError(
        "no such paper", value=name, where="--paper",
        remedy=f"{hint}choose from {', '.join(papers())}, or give its sides as 210x297mm",
    )  # fmt: skip


@lru_cache(maxsize=1)
def sheet_rules() -> Rules:
    """The numbers of the page, ``"margin_mm"`` and the like."""
    rows = read(DATA / _SHEET)["page"]
    return Rules({name: sourced(row, f"{_SHEET}: page {name}") for name, row in rows.items()})
