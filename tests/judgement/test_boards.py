"""A label on the front board and a recess for it: arithmetic by hand, findings, refusals."""

from __future__ import annotations

import math

import pytest

from spinefit import Job, Lettering, Panel, Spine
from spinefit.errors import SpinefitError
from spinefit.job.model import Recess
from spinefit.job.places import FrontBoard
from spinefit.pipeline import Answer, answer
from spinefit.say.as_json import to_dict
from spinefit.say.phrasing import shown_layout
from spinefit.say.remedies import remedies
from spinefit.vocabulary import BackForm, Level, Orientation

BOARD = Panel(width_mm=135, height_mm=215)


def on_board(
    *, recess: Recess | None = None, thick_mm: float | None = None, **board: object
) -> Answer:
    """A title on a front board of 135 x 215 mm unless otherwise said."""
    said = FrontBoard(**{"board": BOARD, **board})  # type: ignore[arg-type]
    job = Job(title="Tide Tables", front_board=said, recess=recess, label_thickness_mm=thick_mm)
    return answer(job)


def in_back(recess: Recess, *, back: BackForm = BackForm.FLAT, edge_mm: float = 6.0) -> Answer:
    """A label of 24 x 40 mm and more in a back of 36 mm."""
    spine = Spine(width_mm=36, height_mm=200, back=back, edge_mm=edge_mm, head_mm=20, foot_mm=120)
    return answer(Job(title="Tide Tables", spine=spine, method="paper-label", recess=recess))


def topics(found: Answer) -> dict[str, Level]:
    """Each topic that was found, with its level."""
    return {finding.topic: finding.level for finding in found.report.findings}


def test_of_a_full_binding_the_label_is_centred_between_joint_and_fore_edge() -> None:
    """Half the breadth from the joint, half the height from the head."""
    place = on_board().judgement.board_place
    assert place is not None
    assert (place.from_free_mm, place.from_fore_edge_mm) == (67.5, 67.5)
    assert place.from_head_mm == 107.5


def test_of_a_quarter_binding_it_is_centred_on_the_paper() -> None:
    """Leather of 40 mm leaves 95 mm of paper: 47.5 mm from either side of it."""
    place = on_board(leather_mm=40.0).judgement.board_place
    assert place is not None
    assert (place.from_free_mm, place.from_fore_edge_mm, place.from_back_mm) == (47.5, 47.5, 87.5)


def test_leaves_and_squares_make_the_board() -> None:
    """130 x 200 mm of leaves and squares of 3 mm: 133 x 206 mm, 7 mm of it in the joint."""
    found = on_board(board=None, leaves=Panel(width_mm=130, height_mm=200))
    place = found.judgement.board_place
    assert place is not None
    assert (place.board.width_mm, place.board.height_mm, place.board.joint_mm) == (133, 206, 7)
    assert place.from_back_mm == pytest.approx(7 + 63)


def test_the_advised_label_is_ink_and_margin_in_whole_millimetres() -> None:
    """No smaller than the ink and twice the clearance, by less than a millimetre larger."""
    found = on_board()
    best = found.report.layouts[found.report.recommended or 0]
    place = found.judgement.board_place
    assert place is not None and place.advised
    around_mm = 2 * found.job.lettering.clearance_mm
    for side, ink in (
        (place.label_width_mm, best.ink_width_mm),
        (place.label_height_mm, best.ink_height_mm),
    ):
        assert 0 <= side - ink - around_mm < 1 and side == int(side)


def test_a_label_that_is_cut_already_is_the_panel() -> None:
    """Judged as any label: its lettering across it, its baseline from the head of the board."""
    found = on_board(label=Panel(width_mm=60, height_mm=30), from_head_mm=70.0)
    assert found.report.panel[:2] == (60, 30)
    assert found.report.panel.of == "front board"
    best = found.report.layouts[found.report.recommended or 0]
    assert best.orientation is Orientation.TRANSVERSE
    assert {one.orientation for one in found.report.layouts} == {Orientation.TRANSVERSE}
    assert best.first_from_head_mm == pytest.approx(70 - best.baselines_mm[0])
    place = found.judgement.board_place
    assert place is not None
    assert place.around_mm == (37.5, 37.5, 55, 130)


def test_edges_and_corners_that_are_too_near_are_named() -> None:
    """A label 5 mm from the joint; another one that runs over a corner."""
    near = on_board(label=Panel(width_mm=125, height_mm=40))
    assert topics(near)["board-edge"] is Level.WARNING
    label = Panel(width_mm=100, height_mm=190)
    over = on_board(label=label, corners_mm=40.0)
    assert topics(over)["board-corner"] is Level.WARNING
    (finding,) = [one for one in over.report.findings if one.topic == "board-corner"]
    assert finding.value == pytest.approx((17.5 + 12.5 - 40) / math.sqrt(2))
    assert "over a leather corner" in finding.text
    assert not {"board-edge", "board-corner"} & set(topics(on_board(corners_mm=25.0)))


