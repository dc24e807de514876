"""Which drawing belongs to an answer, on which sheet?

In: an answer, several on one back, or several volumes. Out: a `Scene` at true size: the lettered
back, on a rounded one also its section and how it is seen from the shelf, and a title block in
a column of its own. The sheet is the smallest of ISO 216's A sizes that holds it, from A4 on, or
as large as it must be: nothing is ever drawn smaller.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.drawing.back import elevation
from spinefit.drawing.block import block
from spinefit.drawing.frame import frame_of
from spinefit.drawing.marks import OUTLINE, box, extents_mm, label
from spinefit.drawing.round import section, seen
from spinefit.drawing.scene import Group, Item, Scene, moved
from spinefit.drawing.subject import Subject
from spinefit.report import phrasing as say
from spinefit.vocabulary import BackForm

__all__ = ["figure", "plate"]

_SHEETS_MM = (
    (210.0, 297.0), (297.0, 210.0), (297.0, 420.0), (420.0, 297.0),
    (420.0, 594.0), (594.0, 420.0), (594.0, 841.0), (841.0, 594.0),
)  # fmt: skip
_MARGIN_MM = 6.0
_INSIDE_MM = 5.0
_COLUMN_MM = 66.0
_GAP_MM = 10.0
_SHELF_GAP_MM = 14.0


def plate(subject: Subject) -> Scene:
    """The whole drawing with its title block on a sheet of its own.

    Args:
        subject: what to draw.
    """
    drawn = _placed(_backs(subject), 0.0, 0.0)
    wide = extents_mm(drawn)[2]
    column = _column(subject)
    column_box = extents_mm(column)
    inner_w = wide + _GAP_MM + (column_box[2] - column_box[0])
    tall = max(-extents_mm(drawn)[1], column_box[3] - column_box[1])
    off = _MARGIN_MM + _INSIDE_MM
    width, height = _sheet_mm(inner_w + off + _MARGIN_MM, tall + 2 * off)
    right, bottom = width - _MARGIN_MM, _MARGIN_MM
    block_items, views = column[:1], column[1:]
    block_box = extents_mm(block_items)
    at_right = right - block_box[2]
    items = [
        box(_MARGIN_MM, bottom, right, height - _MARGIN_MM, grey=None, pen=OUTLINE),
        *moved(drawn, (off + _middle(width, inner_w), height - off)),
        *moved(block_items, (at_right, bottom - block_box[1])),
    ]
    if views:
        items += moved(views, (at_right, height - off))
    return Scene(width, height, subject.title, _described(subject), tuple(items))


def figure(subject: Subject) -> Scene:
    """The drawing alone, as large as it is, for a page that says the rest."""
    drawn = [*_placed(_backs(subject), 0.0, 0.0)]
    views = _views(subject)
    if views:
        drawn += moved(views, (extents_mm(drawn)[2] + _GAP_MM, 0.0))
    left, bottom, right, top = extents_mm(drawn)
    items = moved(drawn, (2.0 - left, 2.0 - bottom))
    return Scene(right - left + 4, top - bottom + 4, subject.title, _described(subject), items)


def _backs(subject: Subject) -> tuple[Item, ...]:
    """The back, or the volumes side by side, standing on one shelf."""
    found: list[Item] = []
    x = 0.0
    for pieces, name in zip(subject.backs, subject.names, strict=True):
        items = elevation(pieces)
        frame = frame_of(pieces)
        if name:
            items = (*items, *label((0.0, 14.0), say.visible(name), anchor="middle", bold=True))
        left, _bottom, right, _top = extents_mm(items)
        shift = x - left if found else 0.0
        found.append(Group("volume" if name else "drawing",
                           moved(items, (shift, -frame.tail_mm))))  # fmt: skip
        x = shift + right + _SHELF_GAP_MM
    return tuple(found)


def _placed(items: Sequence[Item], left: float, top: float) -> tuple[Item, ...]:
    """Items with their top left corner there."""
    found = extents_mm(items)
    return moved(items, (left - found[0], top - found[3]))


def _column(subject: Subject) -> tuple[Item, ...]:
    """The title block, then the views of a round over it, from the top down."""
    first = subject.backs[0][0]
    several = len(subject.backs) > 1 or len(subject.backs[0]) > 1
    lines = [say.visible(line) for line in first.layout.lines]
    if several:
        lines = [say.joined(piece.layout) for piece in subject.pieces]
    made = block(
        subject.pieces,
        titles=lines,
        verdict=subject.verdict,
        answer=subject.answer,
        wide_mm=_COLUMN_MM,
    )
    views = _views(subject)
    if not views:
        return made
    gap = extents_mm(views)[1] - 8.0
    return (*moved(made, (0.0, gap)), *views)


def _views(subject: Subject) -> tuple[Item, ...]:
    """The section and what is seen, one under the other, in a column from the origin down."""
    piece = subject.backs[0][0]
    back = piece.answer.panel.back
    if len(subject.backs) > 1 or back is None or back.form is not BackForm.ROUNDED:
        return ()
    frame = frame_of(subject.backs[0][:1])
    items: list[Item] = []
    y = 0.0
    for heading, view in (
        ("As seen from the shelf", seen(piece, frame)),
        ("Section, the reader below", section(piece, frame)),
    ):
        items += label((0.0, y - 2.0), heading, bold=True, halo=False)
        placed = _placed(view, 0.0, y - 7.0)
        wide = extents_mm(placed)[2]
        items += moved(placed, (max(0.0, (_COLUMN_MM - wide) / 2), 0.0))
        y = extents_mm(items)[1] - 9.0
    return (Group("views", tuple(items)),)


def _sheet_mm(least_w: float, least_h: float) -> tuple[float, float]:
    for width, height in _SHEETS_MM:
        if least_w <= width and least_h <= height:
            return width, height
    return least_w, least_h


def _middle(width: float, inner: float) -> float:
    """Half of what the sheet has to spare, so that the drawing stands in its part's middle."""
    return max(0.0, (width - 2 * _MARGIN_MM - _INSIDE_MM - inner) / 2)


def _described(subject: Subject) -> str:
    return f"{say.visible(subject.answer)} Drawn at true size, lengths in mm."
