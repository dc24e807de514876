"""Where does each letter of a line go, counted from the middle?

In: an answer whose letters are struck one by one. Out: a `Worksheet`: the letters of every line
with their order, spaces counted as letters (Cockerell, Bookbinding and the Care of Books,
ch. XV), and the distance of each letter's middle from the middle of the panel, in mm along
the line, negative to the left as the letters stand upright. Either as checked, each letter
with the room of its own width, or at one equal pitch.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from spinefit.errors import FieldError
from spinefit.geometry import turn_point
from spinefit.judgement import Judged
from spinefit.pipeline import Answer
from spinefit.shaping.itemise import CURSIVE, itemise
from spinefit.shaping.outline import Placed
from spinefit.shaping.setter import SetLetter
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Letters, Orientation, Turn

__all__ = ["StruckLetter", "StruckLine", "Worksheet", "worksheet_of"]

_SLACK_MM = 1e-6  # rounding of sums of typed decimals


class StruckLetter(NamedTuple):
    """One letter, or a space.

    Attributes:
        number: its place in the line, spaces counted, from 1 where reading starts.
        text: the letter; " " for a space.
        from_middle_mm: from the middle of the panel to its middle, along the line; of a space
            to halfway between the letters beside it.
        by_count_mm: where counting alone would have it, at the mean pitch of the line.
        width_mm: of its face or ink; 0 for a space.
        from_head_mm: from the head to its middle, for a line along a back of known height.
        placed: its curves in em about the line's placing point, level.
    """

    number: int
    text: str
    from_middle_mm: float
    by_count_mm: float
    width_mm: float
    from_head_mm: float | None
    placed: tuple[Placed, ...]

    @property
    def is_space(self) -> bool:
        """True where nothing is struck."""
        return self.width_mm == 0.0


class StruckLine(NamedTuple):
    """One line of letters, from left to right as they stand upright.

    Attributes:
        text: the line.
        letters: its letters and spaces.
        foot_mm: from the middle of the panel to the foot of its letters, towards their tops.
        foot_from_head_mm: from the head to that foot, for lines across a back of known height.
        places: how many letters and spaces there are.
        middle: the number of the middle one; between two where it ends on a half.
        middle_from_middle_mm: where that place stands.
        length_mm: from the left of the first letter to the right of the last.
        least_gap_mm: the least space between two letters beside each other; None for one.
    """

    text: str
    letters: tuple[StruckLetter, ...]
    foot_mm: float
    foot_from_head_mm: float | None
    places: int
    middle: float
    middle_from_middle_mm: float
    length_mm: float
    least_gap_mm: float | None


class Worksheet(NamedTuple):
    """What is needed to strike the lettering of an answer.

    Attributes:
        answer: the whole answer.
        judged: the setting that is worked: the recommended one.
        lines: its lines, as they are read.
        pitch_mm: the equal distance of middles; None where each letter has its own room.
        least_gap_mm: what the method keeps open between letters.
        head_mm: height of the upper guide line over the foot of a line.
        excess_mm: how far a line reaches out of the panel; 0 where it fits.
    """

    answer: Answer
    judged: Judged
    lines: tuple[StruckLine, ...]
    pitch_mm: float | None
    least_gap_mm: float
    head_mm: float
    excess_mm: float

    @property
    def fits(self) -> bool:
        """Whether every line keeps to the panel."""
        return self.excess_mm <= _SLACK_MM


def worksheet_of(
    answer: Answer, *, pitch_mm: float | None = None, equal: bool = False
) -> Worksheet:
    """The worksheet of an answer that fits.

    Args:
        answer: of a method whose letters are struck one by one.
        pitch_mm: the distance of middles where it is given; tools on one body have one.
        equal: all middles equally far apart, as near as the widest letters allow.

    Raises:
        FieldError: letters that are not struck one by one, or joined ones.
        ValueError: nothing fits.
    """
    judgement = answer.judgement
    if judgement.recommended is None:
        raise ValueError("a title that does not fit has no worksheet")
    judged = judgement.judged[judgement.recommended]
    _refuse_other_letters(answer)
    size_mm = mm_from_pt(judged.set_pt)
    gap_mm = _least_gap_mm(answer, judged)
    set_lines = [(text, judged.layout.title.set_letters(text)) for text in _texts(judged)]
    if equal and pitch_mm is None:  # letters that stand alone have no pitch
        pitch_mm = _least_pitch_mm((line for _text, line in set_lines), size_mm, gap_mm) or None
    along = _Along(answer, judged)
    lines = tuple(
        _line(text, line, baseline, along, pitch_mm)
        for (text, line), baseline in zip(set_lines, judged.layout.group.baselines_em, strict=True)
        if any(letter.ink for letter in line)
    )
    title = judged.layout.title
    return Worksheet(
        answer=answer,
        judged=judged,
        lines=lines,
        pitch_mm=pitch_mm,
        least_gap_mm=gap_mm,
        head_mm=title.reading_height_em * size_mm,
        excess_mm=max(0.0, *(along.excess_mm(line) for line in lines)),
    )


def _refuse_other_letters(answer: Answer) -> None:
    method = answer.job.method
    if method.letters is not Letters.TOOLS:
        raise FieldError(
            "its letters are not struck one by one",
            value=method.key,
            where="--method",
            remedy="a worksheet is for hand-letters or type-holder",
        )
    if any(run.script in CURSIVE for run in itemise(" ".join(answer.job.title_lines))):
        raise FieldError(
            "joined letters cannot be struck one by one", where="TITLE",
            remedy="have a block cut for the line",
        )  # fmt: skip


def _texts(judged: Judged) -> list[str]:
    layout = judged.layout
    if layout.candidate.orientation is Orientation.PILLAR:
        return [text for text, _box in layout.title.letters()]
    return list(layout.group.texts)


def _least_gap_mm(answer: Answer, judged: Judged) -> float:
    """What is kept open between letters: that of the tools, or of the method."""
    tools = answer.job.lettering.tools
    if tools is not None:
        return next(one.letter_gap_mm for one in tools.sizes if one.body_pt == judged.set_pt)
    gap = answer.job.method.gap
    return 0.0 if gap is None else gap.value


def _least_pitch_mm(lines: Iterable[Sequence[SetLetter]], size_mm: float, gap_mm: float) -> float:
    """The least one pitch at which no two letters beside each other come nearer than a gap."""
    needs = [
        (one.ink[2] - one.ink[0] + other.ink[2] - other.ink[0]) / 2 * size_mm + gap_mm
        for line in lines
        for one, other in pairwise(line)
        if one.ink is not None and other.ink is not None
    ]
    return math.ceil(max(needs, default=0.0) * 100 - _SLACK_MM) / 100  # a hundredth can be set


class _Along:
    """How places along a line are counted from the middle of the panel and from the head."""

    def __init__(self, answer: Answer, judged: Judged) -> None:
        self.size_mm = mm_from_pt(judged.set_pt)
        turn = judged.layout.candidate.turn
        x_mm, y_mm = judged.centre_mm
        right = turn_point((1.0, 0.0), turn)
        up = turn_point((0.0, 1.0), turn)
        self.middle_mm = x_mm * right[0] + y_mm * right[1]
        self.foot_mm = x_mm * up[0] + y_mm * up[1]
        self._turn = turn
        panel = judged.layout.panel
        along_back = turn is not Turn.NONE
        extent_mm = panel.height_mm if along_back else panel.width_mm
        clearance_mm = answer.job.lettering.clearance_mm
        self._half_mm = math.inf if extent_mm is None else extent_mm / 2 - clearance_mm
        head_mm = panel.middle_from_head_mm
        if head_mm is None and panel.back is None and panel.height_mm is not None:
            head_mm = panel.height_mm / 2
        self._middle_from_head_mm = head_mm

    def letter_from_head_mm(self, from_middle_mm: float) -> float | None:
        """From the head to a letter of a line along the back."""
        if self._middle_from_head_mm is None or self._turn is Turn.NONE:
            return None
        sign = 1 if self._turn is Turn.CLOCKWISE else -1
        return self._middle_from_head_mm + sign * from_middle_mm

    def foot_from_head_mm(self, foot_mm: float) -> float | None:
        """From the head to the foot of a line across the back."""
        if self._middle_from_head_mm is None or self._turn is not Turn.NONE:
            return None
        return self._middle_from_head_mm - foot_mm

    def excess_mm(self, line: StruckLine) -> float:
        """How far a line reaches beyond the panel at its worse end."""
        struck = [letter for letter in line.letters if not letter.is_space]
        return max(abs(one.from_middle_mm) + one.width_mm / 2 for one in struck) - self._half_mm


def _line(
    text: str,
    letters: Sequence[SetLetter],
    baseline_em: float,
    along: _Along,
    pitch_mm: float | None,
) -> StruckLine:
    middles_em = _middles_em(letters)
    order = sorted(range(len(letters)), key=lambda at: letters[at].start)
    numbers = {at: number for number, at in enumerate(order, 1)}
    count = len(letters)
    if pitch_mm is not None:
        pitch_em = pitch_mm / along.size_mm
        targets_em = [(at - (count - 1) / 2) * pitch_em for at in range(count)]
    else:
        pitch_em = (middles_em[-1] - middles_em[0]) / (count - 1) if count > 1 else 0.0
        targets_em = middles_em
    struck = []
    for at, letter in enumerate(letters):
        from_middle_mm = targets_em[at] * along.size_mm + along.middle_mm
        by_count_em = (at - (count - 1) / 2) * pitch_em
        shift_em = targets_em[at] - _ink_middle_em(letter, middles_em[at])
        struck.append(
            StruckLetter(
                number=numbers[at],
                text=letter.text,
                from_middle_mm=from_middle_mm,
                by_count_mm=by_count_em * along.size_mm + along.middle_mm,
                width_mm=0.0 if letter.ink is None else _width_em(letter) * along.size_mm,
                from_head_mm=along.letter_from_head_mm(from_middle_mm),
                placed=tuple((one, x + shift_em, y + baseline_em) for one, x, y in letter.placed),
            )
        )
    return _whole_line(text, tuple(struck), along.foot_mm + baseline_em * along.size_mm, along)


def _whole_line(
    text: str, struck: tuple[StruckLetter, ...], foot_mm: float, along: _Along
) -> StruckLine:
    inked = [letter for letter in struck if not letter.is_space]
    count = len(struck)
    beside = (struck[(count - 1) // 2], struck[count // 2])
    gaps = [
        other.from_middle_mm - one.from_middle_mm - (one.width_mm + other.width_mm) / 2
        for one, other in pairwise(struck)
        if not one.is_space and not other.is_space
    ]
    first, last = inked[0], inked[-1]
    reach_mm = last.from_middle_mm - first.from_middle_mm
    return StruckLine(
        text=text,
        letters=struck,
        foot_mm=foot_mm,
        foot_from_head_mm=along.foot_from_head_mm(foot_mm),
        places=count,
        middle=(count + 1) / 2,
        middle_from_middle_mm=sum(one.from_middle_mm for one in beside) / 2,
        length_mm=reach_mm + (first.width_mm + last.width_mm) / 2,
        least_gap_mm=min(gaps, default=None),
    )


def _middles_em(letters: Sequence[SetLetter]) -> list[float]:
    """The middle of every letter's ink from the middle of the line's; of a space halfway."""
    inks = [letter.ink for letter in letters]
    known = [ink for ink in inks if ink is not None]
    middle = (min(ink[0] for ink in known) + max(ink[2] for ink in known)) / 2
    found = []
    for at, ink in enumerate(inks):
        if ink is None:
            left = next((one[2] for one in reversed(inks[:at]) if one is not None), known[0][0])
            right = next((one[0] for one in inks[at + 1 :] if one is not None), known[-1][2])
            found.append((left + right) / 2 - middle)
        else:
            found.append((ink[0] + ink[2]) / 2 - middle)
    return found


def _ink_middle_em(letter: SetLetter, otherwise: float) -> float:
    return otherwise if letter.ink is None else (letter.ink[0] + letter.ink[2]) / 2


def _width_em(letter: SetLetter) -> float:
    return 0.0 if letter.ink is None else letter.ink[2] - letter.ink[0]
