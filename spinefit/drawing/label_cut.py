"""Which lines does a plotter cut for one label, and how are they written as DXF?

In: a setting, and whether it is wanted mirrored, with a box to weed by. Out: closed contours in
mm, origin at the drawing's lower left corner, y up, on a grid of a tenth of a micrometre, so
that a mirror image is exact. A plotter cuts every contour it is given: letters that overlap
are merged first. Filled lettering keeps its curves instead. The one door to ezdxf: DXF of release
R2000 in millimetres, a layer for each kind of line, neither a clock nor a random name in it.
"""

from __future__ import annotations

import io
from typing import Any, NamedTuple

from spinefit.drawing.frame import ink_box_mm, lettering_mm
from spinefit.drawing.ruled import frame_contours
from spinefit.drawing.scene import (
    Area,
    Group,
    Pen,
    Scene,
    box_contour,
    centred_contour,
    grown,
    mapped,
    ring_contour,
)
from spinefit.drawing.sheet_settings import LabelSetting
from spinefit.geometry.polygons import ink_polygon, merged_rings
from spinefit.say.model import doubts_of, hazards_of
from spinefit.shaping.glyphs import Contour, Point
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Place

_DECIMALS = 4
_WITHIN_MM = 0.002  # corners left out of a cut line; a plotter's own step is ten times that
_HAIRLINE_MM = 0.1

_RELEASE = "R2000"  # the oldest with units and closed polylines: what plotters' programs read
_LAYERS = {  # with their DXF colour numbers
    "lettering": ("LETTERING", 7),
    "ruled-frame": ("FRAME", 5),
    "label": ("LABEL", 8),
    "weeding-box": ("WEEDING_BOX", 1),
}
_CAUTION, _CAUTION_MM, _CAUTION_LINE_MM = "CAUTION_NOT_CUT", 3.0, 5.0


class CutLabel(NamedTuple):
    """One label as lines.

    Attributes:
        width_mm, height_mm: the drawing.
        lettering: its letters.
        others: by name the label's own edge, unless the lettering goes straight on the book, and
            the box to weed by, where one is wanted.
        title: the title, as lettered.
        mirrored: whether it is a mirror image.
        hazards: lines about what can hurt, never among what is cut.
        frame: both edges of each line of a frame that is ruled on the label.
    """

    width_mm: float
    height_mm: float
    lettering: tuple[Contour, ...]
    others: dict[str, Contour]
    title: str
    mirrored: bool
    hazards: tuple[str, ...] = ()
    frame: tuple[Contour, ...] = ()


def cut_label(
    setting: LabelSetting,
    *,
    mirror: bool = False,
    weeding_mm: float | None = None,
    filled: bool = False,
) -> CutLabel:
    """The lines of one label.

    Args:
        setting: a setting that fits.
        mirror: True for a mirror image, as vinyl that is pressed on from behind wants it.
        weeding_mm: space between the ink and a box round it; None for no box.
        filled: True for letters with their curves, to be filled, not merged lines to be cut.
    """
    ink = lettering_mm(setting.judged)
    width_mm, height_mm = setting.sides
    outline = setting.answer.panel.outline_mm
    edge = ring_contour(outline) if outline else centred_contour(width_mm, height_mm)
    others = {"label": edge} if setting.answer.job.method.place is Place.LABEL else {}
    left, bottom, right, top = -width_mm / 2, -height_mm / 2, width_mm / 2, height_mm / 2
    if weeding_mm is not None:
        box = grown(ink_box_mm(setting.judged), weeding_mm)
        others["weeding-box"] = box_contour(*box)
        left, bottom = min(left, box[0]), min(bottom, box[1])
        right, top = max(right, box[2]), max(top, box[3])
    wide = round(right - left, _DECIMALS)

    def at(point: Point) -> Point:
        x, y = round(point[0] - left, _DECIMALS), round(point[1] - bottom, _DECIMALS)
        return (round(wide - x, _DECIMALS) if mirror else x), y

    return CutLabel(
        wide,
        round(top - bottom, _DECIMALS),
        tuple(mapped(one, at) for one in (ink if filled else _merged(setting))),
        {name: mapped(one, at) for name, one in others.items()},
        setting.answer.report.title,
        mirror,
        (*doubts_of([setting.answer.report]), *hazards_of([setting.answer.report])),
        tuple(mapped(one, at) for one in frame_contours(setting.answer.panel)),
    )


def cut_scene(cut: CutLabel, *, filled: bool = False) -> Scene:
    """The lines as a drawing: hairlines, or filled letters."""
    hairline = Pen(_HAIRLINE_MM)
    inked = [
        Group(name, (Area(contours) if filled else Area(contours, None, hairline),))
        for name, contours in (("lettering", cut.lettering), ("ruled-frame", cut.frame))
        if contours
    ]
    others = (Group(name, (Area((one,), None, hairline),)) for name, one in cut.others.items())
    how, mirrored = "filled" if filled else "as lines to cut", ", mirrored" * cut.mirrored
    return Scene(
        cut.width_mm,
        cut.height_mm,
        cut.title,
        " ".join((f"One label at true size, {how}{mirrored}.", *cut.hazards)),
        (*inked, *others),
    )


def _merged(setting: LabelSetting) -> tuple[Contour, ...]:
    """The letters' edges as polygons in mm in the panel's frame, each edge once."""
    one = setting.judged
    layout = one.layout
    ink = ink_polygon(layout.placed(), turn=layout.candidate.turn)
    rings = merged_rings(ink, size_mm=mm_from_pt(one.set_pt), within_mm=_WITHIN_MM)
    x_mm, y_mm = one.centre_mm
    return tuple(ring_contour(tuple((x + x_mm, y + y_mm) for x, y in ring)) for ring in rings)


def to_dxf(cut: CutLabel) -> str:
    """The whole file, lines ended by newlines.

    Args:
        cut: from `cut_label`, merged: straight lines only.

    Raises:
        ValueError: a contour with a curve, which a polyline cannot hold.
    """
    import ezdxf

    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # fixed dates and identifiers
    try:
        drawing = ezdxf.new(_RELEASE, units=ezdxf.units.MM)
        space = drawing.modelspace()
        parts = {"lettering": cut.lettering, **{name: (one,) for name, one in cut.others.items()}}
        if cut.frame:
            parts["ruled-frame"] = cut.frame
        for name, contours in parts.items():
            layer, colour = _LAYERS[name]
            drawing.layers.add(layer, color=colour)
            for contour in contours:
                space.add_lwpolyline(_corners(contour), close=True, dxfattribs={"layer": layer})
        _add_hazards(drawing, cut)
        drawing.header["$EXTMIN"] = (0.0, 0.0, 0.0)
        drawing.header["$EXTMAX"] = (cut.width_mm, cut.height_mm, 0.0)
        held = io.StringIO()
        drawing.write(held)
        return held.getvalue()
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept


def _add_hazards(drawing: Any, cut: CutLabel) -> None:
    """What can hurt, below the label and on a layer that no program plots."""
    if cut.hazards:
        drawing.layers.add(_CAUTION, color=8).dxf.plot = 0
    for row, line in enumerate(cut.hazards, 1):
        on_layer = {"layer": _CAUTION}
        text = drawing.modelspace().add_text(line, height=_CAUTION_MM, dxfattribs=on_layer)
        text.set_placement((0.0, -row * _CAUTION_LINE_MM))


def _corners(contour: Contour) -> list[tuple[float, float]]:
    if any(len(segment) != 1 for segment in contour.segments):
        raise ValueError("a curve in a cut line")
    return [contour.start, *(segment[0] for segment in contour.segments)]
