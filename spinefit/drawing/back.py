"""How does the lettered back look, at true size, with what must be measured?

In: the pieces of one back. Out: items in the frame of the back: the ground, the lettering where
it was judged, its extents, and dimensions: under the tail across the back, to the left what
the back is made of, to the right what the lettering measures and where it stands from the head.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from spinefit.drawing.dimensions import Mark, Span, column, rows, running
from spinefit.drawing.faces import shown_letters
from spinefit.drawing.frame import Frame, Piece, frame_of
from spinefit.drawing.ground import ground, panel_spans
from spinefit.drawing.marks import arrow, box, extents_mm, label
from spinefit.drawing.scene import Group, Item, Line, Pen
from spinefit.say import phrasing as say
from spinefit.shaping.outline import Box
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Reading, Turn, Verdict

__all__ = ["elevation", "reads_in_words"]

_NEAR_MM, _APART_MM = 7.0, 5.0  # from the back to the first line beside it, from words to the next
_BELOW_MM = 10.5  # the tail's name stands above the first line's figures
_ARROW_MM = (12.0, 42.0)
_INK_BOX = Pen(0.13, (0.6, 0.6), grey=0.4)
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")
_FAR_MM = 0.05
_READS = {
    Reading.DESCENDING: "reads from the head down",
    Reading.ASCENDING: "reads from the tail up",
    Reading.STACKED: "letters one under another",
    Reading.ACROSS: "reads across",
}


def elevation(pieces: Sequence[Piece]) -> tuple[Item, ...]:
    """The back with its dimensions.

    Args:
        pieces: one or more texts on the same back.
    """
    frame = frame_of(pieces)
    return (
        *ground(frame, pieces),
        Group("extents", tuple(box(*ink, grey=None, pen=_INK_BOX) for ink in frame.boxes_mm)),
        *(
            Group("lettering", shown_letters(piece.judged, ink), say.joined(piece.layout))
            for piece, ink in zip(pieces, frame.inks, strict=True)
        ),
        Group("dimensions", _words_last(_dimensions(frame, pieces))),
        Group("direction", tuple(_direction(frame, pieces))),
        Group("ends", tuple(_ends(frame, pieces))),
    )


def reads_in_words(piece: Piece) -> str:
    """Which way the lettering reads, in a few words."""
    pillar = piece.layout.orientation is Orientation.PILLAR
    return _READS[Reading.STACKED if pillar else piece.layout.reading]


def _words_last(items: Iterable[Item]) -> tuple[Item, ...]:
    """Lines first, so that no line of a later dimension runs through an earlier one's words."""
    return tuple(sorted(items, key=lambda item: not isinstance(item, Line)))


def _ends(frame: Frame, pieces: Sequence[Piece]) -> Iterator[Item]:
    top, bottom = _end_names(pieces[0])
    if not frame.open_head:
        yield from label((0.0, 3.0), top, anchor="middle")
    if not frame.open_tail:
        yield from label((0.0, frame.tail_mm - 3.8), bottom, anchor="middle")
    if not all(piece.layout.fits for piece in pieces):
        words = str(Verdict.DOES_NOT_FIT)
        yield from label((0.0, 12.4), words, anchor="middle", size_mm=4.4, bold=True)


def _end_names(piece: Piece) -> tuple[str, str]:
    """A label has a top, a back a head."""
    return ("top", "bottom") if piece.answer.panel.back is None else ("head", "tail")


def _direction(frame: Frame, pieces: Sequence[Piece]) -> Iterator[Item]:
    """An arrow beside the lettering, with words."""
    lead = max(range(len(pieces)), key=lambda at: pieces[at].layout.set_pt)
    piece, ink = pieces[lead], frame.boxes_mm[lead]
    words = reads_in_words(piece)
    if piece.layout.orientation is Orientation.TRANSVERSE:
        x, y = frame.left_mm, 8.2
        ends = ((x, y), (x + _ARROW_MM[0], y))
        right_to_left = piece.answer.job.right_to_left
        yield from arrow(*(reversed(ends) if right_to_left else ends))
        yield from label((x + _ARROW_MM[0] + 1.5, y), words)
        return
    half = max(_ARROW_MM[0], min(ink[3] - ink[1], _ARROW_MM[1])) / 2
    middle, x = (ink[1] + ink[3]) / 2, _leftmost(frame) - 3.0
    down = piece.layout.reading is not Reading.ASCENDING
    ends = ((x, middle + half), (x, middle - half))
    yield from arrow(*(ends if down else reversed(ends)))
    turn = -90.0 if down else 90.0
    yield from label((x - 2.6, middle), words, anchor="middle", turn_deg=turn)


