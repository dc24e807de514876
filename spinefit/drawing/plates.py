"""Which sheets does an answer need?

In: what a drawing is of. Out: its scenes at their own sizes: the lettered back with its title
block; for lettering on a front board the board with its label instead, since there is no back;
and after either the cutting drawing of a recess, where one is wanted. Stacked they make one.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.drawing.plate import figure, plate
from spinefit.drawing.scene import Item, Scene, moved
from spinefit.drawing.subject import Subject

__all__ = ["figures", "plates", "stacked"]


def plates(subject: Subject) -> tuple[Scene, ...]:
    """Every sheet, each whole by itself."""
    return _board(subject) or (plate(subject), *_recess(subject))


def figures(subject: Subject) -> tuple[Scene, ...]:
    """The same for a page that says the rest."""
    return _board(subject) or (figure(subject), *_recess(subject))


def stacked(scenes: Sequence[Scene]) -> Scene:
    """Scenes one under another on one sheet, for a format that has no pages."""
    if len(scenes) == 1:
        return scenes[0]
    height_mm = sum(one.height_mm for one in scenes)
    items: list[Item] = []
    top = height_mm
    for one in scenes:
        top -= one.height_mm
        items += moved(one.items, (0.0, top))
    first = scenes[0]
    described = " ".join(one.description for one in scenes)
    width_mm = max(one.width_mm for one in scenes)
    return Scene(width_mm, height_mm, first.title, described, tuple(items))


def _board(subject: Subject) -> tuple[Scene, ...]:
    """The board's sheets; none where the lettering stands elsewhere."""
    if len(subject.pieces) != 1 or subject.pieces[0].answer.judgement.board_place is None:
        return ()
    from spinefit.drawing.front_board import board_scene

    return board_scene(subject.pieces[0].answer), *_recess(subject)


def _recess(subject: Subject) -> tuple[Scene, ...]:
    answers = [piece.answer for piece in subject.pieces]
    wanted = [one for one in answers if one.judgement.recess is not None and one.report.fits]
    if not wanted:
        return ()
    from spinefit.drawing.recess import recess_scene

    return tuple(recess_scene(one) for one in wanted)
