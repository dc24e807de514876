"""Which part of the front board may lettering stand on, and how is a recess for a label made?

In: the front board and the recess as said. Out: both completed, in mm, each default a row of the
rules and named as assumed; and the panel to letter: the label where it is cut already, else
what is free of the board. The board's frame begins at the back, its breadth runs to the fore
edge. Squares count where the leaves were measured; the turn-in lies inside and takes nothing.
"""

from __future__ import annotations

from spinefit.catalogue import Method, Rules
from spinefit.errors import FieldError
from spinefit.job.boards_model import FrontBoard, Recess
from spinefit.job.checks import length_mm
from spinefit.job.model import Job, Panel
from spinefit.job.resolved import Figure, ResolvedBoard, ResolvedRecess
from spinefit.vocabulary import PanelForm, Place

__all__ = ["board_panel", "resolve_board", "resolve_recess"]

_THICKEST_MM = 10.0  # a board, not a label
_MOST_CARDS = 9


def resolve_board(said: FrontBoard, rules: Rules, assumed: list[str]) -> ResolvedBoard:
    """The front board, completed.

    Args:
        said: what was said of it.
        rules: for what was not.
        assumed: takes the defaults.

    Raises:
        FieldError: no board, or one of which nothing is free.
    """
    if (said.board is None) == (said.leaves is None):
        what = "neither the board nor the leaves" if said.board is None else "the board and leaves"
        raise FieldError(
            f"{what} given", where="--front-board",
            remedy="give --front-board WxH, or --leaves WxH of the trimmed leaves",
        )  # fmt: skip
    if said.leaves is not None:
        leaves = _sides(said.leaves, "--leaves")
        squares_mm = _length(said.squares_mm, "--squares", rules, "front_board.squares_mm", assumed)
        joint_mm = _length(said.joint_mm, "--joint-width", rules, "front_board.joint_mm", assumed)
        size = Panel(
            width_mm=leaves.width_mm + squares_mm, height_mm=leaves.height_mm + 2 * squares_mm
        )
    else:
        assert said.board is not None  # one of the two was given
        if said.squares_mm is not None:
            raise FieldError(
                "squares count only where the leaves were measured", where="--squares",
                remedy="give --leaves instead of --front-board, or leave it out",
            )  # fmt: skip
        size = _sides(said.board, "--front-board")
        joint_mm = 0.0
        if said.joint_mm is None:
            assumed.append("front board: measured from the joint to the fore edge")
        else:
            joint_mm = length_mm(said.joint_mm, "--joint-width", zero=True)
    leather_mm = _reach(said.leather_mm, "--leather-width", size.width_mm)
    corners_mm = _reach(said.corners_mm, "--corners", min(size.width_mm, size.height_mm / 2))
    if said.leather_mm is None:
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
        from_head_mm=_from_head(said, size, rules, assumed),
        label_given=said.label is not None,
    )


def board_panel(said: FrontBoard, board: ResolvedBoard, rules: Rules) -> Panel:
    """The label, or what a label may cover: the same on both sides of its middle.

    Raises:
        FieldError: a label that reaches over the edge of its place.
    """
    free_mm = board.width_mm - board.free_from_mm
    reach_mm = 2 * min(board.from_head_mm, board.height_mm - board.from_head_mm)
    if said.label is not None:
        label = _sides(said.label, "--board-label")
        if label.width_mm > free_mm or label.height_mm > reach_mm:
            raise FieldError(
                f"larger than the {free_mm:g} x {reach_mm:g} mm it has on the board",
                value=f"{label.width_mm:g} x {label.height_mm:g} mm",
                where="--board-label",
                remedy="give a smaller label, or another place for its middle",
            )
        return label
    share = rules.value("cover.margin_share")
    margin_mm = share * board.width_mm
    width_mm, height_mm = free_mm - 2 * margin_mm, reach_mm - 2 * margin_mm
    if min(width_mm, height_mm) <= 0:
        raise FieldError(
            f"a margin of {margin_mm:g} mm at every edge leaves nothing of the board",
            value=f"{free_mm:g} x {reach_mm:g} mm", where="--front-board",
            remedy="give the label itself with --board-label",
        )  # fmt: skip
    return Panel(width_mm=width_mm, height_mm=height_mm)


def resolve_recess(
    job: Job, method: Method, rules: Rules, assumed: list[str]
) -> ResolvedRecess | None:
    """The recess, completed; None where none is wanted.

    Raises:
        FieldError: a recess for what is no label, or figures that no board has.
    """
    said = job.recess
    if said is None or said.wanted is False:
        return None
    _refuse_recess(job, said, method)
    label = _label_thickness(job, method, assumed)
    card = _figure(said.card_mm, "--card-thickness", rules, "recess.card_mm", assumed)
    cards = _cards(said.cards, label.value_mm, card.value_mm, assumed)
    stiffener = None
    if said.stiffener_mm is not None:
        stiffener = _given(length_mm(said.stiffener_mm, "--stiffener"))
    board = stiffener or _figure(
        said.board_mm, "--board-thickness", rules, "recess.board_mm", assumed
    )
    if board.value_mm <= 2 * cards * card.value_mm:
        raise FieldError(
            f"{cards} card{'s' if cards > 1 else ''} of {card.value_mm:g} mm on both faces leave "
            "nothing between them",
            value=f"{board.value_mm:g} mm",
            where="--board-thickness" if stiffener is None else "--stiffener",
            remedy="take a thicker board or a thinner card",
        )
    covering = _figure(
        said.covering_mm, "--covering-thickness", rules, "recess.covering_mm", assumed
    )
    clearance = _figure(
        said.clearance_mm, "--recess-clearance", rules, "recess.clearance_mm", assumed
    )
    return ResolvedRecess(label, card, cards, board, covering, clearance, stiffener is not None)


