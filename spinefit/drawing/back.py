"""How does the lettered back look, at true size, with what must be measured?

In: the frame of one back. Out: items in it: the back as it is made, bands and
panels, what is kept free in light grey; the lettering where it was judged, its extents, and
dimensions: under the tail across the back, to the left what the back is made of, to the right
what the lettering measures and where it stands from the head.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from spinefit.drawing.dimensions import (
    Mark,
    Span,
    chains,
    column,
    label_marks,
    rows,
    running,
    spare,
)
from spinefit.drawing.frame import Frame, ShownText, lettering
from spinefit.drawing.lap import lap_widths, over_joints
from spinefit.drawing.marks import (
    CENTRE,
    DASHED,
    EXTENTS,
    OUTLINE,
    THIN,
    arrow,
    box,
    end_line,
    extents_mm,
    hatching,
    label,
)
from spinefit.drawing.old_ink import old_chains, old_ink, old_marks, old_widths, rooms
from spinefit.drawing.ruled import ruled_frame
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, grown, moved, ring_contour
from spinefit.geometry.panels import PanelSpan, divide
from spinefit.say import phrasing as say
from spinefit.shaping.glyphs import Box
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Reading, Turn, Verdict

_NEAR_MM, _APART_MM = 7.0, 5.0  # from the back to the first line beside it, from words to the next
_BELOW_MM = 10.5  # the tail's name stands above the first line's figures
_ARROW_MM = (12.0, 42.0)
_BAND_GREY = 0.72
_CLEAR_MM = 1.0
_LABEL = Pen(0.25)
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")
_FAR_MM = 0.05
_READS = {
    Reading.DESCENDING: "reads from the head down",
    Reading.ASCENDING: "reads from the tail up",
    Reading.STACKED: "letters one under another",
    Reading.ACROSS: "reads across",
}


def elevation(frame: Frame) -> tuple[Item, ...]:
    """The back with its dimensions.

    Args:
        frame: the back and its texts.
    """
    return (
        *ground(frame),
        Group("extents", tuple(box(*ink, pen=EXTENTS) for ink in frame.boxes_mm)),
        *lettering(frame),
        Group("dimensions", _words_last(_dimensions(frame))),
        Group("direction", tuple(_direction(frame))),
        Group("ends", tuple(_ends(frame))),
    )


def reads_in_words(shown: ShownText) -> str:
    """Which way the lettering reads, in a few words."""
    pillar = shown.layout.orientation is Orientation.PILLAR
    return _READS[Reading.STACKED if pillar else shown.layout.reading]


def _words_last(items: Iterable[Item]) -> tuple[Item, ...]:
    """Lines first, so that no line of a later dimension runs through an earlier one's words."""
    return tuple(sorted(items, key=lambda item: not isinstance(item, Line)))


def _ends(frame: Frame) -> Iterator[Item]:
    top, bottom = _end_names(frame.first)
    if not frame.open_head:
        yield from label((0.0, 3.0), top, anchor="middle")
    if not frame.open_tail:
        yield from label((0.0, frame.tail_mm - 3.8), bottom, anchor="middle")
    if not all(shown.layout.fits for shown in frame.texts):
        words = str(Verdict.DOES_NOT_FIT)
        yield from label((0.0, 12.4), words, anchor="middle", size_mm=4.4, bold=True)


def _end_names(shown: ShownText) -> tuple[str, str]:
    """A label has a top, a back a head."""
    return ("top", "bottom") if shown.panel.back is None else ("head", "tail")


def _direction(frame: Frame) -> Iterator[Item]:
    """An arrow beside the lettering, with words."""
    lead = max(range(len(frame.texts)), key=lambda at: frame.texts[at].layout.set_pt)
    shown, ink = frame.texts[lead], frame.boxes_mm[lead]
    words = reads_in_words(shown)
    if shown.layout.orientation is Orientation.TRANSVERSE:
        x, y = frame.left_mm, 8.2
        ends = ((x, y), (x + _ARROW_MM[0], y))
        right_to_left = shown.answer.job.right_to_left
        yield from arrow(*(reversed(ends) if right_to_left else ends))
        yield from label((x + _ARROW_MM[0] + 1.5, y), words)
        return
    half = max(_ARROW_MM[0], min(ink[3] - ink[1], _ARROW_MM[1])) / 2
    middle, x = (ink[1] + ink[3]) / 2, _leftmost(frame) - 3.0
    down = shown.layout.reading is not Reading.ASCENDING
    ends = ((x, middle + half), (x, middle - half))
    yield from arrow(*(ends if down else reversed(ends)))
    turn = -90.0 if down else 90.0
    yield from label((x - 2.6, middle), words, anchor="middle", turn_deg=turn)


