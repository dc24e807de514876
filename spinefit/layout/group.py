"""Where does each line of a group stand at a size of one em, and of which curves is it made?

In: the ink of the lines, their distance, and what is put on the middle. Out: a `Group` in
em about its placing point, level, y up; every line's ink is centred on x = 0, or flush left.
Baselines are equally far apart, in em, so that the whole group scales; never so near that the ink
of two lines could meet (common practice, rules.toml lines.*). Outlines are shaped afresh, so that
what is drawn and verified does not rest on the same slices of a run as the sizes do.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.errors import NoInkError
from spinefit.layout.divisions import Lines, LineSet, SetLines
from spinefit.layout.splits import Split
from spinefit.shaping.glyphs import Box, Contour, Placed, Point, scaled_outline
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.setter import Levels
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Centre

FLUSH_LEFT = "flush left"
"""The shape of lines that begin at one edge."""


class SetLine(NamedTuple):
    """A line set by itself: of a label with several texts, or of a title moved by hand.

    Lengths are in em of the leading text.

    Attributes:
        number: which text it is of, as of a `SetText`; 0 of a title alone.
        title: that text in its letters.
        scale: its size over that of the leading text.
        text: the line.
        levels: of its characters, or None.
        baseline_em: y of its baseline from the placing point.
        up_em: how much of that a hand moved it.
        width_em: of its ink.
        reach_em: the bottom and the top of its ink from its baseline.
    """

    number: int
    title: ShapedTitle
    scale: float
    text: str
    levels: Levels
    baseline_em: float
    up_em: float
    width_em: float
    reach_em: tuple[float, float]


class Group(NamedTuple):
    """Lines placed at one em.

    Attributes:
        lines: the lines, whatever they are centred on.
        box: ink extents about the placing point, level.
        centre: what the placing point is the middle of.
        middle_em: its height over the first baseline, or over y = 0 of a pillar.
        columns_em: for columns, where the top of each one's middle stands; else empty. Their
            ``baselines_em`` are those tops, their ``widths_em`` the widths of their ink.
        set_lines: of a label with several texts, or a title with lines moved by hand, each line
            with what sets it; else empty.
        rules: its rules from the top, each the boxes of its lines from the placing point.
        gap_em: the space between the ink of its lines.
        flush_left: True where the lines begin at the left of the box, not about its middle.
    """

    lines: LineSet
    box: Box
    centre: Centre
    middle_em: float = 0.0
    columns_em: tuple[Point, ...] = ()
    set_lines: tuple[SetLine, ...] = ()
    rules: tuple[tuple[Box, ...], ...] = ()
    gap_em: float = 0.0
    flush_left: bool = False

    def first_line(self, height: float) -> float:
        """The first baseline over the placing point where the ink is so high, level."""
        return self.baselines_em[0] * height / (self.box[3] - self.box[1])

    def shift_em(self, left_em: float, right_em: float) -> float:
        """How far a line whose ink reaches so far is moved to stand in the group."""
        return self.box[0] - left_em if self.flush_left else -(left_em + right_em) / 2

    @property
    def line_count(self) -> int:
        """The number of lines."""
        return len(self.lines.broken)

    @property
    def seams(self) -> int:
        """How many spaces there are between its lines, a rule being a line."""
        return self.line_count + len(self.rules) - 1

    @property
    def breaks(self) -> int:
        """How many of them end inside a word."""
        return sum(self.lines.broken)

    @property
    def texts(self) -> tuple[str, ...]:
        """The lines."""
        return self.lines.texts

    @property
    def widths_em(self) -> tuple[float, ...]:
        """Ink width of each."""
        return self.lines.widths_em

    @property
    def baselines_em(self) -> tuple[float, ...]:
        """Y of each baseline from the placing point."""
        middle = self.middle_em
        return tuple([-depth - middle for depth in self.lines.depths_em])

    @property
    def leading_em(self) -> float:
        """From the first baseline to the second by rule, not by hand."""
        first_em, second_em = self.baselines_em[:2]
        by_hand_em = [line.up_em for line in self.set_lines[:2]] or [0.0, 0.0]
        return first_em - second_em - by_hand_em[0] + by_hand_em[1]

    @property
    def shape(self) -> str:
        """The name of the group's shape."""
        return FLUSH_LEFT if self.flush_left else self.lines.shape

    @property
    def broken(self) -> tuple[bool, ...]:
        """For each line, whether it ends inside a word."""
        return self.lines.broken

    @property
    def penalty(self) -> float:
        """How badly the split reads; 0 is good."""
        return self.lines.penalty

    @property
    def levels(self) -> tuple[Levels, ...]:
        """For each line the levels of its characters, or None; empty where all read rightward."""
        return self.lines.levels


