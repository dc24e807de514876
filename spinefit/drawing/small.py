"""How do the settings compare, seen side by side?

In: an answer. Out: a small scene for each of its layouts: its lettering in its panel, at the size
judged, all at true size and with the same length of back in view, so that the eye compares like
with like. What goes on beyond is broken off.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.drawing.faces import shown_letters
from spinefit.drawing.lettering import ink_extents_mm, lettering_mm
from spinefit.drawing.marks import DASHED, OUTLINE, box, break_line
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Scene, moved, ring_contour
from spinefit.geometry import UsablePanel
from spinefit.judgement import Judged
from spinefit.pipeline import Answer
from spinefit.say import phrasing as say
from spinefit.shaping.outline import Box

__all__ = ["settings"]

_AROUND_MM = 5.0
_EDGE_MM = 3.0
_INK = Pen(0.13, (0.6, 0.6), grey=0.4)


def settings(answer: Answer) -> tuple[Scene, ...]:
    """A picture of every layout, in the order of the report."""
    drawn = [(one, _ink(one)) for one in answer.judgement.judged]
    high = max(box[3] - box[1] for _one, (_area, box) in drawn) + 2 * _AROUND_MM
    wide = max(max(answer.panel.width_mm, 2 * max(-box[0], box[2])) for _one, (_area, box) in drawn)
    found = []
    for (one, (letters, ink)), layout in zip(drawn, answer.report.layouts, strict=True):
        title = f"{layout.reading}: {say.joined(layout)}, {say.pt(layout.set_pt)}"
        found.append(_scene(one.layout.panel, letters, ink, (wide, high), title))
    return tuple(found)


def _ink(one: Judged) -> tuple[tuple[Item, ...], Box]:
    contours = lettering_mm(one)
    return shown_letters(one, contours), ink_extents_mm(contours)


def _scene(
    panel: UsablePanel,
    letters: tuple[Item, ...],
    ink: Box,
    window_mm: tuple[float, float],
    title: str,
) -> Scene:
    wide, high = window_mm[0] + 2 * _EDGE_MM, window_mm[1] + 2 * _EDGE_MM
    middle = (ink[1] + ink[3]) / 2
    bottom, top = middle - window_mm[1] / 2, middle + window_mm[1] / 2
    half = panel.height_mm / 2 if panel.height_mm is not None else None
    items: list[Item] = [*_panel(panel, bottom, top, half)]
    items.append(Group("extents", (box(*ink, grey=None, pen=_INK),)))
    items.append(Group("lettering", letters))
    shifted = moved(items, (wide / 2, high / 2 - middle))
    return Scene(wide, high, title, title, shifted)


def _panel(panel: UsablePanel, bottom: float, top: float, half: float | None) -> Sequence[Item]:
    """The panel's sides as far as they are in view, whole or broken off at its ends."""
    side = panel.width_mm / 2
    if panel.outline_mm is not None:
        rings = (ring_contour(panel.outline_mm), *(ring_contour(hole) for hole in panel.holes_mm))
        return [Area((one,), None, OUTLINE if not at else DASHED) for at, one in enumerate(rings)]
    ends = (bottom, top) if half is None else (max(bottom, -half), min(top, half))
    found: list[Item] = [Line(((x, ends[0]), (x, ends[1])), OUTLINE) for x in (-side, side)]
    for y, end in zip(ends, (None, None) if half is None else (-half, half), strict=True):
        whole = end is not None and abs(y - end) < 1e-6
        found.append(
            Line(((-side, y), (side, y)), OUTLINE) if whole else break_line(-side, side, y)
        )
    found += [Area((ring_contour(hole),), None, DASHED) for hole in panel.holes_mm]
    return found
