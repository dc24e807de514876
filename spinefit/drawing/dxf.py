"""How are a label's lines written as DXF, for a plotter?

The one door to ezdxf. In: closed contours of straight lines in mm. Out: the text of a DXF file
of release R2000 in millimetres, a layer for each kind of line, the same bytes for the same
label: neither a clock nor a random name goes into it.
"""

from __future__ import annotations

import io

import ezdxf
from ezdxf import units

from spinefit.drawing.label_cut import CutLabel
from spinefit.shaping.outline import Contour

__all__ = ["to_dxf"]

_RELEASE = "R2000"  # the oldest with units and closed polylines: what plotters' programs read
_LAYERS = {"LETTERING": 7, "LABEL": 8, "WEEDING_BOX": 1}  # colours by AutoCAD's index


def to_dxf(cut: CutLabel) -> str:
    """The whole file, lines ended by newlines.

    Args:
        cut: from `cut_label`, merged: straight lines only.

    Raises:
        ValueError: a contour with a curve, which a polyline cannot hold.
    """
    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # fixed dates and identifiers
    try:
        drawing = ezdxf.new(_RELEASE, units=units.MM)
        space = drawing.modelspace()
        parts = (cut.lettering, cut.label, cut.weeding)
        for (layer, colour), contours in zip(_LAYERS.items(), parts, strict=True):
            if contours:
                drawing.layers.add(layer, color=colour)
            for contour in contours:
                space.add_lwpolyline(_corners(contour), close=True, dxfattribs={"layer": layer})
        drawing.header["$EXTMIN"] = (0.0, 0.0, 0.0)
        drawing.header["$EXTMAX"] = (cut.width_mm, cut.height_mm, 0.0)
        held = io.StringIO()
        drawing.write(held)
        return held.getvalue()
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept


def _corners(contour: Contour) -> list[tuple[float, float]]:
    if any(len(segment) != 1 for segment in contour.segments):
        raise ValueError("a curve in a cut line")
    return [contour.start, *(segment[0] for segment in contour.segments)]
