"""Which of the layouts that fit is advised?

In: layouts, each judged at its size. Out: the advised one and why, or the nearest to one. Within an
orientation, splits within a tenth of the best size count as equal and sense chooses; settings of
too many lines, or with a word broken, only where nothing else can be read. Between across and along
custom decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import (
    across_or_along,
    is_across_by_custom,
    needs_room_across,
    unless_forced,
)
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.reading import is_alone, joined, most_lines, reads_best
from spinefit.judgement.settings import Settings
from spinefit.vocabulary import Level, Orientation

_WAYS = (Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR)


class Choice(NamedTuple):
    """The advised layout, or None, and why it was taken."""

    best: Judged | None
    findings: tuple[Finding, ...]


def choose(job: ResolvedJob, judged: Sequence[Judged]) -> Choice:
    """The advised one of the layouts that fit.

    Args:
        job: the resolved job.
        judged: all layouts.
    """
    if isinstance(judged, Settings):
        judged = judged.deciding()
    best, why = _best_of_all(job, judged)
    if best is None:
        return Choice(None, ())
    return Choice(best, (*why, *_larger_apart(job, judged, best)))


def place_of(one: Judged, judged: Sequence[Judged]) -> int:
    """Its place among all."""
    return next(at for at, other in enumerate(judged) if other is one)


def _larger_apart(job: ResolvedJob, judged: Sequence[Judged], best: Judged) -> tuple[Finding, ...]:
    """That it could be larger with small words on lines of their own, where it could be so."""
    same_way = [one for one in judged if one.orientation is best.orientation]
    apart = [one for one in same_way if one.fits and is_alone(one)]
    if not apart or is_alone(best):
        return ()
    apart_pt = reads_best(job, apart).set_pt
    if job.rules.value("lines.sense_share") * apart_pt <= best.set_pt:
        return ()
    return (Finding.of("words-joined", Level.NOTE, apart_pt),)


def nearest_of(job: ResolvedJob, judged: Sequence[Judged]) -> int:
    """The place of the layout nearest to one that fits, where none does.

    Where only old lettering would show, it is the one advised for a label that hid it; where the
    size asked for is smaller than holds, the one advised in the least that does; else the one
    that could be largest. Over the bands is no way to letter a back.

    Args:
        job: the resolved job.
        judged: all layouts.
    """
    asked = job.lettering.size_pt
    if asked is not None and judged[0].layout.title.only_pt is None:
        held = [one.at(one.offer.at_least(asked)) for one in judged]
        found = choose(job, held).best
        if found is not None:
            return place_of(found, held)
    if job.old_lettering is not None and job.old_lettering.covered:
        held = [one.if_hidden() for one in judged]
        found = choose(job, held).best
        if found is not None:
            return place_of(found, held)
    own = [at for at, one in enumerate(judged) if not one.over_bands]
    return max(own, key=lambda at: judged[at].largest_pt)


def _best_of_all(
    job: ResolvedJob, judged: Sequence[Judged]
) -> tuple[Judged | None, tuple[Finding, ...]]:
    own: dict[Orientation, list[Judged]] = {each: [] for each in _WAYS}
    for one in judged:
        own[one.orientation].append(one)
    across, along, pillar = (
        _Settings(job, settings, orientation) for orientation, settings in own.items()
    )
    if pillar.best is not None:
        return pillar.best, ()
    if not (across.tried and along.tried):
        return across.best or along.best, ()
    if along.best is None or across.best is None:
        topic = "across-does-not-fit" if across.best is None else "along-does-not-fit"
        return across.best or along.best, (Finding.of(topic, Level.NOTE),)
    if not needs_room_across(job):
        return unless_forced(job, across.best, along.best)
    if across.usual is None and along.best.layout.group.breaks:
        return max((across.best, along.best), key=lambda one: one.cap_height_mm), ()
    usual = across.roomiest, across.usual
    if across.is_unread_joined and not is_alone(along.best):
        usual = None, None
    return across_or_along(job, across.best, *usual, along.best)


class _Settings:
    """The settings of one orientation that fit, and the best of them.

    Attributes:
        tried: whether the orientation was asked for.
        usual: the best of those within the usual number of lines, without a broken word.
        roomiest: of those the one that could be largest: by the room for its longest words, small
            ones joined to them, a title stands across or along; where across is the custom, of
            all of so many lines.
        is_unread_joined: whether small words stand alone in it for want of others that can be read.
        best: the best there is; beyond the usual only where nothing usual can be read.
    """

    def __init__(self, job: ResolvedJob, own: Sequence[Judged], orientation: Orientation) -> None:
        fitting = [one for one in own if one.fits]
        self.tried = bool(own)
        self.usual: Judged | None = None
        self.roomiest: Judged | None = None
        self.best: Judged | None = None
        self.is_unread_joined = False
        if not fitting:
            return
        most = most_lines(job, orientation)
        taken = joined(job, fitting)
        levels = _levels(taken, most)
        first = reads_best(job, levels[0])
        group = first.layout.group
        if not group.breaks and group.line_count <= most:
            self.usual = first
            roomy = _levels(fitting, most) if is_across_by_custom(job) else levels
            self.roomiest = max(roomy[0], key=lambda one: one.largest_pt)
        if _is_easy(first):
            self.best = first
        else:
            others = [reads_best(job, level) for level in levels[1:]]
            self.best = _first_readable(job, [first, *others])
        self.is_unread_joined = len(taken) == len(fitting) and is_alone(self.best)


def _levels(fitting: Sequence[Judged], most: float) -> list[list[Judged]]:
    """The settings, the usual ones first, then more lines, then more and more broken words."""
    levels: dict[tuple[int, bool], list[Judged]] = {}
    for one in fitting:
        group = one.layout.group
        levels.setdefault((group.breaks, group.line_count > most), []).append(one)
    return [levels[level] for level in sorted(levels)]


def _is_easy(one: Judged) -> bool:
    """Whether it is read with ease, one broken word at most."""
    return one.layout.group.breaks <= 1 and one.is_read_with_ease


def _first_readable(job: ResolvedJob, bests: Sequence[Judged]) -> Judged:
    """The first that is read with ease; else the first readable; else the first."""
    for one in bests:
        if _is_easy(one):
            return one
    pinch = job.rules.value("legibility.failing_arcmin")
    return next((one for one in bests if one.arcminutes >= pinch), bests[0])
