"""Where does each letter of a line go, counted from the middle?

In: an answer whose letters are struck one by one. Out: a `Worksheet`: the letters of every line
with their order, spaces counted as letters (Cockerell, Bookbinding and the Care of Books,
ch. XV), and the distance of each letter's middle from the middle of the panel, in mm along
the line, negative to the left as the letters stand upright. Either as checked, each letter
with the room of its own width, or at one equal pitch, at which no two letters may overlap.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import chain, pairwise
from typing import NamedTuple

from spinefit.drawing.struck import Near, StruckLetter, StruckLine
from spinefit.errors import FieldError
from spinefit.geometry import turn_point
from spinefit.geometry.gaps import gap_between
from spinefit.judgement import Judged
from spinefit.layout.group import placed_rules
from spinefit.pipeline import Answer
from spinefit.shaping.glyphs import Placed, Point
from spinefit.shaping.scripts import CURSIVE, itemise
from spinefit.shaping.setter import SetLetter
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_MM, SAME_STEP
from spinefit.units import mm_from_pt, pt_from_mm
from spinefit.vocabulary import Letters, Orientation, Turn

NOT_SHOWN_MM = 0.005  # a worksheet shows hundredths, and no hand sets less
_SURELY_NEAR_EM = 2.0  # letters beside each other, at any pitch at which their widths come near


class Worksheet(NamedTuple):
    """What is needed to strike the lettering of an answer.

    Attributes:
        answer: the whole answer.
        judged: the setting that is worked: the recommended one.
        lines: its lines, as they are read.
        placed: the curves of their letters in em about the placing point, level.
        pitch_mm: the equal distance of middles; None where each letter has its own room.
        least_gap_mm: what the method keeps open between letters.
        head_mm: height of the upper guide line over the foot of a line.
        excess_mm: how far a line reaches out of the panel; 0 where it fits.
        nearest: the two letters that stand nearest; None where none stand beside each other.
        least_pitch_mm: the least one pitch at which all letters keep that gap; 0 where none stand
            beside each other.
        widest_pitch_mm: the widest one pitch at which every line keeps to the panel; infinite
            where its length is open.
    """

    answer: Answer
    judged: Judged
    lines: tuple[StruckLine, ...]
    placed: tuple[Placed, ...]
    pitch_mm: float | None
    least_gap_mm: float
    head_mm: float
    excess_mm: float
    nearest: Near | None
    least_pitch_mm: float
    widest_pitch_mm: float

    @property
    def turn(self) -> Turn:
        """The turn of its letters."""
        return self.judged.layout.candidate.turn

    @property
    def size_mm(self) -> float:
        """One em."""
        return mm_from_pt(self.judged.set_pt)

    @property
    def fits(self) -> bool:
        """Whether every line keeps to the panel, at one pitch without letters that overlap."""
        near = None if self.pitch_mm is None else self.nearest
        return self.excess_mm <= SAME_MM and (near is None or near.apart_mm >= NOT_SHOWN_MM)


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
    if answer.judgement.recommended is None:
        raise ValueError("a title that does not fit has no worksheet")
    judged = answer.judgement.shown
    _refuse_other_letters(answer)
    size_mm = mm_from_pt(judged.set_pt)
    gap_mm = _least_gap_mm(answer, judged)
    set_lines = _set_lines(judged)
    in_order = [line.letters for line in set_lines]
    least_pitch_mm = _least_pitch_mm(in_order, size_mm, gap_mm)
    if all(len(line) == 1 for line in in_order):  # letters that stand alone have no pitch
        pitch_mm = None
    elif equal and pitch_mm is None:
        pitch_mm = least_pitch_mm or None
    along = _Along(answer, judged, gap_mm, pitch_mm)
    struck = [
        _line(line, baseline, along, pitch_mm)
        for line, baseline in zip(set_lines, judged.layout.group.baselines_em, strict=True)
        if any(letter.ink for letter in line.letters)
    ]
    lines, placed, near = zip(*struck, strict=True)
    return Worksheet(
        answer=answer,
        judged=judged,
        lines=lines,
        placed=(*chain.from_iterable(placed), *placed_rules(judged.layout.group)),
        pitch_mm=pitch_mm,
        least_gap_mm=gap_mm,
        head_mm=judged.layout.title.reading_height_em * size_mm,
        excess_mm=max(0.0, *(along.excess_mm(line) for line in lines)),
        nearest=min(chain(*near), key=lambda pair: pair.apart_mm, default=None),
        least_pitch_mm=least_pitch_mm,
        widest_pitch_mm=min(map(along.widest_pitch_mm, in_order)),
    )


def _refuse_other_letters(answer: Answer) -> None:
    method = answer.job.method
    if method.letters is not Letters.TOOLS:
        raise FieldError(
            "its letters are not struck one by one", value=method.key, where="--method",
            remedy="a worksheet is for hand-letters or type-holder",
        )  # fmt: skip
    if any(run.script in CURSIVE for run in itemise(" ".join(answer.job.title_lines))):
        raise FieldError(
            "joined letters cannot be struck one by one", where="TITLE",
            remedy="have a block cut for the line",
        )  # fmt: skip


class _SetLine(NamedTuple):
    """A line before its letters have their places, in em of the size judged.

    Attributes:
        text: the line.
        letters: its letters and spaces.
        title: the text it is of.
        scale: the size of that over the size judged.
    """

    text: str
    letters: Sequence[SetLetter]
    title: ShapedTitle
    scale: float


def _set_lines(judged: Judged) -> list[_SetLine]:
    layout = judged.layout
    title, texts = layout.title, list(layout.group.texts)
    if layout.candidate.orientation is Orientation.PILLAR:
        texts = [text for text, _box in title.letters()]
    own = layout.group.set_lines
    if not own:
        return [_SetLine(text, title.set_letters(text), title, 1.0) for text in texts]
    return [
        _SetLine(
            line.text,
            [letter.scaled(line.scale) for letter in line.title.set_letters(line.text)],
            line.title,
            line.scale,
        )
        for line in own
    ]


def _least_gap_mm(answer: Answer, judged: Judged) -> float:
    """What is kept open between letters: that of the tools, or of the method."""
    tools = answer.job.lettering.tools
    if tools is not None:
        return next(one.letter_gap_mm for one in tools.sizes if one.body_pt == judged.set_pt)
    gap = answer.job.method.gap
    return 0.0 if gap is None else gap.value


def _least_pitch_mm(lines: Sequence[Sequence[SetLetter]], size_mm: float, gap_mm: float) -> float:
    """The least one pitch at which no two letters come nearer than a gap, across a space either."""
    inked = [
        [(at, one.ink[2] - one.ink[0]) for at, one in enumerate(line) if one.ink is not None]
        for line in lines
    ]
    pairs = [pair for line in inked for pair in pairwise(line)]
    if not any(second - first == 1 for (first, _), (second, _) in pairs):
        return 0.0
    least_mm = max(
        ((width + other) / 2 * size_mm + gap_mm) / (second - first)
        for (first, width), (second, other) in pairs
    )
    return math.ceil(least_mm * 100 - SAME_STEP) / 100  # a hundredth can be set


class _Along:
    """How places along a line are counted from the middle of the panel and from the head."""

    def __init__(
        self, answer: Answer, judged: Judged, gap_mm: float, pitch_mm: float | None
    ) -> None:
        self.gap_mm = gap_mm
        self._nests = pitch_mm is None and answer.job.lettering.tools is None
        self.size_mm = mm_from_pt(judged.set_pt)
        self.group = judged.layout.group
        self._turn = judged.layout.candidate.turn
        self.along_back = self._turn is not Turn.NONE
        self.middle_mm, self.foot_mm = turn_point(judged.centre_mm, self._turn.undone)
        panel = judged.layout.panel
        extent_mm = panel.height_mm if self.along_back else panel.width_mm
        clearance_mm = answer.job.lettering.clearance_mm
        self._half_mm = math.inf if extent_mm is None else extent_mm / 2 - clearance_mm
        head_mm = panel.middle_from_head_mm
        if head_mm is None and panel.back is None and panel.height_mm is not None:
            head_mm = panel.height_mm / 2
        self._middle_from_head_mm = head_mm

    def from_head_mm(self, point_mm: Point) -> float | None:
        """From the head to a point along and over the lines, on a back of known height."""
        if self._middle_from_head_mm is None:
            return None
        return self._middle_from_head_mm - turn_point(point_mm, self._turn)[1]

    def excess_mm(self, line: StruckLine) -> float:
        """How far a line reaches beyond the panel at its worse end."""
        reaches_mm = (abs(one.from_middle_mm) + one.width_mm / 2 for one in line.struck)
        return max(reaches_mm) - self._half_mm

    def widest_pitch_mm(self, letters: Sequence[SetLetter]) -> float:
        """The widest one pitch at which a line keeps to the panel, to a hundredth below."""
        widest_mm = math.inf
        for at, letter in enumerate(letters):
            steps = at - (len(letters) - 1) / 2
            if letter.ink is not None and steps:
                off_mm = math.copysign(self.middle_mm, self.middle_mm * steps)
                width_mm = (letter.ink[2] - letter.ink[0]) * self.size_mm
                widest_mm = min(widest_mm, (self._half_mm - width_mm / 2 - off_mm) / abs(steps))
        return widest_mm if widest_mm == math.inf else math.floor(widest_mm * 100 + SAME_STEP) / 100

    def apart_mm(self, one: _Stood, other: _Stood) -> float:
        """Between two letters beside each other; at most nothing where they overlap or touch.

        Between the faces of tools, and of any letters at one pitch, which all have the same room;
        else from ink to ink, since a V reaches over the foot of an A.
        """
        letter, after = one.letter, other.letter
        widths_mm = (letter.width_mm + after.width_mm) / 2
        apart_mm = after.from_middle_mm - letter.from_middle_mm - widths_mm
        if apart_mm >= self.gap_mm or not self._nests:
            return apart_mm
        pairs = ((mine, its) for mine in one.placed for its in other.placed)
        found = [gap_between(pair, at_most_em=_SURELY_NEAR_EM) for pair in pairs]
        inks_mm = [gap.gap_em * self.size_mm for gap in found if gap is not None]
        return min(inks_mm) if len(inks_mm) == len(found) else min(apart_mm, 0.0)


class _Stood(NamedTuple):
    """A letter and its curves where they stand, in em."""

    letter: StruckLetter
    placed: tuple[Placed, ...]


def _line(
    set_line: _SetLine, baseline_em: float, along: _Along, pitch_mm: float | None
) -> tuple[StruckLine, list[Placed], list[Near]]:
    """A line with the places of its letters, their curves moved there, and how near they come."""
    text, letters = set_line.text, set_line.letters
    middles_em = targets_em = _middles_em(letters)
    count, size_mm = len(letters), along.size_mm
    if pitch_mm is not None:
        pitch_em = pitch_mm / size_mm
        targets_em = [(at - (count - 1) / 2) * pitch_em for at in range(count)]
    else:
        pitch_em = (middles_em[-1] - middles_em[0]) / (count - 1) if count > 1 else 0.0
    moved_em = 0.0
    if along.group.flush_left and (first := letters[0].ink) is not None:
        moved_em = along.group.box[0] + (first[2] - first[0]) / 2 - targets_em[0]
    targets_em = [each + moved_em for each in targets_em]
    order = sorted(range(count), key=lambda at: letters[at].start)
    numbers = {at: number for number, at in enumerate(order, 1)}
    stood: list[_Stood] = []
    for at, letter in enumerate(letters):
        left_em, _bottom, right_em, _top = letter.ink or (middles_em[at], 0.0, middles_em[at], 0.0)
        from_middle_mm = targets_em[at] * size_mm + along.middle_mm
        struck = StruckLetter(
            number=numbers[at],
            letter=letter.text,
            from_middle_mm=from_middle_mm,
            by_count_mm=((at - (count - 1) / 2) * pitch_em + moved_em) * size_mm + along.middle_mm,
            width_mm=(right_em - left_em) * size_mm,
            from_head_mm=along.from_head_mm((from_middle_mm, 0.0)) if along.along_back else None,
        )
        shift_em = targets_em[at] - (left_em + right_em) / 2
        placed = tuple((one, x + shift_em, y + baseline_em) for one, x, y in letter.placed)
        stood.append(_Stood(struck, placed))
    near = [
        Near(text, one.letter.letter, other.letter.letter, along.apart_mm(one, other))
        for one, other in pairwise(one for one in stood if not one.letter.is_space)
    ]
    foot_mm = along.foot_mm + baseline_em * size_mm
    line = _whole_line(set_line, tuple(one.letter for one in stood), foot_mm, along, near)
    return line, list(chain.from_iterable(one.placed for one in stood)), near


def _whole_line(
    set_line: _SetLine,
    struck: tuple[StruckLetter, ...],
    foot_mm: float,
    along: _Along,
    near: Sequence[Near],
) -> StruckLine:
    """A line with what follows from the places of its letters."""
    count = len(struck)
    beside = (struck[(count - 1) // 2], struck[count // 2])
    inked = [letter for letter in struck if not letter.is_space]
    title, em_mm = set_line.title, set_line.scale * along.size_mm
    reach_mm = inked[-1].from_middle_mm - inked[0].from_middle_mm
    return StruckLine(
        text=set_line.text,
        places=count,
        middle=(count + 1) / 2,
        middle_from_middle_mm=sum(one.from_middle_mm for one in beside) / 2,
        length_mm=reach_mm + (inked[0].width_mm + inked[-1].width_mm) / 2,
        foot_mm=foot_mm,
        foot_from_head_mm=None if along.along_back else along.from_head_mm((0.0, foot_mm)),
        least_gap_mm=min((pair.apart_mm for pair in near), default=None),
        letters=struck,
        set_pt=round(pt_from_mm(em_mm), 6),
        head_mm=title.reading_height_em * em_mm,
        x_height_mm=None if title.all_capitals else title.x_height_em * em_mm,
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
