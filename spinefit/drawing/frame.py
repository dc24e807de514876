"""Where on the back does each text stand, and with which curves is its lettering drawn?

In: the answers of the texts of one back. Out: a `Frame`: mm, origin at the head on the middle of
the width, x to the right, y to the head, so that the tail lies below zero; on a rounded back x
runs along the arc. A panel given outright is its own back; of an open height as much is drawn as
is needed. Letters are the outlines that the largest size was verified with, curves kept, turned,
at the size and place judged, in the frame of their panel (mm, origin in its middle). Of hand
letters and type only the faces are known, a box a letter: in each stands its letter in the
drawing's font, so that it can be read; its shape is not the tool's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import NamedTuple

from spinefit.drawing.marks import FINE, GREY
from spinefit.drawing.scene import Area, Group, Item, Text, mapped
from spinefit.geometry import UsablePanel
from spinefit.geometry.plane import turn_box, turn_point
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement import Judged
from spinefit.judgement.covering import OverOld
from spinefit.pipeline import Answer
from spinefit.say.model import LayoutReport
from spinefit.say.phrasing import joined, letters_of, shown_layout
from spinefit.shaping.glyphs import Box, Contour, Placed, Point, ink_box
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Place, Tone, Turn

_PART_MM = 14.0  # of a back of open height, shown above and below lettering across it
_EM_OF_FACE = 1.25  # em of the drawing's font whose capitals stand within a face of 1
_ROOM_SHARE = 0.8


class Greys(NamedTuple):
    """With which greys a back is filled, 0 for black and 1 for white; ink that is light is white.

    Attributes:
        covering: the back where the allowances keep it free.
        bare: what they leave of it.
        ground: what the lettering stands on: the same, or a label.
        ink: the lettering.
    """

    covering: float
    bare: float
    ground: float
    ink: float


_DARK, _DARK_BARE = 0.36, 0.44  # light enough for black lines to be seen, dark enough for white


def greys_of(job: ResolvedJob) -> Greys:
    """By the tones of covering and ink, where they were said; else white paper, black ink."""
    covering, bare = (_DARK, _DARK_BARE) if job.covering_colour is Tone.DARK else (GREY, 1.0)
    is_light = job.ink_colour is Tone.LIGHT
    ground = bare
    if job.method.place is Place.LABEL:
        ground = _DARK_BARE if is_light else 1.0
    if is_light and ground == 1.0:  # white on white shows nothing
        return Greys(covering, bare, ground, 0.75)
    return Greys(covering, bare, ground, 1.0 if is_light else 0.0)


class ShownText(NamedTuple):
    """One text of a back, at the setting that is shown.

    Attributes:
        name: what it is among several; "" where it is alone.
        answer: the answer for it.
        judged: the advised layout, or the nearest to one.
        layout: the same as it is reported.
        label_mm: upper and lower edge, from the head, of a label that it shares with the texts
            beside it, or that is cut to its lines; None for all of its panel.
    """

    name: str
    answer: Answer
    judged: Judged
    layout: LayoutReport
    label_mm: tuple[float, float] | None = None

    @property
    def panel(self) -> UsablePanel:
        """The usable panel it stands in."""
        return self.answer.panel

    @property
    def greys(self) -> Greys:
        """What it and its ground are filled with."""
        return greys_of(self.answer.job)

    @property
    def along(self) -> bool:
        """Whether its lines run along the back."""
        return self.layout.orientation is Orientation.LONGITUDINAL


@dataclass(frozen=True)
class Frame:
    """The back, and where on it each text stands.

    Attributes:
        texts: the texts.
        left_mm, right_mm, tail_mm: its sides and its tail; the head is at 0.
        open_head, open_tail: whether it goes on there.
        panels_mm: for each text the box of its usable panel.
        middles_mm: for each text how high in this frame the origin of its own stands.
    """

    texts: tuple[ShownText, ...]
    left_mm: float
    right_mm: float
    tail_mm: float
    open_head: bool
    open_tail: bool
    panels_mm: tuple[Box, ...]
    middles_mm: tuple[float, ...]

    @property
    def first(self) -> ShownText:
        """The first text: by it the back is drawn, and font and method are named."""
        return self.texts[0]

    @property
    def reach_mm(self) -> float:
        """How far a label goes on beyond the back on each side; 0 for one between the joints."""
        lap = self.first.answer.job.lap
        return 0.0 if lap is None else lap.reach_mm

    @cached_property
    def inks(self) -> tuple[tuple[Contour, ...], ...]:
        """For each text its letters; not needed by a thumbnail, which draws them its own way."""
        return tuple(
            _raised(lettering_mm(shown.judged), middle_mm)
            for shown, middle_mm in zip(self.texts, self.middles_mm, strict=True)
        )

    @cached_property
    def old_inks(self) -> tuple[OverOld | None, ...]:
        """For each text the old lettering it covers or stands beside, as boxes of this frame."""
        return tuple(
            _old_ink(shown, middle_mm)
            for shown, middle_mm in zip(self.texts, self.middles_mm, strict=True)
        )

    @cached_property
    def boxes_mm(self) -> tuple[Box, ...]:
        """For each text the extents of its ink."""
        return tuple(map(ink_extents_mm, self.inks))


def shown_text(answer: Answer, name: str = "") -> ShownText:
    """An answer with the setting that is shown of it."""
    layout = shown_layout(answer.report)
    assert layout is not None  # there is a layout for every job
    place = next(at for at, one in enumerate(answer.report.layouts) if one is layout)
    return ShownText(name, answer, answer.judgement.judged[place], layout)


def _old_ink(shown: ShownText, middle_mm: float) -> OverOld | None:
    over = shown.judged.over_old
    if over is None or shown.answer.report.old_lettering is None:
        return None
    label_mm = over.label_mm and box_raised(over.label_mm, middle_mm)
    return over._replace(ink_mm=box_raised(over.ink_mm, middle_mm), label_mm=label_mm)


def box_raised(box: Box, by_mm: float) -> Box:
    """A box moved towards the head."""
    return box[0], box[1] + by_mm, box[2], box[3] + by_mm


def frame_of(texts: Sequence[ShownText]) -> Frame:
    """The back that the texts stand on.

    Args:
        texts: one or more on the same back.
    """
    panel = texts[0].answer.panel
    half_mm = panel.width_mm / 2
    if panel.back is not None:
        half_mm = panel.back.developed_width_mm / 2
    boxes = [_panel_box(shown) for shown in texts]
    open_end = panel.height_mm is None
    if panel.back_height_mm is not None:
        tail_mm = -panel.back_height_mm
    else:
        tail_mm = boxes[0][1] - (_ends(texts[0])[1] if open_end else 0.0)
    return Frame(
        texts=tuple(texts),
        left_mm=-half_mm,
        right_mm=half_mm,
        tail_mm=tail_mm,
        open_head=open_end and not _length_is_known(texts[0]),
        open_tail=open_end,
        panels_mm=tuple(boxes),
        middles_mm=tuple(
            (box[1] + box[3]) / 2 + _off_middle_mm(shown)
            for shown, box in zip(texts, boxes, strict=True)
        ),
    )


def _panel_box(shown: ShownText) -> Box:
    """The usable panel, or as much of it as is needed where its height is open."""
    panel = shown.panel
    half_mm = panel.width_mm / 2
    if panel.height_mm is None:
        head_mm, _tail = _ends(shown)
        return -half_mm, -head_mm - _needed_mm(shown), half_mm, -head_mm
    middle_mm = panel.middle_from_head_mm
    if middle_mm is None:
        middle_mm = panel.height_mm / 2
    return (
        -half_mm,
        -middle_mm - panel.height_mm / 2,
        half_mm,
        -middle_mm + panel.height_mm / 2,
    )


def _length_is_known(shown: ShownText) -> bool:
    """Whether the length of back that is needed is known, from its head on."""
    spine = shown.answer.job.spine
    return shown.layout.needs_back_mm is not None and spine is not None and not spine.bands


def _ends(shown: ShownText) -> tuple[float, float]:
    """Kept free at head and tail of a back of open height, in mm."""
    spine = shown.answer.job.spine
    assert spine is not None  # only a spine's height may be open
    return (spine.head_mm, spine.foot_mm) if _length_is_known(shown) else (0.0, 0.0)


def _needed_mm(shown: ShownText) -> float:
    """The length of a back of open height that is drawn."""
    if shown.layout.needs_back_mm is not None:
        return shown.layout.needs_back_mm - sum(_ends(shown))
    _left, bottom, _right, top = ink_box_mm(shown.judged)
    return top - bottom + 2 * _PART_MM


def _off_middle_mm(shown: ShownText) -> float:
    """What brings lettering across to the middle of the part drawn of an open back."""
    if shown.panel.height_mm is not None or shown.layout.needs_back_mm is not None:
        return 0.0
    _left, bottom, _right, top = ink_box_mm(shown.judged)
    return -(bottom + top) / 2


def _raised(contours: tuple[Contour, ...], by_mm: float) -> tuple[Contour, ...]:
    return tuple(mapped(one, lambda point: (point[0], point[1] + by_mm)) for one in contours)


def lettering_mm(judged: Judged) -> tuple[Contour, ...]:
    """The letters of a layout at the size judged, where they stand in the panel, in mm."""
    layout = judged.layout
    return contours_mm(
        layout.placed(),
        turn=layout.candidate.turn,
        size_mm=mm_from_pt(judged.set_pt),
        centre_mm=judged.centre_mm,
    )


def contours_mm(
    placed: Sequence[Placed], *, turn: Turn, size_mm: float, centre_mm: Point
) -> tuple[Contour, ...]:
    """Placed outlines, turned, at a size and place.

    Args:
        placed: outlines in em about the placing point.
        turn: the turn of the letters.
        size_mm: one em.
        centre_mm: where the placing point stands, in mm.
    """

    def at(point: Point, x: float, y: float) -> Point:
        turned = turn_point((point[0] + x, point[1] + y), turn)
        return turned[0] * size_mm + centre_mm[0], turned[1] * size_mm + centre_mm[1]

    return tuple(
        mapped(contour, partial(at, x=x, y=y)) for outline, x, y in placed for contour in outline
    )


def ink_extents_mm(contours: tuple[Contour, ...]) -> Box:
    """Left, bottom, right and top of contours in mm, from the extrema of their curves.

    Raises:
        ValueError: there is no ink.
    """
    box = ink_box(contours)
    if box is None:
        raise ValueError("no ink to draw")
    return box


def ink_box_mm(judged: Judged) -> Box:
    """The same of a layout, where it stands in the panel, its curves not yet drawn."""
    layout, size_mm = judged.layout, mm_from_pt(judged.set_pt)
    x_mm, y_mm = judged.centre_mm
    left, bottom, right, top = turn_box(layout.group.box, layout.candidate.turn)
    return (
        x_mm + left * size_mm,
        y_mm + bottom * size_mm,
        x_mm + right * size_mm,
        y_mm + top * size_mm,
    )


def shown_letters(
    judged: Judged, contours: Sequence[Contour], grey: float = 0.0
) -> tuple[Item, ...]:
    """The letters of a layout.

    Args:
        judged: the layout.
        contours: its lettering in mm, letter by letter in the order of the lines.
        grey: 0 for black, 1 for white.
    """
    if judged.layout.title.only_pt is None:
        return (Area(tuple(contours), grey),)
    texts = judged.layout.group.texts
    letters = [letter for text in texts for letter in letters_of(text) if not letter.isspace()]
    return letters_in_faces(letters, contours, judged.layout.candidate.turn, grey)


def letters_in_faces(
    letters: Sequence[str], contours: Sequence[Contour], turn: Turn, grey: float = 0.0
) -> tuple[Item, ...]:
    """The faces of tools, each with its letter in it where there are as many of both.

    Args:
        letters: what the faces print, in their order.
        contours: the faces in mm.
        turn: the turn of the letters.
        grey: 0 for black, 1 for white.
    """
    faces = Area(tuple(contours), None, FINE._replace(grey=grey))
    if len(letters) != len(contours):
        return (faces,)
    found = [_letter(letter, one, turn) for letter, one in zip(letters, contours, strict=True)]
    return (faces, *(each._replace(grey=grey) for each in found if each is not None))


def lettering(frame: Frame) -> Iterator[Group]:
    """The letters of every text where they stand on the back."""
    for shown, ink in zip(frame.texts, frame.inks, strict=True):
        letters = shown_letters(shown.judged, ink, shown.greys.ink)
        yield Group("lettering", letters, joined(shown.layout))


def _letter(letter: str, face: Contour, turn: Turn) -> Text | None:
    """The letter in the middle of its face."""
    box = ink_box((face,))
    if box is None:
        return None
    left, bottom, right, top = turn_box(box, turn.undone)
    high = top - bottom
    low = high * (1 - 0.69 * _EM_OF_FACE) / 2  # a capital of 0.69 em in the middle of the height
    return Text(
        turn_point(((left + right) / 2, bottom + low), turn),
        letter,
        high * _EM_OF_FACE,
        "middle",
        turn.degrees,
        width_mm=(right - left) * _ROOM_SHARE,
    )
