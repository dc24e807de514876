"""Where on the back does each text stand?

In: the answers of the texts of one back. Out: a `Frame`: mm, origin at the head on the middle of
the width, x to the right, y to the head, so that the tail lies below zero; on a rounded back x
runs along the arc. A panel given outright is its own back. Where the height was left open, as
much is drawn as is needed, and its end is left open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from spinefit.drawing.lettering import ink_box_mm, ink_extents_mm, lettering_mm
from spinefit.drawing.scene import mapped
from spinefit.geometry import UsablePanel
from spinefit.judgement import Judged
from spinefit.pipeline import Answer
from spinefit.say.model import LayoutReport
from spinefit.say.phrasing import shown_layout
from spinefit.shaping.outline import Box, Contour
from spinefit.vocabulary import Orientation

__all__ = ["Frame", "ShownText", "frame_of", "shown_text"]

_PART_MM = 14.0  # of a back of open height, shown above and below lettering across it


class ShownText(NamedTuple):
    """One text of a back, at the setting that is shown.

    Attributes:
        name: what it is among several; "" where it is alone.
        answer: the answer for it.
        judged: the advised layout, or the nearest to one.
        layout: the same as it is reported.
        label_mm: upper and lower edge, from the head, of a label that it shares with the texts
            beside it; None where it has none, or one of its own.
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

    @cached_property
    def inks(self) -> tuple[tuple[Contour, ...], ...]:
        """For each text its letters; not needed by a thumbnail, which draws them its own way."""
        return tuple(
            _raised(lettering_mm(shown.judged), middle_mm)
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