def _leftmost(frame: Frame) -> float:
    return min(frame.left_mm, *(ink[0] for ink in frame.boxes_mm))


def _dimensions(frame: Frame, pieces: Sequence[Piece]) -> Iterator[Item]:
    yield from rows(
        list(_across(frame, pieces)),
        from_y_mm=frame.tail_mm,
        y_mm=frame.tail_mm - _BELOW_MM,
    )
    across = all(piece.layout.orientation is Orientation.TRANSVERSE for piece in pieces)
    x = _leftmost(frame) - (_NEAR_MM if across else 9.0)
    for spans in (_parts(frame, pieces), _whole(frame)):
        if spans:
            found = column(spans, x_mm=x, from_x_mm=frame.left_mm)
            yield from found
            if found:  # lengths that nobody could see are not drawn
                x = extents_mm(found)[0] - _APART_MM
    right = max(frame.right_mm, *(ink[2] for ink in frame.boxes_mm))
    x = right + _NEAR_MM
    for chain in _inside(frame, pieces):
        found = column(chain, x_mm=x, from_x_mm=frame.right_mm)
        yield from found
        if found:
            x = extents_mm(found)[2] + _APART_MM
    marks = [
        mark
        for piece, ink in zip(pieces, frame.boxes_mm, strict=True)
        for mark in _marks(piece, ink)
    ]
    if not frame.open_head:
        yield from running(
            marks,
            x_mm=x,
            from_x_mm=frame.right_mm,
            zero_mm=0.0,
            zero_name=_end_names(pieces[0])[0],
        )
    elif len(pieces[0].layout.baselines_mm) > 1 and not pieces[0].along:
        spans = [
            Span(low.y_mm, high.y_mm, "baselines", from_mm=low.from_x_mm)
            for high, low in pairwise(marks)
        ]
        yield from column(spans, x_mm=x, from_x_mm=frame.right_mm)


def _across(frame: Frame, pieces: Sequence[Piece]) -> Iterator[Sequence[Span]]:
    """What is measured across the back, from the ink outwards."""
    for piece, ink, panel in zip(pieces, frame.boxes_mm, frame.panels_mm, strict=True):
        name = f"{piece.name} " if piece.name else ""
        clear = piece.answer.job.lettering.clearance_mm
        left, right = panel[0] + clear, panel[2] - clear
        if name:  # lines from one text would run over the next
            yield [Span(ink[0], ink[2], f"{name}ink", bold=True)]
        else:
            own = Span(ink[0], ink[2], "ink", bold=True, from_mm=ink[1])
            yield from _chains(own, _spare(left, ink[0]), _spare(ink[2], right))
        if piece.along:
            yield from _baseline(piece, ink)
    usable = pieces[0].answer.panel
    left, right = frame.panels_mm[0][0], frame.panels_mm[0][2]
    if usable.back is None:
        yield [Span(frame.left_mm, frame.right_mm, "width")]
        return
    of = "label" if pieces[0].answer.report.panel.of == "label" else "panel"
    bent = pieces[0].answer.report.label
    if bent is not None:
        of = f"label, cut {bent.cut_width_mm:.2f}"
    yield [
        Span(frame.left_mm, left, "free"),
        Span(left, right, of),
        Span(right, frame.right_mm, "free"),
    ]
    round_name = "back, round the arc" if usable.developed else "back"
    yield [Span(frame.left_mm, frame.right_mm, round_name)]


def _chains(ink: Span, before: Span, after: Span) -> Iterator[list[Span]]:
    """Ink between its spares; apart from them where it stands over."""
    if before.begins_mm < ink.begins_mm - _FAR_MM and after.ends_mm > ink.ends_mm + _FAR_MM:
        yield [before, ink, after]
    else:
        yield [ink]
        yield [before, after]


