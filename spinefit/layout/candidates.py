"""Which orientations and numbers of lines come into question?

In: the job and its shaped title. Out: the candidates in the order a report lists them. A
pillar is offered on request only, or where the market sets its own script upright.
Leaves breaks and sizes to `search`.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.errors import FieldError
from spinefit.job.resolved import ResolvedJob
from spinefit.shaping.itemise import CURSIVE, itemise
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import BreakWords, Orientation, Reading, Turn

__all__ = ["Candidate", "candidates", "sets_columns_here", "turn_of"]

_UPRIGHT_LANGUAGES = frozenset(("ja", "ko", "yue", "zh"))


class Candidate(NamedTuple):
    """An orientation, the way it reads, and the numbers of lines to try."""

    orientation: Orientation
    reading: Reading
    turn: Turn
    line_counts: range


def candidates(job: ResolvedJob, title: ShapedTitle) -> tuple[Candidate, ...]:
    """What is to be tried.

    Raises:
        FieldError: more lines asked for than the title has pieces.
    """
    asked = job.lettering.orientation
    pieces = len(title.run_broken(job.lettering.break_words).pieces)
    _refuse_too_many(job, pieces)
    if asked is Orientation.PILLAR:
        _refuse_joined(title.text)
    found: list[Candidate] = []
    if asked in (Orientation.ANY, Orientation.TRANSVERSE):
        counts = _counts(job, len(title.lines), pieces, int(job.rules.value("lines.most")))
        found.append(Candidate(Orientation.TRANSVERSE, Reading.ACROSS, Turn.NONE, counts))
    if asked in (Orientation.ANY, Orientation.LONGITUDINAL):
        counts = _counts(job, len(title.lines), pieces, int(job.rules.value("lines.most")))
        turn = turn_of(job.lettering.reading, right_to_left=job.right_to_left)
        found.append(Candidate(Orientation.LONGITUDINAL, job.lettering.reading, turn, counts))
    if asked is Orientation.PILLAR or sets_columns_here(job, title):
        counts = range(1, 2)
        if title.sets_columns:
            most = int(job.rules.value("lines.most_along"))
            counts = _counts(job, len(title.lines), len(title.run.pieces), most)
        found.append(Candidate(Orientation.PILLAR, Reading.STACKED, Turn.NONE, counts))
    return tuple(found)


def turn_of(reading: Reading, *, right_to_left: bool) -> Turn:
    """How lines are turned, so that a right-to-left script reads the same way along the back."""
    descending = reading is Reading.DESCENDING
    if right_to_left:
        descending = not descending
    return Turn.CLOCKWISE if descending else Turn.ANTICLOCKWISE


def _refuse_too_many(job: ResolvedJob, pieces: int) -> None:
    count = job.lettering.lines
    if count is None or count <= pieces or job.lettering.orientation is Orientation.PILLAR:
        return
    what = "one piece" if pieces == 1 else f"{pieces} pieces"
    remedy = f"give {pieces} or fewer"
    if job.lettering.break_words is BreakWords.NEVER:
        remedy += ", or allow words to be broken with --break-words"
    raise FieldError(
        f"the title breaks into {what} at most", value=count, where="--lines", remedy=remedy
    )


def _refuse_joined(text: str) -> None:
    """Letters that join lose their joins, and their forms, one under another."""
    if text.isascii() or not any(run.script in CURSIVE for run in itemise(text)):
        return
    raise FieldError(
        "letters that join cannot stand one under another",
        value=text,
        where="--orientation",
        remedy="take longitudinal or transverse",
    )


def _counts(job: ResolvedJob, forced: int, pieces: int, most: int) -> range:
    asked = job.lettering.lines
    if asked is not None:
        return range(asked, asked + 1)
    return range(forced, max(forced, min(pieces, most)) + 1)


def sets_columns_here(job: ResolvedJob, title: ShapedTitle) -> bool:
    """Whether columns were asked for, or the market or the language sets such letters so."""
    asked = job.lettering.orientation
    primary = (job.language or "").split("-")[0].lower()
    own = job.market.reading is Reading.UPRIGHT or primary in _UPRIGHT_LANGUAGES
    wanted = asked is Orientation.PILLAR or (asked is Orientation.ANY and own)
    return wanted and title.sets_columns
