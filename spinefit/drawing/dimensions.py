"""How are lengths written beside what they measure?

In: lengths in mm with their names, and where they stand. Out: items: extension lines,
dimension lines with oblique strokes, figures that never meet. Figures stand level, above the
line where they have room between its ends, else beside it (ISO 129 practice). Lengths up the
back are written beside their line; places are counted from the head from one zero, so that a
rule need be laid on once (running dimensions).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from spinefit.drawing.marks import (
    FINE,
    GUIDE,
    THIN,
    WORDS_MM,
    arrow_head,
    label,
    text_width_mm,
    tick,
)
from spinefit.drawing.scene import Anchor, Area, Group, Item, Line, Text
from spinefit.say.model import LayoutReport
from spinefit.say.phrasing import bare_mm
from spinefit.shaping.glyphs import Contour, Point
from spinefit.tolerances import SHOWN_MM

_ROW_MM = 5.2  # from one level dimension line to the next
_OFF_MM, _PAST_MM = 0.9, 1.6  # an extension line keeps off what it measures, and passes the line
_PITCH_MM = 3.9  # from one level figure to the one below it
_OVER_MM = 2.0  # from a level dimension line to the middle of the words above it
_BESIDE_MM = 1.6
_LEADER_MM = 4.0
_ORIGIN_MM = 0.8
_ARROW_MM = 1.6
_APART_MM = 0.05  # less than that nobody sees


class Span(NamedTuple):
    """A length between two places on one axis.

    Attributes:
        begins_mm, ends_mm: the places, the lesser first.
        name: what it is, one or two words.
        bold: whether it matters most.
        figure: what is written instead of its length; "" for the length.
        from_mm: where its extension lines begin on the other axis; None for the edge of all.
    """

    begins_mm: float
    ends_mm: float
    name: str
    bold: bool = False
    figure: str = ""
    from_mm: float | None = None

    @property
    def words(self) -> str:
        """Name and length."""
        apart = ": " if self.name[-1:].isdigit() else " "  # panel 1: 52.1
        return f"{self.name}{apart}{self.figure or bare_mm(self.ends_mm - self.begins_mm)}"

    @property
    def wide_mm(self) -> float:
        """How wide the words are."""
        return text_width_mm(self.words, WORDS_MM, bold=self.bold)

    @property
    def has_room(self) -> bool:
        """Whether the words stand between the ends."""
        return self.wide_mm + 1.5 <= self.ends_mm - self.begins_mm


class Mark(NamedTuple):
    """A place counted from the head.

    Attributes:
        y_mm: where it stands.
        from_x_mm: where its extension line begins.
        name: what is there.
        bold: whether it matters most.
    """

    y_mm: float
    from_x_mm: float
    name: str
    bold: bool = False


def rows(chains: Sequence[Sequence[Span]], *, from_y_mm: float, y_mm: float) -> list[Item]:
    """Level dimensions under what they measure, a chain a line where its figures have room.

    Args:
        chains: lengths that follow on one another, from left to right.
        from_y_mm: where their extension lines begin.
        y_mm: the first dimension line.
    """
    items: list[Item] = []
    words: list[Item] = []
    for row in _rows_of(chains):
        for span in row:
            for x in (span.begins_mm, span.ends_mm):
                if span.from_mm is not None:
                    items.append(Line(((x, span.from_mm - _OFF_MM), (x, from_y_mm)), GUIDE))
                items.append(Line(((x, from_y_mm - _OFF_MM), (x, y_mm - _PAST_MM)), FINE))
                words.append(tick((x, y_mm)))
            words += _level(span, y_mm, left=len(row) > 1 and span is row[0])
        y_mm -= _ROW_MM
    return items + words


def _rows_of(chains: Sequence[Sequence[Span]]) -> list[Sequence[Span]]:
    """Chains split where a figure between others would have no room."""
    found: list[Sequence[Span]] = []
    for chain in chains:
        long = [span for span in chain if span.ends_mm - span.begins_mm > SHOWN_MM]
        inner = long[1:-1]
        cramped = [span for span in inner if not span.has_room]
        if len(long) == 2 or (inner and not cramped):
            found.append(long)
        elif cramped:
            found.append([span for span in long if span not in cramped])
            found.extend([span] for span in cramped)
        else:
            found.extend([span] for span in long)
    return [row for row in found if row]


def _level(span: Span, y_mm: float, *, left: bool) -> list[Item]:
    """A level dimension line, its words above it or beyond one of its ends."""
    begins, ends = span.begins_mm, span.ends_mm
    out = 3.0 + span.wide_mm
    anchor: Anchor = "start"
    if span.has_room:
        x, anchor = (begins + ends) / 2, "middle"
    elif left:
        x, begins, anchor = begins - 2.0, begins - out, "end"
    else:
        x, ends = ends + 2.0, ends + out
    words = label((x, y_mm + _OVER_MM), span.words, anchor=anchor, bold=span.bold)
    return [Line(((begins, y_mm), (ends, y_mm)), THIN), *words]


def column(spans: Sequence[Span], *, x_mm: float, from_x_mm: float) -> list[Item]:
    """Lengths up the back, one under another on one line; figures on the outer side.

    Args:
        spans: lengths on the upright axis; those of nothing are left out.
        x_mm: the dimension line, left or right of where the extension lines begin.
        from_x_mm: where they begin.
    """
    side = 1 if x_mm > from_x_mm else -1
    spans = [span for span in spans if span.ends_mm - span.begins_mm > SHOWN_MM]
    items: list[Item] = []
    for span in spans:
        for y in (span.begins_mm, span.ends_mm):
            begins = from_x_mm if span.from_mm is None else span.from_mm
            items.append(_extension(begins, x_mm, y, side))
            items.append(tick((x_mm, y)))
        items.append(Line(((x_mm, span.begins_mm), (x_mm, span.ends_mm)), THIN))
    wanted = [((span.begins_mm + span.ends_mm) / 2, span.words, span.bold) for span in spans]
    return items + _beside(wanted, x_mm, side)


def running(
    marks: Sequence[Mark], *, x_mm: float, from_x_mm: float, zero_mm: float, zero_name: str
) -> list[Item]:
    """Places counted from one zero at the head, their figures beside one line.

    Args:
        marks: the places.
        x_mm: the dimension line.
        from_x_mm: where the extension line of the zero begins.
        zero_mm: where the head is.
        zero_name: what it is called.
    """
    lowest = min(mark.y_mm for mark in marks)
    items: list[Item] = [
        _extension(from_x_mm, x_mm, zero_mm, 1),
        Line(((x_mm, min(zero_mm, lowest)), (x_mm, max(zero_mm, marks[0].y_mm))), THIN),
        Area((_circle((x_mm, zero_mm)),), 1.0, THIN),
    ]
    for mark in marks:
        items.append(_extension(mark.from_x_mm, x_mm, mark.y_mm, 1))
        items.append(tick((x_mm, mark.y_mm)))
    wanted = [(zero_mm, f"0 from the {zero_name}", False)]
    wanted += [
        (mark.y_mm, f"{bare_mm(zero_mm - mark.y_mm)} {mark.name}", mark.bold) for mark in marks
    ]
    return items + _beside(wanted, x_mm, 1)


def label_marks(layout: LayoutReport, from_x_mm: float, edge_mm: float) -> list[Mark]:
    """The baselines and rules of a label with several texts, from the head.

    Args:
        layout: its setting.
        from_x_mm: where the extension lines begin.
        edge_mm: where the label's upper edge stands, the head being at 0.
    """
    marks = [
        Mark(edge_mm - rule.from_head_mm, from_x_mm, "rule, upper edge") for rule in layout.rules
    ]
    for text in layout.texts:
        name = f"{text.role} baseline"
        places_mm = [edge_mm - each for each in text.baselines_mm]
        marks += [Mark(y_mm, from_x_mm, name, bold=not at) for at, y_mm in enumerate(places_mm)]
    return sorted(marks, key=lambda mark: -mark.y_mm)


def _extension(from_x_mm: float, x_mm: float, y_mm: float, side: int) -> Line:
    return Line(((from_x_mm + side * _OFF_MM, y_mm), (x_mm + side * _PAST_MM, y_mm)), FINE)


def _circle(at: Point) -> Contour:
    """A small circle for the zero, of four quadratic arcs."""
    x, y = at
    r = _ORIGIN_MM
    return Contour(
        (x + r, y),
        (
            ((x + r, y + r), (x, y + r)),
            ((x - r, y + r), (x - r, y)),
            ((x - r, y - r), (x, y - r)),
            ((x + r, y - r), (x + r, y)),
        ),
    )


def _beside(wanted: Sequence[tuple[float, str, bool]], x_mm: float, side: int) -> list[Item]:
    """Figures beside an upright line, moved apart where they would meet, with leaders then."""
    wanted = sorted(wanted, key=lambda one: -one[0])
    places = _apart([y for y, _words, _bold in wanted])
    moved = any(abs(y - place) > 0.3 for (y, *_), place in zip(wanted, places, strict=True))
    away = _LEADER_MM if moved else _BESIDE_MM
    items: list[Item] = []
    for (y, words, bold), place in zip(wanted, places, strict=True):
        if moved:
            ends = (x_mm + side * (away - 0.6), place)
            items.append(Line(((x_mm, y), (x_mm + side * 1.2, y), ends), FINE))
        at = (x_mm + side * away, place)
        items += label(at, words, anchor="start" if side > 0 else "end", bold=bold)
    return items


def _apart(wanted: Sequence[float]) -> list[float]:
    """Falling places at least a pitch apart, as near to the wanted ones as may be.

    Least squares by pooling neighbours that would overlap.
    """
    pools: list[list[float]] = []  # sum of places brought together, their number
    for number, place in enumerate(wanted):
        pools.append([place + number * _PITCH_MM, 1])
        while len(pools) > 1 and _mean(pools[-1]) > _mean(pools[-2]):
            total, count = pools.pop()
            pools[-1][0] += total
            pools[-1][1] += count
    level = [_mean(pool) for pool in pools for _ in range(int(pool[1]))]
    return [place - number * _PITCH_MM for number, place in enumerate(level)]


def _mean(pool: Sequence[float]) -> float:
    return pool[0] / pool[1]


def dimension(start: Point, end: Point, figure: str) -> Group:
    """A dimension line between two points, level or upright, with its figure.

    Args:
        start: its left or lower end.
        end: its other end.
        figure: its length as it is written.
    """
    (x0, y0), (x1, y1) = start, end
    length = math.dist(start, end)
    upright = y1 - y0 > x1 - x0
    dx, dy = (0.0, 1.0) if upright else (1.0, 0.0)
    outside = length < 3 * _ARROW_MM  # arrows point inwards from outside where there is no room
    reach, sign = (3 * _ARROW_MM, -1) if outside else (0.0, 1)
    tip = (x1 + dx * reach, y1 + dy * reach)
    if text_width_mm(figure, WORDS_MM) <= length:
        words = (
            Text((x0 - 0.9, (y0 + y1) / 2), figure, WORDS_MM, "middle", 90.0)
            if upright
            else Text(((x0 + x1) / 2, y0 + 0.9), figure, WORDS_MM, "middle")
        )
    elif upright:
        words = Text((tip[0], tip[1] + 1.0), figure, WORDS_MM, "middle")
    else:
        words = Text((tip[0] + 1.0, tip[1] - WORDS_MM * 0.3), figure, WORDS_MM)
    line = Line(((x0 - dx * reach, y0 - dy * reach), tip), FINE)
    side = (-dy * _ARROW_MM / 6, dx * _ARROW_MM / 6)
    heads = (
        arrow_head((x, y), (x + way * dx * _ARROW_MM, y + way * dy * _ARROW_MM), side)
        for (x, y), way in ((start, sign), (end, -sign))
    )
    return Group("dimension", (line, *heads, words))


def chains(ink: Span, before: Span, after: Span) -> Iterator[list[Span]]:
    """Ink between its spares; apart from them where it stands over."""
    if before.begins_mm < ink.begins_mm - _APART_MM and after.ends_mm > ink.ends_mm + _APART_MM:
        yield [before, ink, after]
    else:
        yield [ink]
        yield [before, after]


def spare(begins: float, ends: float) -> Span:
    """Room beside the ink, or what stands over."""
    if ends < begins:
        return Span(ends, begins, "over", bold=True)
    return Span(begins, ends, "spare")
