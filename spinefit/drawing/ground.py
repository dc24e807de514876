"""What does the back look like under its lettering?

In: the frame of a back and its pieces. Out: items in the frame: the outline, what is kept free
in light grey, bands, the usable panel dashed or the label in full, areas kept free hatched,
the middle, and break lines where the height is open.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from spinefit.drawing.frame import Frame, Piece
from spinefit.drawing.marks import (
    CENTRE,
    DASHED,
    GREY,
    OUTLINE,
    THIN,
    box,
    break_line,
    extents_mm,
    hatching,
)
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, ring_contour
from spinefit.geometry.panels import PanelSpan, divide
from spinefit.geometry.plane import Ring
from spinefit.shaping.outline import Box, Point

__all__ = ["ground", "panel_spans"]

_BAND_GREY = 0.72
_CLEAR_MM = 1.0
_LABEL = Pen(0.25)


def ground(frame: Frame, pieces: Sequence[Piece]) -> tuple[Item, ...]:
    """The back, bare."""
    return (
        Group("back", tuple(_back(frame, pieces))),
        *(
            Group("usable-panel", tuple(_panel(piece, panel)))
            for piece, panel in _panels(frame, pieces)
            if panel[2] > panel[0] and panel[3] > panel[1]
        ),
        Group("middle", tuple(_middle(frame))),
    )


def _panels(frame: Frame, pieces: Sequence[Piece]) -> Iterator[tuple[Piece, Box]]:
    """The panel of each piece; a label that pieces share but once, from edge to edge."""
    drawn: set[tuple[float, float]] = set()
    for piece, panel in zip(pieces, frame.panels_mm, strict=True):
        if piece.label_mm is None:
            yield piece, panel
        elif piece.label_mm not in drawn:
            drawn.add(piece.label_mm)
            yield piece, (panel[0], -piece.label_mm[1], panel[2], -piece.label_mm[0])


def _middle(frame: Frame) -> Iterator[Line]:
    """The middle of the width, left out under the lettering, which must stay clear to see."""
    begin = 0.0
    for _left, bottom, _right, top in sorted(frame.boxes_mm, key=lambda ink: -ink[3]):
        if begin - top > _CLEAR_MM:
            yield Line(((0.0, begin), (0.0, top + _CLEAR_MM)), CENTRE)
        begin = bottom - _CLEAR_MM
    if begin > frame.tail_mm:
        yield Line(((0.0, begin), (0.0, frame.tail_mm)), CENTRE)


def panel_spans(pieces: Sequence[Piece]) -> tuple[PanelSpan, ...]:
    """The panels between bands; none without bands or without a height."""
    spine = pieces[0].answer.job.spine
    if spine is None or spine.height_mm is None or pieces[0].answer.panel.number is None:
        return ()
    # Of several texts each keeps free what is the others'; of the back only the least is free.
    spines = [piece.answer.job.spine or spine for piece in pieces]
    return divide(
        spine._replace(
            head_mm=min(one.head_mm for one in spines), foot_mm=min(one.foot_mm for one in spines)
        )
    )


def _back(frame: Frame, pieces: Sequence[Piece]) -> Iterator[Item]:
    panel = pieces[0].answer.panel
    if panel.back is None:
        return
    left, right, tail = frame.left_mm, frame.right_mm, frame.tail_mm
    yield box(left, tail, right, 0.0, grey=GREY, pen=None)
    spans = panel_spans(pieces)
    width_mm = panel.width_mm / 2
    for span in spans:
        if span.height_mm > 0 and width_mm > 0:
            yield box(-width_mm, -span.bottom_mm, width_mm, -span.top_mm, grey=1.0, pen=None)
    for upper, lower in pairwise(spans):
        bottom, top = -lower.outer_top_mm, -upper.outer_bottom_mm
        yield box(left, bottom, right, top, grey=_BAND_GREY, pen=THIN)
    yield Line(((left, 0.0), (left, tail)), OUTLINE)
    yield Line(((right, 0.0), (right, tail)), OUTLINE)
    for open_end, y in ((frame.open_head, 0.0), (frame.open_tail, tail)):
        yield break_line(left, right, y) if open_end else Line(((left, y), (right, y)), OUTLINE)


def _panel(piece: Piece, panel: Box) -> Iterator[Item]:
    usable = piece.answer.panel
    pen = DASHED if piece.answer.report.panel.of == "back" else _LABEL
    middle = ((panel[0] + panel[2]) / 2, (panel[1] + panel[3]) / 2)
    if usable.outline_mm is None:
        yield box(*panel, grey=1.0, pen=pen)
    else:
        yield box(*panel, grey=GREY, pen=None)
        yield Area((ring_contour(_shifted(usable.outline_mm, middle)),), 1.0, pen)
    clear_mm = piece.answer.job.lettering.clearance_mm
    if usable.outline_mm is None and clear_mm > 0:
        left, bottom, right, top = panel
        yield box(
            left + clear_mm, bottom + clear_mm, right - clear_mm, top - clear_mm,
            grey=None, pen=DASHED,
        )  # fmt: skip
    for hole in usable.holes_mm:
        area = Area((ring_contour(_shifted(hole, middle)),), 1.0, THIN)
        yield Group("kept-free", (area, *hatching(extents_mm((area,)))), "kept free")


def _shifted(corners: Ring, by: Point) -> list[Point]:
    return [(x + by[0], y + by[1]) for x, y in corners]
