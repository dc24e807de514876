"""What keeps the titles of a set from being larger, and may one thin volume go its own way?

In: the volumes of a set and what they have in common. Out: the `Limit`; and of titles alone what
the handbook allows the limiting volume rather than shrink the whole set (smaller, broken into
more lines, or along), each judged by itself, beside the size the others gain.
Source: Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115; the least gain is
rules.toml sets.compromise_gain.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence

from spinefit.plan.attempt import Attempt
from spinefit.plan.common import Arrangement, Common, Volume, common_of
from spinefit.plan.model import BackPlan, Role
from spinefit.plan.result import Compromise, Limit, PlannedText
from spinefit.plan.standing import Standing, judged_in
from spinefit.vocabulary import Orientation

__all__ = ["compromises_for", "limit_of"]

_LEAST_VOLUMES = 3  # one thin among thick ones


def limit_of(found: Attempt) -> Limit:
    """The volume and the text without which the title could be larger.

    Of several volumes, or texts, the one that gives most; a title is its own limit where no
    other text is. Of titles alone it is the volume that takes the least.
    """
    common, arranged = found.common, found.common.arrangement
    if arranged.titles_only:
        return Limit(common.volumes[_limiting_place(common)].label, Role.TITLE)
    if not found.fits or common.solution is None:
        return Limit()
    now_pt = common.solution.title_pt
    volume, gain = None, now_pt
    for one in common.volumes:
        rest = tuple(each for each in common.volumes if each is not one)
        title_pt = _title_pt(arranged._replace(volumes=rest))
        if title_pt > gain:
            volume, gain = one.label, title_pt
    role: Role | None = None
    gain = now_pt
    for left_out in common.demands:
        if left_out is not Role.TITLE:
            title_pt = _title_pt(arranged, without=(left_out,))
            if title_pt > gain:
                role, gain = left_out, title_pt
    if role is None and volume is not None:
        role = Role.TITLE
    return Limit(volume, role)


def _title_pt(arrangement: Arrangement, *, without: Collection[Role] = ()) -> float:
    found = common_of(arrangement, without=without)
    return found.solution.title_pt if found.is_complete and found.solution is not None else 0.0


def _limiting_place(common: Common) -> int:
    """Which volume takes the smallest title, from 0."""
    lines = common.lines(Role.TITLE)
    limits = []
    for one in common.volumes:
        settings = one.demands[Role.TITLE].settings
        own = next((each for each in settings if each.lines == lines), settings[0])
        limits.append((own.advised_pt, own.largest_pt))
    return limits.index(min(limits))


def compromises_for(
    found: Attempt, plan_again: Callable[[Sequence[Volume]], Attempt]
) -> tuple[Compromise, ...]:
    """What the limiting volume may do so that the others gain; none where little is gained.

    Args:
        found: the setting of all.
        plan_again: finds that of some of its volumes.
    """
    common, volumes = found.common, found.common.volumes
    asked = volumes[0].plan.lettering.size_pt
    if not common.arrangement.titles_only or len(volumes) < _LEAST_VOLUMES or asked is not None:
        return ()
    thin = volumes[_limiting_place(common)]
    gained = plan_again([one for one in volumes if one is not thin])
    gain = volumes[0].job.rules.value("sets.compromise_gain")
    others_pt = gained.common.title_pt
    if not gained.fits or (found.fits and others_pt < gain * common.title_pt):
        return ()
    return tuple(
        Compromise(thin.label, change, text, others_pt)
        for change, text in _what_it_may_do(thin.plan, gained)
    )


def _what_it_may_do(own: BackPlan, gained: Attempt) -> Iterator[tuple[str, PlannedText]]:
    """The ways that fit."""
    common = gained.common
    orientation = common.seats[0].orientation
    lines = common.lines(Role.TITLE)
    leading_em = gained.texts[0][0].job.lettering.leading_em
    least_pt = 0.0
    for change, count in _numbers_of_lines(own, orientation, lines):
        standing = Standing(orientation=orientation, lines=count, leading_em=leading_em)
        text = _fitting(own, standing)
        if text is not None and text.set_pt > least_pt:
            least_pt = text.set_pt
            yield change, text
            if change == "broken":
                break
    if orientation is Orientation.TRANSVERSE:
        text = _fitting(own, Standing(orientation=Orientation.LONGITUDINAL))
        if text is not None:
            yield "along", text


def _numbers_of_lines(
    own: BackPlan, orientation: Orientation, lines: int | None
) -> list[tuple[str, int]]:
    """The number of the others, where its title has so many, then greater ones.

    Of the greater ones that of the largest size comes first.
    """
    _job, judged = judged_in(own, own.texts[0], Standing(orientation=orientation))
    listed = [one for one in judged.judgement.judged if not one.over_bands]
    wanted = lines or 1
    same = any(len(one.lines) == wanted for one in listed)
    sizes = {len(one.lines): one.set_pt for one in listed if one.fits and len(one.lines) > wanted}
    more = sorted(sizes, key=lambda at: (-sizes[at], at))
    return [("smaller", wanted)] * same + [("broken", count) for count in more]


def _fitting(own: BackPlan, standing: Standing) -> PlannedText | None:
    """The title at the size it is advised so, asked for outright; None where none fits."""
    title = own.texts[0]
    _job, advised = judged_in(own, title, standing)
    if not advised.fits:
        return None
    shown = advised.judgement.shown
    outright = standing._replace(lines=len(shown.lines), size_pt=shown.set_pt)
    job, judged = judged_in(own, title, outright)
    return PlannedText(title.role, title.text, judged.panel.number, None, job, judged)
