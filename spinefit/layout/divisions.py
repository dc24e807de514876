"""Which splits of one title are worth laying out, and what are the lines of each?

In: a shaped title, cut between words or inside them too. Out: its splits, the lines of each,
and the bounds on their ends; worked out once, whatever panel they are laid in. The extents of
`Lines` decide sizes; texts, shape and levels are worked out when they are read, since most
settings are only compared. Plane: em, the first baseline at y = 0, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from math import comb, inf, isinf
from typing import NamedTuple

from spinefit.layout.sense import (
    Sense,
    begin_phrases,
    is_small,
    line_penalty,
    shape_of,
    whole_word_penalties,
)
from spinefit.layout.splits import Ends, LineFigures, Split, Splitter
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.setter import Levels
from spinefit.vocabulary import BreakWords, GroupShape

MOST_SPLITS = 12_000
"""So many splits into one number of lines are all looked at for their shape, in a tenth of a
second: in six lines all there are of 20 pieces, in four those of 42."""


class SetLines(NamedTuple):
    """Columns, the one line of a pillar, or all lines of a label with several texts, as set.

    Attributes:
        texts: their texts.
        widths_em: ink width of each.
        depths_em: from y = 0, or a label's first baseline, down to each letter, column or baseline.
        broken: for each, whether it ends inside a word.
        penalty: how badly the split reads; 0 is good.
        phrases: how many columns after the first begin a phrase.
        shape: the name of their shape; of a label that of its leading text.
        splits: of each text of a label.
    """

    texts: tuple[str, ...]
    widths_em: tuple[float, ...]
    depths_em: tuple[float, ...]
    broken: tuple[bool, ...]
    penalty: float
    phrases: int = 0
    shape: str = "pillar"
    strands_small_words: bool = False
    levels: tuple[Levels, ...] = ()
    splits: tuple[Split, ...] = ()


class Lines(NamedTuple):
    """The lines of a split.

    Attributes:
        run: the run that they are cut out of.
        split: first and last piece of each.
        widths_em: ink width of each.
        top_em, bottom_em: greatest reach of the ink over and under the first baseline.
        leading_em: from each baseline down to the next.
        broken: for each, whether it ends inside a word.
        penalty: how badly the split reads; 0 is good.
        phrases: how many lines after the first begin a phrase.
        words: small words of the title's language, and which widths look equal.
    """

    run: ShapedRun
    split: Split
    widths_em: tuple[float, ...]
    top_em: float
    bottom_em: float
    leading_em: float
    broken: tuple[bool, ...]
    penalty: float
    phrases: int
    words: Sense

    @property
    def texts(self) -> tuple[str, ...]:
        """The lines as they are lettered."""
        return tuple([self.run.line_text(first, last) for first, last in self.split])

    @property
    def shape(self) -> str:
        """The name of their shape."""
        return shape_of(self.widths_em, lambda: self.texts, self.words)

    @property
    def strands_small_words(self) -> bool:
        """Whether one of several lines holds small words only, where these should be joined."""
        fault = self.words.line_alone
        if not 0 < fault <= self.penalty or len(self.split) == 1:
            return False
        return any([is_small(text, self.words) for text in self.texts])

    @property
    def depth_em(self) -> float:
        """From the first baseline down to the last."""
        return self.leading_em * (len(self.split) - 1)

    @property
    def depths_em(self) -> tuple[float, ...]:
        """From the first baseline down to each."""
        return tuple([self.leading_em * at for at in range(len(self.split))])

    @property
    def levels(self) -> tuple[Levels, ...]:
        """For each the levels of its characters; empty where all read from left to right."""
        found = tuple([self.run.line_levels(first, last) for first, last in self.split])
        return found if any(found) else ()


LineSet = SetLines | Lines


def lines_of(
    run: ShapedRun,
    split: Split,
    leading: float,
    reads: tuple[float, int],
    words: Sense,
) -> Lines:
    """The lines of a split of any run.

    Args:
        run: the run the split's pieces belong to.
        split: first and last piece of each line.
        leading: distance of baselines in em.
        reads: its penalty, and how many lines after the first begin a phrase.
        words: as of `Lines`.
    """
    boxes = [run.line_ink(first, last) for first, last in split]
    tops = [box[3] - leading * at for at, box in enumerate(boxes)]
    bottoms = [box[1] - leading * at for at, box in enumerate(boxes)]
    widths = tuple([box[2] - box[0] for box in boxes])
    broken = broken_words(run, split)
    return Lines(run, split, widths, max(tops), min(bottoms), leading, broken, *reads, words)


def broken_words(run: ShapedRun, split: Split) -> tuple[bool, ...]:
    """For each line of a split, whether it ends inside a word; the last piece ends with one."""
    return tuple([run.pieces[last].in_word for _first, last in split])


@lru_cache(maxsize=6)
def divisions_of(run: ShapedRun, mode: BreakWords, words: Sense, leading: float) -> Divisions:
    """The splits of a title; the last few are kept, since remedies lay them in other places.

    Args:
        run: the shaped title, cut as ``mode`` allows.
        mode: whether words may be broken.
        words: what decides how a split reads.
        leading: distance of baselines in em.
    """
    return Divisions(run, mode, words, leading)


class Divisions:
    """The splits of one title.

    Attributes:
        mode: whether words may be broken.
        splitter: finds splits.
        leading: distance of baselines in em.
    """

    def __init__(self, run: ShapedRun, mode: BreakWords, words: Sense, leading: float) -> None:
        self._run = run
        self.mode = mode
        self.leading = leading
        self._words = words
        self.splitter = splitter_of(run, run.line_widths, words)
        self._least: dict[int, Split] = {}
        self._lines: dict[Split, Lines] = {}
        self._shaped: dict[int, dict[str, list[Split]]] = {}

    def may_have(self, lines: int) -> bool:
        """Whether the title can be set in so many lines."""
        return self.splitter.least_lines <= lines <= self.splitter.count

    def has_choice(self, lines: int) -> bool:
        """Whether there is more than one split into so many lines."""
        return self.splitter.least_lines < lines < self.splitter.count

    def least(self, lines: int) -> Split:
        """The split with the least greatest line; ties broken by sense and shape."""
        found = self._least.get(lines)
        if found is None:
            found = self.splitter.only(lines)
            if found is None:
                found = self.splitter.best_within(lines, self.splitter.least_width(lines))
            assert found is not None  # may_have(lines), so there is one
            self._least[lines] = found
        return found

    def lines(self, split: Split) -> Lines:
        """The lines of a split."""
        found = self._lines.get(split)
        if found is None:
            found = self._lines[split] = self._cut(split)
        return found

    def _cut(self, split: Split) -> Lines:
        reads = self.splitter.penalty_of(split), self.splitter.phrases_of(split)
        if not self._run.keeps_ink:
            return lines_of(self._run, split, self.leading, reads, self._words)
        # No line reaches higher or lower than the whole title, and the leading is more than that
        # height: the first line is the highest, the last the lowest.
        top = self.tops[split[0][1]]
        bottom = self.bottoms[split[-1][0]] - self.leading * (len(split) - 1)
        whole_words = self.mode is BreakWords.NEVER
        broken = (False,) * len(split) if whole_words else broken_words(self._run, split)
        widths = self.splitter.widths_of(split)
        return Lines(
            self._run, split, widths, top, bottom, self.leading, broken, *reads, self._words
        )

    def joined(self, lines: int) -> Split | None:
        """The split with the least greatest line, none of its lines small words alone; or None."""
        splitter = self._joined_splitter
        width = splitter.least_width(lines)
        return None if isinf(width) else splitter.best_within(lines, width)

    @cached_property
    def _joined_splitter(self) -> Splitter:
        """Finds splits without lines of small words alone: such a line is wider than any."""
        run, words = self._run, self._words

        def widths(first: int, last: int) -> list[float]:
            found = list(run.line_widths(first, last))
            for to in range(first, last + 1):
                if not is_small(run.line_text(first, to), words):
                    break
                found[to - first] = inf
            return found

        return splitter_of(run, widths, words)

    def of_shape(self, shape: GroupShape, lines: int) -> Sequence[Split]:
        """Every split of a shape, in the order of their breaks.

        None of so many lines that there are more than `MOST_SPLITS` ways to cut them.
        """
        if lines not in self._shaped:
            found: dict[str, list[Split]] = {}
            self._shaped[lines] = found
            if comb(self.splitter.count - 1, lines - 1) <= MOST_SPLITS:
                for split in self.splitter.every(lines):
                    name = self.splitter.shape(self.splitter.widths_of(split), split)
                    found.setdefault(name, []).append(split)
        return self._shaped[lines].get(shape, ())

    @cached_property
    def tops(self) -> dict[int, float]:
        """By the last piece of a first line, its ink's top in em."""
        return tops_of(self._run, self.splitter)

    @cached_property
    def bottoms(self) -> dict[int, float]:
        """By the first piece of a last line, its ink's bottom in em."""
        return bottoms_of(self._run, self.splitter)

    @cached_property
    def reach(self) -> tuple[float, float]:
        """The lowest top of a first line of several, and the highest bottom of a last one."""
        last = max(self.bottoms)
        return (
            min([top for at, top in self.tops.items() if at < last]),
            max([bottom for at, bottom in self.bottoms.items() if at > 0]),
        )

    @cached_property
    def ends(self) -> tuple[EndBound, ...]:
        """The bounds on first and last line that make a difference to their ink."""
        return tuple(end_bounds(self.tops, self.bottoms))