def test_a_larger_label_is_offered_on_the_board_and_holds() -> None:
    """A remedy that can be typed: followed by hand, it fits; and never larger than the board."""
    said = FrontBoard(board=BOARD, label=Panel(width_mm=20, height_mm=6))
    job = Job(title="Tide Tables", front_board=said, lettering=Lettering(size_pt=18, lines=1))
    found = answer(job)
    assert not found.report.fits
    (wider,) = [one for one in remedies(found.report) if one.change == "wider-label"]
    option, size, *_rest = wider.options.split()
    assert option == "--board-label"
    wide, high = map(float, size.removesuffix("mm").split("x"))
    larger = FrontBoard(board=BOARD, label=Panel(width_mm=wide, height_mm=high))
    again = answer(
        Job(title="Tide Tables", front_board=larger, lettering=Lettering(size_pt=18, lines=1))
    )
    assert again.report.fits
    assert not [one for one in remedies(found.report) if one.change == "cover"]


def test_opening_depth_and_build_up_by_hand() -> None:
    """Common practice, no source: 1.6 mm made as 1.0 + 0.3 + 0.3; the label 60 x 30 x 0.12 mm.

    Opening: 60 + 2 (0.3 gutter + 0.4 covering); pressing piece 1 mm less all round.
    """
    made_up = Recess(board_mm=1.6, card_mm=0.3, cards=1)
    found = on_board(label=Panel(width_mm=60, height_mm=30), recess=made_up)
    recess = to_dict(found.report)["recess"]
    assert recess["opening_mm"] == {"width": 61.4, "height": 31.4}
    assert recess["covered_mm"] == {"width": 60.6, "height": 30.6}
    assert recess["pressing_piece_mm"] == {"width": 59.4, "height": 29.4}
    assert (recess["depth_mm"], recess["remaining_mm"], recess["board_mm"]) == (0.3, 1.3, 1.6)
    layers = [(one["layer"], one["thickness_mm"], one["cut"]) for one in recess["build_up"]]
    assert layers == [("card", 0.3, True), ("board", 1.0, False), ("card", 0.3, False)]
    assert topics(found)["recess-depth"] is Level.GOOD


def test_a_board_that_was_not_measured_is_2_mm_and_the_page_asks_for_it() -> None:
    """Our choice, at the thin end of the 2 to 3 mm that boards are (practice)."""
    found = on_board(recess=Recess(wanted=True))
    recess = to_dict(found.report)["recess"]
    assert (recess["board_mm"], recess["remaining_mm"]) == (2.0, 1.7)
    assert {one["layer"]: one["status"] for one in recess["build_up"]} == {
        "card": "practice", "board": "chosen",
    }  # fmt: skip
    (said,) = [one for one in found.report.assumed if one.startswith("board thickness")]
    assert "measure yours" in said and "--board-thickness" in said


@pytest.mark.parametrize("covering_mm", [0.1, 0.4, 0.7, 1.2, 2.0])
def test_the_pressing_piece_goes_in_over_any_covering(covering_mm: float) -> None:
    """The opening less the covering that lies on both walls, leather of 1.2 mm too."""
    recess = on_board(recess=Recess(covering_mm=covering_mm)).judgement.recess
    assert recess is not None
    assert recess.covered_width_mm == pytest.approx(recess.opening_width_mm - 2 * covering_mm)
    assert recess.pressing_width_mm < recess.covered_width_mm
    assert recess.pressing_width_mm >= recess.label_width_mm - 2


def test_as_many_cards_are_cut_as_the_label_is_thick() -> None:
    """0.5 mm needs two cards of 0.3 mm; 0.3 mm needs one, not two."""
    for thick_mm, cards in ((0.5, 2), (0.3, 1), (0.31, 2), (0.9, 3)):
        found = on_board(recess=Recess(wanted=True, board_mm=3.0), thick_mm=thick_mm)
        recess = found.judgement.recess
        assert recess is not None
        assert sum(layer.cut for layer in recess.layers) == cards
        assert sum(layer.thickness.value_mm for layer in recess.layers) == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("recess", "thick_mm", "topic", "level"),
    [
        (Recess(cards=1), 0.5, "recess-shallow", Level.FAILURE),
        (Recess(cards=3, board_mm=3.0), 0.12, "recess-deep", Level.NOTE),
        (Recess(cards=2, card_mm=0.39, board_mm=1.6), 0.5, "recess-depth", Level.GOOD),
        (Recess(cards=2, board_mm=1.6), 0.5, "recess-weak", Level.WARNING),
    ],
    ids=["shallow", "deep", "right", "weak"],
)
def test_depth_against_the_label(recess: Recess, thick_mm: float, topic: str, level: Level) -> None:
    """Too high is a failure, too deep a note, too little whole board a warning."""
    assert topics(on_board(recess=recess, thick_mm=thick_mm))[topic] is level


