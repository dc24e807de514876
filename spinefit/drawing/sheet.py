"""What is printed on a sheet of labels?

In: settings that fit, spares, marks and a page. Out: a `Sheet`: each label's place, and a scene
for each page, at true size; the same for the same settings. Which settings there are is for
`sheet_settings`, how one label is drawn for `sheet_label`, where they stand for `sheet_page`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.drawing.frame import ShownText, frame_of, lettering_mm
from spinefit.drawing.marks import covers, text_width_mm, wrapped
from spinefit.drawing.paper import paper_sizes
from spinefit.drawing.ruled import frame_contours
from spinefit.drawing.scene import Scene, mapped
from spinefit.drawing.sheet_label import (
    CAPTION_MM,
    Label,
    cell_of,
    fold_ticks,
    is_beside,
    label_items,
    turned_label,
)
from spinefit.drawing.sheet_page import Page, Spot, bins_of, fits_in, pack, page_items
from spinefit.drawing.sheet_settings import LabelSetting
from spinefit.errors import FieldError
from spinefit.say import phrasing as say
from spinefit.say.model import doubts_of, hazards_of
from spinefit.vocabulary import CutBy

_PLAIN_FRAME_MM = 0.1  # a hairline, for a method that has no frame line of its own
_MOST_LABELS = 2000  # some hundred sheets
_LARGER = ("A4", "A3", "A2", "A1")
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


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
        spares: how many of each beside the copies that are wanted of it.
        places: of each setting its labels.
        turned: whether the labels lie on their sides.
        scenes: a drawing for each page.
    """

    page: Page
    settings: tuple[LabelSetting, ...]
    spares: int
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
    settings: Sequence[LabelSetting], page: Page, *, spares: int, marks: CutBy | None = None
) -> Sheet:
    """Every copy of every setting, placed and drawn.

    Args:
        settings: at least one.
        page: the paper.
        spares: how many of each beside the copies that are wanted of it.
        marks: frame or ticks; None for a frame where the method has a frame line.

    Raises:
        FieldError: a label larger than the paper, or more labels than anyone can cut.
    """
    copies = [(one.answer.job.commission.copies or 1) + spares for one in settings]
    if sum(copies) > _MOST_LABELS:
        raise FieldError(
            f"{sum(copies)} labels", where="--spares",
            remedy=f"print at most {_MOST_LABELS} at a time",
        )  # fmt: skip
    named = tuple(one._replace(letter=letter_of(at)) for at, one in enumerate(settings))
    upright = [_label(one, marks) for one in named]
    wanted = [at for at, count in enumerate(copies) for _ in range(count)]
    labels, turned, spots = _placed(upright, wanted, named, page)
    pages = max(spot.page for spot in spots) + 1
    reports = [one.answer.report for one in named]
    hazards = (*map(say.visible, doubts_of(reports)), *hazards_of(reports))
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
        spares=spares,
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
    # Trial strips are too long to stand above the square: beside it they have the paper's height.
    bins = bins_of(page, beside=settings[0].around_mm is not None)
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
    beside = settings[0].around_mm is not None
    bins = bins_of(page, beside=beside)
    for label, setting in zip(labels, settings, strict=True):
        cell = cell_of(label)
        if not fits_in(cell, bins):
            width, height = setting.sides
            room = max(bins, key=lambda one: one.top_mm - one.bottom_mm)
            across = cell.width_mm - width  # what marks and caption take of it
            along = cell.height_mm - height
            return FieldError(
                f"a {'trial strip' if beside else 'label'} larger than the paper has room for",
                value=f"{width:.4g} x {height:.4g} mm",
                where="--paper",
                remedy=f"{page.name} leaves {room.right_mm - room.left_mm - across:.4g} x "
                f"{room.top_mm - room.bottom_mm - along:.4g} mm beside its caption; "
                f"{_larger(page, labels, beside=beside)}",
            )
    return FieldError(
        "labels that do not fit the paper one way round", where="--paper",
        remedy="take larger paper, or print them apart",
    )  # fmt: skip


