"""How are letters shown: as their outlines, or as faces of tools?

In: a judged layout and its contours in mm. Out: items. A font's letters are filled as they were
checked. Of hand letters and type only the faces are known, a box a letter: the boxes are drawn,
and in each its letter in the drawing's font, so that it can be read; its shape is not the tool's.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.drawing.marks import FINE
from spinefit.drawing.scene import Area, Item, Text
from spinefit.judgement import Judged
from spinefit.say.phrasing import letters_of
from spinefit.shaping.outline import Contour, ink_box
from spinefit.vocabulary import Turn

__all__ = ["shown_letters"]

_EM_OF_FACE = 1.25  # em of the drawing's font whose capitals stand within a face of 1
_ROOM_SHARE = 0.8
_TURNS_DEG = {Turn.NONE: 0.0, Turn.CLOCKWISE: -90.0, Turn.ANTICLOCKWISE: 90.0}


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
