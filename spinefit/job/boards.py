"""Which part of a front board may lettering stand on, and how are label and recess made?

In: the front board, the recess and the label as said. Out: each completed, in
mm, every default a row of the rules and named as assumed. A board's frame begins at the back, its
breadth runs to the fore edge; squares count where the leaves were measured. Loaded only where one
of these counts. Whether a back can take such a label is for the judgement.
"""

from __future__ import annotations

from dataclasses import replace

from spinefit.catalogue import Method, Rules
from spinefit.errors import FieldError
from spinefit.job.checks import MOST_CARDS, usual
from spinefit.job.fields import checked
from spinefit.job.model import Job, Recess
from spinefit.job.places import FrontBoard
from spinefit.job.resolved import (
    Figure,
    ResolvedBoard,
    ResolvedRecess,
)
from spinefit.job.values import Panel
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Frame, Lap, PanelForm, Place, Sourced


def resolve_board(front: FrontBoard, rules: Rules, assumed: list[str]) -> ResolvedBoard:
    """The front board, completed.

    Args:
        front: what was said of it.
        rules: for what was not.
        assumed: takes the defaults.

    Raises:
        FieldError: no board, or one of which nothing is free.
    """
    front = checked(front)
    size, joint_mm = _size_and_joint(front, rules, assumed)
    leather_mm = _reach_mm(front.leather_mm, "--leather-width", size.width_mm)
    corners_mm = _reach_mm(front.corners_mm, "--corners", min(size.width_mm, size.height_mm / 2))
    if front.leather_mm is None:
        assumed.append("binding: full, so that the label stands between joint and fore edge")
    free_from_mm = max(joint_mm, leather_mm)
    if free_from_mm >= size.width_mm:
        raise FieldError(
            "nothing of the board lies clear of the joint", value=f"{free_from_mm:g} mm",
            where="--joint-width", remedy=f"the board is {size.width_mm:g} mm broad",
        )  # fmt: skip
    return ResolvedBoard(
        width_mm=size.width_mm,
        height_mm=size.height_mm,
        joint_mm=joint_mm,
        leather_mm=leather_mm,
        corners_mm=corners_mm,
        free_from_mm=free_from_mm,
        from_head_mm=_from_head_mm(front, size, rules, assumed),
        label_given=front.label is not None,
    )


def _size_and_joint(front: FrontBoard, rules: Rules, assumed: list[str]) -> tuple[Panel, float]:
    """The board's breadth and height, and how far from the back it lies clear, in mm."""
    board, leaves = front.board, front.leaves
    if leaves is not None and board is None:
        squares_mm = _figure(front.squares_mm, "squares", rules["front_board.squares_mm"], assumed)
        joint_mm = _figure(front.joint_mm, "joint width", rules["front_board.joint_mm"], assumed)
        around_mm = squares_mm.value_mm
        size = Panel(
            width_mm=leaves.width_mm + around_mm, height_mm=leaves.height_mm + 2 * around_mm
        )
        return size, joint_mm.value_mm
    if board is None or leaves is not None:
        what = "neither the board nor the leaves" if board is None else "the board and leaves"
        raise FieldError(
            f"{what} given", where="--front-board",
            remedy="give --front-board WxH, or --leaves WxH of the trimmed leaves",
        )  # fmt: skip
    if front.squares_mm is not None:
        raise FieldError(
            "squares count only where the leaves were measured", where="--squares",
            remedy="give --leaves instead of --front-board, or leave it out",
        )  # fmt: skip
    words = "front board: measured from the joint to the fore edge"
    return board, usual(front.joint_mm, 0.0, words, assumed)


def _reach_mm(given_mm: float | None, where: str, most_mm: float) -> float:
    """How far something reaches over the board, less than all of it."""
    reach_mm = given_mm or 0.0
    if reach_mm >= most_mm:
        raise FieldError(
            "reaches over all of the board", value=f"{reach_mm:g} mm", where=where,
            remedy=f"give less than {most_mm:g} mm",
        )  # fmt: skip
    return reach_mm


def _from_head_mm(front: FrontBoard, size: Panel, rules: Rules, assumed: list[str]) -> float:
    share = rules["front_board.from_head"]
    words = f"label from head: {share.value:g} of the board's height to its middle ({share.source})"
    from_head_mm = usual(front.from_head_mm, share.value * size.height_mm, words, assumed)
    if from_head_mm >= size.height_mm:
        raise FieldError(
            "beyond the tail of the board", value=f"{from_head_mm:g} mm",
            where="--label-from-head", remedy=f"the board is {size.height_mm:g} mm high",
        )  # fmt: skip
    return from_head_mm


