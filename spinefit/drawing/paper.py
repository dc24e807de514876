"""On how large a sheet of paper is it printed?

In: what was typed, a paper's name or two sides, or the room a drawing needs. Out: a
`PaperSize` in mm. Names and sides are rows of the catalogue.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from spinefit.catalogue.sheet_table import paper
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.lengths import parse_rectangle

__all__ = ["PaperSize", "paper_size", "paper_sizes"]

_WHERE = "--paper"
_LONGEST_MM = 2000.0


class PaperSize(NamedTuple):
    """A sheet of paper, in mm.

    Attributes:
        width_mm, height_mm: its sides; of a paper that has a name the shorter first.
        name: the name, or its sides.
    """

    width_mm: float
    height_mm: float
    name: str


def paper_size(typed: str) -> PaperSize:
    """The paper of a name, or of two sides such as ``210x297mm``.

    Args:
        typed: as it was typed.

    Raises:
        FieldError: no such paper, or none that could be printed.
        UnitError: sides that cannot be read.
    """
    if not (typed[:1].isdigit() or typed[:1] in ".-"):
        row = paper(typed)
        return PaperSize(row.width_mm.value, row.height_mm.value, row.name)
    try:
        width, height = (side.value_mm for side in parse_rectangle(typed))
    except SpinefitError as fault:
        raise fault.at(_WHERE) from None
    if not (0 < width <= _LONGEST_MM and 0 < height <= _LONGEST_MM):
        raise FieldError(
            "no such sheet", value=typed, where=_WHERE,
            remedy=f"give sides above 0 and up to {_LONGEST_MM:g} mm",
        )  # fmt: skip
    return PaperSize(width, height, f"{width:g} x {height:g} mm")


def paper_sizes(names: Iterable[str]) -> tuple[PaperSize, ...]:
    """The papers of several names, upright.

    >>> [size[:2] for size in paper_sizes(["A4", "A3"])]
    [(210.0, 297.0), (297.0, 420.0)]
    """
    return tuple(paper_size(name) for name in names)
