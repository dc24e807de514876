"""Where do lines stand that a hand moved or spaced, and how far does their ink reach?

In: a text with what was done to its lines at a size, and where they stand by rule. Out: the lines
moved. The placing point stays where the rule has it, so that a line which is moved moves alone;
and a text is broken as if no line had been moved, so that each value stays with its words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

from spinefit.errors import NoInkError
from spinefit.layout.divisions import Lines, SetLines
from spinefit.layout.group import Group, SetLine, placed_boxes, placed_line
from spinefit.layout.sense import shape_of
from spinefit.shaping.glyphs import Box, Placed
from spinefit.shaping.setter import Levels
from spinefit.shaping.title import SetText, ShapedTitle


def moved_line(text: SetText, at: int, words: str, levels: Levels, baseline_em: float) -> SetLine:
    """A line of a text as it was moved and spaced by hand, if it was.

    Args:
        text: the text it is of.
        at: its place in that.
        words: what stands in it.
        levels: of its characters, or None.
        baseline_em: y of its baseline by rule.

    Raises:
        NoInkError: a line without ink.
    """
    title, up_em = text.title, 0.0
    if title.nudges:
        up_em, title = title.nudges[at]
        up_em *= text.scale
    box = _line_box(title, words, levels and tuple(levels))
    if box is None:
        raise NoInkError(words)
    return SetLine(
        number=text.number,
        title=title,
        scale=text.scale,
        text=words,
        levels=levels,
        baseline_em=baseline_em + up_em,
        up_em=up_em,
        width_em=(box[2] - box[0]) * text.scale,
        reach_em=(box[1] * text.scale, box[3] * text.scale),
    )


@lru_cache(maxsize=256)  # a label is laid in hundreds of sizes, its lines alike in all
def _line_box(title: ShapedTitle, words: str, levels: Levels) -> Box | None:
    return title.set_line(words, levels)[1]


def moved_group(title: ShapedTitle, lines: Lines, group: Group) -> Group:
    """The lines of a title alone as they were moved and spaced by hand.

    Args:
        title: the title.
        lines: its lines.
        group: the same, placed by rule.
    """
    levels = group.levels or (None,) * group.line_count
    by_rule = zip(lines.texts, levels, group.baselines_em, strict=True)
    set_lines = tuple(
        moved_line(SetText(0, title, 1.0), at, words, of_line, baseline_em)
        for at, (words, of_line, baseline_em) in enumerate(by_rule)
    )
    widths = tuple(line.width_em for line in set_lines)
    moved = SetLines(
        texts=lines.texts,
        widths_em=widths,
        depths_em=tuple(-line.baseline_em - group.middle_em for line in set_lines),
        broken=lines.broken,
        penalty=lines.penalty,
        phrases=lines.phrases,
        shape=shape_of(widths, lambda: lines.texts, lines.words),
        strands_small_words=lines.strands_small_words,
        levels=lines.levels,
    )
    return group._replace(lines=moved, box=extents_of(set_lines), set_lines=set_lines)


def extents_of(lines: Sequence[SetLine], rules: Sequence[Box] = ()) -> Box:
    """Ink extents of lines and of the lines of rules, all about x = 0."""
    half = max(*(line.width_em / 2 for line in lines), *(box[2] for box in rules), 0.0)
    bottoms = [line.baseline_em + line.reach_em[0] for line in lines]
    tops = [line.baseline_em + line.reach_em[1] for line in lines]
    return (
        -half,
        min(*bottoms, *(box[1] for box in rules), bottoms[0]),
        half,
        max(*tops, *(box[3] for box in rules), tops[0]),
    )


def meeting(group: Group) -> tuple[str, str] | None:
    """Two lines, the upper one first, whose inks meet, or one of which was moved past the other.

    Args:
        group: the lines at one em, in the size they are set in; a rule is named "the rule".
    """
    by_rule = sorted(_inked(group), key=lambda one: -one.by_rule_em)
    for upper, lower in combinations(by_rule, 2):
        if lower.reach_em[1] < upper.reach_em[0]:
            continue
        if sum(lower.reach_em) >= sum(upper.reach_em) or _touch(upper.ink, lower.ink):
            return upper.name, lower.name
    return None


class _Inked(NamedTuple):
    """A line or a rule: its name, where it stands by rule, its bottom and top, its curves."""

    name: str
    by_rule_em: float
    reach_em: tuple[float, float]
    ink: Sequence[Placed]


def _inked(group: Group) -> Iterator[_Inked]:
    for line in group.set_lines:
        at_em = line.baseline_em
        reach_em = at_em + line.reach_em[0], at_em + line.reach_em[1]
        yield _Inked(line.text, at_em - line.up_em, reach_em, [*placed_line(group, line)])
    for boxes in group.rules:
        reach_em = boxes[-1][1], boxes[0][3]
        yield _Inked("the rule", reach_em[1], reach_em, [*placed_boxes(boxes)])


def _touch(ink: Sequence[Placed], other: Sequence[Placed]) -> bool:
    from spinefit.geometry.polygons import touch

    return any(
        touch(curves, curves_below, (x_below - x, y_below - y))
        for curves, x, y in ink
        for curves_below, x_below, y_below in other
    )
