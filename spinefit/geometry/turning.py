"""Where do the points of a line stand once the line is turned?

A quarter turn about the origin, exact in floating point: only signs and places change.
Clockwise (descending Latin) sends x to -y; anticlockwise (ascending Latin) sends x to y.
Plane: that of the panel, y up towards the head. Units: those that come in.
"""

from __future__ import annotations

from spinefit.shaping.outline import Box, Point
from spinefit.vocabulary import Turn

__all__ = ["turn_box", "turn_point"]


def turn_point(point: Point, turn: Turn) -> Point:
    """A point turned about the origin.

    >>> turn_point((1.0, 0.25), Turn.CLOCKWISE)
    (0.25, -1.0)
    """
    x, y = point
    if turn is Turn.CLOCKWISE:
        return y, -x
    if turn is Turn.ANTICLOCKWISE:
        return -y, x
    return point


def turn_box(box: Box, turn: Turn) -> Box:
    """A box (left, bottom, right, top) turned about the origin.

    >>> turn_box((0.0, -0.25, 2.0, 0.75), Turn.ANTICLOCKWISE)
    (-0.75, 0.0, 0.25, 2.0)
    """
    left, bottom, right, top = box
    if turn is Turn.CLOCKWISE:
        return bottom, -right, top, -left
    if turn is Turn.ANTICLOCKWISE:
        return -top, left, -bottom, right
    return box