def _leftmost(frame: Frame) -> float:
    return min(frame.left_mm - frame.reach_mm, *(ink[0] for ink in frame.boxes_mm))


def _dimensions(frame: Frame) -> Iterator[Item]:
    yield from rows(
        list(_across(frame)),
        from_y_mm=frame.tail_mm,
        y_mm=frame.tail_mm - _BELOW_MM,
    )
    across = all(shown.layout.orientation is Orientation.TRANSVERSE for shown in frame.texts)
    x = _leftmost(frame) - (_NEAR_MM if across else 9.0)
    for spans in (_parts(frame), _whole(frame)):
        if spans:
            found = column(spans, x_mm=x, from_x_mm=frame.left_mm)
            yield from found
            if found:  # lengths that nobody could see are not drawn
                x = extents_mm(found)[0] - _APART_MM
    right = max(frame.right_mm + frame.reach_mm, *(ink[2] for ink in frame.boxes_mm))
    x = right + _NEAR_MM
    for chain in _inside(frame):
        found = column(chain, x_mm=x, from_x_mm=frame.right_mm)
        yield from found
        if found:
            x = extents_mm(found)[2] + _APART_MM
    marks = [
        mark
        for shown, ink, panel in zip(frame.texts, frame.boxes_mm, frame.panels_mm, strict=True)
        for mark in _marks(shown, ink, panel[3])
    ]
    marks += old_marks(frame)
    if not frame.open_head:
        yield from running(
            marks,
            x_mm=x,
            from_x_mm=frame.right_mm,
            zero_mm=0.0,
            zero_name=_end_names(frame.first)[0],
        )
    elif len(frame.first.layout.baselines_mm) > 1 and not frame.first.along:
        spans = [
            Span(low.y_mm, high.y_mm, "baselines", from_mm=low.from_x_mm)
            for high, low in pairwise(marks)
        ]
        yield from column(spans, x_mm=x, from_x_mm=frame.right_mm)


def _across(frame: Frame) -> Iterator[Sequence[Span]]:
    """What is measured across the back, from the ink outwards."""
    for shown, ink, panel in zip(frame.texts, frame.boxes_mm, frame.panels_mm, strict=True):
        if shown.name:  # lines from one text would run over the next: its marks say it
            continue
        clear = shown.answer.job.lettering.clearance_mm
        left, right = panel[0] + clear, panel[2] - clear
        own = Span(ink[0], ink[2], "ink", bold=True, from_mm=ink[1])
        yield from chains(own, spare(left, ink[0]), spare(ink[2], right))
        which, x = _first_baseline(shown)
        if x:
            words = f"{which} {_side(x)} of middle"
            yield [Span(min(0.0, x), max(0.0, x), words, from_mm=ink[1])]
    yield from old_widths(frame)
    usable = frame.first.panel
    room = next(rooms(frame))
    left, right = room[0], room[2]
    if usable.back is None:
        yield [Span(frame.left_mm, frame.right_mm, "width")]
        return
    of = "label" if frame.first.answer.report.panel.of == "label" else "panel"
    bent = frame.first.answer.report.label
    if bent is not None and bent.lap is None:
        of = f"label, cut {bent.cut_width_mm:.2f}"
    yield [
        Span(frame.left_mm, left, "free"),
        Span(left, right, of),
        Span(right, frame.right_mm, "free"),
    ]
    estimated = ", estimated" if frame.first.answer.report.panel.thickness else ""
    name = f"back, round the arc{estimated}" if usable.developed else f"back{estimated}"
    yield [Span(frame.left_mm, frame.right_mm, name)]
    yield from lap_widths(frame)


