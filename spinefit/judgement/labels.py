"""What should a binder know of the label itself?

In: the job, its usable panel, the setting shown. Out: findings on a label bent over a round (its
flat width), on one that is to cover old lettering (its least size, and whether the back takes
it), and where one stands on the front board. A label is centred on the board paper of a quarter
or half binding, between joint and fore edge of a full one. The recess it may lie in is for
`recess`. Lengths in mm; figures come from rules.toml front_board.*.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spinefit import catalogue
from spinefit.geometry import UsablePanel
from spinefit.geometry.back import BentLabel, bent_label
from spinefit.job.resolved import (
    ResolvedBoard,
    ResolvedJob,
    ResolvedOldLettering,
)
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged, Sides
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Level, Place, Turn

__all__ = [
    "BoardPlace",
    "LabelRoom",
    "bent",
    "board_findings",
    "board_place",
    "label_findings",
    "label_on_board_mm",
    "room_for_label",
]

_OF_LABELS = "paper-label"  # whose edge is taken where the method is no label


class LabelRoom(NamedTuple):
    """What a back, or the label already chosen, offers a label that is to cover something.

    Attributes:
        width_mm: between the joints less the label's edge, over the round; or the label's.
        height_mm: of the panel, or the label's; None where the height is open.
    """

    width_mm: float
    height_mm: float | None

    def lacks_width(self, width_mm: float) -> bool:
        """Whether a label so wide has no room."""
        return width_mm > self.width_mm + SAME_MM

    def lacks_height(self, height_mm: float) -> bool:
        """Whether a label so high has no room."""
        return self.height_mm is not None and height_mm > self.height_mm + SAME_MM


def room_for_label(job: ResolvedJob, panel: UsablePanel) -> LabelRoom:
    """The largest label there is room for, in mm.

    It may reach farther round than ink may, so the largest angle does not count.
    """
    if job.spine is None or panel.back is None:
        return LabelRoom(panel.width_mm, panel.height_mm)
    edge_mm = job.spine.edge_mm
    if job.method.place is not Place.LABEL and "edge" not in job.spine.typed:
        row = catalogue.method(_OF_LABELS).label_edge
        edge_mm = edge_mm if row is None else row.value
    return LabelRoom(max(0.0, panel.back.developed_width_mm - 2 * edge_mm), panel.height_mm)


def bent(job: ResolvedJob, panel: UsablePanel, covers_mm: float) -> BentLabel | None:
    """A label over the job's round; None where there is no label or the radius is not known."""
    back = panel.back
    if job.label_thickness_mm is None or back is None or covers_mm <= 0:
        return None
    if back.radius_mm is None or not back.curve_known:
        return None
    return bent_label(back.radius_mm, job.label_thickness_mm, covers_mm)


def label_findings(job: ResolvedJob, panel: UsablePanel) -> Iterator[Finding]:
    """Findings on the label, the gravest first.

    Args:
        job: the resolved job.
        panel: its usable panel, which is the label where the method is one.
    """
    if job.old_lettering is not None:
        yield from _covering(job, panel, job.old_lettering)
    label = bent(job, panel, panel.width_mm)
    if label is not None:
        yield Finding.of(
            "label-cut-width", Level.NOTE, label.cut_width_mm, label.covers_mm, "mm", label=label
        )


def _covering(job: ResolvedJob, panel: UsablePanel, old: ResolvedOldLettering) -> Iterator[Finding]:
    """The least label, and what keeps it from covering; or that the label chosen covers."""
    (width_mm, height_mm), room = old.label_mm, room_for_label(job, panel)
    begins_mm = None if old.from_head_mm is None else old.from_head_mm - old.overlap.value
    chosen = job.spine is None
    lacking = False
    for topic, needed_mm, given_mm, is_lacking in (
        ("old-lettering-width", width_mm, room.width_mm, room.lacks_width(width_mm)),
        ("old-lettering-height", height_mm, room.height_mm, room.lacks_height(height_mm)),
    ):
        if is_lacking:
            lacking = True
            found = Finding.by_rule(topic, Level.WARNING, needed_mm, old.overlap, chosen=chosen)
            yield found._replace(limit=given_mm, unit="mm")
    if lacking:
        return
    misplaced = _outside(panel, begins_mm, height_mm)
    if misplaced:
        yield Finding.by_rule(
            "old-lettering-outside", Level.WARNING, begins_mm, old.overlap, **misplaced
        )
        return
    label = bent(job, panel, width_mm)
    yield Finding.by_rule(
        "old-lettering-covered", Level.GOOD, width_mm, old.overlap,
        chosen=chosen, height_mm=height_mm, bent=label, begins_mm=begins_mm,
    )  # fmt: skip


