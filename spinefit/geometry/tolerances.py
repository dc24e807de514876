"""How near is equal, in the plane of the panel?

The named tolerances of the geometry room, each with the reason for its size. They are
bounds on rounding and on flattened curves, not rules of the trade. Imports nothing.
"""

from __future__ import annotations

__all__ = [
    "CONTOUR_STEP_EM",
    "DISTANCE_SLACK_MM",
    "FLATTENING_ERROR_EM",
    "HALF_CIRCLE_SLACK",
    "INSIDE_SHARE",
    "NOTHING_MM",
    "ON_SIDE_MM",
    "OUTSIDE_STEPS",
    "ROUND_CORNER_STEPS",
]

CONTOUR_STEP_EM = 1e-3
"""Chord error of contours that are only held against straight sides: their extrema are points
of their own, so that what lies between cannot matter."""

FLATTENING_ERROR_EM = 2e-5
"""No point of a curve is farther than this from its chords: 0.0001 mm at 14 pt."""

HALF_CIRCLE_SLACK = 1e-9
"""A half circle typed in decimals may miss its bound by this share and still be one."""

NOTHING_MM = 1e-9
"""Less than this is no panel at all; sums of typed decimals are exact to far less."""

ON_SIDE_MM = 1e-9
"""A point this near to a side of the panel, or to a segment's end, counts as on it."""

ROUND_CORNER_STEPS = 64
"""Chords in a quarter of an oval or in a round corner: radius x 7.6e-5 off, inwards."""

INSIDE_SHARE = 1 - 1e-9
"""At this share of the largest size the ink must be found inside."""

OUTSIDE_STEPS = (1e-3, 1e-4, 1e-5, 1e-6)
"""At one of these parts above the largest size it must not be. More than one, since ink that
only grazes a corner is free again a little larger; the first nearly always decides."""

DISTANCE_SLACK_MM = 1e-11
"""Rounding of a distance between coordinates of up to some hundred mm."""
