"""What did the person say, and how may each thing be said?

A `Job` holds what was said and nothing else: an attribute left at None was not said, and
`spinefit.job.resolve` will fill it with a default and name it as assumed. Lengths are millimetres,
sizes DTP points. Each attribute declares its field: the option (a job file's key, a table's
column), the heading it stands under, what it holds, what it means. Nothing is checked here.
"""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import field as attribute
from typing import TYPE_CHECKING

from spinefit.job import kinds as kind
from spinefit.job.bulk import MAKING, OF_MAKING, Bulk
from spinefit.job.commission import COMMISSION, Commission
from spinefit.job.kinds import Field, option, with_meanings
from spinefit.job.places import BOARD, CALL, CallNumber, FrontBoard
from spinefit.job.values import KeepFree, OldLettering, Panel, Part
from spinefit.vocabulary import (
    AxisGoal,
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    Die,
    Frame,
    FrameCorners,
    GroupShape,
    Measured,
    Orientation,
    PanelForm,
    Reading,
    Role,
    SmallWords,
    Stock,
    Tone,
    Work,
)

if TYPE_CHECKING:
    from spinefit.catalogue import Method
    from spinefit.job.tools import Tools

BACK, BANDS, PANEL, LETTERS = "Back of the book", "Raised bands", "Panel or label", "Lettering"
RECESS, USE = "Recess for a label", "Market, making and reading"

HEADINGS = (BACK, MAKING, BANDS, PANEL, BOARD, RECESS, LETTERS, CALL, USE, COMMISSION)
"""What fields stand under, in the order of the help."""

