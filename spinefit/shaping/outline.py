"""What does a glyph look like, as plain curves?

Outlines in em (font units divided by the units per em), y growing upwards, origin on the
baseline at the pen. Nothing here knows a font or a library.
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["Box", "Contour", "KeptOutline", "Outline", "Placed", "Point"]

Point = tuple[float, float]


class Contour(NamedTuple):
    """One closed contour: a start and its segments.

    Attributes:
        start: first point in em; the contour closes back to it with a straight line.
        segments: each a tuple of 1 point (line), 2 points (quadratic: control, end) or
            3 points (cubic: two controls, end), in em.
    """

    start: Point
    segments: tuple[tuple[Point, ...], ...]


Outline = tuple[Contour, ...]
"""All contours of a glyph, filled by the non-zero winding rule; empty for a space."""


class KeptOutline(tuple[Contour, ...]):
    """An outline that keeps its hash: what is known of a glyph is looked up by its outline."""

    _hash: int | None = None

    def __hash__(self) -> int:
        if self._hash is None:
            self._hash = super().__hash__()
        return self._hash

    __eq__ = tuple.__eq__


Box = tuple[float, float, float, float]
"""Ink extents (left, bottom, right, top); emptiness is None, never a box of zeros."""

Placed = tuple[Outline, float, float]
"""An outline and where its origin stands (x, y), all in em."""
