"""How is the frame drawn that is ruled inside the edge of a label?

In: a panel that is a label with a frame. Out: the two edges of each line as contours in the
panel's frame of reference, in mm, so that its weight is exact in every format and a plotter has
what it cuts. It stays on the label, unlike the marks that the label is cut by.
"""

from __future__ import annotations

from spinefit.drawing.scene import Area, Group, Item, ring_contour
from spinefit.geometry import UsablePanel
from spinefit.geometry.framing import ring_inside
from spinefit.shaping.glyphs import Box, Contour


def frame_contours(panel: UsablePanel) -> tuple[Contour, ...]:
    """Outer and inner edge of each line, the inner one the other way round: filled, a line.

    Args:
        panel: a label of known height; without a frame there are none.
    """
    frame = panel.frame
    if frame is None or min(panel.width_mm, panel.height_mm or 0.0) <= 2 * frame.inset_mm:
        return ()
    found = []
    for middle_mm, wide_mm in frame.lines_mm:
        outer = ring_inside(panel, frame, middle_mm - wide_mm / 2)
        inner = ring_inside(panel, frame, middle_mm + wide_mm / 2)
        found += [ring_contour(outer), ring_contour(inner[::-1])]
    return tuple(found)


def ruled_frame(
    panel: UsablePanel, label_mm: Box | None = None, grey: float = 0.0
) -> tuple[Item, ...]:
    """The frame as an item about the middle of the label; nothing without one.

    Args:
        panel: the label.
        label_mm: the label as it is drawn, where that is another than the panel, or where the
            panel's height is open.
        grey: 0 for black, 1 for white.
    """
    if label_mm is not None:
        left, bottom, right, top = label_mm
        panel = panel._replace(width_mm=right - left, height_mm=top - bottom)
    contours = frame_contours(panel)
    return (Group("ruled-frame", (Area(contours, grey),), "frame"),) if contours else ()
