"""What stands on every sheet beside its labels, and where does each label stand?

In: the paper, its margin; cells (a label with its marks and caption). Out: rulers along two
edges, a square to measure, the few words a person needs before cutting, the arrow of the grain,
small and grey, so that the labels stay the only black; and a spot for each cell. Cells stand in
rows, the highest first, lower ones one below another in columns of a row: every cut goes straight
through, rows first, then columns, as a knife along a steel rule wants it. Millimetres from the
sheet's lower left corner, y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.catalogue.trade import sheet_rules
from spinefit.drawing.marks import wrapped
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Text, box_contour
from spinefit.errors import FieldError
from spinefit.job.sheet import SheetWishes, paper_size
from spinefit.tolerances import SAME_MM

BOX_MM = 50.0
"""Side of the square that is measured before anything is cut."""

_GREY = 0.45
_PEN = Pen(0.1, grey=_GREY)
_TEXT_SIZES_MM = (2.4, 2.2, 2.0, 1.8, 1.6, 1.4)  # the first in which all words stay in the square
_LINE = 1.125  # of the size
_STRIP_MM = 7.0  # the width of a ruler with its figures
_GAP_MM = 4.0  # between rulers, the square and the labels
_TICKS_MM = {10: 3.0, 5: 2.2, 1: 1.4}
_SHORTEST_RULER_MM = 50.0


class Page(NamedTuple):
    """A sheet of paper as it lies before the printer.

    Attributes:
        name: the paper's name, or its sides.
        width_mm, height_mm: its sides.
        margin_mm: what the printer leaves blank at each edge.
        gutter_mm: kept free between labels.
        grain: whether the material has a grain, so that no label may be turned.
    """

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float
    gutter_mm: float
    grain: bool = True


def page_wished(wishes: SheetWishes) -> Page:
    """The page that was asked for, A4 unless another was; faults as of `page_of`."""
    return page_of(
        wishes.paper or "A4",
        landscape=bool(wishes.landscape),
        margin_mm=wishes.margin,
        gutter_mm=wishes.gutter,
        grain=not wishes.no_grain,
    )


def page_of(
    typed: str,
    *,
    landscape: bool = False,
    margin_mm: float | None = None,
    gutter_mm: float | None = None,
    grain: bool = True,
) -> Page:
    """The page that was asked for.

    Args:
        typed: a paper's name, or its sides as ``WxH``.
        landscape: whether it lies on its longer side.
        margin_mm: blank at each edge; None for the usual one.
        gutter_mm: between labels, likewise.
        grain: whether the material has a grain.

    Raises:
        FieldError: no such paper, a margin that leaves no room for the rulers, or a gutter that
            leaves none for labels.
        UnitError: sides that cannot be read.
    """
    width_mm, height_mm, name = paper_size(typed)
    if landscape:
        width_mm, height_mm = max(width_mm, height_mm), min(width_mm, height_mm)
        name += " landscape"
    rules = sheet_rules()
    page = Page(
        name,
        width_mm,
        height_mm,
        rules.value("margin_mm") if margin_mm is None else margin_mm,
        rules.value("gutter_mm") if gutter_mm is None else gutter_mm,
        grain,
    )
    room_mm = min(width_mm, height_mm) - 2 * page.margin_mm
    if room_mm < _STRIP_MM + _GAP_MM + BOX_MM + _GAP_MM:
        raise FieldError(
            "no room for the square to measure by", where="--paper",
            value=f"{name} with a margin of {page.margin_mm:g} mm",
            remedy="take larger paper, or a smaller --margin",
        )  # fmt: skip
    if not bins_of(page):
        raise FieldError(
            "leaves no room for labels", where="--gutter",
            value=f"{page.gutter_mm:g} mm",
            remedy=f"give a smaller one; {name} is {page.width_mm:g} x {page.height_mm:g} mm",
        )  # fmt: skip
    return page


def bins_of(page: Page, *, beside: bool = False) -> tuple[Bin, ...]:
    """Where labels may stand: above the square and to the right of it, or all of them beside it."""
    left, bottom = (page.margin_mm + _STRIP_MM + _GAP_MM,) * 2
    right, top = page.width_mm - page.margin_mm, page.height_mm - page.margin_mm
    gap = max(_GAP_MM, page.gutter_mm)
    over, after = bottom + BOX_MM + gap, left + BOX_MM + gap
    bins: tuple[Bin, ...] = (
        Bin(left, over, right, top),
        Bin(after, bottom, right, over - gap),
    )
    return tuple(
        one
        for one in ((Bin(after, bottom, right, top),) if beside else bins)
        if one.right_mm > one.left_mm and one.top_mm > one.bottom_mm
    )


def page_items(page: Page, hazards: Sequence[str], *, number: int, count: int) -> tuple[Item, ...]:
    """Rulers, square and words of one page.

    Args:
        page: the sheet.
        hazards: lines about what can hurt.
        number: which page it is, from 1.
        count: how many there are.
    """
    at = page.margin_mm + _STRIP_MM + _GAP_MM
    across, along = _rulers_mm(page)
    return (
        Group("rulers", (*_ruler(page, at, across, along=False), *_ruler(page, at, along, True))),
        Group("square", (Area((box_contour(at, at, at + BOX_MM, at + BOX_MM),), None, _PEN),)),
        Group("words", _words(page, at, hazards, number, count)),
        *((Group("grain", _arrow(at)),) if page.grain else ()),
    )


def _rulers_mm(page: Page) -> tuple[float, float]:
    """Lengths of the rulers across and along the page: 100 mm, or 50 if there is less room."""
    used = 2 * page.margin_mm + _STRIP_MM + _GAP_MM
    across, along = (
        2 * _SHORTEST_RULER_MM if side - used >= 2 * _SHORTEST_RULER_MM else _SHORTEST_RULER_MM
        for side in (page.width_mm, page.height_mm)
    )
    return across, along


def _ruler(page: Page, at: float, length_mm: float, along: bool) -> tuple[Item, ...]:
    """A ruler from the lower left corner, its marks at the page's edge."""
    edge = page.margin_mm

    def place(far: float, up: float) -> tuple[float, float]:
        return (edge + up, at + far) if along else (at + far, edge + up)

    items: list[Item] = []
    for mark in range(round(length_mm) + 1):
        high = next(high for step, high in _TICKS_MM.items() if mark % step == 0)
        items.append(Line((place(mark, 0.0), place(mark, high)), _PEN))
        if mark % 10 == 0:
            figure = f"{mark} mm" if mark == round(length_mm) else str(mark)
            turn = 90.0 if along else 0.0
            up = _TICKS_MM[10] + (2.2 if along else 0.7)
            items.append(Text(place(mark, up), figure, 2.0, "middle", turn, grey=_GREY))
    items.append(Line((place(0, 0.0), place(length_mm, 0.0)), _PEN))
    return tuple(items)


