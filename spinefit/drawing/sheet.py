"""What is printed on a sheet of labels?

In: settings that fit, spares, marks and a page. Out: a `Sheet`: each label's place, and a scene
for each page, at true size; the same for the same settings. Which settings there are is for
`sheet_settings`, where they stand for `sheet_packing`, how one is drawn for `label`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from spinefit.drawing.label import CAPTION_MM, Label, cell_of, is_beside, label_items, turned_label
from spinefit.drawing.lettering import lettering_mm
from spinefit.drawing.measure import covers, text_width_mm
from spinefit.drawing.scene import Item, Scene
from spinefit.drawing.sheet_packing import Spot, fits_in, pack
from spinefit.drawing.sheet_page import Page, bins_of, page_items
from spinefit.drawing.sheet_settings import Setting
from spinefit.errors import FieldError
from spinefit.say import phrasing as say

__all__ = ["MARKS", "Marks", "PlacedLabel", "Sheet", "build_sheet", "letter_of", "lettered"]

Marks = Literal["frame", "ticks"]
MARKS: tuple[Marks, ...] = ("frame", "ticks")
"""What a label is cut by."""

_PLAIN_FRAME_MM = 0.1  # a hairline, for a method that has no frame line of its own
_MOST_LABELS = 2000  # some hundred sheets
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class PlacedLabel(NamedTuple):
    """Where one label stands.

    Attributes:
        setting: which of the settings it is, from 0.
        page: from 1.
        left_mm, bottom_mm: its lower left corner on the sheet.
        width_mm, height_mm: its sides as it lies there.
    """

    setting: int
    page: int
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
        places: every label.
        turned: whether the labels lie on their sides.
        scenes: a drawing for each page.
    """

    page: Page
    settings: tuple[Setting, ...]
    copies: int
    places: tuple[PlacedLabel, ...]
    turned: bool
    scenes: tuple[Scene, ...]


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


def lettered(settings: Sequence[Setting]) -> tuple[Setting, ...]:
    """The settings, each with its letter."""
    return tuple(one._replace(letter=letter_of(at)) for at, one in enumerate(settings))


def build_sheet(
    settings: Sequence[Setting], page: Page, *, copies: int, marks: Marks | None = None
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
    named = lettered(settings)
    upright = [_label(one, marks) for one in named]
    wanted = [at for at in range(len(named)) for _ in range(copies)]
    labels, turned, spots = _placed(upright, wanted, named, page)
    pages = max(spot.page for spot in spots) + 1
    drawn: list[list[Item]] = [
        list(page_items(page, number=number + 1, count=pages)) for number in range(pages)
    ]
    places = []
    for at, spot in zip(wanted, spots, strict=True):
        items, (left, bottom) = label_items(labels[at], (spot.left_mm, spot.top_mm))
        drawn[spot.page].extend(items)
        sides = labels[at].width_mm, labels[at].height_mm
        places.append(PlacedLabel(at, spot.page + 1, left, bottom, *sides))
    scenes = tuple(_scene(page, items, at, pages) for at, items in enumerate(drawn))
    return Sheet(page, named, copies, tuple(places), turned, scenes)


def _placed(
    upright: list[Label], wanted: list[int], settings: Sequence[Setting], page: Page
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


def _too_large(labels: list[Label], settings: Sequence[Setting], page: Page) -> FieldError:
    bins = bins_of(page)
    for label, setting in zip(labels, settings, strict=True):
        if not fits_in(cell_of(label), bins):
            width, height = setting.sides_mm
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


def _label(setting: Setting, marks: Marks | None) -> Label:
    """A setting as it is drawn."""
    method, panel = setting.answer.job.method, setting.answer.panel
    own_mm = method.frame.value if method.frame is not None else 0.0
    framed = marks == "frame" or (marks is None and own_mm > 0)
    frame_mm = (own_mm or _PLAIN_FRAME_MM) if framed else 0.0
    inset = None
    if framed and panel.outline_mm is not None:
        from spinefit.geometry.polygons import inset_ring

        inset = inset_ring(panel.outline_mm, frame_mm / 2)
    width_mm, height_mm = setting.sides_mm
    return Label(
        width_mm=width_mm,
        height_mm=height_mm,
        ink=lettering_mm(setting.judged),
        outline=panel.outline_mm,
        frame_mm=frame_mm,
        inset=inset,
        cut_outside_mm=method.cut_outside.value if framed and method.cut_outside else 0.0,
        caption=_caption(setting),
    )


def _caption(setting: Setting) -> tuple[str, ...]:
    """Letter, size and sides; below them the lines, as far as there is room."""
    width, height = setting.sides_mm
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


def _scene(page: Page, items: list[Item], at: int, count: int) -> Scene:
    return Scene(
        page.width_mm,
        page.height_mm,
        "Labels to cut" + (f", sheet {at + 1} of {count}" if count > 1 else ""),
        "Labels at true size, with rulers and a square of 50 mm to measure before cutting",
        tuple(items),
    )
