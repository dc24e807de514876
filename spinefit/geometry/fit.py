"""How large can lettering be in a usable panel, exactly, and what stops it?

In: a panel in mm and ink in em about its placing point, turned as it will stand. Ink scales
with the size while clearance does not, so the largest size is computed, not searched: two
divisions in a rectangle, least (d - clearance - n.c) / h(n) over the edges of a convex panel,
first contact of the growing ink elsewhere. Out: a `Limit`, the em in mm. Flattened curves
are taken a bounded error larger, never smaller. Source: support functions, computed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.geometry.framing import refuse_no_room_within, within_frame
from spinefit.geometry.plane import Corners, Ring, bounds_of, box_ring, is_convex
from spinefit.geometry.usable import UsablePanel
from spinefit.shaping.glyphs import Box, Point
from spinefit.tolerances import FLATTENING_ERROR_EM, ON_SIDE_MM
from spinefit.vocabulary import LimitedBy

_MIDDLE: Point = (0.0, 0.0)


class Limit(NamedTuple):
    """The largest size and what sets it.

    Attributes:
        size_mm: the em in mm at which ink first comes within the clearance of the panel's
            edge; 0 where no size fits.
        by: what it meets there.
        centre_mm: where the placing point stands, in the panel's frame.
    """

    size_mm: float
    by: LimitedBy
    centre_mm: Point = _MIDDLE


class RectangleLimits:
    """The largest size of any ink about the middle of one rectangle.

    Args:
        width_mm: width of the rectangle.
        height_mm: its height; None where that is left open.
        clearance_mm: space between ink and edge.
        angle_limited: True where the width ends at the largest readable angle.

    >>> RectangleLimits(10.0, 4.0, clearance_mm=1.0).size_mm(2.0, 0.5)
    2.0
    """

    __slots__ = ("_across", "_half_height_mm", "_half_width_mm")

    def __init__(
        self,
        width_mm: float,
        height_mm: float | None,
        *,
        clearance_mm: float,
        angle_limited: bool = False,
    ) -> None:
        self._across = LimitedBy.ANGLE if angle_limited else LimitedBy.WIDTH
        self._half_width_mm = width_mm / 2 - clearance_mm
        self._half_height_mm = math.inf if height_mm is None else height_mm / 2 - clearance_mm

    def size_mm(self, across_em: float, up_em: float) -> float:
        """The largest size of ink that reaches so far from its placing point; 0 for none.

        Args:
            across_em: to the left or to the right, whichever is more.
            up_em: to the head or to the tail, likewise.
        """
        width_mm, height_mm = self._half_width_mm, self._half_height_mm
        if across_em <= 0 or width_mm <= 0 or height_mm <= 0:
            return 0.0
        size_mm = width_mm / across_em
        return height_mm / up_em if height_mm < size_mm * up_em else size_mm

    def limit(self, across_em: float, up_em: float) -> Limit:
        """The same size, and what sets it.

        Args:
            across_em: as of `size_mm`.
            up_em: as of `size_mm`.
        """
        size_mm, width_mm = self.size_mm(across_em, up_em), self._half_width_mm
        by_width = across_em <= 0 or width_mm <= 0 or size_mm == width_mm / across_em
        return Limit(size_mm, self._across if by_width else LimitedBy.HEIGHT, _MIDDLE)


def limits_in(panel: UsablePanel, clearance_mm: float) -> RectangleLimits:
    """The limits of a panel that is a plain rectangle."""
    return RectangleLimits(
        panel.width_mm,
        panel.height_mm,
        clearance_mm=clearance_mm,
        angle_limited=panel.angle_limited,
    )


def reach_of(ink: Box) -> tuple[float, float]:
    """How far ink reaches from its placing point, in em: to either side, and up or down.

    >>> reach_of((-2.0, -0.5, 1.5, 0.25))
    (2.0, 0.5)
    """
    left, bottom, right, top = ink
    return (right if right > -left else -left), (top if top > -bottom else -bottom)


OutlinePoints = Callable[[], Sequence[Corners]]
"""Gives the flattened rings of the ink, in em, in the frame of its box; called if needed."""


def largest(
    panel: UsablePanel,
    ink: Box,
    outline_points: OutlinePoints,
    *,
    clearance_mm: float,
    wanted_mm: Point | None = None,
) -> Limit:
    """The largest size of lettering in a panel.

    Args:
        panel: the usable panel in mm.
        ink: extents (left, bottom, right, top) in em about the placing point, exact, turned
            as the lettering will stand.
        outline_points: the same ink as rings of points, each point of a true curve within
            `FLATTENING_ERROR_EM` of them; called only where the panel is no plain rectangle.
        clearance_mm: space between ink and the panel's edge, 0 or more.
        wanted_mm: where the placing point should stand in a panel that is no plain rectangle,
            if it is free there; None for the middle of the panel's bounding box.

    Returns:
        The limit; size 0 where nothing fits. The placing point stands where it is wanted or,
        where that is not free, as near as it can along the spine, or else on the point that is
        farthest from any edge.

    Source: support functions and first contact, computed.
    """
    if panel.is_plain:
        return limits_in(panel, clearance_mm).limit(*reach_of(ink))
    return largest_in_shape(
        panel, ink, outline_points(), clearance_mm=clearance_mm, wanted_mm=wanted_mm
    )


def largest_in_shape(
    panel: UsablePanel,
    ink: Box,
    rings: Sequence[Corners],
    *,
    clearance_mm: float,
    wanted_mm: Point | None = None,
) -> Limit:
    """The largest size in any panel: the first contact as the ink grows from the centre.

    Fit is not monotone in size where the panel is not convex; sizes above the limit may be free
    again and do not count. Ink meets the outline or an area kept free, whichever comes first;
    where these overlap, no part of the one inside the other can be reached, so that each may be
    looked at by itself: a convex outline by its half planes, all other borders by first contact.

    Args:
        panel: any panel with a height, in mm; of one with a frame the room within that counts.
        ink: exact extents in em about the placing point.
        rings: the ink's rings in em; a bounded error is added.
        clearance_mm: space between ink and edge, what a frame takes counted in.
        wanted_mm: where the placing point should stand; None for the middle of the box.

    Returns:
        The limit; the centre is where it was wanted if that is free.
    """
    from spinefit.geometry import contact  # numpy: loaded only where used

    panel, taken_mm = within_frame(panel)
    clearance_mm -= taken_mm
    centre_mm, free_mm = _standing(panel, wanted_mm, clearance_mm)
    if not _is_free(free_mm, clearance_mm):
        return Limit(0.0, LimitedBy.SHAPE, centre_mm)
    outline_mm, borders = _outline(panel), panel.holes_mm
    first = contact.Contact(math.inf, None)
    if is_convex(outline_mm):
        first = contact.support_limit(
            rings, ink, outline_mm, centre_mm, clearance_mm, FLATTENING_ERROR_EM
        )
    else:
        borders = (outline_mm, *borders)
    if borders:
        edges = contact.edges_of(rings)
        rough = contact.first_contact(edges, borders, centre_mm, clearance_mm)
        at_most_mm = min(first.size_mm, rough.size_mm)
        # The true ink is within the flattening error, times the size, of the rings. Contact at a
        # distance greater by that error comes first, at a smaller size, where the error is less.
        safe_mm = clearance_mm + FLATTENING_ERROR_EM * at_most_mm
        if free_mm <= safe_mm:
            return Limit(0.0, LimitedBy.SHAPE, centre_mm)
        met = contact.first_contact(edges, borders, centre_mm, safe_mm, at_most_mm=at_most_mm)
        first = min(first, met, key=lambda each: each.size_mm)
    return Limit(first.size_mm, _limited_by(panel, first.edge), centre_mm)


def _is_free(free_mm: float, clearance_mm: float) -> bool:
    """Whether a point so far from the nearest edge has any room beyond the clearance.

    A point on the edge itself may come out a rounding error inside.
    """
    return free_mm > clearance_mm + ON_SIDE_MM


@lru_cache(maxsize=16)  # most layouts of a title, and of the trials of remedies, stand in one panel
def _standing(
    panel: UsablePanel, wanted_mm: Point | None, clearance_mm: float
) -> tuple[Point, float]:
    """Where the placing point stands, and how far from the nearest edge, in mm.

    A place that is wanted has to be as open as the width of the panel allows; else the nearest
    one along the spine that is so open. Without a wish the middle of the box, if it is free.
    """
    from spinefit.geometry import panel_polygons  # shapely: loaded only where used

    shape = panel_polygons.panel_polygon(panel)
    if wanted_mm is not None:
        open_mm = panel.width_mm / 2 - ON_SIDE_MM
        found = panel_polygons.nearest_open_place(shape, wanted_mm, open_mm=open_mm)
        if found is not None:
            return found, panel_polygons.free_distance(shape, found)
    centre_mm = _middle(_outline(panel))
    free_mm = panel_polygons.free_distance(shape, centre_mm)
    if wanted_mm is None and _is_free(free_mm, clearance_mm):
        return centre_mm, free_mm
    return panel_polygons.freest_point(shape)


def _outline(panel: UsablePanel) -> Ring:
    """The outline, without areas kept free; that of a rectangle spelled out."""
    if panel.outline_mm is not None:
        return panel.outline_mm
    if panel.height_mm is None:
        raise FieldError("a panel with an area kept free needs a height", where="--height")
    x_mm, y_mm = panel.width_mm / 2, panel.height_mm / 2
    return box_ring(-x_mm, -y_mm, x_mm, y_mm)


def _middle(ring: Ring) -> Point:
    left, bottom, right, top = bounds_of(ring)
    return (left + right) / 2, (bottom + top) / 2


def _limited_by(panel: UsablePanel, edge: tuple[Point, Point] | None) -> LimitedBy:
    """Width or height where the edge met lies on a side of the bounding box, else the shape."""
    if edge is None:
        return LimitedBy.SHAPE
    (x0, y0), (x1, y1) = edge
    left, bottom, right, top = bounds_of(_outline(panel))
    for side in (left, right):
        if abs(x0 - side) <= ON_SIDE_MM and abs(x1 - side) <= ON_SIDE_MM:
            on_angle = panel.angle_limited and abs(abs(side) - panel.width_mm / 2) <= ON_SIDE_MM
            return LimitedBy.ANGLE if on_angle else LimitedBy.WIDTH
    for side in (bottom, top):
        if abs(y0 - side) <= ON_SIDE_MM and abs(y1 - side) <= ON_SIDE_MM:
            return LimitedBy.HEIGHT
    return LimitedBy.SHAPE


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
    refuse_no_room_within(panel)
    if clearance_mm > 0 and least_mm <= 2 * clearance_mm:
        taken_mm = 0.0 if panel.frame is None else panel.frame.inset_mm
        edge = "edge" if panel.frame is None else "frame"
        raise ImpossibleBackError(
            "the clearance leaves nothing of the panel",
            value=f"{clearance_mm - taken_mm:g} mm",
            where="--clearance",
            remedy=f"keep less than {least_mm / 2 - taken_mm:g} mm between the ink and the {edge}",
        )
    if not panel.holes_mm:
        return
    from spinefit.geometry.panel_polygons import panel_polygon

    if panel_polygon(panel).is_empty:
        raise ImpossibleBackError(
            "the areas kept free leave nothing of the panel",
            where="--keep-free",
            remedy="make them smaller or move them",
        )
