"""Where does the label stand on the front board, drawn with its dimensions?

In: an answer on a front board. Out: one scene at half size, since a board seldom goes on a sheet
beside its dimensions: the board with joint, leather and corners, the label with its lettering,
and from head, joint or leather and fore edge to the label's middle. Figures in mm, true.
"""

from __future__ import annotations

from spinefit.drawing.dimensions import dimension
from spinefit.drawing.frame import greys_of, lettering_mm, shown_letters, shown_text
from spinefit.drawing.marks import CUT, DASHED, FINE, WORDS_MM, column, held
from spinefit.drawing.paper import BENCH_MARGIN_MM, bench_title
from spinefit.drawing.ruled import frame_contours
from spinefit.drawing.scene import (
    Area,
    Group,
    Item,
    Line,
    Pen,
    Scene,
    Text,
    box_contour,
    mapped,
    ring_contour,
)
from spinefit.job.sheet import paper_size
from spinefit.judgement import Judged
from spinefit.judgement.labels import BoardPlace
from spinefit.pipeline import Answer
from spinefit.say.model import doubts_of
from spinefit.say.phrasing import bare_mm, mm, visible
from spinefit.shaping.glyphs import Contour, Point
from spinefit.vocabulary import BindingSide

_SCALE = 0.5
_LEFT_MM, _ABOVE_MM, _BELOW_MM = 14.0, 18.0, 26.0
_LEATHER_GREY = 0.86
_LABEL = Pen(0.3)
_TICK_MM = 8.0  # on the board, at the middles of the label's sides


def board_scene(answer: Answer) -> Scene:
    """The drawing of an answer on a front board.

    Raises:
        ValueError: the lettering stands elsewhere.
    """
    place = answer.judgement.board_place
    if place is None:
        raise ValueError("no front board to draw")
    board = place.board
    wide, high = board.width_mm * _SCALE, board.height_mm * _SCALE
    least = paper_size("A4")
    width_mm = max(least[0], wide + 2 * BENCH_MARGIN_MM + 2 * _LEFT_MM)
    height_mm = max(least[1], high + 2 * BENCH_MARGIN_MM + _ABOVE_MM + _BELOW_MM + 34.0)
    view = _View(
        place, answer, (BENCH_MARGIN_MM + _LEFT_MM, height_mm - BENCH_MARGIN_MM - _ABOVE_MM - high)
    )
    title = f"Front board: {visible(answer.report.title)}"
    below = view.origin[1] - _BELOW_MM - 6.0
    words, _end = column(
        _words(answer, place), (BENCH_MARGIN_MM, below), width_mm - 2 * BENCH_MARGIN_MM
    )
    items: tuple[Item, ...] = (
        bench_title(title, height_mm, answer.job.commission.on_paper),
        Text((view.origin[0] + wide / 2, view.origin[1] + high + 2.2), "HEAD", WORDS_MM, "middle",
             bold=True),
        view.board(),
        view.label(shown_text(answer).judged),
        view.dimensions(),
        Group("how-to", tuple(words)),
    )  # fmt: skip
    report = answer.report.front_board
    said = "" if report is None else visible(report.text)
    described = f"The front board at half size with its label: {said}"
    return Scene(width_mm, height_mm, title, described, held(items))


def _words(answer: Answer, place: BoardPlace) -> list[str | tuple[str, bool]]:
    start = "leather" if place.board.leather_mm > place.board.joint_mm else "joint"
    return [
        (visible(answer.report.answer), True),
        *((visible(text), True) for text in doubts_of([answer.report])),
        "Drawn at half size; figures in mm, measured on the board.",
        f"Mark the middle of the label from the head and from {start} and fore edge, try the cut "
        "label dry, and look at it from a step away before it is pasted: the eye has the last "
        "word.",
        *answer.report.cautions,
    ]


