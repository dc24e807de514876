"""What did the person say of a front board, of a recess, of lettering that is to be covered?

Parts of a `Job` that few jobs have, so that the others start without them. Lengths are
millimetres; a field left at None was not said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from spinefit.job.model import Panel

__all__ = ["FrontBoard", "OldLettering", "Recess"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontBoard:
    """The front board, where the lettering stands there. Its own size, or that of the leaves.

    Attributes:
        board: its breadth from the back and its height, in mm; from the joint where no joint is
            given.
        leaves: breadth and height of the trimmed leaves in mm, over which the squares stand.
        squares_mm: how far the board stands over the leaves.
        joint_mm: from the back to where the board lies clear of the joint.
        leather_mm: how far leather or cloth reaches onto the board of a quarter or half binding,
            from the back.
        corners_mm: how far a corner of leather reaches along the edges of the board.
        label: width and height of the label, where it is chosen already.
        from_head_mm: from the head of the board to the middle of the label.
    """

    board: Panel | None = None
    leaves: Panel | None = None
    squares_mm: float | None = None
    joint_mm: float | None = None
    leather_mm: float | None = None
    corners_mm: float | None = None
    label: Panel | None = None
    from_head_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Recess:
    """A recess for a label: an opening in card on a board.

    Attributes:
        wanted: False where there is none after all.
        card_mm: thickness of one card.
        cards: how many cards are cut through.
        board_mm: thickness of the whole board, cards and all.
        covering_mm: thickness of the leather, cloth or paper drawn over it.
        clearance_mm: from the label to the covered wall of the opening, on every side.
        stiffener_mm: thickness of the stiffener of the back, where the recess is in the back.
    """

    wanted: bool | None = None
    card_mm: float | None = None
    cards: int | None = None
    board_mm: float | None = None
    covering_mm: float | None = None
    clearance_mm: float | None = None
    stiffener_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OldLettering:
    """Lettering that stands on the back already and is to be covered by a label.

    Attributes:
        width_mm: its ink across the back in mm; over a round as a tape measures it.
        height_mm: its ink along the back in mm.
        from_head_mm: from the head of the back to the upper edge of its ink; None where unsaid.
    """

    width_mm: float
    height_mm: float
    from_head_mm: float | None = None
