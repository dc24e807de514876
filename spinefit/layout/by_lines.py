"""Which layouts has a title, by their number of lines, and how large can those at most be?

In: the job, its title alone, a panel that is a plain rectangle. Out: the layouts of `search`, an
`InLines` for each orientation and number of lines: splits are searched when they are asked for, so
that whoever wants the best looks at few. Its bound is of the narrowest split, and of the lowest
top and highest bottom that any split has.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.search import PanelSearch, over_bands
from spinefit.layout.standing import Candidate, Layout, Standing, candidates
from spinefit.shaping.title import ShapedTitle


class InLines(NamedTuple):
    """The layouts of one orientation in one number of lines, searched when they are asked for.

    Attributes:
        candidate: the orientation.
        lines: the number of lines.
        layouts: gives them.
        bound: gives a size, em in mm, that none of them exceeds, and a height in em that none falls
            short of: those of the narrowest and the lowest; None of lines over the bands.
    """

    candidate: Candidate
    lines: int
    layouts: Callable[[], Iterable[Layout]]
    bound: Callable[[], tuple[float, float]] | None = None


def by_lines(
    job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
) -> list[InLines]:
    """The layouts that `search` gives, by orientation and number of lines.

    Args:
        job: one that asks for no shape, no pillar and no broken word, in a plain rectangle.
        title: its title alone, in letters that are the same in every size.
        panel: as of `search`.
        words: as of `search`.

    Raises:
        FieldError: as of `search`.
    """
    in_panel, wanted = PanelSearch(job, title, panel, words), candidates(job, title)
    found = []
    for one in wanted:
        standing = Standing(job, title, panel, one)
        for lines in in_panel.may_have(one):
            of_them = partial(in_panel.in_lines, standing, lines)
            found.append(InLines(one, lines, of_them, partial(in_panel.bound, standing, lines)))
    over = partial(over_bands, job, title, panel, words, wanted)
    return [*found, InLines(wanted[-1], 1, over)]
