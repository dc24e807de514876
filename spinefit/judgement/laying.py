"""Which layouts of a title are there to be judged?

In: the job, its title (for each size of a set of tools), its panel. Out: every layout, laid in
every size where each has letters of its own; a shape of the lines that no split has is refused.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit import catalogue
from spinefit.errors import FieldError
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout import Layout, search
from spinefit.shaping import ShapedTitle
from spinefit.vocabulary import GroupShape


def layouts_of(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel
) -> tuple[Layout, ...]:
    """Every layout, laid in every size where each size has letters of its own.

    Raises:
        FieldError: more lines asked for than the title has pieces, or a shape that none has.
    """
    shape = job.lettering.group_shape
    if shape is None:
        return _found(job, titles, panel)
    if titles[0].stack:
        raise FieldError(
            "a shape is that of the lines of one text, not of several in a label",
            value=str(shape), where="--shape",
            remedy="leave it out, or force the breaks with ' / '",
        )  # fmt: skip
    found = found_of_shape(job, titles, panel, shape)
    if not found:
        raise _no_such_shape(job, titles, panel)
    return found


def found_of_shape(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel, shape: GroupShape
) -> tuple[Layout, ...]:
    """The layouts of a shape, whichever the job asks for; none where no split has it."""
    return _found(job._replace(lettering=job.lettering._replace(group_shape=shape)), titles, panel)


def _found(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel
) -> tuple[Layout, ...]:
    words = catalogue.title_words(job.language)
    if titles[0].optical is not None:
        from spinefit.layout.optical import search_optical

        return search_optical(job, titles[0], panel, words)
    if len(titles) == 1:
        return search(job, titles[0], panel, words)
    from spinefit.layout.in_sizes import search_sizes

    return search_sizes(job, titles, panel, words)


def _no_such_shape(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel
) -> FieldError:
    """That no split of the title has the shape asked for, and which shapes it has."""
    has = [one for one in GroupShape if found_of_shape(job, titles, panel, one)]
    of_lines = "" if job.lettering.lines is None else f" into {job.lettering.lines} lines"
    return FieldError(
        f"no split of the title{of_lines} has that shape", value=str(job.lettering.group_shape),
        where="--shape", remedy=f"it has {', '.join(has)}" if has else "leave --shape out",
    )  # fmt: skip
