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
from typing import TYPE_CHECKING

from spinefit.errors import FieldError
from spinefit.geometry.rectangle import Limit, largest_in_rectangle
from spinefit.geometry.shapes import Corners, Ring, bounds_of, is_convex
from spinefit.geometry.tolerances import FLATTENING_ERROR_EM, ON_SIDE_MM
from spinefit.geometry.usable import UsablePanel
from spinefit.shaping.outline import Box, Point
from spinefit.vocabulary import LimitedBy

if TYPE_CHECKING:
    from spinefit.geometry.contact import Contact  # numpy: loaded only where used

__all__ = [
    "OutlinePoints",
    "largest",
    "largest_in_convex",
    "largest_in_polygon",
]

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
        return largest_in_rectangle(
            ink,
            width_mm=panel.width_mm,
            height_mm=panel.height_mm,
            clearance_mm=clearance_mm,
            angle_limited=panel.angle_limited,
        )
    if panel.outline_mm is not None and not panel.holes_mm and is_convex(panel.outline_mm):
        return largest_in_convex(
            panel, ink, outline_points(), clearance_mm=clearance_mm, wanted_mm=wanted_mm
        )
    return largest_in_polygon(
        panel, ink, outline_points(), clearance_mm=clearance_mm, wanted_mm=wanted_mm
    )


def largest_in_convex(
    panel: UsablePanel,
    ink: Box,
    rings: Sequence[Corners],
    *,
    clearance_mm: float,
    wanted_mm: Point | None = None,
) -> Limit:
    """The largest size in a convex outline without areas kept free.

    Args:
        panel: a panel with such an outline, in mm.
        ink: exact extents in em about the placing point.
        rings: the ink's rings in em; a bounded error is added to their support.
        clearance_mm: space between ink and edge.
        wanted_mm: where the placing point should stand; None for the middle of the box.

    Returns:
        The limit; the centre is where it was wanted if that is free.
    """
    from spinefit.geometry import contact

    outline_mm = _outline(panel)
    centre_mm = _middle(outline_mm)
    free_mm = contact.free_distance(outline_mm, centre_mm)
    if wanted_mm is not None or not _is_free(free_mm, clearance_mm):
        centre_mm, free_mm = _standing(panel, wanted_mm, clearance_mm)
    if not _is_free(free_mm, clearance_mm):
        return Limit(0.0, LimitedBy.SHAPE, centre_mm)
    met = contact.support_limit(
        rings, ink, outline_mm, centre_mm, clearance_mm, FLATTENING_ERROR_EM
    )
    return Limit(met.size_mm, _limited_by(panel, met.edge), centre_mm)


def largest_in_polygon(
    panel: UsablePanel,
    ink: Box,
    rings: Sequence[Corners],
    *,
    clearance_mm: float,
    wanted_mm: Point | None = None,
) -> Limit:
    """The largest size in any panel: the first contact as the ink grows from the centre.

    Fit is not monotone in size here; sizes above the limit may be free again and do not count.

    Args:
        panel: any panel with a height, in mm.
        ink: exact extents in em about the placing point.
        rings: the ink's rings in em; a bounded error is added.
        clearance_mm: space between ink and edge.
        wanted_mm: where the placing point should stand; None for the middle of the box.

    Returns:
        The limit; the centre is where it was wanted if that is free.
    """
    from spinefit.geometry import contact

    centre_mm, free_mm = _standing(panel, wanted_mm, clearance_mm)
    if not _is_free(free_mm, clearance_mm):
        return Limit(0.0, LimitedBy.SHAPE, centre_mm)
    around, borders = _met_by_planes(panel, ink, rings, centre_mm, clearance_mm)
    edges = contact.edges_of(rings)
    rough = contact.first_contact(edges, borders, centre_mm, clearance_mm)
    # The true ink is within the flattening error, times the size, of the rings. Contact at a
    # distance greater by that error comes first, at a smaller size, where the error is less.
    safe_mm = clearance_mm + FLATTENING_ERROR_EM * min(around.size_mm, rough.size_mm)
    if free_mm <= safe_mm:
        return Limit(0.0, LimitedBy.SHAPE, centre_mm)
    met = contact.first_contact(
        edges, borders, centre_mm, safe_mm, at_most_mm=min(around.size_mm, rough.size_mm)
    )
    first = min(around, met, key=lambda each: each.size_mm)
    return Limit(first.size_mm, _limited_by(panel, first.edge), centre_mm)


def _met_by_planes(
    panel: UsablePanel, ink: Box, rings: Sequence[Corners], centre_mm: Point, clearance_mm: float
) -> tuple[Contact, tuple[Ring, ...]]:
    """Contact with a convex outline by its half planes, and the borders still to be looked at.

    Ink meets the outline or an area kept free, whichever comes first; where these overlap, no
    part of the one inside the other can be reached. So each may be looked at by itself.
    """
    from spinefit.geometry import contact

    outline_mm = _outline(panel)
    if not is_convex(outline_mm):
        return contact.Contact(math.inf, None), (outline_mm, *panel.holes_mm)
    met = contact.support_limit(
        rings, ink, outline_mm, centre_mm, clearance_mm, FLATTENING_ERROR_EM
    )
    return met, panel.holes_mm


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
    from spinefit.geometry import panel_shapes

    shape = panel_shapes.panel_polygon(panel)
    if wanted_mm is not None:
        open_mm = panel.width_mm / 2 - ON_SIDE_MM
        found = panel_shapes.nearest_open_place(shape, wanted_mm, open_mm=open_mm)
        if found is not None:
            return found, panel_shapes.free_distance(shape, found)
    centre_mm = _middle(_outline(panel))
    free_mm = panel_shapes.free_distance(shape, centre_mm)
    if wanted_mm is None and _is_free(free_mm, clearance_mm):
        return centre_mm, free_mm
    return panel_shapes.freest_point(shape)


def _outline(panel: UsablePanel) -> Ring:
    """The outline, without areas kept free; that of a rectangle spelled out."""
    if panel.outline_mm is not None:
        return panel.outline_mm
    if panel.height_mm is None:
        raise FieldError("a panel with an area kept free needs a height", where="--height")
    x_mm, y_mm = panel.width_mm / 2, panel.height_mm / 2
    return ((-x_mm, -y_mm), (x_mm, -y_mm), (x_mm, y_mm), (-x_mm, y_mm))


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