def board_panel(front: FrontBoard, board: ResolvedBoard, rules: Rules) -> Panel:
    """The label, or what a label may cover: the same on both sides of its middle.

    Raises:
        FieldError: a label that reaches over the edge of its place.
    """
    free_mm = board.width_mm - board.free_from_mm
    reach_mm = 2 * min(board.from_head_mm, board.height_mm - board.from_head_mm)
    label = checked(front).label
    if label is not None:
        if label.width_mm > free_mm or label.height_mm > reach_mm:
            raise FieldError(
                f"larger than the {free_mm:g} x {reach_mm:g} mm it has on the board",
                value=f"{label.width_mm:g} x {label.height_mm:g} mm", where="--board-label",
                remedy="give a smaller label, or another place for its middle",
            )  # fmt: skip
        return label
    margin_mm = rules.value("cover.margin_share") * board.width_mm
    width_mm, height_mm = free_mm - 2 * margin_mm, reach_mm - 2 * margin_mm
    if min(width_mm, height_mm) <= 0:
        raise FieldError(
            f"a margin of {margin_mm:g} mm at every edge leaves nothing of the board",
            value=f"{free_mm:g} x {reach_mm:g} mm", where="--front-board",
            remedy="give the label itself with --board-label",
        )  # fmt: skip
    return Panel(width_mm=width_mm, height_mm=height_mm)


def resolve_lap(
    job: Job, board_mm: float, method: Method, rules: Rules, assumed: list[str]
) -> tuple[Job, Method, Lap]:
    """How far a label goes round over the joints, and the job with its lettering on the back.

    The label's sides lie on the boards, so that it has no edge and no frame line on the back: the
    lettering keeps its margin, and any edge that was said, from the joints.

    Args:
        job: what was said; a front board in it only says where the label's ends lie.
        board_mm: how far the label reaches onto each board.
        method: the job's method.
        rules: for the usual joint.
        assumed: takes the defaults.

    Raises:
        FieldError: no back, no label on it, or boards that are too narrow.
    """
    _refuse_lap(job, method)
    assert job.spine is not None  # just looked at
    front = checked(job.front_board) if job.front_board is not None else FrontBoard()
    joint_mm = _figure(front.joint_mm, "joints", rules["front_board.joint_mm"], assumed)
    if front.board is not None or front.leaves is not None or front.squares_mm is not None:
        size, taken_mm = _size_and_joint(front, rules, [])
        if board_mm >= size.width_mm - taken_mm:
            raise FieldError(
                "the label would reach beyond the fore edge of the board",
                value=f"{board_mm:g} mm", where="--lap",
                remedy=f"give less than {size.width_mm - taken_mm:g} mm",
            )  # fmt: skip
    spine = job.spine
    if spine.edge_mm is None:
        spine = replace(spine, edge_mm=0.0)
        assumed.append("edge: none; the lettering keeps the label's margin from both joints")
    job = replace(job, spine=spine, front_board=None)
    return job, method._replace(frame=None, cut_outside=None), Lap(joint_mm.value_mm, board_mm)


def _refuse_lap(job: Job, method: Method) -> None:
    if method.place is not Place.LABEL:
        what = f"a {method.name} is no label, and only a label goes round over joints"
        remedy = "give --method cloth-print or another label, or leave it out"
    elif job.spine is None:
        on = "a front board" if job.front_board is not None else "a panel of its own"
        what, remedy = f"{on} has no joints to go round", "give --width of the back instead"
    elif job.frame is not None and job.frame is not Frame.NONE:
        what = "a frame runs along the edge of a label, which is covered here at its sides"
        remedy = "leave out one of the two"
    elif job.label_size is not None:
        what, remedy = "back, joints and lap say how wide it is", "leave out --label-size"
    elif job.recess is not None and job.recess.wanted is not False:
        what, remedy = "a label in a recess ends there", "leave out one of the two"
    elif job.shape is not None and job.shape.form is not PanelForm.RECTANGLE:
        what = "a label that goes round over the joints is a rectangle"
        remedy = "leave out --panel-shape"
    else:
        return
    raise FieldError(what, value=f"{job.lap_mm:g} mm", where="--lap", remedy=remedy)


