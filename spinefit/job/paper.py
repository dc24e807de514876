"""How are the pages and the paper of a book typed, and what can they be?

In: a value as it was typed or stands in a TOML file, or as `Job` holds it. Out: a number of pages
or leaves, or a range of it; the thickness of a leaf in mm, the bulk of its paper in cm3/g. Bounds
are those of paper: what is past them is a slip of a unit.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from spinefit.errors import FieldError
from spinefit.job.checks import number, whole
from spinefit.job.lengths import parse_caliper, parse_count

Counted = int | tuple[int, int]
"""A number, or the least and the greatest of a range."""

_LEAF_MM = (0.015, 1.0)  # from the thinnest tissue to card; more is board
_PAPER_BULK = (0.5, 3.0)  # from hard calendered paper to the bulkiest wove, in cm3/g
_FIGURES = 5  # more than any book has pages
_RANGE = re.compile("[…–—-]")  # as its ends may be parted, beside two points


def read_caliper(value: object) -> float:
    """The thickness of a leaf in mm."""
    return parse_caliper(_as_typed(value))


def read_counts(*endings: str) -> Callable[[object], Counted]:
    """A reader of whole numbers or ranges of them, which may carry one of these endings."""

    def read(value: object) -> Counted:
        typed = _as_typed(value)
        least, between, most = _RANGE.sub("..", typed).partition("..")
        ends = [least, most] if between else [typed]
        try:
            found = [parse_count(end, figures=_FIGURES, endings=endings) for end in ends]
        except FieldError as fault:
            fault.value, fault.remedy = typed, "such as 320, or a range such as 304..336"
            raise
        return (found[0], found[1]) if between else found[0]

    return read


def _as_typed(value: object) -> str:
    return value if isinstance(value, str) else repr(value)


def leaf_mm(value: float, where: str) -> float:
    """The thickness of a leaf in mm.

    Raises:
        FieldError: no paper is so thin or thick.
    """
    least, most = _LEAF_MM
    if not isinstance(value, int | float) or not least <= value <= most:
        shown = f"{value:.4g} mm" if isinstance(value, int | float) else value
        raise FieldError(
            "no thickness of a leaf of paper", value=shown, where=where,
            remedy=f"give {least:g} to {most:g} mm, such as 100um or 0.1mm",
        )  # fmt: skip
    return float(value)


def paper_bulk(value: float, where: str) -> float:
    """The bulk of paper in cm3/g.

    Raises:
        FieldError: no paper has it; a volume of 18 is a bulk of 1.8.
    """
    least, most = _PAPER_BULK
    if isinstance(value, int | float) and 10 * least <= value <= 10 * most:
        raise FieldError(
            "a volume is ten times the bulk", value=f"{value:g}", where=where,
            remedy=f"give {value / 10:g}, in cm3/g",
        )  # fmt: skip
    return number(value, where, least=least, most=most, unit="cm3/g")


def count_range(noun: str, least: int, most: int) -> Callable[[Counted, str], Counted]:
    """A check of a number of something, or of a range; as of `whole`."""
    one = whole(noun, least, most)

    def check(value: Counted, where: str) -> Counted:
        if not isinstance(value, tuple):
            return one(value, where)
        low, high = (one(end, where) for end in value)
        if low > high:
            raise FieldError(
                "the range runs backwards", value=f"{low}..{high}", where=where,
                remedy="give the lesser number first",
            )  # fmt: skip
        return low, high

    return check
