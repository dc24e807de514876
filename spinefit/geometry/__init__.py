"""The back as a surface, its panels, and the largest lettering that each can hold.

In: a resolved spine or panel, and ink in em. Out: the usable panel in mm (origin at its
middle, x across the spine to the right, y up towards the head) and the largest size in it.
Importing this room loads neither shapely nor numpy; the shapes and `contact` do, where used.
"""

from spinefit.geometry.back import Back, angle_at, build_back, foreshortening
from spinefit.geometry.fit import (
    Limit,
    OutlinePoints,
    RectangleLimits,
    largest,
    limits_in,
    reach_of,
    refuse_no_room,
)
from spinefit.geometry.framing import panel_on_back
from spinefit.geometry.panels import PanelSpan, divide
from spinefit.geometry.plane import turn_box, turn_point
from spinefit.geometry.usable import UsablePanel, outright_panel, usable_panel

__all__ = [
    "Back",
    "Limit",
    "OutlinePoints",
    "PanelSpan",
    "RectangleLimits",
    "UsablePanel",
    "angle_at",
    "build_back",
    "divide",
    "foreshortening",
    "largest",
    "limits_in",
    "outright_panel",
    "panel_on_back",
    "reach_of",
    "refuse_no_room",
    "turn_box",
    "turn_point",
    "usable_panel",
]