def _first_baseline(shown: ShownText) -> tuple[str, float]:
    """What it is called, and how far right of the middle of the width it runs along the back.

    It is 0 where that is too little to be seen, and for lines across.
    """
    which = "baseline" if len(shown.layout.lines) == 1 else "first baseline"
    sign = 1 if shown.layout.turn is Turn.CLOCKWISE else -1
    x = sign * shown.layout.baselines_mm[0] if shown.along else 0.0
    return which, x if abs(x) >= _FAR_MM else 0.0


def _side(x_mm: float) -> str:
    return "right" if x_mm > 0 else "left"


def _parts(frame: Frame) -> list[Span]:
    """What the back is made of, from head to tail."""
    spans = _panel_spans(frame)
    if spans:
        numbers = {shown.panel.number for shown in frame.texts}
        found = [
            Span(
                -span.outer_bottom_mm, -span.outer_top_mm, f"panel {span.number}",
                bold=span.number in numbers,
            )
            for span in spans
        ]  # fmt: skip
        return found + [Span(bottom, top, "band") for _left, bottom, _right, top in bands_mm(frame)]
    if frame.first.panel.back is None or len(frame.texts) > 1 or frame.open_head:
        return []
    _left, bottom, _right, top = next(rooms(frame))
    of = "label" if frame.first.answer.report.panel.of == "label" else "panel"
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


def _inside(frame: Frame) -> Iterator[list[Span]]:
    """From the ends of the panel to the ink, and the ink itself, of one text alone; old ink."""
    yield from old_chains(frame)
    if len(frame.texts) > 1:
        return
    clear = frame.first.answer.job.lettering.clearance_mm
    ink, panel = frame.boxes_mm[0], next(rooms(frame))
    own = Span(ink[1], ink[3], "ink", bold=True, from_mm=ink[2])
    if frame.first.panel.height_mm is None:
        yield [own]
        return
    yield from chains(
        own,
        spare(panel[1] + clear, ink[1]),
        spare(ink[3], panel[3] - clear),
    )


def _marks(shown: ShownText, ink: Box, edge_mm: float) -> list[Mark]:
    """The places that are marked with a rule, from the head; its panel ends at an edge."""
    name = f"{shown.name}: " if shown.name else ""
    wide = f", {say.bare_mm(ink[2] - ink[0])} wide" if name else ""
    if shown.layout.orientation is not Orientation.TRANSVERSE:
        begins, ends = "begins", "ends"
        if shown.layout.reading is Reading.ASCENDING:
            begins, ends = ends, begins
        which, x = _first_baseline(shown)
        off = f", {which} {say.bare_mm(abs(x))} {_side(x)} of middle" if name and x else ""
        return [
            Mark(ink[3], ink[2], f"{name}lettering {begins}{off}"),
            Mark(ink[1], ink[2], f"{name}lettering {ends}{wide}"),
        ]
    if shown.layout.texts:
        return label_marks(shown.layout, ink[2], edge_mm)
    group = shown.judged.layout.group
    first = ink[3] - (group.box[3] - group.baselines_em[0]) * mm_from_pt(shown.judged.set_pt)
    steps = [each - shown.layout.baselines_mm[0] for each in shown.layout.baselines_mm]
    if len(steps) == 1:
        return [Mark(first, ink[2], f"{name}baseline{wide}", bold=not name)]
    apart = say.bare_mm(steps[0] - steps[1])
    return [
        Mark(
            first + step, ink[2],
            f"{name}{_ORDINALS[at]} baseline" + (f", {apart} below" if at else wide),
            bold=not (at or name),
        )
        for at, step in enumerate(steps)
    ]  # fmt: skip


def ground(frame: Frame) -> tuple[Item, ...]:
    """The back, bare."""
    return (
        Group("back", tuple(_back(frame))),
        *(
            Group("usable-panel", tuple(_panel(shown, panel)))
            for shown, panel in panels_shown(frame)
            if panel[2] > panel[0] and panel[3] > panel[1]
        ),
        *([Group("label", tuple(over_joints(frame)))] if frame.reach_mm else ()),
        *(Group("old-lettering", old_ink(one)) for one in frame.old_inks if one is not None),
        Group("middle", tuple(_middle(frame))),
    )


