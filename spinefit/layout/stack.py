"""In which lines do the texts of one label stand, one under another, with rules between them?

In: a shaped title that is the leading text of a label, and ways to break each of its texts. Out: a
`Group` of all lines at one em, each centred on its ink. The space between the ink of one line and
the next is the same over the whole label, a rule counting as a line (Adam, Practical Bookbinding,
1903); within a text baselines are equally far apart, so that there it is the least of the spaces.
So much of a text matters to the others: how wide it is and how deep. The lowest group no wider than
each width there is therefore the largest in any rectangle: no other split need be laid.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.layout.by_hand import extents_of, moved_line
from spinefit.layout.divisions import Divisions, SetLines, divisions_of
from spinefit.layout.group import Group, SetLine
from spinefit.layout.sense import Sense
from spinefit.layout.splits import Split
from spinefit.shaping.glyphs import Box
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.title import SetRule, SetText, ShapedTitle
from spinefit.tolerances import MEASURE_SHARE, SAME_SHARE
from spinefit.vocabulary import BreakWords, Centre, Measure

_MOST_SPLITS = 4096  # all of thirteen pieces; of longer texts the narrowest of each number of lines


class Way(NamedTuple):
    """One way to break a text into lines.

    Attributes:
        split: first and last piece of each line.
        width_em: of its widest line, in em of its own size.
        depth_em: from the top of the first line's ink to the bottom of the last one's, the space
            between lines not counted.
        penalty: how badly it reads.
    """

    split: Split
    width_em: float
    depth_em: float
    penalty: float

    @property
    def lines(self) -> int:
        """How many lines it has."""
        return len(self.split)


def gap_em_of(title: ShapedTitle, asked_em: float | None, rules: Rules) -> float:
    """The space between the ink of two lines of a label, in em of its leading text.

    Args:
        title: the leading text.
        asked_em: the distance of baselines that was asked for, as of capitals; or None.
        rules: for the usual and the least space.
    """
    cap_em = title.cap_height_em
    least_em = rules.value("lines.least_gap") * cap_em
    if asked_em is None:
        return max(least_em, (rules.value("lines.capitals_leading") - 1) * cap_em)
    return max(least_em, asked_em - cap_em)


class TextWays:
    """The ways to break one text, worked out once whatever stands beside it.

    Attributes:
        divisions: its splits.
        run: what its lines are cut out of.
    """

    def __init__(self, run: ShapedRun, words: Sense, most_lines: int) -> None:
        self.run = run
        self.divisions: Divisions = divisions_of(run, BreakWords.NEVER, words, 0.0)
        splitter = self.divisions.splitter
        counts = range(splitter.least_lines, min(max(most_lines, splitter.least_lines),
                                                 splitter.count) + 1)  # fmt: skip
        self._of = {count: self._ways(count) for count in counts}

    def of(self, counts: Sequence[int] | None, *, most_penalty: float) -> list[Way]:
        """The ways in these numbers of lines, or in any; none is both wider and deeper.

        Args:
            counts: the numbers of lines; None for any.
            most_penalty: those that read as badly or worse are passed over, where others are left.
        """
        found: list[Way] = []
        for count, ways in self._of.items():
            if counts is None or count in counts:
                sound = [way for way in ways if way.penalty < most_penalty]
                found += _lowest_first(sound)
        if found or most_penalty == math.inf:
            return found
        return self.of(counts, most_penalty=math.inf)

    def reading_best(self, lines: int, width_em: float) -> Way | None:
        """The way in so many lines, no wider than that, which reads best."""
        split = self.divisions.splitter.best_within(lines, width_em)
        return None if split is None else self._way(split)

    def way(self, split: Split) -> Way:
        """The way that a split is."""
        return self._way(split)

    def _ways(self, lines: int) -> Sequence[Way]:
        splitter = self.divisions.splitter
        if math.comb(splitter.count - 1, lines - 1) > _MOST_SPLITS:
            return (self._way(self.divisions.least(lines)),)
        found = sorted(
            (self._way(split) for split in _splits(splitter.count, lines)
             if all(splitter.may_be_line(first, last) for first, last in split)),
            key=lambda way: (way.width_em, way.depth_em, way.penalty),
        )  # fmt: skip
        return found

    def _way(self, split: Split) -> Way:
        boxes = [self.run.line_ink(first, last) for first, last in split]
        width_em = max(box[2] - box[0] for box in boxes)
        penalty = self.divisions.splitter.penalty_of(split)
        return Way(split, width_em, _depth_em(boxes, 0.0), penalty)


def _splits(pieces: int, lines: int) -> Iterator[Split]:
    """Every split of so many pieces into so many lines."""
    for breaks in itertools.combinations(range(1, pieces), lines - 1):
        yield tuple(
            (first, after - 1) for first, after in zip((0, *breaks), (*breaks, pieces), strict=True)
        )


def _lowest_first(ways: Sequence[Way]) -> Iterator[Way]:
    """Of ways that grow wider, those lower than all before."""
    lowest = math.inf
    for way in ways:
        if way.depth_em < lowest * (1 - SAME_SHARE) or lowest == math.inf:
            lowest = way.depth_em
            yield way


def _pitch_em(boxes: Sequence[Box], gap_em: float) -> float:
    """From each baseline of a text to the next, so that the least space between lines is that."""
    seams = [after[3] - before[1] for before, after in itertools.pairwise(boxes)]
    return max(seams) + gap_em if seams else 0.0


def _depth_em(boxes: Sequence[Box], gap_em: float) -> float:
    pitch_em = _pitch_em(boxes, gap_em)
    return boxes[0][3] - boxes[-1][1] + pitch_em * (len(boxes) - 1)


@lru_cache(maxsize=24)
def ways_of(run: ShapedRun, words: Sense, most_lines: int) -> TextWays:
    """The ways to break a text; the last few are kept, since remedies lay them in other places.

    Args:
        run: what its lines are cut out of.
        words: what decides how a split reads.
        most_lines: more are not looked for, unless its forced breaks make them.
    """
    return TextWays(run, words, most_lines)


class Stacker:
    """Lays the texts of a label one under another.

    Args:
        title: the leading text, with its label.
        gap_em: the space between the ink of two lines, in em of the leading text.
        measure_mm: how long a rule of full measure is; None as long as the widest line.
        short_share: a short rule in parts of the widest line.
        words: what decides how a split reads.
        most_lines: more are not looked for in one text.
    """

    def __init__(
        self,
        title: ShapedTitle,
        *,
        gap_em: float,
        measure_mm: float | None,
        short_share: float,
        words: Sense,
        most_lines: int,
    ) -> None:
        self._title, self._gap_em = title, gap_em
        self._measure_mm, self._short_share = measure_mm, short_share
        self._texts = title.texts
        self._ways = [ways_of(text.title.run, words, most_lines) for text in self._texts]

    def lowest(
        self, leading_lines: Sequence[int], *, most_penalty: float = math.inf
    ) -> Iterator[tuple[Way, ...]]:
        """Of every width that a text can have, the lowest ways of all texts that are no wider.

        The narrowest first; each is lower than all that are narrower.

        Args:
            leading_lines: how many lines the leading text may have.
            most_penalty: as of `TextWays.of`.
        """
        own = [
            [
                (way.width_em * text.scale, self._adds_em(text, way), way)
                for way in ways.of(_counts(text, leading_lines), most_penalty=most_penalty)
            ]
            for text, ways in zip(self._texts, self._ways, strict=True)
        ]
        lowest_em = math.inf
        for width_em in sorted({width for each in own for width, _depth, _way in each}):
            most_em = width_em * (1 + SAME_SHARE)
            narrow = [[one for one in each if one[0] <= most_em] for each in own]
            if not all(narrow):
                continue
            chosen = [min(each, key=lambda one: (one[1], one[0])) for each in narrow]
            depth_em = sum(depth for _width, depth, _way in chosen)
            if depth_em < lowest_em * (1 - SAME_SHARE) or lowest_em == math.inf:
                lowest_em = depth_em
                yield tuple(way for _width, _depth, way in chosen)

    def _adds_em(self, text: SetText, way: Way) -> float:
        """How much a text adds to the depth of the label, a space for each of its lines."""
        return way.depth_em * text.scale + way.lines * self._gap_em

    def reading_best(self, ways: Sequence[Way], width_em: float) -> tuple[Way, ...]:
        """In as many lines each, and no wider than that, the ways that read best."""
        return tuple(
            own.reading_best(way.lines, width_em / text.scale) or way
            for own, way, text in zip(self._ways, ways, self._texts, strict=True)
        )

    def again(self, splits: Sequence[Split]) -> tuple[Way, ...]:
        """The ways that these splits are in the letters of another size."""
        return tuple(own.way(split) for own, split in zip(self._ways, splits, strict=True))

    def group(self, ways: Sequence[Way]) -> Group:
        """The label with its texts broken so, its ink about its middle."""
        lines, rules_at = self._set(ways)
        widest_em = max(line.width_em for line in lines)
        rules = tuple(self._rule(rule, top_em, widest_em) for rule, top_em in rules_at)
        first_em = lines[0].baseline_em
        splitters = [own.divisions.splitter for own in self._ways]
        stacked = SetLines(
            texts=tuple(line.text for line in lines),
            widths_em=tuple(line.width_em for line in lines),
            depths_em=tuple(first_em - line.baseline_em for line in lines),
            broken=(False,) * len(lines),
            penalty=sum(way.penalty for way in ways),
            phrases=sum(
                own.phrases_of(way.split) for own, way in zip(splitters, ways, strict=True)
            ),
            shape=self._shape(ways),
            strands_small_words=any(
                own.divisions.lines(way.split).strands_small_words
                for own, way in zip(self._ways, ways, strict=True)
            ),
            splits=tuple(way.split for way in ways),
        )
        return Group(
            stacked,
            extents_of(lines, [box for rule in rules for box in rule]),
            Centre.INK,
            -first_em,
            set_lines=lines,
            rules=rules,
            gap_em=self._gap_em,
        )

    def _set(self, ways: Sequence[Way]) -> tuple[tuple[SetLine, ...], list[tuple[SetRule, float]]]:
        """The lines and the top of each rule about the middle of the ink as it is by rule."""
        chosen = iter(zip(self._texts, ways, strict=True))
        lines: list[SetLine] = []
        rules: list[tuple[SetRule, float]] = []
        top_em = self._gap_em
        for item in self._title.stack:
            top_em -= self._gap_em
            if isinstance(item, SetRule):
                rules.append((item, top_em))
                top_em -= sum(item.ruling_mm) / item.em_mm
                continue
            text, way = next(chosen)
            own, top_em = _lines_of(text, way.split, top_em, self._gap_em)
            lines += own
        half_em = -top_em / 2
        moved = tuple(line._replace(baseline_em=line.baseline_em + half_em) for line in lines)
        return moved, [(rule, at_em + half_em) for rule, at_em in rules]

    def _rule(self, rule: SetRule, top_em: float, widest_em: float) -> tuple[Box, ...]:
        """The lines of a rule, from the top."""
        length_em = widest_em
        if rule.measure is Measure.SHORT:
            length_em *= self._short_share
        elif self._measure_mm is not None:
            length_em = max(widest_em, self._measure_mm / rule.em_mm * (1 - MEASURE_SHARE))
        found: list[Box] = []
        for at, thickness_mm in enumerate(rule.ruling_mm):
            bottom_em = top_em - thickness_mm / rule.em_mm
            if at % 2 == 0:
                found.append((-length_em / 2, bottom_em, length_em / 2, top_em))
            top_em = bottom_em
        return tuple(found)

    def _shape(self, ways: Sequence[Way]) -> str:
        """The name of the shape of the leading text's lines."""
        for text, own, way in zip(self._texts, self._ways, ways, strict=True):
            if text.leads:
                return own.divisions.lines(way.split).shape
        return "irregular"


def _counts(text: SetText, leading_lines: Sequence[int]) -> Sequence[int] | None:
    """The numbers of lines that a text may have; None for any."""
    if text.leads:
        return leading_lines
    return (len(text.title.nudges),) if text.title.nudges else None


def _lines_of(
    text: SetText, split: Split, top_em: float, gap_em: float
) -> tuple[list[SetLine], float]:
    """The lines of a text whose ink begins at a height, and where it ends, in em of the leading."""
    run = text.title.run
    boxes = [run.line_ink(first, last) for first, last in split]
    pitch_em = _pitch_em(boxes, gap_em / text.scale) * text.scale
    first_em = top_em - boxes[0][3] * text.scale
    lines = [
        moved_line(text, at, run.line_text(*line), run.line_levels(*line), first_em - pitch_em * at)
        for at, line in enumerate(split)
    ]
    last_em = first_em - pitch_em * (len(split) - 1)
    return lines, last_em + boxes[-1][1] * text.scale
