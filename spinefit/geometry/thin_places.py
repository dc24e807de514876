"""Which place of a glyph is thin, and exactly how thin is it?

In: an outline in em and a side, ink or white. Out: the thinnest place that counts, or the
thinnest below a limit. Places are sought on a coarse boundary and measured on a fine one near
the place found, so that a search is quick and both questions have one answer. A place
is a neck, a limb (`limbs`), or the whole of an island of ink or of a hole in it, which counts
by the largest disc that it holds. Leaves what to do about it to others.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from spinefit.geometry.boundary import (
    COARSE_SHARE,
    Boundary,
    coarse_boundary,
    fine_boundary,
)
from spinefit.geometry.discs import Profile, largest_disc, profile_near, profile_of
from spinefit.geometry.limbs import FAULT_SHARE, WIDENS, Places, first_thin
from spinefit.geometry.wedges import Wedges
from spinefit.shaping.outline import Outline, Point

__all__ = ["Found", "thinnest", "thinnest_below"]

_FIRST_SHARE = 0.08  # of the glyph's longer side: widths asked for first, then twice as much
_LAST_SHARE = 1.5  # no disc in the ink or between its parts is wider
_COARSE_PARTS = 1.03  # a width found by sampling is at most this many times the one measured,
_COARSE_SHARE = 4 * COARSE_SHARE  # and this share of the longer side more, for chords


class Found(NamedTuple):
    """A thin place.

    Attributes:
        width_em: how thin.
        at: where, in em.
    """

    width_em: float
    at: Point


class _Place(NamedTuple):
    """A place on the coarse boundary: which disc of a profile, and what kind of place."""

    profile: Profile
    at: int
    kind: str


def thinnest_below(outline: Outline, *, of_ink: bool, limit_em: float) -> Found | None:
    """The thinnest stroke (or gap) that counts, where it is thinner than a limit.

    One search, and one measurement only where something is found.
    """
    boundary = coarse_boundary(outline)
    if boundary is None or limit_em <= 0:
        return None
    places = _places(boundary, of_ink=of_ink, at_most_em=_coarse(limit_em, boundary.side_em))
    found = min((_measured(outline, place, of_ink=of_ink) for place in places), default=None)
    return found if found is not None and found.width_em < limit_em else None


def thinnest(outline: Outline, *, of_ink: bool) -> Found | None:
    """The thinnest stroke (or gap) that counts; None where there is none."""
    boundary = coarse_boundary(outline)
    if boundary is None:
        return None
    at_most_em = _FIRST_SHARE * boundary.side_em
    while True:
        places = _places(boundary, of_ink=of_ink, at_most_em=at_most_em)
        found = min((_measured(outline, place, of_ink=of_ink) for place in places), default=None)
        if found is not None:
            needed_em = _coarse(found.width_em, boundary.side_em)
            if needed_em <= at_most_em:
                return found
            at_most_em = needed_em * (1 + 1e-9)
        elif at_most_em >= _LAST_SHARE * boundary.side_em:
            return None
        else:
            at_most_em *= 2


def _coarse(width_em: float, side_em: float) -> float:
    """The greatest width that the search may give to a place measured so thin."""
    return _COARSE_PARTS * width_em + _COARSE_SHARE * side_em


def _places(boundary: Boundary, *, of_ink: bool, at_most_em: float) -> Iterator[_Place]:
    """The thinnest neck or limb, and every whole part, found to be at most so wide."""
    reach_em = WIDENS * at_most_em * (1 + 1e-9)
    profile = profile_of(boundary, of_ink=of_ink, at_most_em=reach_em)
    narrow = profile.width_em <= at_most_em
    if not narrow.any():
        return
    rings = np.unique(profile.ring[narrow & profile.facing]).tolist()
    starts = np.searchsorted(profile.ring, np.arange(len(boundary.part) + 1))
    thin = first_thin(
        [
            _plain(profile, slice(starts[ring], starts[ring + 1]), 1 if of_ink else -1)
            for ring in rings
        ],
        side_em=boundary.side_em,
        at_most_em=at_most_em,
        in_join=Wedges(boundary, of_ink=of_ink).touch,
    )
    if thin is not None:
        at = int(starts[rings[thin.ring]]) + thin.at
        yield _Place(profile, at, "neck" if thin.is_neck else "limb")
    for own in _wholes(boundary, of_ink=of_ink):
        chosen = np.flatnonzero(np.isin(profile.ring, own))
        if narrow[chosen].all():
            at = int(chosen[np.argmax(profile.width_em[chosen])])
            if profile.width_em[at] > FAULT_SHARE * boundary.side_em:
                yield _Place(profile, at, "whole")


def _plain(profile: Profile, which: slice, turns: int) -> Places:
    width = profile.width_em[which]
    centre = profile.place[which] + profile.inward[which] * np.minimum(width, 1e9)[:, None] / 2
    return Places(
        width.tolist(),
        profile.facing[which].tolist(),
        [(x, y) for x, y in centre.tolist()],
        [(x, y) for x, y in profile.inward[which].tolist()],
        turns,
    )


def _wholes(boundary: Boundary, *, of_ink: bool) -> list[tuple[int, ...]]:
    """The rings that bound each island of ink, or each hole in it."""
    if not of_ink:
        return [(number,) for number, is_hole in enumerate(boundary.is_hole) if is_hole]
    islands: dict[int, list[int]] = {}
    for number, part in enumerate(boundary.part):
        islands.setdefault(part, []).append(number)
    return [tuple(numbers) for numbers in islands.values()]


def _measured(outline: Outline, place: _Place, *, of_ink: bool) -> Found:
    """A place found on the coarse boundary, measured on the fine one."""
    profile, at, kind = place
    boundary = fine_boundary(outline)
    assert boundary is not None
    sought_em = float(profile.width_em[at])
    coarse_em = boundary.side_em / 64
    point = (float(profile.place[at, 0]), float(profile.place[at, 1]))
    near = profile_near(
        boundary,
        of_ink=of_ink,
        at_most_em=2 * sought_em + _COARSE_SHARE * boundary.side_em,
        point=point,
        reach_em=coarse_em,
    )
    turned = near.inward @ profile.inward[at]
    away = np.hypot(*(near.place - np.asarray(point)).T)
    alike = np.isfinite(near.width_em) & (turned > 0.5)
    if kind == "whole":
        best = int(np.argmax(np.where(alike, near.width_em, -np.inf)))
        found = largest_disc(boundary, of_ink=of_ink, piece=int(near.piece[best]))
        return Found(*max(found, _disc(near, best)))
    alike &= near.facing
    if not alike.any():
        width_em, centre = _disc(profile, at)
    else:
        key = near.width_em if kind == "neck" else away + boundary.side_em * (1 - turned)
        width_em, centre = _disc(near, int(np.argmin(np.where(alike, key, np.inf))))
    least_em = (sought_em - _COARSE_SHARE * boundary.side_em) / _COARSE_PARTS
    return Found(max(width_em, least_em), centre)


def _disc(profile: Profile, at: int) -> tuple[float, Point]:
    """Diameter and middle of a disc."""
    width_em = float(profile.width_em[at])
    x, y = (profile.place[at] + profile.inward[at] * width_em / 2).tolist()
    return width_em, (x, y)