_SHAPES = tuple(form for form in PanelForm if form is not PanelForm.POLYGON)
_TONES = kind.one_of("TONE", Tone)
_ALONE = (Role.TITLE, Role.CALL_NUMBER)
_OF_BACK = ("width", *OF_MAKING)  # a house's margins are of backs
_OF_BANDS, _OF_RECESS = ("bands", "bands-at"), ("recess",)
_READINGS = (Reading.AUTO, Reading.DESCENDING, Reading.ASCENDING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spine(Bulk):
    """The spine, measured (a width in several places is a pair) or by the making of its book."""

    width_mm: float | tuple[float, float] | None = option(
        "width", BACK, kind.WIDTH, "Width of the back, or a range: 13..15mm. A bare number is mm."
    )
    height_mm: float | None = option(
        "height", BACK, kind.LENGTH, "From head to tail; without it the length is left open."
    )
    measured: Measured | None = option(
        "measured", BACK, kind.one_of("WHAT", Measured),
        "What the width was measured on: bulk, back or over-boards. [back]",
    )  # fmt: skip
    board_mm: float | None = option(
        "board", BACK, kind.LENGTH,
        "Thickness of one board, with --measured over-boards or of a flat case not yet measured.",
    )  # fmt: skip
    head_mm: float | None = option(
        "head", BACK, kind.ROOM, "Space kept free at the head. [3 mm; 4 mm from a trim]",
        house=_OF_BACK,
    )  # fmt: skip
    foot_mm: float | None = option(
        "foot", BACK, kind.ROOM, "Space kept free at the tail. [3 mm; 4 mm from a trim]",
        house=_OF_BACK,
    )  # fmt: skip
    from_head_mm: float | None = option(
        "from-head", BACK, kind.ROOM,
        "From the head to the middle of lettering across, without bands. [a quarter down]",
        house=("height",),
    )  # fmt: skip
    edge_mm: float | None = option(
        "edge", BACK, kind.ROOM,
        "Space kept free at each joint. [that of the method; of a printed cover 1 to 3 mm]",
        house=_OF_BACK,
    )  # fmt: skip
    back: BackForm | None = option(
        "back", BACK, kind.one_of("FORM", BackForm), "flat or rounded. [flat]"
    )
    rise_mm: float | None = option(
        "rise", BACK, kind.LENGTH, "Height of the round over the straight width."
    )
    radius_mm: float | None = option(
        "radius", BACK, kind.LENGTH, "Radius of the round, instead of --rise."
    )
    arc_mm: float | None = option(
        "arc", BACK, kind.LENGTH, "A tape laid over the round, joint to joint, instead of --rise."
    )
    max_angle_deg: float | None = option(
        "max-angle", BACK, kind.DEGREES,
        "Farthest from the middle of the round that may hold ink. [45]", house=_OF_BACK,
    )  # fmt: skip
    binding_side: BindingSide | None = option(
        "binding-side", BACK, kind.one_of("SIDE", BindingSide),
        "Where the spine is, front cover up: left or right. [as the market's books]",
    )  # fmt: skip
    bands: int | None = option("bands", BANDS, kind.BANDS, "How many bands. [none]")
    band_height_mm: float | None = option(
        "band-height", BANDS, kind.LENGTH, "Width of a band, measured along the back. [4 mm]",
        house=_OF_BANDS,
    )  # fmt: skip
    bands_at_mm: tuple[float, ...] | None = option(
        "bands-at", BANDS, kind.POSITIONS,
        "Middles of the bands from the head, such as 40,80,120mm. [equal panels]",
    )  # fmt: skip
    band_clearance_mm: float | None = option(
        "band-clearance", BANDS, kind.ROOM, "Space kept free on either side of a band. [1 mm]",
        house=_OF_BANDS,
    )  # fmt: skip
    tail_ratio: float | None = option(
        "tail-ratio", BANDS, kind.RATIO, "Length of the tail panel over that of the others. [1.1]",
        house=_OF_BANDS,
    )  # fmt: skip
    title_panel: int | None = option(
        "title-panel", BANDS, kind.PANEL_NUMBER, "The panel to letter, counted from the head. [2]"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The outline of the usable panel where it is not a plain rectangle."""

    form: PanelForm = option(
        "panel-shape", PANEL, kind.one_of("FORM", PanelForm, among=_SHAPES),
        "rectangle, rounded, cut or oval. [rectangle]",
        default=PanelForm.RECTANGLE,
    )  # fmt: skip
    corner_mm: float | None = option(
        "corner", PANEL, kind.LENGTH,
        "Radius of a rounded corner, or what is cut off each side; of the frame [2 mm].",
    )  # fmt: skip
    outline_mm: tuple[tuple[float, float], ...] | None = option(
        "panel-outline", PANEL, kind.OUTLINE,
        "Corners from the middle of the panel: '-9,-20 9,-20 0,20mm'.",
    )  # fmt: skip
    keep_free: tuple[KeepFree, ...] = option(
        "keep-free", PANEL, kind.AREAS,
        "An area without ink, its middle X to the right of the panel's and Y to the head; may "
        "be repeated.",
        default=(),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """How the title is to be lettered. Axes are pairs of a tag and a value, or the end to find."""

    clearance_mm: float | None = option(
        "clearance", PANEL, kind.ROOM,
        "Space wanted between the ink and the edge of the panel. [0; a label's margin]", house=(),
    )  # fmt: skip
    font: str | None = option(
        "font", LETTERS, kind.FONT,
        "A bundled font, an installed one ('spinefit fonts --installed' lists both), or a font "
        "file. Of one name the bundled font is taken. [EB Garamond, or a sturdy letter]", house=(),
    )  # fmt: skip
    face: str | None = option(
        "face", LETTERS, kind.FACE,
        "Which face of a collection, or which named instance of a variable font. [the first]",
        house=(),
    )  # fmt: skip
    axes: tuple[tuple[str, float | AxisGoal], ...] | None = option(
        "axes", LETTERS, kind.AXES,
        "A variable font's settings: wght=650,wdth=80. With --size, wght=lightest or heaviest, "
        "wdth=narrowest or widest finds the value. [the font's own; opsz follows the size]",
        house=(),
    )  # fmt: skip
    fallback: tuple[str, ...] = option(
        "fallback", LETTERS, kind.FONTS,
        "A font for letters that the first one lacks; may be repeated, in order.",
        default=(), house=(),
    )  # fmt: skip
    case: Case | None = option(
        "case", LETTERS, kind.one_of("CASE", Case),
        "as-typed, capitals or small-capitals. [as-typed]", house=(),
    )  # fmt: skip
    tracking: float | None = option(
        "tracking", LETTERS, kind.TRACKING,
        "Space added between letters, in thousandths of the size. [0]", house=(),
    )  # fmt: skip
    orientation: Orientation | None = option(
        "orientation", LETTERS, kind.one_of("WAY", Orientation),
        "transverse, longitudinal, pillar or any. [any]",
    )  # fmt: skip
    reading: Reading | None = option(
        "reading", LETTERS, kind.one_of("WAY", Reading, among=_READINGS),
        "Along the back: descending, ascending, or auto by the market. [auto]", house=(),
    )  # fmt: skip
    lines: int | None = option(
        "lines", LETTERS, kind.LINES,
        "How many lines, or any. ' / ' in the title forces a break. [any]",
    )  # fmt: skip
    group_shape: GroupShape | None = option(
        "shape", LETTERS, kind.SHAPE, "half-diamond, lozenge, squared or long-and-short. [any]"
    )
    size_pt: float | None = option(
        "size", LETTERS, kind.SIZE,
        "The type size to judge, in pt, pica or didot points. [the advised size]",
    )  # fmt: skip
    sizes_pt: tuple[float, ...] | None = option(
        "sizes", LETTERS, kind.SIZES,
        "The sizes in your drawer: 10,12,14,18 or 10,12didot. [those of the method]", house=(),
    )  # fmt: skip
    tools: Tools | None = option(
        "tools", LETTERS, kind.FILE,
        "A TOML file with your hand letters or type: sizes, and the widths of letters.", house=(),
    )  # fmt: skip
    leading_em: float | None = option(
        "leading", LETTERS, kind.LEADING,
        "From baseline to baseline, in parts of the size. [by the case]", house=(),
    )  # fmt: skip
    lines_up_mm: tuple[float, ...] | None = option(
        "lines-up", LETTERS, kind.LIFTS,
        "How much higher each line stands than by rule, from the top: 0,0.4,-0.3mm. [0]",
    )  # fmt: skip
    lines_tracking: tuple[float, ...] | None = option(
        "lines-tracking", LETTERS, kind.TRACKINGS,
        "The tracking of each line from the top: 0,20,0. [that of all]",
    )  # fmt: skip
    centre: Centre | None = option(
        "centre", LETTERS, kind.one_of("WHAT", Centre),
        "What stands on the middle: ink, capitals or auto. [auto]", house=(),
    )  # fmt: skip
    break_words: BreakWords | None = option(
        "break-words", LETTERS, kind.one_of("HOW", BreakWords), "never, plain or hyphen. [never]",
        house=(),
    )  # fmt: skip
    small_words: SmallWords | None = option(
        "small-words", LETTERS, kind.one_of("HOW", SmallWords),
        "joined: no line of small words alone; or alone. [joined]", house=(),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Recess:
    """A recess for a label: an opening in card on a board. ``wanted=False`` for none after all."""

    wanted: bool | None = option(
        "recess", RECESS, kind.YES, "The label lies in a recess: say how it is cut."
    )
    card_mm: float | None = option(
        "card-thickness", RECESS, kind.LENGTH,
        "Thickness of the card that is cut through. [0.3 mm]", house=_OF_RECESS,
    )  # fmt: skip
    cards: int | None = option(
        "cards", RECESS, kind.CARDS,
        "How many cards are cut through. [as many as the label is thick]",
    )  # fmt: skip
    board_mm: float | None = option(
        "board-thickness", RECESS, kind.ROOM,
        "Thickness of the whole board, cards on both faces and all. [2 mm: measure it]",
    )  # fmt: skip
    covering_mm: float | None = option(
        "covering-thickness", RECESS, kind.ROOM,
        "Thickness of the covering drawn over the edge. [0.4 mm]", house=_OF_RECESS,
    )  # fmt: skip
    clearance_mm: float | None = option(
        "recess-clearance", RECESS, kind.ROOM,
        "From the label to the covered wall, on every side. [0.3 mm]", house=_OF_RECESS,
    )  # fmt: skip
    stiffener_mm: float | None = option(
        "stiffener", RECESS, kind.LENGTH,
        "Thickness of the stiffener of the back, for a recess in the back.",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Commission):
    """One title, or call number, on one back, on a panel or on a front board: one of the three.

    Attributes:
        title: the text; `` / `` forces a line break, a no-break space binds words.
        parts: instead of a title, the texts of a label and the rules between them; ``size_pt`` and
            ``lines`` of the lettering are those of the title among them.
        spine: the spine as measured.
        shape: the outline of the usable panel, where it is not a plain rectangle.
        lettering: how it is to be lettered.
        front_board: the front board, instead of a spine or a panel.
        recess: a recess that the label lies in.
        call_number: how call numbers are lettered; of a title it says nothing.
        slash_breaks: False where `` / `` in a title is no forced break, as in catalogues.
        house: what of it came from the file of a house, in words.
    """

    title: str = ""
    parts: tuple[Part, ...] = ()
    spine: Spine | None = None
    shape: Shape | None = None
    lettering: Lettering = attribute(default_factory=Lettering)
    front_board: FrontBoard | None = None
    recess: Recess | None = None
    call_number: CallNumber | None = None
    slash_breaks: bool = True
    house: tuple[str, ...] = ()
    role: Role | None = option(
        "role", CALL, kind.one_of("WHAT", Role, among=_ALONE),
        "What the words are: title or call-number. [title]",
    )  # fmt: skip
    panel: Panel | None = option(
        "panel", PANEL, kind.RECTANGLE,
        "The panel itself, width across the spine first, instead of the back: 20x30mm.",
    )  # fmt: skip
    label_size: Panel | None = option(
        "label-size", PANEL, kind.RECTANGLE,
        "The label, where it is cut already: on the back at --from-head, in its panel, or alone.",
    )  # fmt: skip
    frame: Frame | None = option(
        "frame", PANEL, kind.one_of("LINES", Frame),
        "A frame ruled inside the label's edge: thin, thick, double, thick-and-thin or none. "
        "--clearance is then from the ink to it. [none, cut by a line at the edge]",
    )  # fmt: skip
    frame_corners: FrameCorners | None = option(
        "frame-corners", PANEL, kind.one_of("FORM", FrameCorners),
        "square, rounded or cut; how much, --corner says. [square, or as the label's]")  # fmt: skip
    label_thickness_mm: float | None = option(
        "label-thickness", PANEL, kind.THICKNESS,
        "Thickness of the label, bent over a round or in a recess. [that of the method]",
    )  # fmt: skip
    lap_mm: float | None = option(
        "lap", PANEL, kind.LENGTH, "How far the label goes round over the joints onto each board."
    )
    old_lettering: OldLettering | None = option(
        "old-lettering", PANEL, kind.OLD_INK,
        "Old ink and impression to be covered; D: from the head down to its upper edge; "
        "'28x12@35mm in view' where a label is not to cover it.",
    )  # fmt: skip
    overlap_mm: float | None = option(
        "overlap", PANEL, kind.ROOM,
        "How far a label reaches beyond old ink and impression on every side. [2 mm]",
        house=("old-lettering",),
    )  # fmt: skip
    market: str | None = option(
        "market", USE, kind.COUNTRY,
        "Country where it is sold or shelved, its code or name: GB ... [ISO 6357's rule]", house=(),
    )  # fmt: skip
    language: str | None = option(
        "language", USE, kind.LANGUAGE,
        "Language of the title: en, el ... [by its small words or the market]", house=(),
    )  # fmt: skip
    covering_colour: Tone | None = option(
        "covering-colour", USE, _TONES, "light or dark, of the back as drawn. [white]"
    )
    ink_colour: Tone | None = option(
        "ink-colour", USE, _TONES, "light, as gold is, or dark. [to stand out; dark on a label]"
    )
    method: str | Method | None = option(
        "method", USE, kind.METHOD,
        "How it is made; 'spinefit methods' lists the ways. [paperback-cover; hand-letters with "
        "bands]",
        also=Field("method-file", USE, kind.FILE,
                   "A TOML file with methods of your own, for --method to name.", house=()),
        house=(),
    )  # fmt: skip
    stock: Stock | None = option(
        "stock", USE, kind.one_of("STOCK", Stock),
        "What foil is blocked on: smooth-leather, fine-cloth or coarse-cloth. [by the method]",
        house=(),
    )  # fmt: skip
    die: Die | None = option(
        "die", USE, kind.one_of("DIE", Die),
        "What foil is blocked with: brass, magnesium or photopolymer. [magnesium]", house=(),
    )  # fmt: skip
    work: Work | None = option(
        "work", USE, kind.one_of("KIND", Work),
        "paperback, case, library, leather or label: whose custom settles across or along, and "
        "how large along. [by the method and the bands]", house=(),
    )  # fmt: skip
    reading_distance_mm: float | None = option(
        "reading-distance", USE, kind.DISTANCE, "From the eye to the shelf. [500 mm]", house=()
    )  # fmt: skip


PARTS = {
    "spine": Spine, "": Job, "shape": Shape, "front_board": FrontBoard, "recess": Recess,
    "lettering": Lettering, "call_number": CallNumber,
}  # fmt: skip
"""The records that hold fields, by the attribute of `Job` they stand in; "" for itself."""

for _record in PARTS.values():
    _record.__doc__ = with_meanings(_record)
