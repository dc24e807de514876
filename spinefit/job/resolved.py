"""What is to be lettered, once nothing is left to guess?

`ResolvedJob` is a `Job` checked and completed: every length in mm, every choice made, every
default that was taken listed in ``assumed``. Later stages read it and parse nothing.
"""

from __future__ import annotations

from itertools import accumulate
from typing import NamedTuple

from spinefit.catalogue import Market, Method, Rules
from spinefit.job.bulk import Estimate
from spinefit.job.commission import Commission
from spinefit.job.model import Shape
from spinefit.job.nudges import Nudge
from spinefit.job.places import ResolvedCallNumber
from spinefit.job.values import Panel
from spinefit.vocabulary import (
    AxisGoal,
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    Frame,
    FrameCorners,
    GroupShape,
    Lap,
    Measure,
    Measured,
    Orientation,
    Reading,
    Role,
    SmallWords,
    Sourced,
    Status,
    Tone,
    Work,
)


class ResolvedSpine(NamedTuple):
    """The back to be lettered, completed.

    Attributes:
        width_mm: width of the back, straight across (the chord of a rounded back), in mm.
        height_mm: from head to tail in mm; None where the length was left open.
        measured: what the width was measured on.
        form: flat or rounded.
        rise_mm, radius_mm, arc_mm: at most one is not None.
        bands: number of bands; 0 for none.
        band_height_mm: width of a band along the back in mm.
        bands_at_mm: middles of the bands from the head in mm, or None for an equal division.
        tail_ratio: length of the tail part over that of the others.
        band_clearance_mm: kept free at each side of a band in mm.
        title_panel: the panel to letter, from 1 at the head.
        edge_mm: kept free at each joint in mm.
        head_mm, foot_mm: kept free at head and tail in mm.
        max_angle_deg: largest angle from the middle of the round that may hold ink.
        binding_side: where the spine is when the front cover faces the reader.
        typed: names of the options of the back that the person typed.
        from_head_mm: from the head to where the middle of lettering across a back without bands
            is wanted, or of a label over old lettering; None for the usual place.
        estimate: what the width follows from where it was not measured.
    """

    width_mm: float
    height_mm: float | None
    measured: Measured
    form: BackForm
    rise_mm: float | None
    radius_mm: float | None
    arc_mm: float | None
    bands: int
    band_height_mm: float
    bands_at_mm: tuple[float, ...] | None
    tail_ratio: float
    band_clearance_mm: float
    title_panel: int
    edge_mm: float
    head_mm: float
    foot_mm: float
    max_angle_deg: float
    binding_side: BindingSide
    typed: frozenset[str]
    from_head_mm: float | None = None
    estimate: Estimate | None = None

    @property
    def band_middles_mm(self) -> tuple[float, ...]:
        """The middles of the bands in mm from the head; none where the height is open.

        Equal parts, the part at the tail longer (Cockerell, ch. VII), unless places were given.
        """
        if self.bands_at_mm is not None:
            return self.bands_at_mm
        if self.height_mm is None:
            return ()
        part_mm = self.height_mm / (self.bands + self.tail_ratio)
        return tuple(part_mm * index for index in range(1, self.bands + 1))


class ResolvedToolSize(NamedTuple):
    """One size of a set of tools, completed; lengths in mm.

    Attributes:
        body_pt: the size it is asked for by, in DTP points.
        face_mm: height of a capital's face.
        widths_mm: width of each letter's face; None where only that of E is known.
        e_mm: width of the E of a measured row; None where widths are given.
        letter_gap_mm: from letter to letter.
        word_space_mm: from the last letter of a word to the first of the next.
        descent_mm: how far small letters hang below the line.
        x_height_mm: height of a small x, or that of the face.
    """

    body_pt: float
    face_mm: float
    widths_mm: tuple[tuple[str, float], ...] | None
    e_mm: float | None
    letter_gap_mm: float
    word_space_mm: float
    descent_mm: float
    x_height_mm: float


class ResolvedTools(NamedTuple):
    """A set of tools, completed: its sizes rising, and the file they were read from."""

    name: str
    sizes: tuple[ResolvedToolSize, ...]
    file: str
    sha256: str


