"""What should a binder know of the label itself?

In: the job, its usable panel, the setting shown. Out: findings on a label bent over a round (its
flat width), and where one stands on the front board. A label is centred on the board paper of a
quarter or half binding, between joint and fore edge of a full one. The recess it may lie in is for
`recess`. Lengths in mm; figures come from rules.toml front_board.*.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spinefit.geometry import UsablePanel
from spinefit.geometry.back import BentLabel, bent_label, build_back, lapping_label
from spinefit.job.resolved import (
    ResolvedBoard,
    ResolvedJob,
)
from spinefit.judgement.covering import label_width_mm
from spinefit.judgement.finding import CUT_WIDTH, Finding
from spinefit.judgement.judged import Judged, Sides
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Lap, Level, Material, Place, Turn

LAP_TOPICS = ("label-lap", "lap-short", "lap-cracks", "lap-pared", "lap-holds")
"""What is found of a label that goes round over the joints."""

_AT_A_JOINT: dict[Material | None, tuple[str, Level]] = {
    Material.LEATHER: ("lap-pared", Level.NOTE),
    Material.CLOTH: ("lap-holds", Level.GOOD),
    Material.LINED_PAPER: ("lap-holds", Level.GOOD),
}


def bent(job: ResolvedJob, panel: UsablePanel, covers_mm: float) -> BentLabel | None:
    """A label over the job's round or joints; None for no such label, or an unknown radius.

    One that goes round over the joints is cut for the greatest width of a range.
    """
    back = panel.back
    if job.lap is not None and back is not None and job.label_thickness_mm is not None:
        if job.widest is not None:
            back = build_back(job.widest, job.rules)
        return lapping_label(back, job.label_thickness_mm, job.lap)
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
    old, width_mm = job.old_lettering, panel.width_mm
    if old is not None and old.covered:  # it may reach farther round than ink may
        width_mm = max(width_mm, min(old.label_mm[0], label_width_mm(job, panel)))
    label = bent(job, panel, width_mm)
    if label is not None:
        # Only a label over the joints is cut for a round that was not measured.
        measured = panel.back is None or panel.back.curve_known
        yield Finding.of(
            CUT_WIDTH[job.lap is not None], Level.NOTE if measured else Level.WARNING,
            label.cut_width_mm, label.covers_mm, "mm", label=label, measured=measured,
            bends=label.bend_mm > SAME_MM,
        )  # fmt: skip
    if job.lap is not None:
        yield from _over_joints(job, job.lap)


def _over_joints(job: ResolvedJob, lap: Lap) -> Iterator[Finding]:
    """Whether a label holds where it goes round over the joints, and its covering holds it."""
    least, material = job.rules["lap.least_mm"], job.method.material
    if lap.board_mm < least.value - SAME_MM:
        yield Finding.by_rule("lap-short", Level.WARNING, lap.board_mm, least)
    topic, level = _AT_A_JOINT.get(material, ("lap-cracks", Level.WARNING))
    yield Finding.of(topic, level, material, known=material is not None)


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
    least_mm = (0.0, 0.0) if job.old_lettering is None else job.old_lettering.label_mm
    width_mm, height_mm = (math.ceil(each + around_mm) for each in ink_mm)
    return max(width_mm, least_mm[0]), max(height_mm, least_mm[1])


def lapping_height_mm(job: ResolvedJob, panel: UsablePanel, one: Judged) -> float:
    """The height at which a label over the joints is cut: round ink and margin, or over old ink."""
    over = one.over_old
    if over is not None and over.label_mm is not None:
        return over.label_mm[3] - over.label_mm[1]
    _width_mm, height_mm = label_on_board_mm(job, one)
    return height_mm if panel.height_mm is None else min(height_mm, panel.height_mm)


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
