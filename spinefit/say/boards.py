"""What is reported of a front board and of a recess?

In: where the label stands and how its recess is made. Out: plain records of the report. Loaded
only where there is one of the two.
"""

from __future__ import annotations

from spinefit.geometry.recess import RecessPlan
from spinefit.judgement.labels import BoardPlace
from spinefit.say.model import FrontBoardReport, LayerReport, RecessReport, SpareReport
from spinefit.say.sentences import place_in_words, recess_in_words

__all__ = ["RECESS_CAUTIONS", "front_board_report", "recess_report"]

RECESS_CAUTIONS = (
    "Cut with a sharp blade along a steel rule in several light strokes, fingers clear of its "
    "path, the card flat on a cutting mat; follow the rules of the workshop.",
    "Cut the opening before the boards are made up, and try the label, wrapped in a strip of the "
    "covering, in it.",
    "Press the covering in with the trimmed piece while the adhesive is soft, and let all of it "
    "dry under weight before the label goes in.",
)
"""What to mind with knives, and with a covering that is drawn into an opening."""


def front_board_report(place: BoardPlace) -> FrontBoardReport:
    """The label on the front board."""
    board, around = place.board, place.around_mm
    return FrontBoardReport(
        width_mm=board.width_mm,
        height_mm=board.height_mm,
        joint_mm=board.joint_mm,
        leather_mm=board.leather_mm,
        corners_mm=board.corners_mm,
        label_width_mm=place.label_width_mm,
        label_height_mm=place.label_height_mm,
        label_advised=place.advised,
        from_head_mm=place.from_head_mm,
        from_free_edge_mm=place.from_free_mm,
        from_fore_edge_mm=place.from_fore_edge_mm,
        around_mm=SpareReport(around.left, around.right, around.head, around.tail),
        text=place_in_words(place),
    )


def recess_report(plan: RecessPlan) -> RecessReport:
    """The recess for the label."""
    return RecessReport(
        label_mm=(plan.label_width_mm, plan.label_height_mm, plan.label_thickness_mm),
        opening_mm=(plan.opening_width_mm, plan.opening_height_mm),
        covered_mm=(plan.covered_width_mm, plan.covered_height_mm),
        depth_mm=plan.depth_mm,
        build_up=tuple(
            LayerReport(
                layer.what,
                layer.thickness.value_mm,
                layer.cut,
                layer.thickness.source,
                layer.thickness.status,
            )
            for layer in plan.layers
        ),
        board_mm=plan.total_mm,
        remaining_mm=plan.remaining_mm,
        pressing_piece_mm=(plan.pressing_width_mm, plan.pressing_height_mm),
        text=recess_in_words(plan),
        cautions=RECESS_CAUTIONS,
    )