def _spare(begins: float, ends: float) -> Span:
    """Room beside the ink, or what stands over."""
    if ends < begins:
        return Span(ends, begins, "over", bold=True)
    return Span(begins, ends, "spare")


def _baseline(piece: Piece, ink: Box) -> Iterator[Sequence[Span]]:
    """From the middle of the width to the first baseline of lines along the back."""
    sign = 1 if piece.layout.turn is Turn.CLOCKWISE else -1
    x = sign * piece.layout.baselines_mm[0]
    if abs(x) >= _FAR_MM:
        side = "right" if x > 0 else "left"
        which = "baseline" if len(piece.layout.lines) == 1 else "first baseline"
        name = f"{piece.name}: " if piece.name else ""
        from_mm = None if name else ink[1]
        words = f"{name}{which} {side} of middle"
        yield [Span(min(0.0, x), max(0.0, x), words, from_mm=from_mm)]


def _parts(frame: Frame, pieces: Sequence[Piece]) -> list[Span]:
    """What the back is made of, from head to tail."""
    spans = panel_spans(pieces)
    if spans:
        numbers = {piece.answer.panel.number for piece in pieces}
        found = [
            Span(
                -span.outer_bottom_mm, -span.outer_top_mm, f"panel {span.number}",
                bold=span.number in numbers,
            )
            for span in spans
        ]  # fmt: skip
        found += [
            Span(-lower.outer_top_mm, -upper.outer_bottom_mm, "band")
            for upper, lower in pairwise(spans)
        ]
        return found
    if pieces[0].answer.panel.back is None or len(pieces) > 1 or frame.open_head:
        return []
    _left, bottom, _right, top = frame.panels_mm[0]
    of = "label" if pieces[0].answer.report.panel.of == "label" else "panel"
    needed = " needed" if frame.open_tail else ""
    return [
        Span(top, 0.0, "free at head"),
        Span(bottom, top, f"{of}{needed}"),
        Span(frame.tail_mm, bottom, "free at tail"),
    ]


def _whole(frame: Frame) -> list[Span]:
    if frame.open_head:
        return []
    return [Span(frame.tail_mm, 0.0, "back needed" if frame.open_tail else "height")]


def _inside(frame: Frame, pieces: Sequence[Piece]) -> Iterator[list[Span]]:
    """From the ends of the panel to the ink, and the ink itself, of one text alone."""
    if len(pieces) > 1:
        return
    clear = pieces[0].answer.job.lettering.clearance_mm
    ink, panel = frame.boxes_mm[0], frame.panels_mm[0]
    own = Span(ink[1], ink[3], "ink", bold=True, from_mm=ink[2])
    if pieces[0].answer.panel.height_mm is None:
        yield [own]
        return
    yield from _chains(
        own,
        _spare(panel[1] + clear, ink[1]),
        _spare(ink[3], panel[3] - clear),
    )


def _marks(piece: Piece, ink: Box) -> list[Mark]:
    """The places that are marked with a rule, from the head."""
    name = f"{piece.name}: " if piece.name else ""
    if piece.layout.orientation is not Orientation.TRANSVERSE:
        begins, ends = "begins", "ends"
        if piece.layout.reading is Reading.ASCENDING:
            begins, ends = ends, begins
        return [
            Mark(ink[3], ink[2], f"{name}lettering {begins}"),
            Mark(ink[1], ink[2], f"{name}lettering {ends}"),
        ]
    group = piece.judged.layout.group
    first_off = group.box[3] - group.baselines_em[0]
    first = ink[3] - first_off * mm_from_pt(piece.judged.set_pt)
    steps = [each - piece.layout.baselines_mm[0] for each in piece.layout.baselines_mm]
    if len(steps) == 1:
        return [Mark(first, ink[2], f"{name}baseline", bold=True)]
    apart = say.bare_mm(steps[0] - steps[1])
    return [
        Mark(
            first + step, ink[2],
            f"{name}{_ORDINALS[at]} baseline" + (f", {apart} below" if at else ""),
            bold=not at,
        )
        for at, step in enumerate(steps)
    ]  # fmt: skip
