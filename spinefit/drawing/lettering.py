"""Which curves, in mm, is the checked lettering drawn with?

In: a judged layout. Out: its letters as contours in the panel's frame (mm, origin at the
middle of the panel, x to the right, y to the head), turned, at the size judged and at the
place judged. They are the outlines that the largest size was verified with, curves kept.
"""

from __future__ import annotations

from functools import partial

from spinefit.drawing.scene import mapped
from spinefit.geometry.plane import turn_point
from spinefit.judgement.judged import Judged
from spinefit.layout import placed_outlines
from spinefit.shaping.outline import Box, Contour, Placed, Point, ink_box
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Turn

__all__ = ["contours_mm", "ink_extents_mm", "lettering_mm"]


def lettering_mm(judged: Judged) -> tuple[Contour, ...]:
    """The letters of a layout at the size judged, where they stand in the panel, in mm."""
    layout = judged.layout
    pillar = layout.candidate.orientation is Orientation.PILLAR
    return contours_mm(
        placed_outlines(layout.title, layout.group, pillar=pillar),
        turn=layout.candidate.turn,
        size_mm=mm_from_pt(judged.set_pt),
        centre_mm=judged.centre_mm,
    )


def contours_mm(
    placed: list[Placed], *, turn: Turn, size_mm: float, centre_mm: Point
) -> tuple[Contour, ...]:
    """Placed outlines, turned, at a size and place.

    Args:
        placed: outlines in em about the placing point.
        turn: the turn of the letters.
        size_mm: one em.
        centre_mm: where the placing point stands, in mm.
    """

    def at(point: Point, x: float, y: float) -> Point:
        turned = turn_point((point[0] + x, point[1] + y), turn)
        return turned[0] * size_mm + centre_mm[0], turned[1] * size_mm + centre_mm[1]

    return tuple(
        mapped(contour, partial(at, x=x, y=y)) for outline, x, y in placed for contour in outline
    )


def ink_extents_mm(contours: tuple[Contour, ...]) -> Box:
    """Left, bottom, right and top of contours in mm, from the extrema of their curves.

    Raises:
        ValueError: there is no ink.
    """
    box = ink_box(contours)
    if box is None:
        raise ValueError("no ink to draw")
    return box
