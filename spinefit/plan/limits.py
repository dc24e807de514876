"""What keeps the titles of a set from being larger?

In: the volumes of a set that are lettered alike, and what they have in common. Out: the `Limit`.
"""

from __future__ import annotations

from spinefit.plan.attempt import Attempt
from spinefit.plan.common import Common, title_pt_of
from spinefit.plan.result import Limit
from spinefit.vocabulary import Role


def limit_of(found: Attempt) -> Limit:
    """The volume and the text without which the title could be larger.

    Of several volumes, or texts, the one that gives most; a title is its own limit where no
    other text is. Of titles alone it is the volume that takes the least.
    """
    common, arranged = found.common, found.common.arrangement
    if arranged.titles_only:
        return Limit(common.volumes[_limiting_place(common)].label, Role.TITLE)
    if not found.fits or common.solution is None or len(common.volumes) == 1:
        return Limit()
    now_pt = common.solution.title_pt
    volume, gain = None, now_pt
    for one in common.volumes:
        rest = tuple(each for each in common.volumes if each is not one)
        title_pt = title_pt_of(arranged._replace(volumes=rest))
        if title_pt > gain:
            volume, gain = one.label, title_pt
    role: Role | None = None
    gain = now_pt
    for left_out in common.demands:
        if left_out is not Role.TITLE:
            title_pt = title_pt_of(arranged, without=(left_out,))
            if title_pt > gain:
                role, gain = left_out, title_pt
    if role is None and volume is not None:
        role = Role.TITLE
    return Limit(volume, role)


def _limiting_place(common: Common) -> int:
    """Which volume takes the smallest title, from 0."""
    lines = common.lines(Role.TITLE)
    limits = []
    for one in common.volumes:
        settings = one.demands[Role.TITLE].settings
        own = next((each for each in settings if each.lines == lines), settings[0])
        limits.append((own.advised_pt, own.largest_pt))
    return limits.index(min(limits))
