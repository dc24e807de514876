"""Which lines of a text did the person move by hand, and which did they space by hand?

In: heights and tracking as they are written, a value for each line from the top. Out: a
`Nudge` for each line. Lines are named by their number, so that number has to be settled: by forced
breaks, or by the number of lines asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.errors import FieldError
from spinefit.job.lengths import parse_figures, parse_number
from spinefit.job.values import listed

_LIFT, _TRACKING = "--lines-up", "--lines-tracking"


class Nudge(NamedTuple):
    """What was done to one line by hand.

    Attributes:
        up_mm: how much higher than by rule it stands, towards the tops of its letters.
        tracking_em: the space added between its letters.
    """

    up_mm: float
    tracking_em: float


def read_lifts(value: object) -> tuple[float, ...]:
    """Heights in mm by which lines are moved up, or down below 0: ``0,0.4,-0.3mm``, or a list."""
    return parse_figures(listed(value), last="last line", signed=True)


def read_trackings(value: object) -> tuple[float, ...]:
    """The tracking of each line: ``0,20,0``, or a list."""
    return tuple(map(parse_number, listed(value)))


def nudges_of(
    up_mm: Sequence[float] | None,
    tracking: Sequence[float] | None,
    *,
    usual: float | None,
    forced: int,
    asked: int | None,
) -> tuple[Nudge, ...]:
    """What was done to each line of a text; empty where nothing was.

    Args:
        up_mm: how much higher each line stands, from the top, or None.
        tracking: the space between the letters of each in thousandths of the size, or None.
        usual: that of all other lines, or None.
        forced: how many lines the forced breaks of the text make.
        asked: the number of lines asked for, or None.

    Raises:
        FieldError: not a value for each line, or nobody knows how many lines there are.
    """
    count, rule = asked or forced, usual or 0.0
    for values, where in ((up_mm, _LIFT), (tracking, _TRACKING)):
        if values is not None:
            _refuse_misnamed(values, where, count, settled=forced > 1 or asked is not None)
    if up_mm is None and tracking is None:
        return ()
    pairs = list(zip(up_mm or [0.0] * count, tracking or [rule] * count, strict=True))
    return tuple(Nudge(up, own / 1000) for up, own in pairs) if {*pairs} != {(0.0, rule)} else ()


def nudge_places(here: str) -> dict[str, str]:
    """Where faults of the lines of one of several texts can be mended, by where they are named."""
    return {where: f"{here}: {where[2:]}" for where in (_LIFT, _TRACKING)}


def _refuse_misnamed(values: Sequence[float], where: str, count: int, *, settled: bool) -> None:
    if not settled:
        raise FieldError(
            "lines are named by their number, and how many there are is left open",
            value=_shown(values), where=where,
            remedy="force the breaks with ' / '; for a title alone --lines says it too",
        )  # fmt: skip
    if len(values) != count:
        lines = "one line" if count == 1 else f"{count} lines"
        given = "one value" if len(values) == 1 else f"{len(values)} values"
        raise FieldError(
            f"{given} for {lines}", value=_shown(values), where=where,
            remedy=f"give {count}, one for each line from the top",
        )  # fmt: skip


def _shown(values: Sequence[float]) -> str:
    return ", ".join(f"{value:g}" for value in values)
