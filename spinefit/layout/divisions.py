"""Which splits of one title are worth laying out?

In: a shaped title, cut between words or inside them too. Out: its splits, the lines of each,
and the bounds on their ends; worked out once, whatever panel they are laid in.
"""

from __future__ import annotations

from functools import cached_property, lru_cache

from spinefit.layout.ends import EndBound, bottoms_of, end_bounds, tops_of
from spinefit.layout.lines import Lines, broken_words, lines_of
from spinefit.layout.listed import MOST_LISTED, ListedSplits
from spinefit.layout.splits import LineFigures, Split, Splitter
from spinefit.layout.title_rules import Sense, begin_phrases, line_penalty, whole_word_penalties
from spinefit.shaping.run import ShapedRun
from spinefit.vocabulary import BreakWords

__all__ = ["Divisions", "divisions_of", "splitter_of"]


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
        self._equal_share = words.equal_share
        self.splitter = splitter_of(run, run.line_widths, words)
        self._least: dict[int, Split] = {}
        self._lines: dict[Split, Lines] = {}

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
            return lines_of(self._run, split, self.leading, reads, self._equal_share)
        # No line reaches higher or lower than the whole title, and the leading is more than that
        # height: the first line is the highest, the last the lowest.
        top = self.tops[split[0][1]]
        bottom = self.bottoms[split[-1][0]] - self.leading * (len(split) - 1)
        whole_words = self.mode is BreakWords.NEVER
        return Lines(
            self._run,
            split,
            self.splitter.widths_of(split),
            (top, bottom),
            leading=self.leading,
            broken=(False,) * len(split) if whole_words else broken_words(self._run, split),
            reads=reads,
            equal_share=self._equal_share,
        )

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
    kind = ListedSplits if len(pieces) <= MOST_LISTED else Splitter
    whole = [
        "" if at and pieces[at - 1].in_word else run.text[piece.start : piece.end]
        for at, piece in enumerate(pieces)
    ]
    return kind(
        forced_after=tuple(piece.forced_after for piece in pieces),
        widths=widths,
        penalties=_penalties(run, words),
        equal_share=words.equal_share,
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