def panels_shown(frame: Frame) -> Iterator[tuple[ShownText, Box]]:
    """The panel of each text, or its label over old lettering; a label that several share once."""
    drawn: set[tuple[float, float]] = set()
    for shown, panel in zip(frame.texts, rooms(frame), strict=True):
        if shown.label_mm is None:
            yield shown, panel
        elif shown.label_mm not in drawn:
            drawn.add(shown.label_mm)
            yield shown, (panel[0], -shown.label_mm[1], panel[2], -shown.label_mm[0])


def _middle(frame: Frame) -> Iterator[Line]:
    """The middle of the width, left out under the lettering, which must stay clear to see."""
    begin = 0.0
    for _left, bottom, _right, top in sorted(frame.boxes_mm, key=lambda ink: -ink[3]):
        if begin - top > _CLEAR_MM:
            yield Line(((0.0, begin), (0.0, top + _CLEAR_MM)), CENTRE)
        begin = bottom - _CLEAR_MM
    if begin > frame.tail_mm:
        yield Line(((0.0, begin), (0.0, frame.tail_mm)), CENTRE)


def bands_mm(frame: Frame) -> list[Box]:
    """The bands across the back, from the head down."""
    return [
        (frame.left_mm, -lower.outer_top_mm, frame.right_mm, -upper.outer_bottom_mm)
        for upper, lower in pairwise(_panel_spans(frame))
    ]


def _panel_spans(frame: Frame) -> tuple[PanelSpan, ...]:
    """The panels between bands; none without bands or without a height."""
    spine = frame.first.answer.job.spine
    if spine is None or spine.height_mm is None or frame.first.panel.number is None:
        return ()
    # Of several texts each keeps free what is the others'; of the back only the least is free.
    spines = [shown.answer.job.spine or spine for shown in frame.texts]
    return divide(
        spine._replace(
            head_mm=min(one.head_mm for one in spines), foot_mm=min(one.foot_mm for one in spines)
        )
    )


def _back(frame: Frame) -> Iterator[Item]:
    panel = frame.first.panel
    if panel.back is None:
        return
    left, right, tail = frame.left_mm, frame.right_mm, frame.tail_mm
    yield box(left, tail, right, 0.0, grey=frame.first.greys.covering)
    width_mm, bare = panel.width_mm / 2, frame.first.greys.bare
    for span in _panel_spans(frame):
        if span.height_mm > 0 and width_mm > 0:
            yield box(-width_mm, -span.bottom_mm, width_mm, -span.top_mm, grey=bare)
    for band in bands_mm(frame):
        yield box(*band, grey=_BAND_GREY * bare, pen=THIN)
    yield Line(((left, 0.0), (left, tail)), OUTLINE)
    yield Line(((right, 0.0), (right, tail)), OUTLINE)
    for open_end, y in ((frame.open_head, 0.0), (frame.open_tail, tail)):
        yield end_line(left, right, y, goes_on=open_end)


def _panel(shown: ShownText, panel: Box) -> Iterator[Item]:
    """The panel, an inner margin dashed, areas kept free hatched."""
    usable, clear_mm = shown.panel, shown.answer.job.lettering.clearance_mm
    greys = shown.greys
    pen = DASHED if shown.answer.report.panel.of == "back" else _LABEL
    middle = ((panel[0] + panel[2]) / 2, (panel[1] + panel[3]) / 2)
    if usable.outline_mm is None:
        yield box(*panel, grey=greys.ground, pen=pen)
        if clear_mm > 0:
            yield box(*grown(panel, -clear_mm), pen=DASHED)
    else:
        yield box(*panel, grey=greys.covering)
        yield from moved((Area((ring_contour(usable.outline_mm),), greys.ground, pen),), middle)
    yield from moved(ruled_frame(usable, panel, greys.ink), middle)
    for hole in usable.holes_mm:
        area = moved((Area((ring_contour(hole),), greys.ground, THIN),), middle)
        yield Group("kept-free", (*area, *hatching(extents_mm(area))), "kept free")
