"""What is left for ink once every allowance is taken?

In: a resolved spine (or a panel given outright) and the shape of the panel. Out: a
`UsablePanel` in the developed plane, in mm: origin at the middle of the panel, x across the
spine to the right as one looks at it, y up towards the head; before clearance. On a rounded
back the width is the least of arc less edges and twice radius x largest angle (cosine rule,
rules.toml round.max_angle_deg). Round outlines are drawn by points on the true curve, so that
ink that fits between their chords fits the panel; the chords lie inside by at most the greater
half axis (or corner radius) x (1 - cos(pi/256)) = 7.6e-5 of it. Leaves clearance to `fit`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.back import Back, build_back
from spinefit.geometry.panels import divide
from spinefit.geometry.plane import Ring, bounds_of, box_ring, signed_area
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedFrame, ResolvedSpine
from spinefit.job.values import KeepFree, Panel
from spinefit.shaping.glyphs import Point
from spinefit.tolerances import ON_SIDE_MM, ROUND_CORNER_STEPS, SAME_MM
from spinefit.vocabulary import BackForm, PanelForm


class UsablePanel(NamedTuple):
    """Where ink may stand, before clearance.

    Attributes:
        width_mm: across the spine, along the arc where ``developed``; 0 where the default
            allowances leave nothing.
        height_mm: along the spine; 0 likewise; None where the height of the back is open.
        form: the kind of outline.
        outline_mm: corners anticlockwise in mm from the middle of the width x height box;
            None for a plain rectangle.
        holes_mm: areas kept free, to be cut away; they may reach over the outline.
        number: the panel between bands, from 1 at the head; None without bands.
        developed: True where the width lies along the arc of a rounded back.
        angle_limited: True where the largest angle, not the edges, gives the width.
        margin_left_mm, margin_right_mm: from the panel's side to the joint, in the developed
            plane; 0 for a panel given outright.
        margin_head_mm, margin_tail_mm: from its ends to the band edge or end of the back
            beyond; None where the height is open.
        middle_from_head_mm: from the head of the back to the middle of the panel; None where
            the height is open or the panel was given outright.
        back: the surface it lies on; None for a panel given outright.
        back_height_mm: height of the whole back, where known.
        beside_old: True for the part of a panel that old lettering leaves free.
        frame: what is ruled inside the edge of a label; `framing` has the room within it.
    """

    width_mm: float
    height_mm: float | None
    form: PanelForm
    outline_mm: Ring | None
    holes_mm: tuple[Ring, ...]
    number: int | None = None
    developed: bool = False
    angle_limited: bool = False
    margin_left_mm: float = 0.0
    margin_right_mm: float = 0.0
    margin_head_mm: float | None = 0.0
    margin_tail_mm: float | None = 0.0
    middle_from_head_mm: float | None = None
    back: Back | None = None
    back_height_mm: float | None = None
    beside_old: bool = False
    frame: ResolvedFrame | None = None

    @property
    def is_plain(self) -> bool:
        """True for a whole rectangle, where two divisions give the largest size."""
        squared = self.frame is None or not self.frame.corner_mm
        return self.outline_mm is None and not self.holes_mm and squared


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
    outline_mm, holes_mm = shaped(shape, width_mm, height_mm)
    side_mm = (back.developed_width_mm - width_mm) / 2
    margin_head_mm = span.top_mm - span.outer_top_mm if span else None
    margin_tail_mm = span.outer_bottom_mm - span.bottom_mm if span else None
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
    outline_mm, holes_mm = shaped(shape, width_mm, height_mm)
    if outline_mm is not None and shape.form is PanelForm.POLYGON:
        width_mm, height_mm, outline_mm, holes_mm = _in_its_own_box(outline_mm, holes_mm)
    return UsablePanel(
        width_mm=width_mm,
        height_mm=height_mm,
        form=shape.form,
        outline_mm=outline_mm,
        holes_mm=holes_mm,
    )


def _usable_width(spine: ResolvedSpine, back: Back) -> tuple[float, bool]:
    """The width in mm between the edges or the largest angles, and whether the angles give it."""
    between_mm = back.developed_width_mm - 2 * spine.edge_mm
    if between_mm <= SAME_MM:
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


def shaped(
    shape: Shape, width_mm: float, height_mm: float | None
) -> tuple[Ring | None, tuple[Ring, ...]]:
    """Outline and areas kept free of a panel; none for one of which nothing is left."""
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


def outline_of(shape: Shape, *, width_mm: float, height_mm: float) -> Ring | None:
    """The outline of a panel in its own frame.

    Args:
        shape: form, corners and outline in mm.
        width_mm: width of the rectangle that holds it, above 0.
        height_mm: height of that rectangle, above 0.

    Returns:
        Corners anticlockwise in mm from the middle of that rectangle; None for a rectangle.

    Raises:
        FieldError: a corner too large for the panel, or an outline that is no simple polygon
            or does not lie within the rectangle.
    """
    match shape.form:
        case PanelForm.RECTANGLE:
            return None
        case PanelForm.ROUNDED:
            corner_mm = _corner_mm(shape, width_mm, height_mm)
            return _with_corners(width_mm, height_mm, (corner_mm, corner_mm), ROUND_CORNER_STEPS)
        case PanelForm.CUT:
            corner_mm = _corner_mm(shape, width_mm, height_mm)
            return _with_corners(width_mm, height_mm, (corner_mm, corner_mm), 1)
        case PanelForm.OVAL:
            half_axes_mm = width_mm / 2, height_mm / 2
            return _with_corners(width_mm, height_mm, half_axes_mm, ROUND_CORNER_STEPS)
        case PanelForm.POLYGON:
            return _polygon(shape.outline_mm, width_mm, height_mm)


def kept_free(areas: tuple[KeepFree, ...]) -> tuple[Ring, ...]:
    """The areas kept free as rectangles in the panel's frame, anticlockwise, in mm.

    Raises:
        FieldError: an area without a width, height or place.
    """
    rings = []
    for area in areas:
        numbers = (area.width_mm, area.height_mm, area.x_mm, area.y_mm)
        if not all(map(math.isfinite, numbers)) or min(area.width_mm, area.height_mm) <= 0:
            raise FieldError(
                "an area kept free needs a width and a height above 0",
                value=f"{area.width_mm:g} x {area.height_mm:g} mm",
                where="--keep-free",
            )
        half_x_mm, half_y_mm = area.width_mm / 2, area.height_mm / 2
        x_mm, y_mm = area.x_mm, area.y_mm
        rings.append(
            box_ring(x_mm - half_x_mm, y_mm - half_y_mm, x_mm + half_x_mm, y_mm + half_y_mm)
        )
    return tuple(rings)


def _corner_mm(shape: Shape, width_mm: float, height_mm: float) -> float:
    most_mm = min(width_mm, height_mm) / 2
    corner_mm = shape.corner_mm
    if corner_mm is None or not 0 < corner_mm <= most_mm + SAME_MM:
        raise FieldError(
            f"corners of this panel may take above 0 and up to {most_mm:g} mm",
            value="none given" if corner_mm is None else f"{corner_mm:g} mm",
            where="--corner",
            remedy=f"the panel is {width_mm:g} x {height_mm:g} mm",
        )
    return min(corner_mm, most_mm)


def _with_corners(
    width_mm: float, height_mm: float, axes_mm: tuple[float, float], steps: int
) -> Ring:
    """A rectangle whose corners are quarter ovals in ``steps`` chords; one chord cuts them."""
    axis_x_mm, axis_y_mm = axes_mm
    inner_x_mm, inner_y_mm = width_mm / 2 - axis_x_mm, height_mm / 2 - axis_y_mm
    middles = ((1, 1), (-1, 1), (-1, -1), (1, -1))
    points: list[Point] = []
    for quarter, (side_x, side_y) in enumerate(middles):
        for step in range(steps + 1):
            cos, sin = _on_circle(quarter * steps + step, steps)
            point = side_x * inner_x_mm + axis_x_mm * cos, side_y * inner_y_mm + axis_y_mm * sin
            points.append(point)
    return _without_repeats(points)


def _on_circle(step: int, steps: int) -> Point:
    """Cosine and sine of ``step`` parts of a quarter in ``steps``; exact on the axes."""
    quarter, part = divmod(step, steps)
    angle_rad = math.pi / 2 * part / steps
    cos, sin = (1.0, 0.0) if part == 0 else (math.cos(angle_rad), math.sin(angle_rad))
    for _ in range(quarter % 4):
        cos, sin = -sin, cos
    return cos, sin


def _polygon(outline_mm: Ring | None, width_mm: float, height_mm: float) -> Ring:
    ring = _without_repeats(list(outline_mm or ()))
    if len(ring) < 3 or not all(math.isfinite(x) and math.isfinite(y) for x, y in ring):
        raise FieldError(
            "an outline needs three corners or more, each x and y in mm",
            value=f"{len(ring)} corners",
            where="--panel-outline",
        )
    from spinefit.geometry.polygons import is_simple  # shapely: loaded only where used

    area_mm2 = signed_area(ring)
    if not is_simple(ring) or abs(area_mm2) <= SAME_MM:
        raise FieldError(
            "the outline crosses or touches itself, or holds nothing",
            value=f"{len(ring)} corners",
            where="--panel-outline",
            remedy="give the corners in order round the panel, each once",
        )
    left_mm, bottom_mm, right_mm, top_mm = bounds_of(ring)
    beyond_mm = max(
        right_mm - width_mm / 2,
        -left_mm - width_mm / 2,
        top_mm - height_mm / 2,
        -bottom_mm - height_mm / 2,
    )
    if beyond_mm > ON_SIDE_MM:
        raise FieldError(
            f"the outline goes {beyond_mm:.3g} mm beyond the panel",
            value=f"{right_mm - left_mm:g} x {top_mm - bottom_mm:g} mm",
            where="--panel-outline",
            remedy=f"the panel is {width_mm:g} x {height_mm:g} mm about its middle",
        )
    return ring if area_mm2 > 0 else ring[::-1]


def _without_repeats(points: list[Point]) -> Ring:
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > SAME_MM:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= SAME_MM:
        kept.pop()
    return tuple(kept)
