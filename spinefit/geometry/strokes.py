"""How thin is the thinnest stroke of a glyph?

In: an outline in em, filled by the non-zero winding rule. Out: a width in em and where it is;
it scales with the outline. The width of ink at a place of its edge is that of the largest disc
inside it that touches there. A width counts at a neck, from which both sides widen by a tenth,
save in a sharp join (`Wedges`); along a limb at least three times as long as wide, between
edges within 25 degrees of parallel; and where all of an island of ink is no wider. Tips, serif
points and crotches do not count. Exact to 0.5 %, or 0.005 % of the glyph's longer side where
that is more. How large its counters are is for `polygons`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from spinefit.geometry.boundary import Boundary, coarse_boundary, fine_boundary
from spinefit.geometry.discs import Profile, Wedges, largest_disc, profile_near, profile_of
from spinefit.geometry.limbs import WIDENS, Places, first_thin
from spinefit.shaping.glyphs import Outline, Point
from spinefit.tolerances import COARSE_SHARE, FAULT_SHARE, SAME_SHARE

_FIRST_SHARE = 0.08  # of the glyph's longer side: widths asked for first, then twice as much
_LAST_SHARE = 1.5  # no disc in the ink is wider
_COARSE_PARTS = 1.03  # a width found by sampling is at most this many times the one measured,
_COARSE_SHARE = 4 * COARSE_SHARE  # and this share of the longer side more, for chords
_WIDER = 2.0  # times the width found by sampling: no disc near there is wider


class Found(NamedTuple):
    """A thin place.

    Attributes:
        width_em: how thin.
        at: where, in em.
    """

    width_em: float
    at: Point


def thinnest_stroke(outline: Outline) -> Found | None:
    """The thinnest stroke of a glyph, measured; None where there is no ink.

    Takes some 10 ms; where only what is below a limit matters, ask `thinner_stroke`.

    Args:
        outline: contours in em.

    >>> from spinefit.shaping.glyphs import Contour
    >>> bar = Contour((0.0, 0.0), (((0.5, 0.0),), ((0.5, 0.0625),), ((0.0, 0.0625),)))
    >>> thinnest_stroke((bar,)).width_em
    0.0625
    """
    boundary = coarse_boundary(outline)
    if boundary is None:
        return None
    at_most_em = _FIRST_SHARE * boundary.side_em
    while True:
        found = _found(outline, boundary, at_most_em)
        if found is not None:
            needed_em = _coarse(found.width_em, boundary.side_em)
            if needed_em <= at_most_em:
                return found
            at_most_em = needed_em * (1 + SAME_SHARE)
        elif at_most_em >= _LAST_SHARE * boundary.side_em:
            return None
        else:
            at_most_em *= 2


def thinner_stroke(outline: Outline, below_em: float) -> float | None:
    """The thinnest stroke of a glyph in em, where it is below a limit; else None.

    One search, and a measurement only where something is found.

    Args:
        outline: contours in em.
        below_em: the limit in em; 0 for none.
    """
    boundary = coarse_boundary(outline)
    if boundary is None or below_em <= 0:
        return None
    found = _found(outline, boundary, _coarse(below_em, boundary.side_em))
    return found.width_em if found is not None and found.width_em < below_em else None


class _Place(NamedTuple):
    """A place on the coarse boundary: which disc of a profile, and what kind of place."""

    profile: Profile
    at: int
    kind: str


def _found(outline: Outline, boundary: Boundary, at_most_em: float) -> Found | None:
    """The thinnest place that counts, of those found by the search to be at most so wide."""
    best: Found | None = None
    for place in _places(boundary, at_most_em):
        sought_em = float(place.profile.width_em[place.at])
        if best is None or _at_least(sought_em, boundary.side_em) < best.width_em:
            found = _measured(outline, place)
            best = found if best is None else min(best, found)
    return best


def _coarse(width_em: float, side_em: float) -> float:
    """The greatest width that the search may give to a place measured so thin."""
    return _COARSE_PARTS * width_em + _COARSE_SHARE * side_em


def _at_least(found_em: float, side_em: float) -> float:
    """The least width that is measured where the search gives that one."""
    return (found_em - _COARSE_SHARE * side_em) / _COARSE_PARTS


def _places(boundary: Boundary, at_most_em: float) -> Iterator[_Place]:
    """The thinnest neck or limb, and every whole part, found to be at most so wide."""
    reach_em = WIDENS * at_most_em * (1 + SAME_SHARE)
    profile = profile_of(boundary, at_most_em=reach_em)
    narrow = profile.width_em <= at_most_em
    if not narrow.any():
        return
    rings = np.unique(profile.ring[narrow & profile.facing]).tolist()
    starts = np.searchsorted(profile.ring, np.arange(len(boundary.part) + 1))
    thin = first_thin(
        [_plain(profile, slice(starts[ring], starts[ring + 1])) for ring in rings],
        side_em=boundary.side_em,
        at_most_em=at_most_em,
        in_join=Wedges(boundary).touch,
    )
    if thin is not None:
        at = int(starts[rings[thin.ring]]) + thin.at
        yield _Place(profile, at, "neck" if thin.is_neck else "limb")
    for own in _islands(boundary):
        chosen = np.flatnonzero(np.isin(profile.ring, own))
        if narrow[chosen].all():
            at = int(chosen[np.argmax(profile.width_em[chosen])])
            if profile.width_em[at] > FAULT_SHARE * boundary.side_em:
                yield _Place(profile, at, "whole")


def _plain(profile: Profile, which: slice) -> Places:
    width = profile.width_em[which]
    centre = profile.place[which] + profile.inward[which] * np.minimum(width, 1e9)[:, None] / 2
    return Places(
        width.tolist(),
        profile.facing[which].tolist(),
        [(x, y) for x, y in centre.tolist()],
        [(x, y) for x, y in profile.inward[which].tolist()],
    )


def _islands(boundary: Boundary) -> list[tuple[int, ...]]:
    """The rings that bound each island of ink."""
    islands: dict[int, list[int]] = {}
    for number, part in enumerate(boundary.part):
        islands.setdefault(part, []).append(number)
    return [tuple(numbers) for numbers in islands.values()]


def _measured(outline: Outline, place: _Place) -> Found:
    """A place found on the coarse boundary, measured on the fine one."""
    profile, at, kind = place
    boundary = fine_boundary(outline)
    assert boundary is not None
    sought_em = float(profile.width_em[at])
    coarse_em = boundary.side_em / 64
    point = (float(profile.place[at, 0]), float(profile.place[at, 1]))
    near = profile_near(
        boundary,
        at_most_em=2 * sought_em + _COARSE_SHARE * boundary.side_em,
        point=point,
        reach_em=coarse_em,
    )
    if not near.width_em.size:  # outlines that cross can have less of a boundary, drawn finer
        width_em, centre = _disc(profile, at)
        return Found(max(width_em, _at_least(sought_em, boundary.side_em)), centre)
    turned = near.inward @ profile.inward[at]
    away = np.hypot(*(near.place - np.asarray(point)).T)
    alike = np.isfinite(near.width_em) & (turned > 0.5)
    if kind == "whole":
        best = int(np.argmax(np.where(alike, near.width_em, -np.inf)))
        found = largest_disc(boundary, int(near.piece[best]), at_most_em=_WIDER * sought_em)
        width_em, centre = max(found, _disc(near, best))
    elif not (alike := alike & near.facing).any():
        width_em, centre = _disc(profile, at)
    else:
        key = near.width_em if kind == "neck" else away + boundary.side_em * (1 - turned)
        width_em, centre = _disc(near, int(np.argmin(np.where(alike, key, np.inf))))
    return Found(max(width_em, _at_least(sought_em, boundary.side_em)), centre)


def _disc(profile: Profile, at: int) -> tuple[float, Point]:
    """Diameter and middle of a disc."""
    width_em = float(profile.width_em[at])
    x, y = (profile.place[at] + profile.inward[at] * width_em / 2).tolist()
    return width_em, (x, y)