def _words(
    page: Page, at: float, hazards: Sequence[str], number: int, count: int
) -> tuple[Item, ...]:
    across, along = _rulers_mm(page)
    rulers = f"{across:g} mm" if across == along else f"{across:g} and {along:g} mm"
    parts = [
        "Print at 100 %, without “fit to page”.",
        f"Then measure: this square is {BOX_MM:g} mm each way, the rulers {rulers}. "
        "If they are not, do not cut.",
    ]
    if page.grain:
        parts.append(
            "Grain along the arrow, from head to tail: a label bends easily round the back."
        )
    parts += hazards
    if count > 1:
        parts.append(f"Sheet {number} of {count}")
    room = BOX_MM - 6.0 - (7.5 if page.grain else 0.0)
    for size_mm in _TEXT_SIZES_MM:
        items, end = _lines(parts, size_mm, (at + 3.0, at + BOX_MM - 3.0), room)
        if end >= at:
            break
    return tuple(items)


def _lines(
    parts: Sequence[str], size_mm: float, corner: tuple[float, float], room_mm: float
) -> tuple[list[Item], float]:
    """Paragraphs of one size from their upper left corner down, and where they end."""
    left, y = corner[0], corner[1] - size_mm * 0.7
    line_mm = size_mm * _LINE
    items: list[Item] = []
    for part in parts:
        for line in wrapped(part, size_mm, room_mm):
            items.append(Text((left, y), line, size_mm, grey=_GREY))
            y -= line_mm
        y -= line_mm * 0.25
    return items, y + line_mm


def _arrow(at: float) -> tuple[Item, ...]:
    """Up the right side of the square: the grain runs from tail to head."""
    x, low, high = at + BOX_MM - 4.5, at + 4.0, at + BOX_MM - 4.0
    pen = Pen(0.2, grey=_GREY)
    return (
        Line(((x, low), (x, high)), pen),
        Line(((x - 1.2, high - 3.0), (x, high), (x + 1.2, high - 3.0)), pen),
        Line(((x - 1.2, low + 3.0), (x, low), (x + 1.2, low + 3.0)), pen),
        Text((x - 1.2, (low + high) / 2), "grain", 2.3, "middle", 90.0, grey=_GREY),
    )


