"""What is left for ink once every allowance is taken?

In: a resolved spine (or a panel given outright) and the shape of the panel. Out: a
`UsablePanel` in the developed plane, in mm: origin at the middle of the panel, x across the
spine to the right as one looks at it, y up towards the head; before clearance. On a rounded
back the width is the least of arc less edges and twice radius x largest angle (cosine rule,
rules.toml round.max_angle_deg). Leaves clearance and ink to `fit`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.back import Back, build_back
from spinefit.geometry.panels import PanelSpan, divide
from spinefit.geometry.shapes import Ring, bounds_of, kept_free, outline_of
from spinefit.geometry.tolerances import NOTHING_MM
from spinefit.job.model import Panel, Shape
from spinefit.job.resolved import ResolvedSpine
from spinefit.vocabulary import BackForm, PanelForm

__all__ = ["UsablePanel", "outright_panel", "refuse_no_room", "usable_panel"]


class UsablePanel(NamedTuple):
    """Where ink may stand, before clearance.

    Attributes:
        width_mm: across the spine, along the arc where ``developed``; 0 where the default
            allowances leave nothing.
        height_mm: along the spine; 0 likewise; None where the height of the back is open.
        number: the panel between bands, from 1 at the head; None without bands.
        developed: True where the width lies along the arc of a rounded back.
        form: the kind of outline.
        outline_mm: corners anticlockwise in mm from the middle of the width x height box;
            None for a plain rectangle.
        holes_mm: areas kept free, to be cut away; they may reach over the outline.
        angle_limited: True where the largest angle, not the edges, gives the width.
        margin_left_mm, margin_right_mm: from the panel's side to the joint, in the developed
            plane; 0 for a panel given outright.
        margin_head_mm, margin_tail_mm: from its ends to the band edge or end of the back
            beyond; None where the height is open.
        middle_from_head_mm: from the head of the back to the middle of the panel; None where
            the height is open or the panel was given outright.
        back: the surface it lies on; None for a panel given outright.
        back_height_mm: height of the whole back, where known.
    """

    width_mm: float
    height_mm: float | None
    number: int | None
    developed: bool
    form: PanelForm
    outline_mm: Ring | None
    holes_mm: tuple[Ring, ...]
    angle_limited: bool
    margin_left_mm: float
    margin_right_mm: float
    margin_head_mm: float | None
    margin_tail_mm: float | None
    middle_from_head_mm: float | None
    back: Back | None
    back_height_mm: float | None

    @property
    def is_plain(self) -> bool:
        """True for a whole rectangle, where two divisions give the largest size."""
        return self.outline_mm is None and not self.holes_mm


def usable_panel(spine: ResolvedSpine, shape: Shape, rules: Rules) -> UsablePanel:
    """The panel of a back that is to be lettered, all allowances taken.

    Args:
        spine: the back, lengths in mm.
        shape: the outline of the panel, where it is not a plain rectangle.
        rules: for the usual round of a back of which only the width is known.

    Returns:
        The usable panel in mm; of width or height 0 where default allowances leave nothing.

    Raises:
        ImpossibleBackError: a spine that cannot be, or typed allowances that leave nothing.
        FieldError: a shape that the panel cannot have, or one without a height.
    """
    back = build_back(spine, rules)
    width_mm, angle_limited = _usable_width(spine, back)
    spans = divide(spine)
    span = spans[spine.title_panel - 1 if len(spans) > 1 else 0] if spans else None
    height_mm = span.height_mm if span else None
    outline_mm, holes_mm = _shaped(shape, width_mm, height_mm)
    side_mm = (back.developed_width_mm - width_mm) / 2
    margin_head_mm, margin_tail_mm = _end_margins(span)
    return UsablePanel(
        width_mm=width_mm,
        height_mm=height_mm,
        number=spine.title_panel if spine.bands or spine.bands_at_mm else None,
        developed=back.form is BackForm.ROUNDED and back.curve_known,
        form=shape.form,
        outline_mm=outline_mm,
        holes_mm=holes_mm,
        angle_limited=angle_limited,
        margin_left_mm=side_mm,
        margin_right_mm=side_mm,
        margin_head_mm=margin_head_mm,
        margin_tail_mm=margin_tail_mm,
        middle_from_head_mm=span.middle_mm if span else None,
        back=back,
        back_height_mm=spine.height_mm,
    )


def outright_panel(panel: Panel, shape: Shape) -> UsablePanel:
    """A panel given outright, as with a label already chosen: no allowance is taken.

    Args:
        panel: its width and height in mm.
        shape: its outline. For a polygon the width and height become those of its bounding
            box, and the origin the middle of that.

    Returns:
        The usable panel in mm, with no back and no margins.

    Raises:
        FieldError: a width or height that is not above 0, or a shape it cannot have.
    """
    sides = (panel.width_mm, panel.height_mm)
    if not (0 < sides[0] < math.inf and 0 < sides[1] < math.inf):
        raise FieldError(
            "a panel needs a width and a height above 0",
            value=f"{panel.width_mm:g} x {panel.height_mm:g} mm",
            where="--panel",
        )
    width_mm, height_mm = sides
    outline_mm, holes_mm = _shaped(shape, width_mm, height_mm)
    if outline_mm is not None and shape.form is PanelForm.POLYGON:
        width_mm, height_mm, outline_mm, holes_mm = _in_its_own_box(outline_mm, holes_mm)
    return UsablePanel(
        width_mm=width_mm,
        height_mm=height_mm,
        number=None,
        developed=False,
        form=shape.form,
        outline_mm=outline_mm,
        holes_mm=holes_mm,
        angle_limited=False,
        margin_left_mm=0.0,
        margin_right_mm=0.0,
        margin_head_mm=0.0,
        margin_tail_mm=0.0,
        middle_from_head_mm=None,
        back=None,
        back_height_mm=None,
    )


def _usable_width(spine: ResolvedSpine, back: Back) -> tuple[float, bool]:
    """The width in mm between the edges or the largest angles, and whether the angles give it."""
    between_mm = back.developed_width_mm - 2 * spine.edge_mm
    if between_mm <= NOTHING_MM:
        if "edge" in spine.typed:
            raise ImpossibleBackError(
                "the edges leave nothing of the back",
                value=f"{spine.edge_mm:g} mm",
                where="--edge",
                remedy=f"keep less than {back.developed_width_mm / 2:g} mm free at each joint",
            )
        return 0.0, False
    if back.radius_mm is None or not back.curve_known:
        return between_mm, False
    readable_mm = 2 * back.radius_mm * math.radians(spine.max_angle_deg)
    return (readable_mm, True) if readable_mm < between_mm else (between_mm, False)


def _end_margins(span: PanelSpan | None) -> tuple[float | None, float | None]:
    if span is None:
        return None, None
    return span.top_mm - span.outer_top_mm, span.outer_bottom_mm - span.bottom_mm


def _shaped(
    shape: Shape, width_mm: float, height_mm: float | None
) -> tuple[Ring | None, tuple[Ring, ...]]:
    """Outline and areas kept free; none for a panel of which nothing is left."""
    if shape.form is PanelForm.RECTANGLE and not shape.keep_free:
        return None, ()
    if height_mm is None:
        raise FieldError(
            "a panel that is not a plain rectangle needs a height",
            value=shape.form.value if not shape.keep_free else "an area kept free",
            where="--height",
            remedy="give the height of the back",
        )
    if width_mm <= 0 or height_mm <= 0:
        return None, ()
    outline_mm = outline_of(shape, width_mm=width_mm, height_mm=height_mm)
    return outline_mm, kept_free(shape.keep_free)


def _in_its_own_box(
    outline_mm: Ring, holes_mm: tuple[Ring, ...]
) -> tuple[float, float, Ring, tuple[Ring, ...]]:
    """Width and height of an outline's bounding box, and all rings about the middle of that."""
    left_mm, bottom_mm, right_mm, top_mm = bounds_of(outline_mm)
    middle_mm = ((left_mm + right_mm) / 2, (bottom_mm + top_mm) / 2)
    moved_mm = tuple(_about(hole_mm, middle_mm) for hole_mm in holes_mm)
    return right_mm - left_mm, top_mm - bottom_mm, _about(outline_mm, middle_mm), moved_mm


