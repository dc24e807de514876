"""The largest size in a plain rectangle, asked for by the box of the ink."""

from __future__ import annotations

from spinefit.geometry import Limit, RectangleLimits, reach_of
from spinefit.shaping.glyphs import Box


def largest_in_rectangle(
    ink: Box,
    *,
    width_mm: float,
    height_mm: float | None,
    clearance_mm: float,
    angle_limited: bool = False,
) -> Limit:
    """About the middle of the rectangle; arguments as of `RectangleLimits`."""
    limits = RectangleLimits(
        width_mm, height_mm, clearance_mm=clearance_mm, angle_limited=angle_limited
    )
    return limits.limit(*reach_of(ink))
