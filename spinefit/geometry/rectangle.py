"""How large can lettering be in a plain rectangle?

In: a rectangle in mm, and how far ink reaches from its placing point, in em, turned as it will
stand. Out: a `Limit`, the em in mm: two divisions, since ink scales with the size and
clearance does not. Panels of other shapes are for `fit`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from spinefit.shaping.outline import Box, Point
from spinefit.vocabulary import LimitedBy

__all__ = ["Limit", "RectangleLimits", "largest_in_rectangle", "reach_of"]

_MIDDLE: Point = (0.0, 0.0)


class Limit(NamedTuple):
    """The largest size and what sets it.

    Attributes:
        size_mm: the em in mm at which ink first comes within the clearance of the panel's
            edge; 0 where no size fits.
        by: what it meets there.
        centre_mm: where the placing point stands, in the panel's frame.
    """

    size_mm: float
    by: LimitedBy
    centre_mm: Point = _MIDDLE


class RectangleLimits:
    """The largest size of any ink about the middle of one rectangle.

    Args:
        width_mm: width of the rectangle.
        height_mm: its height; None where that is left open.
        clearance_mm: space between ink and edge.
        angle_limited: True where the width ends at the largest readable angle.

    >>> RectangleLimits(10.0, 4.0, clearance_mm=1.0).size_mm(2.0, 0.5)
    2.0
    """

    __slots__ = ("_across", "_half_height_mm", "_half_width_mm")

    def __init__(
        self,
        width_mm: float,
        height_mm: float | None,
        *,
        clearance_mm: float,
        angle_limited: bool = False,
    ) -> None:
        self._across = LimitedBy.ANGLE if angle_limited else LimitedBy.WIDTH
        self._half_width_mm = width_mm / 2 - clearance_mm
        self._half_height_mm = math.inf if height_mm is None else height_mm / 2 - clearance_mm

    def size_mm(self, across_em: float, up_em: float) -> float:
        """The largest size of ink that reaches so far from its placing point; 0 for none.

        Args:
            across_em: to the left or to the right, whichever is more.
            up_em: to the head or to the tail, likewise.
        """
        width_mm, height_mm = self._half_width_mm, self._half_height_mm
        if across_em <= 0 or width_mm <= 0 or height_mm <= 0:
            return 0.0
        size_mm = width_mm / across_em
        return height_mm / up_em if height_mm < size_mm * up_em else size_mm

    def limit(self, across_em: float, up_em: float) -> Limit:
        """The same size, and what sets it.

        Args:
            across_em: as of `size_mm`.
            up_em: as of `size_mm`.
        """
        size_mm, width_mm = self.size_mm(across_em, up_em), self._half_width_mm
        by_width = across_em <= 0 or width_mm <= 0 or size_mm == width_mm / across_em
        return Limit(size_mm, self._across if by_width else LimitedBy.HEIGHT, _MIDDLE)


def largest_in_rectangle(
    ink: Box,
    *,
    width_mm: float,
    height_mm: float | None,
    clearance_mm: float,
    angle_limited: bool = False,
) -> Limit:
    """The largest size about the middle of a rectangle.

    Args:
        ink: extents (left, bottom, right, top) in em about the placing point; not empty.
        width_mm: width of the rectangle.
        height_mm: its height; None where that is left open.
        clearance_mm: space between ink and edge.
        angle_limited: True where the width ends at the largest readable angle.

    Returns:
        The limit about (0, 0).

    >>> largest_in_rectangle((-2.0, -0.5, 2.0, 0.5), width_mm=10.0, height_mm=4.0,
    ...                      clearance_mm=1.0).size_mm
    2.0
    """
    limits = RectangleLimits(
        width_mm, height_mm, clearance_mm=clearance_mm, angle_limited=angle_limited
    )
    return limits.limit(*reach_of(ink))


def reach_of(ink: Box) -> tuple[float, float]:
    """How far ink reaches from its placing point, in em: to either side, and up or down.

    >>> reach_of((-2.0, -0.5, 1.5, 0.25))
    (2.0, 0.5)
    """
    left, bottom, right, top = ink
    return (right if right > -left else -left), (top if top > -bottom else -bottom)