class ResolvedLettering(NamedTuple):
    """How the title is lettered, completed.

    Attributes:
        font: name or file of the font.
        face: face of a collection or named instance asked for, or None.
        axes: variation settings asked for, a value by axis tag.
        sought: the axis that is to be solved and which end of it is wanted, or None.
        axes_found: True where one of ``axes`` was solved, and not asked for.
        case: case it is lettered in.
        tracking_em: space added between letters in em.
        orientation: orientation asked for, or any.
        reading: descending or ascending, for longitudinal lines.
        reading_asked, clearance_typed: True where the person chose it.
        lines, group_shape: number of lines and shape of their group, or None for any.
        size_pt: size to judge in DTP points, or None for the advised one.
        leading_em: baseline distance asked for in em, or None for the rule's.
        clearance_mm: space wanted around the ink in mm, of a label from its edge, what a frame
            takes counted in.
        centre: what is put on the middle of the panel.
        break_words, small_words: whether a word may be broken, and such words fill a line.
        sizes_pt: sizes of the binder's own drawer in DTP points, rising, or None.
        tools: the letters, where they are tools and not a font's; ``sizes_pt`` are theirs then.
        fallback: fonts for letters that ``font`` lacks, in the order they are asked.
        nudges: what was done by hand to each line; empty where nothing was.
    """

    font: str
    case: Case
    tracking_em: float
    orientation: Orientation
    reading: Reading
    reading_asked: bool
    lines: int | None
    size_pt: float | None
    leading_em: float | None
    clearance_mm: float
    clearance_typed: bool
    centre: Centre
    break_words: BreakWords
    sizes_pt: tuple[float, ...] | None = None
    tools: ResolvedTools | None = None
    fallback: tuple[str, ...] = ()
    face: str | None = None
    axes: tuple[tuple[str, float], ...] = ()
    sought: tuple[str, AxisGoal] | None = None
    small_words: SmallWords = SmallWords.JOINED
    axes_found: bool = False
    group_shape: GroupShape | None = None
    nudges: tuple[Nudge, ...] = ()


class Figure(NamedTuple):
    """A thickness in mm, and who says so; status None where the person did."""

    value_mm: float
    source: str
    status: Status | None


class ResolvedBoard(NamedTuple):
    """The front board, completed; its breadth counted from the back, all in mm.

    Attributes:
        width_mm, height_mm: breadth and height of the board.
        joint_mm: from the back to where it lies clear of the joint.
        leather_mm: how far leather reaches onto it, from the back; 0 for a full binding.
        corners_mm: how far corners reach along its edges; 0 for none.
        free_from_mm: where the free part begins that the label is centred on.
        from_head_mm: from the head of the board to the middle of the label.
        label_given: True where the label is cut already, so that it is the panel.
    """

    width_mm: float
    height_mm: float
    joint_mm: float
    leather_mm: float
    corners_mm: float
    free_from_mm: float
    from_head_mm: float
    label_given: bool


class ResolvedRecess(NamedTuple):
    """A recess for a label, completed.

    Attributes:
        label: thickness of the label.
        card: thickness of one card.
        cards: how many are cut through, and lie on the other face too.
        board: thickness of the whole board or stiffener.
        covering: thickness of what is drawn over it.
        clearance: from the label to the covered wall.
        stiffened: True where ``board`` is a stiffener of the back.
    """

    label: Figure
    card: Figure
    cards: int
    board: Figure
    covering: Figure
    clearance: Figure
    stiffened: bool


class ResolvedFrame(NamedTuple):
    """A frame round a label, completed; lengths in mm.

    Attributes:
        form: its lines.
        corners: how it turns; None where it runs along the edge of a label that is not square.
        corner_mm: what a corner takes of each side, at the frame's outer edge; 0 for none.
        corner_typed: True where the person said so.
        ruling_mm: thickness of each line and the space between two, from the outer one inwards.
        from_edge_mm: from the label's edge to the frame.
    """

    form: Frame
    corners: FrameCorners | None
    corner_mm: float
    corner_typed: bool
    ruling_mm: tuple[float, ...]
    from_edge_mm: float

    @property
    def inset_mm(self) -> float:
        """From the label's edge to the inner edge of the frame."""
        return self.from_edge_mm + sum(self.ruling_mm)

    @property
    def lines_mm(self) -> tuple[tuple[float, float], ...]:
        """For each line how far its middle lies inside the label's edge, and its thickness."""
        ends_mm = (self.from_edge_mm, *accumulate(self.ruling_mm, initial=self.from_edge_mm))[1:]
        return tuple(
            (begins_mm + wide_mm / 2, wide_mm)
            for begins_mm, wide_mm in zip(ends_mm[:-1:2], self.ruling_mm[::2], strict=True)
        )


