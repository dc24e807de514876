"""How is the recess for a label cut, and does it suit its label, its board and its place?

In: the job, its usable panel, the setting shown, and where a label on a front board stands. Out:
the plan of the recess, and findings on it: whether the label lies level, whether enough whole
board is left under it, and enough card between the opening and each edge, or it tears. Lengths
in mm; figures come from rules.toml recess.*.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import Figure, ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged, Sides
from spinefit.judgement.labels import BoardPlace, board_place, label_on_board_mm
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import BackForm, Level


class Layer(NamedTuple):
    """One layer of the board, from the face inwards.

    Attributes:
        what: card or board.
        thickness: of it.
        cut: True where the opening goes through it.
    """

    what: str
    thickness: Figure
    cut: bool


class RecessPlan(NamedTuple):
    """What is cut, and what it is cut in; mm.

    Attributes:
        label_width_mm, label_height_mm, label_thickness_mm: the label.
        opening_width_mm, opening_height_mm: the opening as it is cut, before covering.
        covered_width_mm, covered_height_mm: the same once the covering lies in it.
        depth_mm: of the recess.
        layers: the build-up from the face inwards.
        total_mm: thickness of the whole.
        remaining_mm: thickness left under the label.
        pressing_width_mm, pressing_height_mm: the piece cut out, trimmed for pressing.
        card_mm: what is left of card from the opening to each edge, below 0 where it runs over;
            None where no edge is known.
    """

    label_width_mm: float
    label_height_mm: float
    label_thickness_mm: float
    opening_width_mm: float
    opening_height_mm: float
    covered_width_mm: float
    covered_height_mm: float
    depth_mm: float
    layers: tuple[Layer, ...]
    total_mm: float
    remaining_mm: float
    pressing_width_mm: float
    pressing_height_mm: float
    card_mm: Sides | None


def recess_of(
    job: ResolvedJob, panel: UsablePanel, one: Judged, place: BoardPlace | None
) -> RecessPlan | None:
    """The recess for the label of a setting; None where none is wanted.

    The opening leaves room for the label, the clearance and the covering that is drawn down its
    walls; its depth is that of the cards cut through, since the covering lies under the label as
    well as beside it. As many cards lie on the other face, so that the board is pulled alike.

    Args:
        job: the resolved job.
        panel: its usable panel, on a back the room for a label.
        one: the setting, which says how large a label that is not cut yet must be.
        place: where the label stands on a front board.
    """
    recess = job.recess
    if recess is None:
        return None
    if job.front_board is not None:
        width_mm, height_mm = label_on_board_mm(job, one)
    elif job.spine is None:
        assert panel.height_mm is not None  # the label itself
        width_mm, height_mm = panel.width_mm, panel.height_mm
    else:
        high_mm = _needed_mm(panel, one) if job.label is None else job.label.height_mm
        width_mm, height_mm = panel.width_mm, high_mm
    covered_mm = 2 * recess.clearance.value_mm
    cut_mm = covered_mm + 2 * recess.covering.value_mm
    depth_mm = recess.cards * recess.card.value_mm
    total_mm = recess.board.value_mm
    core = Figure(total_mm - 2 * depth_mm, recess.board.source, recess.board.status)
    cards = tuple(Layer("card", recess.card, True) for _ in range(recess.cards))
    around_mm = recess.covering.value_mm + recess.clearance.value_mm  # the piece goes in over it
    trim_mm = 2 * max(job.rules.value("recess.trim_mm"), around_mm)
    return RecessPlan(
        label_width_mm=width_mm,
        label_height_mm=height_mm,
        label_thickness_mm=recess.label.value_mm,
        opening_width_mm=width_mm + cut_mm,
        opening_height_mm=height_mm + cut_mm,
        covered_width_mm=width_mm + covered_mm,
        covered_height_mm=height_mm + covered_mm,
        depth_mm=depth_mm,
        layers=(*cards, Layer("board", core, False), *(one._replace(cut=False) for one in cards)),
        total_mm=total_mm,
        remaining_mm=total_mm - depth_mm,
        pressing_width_mm=max(0.0, width_mm + cut_mm - trim_mm),
        pressing_height_mm=max(0.0, height_mm + cut_mm - trim_mm),
        card_mm=_card_mm(panel, one, place, beyond_mm=cut_mm / 2),
    )


def _needed_mm(panel: UsablePanel, one: Judged) -> float:
    """How high a label on a back must be for a setting, in whole millimetres; at most its room."""
    assert panel.height_mm is not None  # a recess in a back of open height is refused
    if one.over_old is not None and one.over_old.label_mm is not None:
        return one.over_old.label_mm[3] - one.over_old.label_mm[1]
    head_mm, tail_mm = _free_ends_mm(one)
    return min(panel.height_mm, math.ceil(panel.height_mm - head_mm - tail_mm - SAME_MM))


def _free_ends_mm(one: Judged) -> tuple[float, float]:
    """What a setting leaves of its room above and below; nothing where it is too large for it."""
    head_mm, tail_mm = one.spare_mm.head or 0.0, one.spare_mm.tail or 0.0
    return (head_mm, tail_mm) if min(head_mm, tail_mm) >= 0 else (0.0, 0.0)


def recess_findings(job: ResolvedJob, plan: RecessPlan) -> Iterator[Finding]:
    """Whether the recess suits its label, its board and its place."""
    if job.old_lettering is not None:  # nothing of how it is cut counts then
        yield Finding.of("recess-covered", Level.FAILURE)
        return
    rules = job.rules
    yield _depth(job, plan)
    if plan.card_mm is not None:
        yield from _edge(job, plan, plan.card_mm)
    share = rules["recess.least_core"]
    core_mm = plan.total_mm - 2 * plan.depth_mm
    least_mm = share.value * plan.total_mm
    if core_mm < least_mm - SAME_MM:
        rule = share._replace(value=least_mm, unit="mm")
        yield Finding.by_rule("recess-weak", Level.WARNING, core_mm, rule, plan=plan)
    if min(plan.pressing_width_mm, plan.pressing_height_mm) <= 0:
        trim, opening_mm = rules["recess.trim_mm"], plan.opening_height_mm
        yield Finding.by_rule("recess-small", Level.WARNING, opening_mm, trim, plan=plan)
    rounded = job.spine is not None and job.spine.form is BackForm.ROUNDED
    if rounded and job.recess is not None and not job.recess.stiffened:
        rule = rules["recess.stiffener_mm"]
        yield Finding.by_rule("recess-round", Level.FAILURE, None, rule, plan=plan)


def can_be_cut(job: ResolvedJob, one: Judged) -> bool:
    """Whether the recess for the label of a setting spoils nothing, as far as it can be known.

    What may be put right while it is made, by a thicker board or a folder, is only warned of.
    """
    plan = recess_of(job, one.layout.panel, one, board_place(job, one))
    return plan is None or all(
        found.level is not Level.FAILURE for found in recess_findings(job, plan)
    )


def _edge(job: ResolvedJob, plan: RecessPlan, card_mm: Sides) -> Iterator[Finding]:
    """Whether the card that is left at each edge holds; if not, what would leave enough.

    A label stands in the middle of its width, so that across only a narrower one helps; along the
    back it can be moved where both ends together leave enough.
    """
    least = job.rules["recess.least_bar_mm"]
    bar_mm = min(card_mm.known())
    if bar_mm >= least.value - SAME_MM:
        return
    across_mm = max(0.0, least.value - min(card_mm.left, card_mm.right))
    ends_mm = [least.value if one is None else one for one in card_mm[2:]]
    along_mm = max(0.0, least.value - min(ends_mm))
    over_mm = max(0.0, 2 * least.value - sum(ends_mm)) if along_mm else 0.0
    edge_mm = None if job.spine is None or not across_mm else job.spine.edge_mm + across_mm
    yield Finding.by_rule(
        "recess-edge", Level.FAILURE, bar_mm, least,
        most_wide_mm=plan.label_width_mm - 2 * across_mm if across_mm else None,
        most_high_mm=plan.label_height_mm - over_mm if over_mm else None,
        moved_mm=None if over_mm or not along_mm else along_mm,
        end="head" if ends_mm[0] < ends_mm[1] else "tail",
        edge_mm=edge_mm,
    )  # fmt: skip


def _depth(job: ResolvedJob, plan: RecessPlan) -> Finding:
    """Whether the label lies level with the face, too high or too deep."""
    spare_mm = plan.depth_mm - plan.label_thickness_mm
    card, most = job.rules["recess.card_mm"], job.rules["recess.most_deeper_mm"]
    if spare_mm < -SAME_MM:
        found = Finding.by_rule("recess-shallow", Level.FAILURE, plan.depth_mm, card, plan=plan)
        return found._replace(limit=plan.label_thickness_mm)
    if spare_mm > most.value + SAME_MM:
        return Finding.by_rule("recess-deep", Level.NOTE, spare_mm, most, plan=plan)
    return Finding.by_rule("recess-depth", Level.GOOD, spare_mm, most, plan=plan)


def _card_mm(
    panel: UsablePanel, one: Judged, place: BoardPlace | None, *, beyond_mm: float
) -> Sides | None:
    """Card between the opening and each edge; None where no edge is known.

    Args:
        panel: the usable panel.
        one: the setting.
        place: where the label stands on a front board.
        beyond_mm: how far the opening reaches beyond the label on every side.
    """
    if place is not None:
        around = place.around_mm
        left_mm = around.left + place.board.free_from_mm  # the card reaches under the leather
        right_mm, ends_mm, more_mm = around.right, (around.head, around.tail), (0.0, 0.0)
    elif panel.back is None:
        return None
    else:
        left_mm, right_mm = panel.margin_left_mm, panel.margin_right_mm
        ends_mm = (panel.margin_head_mm, panel.margin_tail_mm)
        more_mm = _free_ends_mm(one)
    head_mm, tail_mm = (
        None if end_mm is None else end_mm + free_mm - beyond_mm
        for end_mm, free_mm in zip(ends_mm, more_mm, strict=True)
    )
    return Sides(left_mm - beyond_mm, right_mm - beyond_mm, head_mm, tail_mm)
