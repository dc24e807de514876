"""Which layouts has a title, by their number of lines, and how large can those at most be?

In: the job, its title alone, a panel that is a plain rectangle. Out: the layouts of `search`, an
`InLines` for each orientation and number of lines: splits are searched when they are asked for, so
that whoever wants the best looks at few. Its bounds are of the narrowest split, and of the lowest
top and highest bottom that any split has.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import NamedTuple

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.search import PanelSearch, over_bands
from spinefit.layout.standing import Layout, Standing, candidates
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Orientation


class InLines(NamedTuple):
    """The layouts of one orientation in one number of lines, searched when they are asked for.

    Attributes:
        standing: the orientation in its panel.
        lines: the number of lines.
        of: what searches the title there.
    """

    standing: Standing
    lines: int
    of: PanelSearch

    @property
    def orientation(self) -> Orientation:
        """Which way the lines stand."""
        return self.standing.candidate.orientation

    def layouts(self) -> Iterable[Layout]:
        """The layouts."""
        return self.of.in_lines(self.standing, self.lines)

    def largest(self) -> Iterable[Layout]:
        """The first of them, and a larger one if there is one: the largest of all."""
        return self.of.largest_in_lines(self.standing, self.lines)

    def size_mm(self) -> float:
        """A size, em in mm, that none of them exceeds: of the narrowest and the lowest of them."""
        return self.of.size_bound_mm(self.standing, self.lines)

    def height_em(self) -> float:
        """The height of ink that none of them falls short of; it grows with the lines from two on.

        As exact as sums of heights are.
        """
        return self.of.least_height_em(self.lines)


def by_lines(
    job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
) -> tuple[list[InLines], partial[Iterator[Layout]]]:
    """The layouts that `search` gives: by orientation and number of lines, then over the bands.

    Args:
        job: one that asks for no shape, no pillar and no broken word, in a plain rectangle.
        title: its title alone, in letters that are the same in every size.
        panel: as of `search`.
        words: as of `search`.

    Raises:
        FieldError: as of `search`.
    """
    in_panel, wanted = PanelSearch(job, title, panel, words), candidates(job, title)
    standings = [Standing(job, title, panel, one) for one in wanted]
    found = [
        InLines(standing, lines, in_panel)
        for standing in standings
        for lines in in_panel.may_have(standing.candidate)
    ]
    return found, partial(over_bands, job, title, panel, words, wanted)
