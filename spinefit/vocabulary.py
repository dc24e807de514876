"""Which words does the trade use, which of them may a field hold, and who says a number?

Enumerations and plain records, no logic: every stage and every report says these words, and no
others, for the same things. ISO 6357 gives transverse, longitudinal, pillar, ascending,
descending. A number of the trade is never a bare one: it travels with its unit, its source and
its status, so that a report can show who says so and how far it may be trusted.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class AxisGoal(StrEnum):
    """Which end of a variation axis is looked for: of weight the first two, of width the others."""

    LIGHTEST = "lightest"
    HEAVIEST = "heaviest"
    NARROWEST = "narrowest"
    WIDEST = "widest"


class BackForm(StrEnum):
    """The form of the back seen from the head."""

    FLAT = "flat"
    ROUNDED = "rounded"


class Measured(StrEnum):
    """What the stated width was measured on."""

    BULK = "bulk"  # the block of leaves, as for a paperback
    BACK = "back"  # between the joints
    OVER_BOARDS = "over-boards"  # across the whole book, both boards included


class Sewing(StrEnum):
    """How the leaves of a book are held together."""

    SEWN = "sewn"  # in sections, whose thread swells the back
    GLUED = "glued"  # single leaves, or sections cut at the back
    FOLD = "fold"  # one section, sewn or stapled through its fold


class Cover(StrEnum):
    """What covers the block of leaves."""

    LIMP = "limp"  # paper, glued to the back
    CASE = "case"  # boards and back made apart, the block hung in
    BOARDS = "boards"  # boards laced to the block and covered with it


class BindingSide(StrEnum):
    """Where the spine is when the front cover faces the reader."""

    LEFT = "left"
    RIGHT = "right"


class PanelForm(StrEnum):
    """The outline of a usable panel or label."""

    RECTANGLE = "rectangle"
    ROUNDED = "rounded"  # rounded corners
    CUT = "cut"  # corners cut off at 45 degrees
    OVAL = "oval"
    POLYGON = "polygon"  # an outline given point by point


class Case(StrEnum):
    """The case the title is lettered in."""

    AS_TYPED = "as-typed"
    CAPITALS = "capitals"
    SMALL_CAPITALS = "small-capitals"


class Weight(StrEnum):
    """How heavy the letters of a family are."""

    REGULAR = "regular"
    BOLD = "bold"


class CutBy(StrEnum):
    """What a label on a sheet is cut by."""

    FRAME = "frame"
    TICKS = "ticks"


class Centre(StrEnum):
    """What is put on the middle of the panel: the ink, or the band of the capitals."""

    AUTO = "auto"
    INK = "ink"
    CAPITALS = "capitals"


class BreakWords(StrEnum):
    """Whether a word may be broken at a line's end."""

    NEVER = "never"
    PLAIN = "plain"  # broken without a mark
    HYPHEN = "hyphen"  # broken with a hyphen


class SmallWords(StrEnum):
    """Whether articles, prepositions and conjunctions may make a line of their own."""

    JOINED = "joined"  # they join a neighbour (Pleger)
    ALONE = "alone"  # they may stand alone (Adam)


class GroupShape(StrEnum):
    """The shapes of a group of centred lines that the handbooks name, from the top."""

    HALF_DIAMOND = "half-diamond"  # each line shorter than the one above
    LOZENGE = "lozenge"  # a diamond: growing to the full measure, then shrinking
    SQUARED = "squared"  # a rectangle: all of one width
    LONG_AND_SHORT = "long and short"  # in alternation


class Orientation(StrEnum):
    """How lines stand to the spine (ISO 6357)."""

    ANY = "any"
    TRANSVERSE = "transverse"
    LONGITUDINAL = "longitudinal"
    PILLAR = "pillar"


class Reading(StrEnum):
    """The way the eye travels: across, along head to tail or tail to head, or down a stack."""

    AUTO = "auto"
    ACROSS = "across"
    DESCENDING = "descending"
    ASCENDING = "ascending"
    STACKED = "stacked"
    UPRIGHT = "upright"  # a market's convention: upright characters down a column


class Turn(StrEnum):
    """How a whole line is turned from level, the book standing and its spine facing you."""

    NONE = "none"
    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"

    @property
    def degrees(self) -> float:
        """Anticlockwise from level."""
        return {Turn.NONE: 0.0, Turn.CLOCKWISE: -90.0, Turn.ANTICLOCKWISE: 90.0}[self]

    @property
    def undone(self) -> Turn:
        """The turn that brings the line back to level."""
        return next(turn for turn in Turn if turn.degrees == -self.degrees)


class SetBy(StrEnum):
    """Who chose the size judged."""

    ASKED = "asked"
    ADVISED = "advised"


class LimitedBy(StrEnum):
    """What stops the lettering from being larger."""

    WIDTH = "width"  # across the spine
    HEIGHT = "height"  # along the spine
    SHAPE = "shape"  # an edge that is neither
    ANGLE = "angle"  # the largest readable angle of a rounded back


class Verdict(StrEnum):
    """The answer in a word or three."""

    FITS = "fits"
    TIGHT = "tight"
    DOES_NOT_FIT = "does not fit"