def _outside(panel: UsablePanel, begins_mm: float | None, height_mm: float) -> dict[str, float]:
    """Where a label from a place on would leave its panel, from the head; empty where it keeps."""
    middle_mm = panel.middle_from_head_mm
    if begins_mm is None or middle_mm is None or panel.height_mm is None:
        return {}
    first_mm, last_mm = middle_mm - panel.height_mm / 2, middle_mm + panel.height_mm / 2
    ends_mm = begins_mm + height_mm
    if begins_mm >= first_mm - SAME_MM and ends_mm <= last_mm + SAME_MM:
        return {}
    return {"ends_mm": ends_mm, "first_mm": first_mm, "last_mm": last_mm}


class BoardPlace(NamedTuple):
    """A label on the front board; mm.

    Attributes:
        board: the board.
        label_width_mm, label_height_mm: the label; of lettering straight on the board its ink.
        is_label: False for lettering straight on the board.
        advised: True where the label is as large as the lettering asks, not cut already.
        from_back_mm: from the back's edge of the board to the middle of the label.
        from_free_mm: from where the free part begins (joint or leather) to that middle.
        from_fore_edge_mm: from the fore edge to it.
        from_head_mm: from the head to it.
        around_mm: from the label to joint or leather, fore edge, head and tail of the board.
    """

    board: ResolvedBoard
    label_width_mm: float
    label_height_mm: float
    is_label: bool
    advised: bool
    from_back_mm: float
    from_free_mm: float
    from_fore_edge_mm: float
    from_head_mm: float
    around_mm: Sides


def board_place(job: ResolvedJob, one: Judged) -> BoardPlace | None:
    """Where the label of a setting stands on the front board; None on a back or panel.

    Args:
        job: the resolved job.
        one: the setting; without a label that is cut already it gives the label's size.
    """
    board = job.front_board
    if board is None:
        return None
    width_mm, height_mm = label_on_board_mm(job, one)
    free_mm = board.width_mm - board.free_from_mm
    across_mm = job.rules.value("front_board.across") * free_mm
    from_back_mm = board.free_from_mm + across_mm
    return BoardPlace(
        board=board,
        label_width_mm=width_mm,
        label_height_mm=height_mm,
        is_label=job.method.place is Place.LABEL,
        advised=not board.label_given,
        from_back_mm=from_back_mm,
        from_free_mm=across_mm,
        from_fore_edge_mm=board.width_mm - from_back_mm,
        from_head_mm=board.from_head_mm,
        around_mm=Sides(
            left=across_mm - width_mm / 2,
            right=board.width_mm - from_back_mm - width_mm / 2,
            head=board.from_head_mm - height_mm / 2,
            tail=board.height_mm - board.from_head_mm - height_mm / 2,
        ),
    )


def label_on_board_mm(job: ResolvedJob, one: Judged) -> tuple[float, float]:
    """Width and height of the label: as cut, else whole millimetres round ink and margin."""
    if job.front_board is not None and job.front_board.label_given:
        assert job.panel is not None  # the label is the panel
        return job.panel.width_mm, job.panel.height_mm
    ink_mm = [one.ink_width_mm, one.ink_height_mm]
    if one.layout.candidate.turn is not Turn.NONE:
        ink_mm.reverse()
    if job.method.place is not Place.LABEL:
        return ink_mm[0], ink_mm[1]
    around_mm = 2 * job.lettering.clearance_mm - 2 * SAME_MM
    return math.ceil(ink_mm[0] + around_mm), math.ceil(ink_mm[1] + around_mm)


def board_findings(job: ResolvedJob, place: BoardPlace) -> Iterator[Finding]:
    """Where the label stands, and what is too near to it."""
    across, least = job.rules["front_board.across"], job.rules["front_board.least_edge_mm"]
    stands = Finding.by_rule("board-place", Level.GOOD, place.from_back_mm, across, place=place)
    yield stands._replace(limit=None, unit="mm")
    for topic, apart_mm in (
        ("board-edge", min(place.around_mm.known())),
        ("board-corner", _to_corner_mm(place)),
    ):
        if apart_mm is not None and apart_mm < least.value - SAME_MM:
            yield Finding.by_rule(topic, Level.WARNING, apart_mm, least, place=place)


def _to_corner_mm(place: BoardPlace) -> float | None:
    """From the label to the nearer leather corner at the fore edge; below 0 where it covers it."""
    corners_mm = place.board.corners_mm
    if corners_mm <= 0:
        return None
    head_mm, tail_mm = place.around_mm.head or 0.0, place.around_mm.tail or 0.0
    return (place.around_mm.right + min(head_mm, tail_mm) - corners_mm) / math.sqrt(2)