def splitter_of(run: ShapedRun, widths: LineFigures, words: Sense) -> Splitter:
    """What cuts a run into lines, or columns.

    Args:
        run: the shaped title.
        widths: as of `Splitter`; of columns, their lengths.
        words: small words of the title's language, and what each fault weighs.
    """
    pieces = run.pieces
    whole = [
        "" if at and pieces[at - 1].in_word else run.text[piece.start : piece.end]
        for at, piece in enumerate(pieces)
    ]

    def shape(widths: Sequence[float], split: Split) -> str:
        return shape_of(widths, lambda: [run.line_text(*line) for line in split], words)

    return Splitter(
        forced_after=tuple(piece.forced_after for piece in pieces),
        widths=widths,
        penalties=_penalties(run, words),
        shape=shape,
        phrases=begin_phrases(whole, words),
    )


def _penalties(run: ShapedRun, words: Sense) -> LineFigures | None:
    """How badly the lines of a run read; None where none reads badly."""
    pieces, text = run.pieces, run.text
    ends = [piece.forced_after for piece in pieces[:-1]]
    ends.append(True)
    if all([text[piece.end : piece.end + 1].isspace() for piece in pieces[:-1]]):
        texts = [text[piece.start : piece.end] for piece in pieces]
        return whole_word_penalties(texts, ends, words)

    def penalties(first: int, last: int) -> list[float]:
        return [
            line_penalty(
                run.line_text(first, to), is_last=ends[to], in_word=pieces[to].in_word, words=words
            )
            for to in range(first, last + 1)
        ]

    return penalties


