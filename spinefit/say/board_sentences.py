"""How are findings on a front board and on a recess said?

One sentence a topic, as in `sentences`; loaded only where there is such a finding.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from spinefit.judgement.finding import Finding
from spinefit.say.phrasing import mm, mm_against

if TYPE_CHECKING:
    from spinefit.geometry.recess import RecessPlan
    from spinefit.judgement.boards import BoardPlace

__all__ = ["TEXTS", "place_in_words", "recess_in_words"]


def _place_of(finding: Finding) -> BoardPlace:
    place: Any = finding.facts["place"]
    found: BoardPlace = place
    return found


def _plan_of(finding: Finding) -> RecessPlan:
    plan: Any = finding.facts["plan"]
    found: RecessPlan = plan
    return found


def place_in_words(place: BoardPlace) -> str:
    """Where the label's middle stands, as it is measured off on the board."""
    what = "label" if place.is_label else "lettering"
    start = "leather" if place.board.leather_mm > place.board.joint_mm else "joint"
    size = f"{mm(place.label_width_mm)} wide, {mm(place.label_height_mm)} high"
    if place.advised and place.is_label:
        size = f"advised {size}"
    return (
        f"{what} {size}; its middle {mm(place.from_head_mm)} from the head and "
        f"{mm(place.from_free_mm)} from the {start}, {mm(place.from_fore_edge_mm)} from the fore "
        "edge"
    )


def recess_in_words(plan: RecessPlan) -> str:
    """What is cut, how deep, and of what the board is made."""
    layers = ", ".join(
        f"{layer.what} {layer.thickness.value_mm:.4g}{' cut through' if layer.cut else ''}"
        for layer in plan.layers
    )
    return (
        f"cut {mm(plan.opening_width_mm)} x {mm(plan.opening_height_mm)}, {plan.depth_mm:.4g} mm "
        f"deep; from the face: {layers}, in all {plan.total_mm:.4g} mm; pressing piece "
        f"{mm(plan.pressing_width_mm)} x {mm(plan.pressing_height_mm)}"
    )


def _board_place(finding: Finding) -> str:
    place = _place_of(finding)
    between = (
        "centred on the board paper"
        if place.board.leather_mm > place.board.joint_mm
        else "centred between joint and fore edge"
    )
    return f"The {place_in_words(place)}: {between}."


def _value(finding: Finding) -> float:
    value: Any = finding.value
    return float(value)


def _limit(finding: Finding) -> float:
    limit: Any = finding.limit
    return float(limit)


TEXTS: dict[str, Callable[[Finding], str]] = {
    "board-place": _board_place,
    "board-edge": lambda f: (
        f"Only {mm_against(_value(f), _limit(f))} lie between the label and the nearest edge of "
        f"its place; {mm(_limit(f))} look settled and are rubbed less."
    ),
    "board-corner": lambda f: (
        f"The label comes within {mm_against(max(0.0, _value(f)), _limit(f))} of a leather corner."
        if _value(f) > 0
        else f"The label runs {mm(-_value(f))} over a leather corner."
    ),
    "recess-depth": lambda f: (
        f"The recess is {_plan_of(f).depth_mm:.4g} mm deep, the label "
        f"{_plan_of(f).label_thickness_mm:.4g} mm thick: it lies safe, {_value(f):.2f} mm below "
        "the face."
    ),
    "recess-shallow": lambda f: (
        f"The recess of {_value(f):.4g} mm is shallower than the label of {_limit(f):.4g} mm, "
        "whose edge would be rubbed: cut another card through, or pare the label."
    ),
    "recess-deep": lambda f: (
        f"The label would lie {_value(f):.2f} mm below the face, deeper than need be, and gather "
        "dirt at its edge: take a thinner card, or line the label."
    ),
    "recess-weak": lambda f: (
        f"Only {_value(f):.4g} mm of the {_plan_of(f).total_mm:.4g} mm are whole board between the "
        f"cards, and {_limit(f):.4g} mm are asked: take a thicker board."
    ),
    "recess-edge": lambda f: (
        f"Only {mm_against(max(0.0, _value(f)), _limit(f))} of card are left between the opening "
        f"and an edge; {mm(_limit(f))} hold: a smaller label, or no recess."
        if _value(f) > 0
        else f"The opening runs {mm(-_value(f))} over the edge: a smaller label, or no recess."
    ),
    "recess-small": lambda f: (
        "The piece cut out is too small to be trimmed for pressing: press the covering in with a "
        "folder."
    ),
    "recess-round": lambda f: (
        "A rounded back has no board to cut a recess in: line it with a stiffener bent to the "
        "round, and give its thickness with --stiffener, or paste the label on."
    ),
}
"""The sentence of each topic."""