def _about(ring: Ring, middle_mm: tuple[float, float]) -> Ring:
    return tuple((x - middle_mm[0], y - middle_mm[1]) for x, y in ring)


def refuse_no_room(panel: UsablePanel, clearance_mm: float) -> None:
    """Refuse a clearance, or areas kept free, that leave nothing of a panel.

    What default allowances have used up already is no fault: there a title does not fit.

    Args:
        panel: the usable panel.
        clearance_mm: space wanted around the ink, where the person chose it; else 0.

    Raises:
        ImpossibleBackError: nothing is left.
    """
    least_mm = panel.width_mm
    if panel.height_mm is not None and panel.height_mm < least_mm:
        least_mm = panel.height_mm
    if least_mm <= 0:
        return
    if clearance_mm > 0 and least_mm <= 2 * clearance_mm:
        raise ImpossibleBackError(
            "the clearance leaves nothing of the panel",
            value=f"{clearance_mm:g} mm",
            where="--clearance",
            remedy=f"keep less than {least_mm / 2:g} mm between the ink and the edge",
        )
    if panel.holes_mm and _is_all_kept_free(panel):
        raise ImpossibleBackError(
            "the areas kept free leave nothing of the panel",
            where="--keep-free",
            remedy="make them smaller or move them",
        )


def _is_all_kept_free(panel: UsablePanel) -> bool:
    from spinefit.geometry.panel_shapes import panel_polygon

    return bool(panel_polygon(panel).is_empty)
