"""What does a drawing consist of?

Areas, lines and texts in mm, plain records that every writer understands: origin at the lower
left corner of the sheet, x to the right, y up. Drawn in black, white and grey, so that any
printer serves. Lettering is areas, so that it prints the same without its font; whatever is
not lettering is real text. A scene holds no decisions; each writer flips or scales as its
format asks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import Literal, NamedTuple

from spinefit.shaping.glyphs import Box, Contour, Point

Anchor = Literal["start", "middle", "end"]


class Pen(NamedTuple):
    """How a line is drawn.

    Attributes:
        width_mm: its width.
        dash_mm: lengths drawn and left out in turn; none for a line drawn whole.
        grey: 0 for black, 1 for white.
    """

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    grey: float = 0.0


class Area(NamedTuple):
    """Closed contours in mm, filled by the non-zero winding rule, or outlined, or both.

    Attributes:
        contours: as in an outline, but in mm.
        grey: of the filling, 0 for black and 1 for white; None where it is not filled.
        pen: of its edge; None where it has none.
    """

    contours: tuple[Contour, ...]
    grey: float | None = 0.0
    pen: Pen | None = None


class Line(NamedTuple):
    """A line through points, open."""

    points: tuple[Point, ...]
    pen: Pen


class Text(NamedTuple):
    """Words beside the lettering, in the drawing's own font.

    Attributes:
        at: the point of the baseline that ``anchor`` names.
        text: one line; any characters, written as text everywhere.
        size_mm: its em.
        anchor: which part of the line stands at the point.
        turn_deg: anticlockwise from level.
        bold: True for headings.
        width_mm: how wide it is; 0 leaves that to the reader's font.
        drawn: its outlines in mm from the start of the line, level, for a writer that must
            bring the font along and whose font lacks characters of it; none where it has them.
        grey: 0 for black, 1 for white.
    """

    at: Point
    text: str
    size_mm: float
    anchor: Anchor = "start"
    turn_deg: float = 0.0
    bold: bool = False
    width_mm: float = 0.0
    drawn: tuple[Contour, ...] = ()
    grey: float = 0.0


class Group(NamedTuple):
    """Items that belong together.

    Attributes:
        name: what they are, one word a reader of the file can look for (``lettering``).
        items: what they consist of.
        title: what they are, for those who cannot see them; "" where that adds nothing.
    """

    name: str
    items: tuple[Item, ...]
    title: str = ""


Item = Area | Line | Text | Group


class Scene(NamedTuple):
    """A drawing on a sheet of its own size.

    Attributes:
        width_mm, height_mm: the sheet.
        title: what it shows, in a few words.
        description: what it shows, for those who cannot see it.
        items: what is drawn, the later over the earlier.
    """

    width_mm: float
    height_mm: float
    title: str
    description: str
    items: tuple[Item, ...]


def box_contour(left: float, bottom: float, right: float, top: float) -> Contour:
    """A rectangle in mm as a contour, anticlockwise.

    >>> box_contour(0, 0, 2, 1).segments[0]
    ((2, 0),)
    """
    return Contour((left, bottom), (((right, bottom),), ((right, top),), ((left, top),)))


def centred_contour(width_mm: float, height_mm: float) -> Contour:
    """A rectangle about the origin."""
    return box_contour(-width_mm / 2, -height_mm / 2, width_mm / 2, height_mm / 2)


def grown(box: Box, by_mm: float) -> Box:
    """A box with each side moved outwards.

    >>> grown((0, 0, 2, 1), 1)
    (-1, -1, 3, 2)
    """
    return box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm


def ring_contour(corners: Iterable[Point]) -> Contour:
    """A polygon in mm as a contour.

    >>> ring_contour([(0, 0), (2, 0), (0, 1)]) == Contour((0, 0), (((2, 0),), ((0, 1),)))
    True
    """
    first, *rest = corners
    return Contour(first, tuple((corner,) for corner in rest))


def mapped(contour: Contour, at: Callable[[Point], Point]) -> Contour:
    """A contour with each of its points put elsewhere.

    Args:
        contour: any curves.
        at: an affine map, so that curves remain what they are.
    """
    return Contour(
        at(contour.start),
        tuple(tuple(at(point) for point in segment) for segment in contour.segments),
    )


def moved(items: Iterable[Item], by: Point) -> tuple[Item, ...]:
    """The same items, each moved by (x, y) in mm."""
    return tuple(_moved(items, by))


def _moved(items: Iterable[Item], by: Point) -> Iterator[Item]:
    for item in items:
        if isinstance(item, Group):
            yield item._replace(items=moved(item.items, by))
        elif isinstance(item, Text):
            yield item._replace(at=_shift(item.at, by))
        elif isinstance(item, Line):
            yield item._replace(points=tuple(_shift(point, by) for point in item.points))
        else:
            yield item._replace(
                contours=tuple(mapped(one, partial(_shift, by=by)) for one in item.contours)
            )


def _shift(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]
