"""Which of the layouts that fit is advised?

In: layouts, each judged at its size. Out: the advised one and why, or the nearest to one. Within an
orientation, splits within a tenth of the best size count as equal and sense chooses; settings of
too many lines, or with a word broken, only where nothing else can be read. Between across and along
custom decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from functools import cached_property
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

_ACROSS = Orientation.TRANSVERSE
_WAYS = (_ACROSS, Orientation.LONGITUDINAL, Orientation.PILLAR)


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
    ways = {each: _Settings(job, judged, each) for each in _WAYS}
    best, why = _best_of_all(job, *ways.values())
    if best is None:
        return Choice(None, ())
    return Choice(best, (*why, *_larger_apart(job, ways[best.orientation].fitting, best)))


def place_of(one: Judged, judged: Sequence[Judged]) -> int:
    """Its place among all."""
    return next(at for at, other in enumerate(judged) if other is one)


def _larger_apart(
    job: ResolvedJob, same_way: Sequence[Judged], best: Judged
) -> tuple[Finding, ...]:
    """That it could be larger with small words on lines of their own, where it could be so."""
    apart = list(filter(is_alone, same_way))
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
    job: ResolvedJob, across: _Settings, along: _Settings, pillar: _Settings
) -> tuple[Judged | None, tuple[Finding, ...]]:
    if pillar.tried and pillar.best is not None:
        return pillar.best, ()
    if not (across.tried and along.tried):
        return across.best or along.best, ()
    if along.best is None or not across.any_fits:
        topic = "along-does-not-fit" if across.any_fits else "across-does-not-fit"
        return across.best or along.best, (Finding.of(topic, Level.NOTE),)
    if not needs_room_across(job):
        assert across.best is not None  # some fit
        return unless_forced(job, across.best, along.best)
    if along.best.layout.group.breaks and across.usual is None:
        assert across.best is not None  # some fit
        return max((across.best, along.best), key=lambda one: one.cap_height_mm), ()
    if across.is_unread_joined and not is_alone(along.best):
        across = across.without_usual()
    return across_or_along(job, across, along.best)


class _Settings:
    """The settings of one orientation, and the best of them, looked for as far as they decide.

    Args:
        job: the resolved job.
        judged: all settings.
        orientation: the orientation.
    """

    def __init__(
        self, job: ResolvedJob, judged: Sequence[Judged], orientation: Orientation
    ) -> None:
        self._job, self._judged, self._orientation = job, judged, orientation
        self._most = most_lines(job, orientation)

    @property
    def tried(self) -> bool:
        """Whether the orientation was asked for."""
        if isinstance(self._judged, Settings):
            return self._judged.tries(self._orientation)
        return bool([one for one in self._judged if one.orientation is self._orientation])

    @cached_property
    def fitting(self) -> list[Judged]:
        """Those that fit."""
        if isinstance(self._judged, Settings):
            return [one for one in self._judged.deciding(self._orientation) if one.fits]
        return [one for one in self._judged if one.orientation is self._orientation and one.fits]

    @property
    def any_fits(self) -> bool:
        """Whether one does."""
        return self._at_once is not None or bool(self.fitting)

    @cached_property
    def _at_once(self) -> Judged | None:
        """The roomiest across, where it can be told before the rest are searched.

        That is the largest without a grave fault where it can be read and only small words alone
        on a line are larger: then small words join, whatever they do in others.
        """
        if not isinstance(self._judged, Settings) or self._orientation is not _ACROSS:
            return None
        one, larger = self._judged.largest_sound(_ACROSS, self._most)
        if one is None or not one.fits or is_alone(one):
            return None
        by_custom = is_across_by_custom(self._job)
        if larger and (by_custom or not all(map(is_alone, larger))):
            return None
        least = "least" if by_custom else "failing"
        rule = self._job.rules.value(f"legibility.{least}_arcmin")
        return one if one.arcminutes >= rule else None

    @cached_property
    def _taken(self) -> list[Judged]:
        return joined(self._job, self.fitting)

    @cached_property
    def _by_levels(self) -> list[list[Judged]]:
        return _levels(self._taken, self._most)

    @cached_property
    def _first(self) -> Judged:
        """The best of the first level; some fit."""
        return reads_best(self._job, self._by_levels[0])

    @cached_property
    def usual(self) -> Judged | None:
        """The best of those within the usual number of lines, without a broken word."""
        if not self.fitting:
            return None
        group = self._first.layout.group
        return self._first if not group.breaks and group.line_count <= self._most else None

    @cached_property
    def roomiest(self) -> Judged | None:
        """Of the usual ones that which could be largest.

        By the room for its longest words, small ones joined to them, a title stands across or
        along; where across is the custom, of all of so many lines.
        """
        if self._at_once is not None or self.usual is None:
            return self._at_once
        by_custom = is_across_by_custom(self._job)
        levels = _levels(self.fitting, self._most) if by_custom else self._by_levels
        return max(levels[0], key=lambda one: one.largest_pt)

    @cached_property
    def best(self) -> Judged | None:
        """The best there is; beyond the usual only where nothing usual can be read."""
        if not self.fitting:
            return None
        if _is_easy(self._first):
            return self._first
        others = [reads_best(self._job, level) for level in self._by_levels[1:]]
        return _first_readable(self._job, [self._first, *others])

    @property
    def is_unread_joined(self) -> bool:
        """Whether small words stand alone in it for want of others that can be read."""
        if self._at_once is not None or self.best is None:
            return False
        return len(self._taken) == len(self.fitting) and is_alone(self.best)

    def without_usual(self) -> _Settings:
        """The same, none of them being usual."""
        found = copy(self)
        found.usual = found.roomiest = found._at_once = None
        return found


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
