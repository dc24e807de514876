"""What stands on every sheet beside its labels, and where is room for them?

In: the paper, its margin. Out: rulers along two edges, a square to measure, the few words a
person needs before cutting, the arrow of the grain; and the bins left for labels. Millimetres
from the sheet's lower left corner, y up. What is drawn is small and grey, so that the labels
stay the only black on the sheet.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue.sheet_table import sheet_rules
from spinefit.drawing.measure import wrapped
from spinefit.drawing.paper import paper_size
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Text, box_contour
from spinefit.drawing.sheet_packing import Bin
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.lengths import parse_length

__all__ = ["BOX_MM", "Page", "bins_of", "page_items", "page_of", "ruler_mm"]

BOX_MM = 50.0
"""Side of the square that is measured before anything is cut."""

_GREY = 0.45
_PEN = Pen(0.1, grey=_GREY)
_TEXT_MM = 2.6
_LINE_MM = 3.2
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


def page_of(
    typed: str,
    *,
    landscape: bool = False,
    margin: str | None = None,
    gutter: str | None = None,
    grain: bool = True,
) -> Page:
    """The page that was asked for.

    Args:
        typed: a paper's name, or its sides as ``WxH``.
        landscape: whether it lies on its longer side.
        margin: a length as typed; None for the usual one.
        gutter: likewise.
        grain: whether the material has a grain.

    Raises:
        FieldError: no such paper, a margin that leaves no room for the rulers, or a gutter that
            leaves none for labels.
        UnitError: a length that cannot be read.
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
        rules.value("margin_mm") if margin is None else _length(margin, "--margin"),
        rules.value("gutter_mm") if gutter is None else _length(gutter, "--gutter"),
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
            "leaves no room for labels", where="--gutter", value=gutter,
            remedy=f"give a smaller one; {name} is {page.width_mm:g} x {page.height_mm:g} mm",
        )  # fmt: skip
    return page


def ruler_mm(room_mm: float) -> float:
    """Length of a ruler along an edge: 100 mm, or 50 where there is no room for that."""
    return 2 * _SHORTEST_RULER_MM if room_mm >= 2 * _SHORTEST_RULER_MM else _SHORTEST_RULER_MM


def bins_of(page: Page) -> tuple[Bin, ...]:
    """Where labels may stand: above the square, and to the right of it."""
    left, bottom = (page.margin_mm + _STRIP_MM + _GAP_MM,) * 2
    right, top = page.width_mm - page.margin_mm, page.height_mm - page.margin_mm
    gap = max(_GAP_MM, page.gutter_mm)
    over, beside = bottom + BOX_MM + gap, left + BOX_MM + gap
    return tuple(
        one
        for one in (Bin(left, over, right, top), Bin(beside, bottom, right, over - gap))
        if one.right_mm > one.left_mm and one.top_mm > one.bottom_mm
    )


def page_items(page: Page, *, number: int, count: int) -> tuple[Item, ...]:
    """Rulers, square and words of one page.

    Args:
        page: the sheet.
        number: which page it is, from 1.
        count: how many there are.
    """
    at = page.margin_mm + _STRIP_MM + _GAP_MM
    across, along = _rulers_mm(page)
    return (
        Group("rulers", (*_ruler(page, at, across, along=False), *_ruler(page, at, along, True))),
        Group("square", (Area((box_contour(at, at, at + BOX_MM, at + BOX_MM),), None, _PEN),)),
        Group("words", _words(page, at, number, count)),
        *((Group("grain", _arrow(at)),) if page.grain else ()),
    )


def _rulers_mm(page: Page) -> tuple[float, float]:
    """Lengths of the rulers across and along the page."""
    used = 2 * page.margin_mm + _STRIP_MM + _GAP_MM
    return ruler_mm(page.width_mm - used), ruler_mm(page.height_mm - used)


def _length(typed: str, where: str) -> float:
    try:
        return parse_length(typed).value_mm
    except SpinefitError as fault:
        raise fault.at(where) from None


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
            said = f"{mark} mm" if mark == round(length_mm) else str(mark)
            turn = 90.0 if along else 0.0
            up = _TICKS_MM[10] + (2.2 if along else 0.7)
            items.append(Text(place(mark, up), said, 2.0, "middle", turn, grey=_GREY))
    items.append(Line((place(0, 0.0), place(length_mm, 0.0)), _PEN))
    return tuple(items)


def _words(page: Page, at: float, number: int, count: int) -> tuple[Item, ...]:
    across, along = _rulers_mm(page)
    rulers = f"{across:g} mm" if across == along else f"{across:g} and {along:g} mm"
    parts = [
        "Print at 100 %, without “fit to page”.",
        f"Then measure: this square is {BOX_MM:g} mm each way, the rulers {rulers}. "
        "If they are not, do not cut.",
    ]
    if page.grain:
        parts.append(
            "Grain along the arrow, from head to tail, so that a label bends easily round the back."
        )
    parts.append("Knife: sharp blade, steel rule, light strokes, fingers clear of its path.")
    if count > 1:
        parts.append(f"Sheet {number} of {count}")
    left, y = at + 3.0, at + BOX_MM - 3.0 - _TEXT_MM * 0.7
    room = BOX_MM - 6.0 - (7.5 if page.grain else 0.0)
    items: list[Item] = []
    for part in parts:
        for line in wrapped(part, _TEXT_MM, room):
            items.append(Text((left, y), line, _TEXT_MM, grey=_GREY))
            y -= _LINE_MM
        y -= _LINE_MM * 0.4
    return tuple(items)


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
