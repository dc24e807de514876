"""Which settings of the title are possible, and how large can each be?

The entry point of the layout stage. In: the job, its shaped title, its usable panel. Out: a
`Layout` for every orientation and number of lines, with its exact largest size. For each
number of lines the split with the least greatest line, and beside it a second one where
another split gives a larger size or reads better within a tenth of it.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel, usable_panel
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.candidates import Candidate, candidates
from spinefit.layout.standing import Layout
from spinefit.layout.tries import Tries
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Orientation

__all__ = ["Layout", "laid_again", "search"]


def search(
    job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
) -> tuple[Layout, ...]:
    """Every layout asked for, fitting or not, in the order transverse, longitudinal, pillar.

    Args:
        job: the resolved job.
        title: its shaped title.
        panel: its usable panel, before clearance.
        words: small words of the title's language.

    Raises:
        FieldError: more lines asked for than the title has pieces.
    """
    found: list[Layout] = []
    wanted = candidates(job, title)
    tries = Tries(job, title, panel, words)
    for candidate in wanted:
        found.extend(tries.of(candidate))
    found.extend(_over_bands(job, title, panel, words, wanted))
    return tuple(found)


def _over_bands(
    job: ResolvedJob,
    title: ShapedTitle,
    panel: UsablePanel,
    words: TitleWords,
    wanted: tuple[Candidate, ...],
) -> Iterator[Layout]:
    """Lettering along the whole back over its bands: listed, never advised."""
    whole = _whole_back(job, panel)
    if whole is None:
        return
    for candidate in wanted:
        if candidate.orientation is Orientation.LONGITUDINAL and 1 in candidate.line_counts:
            one_line = candidate._replace(line_counts=range(1, 2))
            for layout in Tries(job, title, whole, words).of(one_line):
                yield layout._replace(over_bands=True)


def _whole_back(job: ResolvedJob, panel: UsablePanel) -> UsablePanel | None:
    """The whole back over its bands; None where there are none, or its height is not known."""
    spine = job.spine
    if spine is None or panel.number is None or spine.height_mm is None:
        return None
    bare = spine._replace(bands=0, bands_at_mm=None, title_panel=1, typed=frozenset())
    return usable_panel(bare, Shape(), job.rules)


def laid_again(job: ResolvedJob, title: ShapedTitle, words: TitleWords, layout: Layout) -> Layout:
    """A layout with its lines broken at the same places, in letters of other proportions.

    Args:
        job: the resolved job.
        title: the same words in the other letters.
        words: small words of the title's language.
        layout: the layout found in its own letters.
    """
    again = Tries(job, title, layout.panel, words).again(layout)
    return again._replace(over_bands=layout.over_bands)
