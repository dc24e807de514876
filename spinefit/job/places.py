"""Where does lettering stand that is no title on a back, and how may that be said?

Records of a `spinefit.job.model.Job`, declared as those there: a front board with its label, and
the place and form that a house gives its call numbers. Nothing is checked here.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from spinefit.job import kinds as kind
from spinefit.job.kinds import option
from spinefit.job.values import Panel

BOARD, CALL = "Label on the front board", "Call number"
"""What their fields stand under."""

_OF_CALL = ("call-number",)  # where a text is one


class Scheme(StrEnum):
    """How a call number is broken into lines."""

    AUTO = "auto"  # by its form
    DEWEY = "dewey"
    LC = "lc"
    AS_TYPED = "as-typed"  # only at its forced breaks


class Align(StrEnum):
    """How the lines of a text stand one under another."""

    CENTRED = "centred"
    LEFT = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontBoard:
    """The front board, where the lettering stands there. Its own size, or that of the leaves."""

    board: Panel | None = option(
        "front-board", BOARD, kind.RECTANGLE,
        "The front board instead of the back, breadth first, measured from the joint: "
        "135x215mm.",
    )  # fmt: skip
    leaves: Panel | None = option(
        "leaves", BOARD, kind.RECTANGLE,
        "The trimmed leaves instead: the board is as large as they and the squares.",
    )  # fmt: skip
    squares_mm: float | None = option(
        "squares", BOARD, kind.ROOM, "How far the board stands over the leaves. [3 mm]"
    )
    joint_mm: float | None = option(
        "joint-width", BOARD, kind.ROOM,
        "From the back to where the board lies clear. [0; 7 mm with --leaves or --lap]",
    )  # fmt: skip
    leather_mm: float | None = option(
        "leather-width", BOARD, kind.ROOM,
        "How far the leather of a quarter or half binding reaches, from the back. [full "
        "binding]",
    )  # fmt: skip
    corners_mm: float | None = option(
        "corners", BOARD, kind.ROOM, "How far leather corners reach along the edges. [none]"
    )
    label: Panel | None = option(
        "board-label", BOARD, kind.RECTANGLE,
        "The label, where it is cut already. [as large as the lettering asks]",
    )  # fmt: skip
    from_head_mm: float | None = option(
        "label-from-head", BOARD, kind.LENGTH,
        "From the head of the board to the middle of the label. [half the height]",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CallNumber:
    """How the house letters call numbers, one beside a title or one by itself."""

    scheme: Scheme | None = option(
        "scheme", CALL, kind.one_of("SCHEME", Scheme),
        "Broken by the marks of dewey or lc, as-typed (only at ' / '), or auto by its form. [auto]",
        house=_OF_CALL,
    )  # fmt: skip
    from_tail_mm: float | None = option(
        "from-tail", CALL, kind.LENGTH,
        "From the tail to its lower edge; it grows upward. [38.1 mm; at the head of an oversize "
        "book]", house=_OF_CALL,
    )  # fmt: skip
    first_line_mm: float | None = option(
        "first-line-from-tail", CALL, kind.LENGTH,
        "From the tail to its first baseline instead; it grows downward.", house=_OF_CALL,
    )  # fmt: skip
    align: Align | None = option(
        "align", CALL, kind.one_of("HOW", Align), "Its lines: centred or left. [centred]",
        house=_OF_CALL,
    )  # fmt: skip
    size_pt: float | None = option(
        "call-size", CALL, kind.SIZE, "Its size, whatever the title's. [14 pt, 10 at least]",
        house=_OF_CALL,
    )  # fmt: skip


class ResolvedCallNumber(NamedTuple):
    """How a call number stands, completed; heights in mm from the tail of the back.

    Attributes:
        flush_left: whether its lines are flush left, not centred.
        edge_mm: of its lower edge, or None.
        first_line_mm: of its first baseline, which then is the place kept; else None.
        at_head: True where it stands at the head, as on an oversize book.
    """

    flush_left: bool = False
    edge_mm: float | None = None
    first_line_mm: float | None = None
    at_head: bool = False
