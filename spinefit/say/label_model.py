"""What does a report hold of the label, of the board it lies on, and of what it covers?

Plain records, fields of a `Report`; lengths in mm, spares in the panel's frame, negative is excess.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.job.resolved import ResolvedFrame
from spinefit.vocabulary import Frame, Role, Status


class SpareReport(NamedTuple):
    """Free space in mm from ink to panel edge less clearance; None where no edge is known."""

    left: float | None
    right: float | None
    head: float | None
    tail: float | None


class LapReport(NamedTuple):
    """How far a label goes on beyond the back on each side, its ends covered.

    Attributes:
        joint_mm: over the joint.
        board_mm: from there onto the board.
        cut_height_mm: height at which the label is cut for the setting shown; None where that
            does not fit.
    """

    joint_mm: float
    board_mm: float
    cut_height_mm: float | None


class LabelReport(NamedTuple):
    """A label that bends over a round of known radius, or over the joints.

    Attributes:
        covers_mm: width of the back under it, measured over the round: the panel's.
        cut_width_mm: its width while it lies flat, to be cut.
        thickness_mm: its thickness.
        face_stretch: width of its printed face on the back over that while it lay flat.
        lap: how far it goes round over the joints onto the boards; None for one between them.
    """

    covers_mm: float
    cut_width_mm: float
    thickness_mm: float
    face_stretch: float
    lap: LapReport | None = None


class LabelTextReport(NamedTuple):
    """One of several texts of a label, at the size judged.

    Attributes:
        text: as lettered.
        lines: how it is broken.
        baselines_mm: from the label's upper edge, the one above the letters, down to each.
        ink_width_mm: of its widest line.
    """

    role: Role
    text: str
    set_pt: float
    lines: tuple[str, ...]
    cap_height_mm: float
    baselines_mm: tuple[float, ...]
    ink_width_mm: float


class RuleReport(NamedTuple):
    """A rule of a label.

    Attributes:
        from_head_mm: from the label's upper edge to the rule's.
        thickness_mm: of each of its lines, from the top.
        space_mm: between its two lines; 0 for one.
        length_mm: how long it is.
    """

    from_head_mm: float
    thickness_mm: tuple[float, ...]
    space_mm: float
    length_mm: float


class FrameReport(NamedTuple):
    """A frame ruled inside the edge of a label.

    Attributes:
        form: its lines: thin, thick, double or thick-and-thin.
        corners: square, rounded or cut; "along the edge" of a label of another shape.
        weights_mm: thickness of each line, the outer one first.
        from_edge_mm: from the edge that is cut to the frame.
        space_mm: between its two lines; 0 for one.
        corner_mm: what a corner takes of each side, at its outer edge; 0 for square ones.
        to_ink_mm: from the frame to the lettering at least.
    """

    form: Frame
    corners: str
    weights_mm: tuple[float, ...]
    from_edge_mm: float
    space_mm: float
    corner_mm: float
    to_ink_mm: float


def frame_report(frame: ResolvedFrame | None, clearance_mm: float) -> FrameReport | None:
    """The frame of a label whose ink keeps so far from its edge."""
    if frame is None:
        return None
    return FrameReport(
        frame.form,
        frame.corners or "along the edge",
        frame.ruling_mm[::2],
        frame.from_edge_mm,
        sum(frame.ruling_mm[1::2]),
        frame.corner_mm,
        clearance_mm - frame.inset_mm,
    )


class FrontBoardReport(NamedTuple):
    """A label on the front board; of lettering straight on the board the label is its ink.

    Attributes:
        width_mm, height_mm: breadth and height of the board.
        joint_mm: from the back to where it lies clear of the joint.
        leather_mm, corners_mm: how far leather and its corners reach onto it.
        label_width_mm, label_height_mm: the label.
        label_advised: True where it is as large as the lettering asks, not cut already.
        from_head_mm: from the head of the board to the middle of the label.
        from_free_edge_mm: from joint or leather to it.
        from_fore_edge_mm: from the fore edge to it.
        around_mm: from the label's edges to joint or leather (left), fore edge (right), head and
            tail, of a board that has its back on the left.
        text: the same in words.
    """

    width_mm: float
    height_mm: float
    joint_mm: float
    leather_mm: float
    corners_mm: float
    label_width_mm: float
    label_height_mm: float
    label_advised: bool
    from_head_mm: float
    from_free_edge_mm: float
    from_fore_edge_mm: float
    around_mm: SpareReport
    text: str


class LayerReport(NamedTuple):
    """One layer of a board with a recess, from the face inwards."""

    layer: str
    thickness_mm: float
    cut: bool
    source: str
    status: Status | None


class RecessReport(NamedTuple):
    """A recess for a label.

    Attributes:
        label_mm: width, height and thickness of the label.
        opening_mm: width and height of the opening as it is cut.
        covered_mm: the same once the covering lies in it.
        depth_mm: its depth.
        build_up: the layers of the board.
        board_mm: thickness of the whole.
        remaining_mm: thickness left under the label.
        pressing_piece_mm: width and height of the piece cut out, trimmed for pressing.
        text: the same in words.
        cautions: what to mind.
    """

    label_mm: tuple[float, float, float]
    opening_mm: tuple[float, float]
    covered_mm: tuple[float, float]
    depth_mm: float
    build_up: tuple[LayerReport, ...]
    board_mm: float
    remaining_mm: float
    pressing_piece_mm: tuple[float, float]
    text: str
    cautions: tuple[str, ...]


class OldLetteringReport(NamedTuple):
    """Lettering that stands on the back already, and the label over it.

    Attributes:
        width_mm, height_mm: its ink and impression across and along the back.
        from_head_mm: from the head of the back down to its upper edge; None where not given.
        overlap_mm: how far a label reaches beyond it on every side.
        hidden: True where a label covers it.
        label_width_mm, label_height_mm: the label over it, as it covers the back; None straight
            on the back.
        label_from_head_mm: from the head to the label's upper edge; None where not known.
        text: the same in words.
        label_spare_mm: from the ink to the label's edges, less its inner margin, where the label
            is cut for this setting; else None.
    """

    width_mm: float
    height_mm: float
    from_head_mm: float | None
    overlap_mm: float
    hidden: bool
    label_width_mm: float | None
    label_height_mm: float | None
    label_from_head_mm: float | None
    text: str
    label_spare_mm: SpareReport | None

    @property
    def in_legend(self) -> tuple[str, bool]:
        """What the legend of a drawing says of it, and whether a label lies over it."""
        if self.label_width_mm is None:
            return "old lettering, in view", False
        return "old lettering " + ("under the label" if self.hidden else "not covered"), True
