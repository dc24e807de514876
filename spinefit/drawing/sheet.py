"""What is printed on a sheet of labels?

In: settings that fit, spares, marks and a page. Out: a `Sheet`: each label's place, and a scene
for each page, at true size; the same for the same settings. A label is its lettering as it was
checked, the frame or the ticks to cut by, and a small grey caption outside it. Which settings
there are is for `sheet_settings`, where they stand for `sheet_page`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Literal, NamedTuple

from spinefit.drawing.frame import lettering_mm
from spinefit.drawing.marks import covers, text_width_mm
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
    moved,
    ring_contour,
)
from spinefit.drawing.sheet_page import Cell, Page, Spot, bins_of, fits_in, pack, page_items
from spinefit.drawing.sheet_settings import LabelSetting
from spinefit.errors import FieldError
from spinefit.geometry.plane import Ring
from spinefit.say import phrasing as say
from spinefit.say.model import hazards_of
from spinefit.shaping.glyphs import Contour, Point

__all__ = [
    "CAPTION_MM",
    "MARKS",
    "Label",
    "Marks",
    "PlacedLabel",
    "Sheet",
    "build_sheet",
    "cell_of",
    "is_beside",
    "label_items",
    "letter_of",
    "turned_label",
]

Marks = Literal["frame", "ticks"]
MARKS: tuple[Marks, ...] = ("frame", "ticks")
"""What a label is cut by."""

_PLAIN_FRAME_MM = 0.1  # a hairline, for a method that has no frame line of its own
_MOST_LABELS = 2000  # some hundred sheets
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
# Sizes of what is drawn beside a label: the page's own look, no rule of the trade.
CAPTION_MM = 2.1
"""The em of a caption."""

_CAPTION_GREY = 0.45
_CAPTION_LINE_MM = 2.5
_CAPTION_GAP_MM = 1.2  # from the label's marks to the letters of the caption
_NARROW = 3.0  # so many times as high as wide
_TICK_GAP_MM, _TICK_MM = 1.0, 3.0
_HAIRLINE_MM = 0.1


class PlacedLabel(NamedTuple):
    """Where one label stands; its fields are the keys of the JSON.

    Attributes:
        sheet: on which page, from 1.
        left_mm, bottom_mm: its lower left corner on the sheet.
        width_mm, height_mm: its sides as it lies there.
    """

    sheet: int
    left_mm: float
    bottom_mm: float
    width_mm: float
    height_mm: float


class Sheet(NamedTuple):
    """Labels on their pages.

    Attributes:
        page: the paper.
        settings: what is set, each with its letter.
        copies: how many of each.
        places: of each setting its labels.
        turned: whether the labels lie on their sides.
        scenes: a drawing for each page.
    """

    page: Page
    settings: tuple[LabelSetting, ...]
    copies: int
    places: tuple[tuple[PlacedLabel, ...], ...]
    turned: bool
    scenes: tuple[Scene, ...]

    @property
    def labels_per_sheet(self) -> list[int]:
        """How many labels stand on each page."""
        counts = Counter(place.sheet for places in self.places for place in places)
        return [counts[page] for page in sorted(counts)]


def letter_of(place: int) -> str:
    """The name of a setting by its place from 0.

    >>> [letter_of(place) for place in (0, 25, 26, 701, 702)]
    ['A', 'Z', 'AA', 'ZZ', 'AAA']
    """
    name, rest = "", place + 1
    while rest:
        rest, at = divmod(rest - 1, len(_LETTERS))
        name = _LETTERS[at] + name
    return name


def build_sheet(
    settings: Sequence[LabelSetting], page: Page, *, copies: int, marks: Marks | None = None
) -> Sheet:
    """Every copy of every setting, placed and drawn.

    Args:
        settings: at least one.
        page: the paper.
        copies: how many of each, from 1.
        marks: frame or ticks; None for a frame where the method has a frame line.

    Raises:
        FieldError: a label larger than the paper, or more labels than anyone can cut.
    """
    if len(settings) * copies > _MOST_LABELS:
        raise FieldError(
            f"{len(settings) * copies} labels", where="--spares",
            remedy=f"print at most {_MOST_LABELS} at a time",
        )  # fmt: skip
    named = tuple(one._replace(letter=letter_of(at)) for at, one in enumerate(settings))
    upright = [_label(one, marks) for one in named]
    wanted = [at for at in range(len(named)) for _ in range(copies)]
    labels, turned, spots = _placed(upright, wanted, named, page)
    pages = max(spot.page for spot in spots) + 1
    hazards = hazards_of(one.answer.report for one in named)
    drawn = [[*page_items(page, hazards, number=at, count=pages)] for at in range(1, pages + 1)]
    places: list[list[PlacedLabel]] = [[] for _ in named]
    for at, spot in zip(wanted, spots, strict=True):
        items, (left, bottom) = label_items(labels[at], (spot.left_mm, spot.top_mm))
        drawn[spot.page].extend(items)
        sides = labels[at].width_mm, labels[at].height_mm
        places[at].append(PlacedLabel(spot.page + 1, left, bottom, *sides))
    return Sheet(
        page=page,
        settings=named,
        copies=copies,
        places=tuple(map(tuple, places)),
        turned=turned,
        scenes=tuple(
            Scene(
                page.width_mm,
                page.height_mm,
                "Labels to cut" + (f", sheet {number} of {pages}" if pages > 1 else ""),
                "Labels at true size, with rulers and a square of 50 mm to measure before cutting",
                tuple(items),
            )
            for number, items in enumerate(drawn, 1)
        ),
    )


def _placed(
    upright: list[Label], wanted: list[int], settings: Sequence[LabelSetting], page: Page
) -> tuple[list[Label], bool, tuple[Spot, ...]]:
    """The labels as they lie, and their spots; turned only where that saves a sheet."""
    bins = bins_of(page)
    ways = [upright] if page.grain else [upright, [turned_label(one) for one in upright]]
    found = []
    for turned, labels in enumerate(ways):
        cells = [cell_of(one) for one in labels]
        if all(fits_in(cell, bins) for cell in cells):
            spots = pack([cells[at] for at in wanted], bins, gutter_mm=page.gutter_mm)
            found.append((max(spot.page for spot in spots), turned, labels, spots))
    if not found:
        raise _too_large(upright, settings, page)
    _pages, turned, labels, spots = min(found, key=lambda one: one[:2])
    return labels, bool(turned), spots


def _too_large(labels: list[Label], settings: Sequence[LabelSetting], page: Page) -> FieldError:
    bins = bins_of(page)
    for label, setting in zip(labels, settings, strict=True):
        if not fits_in(cell_of(label), bins):
            width, height = setting.sides
            room = max(bins, key=lambda one: one.top_mm - one.bottom_mm)
            return FieldError(
                "a label larger than the paper has room for",
                value=f"{width:.4g} x {height:.4g} mm",
                where="--paper",
                remedy=f"{page.name} leaves {room.right_mm - room.left_mm:.4g} x "
                f"{room.top_mm - room.bottom_mm:.4g} mm for labels with their captions; "
                "take larger paper or the other way round",
            )
    return FieldError(
        "labels that do not fit the paper one way round", where="--paper",
        remedy="take larger paper, or print them apart",
    )  # fmt: skip


def _label(setting: LabelSetting, marks: Marks | None) -> Label:
    """A setting as it is drawn."""
    method, panel = setting.answer.job.method, setting.answer.panel
    own_mm = method.frame.value if method.frame is not None else 0.0
    framed = marks == "frame" or (marks is None and own_mm > 0)
    frame_mm = (own_mm or _PLAIN_FRAME_MM) if framed else 0.0
    inset = None
    if framed and panel.outline_mm is not None:
        from spinefit.geometry.polygons import inset_ring

        inset = inset_ring(panel.outline_mm, frame_mm / 2)
    width_mm, height_mm = setting.sides
    return Label(
        width_mm=width_mm,
        height_mm=height_mm,
        ink=lettering_mm(setting.judged),
        outline=panel.outline_mm,
        frame_mm=frame_mm,
        inset=inset,
        cut_outside_mm=method.cut_outside.value if framed and method.cut_outside else 0.0,
        caption=_caption_lines(setting),
    )


def _caption_lines(setting: LabelSetting) -> tuple[str, ...]:
    """Letter, size and sides; below them the lines, as far as there is room."""
    width, height = setting.sides
    size, sides = say.pt(setting.judged.set_pt), f"{width:.4g} × {height:.4g} mm"
    first = f"{setting.letter}   {size}   {sides}"
    lines = setting.judged.layout.group.texts
    split = say.visible(" / ".join(lines))
    if not covers(split):
        split = "one line" if len(lines) == 1 else f"{len(lines)} lines"
    beside = is_beside(first, width, height)
    room = height if beside else max(width, text_width_mm(first, CAPTION_MM))
    return first, _shortened(split, room)


def _shortened(text: str, room_mm: float) -> str:
    if text_width_mm(text, CAPTION_MM) <= room_mm:
        return text
    kept = text
    while kept and text_width_mm(f"{kept}…", CAPTION_MM) > room_mm:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"


class Label(NamedTuple):
    """What is drawn, once.

    Attributes:
        width_mm, height_mm: the label's sides as it lies on the sheet.
        ink: its letters, in mm from the middle of the label.
        outline: corners from the middle, for a label that is no rectangle.
        frame_mm: thickness of the frame line; 0 for ticks.
        inset: the outline along which the frame line is drawn.
        cut_outside_mm: how far outside the frame it is cut.
        caption: the lines of its caption.
    """

    width_mm: float
    height_mm: float
    ink: tuple[Contour, ...]
    outline: Ring | None
    frame_mm: float
    inset: Ring | None
    cut_outside_mm: float
    caption: tuple[str, ...]


def turned_label(label: Label) -> Label:
    """The label turned by 90 degrees anticlockwise, for material without a grain."""

    def turn(point: Point) -> Point:
        return -point[1], point[0]

    def ring(points: Ring | None) -> Ring | None:
        return None if points is None else tuple(map(turn, points))

    ink = tuple(mapped(one, turn) for one in label.ink)
    return label._replace(
        width_mm=label.height_mm,
        height_mm=label.width_mm,
        ink=ink,
        outline=ring(label.outline),
        inset=ring(label.inset),
    )


def cell_of(label: Label) -> Cell:
    """The room a label takes with its marks and caption, in mm."""
    reach = _reach_mm(label)
    depth = _caption_depth_mm(label)
    wide, high = label.width_mm + 2 * reach, label.height_mm + 2 * reach
    length = reach + _caption_width_mm(label)
    if _caption_beside(label):
        return Cell(wide + depth, max(high, length))
    return Cell(max(wide, length), high + depth)


def label_items(label: Label, cell_at: Point) -> tuple[tuple[Item, ...], Point]:
    """The items of a label, and where its lower left corner stands.

    Args:
        label: what is drawn.
        cell_at: upper left corner of its cell, in mm on the sheet.
    """
    reach = _reach_mm(label)
    left = cell_at[0] + reach + (_caption_depth_mm(label) if _caption_beside(label) else 0.0)
    corner = (left, cell_at[1] - reach - label.height_mm)
    middle = (label.width_mm / 2, label.height_mm / 2)
    drawn = (
        *moved(_marks(label), middle),
        Group("lettering", moved((Area(label.ink),), middle)),
        Group("caption", _caption(label)),
    )
    return (Group("label", moved(drawn, corner)),), corner


def is_beside(caption: str, width_mm: float, height_mm: float) -> bool:
    """Whether a caption stands up the left side: of a narrow label, or one too narrow for it.

    Args:
        caption: its first line.
        width_mm: of the label.
        height_mm: likewise.
    """
    if height_mm <= width_mm:
        return False
    return height_mm >= _NARROW * width_mm or text_width_mm(caption, CAPTION_MM) > width_mm


def _reach_mm(label: Label) -> float:
    """How far the marks, or the cut, reach beyond the label."""
    return label.cut_outside_mm if label.frame_mm else _TICK_GAP_MM + _TICK_MM


def _marks(label: Label) -> tuple[Item, ...]:
    x, y = label.width_mm / 2, label.height_mm / 2
    if label.frame_mm:
        if label.inset is not None:
            edge = ring_contour(label.inset)
        else:
            half = label.frame_mm / 2  # the line's outer edge is the label's edge
            edge = box_contour(half - x, half - y, x - half, y - half)
        return (Group("frame", (Area((edge,), None, Pen(label.frame_mm)),)),)
    pen = Pen(_HAIRLINE_MM)
    near, far = _TICK_GAP_MM, _TICK_GAP_MM + _TICK_MM
    ticks: list[Item] = []
    for across, up in ((-1, -1), (-1, 1), (1, -1), (1, 1)):
        at_x, at_y = across * x, up * y
        ticks.append(Line(((at_x + across * near, at_y), (at_x + across * far, at_y)), pen))
        ticks.append(Line(((at_x, at_y + up * near), (at_x, at_y + up * far)), pen))
    if label.outline is not None:
        ticks.append(Area((ring_contour(label.outline),), None, pen))
    return (Group("ticks", tuple(ticks)),)


def _caption(label: Label) -> tuple[Item, ...]:
    """The caption below the label, or up its left side."""
    first = _reach_mm(label) + _CAPTION_GAP_MM
    begin = min(0.0, label.height_mm - _caption_width_mm(label))  # ends below the label's top
    items: list[Item] = []
    for row, words in enumerate(label.caption):
        if _caption_beside(label):
            rows_after = len(label.caption) - 1 - row
            at, turn_deg = (-first - rows_after * _CAPTION_LINE_MM, begin), 90.0
        else:
            at, turn_deg = (0.0, -first - CAPTION_MM * 0.7 - row * _CAPTION_LINE_MM), 0.0
        items.append(Text(at, words, CAPTION_MM, turn_deg=turn_deg, grey=_CAPTION_GREY))
    return tuple(items)


def _caption_beside(label: Label) -> bool:
    return bool(label.caption) and is_beside(label.caption[0], label.width_mm, label.height_mm)


def _caption_width_mm(label: Label) -> float:
    return max((text_width_mm(line, CAPTION_MM) for line in label.caption), default=0.0)


def _caption_depth_mm(label: Label) -> float:
    if not label.caption:
        return 0.0
    return _CAPTION_GAP_MM + _CAPTION_LINE_MM * len(label.caption)
