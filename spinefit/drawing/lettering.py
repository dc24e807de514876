"""Which curves, in mm, is the checked lettering drawn with?

In: a judged layout. Out: its letters as contours in the panel's frame (mm, origin at the
middle of the panel, x to the right, y to the head), turned, at the size judged and at the
place judged. They are the outlines that the largest size was verified with, curves kept. Of
hand letters and type only the faces are known, a box a letter: the boxes are drawn, and in each
its letter in the drawing's font, so that it can be read; its shape is not the tool's.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from spinefit.drawing.marks import FINE
from spinefit.drawing.scene import Area, Item, Text, mapped
from spinefit.geometry.plane import turn_box, turn_point
from spinefit.judgement import Judged
from spinefit.say.phrasing import letters_of
from spinefit.shaping.outline import Box, Contour, Placed, Point, ink_box
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Turn

__all__ = ["contours_mm", "ink_box_mm", "ink_extents_mm", "lettering_mm", "shown_letters"]

_EM_OF_FACE = 1.25  # em of the drawing's font whose capitals stand within a face of 1
_ROOM_SHARE = 0.8
_TURNS_DEG = {Turn.NONE: 0.0, Turn.CLOCKWISE: -90.0, Turn.ANTICLOCKWISE: 90.0}


def lettering_mm(judged: Judged) -> tuple[Contour, ...]:
    """The letters of a layout at the size judged, where they stand in the panel, in mm."""
    layout = judged.layout
    return contours_mm(
        layout.placed(),
        turn=layout.candidate.turn,
        size_mm=mm_from_pt(judged.set_pt),
        centre_mm=judged.centre_mm,
    )


def contours_mm(
    placed: Sequence[Placed], *, turn: Turn, size_mm: float, centre_mm: Point
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


def ink_box_mm(judged: Judged) -> Box:
    """The same of a layout, where it stands in the panel, its curves not yet drawn."""
    layout, size_mm = judged.layout, mm_from_pt(judged.set_pt)
    x_mm, y_mm = judged.centre_mm
    left, bottom, right, top = turn_box(layout.group.box, layout.candidate.turn)
    return (
        x_mm + left * size_mm,
        y_mm + bottom * size_mm,
        x_mm + right * size_mm,
        y_mm + top * size_mm,
    )


def shown_letters(judged: Judged, contours: Sequence[Contour]) -> tuple[Item, ...]:
    """The letters of a layout.

    Args:
        judged: the layout.
        contours: its lettering in mm, letter by letter in the order of the lines.
    """
    if judged.layout.title.only_pt is None:
        return (Area(tuple(contours)),)
    texts = judged.layout.group.texts
    letters = [letter for text in texts for letter in letters_of(text) if not letter.isspace()]
    faces = Area(tuple(contours), None, FINE)
    if len(letters) != len(contours):
        return (faces,)
    turn = judged.layout.candidate.turn
    found = [_letter(letter, one, turn) for letter, one in zip(letters, contours, strict=True)]
    return (faces, *(each for each in found if each is not None))


def _letter(letter: str, face: Contour, turn: Turn) -> Text | None:
    """The letter in the middle of its face."""
    box = ink_box((face,))
    if box is None:
        return None
    wide, high = box[2] - box[0], box[3] - box[1]
    if turn is not Turn.NONE:
        wide, high = high, wide
    low = high * (1 - 0.69 * _EM_OF_FACE) / 2  # a capital of 0.69 em in the middle of the height
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    at = {
        Turn.NONE: (x, box[1] + low),
        Turn.CLOCKWISE: (box[0] + low, y),
        Turn.ANTICLOCKWISE: (box[2] - low, y),
    }[turn]
    return Text(
        at,
        letter,
        high * _EM_OF_FACE,
        "middle",
        _TURNS_DEG[turn],
        width_mm=wide * _ROOM_SHARE,
    )
