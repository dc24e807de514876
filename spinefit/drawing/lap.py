"""How is a label drawn that goes round over the joints onto the boards?

In: the back with its texts. Out: joints and label beside the back, its ends dashed since their
covering lies over them, and what is measured of them across; mm in the frame of the back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from spinefit.drawing.dimensions import Span
from spinefit.drawing.frame import Frame
from spinefit.drawing.marks import DASHED, THIN
from spinefit.drawing.scene import Item, Line, Pen
from spinefit.shaping.glyphs import Point
from spinefit.vocabulary import Lap

_EDGE = Pen(0.25)


class _Label(NamedTuple):
    """A label as it lies over back and boards, in the frame of the back."""

    top_mm: float
    bottom_mm: float
    cut_width_mm: float
    lap: Lap


def over_joints(frame: Frame) -> Iterator[Item]:
    """Where the boards begin, and each label: in view up to there, then dashed."""
    labels = list(dict.fromkeys(_labels(frame)))  # one that texts share stands once
    for lap in {one.lap for one in labels}:
        for x in (frame.left_mm - lap.joint_mm, frame.right_mm + lap.joint_mm):
            yield Line(((x, 0.0), (x, frame.tail_mm)), THIN)
    for one in labels:
        left, right = frame.left_mm - one.lap.joint_mm, frame.right_mm + one.lap.joint_mm
        for y in (one.top_mm, one.bottom_mm):
            yield Line(((left, y), (right, y)), _EDGE)
        for x, beyond in ((left, -one.lap.board_mm), (right, one.lap.board_mm)):
            yield from _covered(one, x, x + beyond)


def _covered(one: _Label, x: float, end_x: float) -> Iterator[Line]:
    """The end of a label on a board."""
    corners: tuple[Point, ...] = (
        (x, one.top_mm), (end_x, one.top_mm), (end_x, one.bottom_mm), (x, one.bottom_mm),
    )  # fmt: skip
    for begin, end in pairwise(corners):
        yield Line((begin, end), DASHED)


def lap_widths(frame: Frame) -> Iterator[Sequence[Span]]:
    """Of joints and laps across, then of the label as it is cut; one that several share once."""
    for cut_width_mm, lap in dict.fromkeys((one.cut_width_mm, one.lap) for one in _labels(frame)):
        joint_mm, reach_mm = lap.joint_mm, lap.reach_mm
        yield [
            Span(frame.left_mm - reach_mm, frame.left_mm - joint_mm, "lap"),
            Span(frame.left_mm - joint_mm, frame.left_mm, "joint"),
            Span(frame.right_mm, frame.right_mm + joint_mm, "joint"),
            Span(frame.right_mm + joint_mm, frame.right_mm + reach_mm, "lap"),
        ]
        words = f"label, cut {cut_width_mm:.2f}"
        yield [Span(frame.left_mm - reach_mm, frame.right_mm + reach_mm, words)]


def _labels(frame: Frame) -> Iterator[_Label]:
    """The label of each text; none where its lettering does not fit."""
    for shown, ink in zip(frame.texts, frame.boxes_mm, strict=True):
        label = shown.answer.report.label
        if label is None or label.lap is None or label.lap.cut_height_mm is None:
            continue
        lap = Lap(label.lap.joint_mm, label.lap.board_mm)
        if shown.label_mm is not None:  # shared, and placed for all of its texts
            yield _Label(-shown.label_mm[0], -shown.label_mm[1], label.cut_width_mm, lap)
            continue
        middle_mm, half_mm = (ink[1] + ink[3]) / 2, label.lap.cut_height_mm / 2
        yield _Label(middle_mm + half_mm, middle_mm - half_mm, label.cut_width_mm, lap)