def resolve_recess(
    job: Job, method: Method, rules: Rules, assumed: list[str]
) -> ResolvedRecess | None:
    """The recess, completed; None where none is wanted.

    Raises:
        FieldError: a recess for what is no label, or figures that no board has.
    """
    if job.recess is None or job.recess.wanted is False:
        return None
    recess = checked(job.recess)
    _refuse_recess(job, recess, method)
    label = _label_thickness(job, method, assumed)
    card = _figure(recess.card_mm, "card thickness", rules["recess.card_mm"], assumed)
    cards = _cards(recess.cards, label.value_mm, card.value_mm, assumed)
    board = (
        _figure(recess.board_mm, "board thickness", rules["recess.board_mm"], assumed)
        if recess.stiffener_mm is None
        else _given(recess.stiffener_mm)
    )
    if board.value_mm <= 2 * cards * card.value_mm:
        raise FieldError(
            f"{cards} card{'s' if cards > 1 else ''} of {card.value_mm:g} mm on both faces "
            f"{'leave' if cards > 1 else 'leaves'} nothing between them",
            value=f"{board.value_mm:g} mm",
            where="--board-thickness" if recess.stiffener_mm is None else "--stiffener",
            remedy="take a thicker board or a thinner card",
        )
    covering, clearance = rules["recess.covering_mm"], rules["recess.clearance_mm"]
    return ResolvedRecess(
        label=label,
        card=card,
        cards=cards,
        board=board,
        covering=_figure(recess.covering_mm, "covering thickness", covering, assumed),
        clearance=_figure(recess.clearance_mm, "recess clearance", clearance, assumed),
        stiffened=recess.stiffener_mm is not None,
    )


def _cards(count: int | None, label_mm: float, card_mm: float, assumed: list[str]) -> int:
    """How many cards are cut through: as many as are as thick as the label, where none was said."""
    cards = max(1, -int(-(label_mm - SAME_MM) // card_mm))
    if count is None and cards > MOST_CARDS:
        raise FieldError(
            f"a label so thick takes {cards} cards of {card_mm:g} mm",
            value=f"{label_mm:g} mm", where="--label-thickness",
            remedy=f"{MOST_CARDS} cards at most: give a thinner label or a thicker card",
        )  # fmt: skip
    words = f"cards: {cards} cut through, at least as thick as the label"
    return usual(count, cards, words, assumed)


def _refuse_recess(job: Job, recess: Recess, method: Method) -> None:
    if method.place is not Place.LABEL:
        raise FieldError(
            f"a {method.name} is no label, and a recess is for one", where="--recess",
            remedy="give --method paper-label or another label",
        )  # fmt: skip
    if job.shape is not None and job.shape.form is not PanelForm.RECTANGLE:
        raise FieldError(
            "a recess is worked out for a rectangular label", value=job.shape.form.value,
            where="--recess", remedy="give the rectangle around it, and round its corners by hand",
        )  # fmt: skip
    if job.spine is not None and job.spine.height_mm is None:
        raise FieldError(
            "the height of the label is not known", where="--recess", remedy="give --height"
        )
    if recess.stiffener_mm is not None and job.spine is None:
        raise FieldError(
            "a stiffener is of the back", where="--stiffener",
            remedy="give --width of the back, or --board-thickness",
        )  # fmt: skip
    if recess.stiffener_mm is not None and recess.board_mm is not None:
        raise FieldError(
            "a stiffener and a board for one recess", where="--board-thickness",
            remedy="leave out one of them",
        )  # fmt: skip


def _label_thickness(job: Job, method: Method, assumed: list[str]) -> Figure:
    """The thickness of the label that the recess is for."""
    if job.label_thickness_mm is None and method.thickness is None:
        raise FieldError(
            f"the thickness of a {method.name} is not known", where="--label-thickness",
            remedy="measure the label and give it",
        )  # fmt: skip
    return _thickness(job, method, assumed)


def thickness_mm_of(job: Job, method: Method, assumed: list[str], *, bent: bool) -> float | None:
    """Thickness of the label in mm where it bends over a round; None where none does.

    Args:
        job: what was said.
        method: the job's method, whose thickness is taken where nothing was said.
        assumed: defaults taken, to be added to.
        bent: whether it is a label on a rounded back.

    Raises:
        FieldError: a thickness without a label.
    """
    given_mm = job.label_thickness_mm
    if given_mm is not None and method.place is not Place.LABEL:
        raise FieldError(
            f"a {method.name} is no label", value=f"{given_mm:g} mm", where="--label-thickness",
            remedy="give --method paper-label or another label, or leave it out",
        )  # fmt: skip
    return _thickness(job, method, assumed).value_mm if bent else None


def _thickness(job: Job, method: Method, assumed: list[str]) -> Figure:
    """The thickness said, or that of the method."""
    row = method.thickness
    if job.label_thickness_mm is not None:
        return _given(job.label_thickness_mm)
    if row is None:
        assumed.append("label thickness: none, so that its width is that of the back it covers")
        return Figure(0.0, "", None)
    assumed.append(f"label thickness: {row.value:g} mm ({row.source}; {row.status})")
    return Figure(row.value, row.source, row.status)


def _figure(given_mm: float | None, name: str, row: Sourced, assumed: list[str]) -> Figure:
    """A length as given, or that of a rule."""
    if given_mm is not None:
        return _given(given_mm)
    assumed.append(f"{name}: {row.value:g} mm ({row.source})")
    return Figure(row.value, row.source, row.status)


def _given(value_mm: float) -> Figure:
    return Figure(value_mm, "as given", None)
