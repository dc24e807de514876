"""How is a title laid in every size of a set of tools, where each size has letters of its own?

In: a job, its title in each size, its panel. Out: each layout in every size, and what it has in
common with those of the same lines in other sizes.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.search import laid_again, search
from spinefit.layout.standing import Layout, LayoutKey, key_of
from spinefit.shaping.title import ShapedTitle


def search_sizes(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel, words: TitleWords
) -> tuple[Layout, ...]:
    """Every layout in every size of a set of tools, where each size has letters of its own.

    Every layout that any size finds is laid in every size, so that a judge can say of each which
    sizes fit in it: layout by layout, in each the sizes as they came.

    Args:
        job: the resolved job.
        titles: its title, once for each size.
        panel: its usable panel, before clearance.
        words: small words of the title's language.
    """
    found: list[dict[LayoutKey, Layout]] = [
        {key_of(one): one for one in reversed(search(job, title, panel, words))} for title in titles
    ]
    known: dict[LayoutKey, Layout] = {}
    for own in found:
        known = {**own, **known}
    return tuple(
        own.get(key) or laid_again(job, title, words, known[key])
        for key in sorted(known, key=lambda key: key[:3])
        for title, own in zip(titles, found, strict=True)
    )
