"""Where does a label stand on the front board, and what is to be said of its recess?

In: the job, its panel and the setting shown. Out: a `BoardPlace` and a `RecessPlan` with the
findings on both. A label is centred on the board paper of a quarter or half binding, between
joint and fore edge of a full one. Lengths in mm; figures come from rules.toml front_board.*
and recess.*.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from spinefit.geometry import UsablePanel
from spinefit.geometry.recess import RecessPlan, recess_plan
from spinefit.job.resolved import ResolvedBoard, ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.placing import Sides
from spinefit.units import mm_from_pt
from spinefit.vocabulary import BackForm, Level, Place, Turn

__all__ = ["BoardPlace", "board_findings", "board_place", "recess_findings", "recess_of"]

_SLACK_MM = 1e-9  # rounding of sums of typed decimals


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
    width_mm, height_mm = _label_of(job, one)
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


def _label_of(job: ResolvedJob, one: Judged) -> tuple[float, float]:
    """Width and height of the label: as cut, else whole millimetres round ink and margin."""
    if job.front_board is not None and job.front_board.label_given:
        assert job.panel is not None  # the label is the panel
        return job.panel.width_mm, job.panel.height_mm
    left, bottom, right, top = one.layout.group.box
    ink_mm = [side * mm_from_pt(one.set_pt) for side in (right - left, top - bottom)]
    if one.layout.candidate.turn is not Turn.NONE:
        ink_mm.reverse()
    if job.method.place is not Place.LABEL:
        return ink_mm[0], ink_mm[1]
    around_mm = 2 * job.lettering.clearance_mm - _SLACK_MM
    return math.ceil(ink_mm[0] + around_mm - _SLACK_MM), math.ceil(
        ink_mm[1] + around_mm - _SLACK_MM
    )


def board_findings(job: ResolvedJob, place: BoardPlace) -> list[Finding]:
    """Where the label stands, and what is too near to it."""
    rules = job.rules
    facts: dict[str, object] = {"place": place}
    found = [
        Finding.by_rule(
            "board-place", Level.GOOD, place.from_back_mm, rules["front_board.across"], **facts
        )._replace(limit=None, unit="mm")
    ]
    least = rules["front_board.least_edge_mm"]
    nearest_mm = min(place.around_mm.known())
    if nearest_mm < least.value - _SLACK_MM:
        found.append(Finding.by_rule("board-edge", Level.WARNING, nearest_mm, least, **facts))
    corner_mm = _to_corner_mm(place)
    if corner_mm is not None and corner_mm < least.value - _SLACK_MM:
        found.append(Finding.by_rule("board-corner", Level.WARNING, corner_mm, least, **facts))
    return found


def _to_corner_mm(place: BoardPlace) -> float | None:
    """From the label to the nearer leather corner at the fore edge; below 0 where it covers it."""
    corners_mm = place.board.corners_mm
    if corners_mm <= 0:
        return None
    head_mm, tail_mm = place.around_mm.head or 0.0, place.around_mm.tail or 0.0
    return (place.around_mm.right + min(head_mm, tail_mm) - corners_mm) / math.sqrt(2)


def recess_of(job: ResolvedJob, panel: UsablePanel, one: Judged) -> RecessPlan | None:
    """The recess for the label of a setting; None where none is wanted.

    Args:
        job: the resolved job.
        panel: its usable panel, on a back the room for a label.
        one: the setting, which says how large a label that is not cut yet must be.
    """
    if job.recess is None:
        return None
    if job.front_board is not None:
        width_mm, height_mm = _label_of(job, one)
    elif job.spine is None:
        assert panel.height_mm is not None  # the label itself
        width_mm, height_mm = panel.width_mm, panel.height_mm
    else:
        width_mm, height_mm = panel.width_mm, _needed_mm(panel, one)
    return recess_plan(job.recess, width_mm, height_mm, job.rules)


def _needed_mm(panel: UsablePanel, one: Judged) -> float:
    """How high a label on a back must be for a setting, in whole millimetres; at most its room."""
    assert panel.height_mm is not None  # a recess in a back of open height is refused
    head_mm, tail_mm = _free_ends_mm(one)
    return min(panel.height_mm, math.ceil(panel.height_mm - head_mm - tail_mm - _SLACK_MM))


def _free_ends_mm(one: Judged) -> tuple[float, float]:
    """What a setting leaves of its room above and below; nothing where it is too large for it."""
    head_mm, tail_mm = one.spare_mm.head or 0.0, one.spare_mm.tail or 0.0
    return (head_mm, tail_mm) if min(head_mm, tail_mm) >= 0 else (0.0, 0.0)


def recess_findings(
    job: ResolvedJob, panel: UsablePanel, one: Judged, plan: RecessPlan, place: BoardPlace | None
) -> list[Finding]:
    """Whether the recess suits its label, its board and its place."""
    rules = job.rules
    facts: dict[str, object] = {"plan": plan}
    found = [_depth(job, plan, facts)]
    share = rules["recess.least_core"]
    core_mm = plan.total_mm - 2 * plan.depth_mm
    if core_mm < share.value * plan.total_mm - _SLACK_MM:
        least_mm = share._replace(value=share.value * plan.total_mm, unit="mm")
        found.append(Finding.by_rule("recess-weak", Level.WARNING, core_mm, least_mm, **facts))
    bar_mm = _bar_mm(plan, panel, one, place)
    least = rules["recess.least_bar_mm"]
    if bar_mm is not None and bar_mm < least.value - _SLACK_MM:
        found.append(Finding.by_rule("recess-edge", Level.WARNING, bar_mm, least, **facts))
    if min(plan.pressing_width_mm, plan.pressing_height_mm) <= 0:
        trim = rules["recess.trim_mm"]
        found.append(
            Finding.by_rule("recess-small", Level.WARNING, plan.opening_height_mm, trim, **facts)
        )
    rounded = job.spine is not None and job.spine.form is BackForm.ROUNDED
    if rounded and job.recess is not None and not job.recess.stiffened:
        rule = rules["recess.stiffener_mm"]
        found.append(Finding.by_rule("recess-round", Level.FAILURE, None, rule, **facts))
    return found


def _depth(job: ResolvedJob, plan: RecessPlan, facts: dict[str, object]) -> Finding:
    """Whether the label lies level with the face, too high or too deep."""
    spare_mm = plan.depth_mm - plan.label_thickness_mm
    most = job.rules["recess.most_deeper_mm"]
    if spare_mm < -_SLACK_MM:
        return Finding.by_rule(
            "recess-shallow", Level.FAILURE, plan.depth_mm, job.rules["recess.card_mm"], **facts
        )._replace(limit=plan.label_thickness_mm)
    if spare_mm > most.value + _SLACK_MM:
        return Finding.by_rule("recess-deep", Level.NOTE, spare_mm, most, **facts)
    return Finding.by_rule("recess-depth", Level.GOOD, spare_mm, most, **facts)


def _bar_mm(
    plan: RecessPlan, panel: UsablePanel, one: Judged, place: BoardPlace | None
) -> float | None:
    """The least width of card between the opening and an edge; None where no edge is known."""
    beyond_mm = (plan.opening_width_mm - plan.label_width_mm) / 2
    if place is not None:
        board = place.around_mm
        from_back_mm = board.left + place.board.free_from_mm  # the card reaches under the leather
        return min(from_back_mm, *board.known()[1:]) - beyond_mm
    if panel.back is None:
        return None
    margins = (panel.margin_head_mm, panel.margin_tail_mm)
    free = _free_ends_mm(one)
    ends = [end + more for end, more in zip(margins, free, strict=True) if end is not None]
    return min(panel.margin_left_mm, panel.margin_right_mm, *ends) - beyond_mm
