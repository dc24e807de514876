"""Which way do the lines of each seat run?

In: backs to be lettered alike. Out: the directions that come into question, as the backs ask by
themselves, and the first `Attempt` in which everything fits.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from spinefit.plan.attempt import Attempt, attempt_of
from spinefit.plan.common import Arrangement, Directions, Volume
from spinefit.plan.labels import plan_on
from spinefit.plan.model import BackText
from spinefit.plan.result import PlannedText
from spinefit.plan.seats import Seat, SeatKey, SharedLabel
from spinefit.plan.standing import Standing, judged_in, leading_text, size_asked_pt
from spinefit.vocabulary import Orientation

_OTHER_WAY = {
    Orientation.LONGITUDINAL: Orientation.TRANSVERSE,
    Orientation.TRANSVERSE: Orientation.LONGITUDINAL,
    Orientation.PILLAR: Orientation.LONGITUDINAL,
}


def best_attempt(
    volumes: Sequence[Volume],
    *,
    titles_only: bool | None = None,
    first: Directions | None = None,
    labels: Mapping[str, SharedLabel] | None = None,
) -> Attempt:
    """Every way that the lines may run, until all fit; else the one that needs the least more.

    Args:
        volumes: the backs.
        titles_only: False where a title stands in a seat, not as it is asked alone; None for
            whether there are but titles.
        first: which way to try first; None for what the narrowest asks for.
        labels: as of an `Arrangement`.
    """
    if titles_only is None:
        titles_only = all(one.plan.is_single for one in volumes)
    arrangement = Arrangement(tuple(volumes), titles_only, labels=labels)
    tried: list[Attempt] = []
    for directions in _directions_to_try(arrangement, first):
        found = attempt_of(arrangement._replace(directions=directions))
        tried.append(found._replace(turned=bool(tried)))
        if found.fits:
            return tried[-1]
    if arrangement.titles_only:
        return max(tried, key=lambda one: one.common.largest_pt)
    return tried[0]


def usual_directions(arrangement: Arrangement) -> Directions:
    """Which way the lines of each seat run on most backs by themselves, along where none has most.

    >>> usual_directions(Arrangement((), titles_only=True))
    {}
    """
    half = len(arrangement.volumes) / 2
    found: dict[SeatKey, Orientation] = {}
    for key, own in _wanted(arrangement).items():
        most, count = own.most_common(1)[0]
        found[key] = most if count > half or len(own) == 1 else Orientation.LONGITUDINAL
    return found


def _directions_to_try(arrangement: Arrangement, first: Directions | None) -> Iterator[Directions]:
    """Which way the lines of each seat run: as they would on every back by itself, then turned.

    Where backs disagree they run along, which the narrowest asks for. Between bands nothing is
    turned but a title alone: a panel's lines stand as its lettering asks.
    """
    if first is None:
        along = Orientation.LONGITUDINAL
        wanted = _wanted(arrangement)
        first = {key: next(iter(own)) if len(own) == 1 else along for key, own in wanted.items()}
    yield first
    volumes, titles_only = arrangement.volumes, arrangement.titles_only
    asked = volumes[0].plan.lettering.orientation not in (None, Orientation.ANY)
    if asked or (any(one.plan.has_bands for one in volumes) and not titles_only):
        return
    turned = _OTHER_WAY[next(iter(first.values()))]
    yield dict.fromkeys(first, turned)
    if Orientation.PILLAR in first.values():
        yield dict.fromkeys(first, Orientation.TRANSVERSE)


def _wanted(arrangement: Arrangement) -> dict[SeatKey, Counter[Orientation]]:
    """For each seat, how many backs would have its lines run which way by themselves."""
    found: dict[SeatKey, Counter[Orientation]] = {}
    for volume in arrangement.volumes:
        title = volume.alone if arrangement.titles_only else None
        with volume.faults():
            texts = {text.role: text for text in volume.plan.texts}
            for seat in arrangement.seats_on(volume):
                there = [texts[role] for role in seat.roles if role in texts]
                if there:
                    natural = _natural(volume, leading_text(there), seat, title)
                    found.setdefault(seat.key, Counter())[natural] += 1
    return found


def _natural(
    volume: Volume, text: BackText, seat: Seat, alone: PlannedText | None = None
) -> Orientation:
    """Which way a text would run if its seat were its own."""
    asked = volume.plan.lettering.orientation
    if asked not in (None, Orientation.ANY):
        return asked
    if alone is not None:
        return alone.shown.orientation
    size_pt = size_asked_pt(volume.plan, text)
    standing = Standing(panel=seat.panel, zone=seat.room, size_pt=size_pt)
    own = plan_on(volume.plan, volume.job, seat.label)
    return judged_in(own, text, standing).shown.orientation