class _View:
    """The board at half size, its back on the side where the market's books have it."""

    def __init__(self, place: BoardPlace, answer: Answer, origin: Point) -> None:
        self.origin = origin
        self._place = place
        self._answer = answer
        self._mirrored = answer.job.market.binding_side is BindingSide.RIGHT

    def at(self, from_back_mm: float, from_tail_mm: float) -> Point:
        """A point of the board on the sheet."""
        board = self._place.board
        x = board.width_mm - from_back_mm if self._mirrored else from_back_mm
        return self.origin[0] + x * _SCALE, self.origin[1] + from_tail_mm * _SCALE

    def _box(self, left: float, bottom: float, right: float, top: float) -> Contour:
        (x0, y0), (x1, y1) = self.at(left, bottom), self.at(right, top)
        return box_contour(min(x0, x1), y0, max(x0, x1), y1)

    def board(self) -> Group:
        """Outline, leather and joint."""
        board = self._place.board
        wide, high = board.width_mm, board.height_mm
        items: list[Item] = []
        bare = greys_of(self._answer.job).bare
        if bare < 1.0:
            items.append(Area((self._box(0, 0, wide, high),), bare))
        if board.leather_mm > 0:
            leather = self._box(0, 0, board.leather_mm, high)
            items.append(Area((leather,), _LEATHER_GREY, FINE))
        if board.corners_mm > 0:
            leg = board.corners_mm
            for tip, side in ((0.0, leg), (high, high - leg)):
                corners = ((wide, tip), (wide - leg, tip), (wide, side))
                outline = ring_contour(self.at(*corner) for corner in corners)
                items.append(Area((outline,), _LEATHER_GREY, FINE))
        if board.joint_mm > 0:
            line = (self.at(board.joint_mm, 0), self.at(board.joint_mm, high))
            items.append(Line(line, DASHED))
        items.append(Area((self._box(0, 0, wide, high),), None, CUT))
        return Group("front-board", tuple(items), "the front board")

    def label(self, judged: Judged) -> Group:
        """The label, marks at the middles of its sides, and its lettering."""
        place = self._place
        x, y = place.from_back_mm, place.board.height_mm - place.from_head_mm
        half_x, half_y = place.label_width_mm / 2, place.label_height_mm / 2
        box = self._box(x - half_x, y - half_y, x + half_x, y + half_y)
        items: list[Item] = []
        greys = greys_of(self._answer.job)
        if place.is_label:
            items.append(Area((box,), greys.ground, _LABEL))
        middle = self.at(x, y)
        label = judged.layout.panel._replace(width_mm=2 * half_x, height_mm=2 * half_y)
        if label.frame is not None:
            ruled = tuple(_scaled(one, middle) for one in frame_contours(label))
            items.append(Group("ruled-frame", (Area(ruled, greys.ink),), "frame"))
        letters = tuple(_scaled(one, middle) for one in lettering_mm(judged))
        title = self._answer.report.title
        items.append(Group("lettering", shown_letters(judged, letters, greys.ink), title))
        for side in (-1, 1):  # beside the label, clear of its lettering
            for start, end in (
                ((x + side * half_x, y), (x + side * (half_x + _TICK_MM), y)),
                ((x, y + side * half_y), (x, y + side * (half_y + _TICK_MM))),
            ):
                items.append(Line((self.at(*start), self.at(*end)), FINE))
        return Group("label", tuple(items), "the label")

    def dimensions(self) -> Group:
        """From head, joint or leather and fore edge to the middle; the board and the label."""
        place, board = self._place, self._place.board
        x, y = place.from_back_mm, board.height_mm - place.from_head_mm
        left, base = self.origin
        right = left + board.width_mm * _SCALE
        top, middle = self.at(0, board.height_mm)[1], self.at(0, y)[1]
        under = self.at(x, y - place.label_height_mm / 2)
        what = "label" if place.is_label else "lettering"
        size = f"{what} {bare_mm(place.label_width_mm)} x {mm(place.label_height_mm)}"
        return Group(
            "dimensions",
            (
                self._level(board.free_from_mm, x, base - 6.0),
                self._level(x, board.width_mm, base - 6.0),
                self._level(0.0, board.width_mm, base - 13.0),
                *(Line(((right + 1.0, end), (right + 8.0, end)), FINE) for end in (middle, top)),
                dimension((right + 6.5, middle), (right + 6.5, top), bare_mm(place.from_head_mm)),
                dimension((left - 6.0, base), (left - 6.0, top), bare_mm(board.height_mm)),
                Text((under[0], under[1] - 8.0), size, WORDS_MM, "middle"),
            ),
        )

    def _level(self, start_mm: float, end_mm: float, y: float) -> Group:
        """A level dimension below the board, with its two lines down to it."""
        xs = sorted((self.at(start_mm, 0)[0], self.at(end_mm, 0)[0]))
        lines = tuple(Line(((x, self.origin[1] - 1.0), (x, y - 1.2)), FINE) for x in xs)
        return Group(
            "level", (*lines, dimension((xs[0], y), (xs[1], y), bare_mm(end_mm - start_mm)))
        )


def _scaled(contour: Contour, middle: Point) -> Contour:
    """A contour of the panel's frame at half size about a point of the sheet."""

    def at(point: Point) -> Point:
        return middle[0] + point[0] * _SCALE, middle[1] + point[1] * _SCALE

    return mapped(contour, at)