class ResolvedOldLettering(NamedTuple):
    """Lettering that stands on the back already, completed; lengths in mm.

    Attributes:
        width_mm, height_mm: its ink and impression across and along the back.
        from_head_mm: from the head of the back to its upper edge, or None.
        overlap: how far a label reaches beyond it on every side, and who says so.
        covered: True where the new lettering is on a label, which has to lie over the old; False
            straight on the back, where the old stays in view.
        shared_label_mm: from the head to both edges of the label, where several texts share it.
        of_another: True for a text other than the title, which only has to stand clear of it.
        in_view: True where it was said to stay in view, whatever the method.
        at_mm: from the head to the middle of the label, where a set has it; None over its middle.
    """

    width_mm: float
    height_mm: float
    from_head_mm: float | None
    overlap: Sourced
    covered: bool
    shared_label_mm: tuple[float, float] | None = None
    of_another: bool = False
    at_mm: float | None = None
    in_view: bool = False

    @property
    def label_mm(self) -> tuple[float, float]:
        """Width and height of the least label that covers it."""
        around_mm = 2 * self.overlap.value
        return self.width_mm + around_mm, self.height_mm + around_mm

    @property
    def middle_mm(self) -> float | None:
        """Its middle, from the head of the back; None where its place was not said."""
        return None if self.from_head_mm is None else self.from_head_mm + self.height_mm / 2


class ResolvedPart(NamedTuple):
    """A text of a label, or a rule, completed.

    Attributes:
        role: what it is.
        lines: its text, cut at its forced breaks; empty for a rule.
        size_pt, ratio: the size it was given, or None; then its size over the leading text's.
        least_pt: no smaller than that where the leading text is larger.
        case, font: its own, or None for those of the leading text.
        ruling_mm, measure: of a rule, its lines and the spaces between them; how long it is.
        nudges: what was done by hand to each of its lines; empty where nothing was.
    """

    role: Role
    lines: tuple[str, ...] = ()
    size_pt: float | None = None
    ratio: float = 1.0
    least_pt: float = 0.0
    case: Case | None = None
    font: str | None = None
    ruling_mm: tuple[float, ...] = ()
    measure: Measure = Measure.SHORT
    nudges: tuple[Nudge, ...] = ()


class ResolvedJob(NamedTuple):
    """One title on one back, completed.

    Attributes:
        title_lines: the text as typed, cut at its forced breaks.
        spine: the back, or None where a panel was given outright.
        widest: the same back at the greatest width of a range, or None.
        panel: the panel given outright, or None.
        shape: outline of the usable panel.
        lettering: how it is lettered.
        market: the market's row, for titles of this language where those run another way; that
            of the international standard where none was given.
        market_code: ISO 3166 code as given, or None.
        language: BCP 47 tag or None.
        method: the method's row.
        work: the kind of work, whose custom it is.
        reading_distance_mm: from eye to shelf in mm.
        rules: the numbers of the trade.
        assumed: every default taken, as a person would say it.
        front_board, recess: the board that ``panel`` lies on, a recess for the label; or None.
        label_thickness_mm: thickness of a label that bends over a round or joints; else None.
        old_lettering: lettering that stands there already, or None.
        right_to_left: True where the title as a whole reads from right to left.
        frame: a frame ruled round the label, or None.
        parts: the texts of one label and the rules between them; empty for a title alone.
        leader: the place of the one of them that ``title_lines`` and ``lettering`` are of.
        label: a label of given size that stands on the back, as it is cut; None for no such.
        covering_colour: of the back, or of the panel; None where nothing was said of colours.
        ink_colour: of the lettering, likewise.
        commission: whose job it is.
        lap: how far a label goes round over the joints, or None for one between them.
        call_number: how it stands where it is a call number; None for a title.
    """

    title_lines: tuple[str, ...]
    spine: ResolvedSpine | None
    widest: ResolvedSpine | None
    panel: Panel | None
    shape: Shape
    lettering: ResolvedLettering
    market: Market
    market_code: str | None
    market_known: bool
    language: str | None
    method: Method
    work: Work
    reading_distance_mm: float
    rules: Rules
    assumed: tuple[str, ...]
    front_board: ResolvedBoard | None = None
    recess: ResolvedRecess | None = None
    label_thickness_mm: float | None = None
    old_lettering: ResolvedOldLettering | None = None
    right_to_left: bool = False
    frame: ResolvedFrame | None = None
    parts: tuple[ResolvedPart, ...] = ()
    leader: int = 0
    label: Panel | None = None
    covering_colour: Tone | None = None
    ink_colour: Tone | None = None
    commission: Commission = Commission()
    lap: Lap | None = None
    call_number: ResolvedCallNumber | None = None
