"""Which papers are there, and how is a sheet of labels printed?

Rows of ``sheet.toml``: papers by name, standing upright, and the numbers of the page. Read
only where something is drawn.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from spinefit.catalogue.rule_table import Rules
from spinefit.catalogue.tables import DATA, read, sourced
from spinefit.errors import FieldError, nearest
from spinefit.provenance import Sourced

__all__ = ["Paper", "paper", "papers", "sheet_rules"]

_FILE = "sheet.toml"


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
            *(sourced(row[side], f"{_FILE}: {name} {side}") for side in ("width_mm", "height_mm")),
        )
        for name, row in read(DATA / _FILE)["paper"].items()
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
    rows = read(DATA / _FILE)["page"]
    return Rules({name: sourced(row, f"{_FILE}: page {name}") for name, row in rows.items()})