def test_half_of_the_board_between_the_cards_is_enough() -> None:
    """Cards of 0.5 mm in 2 mm leave half; thicker ones less, and then nothing."""
    assert "recess-weak" not in topics(on_board(recess=Recess(card_mm=0.5)))
    assert "recess-weak" in topics(on_board(recess=Recess(card_mm=0.51)))
    with pytest.raises(SpinefitError, match="1 card of 1 mm on both faces leaves nothing between"):
        on_board(recess=Recess(card_mm=1.0))


def test_a_narrow_bar_beside_the_opening_is_named() -> None:
    """The edge of 3.5 mm less clearance and covering: 2.8 mm, under the 3 mm that hold."""
    (finding,) = [
        one for one in in_back(Recess(wanted=True), edge_mm=3.5).report.findings
        if one.topic == "recess-edge"
    ]  # fmt: skip
    assert finding.value == pytest.approx(2.8)
    assert "recess-edge" not in topics(in_back(Recess(wanted=True)))


def test_a_rounded_back_asks_for_a_stiffener() -> None:
    """Without one a failure; with one it is the board that is cut."""
    without = in_back(Recess(wanted=True), back=BackForm.ROUNDED)
    assert topics(without)["recess-round"] is Level.FAILURE
    with_one = in_back(Recess(stiffener_mm=1.0), back=BackForm.ROUNDED)
    assert "recess-round" not in topics(with_one)
    assert with_one.judgement.recess is not None
    assert with_one.judgement.recess.total_mm == 1.0
    assert "recess-round" not in topics(in_back(Recess(wanted=True)))


def test_a_recess_in_a_back_is_that_of_the_label_the_lines_need() -> None:
    """Not of all the room there is for one: a slit from head to tail holds no label."""
    found = in_back(Recess(wanted=True))
    plan, layout = found.judgement.recess, shown_layout(found.report)
    assert plan is not None and layout is not None
    assert layout.spare_mm.head is not None and layout.spare_mm.tail is not None
    room_mm = found.report.panel.height_mm
    assert room_mm is not None
    needed_mm = room_mm - layout.spare_mm.head - layout.spare_mm.tail
    assert needed_mm <= plan.label_height_mm < needed_mm + 1 < room_mm / 2
    assert plan.label_width_mm == found.report.panel.width_mm
    assert plan.opening_height_mm > plan.label_height_mm


def test_no_recess_where_none_is_wanted() -> None:
    """A job file may say so; then nothing is reported."""
    found = on_board(recess=Recess(wanted=False))
    assert found.report.recess is None and found.report.front_board is not None
    assert to_dict(found.report)["recess"] is None


BAD = {
    "board and leaves": ({"leaves": BOARD}, None, "the board and leaves given"),
    "neither": ({"board": None}, None, "neither the board nor the leaves"),
    "squares": ({"squares_mm": 3.0}, None, "squares count only"),
    "joint": ({"joint_mm": 140.0}, None, "nothing of the board lies clear"),
    "leather": ({"leather_mm": 140.0}, None, "reaches over all of the board"),
    "from head": ({"from_head_mm": 220.0}, None, "beyond the tail"),
    "label": ({"label": Panel(width_mm=140, height_mm=20)}, None, "larger than the 135 x 215"),
    "no room": ({"leather_mm": 130.0}, None, "leaves nothing of the board"),
    "cards": ({}, Recess(cards=0), "no number of cards"),
    "stiffener": ({}, Recess(stiffener_mm=1.0), "a stiffener is of the back"),
    "card": ({}, Recess(card_mm=0.0), "--card-thickness"),
}


@pytest.mark.parametrize(("board", "recess", "said"), BAD.values(), ids=BAD)
def test_what_cannot_be_is_refused(
    board: dict[str, object], recess: Recess | None, said: str
) -> None:
    """One line, with the value and what to do."""
    with pytest.raises(SpinefitError) as fault:
        on_board(recess=recess, **board)
    assert (said in str(fault.value) and ";" in str(fault.value)) or "--card" in str(fault.value)


def test_a_label_too_thick_for_its_cards_is_named_itself() -> None:
    """Not the number of cards, which nobody typed."""
    job = Job(
        title="Harbour Dues",
        front_board=FrontBoard(board=BOARD),
        recess=Recess(wanted=True),
        label_thickness_mm=9.0,
    )
    with pytest.raises(SpinefitError, match=r"^--label-thickness: .*: '9 mm'; 9 cards at most"):
        answer(job)


def test_a_recess_is_for_a_rectangular_label_of_known_height() -> None:
    """No cover is cut, no open height, no oval."""
    spine = Spine(width_mm=30, height_mm=200)
    with pytest.raises(SpinefitError, match="no label"):
        answer(Job(title="T", spine=spine, method="paperback-cover", recess=Recess(wanted=True)))
    with pytest.raises(SpinefitError, match="the height of the label"):
        answer(Job(title="T", spine=Spine(width_mm=30), recess=Recess(wanted=True)))
    with pytest.raises(SpinefitError, match="both a front board and a spine"):
        answer(Job(title="T", spine=spine, front_board=FrontBoard(board=BOARD)))
