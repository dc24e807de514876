"""What does the lettered panel, or back, look like, no larger than a thumb?

In: the answers of the texts of one back. Out: an SVG of the panel of one title, or of the whole
back with every text in its place: the letters that were checked, where they stand. Lettering
that runs along the back lies level, as one reads it; a heavy edge marks the head. Lengths in
mm, y turned downwards.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from spinefit.batch.small_path import GRID, letters_svg
from spinefit.drawing.frame import Piece, Places, piece_of, places_of
from spinefit.geometry import divide, turn_box
from spinefit.layout import placed_outlines
from spinefit.pipeline import Answer
from spinefit.shaping.outline import Box
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Turn

__all__ = ["Picture", "picture"]


class Picture(NamedTuple):
    """A panel or a back, and what is lettered on it.

    Attributes:
        box_mm: left and upper edge of what is shown, its width and height, as it lies.
        svg: what is in it.
    """

    box_mm: tuple[float, float, float, float]
    svg: str


def picture(answers: Sequence[Answer], name: str) -> Picture:
    """The panel of one title, or the back that several texts share.

    Args:
        answers: of the texts, from head to tail, as advised or nearest to fitting.
        name: begins the names of the letters in it; no other picture of the page has it.
    """
    pieces = [piece_of(answer) for answer in answers]
    places = places_of(pieces)
    inks = [_ink(*one) for one in zip(pieces, places.middles_mm, strict=True)]
    ground = places.panels_mm[0]
    bands = ""
    if len(pieces) > 1:
        ground = (places.left_mm, places.tail_mm, places.right_mm, 0.0)
        bands = _bands(pieces[0], places)
    turns = {piece.judged.layout.candidate.turn for piece in pieces}
    turn = turns.pop() if len(turns) == 1 else Turn.NONE
    letters = (
        _letters(piece, middle_mm, f"{name}-{at}")
        for at, (piece, middle_mm) in enumerate(zip(pieces, places.middles_mm, strict=True))
    )
    head = "" if places.open_head else f'<path class="head" d="{_head(ground)}"/>'
    svg = f'<path class="ground" d="{_box(ground)}"/>{bands}{"".join(letters)}{head}'
    seen = _around(ground, *inks)
    if turn is not Turn.NONE:
        svg = f'<g transform="rotate({_LEVEL[turn]})">{svg}</g>'
        seen = turn_box(seen, _BACK[turn])
    box = (seen[0], -seen[3], seen[2] - seen[0], seen[3] - seen[1])
    return Picture(tuple(round(value, _DECIMALS) for value in box), svg)  # type: ignore[arg-type]


_LEVEL = {Turn.CLOCKWISE: -90, Turn.ANTICLOCKWISE: 90}
_BACK = {Turn.CLOCKWISE: Turn.ANTICLOCKWISE, Turn.ANTICLOCKWISE: Turn.CLOCKWISE}
_DECIMALS = 2  # mm: nothing so small is seen


def _ink(piece: Piece, middle_mm: float) -> Box:
    """Extents of the letters of a text, the origin of its own frame so high in that of the back."""
    size_mm = mm_from_pt(piece.judged.set_pt)
    layout, (x_mm, y_mm) = piece.judged.layout, piece.judged.centre_mm
    left, bottom, right, top = turn_box(layout.group.box, layout.candidate.turn)
    return (
        x_mm + left * size_mm,
        y_mm + middle_mm + bottom * size_mm,
        x_mm + right * size_mm,
        y_mm + middle_mm + top * size_mm,
    )


def _letters(piece: Piece, middle_mm: float, name: str) -> str:
    """The letters of a text, turned and moved to where they stand."""
    layout = piece.judged.layout
    pillar = layout.candidate.orientation is Orientation.PILLAR
    placed = placed_outlines(layout.title, layout.group, pillar=pillar)
    step = mm_from_pt(piece.judged.set_pt) / GRID
    turned = {
        Turn.NONE: (step, 0.0, 0.0, step),
        Turn.CLOCKWISE: (0.0, step, -step, 0.0),
        Turn.ANTICLOCKWISE: (0.0, -step, step, 0.0),
    }[layout.candidate.turn]
    x_mm, y_mm = piece.judged.centre_mm
    numbers = " ".join(f"{value + 0.0:.5g}" for value in (*turned, x_mm, -y_mm - middle_mm))
    return f'<g transform="matrix({numbers})">{letters_svg(placed, name)}</g>'


def _bands(piece: Piece, places: Places) -> str:
    """The bands across the back, from the head down."""
    spine = piece.answer.job.spine
    assert spine is not None  # texts that share a back have one
    path = "".join(
        _box((places.left_mm, -lower.outer_top_mm, places.right_mm, -upper.outer_bottom_mm))
        for upper, lower in pairwise(divide(spine))
    )
    return f'<path class="band" d="{path}"/>' if path else ""


def _around(*boxes: Box) -> Box:
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def _box(box: Box) -> str:
    """A rectangle, y downwards."""
    left, bottom, right, top = box
    return f"M{_mm(left)} {_mm(-top)}H{_mm(right)}V{_mm(-bottom)}H{_mm(left)}z"


def _head(box: Box) -> str:
    return f"M{_mm(box[0])} {_mm(-box[3])}H{_mm(box[2])}"


def _mm(value: float) -> str:
    return f"{round(value, _DECIMALS) + 0.0:g}"
