"""Where does a number come from, and how far may it be trusted?

A rule of the trade is never a bare number: it travels with its unit, its source and its
status, so that a report can show who says so.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

__all__ = ["Sourced", "SourcedList", "Status"]


class Status(StrEnum):
    """How a value was come by."""

    PUBLISHED = "published"  # read in the source named
    PRACTICE = "practice"  # common practice, no authority behind it
    MEMORY = "memory"  # recalled, not checked
    COMPUTED = "computed"  # arithmetic on the other rows


class Sourced(NamedTuple):
    """A number of the trade with its provenance.

    Attributes:
        value: the number, in ``unit``.
        unit: mm, pt, em, deg, arcmin, or "" for a plain ratio or count.
        source: the publication, or what stands in its place.
        status: how the value was come by.
    """

    value: float
    unit: str
    source: str
    status: Status


class SourcedList(NamedTuple):
    """Several numbers of the trade that have one provenance, such as the sizes of a drawer.

    Attributes:
        values: the numbers, in ``unit``.
        unit: as of a `Sourced`.
        source: the publication, or what stands in its place.
        status: how the values were come by.
    """

    values: tuple[float, ...]
    unit: str
    source: str
    status: Status
