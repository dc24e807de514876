"""Which volumes of a set are lettered alike, and which go their own way?

In: the volumes of a set, each title planned by itself. Out: a `Parting`: what is lettered alike,
as an `Attempt`, and the volumes set apart: those the person marked, and thin ones.

Volumes are ranked by the title each could have, lettered as most would be by themselves. The
weakest, and all weaker ones with it, are thin where the rest then could have a title larger by the
factor of rules.toml sets.apart_gain; from sets.compromise_gain on that is offered. Thin ones are
fewer than the rest; as many (one of a pair) only where alike all would be smaller than
sets.smallest_share allows one.
Source: Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.plan.attempt import Attempt, attempt_of
from spinefit.plan.common import Arrangement, Volume, title_pt_of
from spinefit.plan.directions import best_attempt, usual_directions


class Parting(NamedTuple):
    """A set parted into what is lettered alike and what is not.

    Attributes:
        alike: the volumes lettered alike, in the order given.
        apart: the others, in the order given.
        could: where none is thin, the volumes without which the rest would still gain something.
    """

    alike: Attempt
    apart: tuple[Volume, ...] = ()
    could: tuple[Volume, ...] = ()


def parted(volumes: Sequence[Volume]) -> Parting:
    """The volumes of a set, parted; one at least is left to set the measure.

    Args:
        volumes: of the set, their titles planned by themselves.
    """
    found = _parted(tuple(one for one in volumes if not one.plan.apart))
    out = {one.label for one in found.apart}
    apart = tuple(one for one in volumes if one.plan.apart or one.label in out)
    return found._replace(apart=apart)


def without(volumes: Sequence[Volume], thin: Sequence[Volume]) -> Attempt:
    """The rest of some volumes, lettered alike."""
    out = {one.label for one in thin}
    rest = tuple(one for one in volumes if one.label not in out)
    titles_only = all(one.plan.is_single for one in volumes)
    own_way = usual_directions(Arrangement(rest, titles_only))
    return best_attempt(rest, titles_only=titles_only, first=own_way)


def _parted(volumes: tuple[Volume, ...]) -> Parting:
    if not _may_part(volumes):
        return Parting(best_attempt(volumes))
    titles_only = all(one.plan.is_single for one in volumes)
    arrangement = Arrangement(volumes, titles_only)
    usual = usual_directions(arrangement)
    tried = attempt_of(arrangement._replace(directions=usual))
    asked, rules = tried.common.arrangement, volumes[0].job.rules
    thin = _thin_of(asked, rules.value("sets.apart_gain"))
    if thin:
        rest = without(volumes, thin)
        if rest.fits:
            return Parting(rest, thin)
    could = _thin_of(asked, rules.value("sets.compromise_gain"))
    return Parting(tried if tried.fits else best_attempt(volumes, first=usual), could=could)


def _may_part(volumes: Sequence[Volume]) -> bool:
    """Whether the set can be parted; a size that was asked for is asked of all."""
    asked = volumes[0].plan.lettering.size_pt is not None or any(
        text.size_pt is not None for text in volumes[0].plan.texts
    )
    return len(volumes) > 1 and not asked and any(one.plan.apart is None for one in volumes)


def _thin_of(arrangement: Arrangement, gain: float) -> tuple[Volume, ...]:
    """The volumes that drag the rest down: the weakest, up to the last such step between two."""
    volumes, rules = arrangement.volumes, arrangement.volumes[0].job.rules
    sizes = {
        one.label: title_pt_of(arrangement._replace(volumes=(one,)))
        for one in volumes
        if one.plan.apart is None
    }
    weakest = sorted(
        (one for one in volumes if one.label in sizes), key=lambda one: sizes[one.label]
    )
    half = len(volumes) / 2
    most_gain = 1 / rules.value("sets.smallest_share")
    thin: tuple[Volume, ...] = ()
    with_it_pt = title_pt_of(arrangement)
    for count in range(1, len(weakest) + 1):
        if count > half or count == len(volumes):
            break
        out = {one.label for one in weakest[:count]}
        rest = tuple(one for one in volumes if one.label not in out)
        without_pt = title_pt_of(arrangement._replace(volumes=rest))
        least = gain if count < half else most_gain
        if without_pt > 0 and without_pt >= least * with_it_pt:
            thin = tuple(weakest[:count])
        with_it_pt = without_pt
    return thin
