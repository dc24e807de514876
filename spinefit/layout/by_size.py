"""Which settings are possible where each size has letters of its own proportions?

In: the job, its title once for each size of a set of tools, its usable panel. Out: every
layout that any size finds, laid in every size, so that a judge can say of each layout which
sizes fit in it. Finding the layouts of one size is for `search`.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.search import Layout, laid_again, search
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Orientation

__all__ = ["Setting", "search_sizes", "setting_of"]

Setting = tuple[bool, int, int, tuple[str, ...]]
"""What makes a layout the same in every size; in the order in which layouts are listed."""

_ORDER = (Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR)


def setting_of(layout: Layout) -> Setting:
    """What a layout has in common with those of the same lines in other sizes."""
    candidate, texts = layout.candidate, layout.group.texts
    return layout.over_bands, _ORDER.index(candidate.orientation), len(texts), texts


def search_sizes(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel, words: TitleWords
) -> tuple[Layout, ...]:
    """Every layout in every size: setting by setting, in each the sizes as they came.

    Args:
        job: the resolved job.
        titles: its title, once for each size.
        panel: its usable panel, before clearance.
        words: small words of the title's language.
    """
    found: list[dict[Setting, Layout]] = [
        {setting_of(one): one for one in reversed(search(job, title, panel, words))}
        for title in titles
    ]
    known: dict[Setting, Layout] = {}
    for own in found:
        known = {**own, **known}
    settings = sorted(known, key=lambda setting: setting[:3])
    return tuple(
        own.get(setting) or laid_again(job, title, words, known[setting])
        for setting in settings
        for title, own in zip(titles, found, strict=True)
    )
