"""How is lettering drawn that stands on the back already, and the label that hides it?

In: the back with its texts. Out: the old ink, dashed under a label and hatched where none lies
over it, the box of that label, be there room for it or not, and what is measured of both; mm in
the frame of the back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spinefit.drawing.dimensions import Mark, Span
from spinefit.drawing.frame import Frame
from spinefit.drawing.marks import DASHED, box, hatching
from spinefit.drawing.scene import Item
from spinefit.judgement.covering import OverOld
from spinefit.shaping.glyphs import Box


def old_ink(old: OverOld) -> tuple[Item, ...]:
    """Old ink and impression: dashed under a label, hatched where none lies over it."""
    if old.label_mm is not None:
        return (box(*old.ink_mm, pen=DASHED),)
    return (box(*old.ink_mm, grey=1.0, pen=DASHED), *hatching(old.ink_mm))


def rooms(frame: Frame) -> Iterator[Box]:
    """For each text the box of its panel, or of its label over old lettering."""
    for panel, old in zip(frame.panels_mm, frame.old_inks, strict=True):
        yield panel if old is None or old.label_mm is None else old.label_mm


def _drawn(frame: Frame) -> Iterator[OverOld]:
    return (old for old in frame.old_inks if old is not None)


def old_widths(frame: Frame) -> Iterator[Sequence[Span]]:
    """Of old ink, across the back."""
    for old in _drawn(frame):
        yield [Span(old.ink_mm[0], old.ink_mm[2], "old ink", from_mm=old.ink_mm[1])]


def old_chains(frame: Frame) -> Iterator[list[Span]]:
    """Of old ink along the back, and of a label where nothing else measures that."""
    if frame.first.answer.job.label is not None and frame.first.panel.number:
        yield [Span(frame.panels_mm[0][1], frame.panels_mm[0][3], "label")]
    for old in _drawn(frame):
        yield [Span(old.ink_mm[1], old.ink_mm[3], "old ink", from_mm=old.ink_mm[2])]
        if old.label_mm is not None and (frame.first.panel.number or len(frame.texts) > 1):
            yield [Span(old.label_mm[1], old.label_mm[3], "label")]


def old_marks(frame: Frame) -> Iterator[Mark]:
    """Where old ink begins, and a label of given size or over old ink; of a back's known height."""
    if frame.first.panel.back_height_mm is None:
        return
    if frame.first.answer.job.label is not None:
        yield Mark(frame.panels_mm[0][3], frame.panels_mm[0][2], "label begins")
    for old in _drawn(frame):
        yield Mark(old.ink_mm[3], old.ink_mm[2], "old ink begins")
        if old.label_mm is not None:
            yield Mark(old.label_mm[3], old.label_mm[2], "label begins")
