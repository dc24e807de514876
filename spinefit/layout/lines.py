"""What are the lines of a split, whatever they are centred on?

In: a run and where it is cut. Out: `Lines`, whose extents decide sizes; texts, shape and levels
are worked out when they are read, since most settings are only compared. Plane: em, the first
baseline at y = 0, y up.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.layout.sense import shape_name
from spinefit.layout.splits import Split
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.setter import Levels

__all__ = ["LineSet", "Lines", "SetLines", "broken_words", "lines_of"]


class SetLines(NamedTuple):
    """Columns, or the one line of a pillar, as they are set.

    Attributes:
        texts: their texts.
        widths_em: ink width of each.
        depths_em: from y = 0 down to where each letter of a pillar, or each column, stands.
        broken: for each, whether it ends inside a word.
        penalty: how badly the split reads; 0 is good.
        phrases: how many columns after the first begin a phrase.
    """

    texts: tuple[str, ...]
    widths_em: tuple[float, ...]
    depths_em: tuple[float, ...]
    broken: tuple[bool, ...]
    penalty: float
    phrases: int = 0
    shape: str = "pillar"
    levels: tuple[Levels, ...] = ()


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
        equal_share: as of `shape_name`.
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
    equal_share: float

    @property
    def texts(self) -> tuple[str, ...]:
        """The lines as they are lettered."""
        return tuple([self.run.line_text(first, last) for first, last in self.split])

    @property
    def shape(self) -> str:
        """The name of their shape."""
        return shape_name(self.widths_em, self.equal_share)

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
    equal_share: float,
) -> Lines:
    """The lines of a split of any run.

    Args:
        run: the run the split's pieces belong to.
        split: first and last piece of each line.
        leading: distance of baselines in em.
        reads: its penalty, and how many lines after the first begin a phrase.
        equal_share: as of `shape_name`.
    """
    boxes = [run.line_ink(first, last) for first, last in split]
    tops = [box[3] - leading * at for at, box in enumerate(boxes)]
    bottoms = [box[1] - leading * at for at, box in enumerate(boxes)]
    widths = tuple([box[2] - box[0] for box in boxes])
    broken = broken_words(run, split)
    return Lines(run, split, widths, max(tops), min(bottoms), leading, broken, *reads, equal_share)


def broken_words(run: ShapedRun, split: Split) -> tuple[bool, ...]:
    """For each line of a split, whether it ends inside a word."""
    pieces, last_piece = run.pieces, len(run.pieces) - 1
    return tuple([pieces[last].in_word and last < last_piece for _first, last in split])