def _larger(page: Page, labels: list[Label], *, beside: bool) -> str:
    """The paper that takes them all: this one the other way round, or the smallest usual one."""
    lying = page.width_mm > page.height_mm
    tried = [("it the other way round", page.height_mm, page.width_mm)]
    for width_mm, height_mm, name in paper_sizes(_LARGER):
        sides = (height_mm, width_mm) if lying else (width_mm, height_mm)
        tried.append((f"--paper {name}", *sides))
    for name, width_mm, height_mm in tried:
        bins = bins_of(page._replace(width_mm=width_mm, height_mm=height_mm), beside=beside)
        if all(fits_in(cell_of(one), bins) for one in labels):
            return f"take {name}"
    return "give the sides of a larger sheet as --paper WxH, or cut it in parts"


def _label(setting: LabelSetting, marks: CutBy | None) -> Label:
    """A setting as it is drawn."""
    if setting.around_mm is not None:
        return _strip(setting)
    method, panel = setting.answer.job.method, setting.answer.panel
    lap = setting.lap
    own_mm = method.frame.value if method.frame is not None and lap is None else 0.0
    cut_outside = method.cut_outside if lap is None else None
    framed = marks is CutBy.FRAME or (marks is None and own_mm > 0)
    frame_mm = (own_mm or _PLAIN_FRAME_MM) if framed else 0.0
    inset = None
    if framed and panel.outline_mm is not None:
        from spinefit.geometry.polygons import inset_ring

        inset = inset_ring(panel.outline_mm, frame_mm / 2)
    width_mm, height_mm = setting.sides
    old = setting.answer.job.old_lettering
    return Label(
        width_mm=width_mm,
        height_mm=height_mm,
        ink=lettering_mm(setting.judged),
        outline=panel.outline_mm,
        frame_mm=frame_mm,
        inset=inset,
        cut_outside_mm=cut_outside.value if framed and cut_outside else 0.0,
        caption=_caption_lines(setting, framed=framed),
        old_mm=None if old is None else (old.width_mm / 2, old.height_mm / 2),
        ruled=frame_contours(panel),
        folds=fold_ticks(width_mm, height_mm, lap) if lap is not None else (),
    )


def _strip(setting: LabelSetting) -> Label:
    """A trial strip: the lettering where it will stand, and dashed where the joints lie."""
    width_mm, height_mm = setting.sides
    shown = ShownText("", setting.answer, setting.judged, setting.layout)
    frame = frame_of((shown,))
    ink = tuple(
        mapped(one, lambda point: (point[0], point[1] + height_mm / 2)) for one in frame.inks[0]
    )
    return Label(
        width_mm=width_mm,
        height_mm=height_mm,
        ink=ink,
        outline=None,
        frame_mm=0.0,
        inset=None,
        cut_outside_mm=0.0,
        caption=_caption_lines(setting, framed=False),
        old_mm=(frame.right_mm, height_mm / 2),
        ticked="joints",
    )


def _caption_lines(setting: LabelSetting, *, framed: bool) -> tuple[str, ...]:
    """Letter, size and sides; what else sets it apart; the lines, as far as there is room.

    Of a frame that stays on the label, what the label is cut by instead.
    """
    width, height = setting.sides
    size, sides = say.pt(setting.judged.set_pt), f"{width:.4g} × {height:.4g} mm"
    first = f"{setting.letter}   {size}   {sides}"
    split = say.joined(setting.layout)
    if not covers(split):
        split = say.line_count(len(setting.layout.lines))
    beside = is_beside(first, width, height)
    room = height if beside else max(width, text_width_mm(first, CAPTION_MM))
    job, words = setting.answer.job, [split]
    if setting.lap is not None:
        on_back_mm = width - 2 * setting.lap.reach_mm
        words.append(f"dashed: back {on_back_mm:.4g}, joints {setting.lap.joint_mm:.4g}")
    if setting.around_mm is not None:
        words.append("joints, head and tail dashed")
    elif job.old_lettering is not None:
        old = job.old_lettering
        words.append(f"old ink {old.width_mm:.4g} × {old.height_mm:.4g}, dashed")
    if job.frame is not None:
        words.append(f"cut at the {'outer line' if framed else 'ticks'}")
    style, whose = (
        wrapped(each, CAPTION_MM, room) if each else ()
        for each in (setting.differs.in_words, job.commission.in_words)
    )
    return first, *style, *(_shortened(each, room) for each in words), *whose


def _shortened(text: str, room_mm: float) -> str:
    if text_width_mm(text, CAPTION_MM) <= room_mm:
        return text
    kept = text
    while kept and text_width_mm(f"{kept}…", CAPTION_MM) > room_mm:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
