"""What room does a frame leave within it, and along which outlines are its lines ruled?

In: a panel that is a label, with a frame. Out: rings in the panel's frame of reference, mm,
anticlockwise, at any distance inside the label's edge; and the panel within the frame, about the
same middle. Square, rounded or cut corners keep their form from line to line: each is parallel to
the outer one. Inside the edge of a label of another shape the frame is parallel to that.
"""

from __future__ import annotations

import math
from functools import lru_cache

from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.plane import Ring, bounds_of, box_ring
from spinefit.geometry.usable import UsablePanel, outline_of
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedFrame
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import FrameCorners, PanelForm

_CUT_SHORTENS = 2 - math.sqrt(2)  # the leg of a cut corner, for every mm farther in


def ring_inside(panel: UsablePanel, frame: ResolvedFrame, inset_mm: float) -> Ring:
    """A line parallel to the frame, so far inside the label's edge.

    Args:
        panel: the label, of known height.
        frame: its frame.
        inset_mm: from the label's edge, no nearer to it than the frame.

    Raises:
        FieldError: a corner that was typed larger than the frame has room for.
        ImpossibleBackError: a label of another shape, with no room for the line.
    """
    if panel.outline_mm is not None:
        from spinefit.geometry.polygons import inset_ring  # shapely: loaded only where used

        inner = inset_ring(panel.outline_mm, inset_mm)
        if inner == panel.outline_mm:
            raise _no_room(frame, min(panel.width_mm, panel.height_mm or panel.width_mm))
        return inner
    assert panel.height_mm is not None  # `within_frame` refuses it
    width_mm, height_mm = panel.width_mm - 2 * inset_mm, panel.height_mm - 2 * inset_mm
    shortens = _CUT_SHORTENS if frame.corners is FrameCorners.CUT else 1.0
    corner_mm = frame.corner_mm - shortens * (inset_mm - frame.from_edge_mm)
    if not frame.corner_typed:
        corner_mm = min(corner_mm, min(width_mm, height_mm) / 2)
    if corner_mm <= SAME_MM:
        return box_ring(-width_mm / 2, -height_mm / 2, width_mm / 2, height_mm / 2)
    form = PanelForm.CUT if frame.corners is FrameCorners.CUT else PanelForm.ROUNDED
    shape = Shape(form=form, corner_mm=corner_mm)
    found = outline_of(shape, width_mm=width_mm, height_mm=height_mm)
    assert found is not None  # neither form is a rectangle
    return found


def refuse_no_room_within(panel: UsablePanel) -> None:
    """Refuse a frame that leaves nothing of its label.

    What default allowances have used up already is no fault: there a title does not fit.

    Raises:
        ImpossibleBackError: nothing is left.
        FieldError: corners of a label whose height was left open.
    """
    frame = panel.frame
    if frame is None:
        return
    if frame.corner_mm and panel.height_mm is None:
        raise FieldError(
            "corners of a frame on a label of open height", value=frame.corners,
            where="--frame-corners", remedy="give the height of the back",
        )  # fmt: skip
    sides_mm = [each for each in (panel.width_mm, panel.height_mm) if each is not None]
    if 0 < min(sides_mm) <= 2 * frame.inset_mm:
        raise _no_room(frame, min(sides_mm))
    if frame.corner_mm:
        within_frame(panel)


def _no_room(frame: ResolvedFrame, side_mm: float) -> ImpossibleBackError:
    return ImpossibleBackError(
        "the frame leaves nothing of the label", value=f"{side_mm:.4g} mm", where="--frame",
        remedy=f"it takes {frame.inset_mm:.4g} mm on every side: rule a lighter one or none",
    )  # fmt: skip


@lru_cache(maxsize=16)
def within_frame(panel: UsablePanel) -> tuple[UsablePanel, float]:
    """What a frame leaves of a panel, about the same middle, and how far in from its edge.

    Args:
        panel: the usable panel; one without a frame is left as it is.
    """
    frame = panel.frame
    if frame is None or panel.width_mm <= 0 or (panel.height_mm or 1.0) <= 0:
        return panel, 0.0
    inset_mm, high_mm, outline_mm = frame.inset_mm, panel.height_mm, None
    if panel.outline_mm is not None or frame.corner_mm:
        outline_mm = ring_inside(panel, frame, inset_mm)
        left_mm, bottom_mm, right_mm, top_mm = bounds_of(outline_mm)
        wide_mm, high_mm = right_mm - left_mm, top_mm - bottom_mm
    else:
        wide_mm = panel.width_mm - 2 * inset_mm
        high_mm = None if high_mm is None else high_mm - 2 * inset_mm
    inside = panel._replace(
        width_mm=wide_mm, height_mm=high_mm, outline_mm=outline_mm, frame=None, form=panel.form
    )
    return inside, inset_mm