def leading_em(title: ShapedTitle, asked_em: float | None, rules: Rules) -> float:
    """The distance of baselines in em, the same for every split of a title.

    Args:
        title: the shaped title.
        asked_em: the distance the person asked for, or None.
        rules: for the usual distances and the least gap.
    """
    cap = title.cap_height_em
    usual = (
        rules.value("lines.capitals_leading") * cap
        if title.all_capitals
        else rules.value("lines.mixed_leading_em")
    )
    return max(usual if asked_em is None else asked_em, least_leading_em(title, rules))


def least_leading_em(title: ShapedTitle, rules: Rules) -> float:
    """Greatest ink ascent plus greatest ink descent plus the least gap, in em."""
    gap = rules.value("lines.least_gap") * title.cap_height_em
    return title.ascent_em + title.descent_em + gap


def vertical_reach(
    title: ShapedTitle, top: float, bottom: float, depth_em: float, centre: Centre
) -> tuple[float, float]:
    """Reach of a group's ink above and below its placing point, in em.

    Args:
        title: for the heights of its capitals and small letters.
        top: ink top of the first line over its baseline.
        bottom: ink bottom of the last line over its baseline (negative below).
        depth_em: from the first baseline to the last.
        centre: ink, or capitals.
    """
    middle = _middle(title, top, bottom - depth_em, depth_em, centre)
    return top - middle, bottom - depth_em - middle


def _middle(
    title: ShapedTitle, top: float, bottom: float, depth_em: float, centre: Centre
) -> float:
    """Y of the placing point over the first baseline."""
    if centre is Centre.CAPITALS:
        band = title.x_height_em if title.mostly_small else title.cap_height_em
        return (band - depth_em) / 2
    return (top + bottom) / 2


def group_of(
    title: ShapedTitle, lines: Lines, *, centre: Centre, flush_left: bool = False
) -> Group:
    """Lines, placed.

    Args:
        title: the shaped title.
        lines: its lines.
        centre: ink, or capitals.
        flush_left: whether the lines begin at the left, not about the middle.
    """
    top, bottom, half = lines.top_em, lines.bottom_em, max(lines.widths_em) / 2
    middle = _middle(title, top, bottom, lines.depth_em, centre)
    box = (-half, bottom - middle, half, top - middle)
    return Group(lines, box, centre, middle, flush_left=flush_left)


def pillar_of(title: ShapedTitle, rules: Rules) -> Group:
    """The title as a pillar: upright letters one under another at a constant pitch.

    Each letter is centred on its ink; a space takes the pitch of a letter. The placing point
    is the middle of the ink.
    """
    letters = title.letters()
    boxes = [box for _text, box in letters if box is not None]
    ascent = max(box[3] for box in boxes)
    descent = max(0.0, *(-box[1] for box in boxes))
    pitch = ascent + descent + rules.value("lines.pillar_gap") * title.cap_height_em
    places = [-pitch * at for at in range(len(letters))]
    inked = [(place, box) for place, (_t, box) in zip(places, letters, strict=True) if box]
    top = max(place + box[3] for place, box in inked)
    bottom = min(place + box[1] for place, box in inked)
    middle = (top + bottom) / 2
    half = max(box[2] - box[0] for box in boxes) / 2
    column = SetLines(
        texts=(title.text,),
        widths_em=(2 * half,),
        depths_em=tuple(middle - place for place in places),
        broken=(False,),
        penalty=0.0,
    )
    return Group(column, (-half, bottom - middle, half, top - middle), Centre.INK)


