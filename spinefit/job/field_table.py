"""Which fields may a job have?

One table serves the command line (``--name``), job files (``name = ...``) and tables of books
(column ``name``): name, meaning, reader, and where the value lands in `Job`. Making a `Job`
of values is for `spinefit.job.fields`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from spinefit.job import values as read
from spinefit.vocabulary import (
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

__all__ = ["FIELDS", "GROUPS", "Field"]

_BACK, _BANDS, _PANEL = "Back of the book", "Raised bands", "Panel or label"
_BOARD, _RECESS = "Label on the front board", "Recess for a label"
_LETTERS, _USE = "Lettering", "Market, making and reading"

GROUPS = (_BACK, _BANDS, _PANEL, _BOARD, _RECESS, _LETTERS, _USE)
"""Headings of the groups of fields, in the order they are shown."""


class Field(NamedTuple):
    """One thing a person may say about a job.

    Attributes:
        name: its option without the dashes, its key in a job file, its column in a table.
        group: the heading it stands under.
        metavar: what to write, in a word.
        target: where it lands: an attribute of `Job`, or ``part.attribute``.
        parse: from a text or plain TOML value to what `Job` holds.
        help: what it means, and what is assumed without it.
        repeatable: True where its option may be given several times.
        flag: True where its option takes no value.
    """

    name: str
    group: str
    metavar: str
    target: str
    parse: Callable[[object], object]
    help: str
    repeatable: bool = False
    flag: bool = False


def _rows(group: str, part: str, *rows: tuple[str, str, str, Any, str]) -> list[Field]:
    """Fields of one group that land in one part of the `Job` ("" for the `Job` itself)."""
    return [
        Field(
            name=name,
            group=group,
            metavar=metavar,
            target=f"{part}.{attribute}" if part else attribute,
            parse=parse,
            help=meaning,
            repeatable=name in ("fallback", "keep-free"),
            flag=parse is read.yes_or_no,
        )
        for name, metavar, attribute, parse, meaning in rows
    ]


_SHAPES = tuple(form for form in PanelForm if form is not PanelForm.POLYGON)
_READINGS = (Reading.AUTO, Reading.DESCENDING, Reading.ASCENDING)

FIELDS: tuple[Field, ...] = (
    *_rows(
        _BACK,
        "spine",
        ("width", "LENGTH", "width_mm", read.width,
         "Width of the back, or a range: 13..15mm. A bare number is mm."),
        ("height", "LENGTH", "height_mm", read.length,
         "From head to tail; without it the length is left open."),
        ("measured", "WHAT", "measured", read.choice(Measured),
         "What the width was measured on: bulk, back or over-boards. [back]"),
        ("board", "LENGTH", "board_mm", read.length,
         "Thickness of one board, with --measured over-boards."),
        ("head", "LENGTH", "head_mm", read.length,
         "Space kept free at the head. [4 mm; 3 mm with bands]"),
        ("foot", "LENGTH", "foot_mm", read.length,
         "Space kept free at the tail. [4 mm; 3 mm with bands]"),
        ("from-head", "LENGTH", "from_head_mm", read.length,
         "From the head to the middle of lettering across, without bands. [a quarter down]"),
        ("edge", "LENGTH", "edge_mm", read.length,
         "Space kept free at each joint. [1 to 3 mm, by the width; 1.25 mm to a label]"),
        ("back", "FORM", "back", read.choice(BackForm),
         "flat or rounded. [flat]"),
        ("rise", "LENGTH", "rise_mm", read.length,
         "Height of the round over the straight width."),
        ("radius", "LENGTH", "radius_mm", read.length,
         "Radius of the round, instead of --rise."),
        ("arc", "LENGTH", "arc_mm", read.length,
         "A tape laid over the round, joint to joint, instead of --rise."),
        ("max-angle", "DEGREES", "max_angle_deg", read.number("deg", "degrees", "°"),
         "Farthest from the middle of the round that may hold ink. [45]"),
        ("binding-side", "SIDE", "binding_side", read.choice(BindingSide),
         "Where the spine is, front cover up: left or right. [as the market's books]"),
    ),
    *_rows(
        _BANDS,
        "spine",
        ("bands", "N", "bands", read.count, "How many bands. [none]"),
        ("band-height", "LENGTH", "band_height_mm", read.length,
         "Width of a band, measured along the back. [4 mm]"),
        ("bands-at", "POSITIONS", "bands_at_mm", read.positions,
         "Middles of the bands from the head, such as 40,80,120mm. [equal panels]"),
        ("band-clearance", "LENGTH", "band_clearance_mm", read.length,
         "Space kept free on either side of a band. [1 mm]"),
        ("tail-ratio", "RATIO", "tail_ratio", read.number(),
         "Length of the tail panel over that of the others. [1.1]"),
        ("title-panel", "N", "title_panel", read.count,
         "The panel to letter, counted from the head. [2]"),
    ),
    *_rows(
        _PANEL,
        "",
        ("panel", "WxH", "panel", read.panel,
         "The panel itself, width across the spine first, instead of the back: 20x30mm."),
        ("label-thickness", "LENGTH", "label_thickness_mm", read.length,
         "Thickness of the label, bent over a round or in a recess. [that of the method]"),
        ("old-lettering", "WxH@D", "old_lettering", read.old_lettering,
         "Ink of old lettering that a label is to cover, D from the head where known."),
        ("overlap", "LENGTH", "overlap_mm", read.length,
         "How far such a label reaches beyond the old ink, on every side. [2 mm]"),
    ),
    *_rows(
        _PANEL,
        "shape",
        ("panel-shape", "FORM", "form", read.choice(_SHAPES),
         "rectangle, rounded, cut or oval. [rectangle]"),
        ("corner", "LENGTH", "corner_mm", read.length,
         "Radius of a rounded corner, or what is cut off each side."),
        ("panel-outline", "CORNERS", "outline_mm", read.outline,
         "Corners from the middle of the panel: '-9,-20 9,-20 0,20mm'."),
        ("keep-free", "WxH@X,Y", "keep_free", read.keep_free,
         "An area without ink, its middle X to the right of the panel's and Y to the head; "
         "may be repeated."),
    ),
    *_rows(
        _PANEL,
        "lettering",
        ("clearance", "LENGTH", "clearance_mm", read.length,
         "Space wanted between the ink and the edge of the panel. [0; a label's margin]"),
    ),
    *_rows(
        _BOARD,
        "front_board",
        ("front-board", "WxH", "board", read.panel,
         "The front board instead of the back, breadth first, measured from the joint: 135x215mm."),
        ("leaves", "WxH", "leaves", read.panel,
         "The trimmed leaves instead: the board is as large as they and the squares."),
        ("squares", "LENGTH", "squares_mm", read.length,
         "How far the board stands over the leaves. [3 mm]"),
        ("joint-width", "LENGTH", "joint_mm", read.length,
         "From the back to where the board lies clear. [0; 7 mm with --leaves]"),
        ("leather-width", "LENGTH", "leather_mm", read.length,
         "How far the leather of a quarter or half binding reaches, from the back. [full binding]"),
        ("corners", "LENGTH", "corners_mm", read.length,
         "How far leather corners reach along the edges. [none]"),
        ("board-label", "WxH", "label", read.panel,
         "The label, where it is cut already. [as large as the lettering asks]"),
        ("label-from-head", "LENGTH", "from_head_mm", read.length,
         "From the head of the board to the middle of the label. [half the height]"),
    ),
    *_rows(
        _RECESS,
        "recess",
        ("recess", "", "wanted", read.yes_or_no,
         "The label lies in a recess: say how it is cut."),
        ("card-thickness", "LENGTH", "card_mm", read.length,
         "Thickness of the card that is cut through. [0.3 mm]"),
        ("cards", "N", "cards", read.count,
         "How many cards are cut through. [as many as the label is thick]"),
        ("board-thickness", "LENGTH", "board_mm", read.length,
         "Thickness of the whole board, cards on both faces and all. [1.6 mm]"),
        ("covering-thickness", "LENGTH", "covering_mm", read.length,
         "Thickness of the covering drawn over the edge. [0.4 mm]"),
        ("recess-clearance", "LENGTH", "clearance_mm", read.length,
         "From the label to the covered wall, on every side. [0.5 mm]"),
        ("stiffener", "LENGTH", "stiffener_mm", read.length,
         "Thickness of the stiffener of the back, for a recess in the back."),
    ),
    *_rows(
        _LETTERS,
        "lettering",
        ("font", "NAME-OR-FILE", "font", read.text,
         "A bundled font, an installed one ('spinefit fonts --installed' lists both), or a font "
         "file. Of one name the bundled font is taken. [EB Garamond]"),
        ("face", "N-or-NAME", "face", read.face,
         "Which face of a collection, or which named instance of a variable font. [the first]"),
        ("axes", "SETTINGS", "axes", read.axes,
         "A variable font's settings: wght=650,wdth=80. With --size, wght=lightest or heaviest, "
         "wdth=narrowest or widest finds the value. [the font's own; opsz follows the size]"),
        ("fallback", "FONT", "fallback", read.fonts,
         "A font for letters that the first one lacks; may be repeated, in order."),
        ("case", "CASE", "case", read.choice(Case),
         "as-typed, capitals or small-capitals. [as-typed]"),
        ("tracking", "N", "tracking", read.number(),
         "Space added between letters, in thousandths of the size. [0]"),
        ("orientation", "WAY", "orientation", read.choice(Orientation),
         "transverse, longitudinal, pillar or any. [any]"),
        ("reading", "WAY", "reading", read.choice(_READINGS),
         "Along the back: descending, ascending, or auto by the market. [auto]"),
        ("lines", "N", "lines", read.line_count,
         "How many lines, or any. ' / ' in the title forces a break. [any]"),
        ("size", "SIZE", "size_pt", read.size_pt,
         "The type size to judge, in pt, pica or didot points. [the advised size]"),
        ("sizes", "SIZES", "sizes_pt", read.sizes_pt,
         "The sizes in your drawer: 10,12,14,18 or 10,12didot. [those of the method]"),
        ("tools", "FILE", "tools", read.text,
         "A TOML file with your hand letters or type: sizes, and the widths of letters."),
        ("leading", "EM", "leading_em", read.number("em"),
         "From baseline to baseline, in parts of the size. [by the case]"),
        ("centre", "WHAT", "centre", read.choice(Centre),
         "What stands on the middle: ink, capitals or auto. [auto]"),
        ("break-words", "HOW", "break_words", read.choice(BreakWords),
         "never, plain or hyphen. [never]"),
        ("small-words", "HOW", "small_words", read.choice(SmallWords),
         "joined: no line of small words alone; or alone. [joined]"),
    ),
    *_rows(
        _USE,
        "",
        ("market", "CODE", "market", read.text,
         "Country where it is sold or shelved: GB, DE ... [ISO 6357's rule]"),
        ("language", "TAG", "language", read.text,
         "Language of the title: en, el ... [by its small words or the market]"),
        ("method", "NAME", "method", read.text,
         "How it is made; 'spinefit methods' lists the ways. [paperback-cover]"),
        ("method-file", "FILE", "method", read.text,
         "A TOML file with methods of your own, for --method to name."),
        ("reading-distance", "LENGTH", "reading_distance_mm", read.length,
         "From the eye to the shelf. [500 mm]"),
    ),
)  # fmt: skip
"""Every field, in the order of the help."""