class Level(StrEnum):
    """How much a finding should worry a binder."""

    GOOD = "good"
    NOTE = "note"
    WARNING = "warning"
    FAILURE = "failure"


class Firmness(StrEnum):
    """How far a market's shelves agree with its convention."""

    FIRM = "firm"  # exceptions look like mistakes
    USUAL = "usual"
    MIXED = "mixed"  # both are common


class Role(StrEnum):
    """What a text on a back or a label is, in the order custom gives."""

    AUTHOR = "author"
    TITLE = "title"
    SUBTITLE = "subtitle"
    VOLUME = "volume"
    DATE = "date"
    IMPRINT = "imprint"
    CALL_NUMBER = "call-number"
    RULE = "rule"  # a line that parts two texts

    @property
    def words(self) -> str:
        """As a person says it."""
        return self.value.replace("-", " ")


class Ruling(StrEnum):
    """The lines of a rule or a frame; of two, the first is the upper or the outer one."""

    THIN = "thin"
    THICK = "thick"
    DOUBLE = "double"
    THICK_AND_THIN = "thick-and-thin"


class Frame(StrEnum):
    """The lines of a frame round a label, where there is one; of two the first is the outer one."""

    NONE = "none"
    THIN = "thin"
    THICK = "thick"
    DOUBLE = "double"
    THICK_AND_THIN = "thick-and-thin"


class FrameCorners(StrEnum):
    """How a frame turns at the corners of a square label."""

    SQUARE = "square"
    ROUNDED = "rounded"
    CUT = "cut"  # at 45 degrees


class Tone(StrEnum):
    """Of a covering, and of the ink or foil on it: gold and white are light, black is dark."""

    LIGHT = "light"
    DARK = "dark"

    @property
    def opposite(self) -> Tone:
        """What stands out on it."""
        return Tone.DARK if self is Tone.LIGHT else Tone.LIGHT


class Measure(StrEnum):
    """How long a rule is."""

    SHORT = "short"  # a part of the widest line
    FULL = "full"  # from margin to margin


class Place(StrEnum):
    """What a method puts the lettering on."""

    BACK = "back"  # straight on the back
    LABEL = "label"  # a label that is pasted on
    CASE = "case"  # the covering, lettered flat before casing in


class Work(StrEnum):
    """The kind of work, each with its own custom: a group of rows in rules.toml."""

    PAPERBACK = "paperback"  # a printed cover
    CASE = "case"  # a cloth case, or a back lettered as one
    LIBRARY = "library"  # a book rebound for a library
    LEATHER = "leather"  # a leather back, as a rule with bands
    LABEL = "label"  # a label of whatever stuff

    @property
    def words(self) -> str:
        """What is lettered, as after "a"."""
        return _WORDS_OF_WORK.get(self, str(self))


_WORDS_OF_WORK = {
    Work.PAPERBACK: "printed cover",
    Work.CASE: "cloth case",
    Work.LIBRARY: "library binding",
    Work.LEATHER: "leather back",
}


class Letters(StrEnum):
    """Whose letters a method sets."""

    OUTLINES = "outlines"  # a font's outlines
    TOOLS = "tools"  # letters of brass, with widths of their own


class Material(StrEnum):
    """What a label is made of, where it bends over a joint."""

    PAPER = "paper"
    LINED_PAPER = "lined-paper"  # on cloth or tissue
    CLOTH = "cloth"
    LEATHER = "leather"


class Lap(NamedTuple):
    """How far a label reaches beyond the back on each side, in mm.

    Attributes:
        joint_mm: over the joint.
        board_mm: from there onto the board.
    """

    joint_mm: float
    board_mm: float

    @property
    def reach_mm(self) -> float:
        """Both together."""
        return self.joint_mm + self.board_mm


class Stock(StrEnum):
    """What foil is blocked on."""

    SMOOTH_LEATHER = "smooth-leather"
    FINE_CLOTH = "fine-cloth"
    COARSE_CLOTH = "coarse-cloth"


class Die(StrEnum):
    """What foil is blocked with."""

    BRASS = "brass"
    MAGNESIUM = "magnesium"
    PHOTOPOLYMER = "photopolymer"


class Status(StrEnum):
    """How a value was come by."""

    PUBLISHED = "published"  # read in the source named
    REPORTED = "reported"  # said by a forum, a blog or one maker's page
    PRACTICE = "practice"  # common practice, no authority behind it
    MEMORY = "memory"  # recalled, not checked
    CHOSEN = "chosen"  # our own choice, to be adjusted
    COMPUTED = "computed"  # arithmetic on the other rows


class Sourced(NamedTuple):
    """A number of the trade with its provenance.

    Attributes:
        value: the number, in ``unit``.
        unit: mm, pt, em, deg, arcmin, or "" for a plain ratio or count.
        source: the publication, or what stands in its place.
        status: how the value was come by.
    """

    value: float
    unit: str
    source: str
    status: Status


class SourcedList(NamedTuple):
    """Several numbers of the trade that have one provenance, such as the sizes of a drawer.

    Attributes:
        values: the numbers, in ``unit``.
        unit: as of a `Sourced`.
        source: the publication, or what stands in its place.
        status: how the values were come by.
    """

    values: tuple[float, ...]
    unit: str
    source: str
    status: Status