class EndBound(NamedTuple):
    """Bounds on the ink at the ends of a group.

    Attributes:
        ends: how long the first and the last line may be.
        top: the highest ink of such a first line over its baseline, in em.
        bottom: the lowest ink of such a last line, in em.
    """

    ends: Ends
    top: float
    bottom: float


def tops_of(run: ShapedRun, splitter: Splitter) -> dict[int, float]:
    """By the last piece of a first line, its ink's top."""
    last = splitter.count - 1
    while not splitter.may_be_line(0, last):
        last -= 1
    return dict(enumerate(run.line_tops(last)))


def bottoms_of(run: ShapedRun, splitter: Splitter) -> dict[int, float]:
    """By the first piece of a last line, its ink's bottom."""
    first, last = 0, splitter.count - 1
    while not splitter.may_be_line(first, last):
        first += 1
    return dict(enumerate(run.line_bottoms(first), first))


def end_bounds(tops: Mapping[int, float], bottoms: Mapping[int, float]) -> Iterator[EndBound]:
    """The bounds on first and last line of several that make a difference to their ink.

    A longer first line never has a lower top, so each distinct top is met once, at the
    longest line that has it; likewise the bottoms.

    Args:
        tops: as `tops_of` gives them.
        bottoms: as `bottoms_of` gives them.
    """
    last = max(bottoms)
    firsts = {at: top for at, top in tops.items() if at < last}
    lasts = {at: bottom for at, bottom in bottoms.items() if at > 0}
    first_tos = [at for at, top in firsts.items() if at + 1 not in firsts or firsts[at + 1] > top]
    last_froms = [
        at for at, bottom in lasts.items() if at - 1 not in lasts or lasts[at - 1] < bottom
    ]
    for first_to in first_tos:
        for last_from in last_froms:
            yield EndBound((first_to, last_from), firsts[first_to], lasts[last_from])