class Bin(NamedTuple):
    """A free rectangle of every page, in mm from the sheet's lower left corner."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float


class Cell(NamedTuple):
    """What one label takes up, in mm."""

    width_mm: float
    height_mm: float


class Spot(NamedTuple):
    """Where a cell's upper left corner stands: page from 0, and mm from the lower left."""

    page: int
    left_mm: float
    top_mm: float


class _Column:
    """Cells one below another in a row, none wider than the first."""

    def __init__(self, left_mm: float, width_mm: float, next_mm: float) -> None:
        self.left_mm, self.width_mm, self.next_mm = left_mm, width_mm, next_mm


class _Row:
    """A row begun in a bin; its columns hang from its upper edge."""

    def __init__(self, page: int, top_mm: float, height_mm: float, free: Bin) -> None:
        self.page, self.top_mm, self.bottom_mm = page, top_mm, top_mm - height_mm
        self.next_mm, self.right_mm = free.left_mm, free.right_mm
        self.columns: list[_Column] = []

    def take(self, cell: Cell, gutter_mm: float) -> Spot | None:
        if cell.height_mm > self.top_mm - self.bottom_mm + SAME_MM:
            return None
        column = self._column(cell, gutter_mm)
        if column is None:
            return None
        spot = Spot(self.page, column.left_mm, column.next_mm)
        column.next_mm -= cell.height_mm + gutter_mm
        return spot

    def _column(self, cell: Cell, gutter_mm: float) -> _Column | None:
        """The first column with room below, or a new one."""
        for column in self.columns:
            narrow = cell.width_mm <= column.width_mm + SAME_MM
            if narrow and column.next_mm - cell.height_mm >= self.bottom_mm - SAME_MM:
                return column
        if self.next_mm + cell.width_mm > self.right_mm + SAME_MM:
            return None
        self.columns.append(_Column(self.next_mm, cell.width_mm, self.top_mm))
        self.next_mm += cell.width_mm + gutter_mm
        return self.columns[-1]


def fits_in(cell: Cell, bins: Sequence[Bin]) -> bool:
    """Whether an empty page has room for a cell."""
    return any(
        cell.width_mm <= one.right_mm - one.left_mm + SAME_MM
        and cell.height_mm <= one.top_mm - one.bottom_mm + SAME_MM
        for one in bins
    )


def pack(cells: Sequence[Cell], bins: Sequence[Bin], *, gutter_mm: float) -> tuple[Spot, ...]:
    """A spot for each cell, on as many pages as it takes.

    Args:
        cells: what is to be placed.
        bins: free rectangles of a page, the one to fill first first.
        gutter_mm: kept free between cells.

    Raises:
        ValueError: a cell that no bin can hold.

    >>> pack([Cell(3, 2), Cell(3, 4)], [Bin(0, 0, 10, 10)], gutter_mm=1)
    (Spot(page=0, left_mm=4, top_mm=10), Spot(page=0, left_mm=0, top_mm=10))
    """
    rows: list[_Row] = []
    tops: list[list[float]] = []  # of each page, where the next row of each bin begins
    spots: dict[int, Spot] = {}
    for at in sorted(range(len(cells)), key=lambda place: (-cells[place].height_mm, place)):
        cell = cells[at]
        if not fits_in(cell, bins):
            raise ValueError("a cell larger than the page")
        taken = (row.take(cell, gutter_mm) for row in rows)
        spot = next((one for one in taken if one is not None), None)
        while spot is None:
            row = _new_row(cell, bins, tops, gutter_mm)
            if row is None:
                tops.append([one.top_mm for one in bins])
                continue
            rows.append(row)
            spot = row.take(cell, gutter_mm)
        spots[at] = spot
    return tuple(spots[at] for at in range(len(cells)))


def _new_row(
    cell: Cell, bins: Sequence[Bin], tops: list[list[float]], gutter_mm: float
) -> _Row | None:
    """A row for a cell on the first page with room for it."""
    for page, tops_mm in enumerate(tops):
        for at, (free, top_mm) in enumerate(zip(bins, tops_mm, strict=True)):
            wide = cell.width_mm <= free.right_mm - free.left_mm + SAME_MM
            if wide and cell.height_mm <= top_mm - free.bottom_mm + SAME_MM:
                tops_mm[at] = top_mm - cell.height_mm - gutter_mm
                return _Row(page, top_mm, cell.height_mm, free)
    return None
