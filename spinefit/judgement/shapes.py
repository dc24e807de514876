"""Which shapes could the group of lines have, and how large is the title in each?

In: a resolved job. Out: for each shape that the handbooks name the largest split of that shape, as
it is judged when that shape is asked for; those that no split has are left out. By eye a binder
chooses between them: nothing is advised here.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.laying import found_of_shape
from spinefit.judgement.reading import largest_of
from spinefit.judgement.sizing import judge_layouts
from spinefit.judgement.verdict import panel_of
from spinefit.shaping import shape_titles
from spinefit.vocabulary import GroupShape


def shapes_of(job: ResolvedJob) -> Iterator[tuple[GroupShape, Judged]]:
    """Each shape that a split of the title has, with the largest split of it.

    Args:
        job: its shape, if any was asked for, is passed over.
    """
    titles, panel = shape_titles(job), panel_of(job)
    for shape in GroupShape:
        layouts = found_of_shape(job, titles, panel, shape)
        if layouts:
            yield shape, largest_of(judge_layouts(job, titles[0], layouts))
