"""How near is equal?

Every tolerance of the package, each with the reason for its size: bounds on rounding, on curves
that are drawn by chords, and on faults of drawing; no rules of the trade, which are data. A share
is a part of the figure it is compared with. Imports nothing.
"""

from __future__ import annotations

# Rounding.

SAME_MM = 1e-6
"""Lengths so near are one: sums of typed decimals are exact to far less, files keep as much, and
nobody measures a millionth of a millimetre."""

SAME_PT = 1e-6
"""Sizes so near are one: a size typed in another point comes back with rounding."""

SAME_STEP = 1e-6
"""Of a step: a figure so little below a whole number of steps is that number, since binary
fractions must not lose one of them (0.7 * 10 is a little less than 7)."""

SAME_SHARE = 1e-9
"""Figures that differ by this share are one: a few products and quotients round by far less."""

SAME_SUM_SHARE = 1e-12
"""The same of sums of the same widths, added up in another order."""

PAST_SHARE = 1e-6
"""A guess at a size is put past the likely one by this share, so as to lie just beyond it."""

SAME_COST = 1e-9
"""Penalties so near are one: they are sums of small decimals."""

WIDTH_DECIMALS = 9
"""Of widths in em that decide between splits, so that the order of additions does not decide."""

SHIFT_DECIMALS = 10
"""Of the way in em from one glyph to the next: beyond it adding up advances leaves rounding."""

SHOWN_MM = 0.05
"""What is shorter is shown as nothing: lengths are shown to a tenth of a millimetre, and a label
is cut no finer."""

STATED_PT = 1e-3
"""Largest sizes are stated rounded down to whole steps of this, never past the true one."""

# Places in the plane of the panel.

ON_SIDE_MM = 1e-9
"""A point this near to a side of the panel, or to a segment's end, counts as on it."""

DISTANCE_SLACK_MM = 1e-11
"""Rounding of a distance between coordinates of up to some hundred mm."""

ROUND_CORNER_STEPS = 64
"""Chords in a quarter of an oval or in a round corner: radius x 7.6e-5 off, inwards."""

# Proof of a largest size by a second engine.

INSIDE_SHARE = 1 - SAME_SHARE
"""At this share of the largest size the ink must be found inside."""

OUTSIDE_STEPS = (1e-3, 1e-4, 1e-5, 1e-6)
"""At one of these parts above the largest size it must not be. More than one, since ink that
only grazes a corner is free again a little larger; the first nearly always decides."""

NO_SIZE_MM = 1e-3
"""Where nothing fits, not even an em of a micrometre does."""

# Curves by chords, and how a glyph is drawn.

FLATTENING_ERROR_EM = 2e-5
"""No point of a curve is farther than this from its chords: 0.0001 mm at 14 pt."""

NO_AREA_EM2 = 1e-12
"""Points of a contour lie on one line where no two sides span more: a square unit of the finest
font has some 4e-9 square em."""

CONTOUR_STEP_EM = 1e-3
"""Chord error of contours that are only held against straight sides: their extrema are points
of their own, so that what lies between cannot matter."""

COARSE_SHARE = 2e-4
"""Chord error, of the glyph's longer side, where thin places of a glyph are sought."""

FINE_SHARE = 2.5e-5
"""The same where they are measured."""

FAULT_SHARE = 2e-3
"""What is narrower than this share of the glyph's longer side (a slit where two contours
almost meet, the fold of an outline that doubles back) is a fault of drawing: at 14 pt some
thousandths of a millimetre, where the hairline of the lightest letters is ten times as wide."""

MEASURE_SHARE = 1e-6
"""A rule from margin to margin is shorter by so little, so that no rounding puts it outside."""
