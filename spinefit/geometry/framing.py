"""Where on the back does a label of given size stand, and what room does its frame leave?

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
from spinefit.geometry.usable import UsablePanel, outline_of, shaped, usable_panel
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedFrame, ResolvedJob, ResolvedSpine
from spinefit.job.values import Panel
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


def panel_on_back(job: ResolvedJob, spine: ResolvedSpine) -> UsablePanel:
    """What the back leaves for ink, or the label of given size that stands there.

    Args:
        job: the resolved job.
        spine: its back, or that at its widest.
    """
    label = job.label
    if label is None:
        return usable_panel(spine, job.shape, job.rules)
    room = usable_panel(spine, Shape(), job.rules)
    assert room.back is not None and spine.height_mm is not None  # resolve sees to it
    covers_mm = room.back.covered_mm(job.label_thickness_mm, label.width_mm)
    from_head_mm = spine.from_head_mm
    if from_head_mm is None:
        from_head_mm = job.rules.value("ends.from_head") * spine.height_mm
    return _label_on_back(room, label, job.shape, covers_mm=covers_mm, from_head_mm=from_head_mm)


def _label_on_back(
    room: UsablePanel, label: Panel, shape: Shape, *, covers_mm: float, from_head_mm: float
) -> UsablePanel:
    """The label of given size as the usable panel of a back of known height.

    Args:
        room: what the back leaves for a label, a rectangle.
        label: the label as it is cut, in mm.
        shape: its outline.
        covers_mm: the width of back under it, measured over the round.
        from_head_mm: from the head to where its middle is wanted, on a back without bands; it
            stands as near to that as its room allows, and between bands in the middle.

    Raises:
        ImpossibleBackError: it is wider than the back, or higher than its room.
        FieldError: a shape it cannot have.
    """
    assert room.back is not None and room.height_mm is not None  # of a back of known height
    assert room.middle_from_head_mm is not None
    whole_mm = room.back.developed_width_mm
    refuse_large_label((covers_mm, label.height_mm), (whole_mm, room.height_mm), "--label-size")
    spare_mm = (room.height_mm - label.height_mm) / 2
    down_mm = 0.0 if room.number else from_head_mm - room.middle_from_head_mm
    down_mm = min(max(down_mm, -spare_mm), spare_mm)
    width_mm = min(covers_mm, room.width_mm) if room.angle_limited else covers_mm
    outline_mm, holes_mm = shaped(shape, width_mm, label.height_mm)
    side_mm = (whole_mm - width_mm) / 2
    return room._replace(
        width_mm=width_mm,
        height_mm=label.height_mm,
        form=shape.form,
        outline_mm=outline_mm,
        holes_mm=holes_mm,
        angle_limited=width_mm < covers_mm,
        margin_left_mm=side_mm,
        margin_right_mm=side_mm,
        margin_head_mm=(room.margin_head_mm or 0.0) + spare_mm + down_mm,
        margin_tail_mm=(room.margin_tail_mm or 0.0) + spare_mm - down_mm,
        middle_from_head_mm=room.middle_from_head_mm + down_mm,
    )


def refuse_large_label(
    label_mm: tuple[float, float], room_mm: tuple[float, float], where: str
) -> None:
    """Refuse a label wider than the back, or higher than what is free of it; sides in mm."""
    if label_mm[0] > room_mm[0] + SAME_MM:
        raise ImpossibleBackError(
            "the label is wider than the back", value=f"{label_mm[0]:g} mm", where=where,
            remedy=f"the back is {room_mm[0]:.4g} mm wide",
        )  # fmt: skip
    if label_mm[1] > room_mm[1] + SAME_MM:
        raise ImpossibleBackError(
            "the label is higher than what it stands on", value=f"{label_mm[1]:g} mm", where=where,
            remedy=f"{room_mm[1]:.4g} mm of the back are free there",
        )  # fmt: skip
