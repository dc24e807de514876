"""How large is the opening for a label, and of what is the board built up?

In: a label's width and height and a recess completed, in mm. Out: a `RecessPlan`. The opening
leaves room for the label, the clearance and the covering that is drawn down its walls; its
depth is that of the cards cut through, since the covering lies under the label as well as
beside it. As many cards lie on the other face, so that the board is pulled alike.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.job.resolved import Figure, ResolvedRecess

__all__ = ["Layer", "RecessPlan", "recess_plan"]


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


def recess_plan(
    recess: ResolvedRecess, width_mm: float, height_mm: float, rules: Rules
) -> RecessPlan:
    """The recess for a label.

    Args:
        recess: thicknesses and clearance.
        width_mm: width of the label.
        height_mm: its height.
        rules: for what is trimmed off the pressing piece.
    """
    covered_mm = 2 * recess.clearance.value_mm
    cut_mm = covered_mm + 2 * recess.covering.value_mm
    depth_mm = recess.cards * recess.card.value_mm
    total_mm = recess.board.value_mm
    core = Figure(total_mm - 2 * depth_mm, recess.board.source, recess.board.status)
    cards = tuple(Layer("card", recess.card, True) for _ in range(recess.cards))
    trim_mm = 2 * rules.value("recess.trim_mm")
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
    )
