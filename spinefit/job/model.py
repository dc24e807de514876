"""What did the person say?

A `Job` holds what was said and nothing else: a field left at None was not said, and
`spinefit.job.resolve` will fill it with a default and name it as assumed. Lengths are
millimetres, sizes DTP points. Nothing is checked here; `resolve` checks everything once.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from spinefit.vocabulary import (
    AxisGoal,
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    Measured,
    Orientation,
    PanelForm,
    Reading,
    SmallWords,
)

if TYPE_CHECKING:
    from spinefit.catalogue import Method
    from spinefit.job.boards_model import FrontBoard, OldLettering, Recess
    from spinefit.job.tools_model import Tools

__all__ = [
    "Job",
    "KeepFree",
    "Lettering",
    "Panel",
    "Shape",
    "Spine",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spine:
    """The spine as measured.

    Attributes:
        width_mm: width of the back in mm, measured straight across; a pair (least, greatest)
            where it was measured in several places or is not yet certain.
        height_mm: from head to tail in mm; None leaves the length open.
        measured: what the width was measured on; ``over-boards`` needs ``board_mm``.
        board_mm: thickness of one board in mm.
        back: flat or rounded.
        rise_mm, radius_mm, arc_mm: one of them, for a rounded back: the height of the round
            over the chord, its radius, or the length of a tape laid over it.
        bands: number of raised bands.
        band_height_mm: width of a band measured along the back.
        bands_at_mm: middles of the bands in mm from the head, instead of an equal division.
        tail_ratio: length of the tail panel over that of the others.
        band_clearance_mm: space kept free at each side of a band.
        title_panel: the panel to letter, counted from the head, from 1.
        edge_mm: space kept free at each joint.
        head_mm, foot_mm: space kept free at head and tail.
        from_head_mm: from the head to the middle of lettering across a back without bands.
        max_angle_deg: the largest angle from the middle of a rounded back that may hold ink.
        binding_side: where the spine is when the front cover faces the reader.
    """

    width_mm: float | tuple[float, float]
    height_mm: float | None = None
    measured: Measured | None = None
    board_mm: float | None = None
    back: BackForm | None = None
    rise_mm: float | None = None
    radius_mm: float | None = None
    arc_mm: float | None = None
    bands: int | None = None
    band_height_mm: float | None = None
    bands_at_mm: tuple[float, ...] | None = None
    tail_ratio: float | None = None
    band_clearance_mm: float | None = None
    title_panel: int | None = None
    edge_mm: float | None = None
    head_mm: float | None = None
    foot_mm: float | None = None
    from_head_mm: float | None = None
    max_angle_deg: float | None = None
    binding_side: BindingSide | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A usable panel given outright, as with a label already chosen.

    Attributes:
        width_mm: across the spine, in mm.
        height_mm: along the spine, in mm.
    """

    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepFree:
    """A rectangle of the panel that must stay free of ink: a device, a shelf mark.

    Attributes:
        width_mm, height_mm: its size in mm.
        x_mm, y_mm: its middle in mm from the middle of the panel, to the right and to the head.
    """

    width_mm: float
    height_mm: float
    x_mm: float = 0.0
    y_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The outline of the usable panel where it is not a plain rectangle.

    Attributes:
        form: rectangle, rounded, cut, oval or polygon.
        corner_mm: radius of a rounded corner, or the length cut off each side of a corner.
        outline_mm: for a polygon, its corners (x, y) in mm from the middle of the panel.
        keep_free: areas inside it that must stay free.
    """

    form: PanelForm = PanelForm.RECTANGLE
    corner_mm: float | None = None
    outline_mm: tuple[tuple[float, float], ...] | None = None
    keep_free: tuple[KeepFree, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """How the title is to be lettered.

    Attributes:
        font: a known font's name, or a font file.
        face: which face of a collection, by its number from 1 or its name; or a named instance
            of a variable font.
        axes: settings of a variable font: axis tag, and a value in the axis's own units or the
            end of the axis to look for.
        case: as typed, capitals or small capitals.
        tracking: space added between letters, in thousandths of an em.
        orientation: transverse, longitudinal, pillar, or any.
        reading: descending or ascending; auto follows the market.
        lines: number of lines; None for any.
        size_pt: the size to judge, in DTP points; None for the advised size.
        sizes_pt: the sizes in the binder's own drawer, in DTP points.
        leading_em: distance of baselines, in em.
        clearance_mm: space wanted between ink and the edge of the usable panel.
        centre: what is put on the middle of the panel.
        break_words: whether a word may be broken.
        small_words: whether small words may make a line of their own.
        tools: the letters of hand letters or type, instead of a font's.
        fallback: fonts for letters that ``font`` lacks, in the order they are asked.
    """

    font: str | None = None
    face: str | None = None
    axes: tuple[tuple[str, float | AxisGoal], ...] | None = None
    case: Case | None = None
    tracking: float | None = None
    orientation: Orientation | None = None
    reading: Reading | None = None
    lines: int | None = None
    size_pt: float | None = None
    sizes_pt: tuple[float, ...] | None = None
    leading_em: float | None = None
    clearance_mm: float | None = None
    centre: Centre | None = None
    break_words: BreakWords | None = None
    small_words: SmallWords | None = None
    tools: Tools | None = None
    fallback: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One title on one back.

    Attributes:
        title: the text; `` / `` forces a line break, a no-break space binds words.
        spine: the spine as measured; or
        panel: the usable panel given outright. One of the two, or a front board.
        shape: the outline of the usable panel, where it is not a plain rectangle.
        lettering: how it is to be lettered.
        market: ISO 3166 code of the country where the book is sold or shelved.
        language: BCP 47 tag of the text.
        method: the way the lettering is made: the name of a known one, or one of the
            binder's own.
        reading_distance_mm: from the eye to the shelf.
        slash_breaks: False where `` / `` in a title is no forced break, as in catalogues.
        label_thickness_mm: thickness of the label in mm; None for the method's.
        front_board: the front board, instead of a spine or a panel.
        recess: a recess that the label lies in.
        old_lettering: lettering on the back that a label is to cover.
        overlap_mm: how far such a label reaches beyond the old ink, on every side.
    """

    title: str
    spine: Spine | None = None
    panel: Panel | None = None
    shape: Shape | None = None
    lettering: Lettering = field(default_factory=Lettering)
    market: str | None = None
    language: str | None = None
    method: str | Method | None = None
    reading_distance_mm: float | None = None
    slash_breaks: bool = True
    label_thickness_mm: float | None = None
    front_board: FrontBoard | None = None
    recess: Recess | None = None
    old_lettering: OldLettering | None = None
    overlap_mm: float | None = None