def columns_of(
    title: ShapedTitle, texts: Sequence[str], *, leading: float, rules: Rules, penalty: float
) -> Group:
    """Columns of upright characters side by side, the second to the left of the first.

    Their first cells stand level; the placing point is the middle of the ink. From the middle
    of one to that of the next it is the leading, or as much more as keeps their ink apart.

    Args:
        title: the shaped title.
        texts: the text of each column.
        leading: the distance of lines in em.
        rules: for the least gap.
        penalty: how badly the split reads.
    """
    boxes = [title.column(text).box or (0.0, 0.0, 0.0, 0.0) for text in texts]
    gap = rules.value("lines.least_gap") * title.cap_height_em
    nearest = [after[2] - before[0] + gap for before, after in itertools.pairwise(boxes)]
    pitch = max(leading, *nearest) if nearest else 0.0
    lefts = [-pitch * at for at in range(len(boxes))]
    left = min(x + box[0] for x, box in zip(lefts, boxes, strict=True))
    right = max(x + box[2] for x, box in zip(lefts, boxes, strict=True))
    bottom, top = min(box[1] for box in boxes), max(box[3] for box in boxes)
    x_middle, y_middle = (left + right) / 2, (top + bottom) / 2
    columns = SetLines(
        texts=tuple(texts),
        widths_em=tuple(box[2] - box[0] for box in boxes),
        depths_em=(y_middle,) * len(boxes),
        broken=(False,) * len(boxes),
        penalty=penalty,
    )
    return Group(
        columns,
        (left - x_middle, bottom - y_middle, right - x_middle, top - y_middle),
        Centre.INK,
        columns_em=tuple((x - x_middle, -y_middle) for x in lefts),
    )


def placed_as_cut(run: ShapedRun, split: Split, group: Group) -> list[Placed]:
    """The outlines of a group of lines as `placed_outlines` gives them, from the run's own glyphs.

    Args:
        run: the run that the group's lines were cut out of.
        split: first and last piece of each line.
        group: the group, placed at one em.
    """
    found: list[Placed] = []
    for (first, last), baseline in zip(split, group.baselines_em, strict=True):
        line, box = run.line_placed(first, last)
        shift = group.shift_em(box[0], box[2])
        found.extend([(outline, x + shift, y + baseline) for outline, x, y in line])
    return found


def placed_outlines(title: ShapedTitle, group: Group, *, pillar: bool) -> list[Placed]:
    """Outlines of a group with where their origins stand, in em.

    Args:
        title: the shaped title.
        group: the group, placed at one em.
        pillar: True where the group is a pillar, a letter a baseline.

    Raises:
        NoInkError: a line without ink.
    """
    if group.columns_em:
        return [
            (outline, x + left, y + top)
            for text, (left, top) in zip(group.texts, group.columns_em, strict=True)
            for outline, x, y in title.column(text).placed
        ]
    if group.set_lines:
        letters = [one for line in group.set_lines for one in placed_line(group, line)]
        return [*letters, *placed_rules(group)]
    texts = [text for text, _box in title.letters()] if pillar else list(group.texts)
    levels = group.levels or (None,) * len(texts)
    found: list[Placed] = []
    for text, baseline, of_line in zip(texts, group.baselines_em, levels, strict=True):
        if pillar and text.isspace():
            continue
        line, box = title.set_line(text, of_line)
        if box is None:
            raise NoInkError(text)
        shift = group.shift_em(box[0], box[2])
        found.extend((outline, x + shift, y + baseline) for outline, x, y in line)
    return found


def placed_line(group: Group, line: SetLine) -> Iterator[Placed]:
    """The letters of one of a group's set lines, in its own size.

    Raises:
        NoInkError: a line without ink.
    """
    letters, box = line.title.set_line(line.text, line.levels)
    if box is None:
        raise NoInkError(line.text)
    scale = line.scale
    shift = group.shift_em(box[0] * scale, box[2] * scale)
    for outline, x, y in letters:
        scaled = outline if scale == 1 else scaled_outline(outline, scale)
        yield scaled, x * scale + shift, y * scale + line.baseline_em


def placed_rules(group: Group) -> Iterator[Placed]:
    """The lines of its rules."""
    return placed_boxes(itertools.chain.from_iterable(group.rules))


def placed_boxes(boxes: Iterable[Box]) -> Iterator[Placed]:
    """Rectangles that run anticlockwise."""
    for left, bottom, right, top in boxes:
        corners = ((right, bottom), (right, top), (left, top))
        yield (Contour((left, bottom), tuple((each,) for each in corners)),), 0.0, 0.0