def _cards(said: int | None, label_mm: float, card_mm: float, assumed: list[str]) -> int:
    """How many cards are cut through: as many as are as thick as the label, where none was said."""
    if said is None:
        cards = max(1, -int(-(label_mm - 1e-9) // card_mm))
        if cards > _MOST_CARDS:
            raise FieldError(
                f"a label so thick takes {cards} cards of {card_mm:g} mm",
                value=f"{label_mm:g} mm",
                where="--label-thickness",
                remedy=f"{_MOST_CARDS} cards at most: give a thinner label or a thicker card",
            )
        assumed.append(f"cards: {cards} cut through, at least as thick as the label")
        return cards
    if isinstance(said, bool) or not isinstance(said, int) or not 1 <= said <= _MOST_CARDS:
        raise FieldError(
            "no number of cards", value=said, where="--cards",
            remedy=f"give 1 to {_MOST_CARDS}, or a thicker card",
        )  # fmt: skip
    return said


def _refuse_recess(job: Job, said: Recess, method: Method) -> None:
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
    if said.stiffener_mm is not None and job.spine is None:
        raise FieldError(
            "a stiffener is of the back", where="--stiffener",
            remedy="give --width of the back, or --board-thickness",
        )  # fmt: skip
    if said.stiffener_mm is not None and said.board_mm is not None:
        raise FieldError(
            "a stiffener and a board for one recess", where="--board-thickness",
            remedy="leave out one of them",
        )  # fmt: skip


def _label_thickness(job: Job, method: Method, assumed: list[str]) -> Figure:
    said = job.label_thickness_mm
    if said is not None:
        given_mm = length_mm(said, "--label-thickness")
        if given_mm > _THICKEST_MM:
            raise FieldError(
                f"{given_mm:g} mm is no label", where="--label-thickness",
                remedy=f"give at most {_THICKEST_MM:g} mm",
            )  # fmt: skip
        return _given(given_mm)
    row = method.thickness
    if row is None:
        raise FieldError(
            f"the thickness of a {method.name} is not known", where="--label-thickness",
            remedy="measure the label and give it",
        )  # fmt: skip
    assumed.append(f"label thickness: {row.value:g} mm ({row.source}; {row.status})")
    return Figure(row.value, row.source, row.status)


def _figure(said: float | None, where: str, rules: Rules, name: str, assumed: list[str]) -> Figure:
    """A thickness as given, or that of a rule."""
    if said is not None:
        return _given(length_mm(said, where, zero=where != "--card-thickness"))
    row = rules[name]
    assumed.append(f"{where.removeprefix('--').replace('-', ' ')}: {row.value:g} mm ({row.source})")
    return Figure(row.value, row.source, row.status)


def _given(value_mm: float) -> Figure:
    return Figure(value_mm, "as given", None)


def _length(said: float | None, where: str, rules: Rules, name: str, assumed: list[str]) -> float:
    return _figure(said, where, rules, name, assumed).value_mm


def _sides(panel: Panel, where: str) -> Panel:
    return Panel(
        width_mm=length_mm(panel.width_mm, where), height_mm=length_mm(panel.height_mm, where)
    )


def _reach(said: float | None, where: str, most_mm: float) -> float:
    """How far something reaches over the board, less than all of it."""
    if said is None:
        return 0.0
    reach_mm = length_mm(said, where, zero=True)
    if reach_mm >= most_mm:
        raise FieldError(
            "reaches over all of the board", value=f"{reach_mm:g} mm", where=where,
            remedy=f"give less than {most_mm:g} mm",
        )  # fmt: skip
    return reach_mm


def _from_head(said: FrontBoard, size: Panel, rules: Rules, assumed: list[str]) -> float:
    if said.from_head_mm is None:
        share = rules["front_board.from_head"]
        assumed.append(
            f"label from head: {share.value:g} of the board's height to its middle ({share.source})"
        )
        return share.value * size.height_mm
    from_head_mm = length_mm(said.from_head_mm, "--label-from-head")
    if from_head_mm >= size.height_mm:
        raise FieldError(
            "beyond the tail of the board", value=f"{from_head_mm:g} mm",
            where="--label-from-head", remedy=f"the board is {size.height_mm:g} mm high",
        )  # fmt: skip
    return from_head_mm
