"""Does a disc touch the tip of a sharp wedge of the other side, so that it lies in a join?

In: a boundary, a side, the middle and the diameter of a disc on that side. Where an arch
springs from a stem, white runs to a point between the two: ink beside it is thin, but no
stroke; the point fills in. Likewise a point of ink that looks straight across a gap, as the
arms of some K do: where so narrow a gap fails, the point is itself too thin to be held. Two
wedges that point at one another leave a bow tie, which counts. How near a tip is and how blunt
it may be go by the disc, so that the answer scales. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from spinefit.geometry.boundary import Boundary
from spinefit.geometry.rings import Array
from spinefit.shaping.outline import Point
from spinefit.tolerances import COARSE_SHARE, SAME_SHARE

__all__ = ["Wedges"]


class _Rule(NamedTuple):
    """Which wedges are sharp.

    Attributes:
        turn_rad: by so much at least the edge turns round the tip, ...
        blunt: ... within this part of the disc's diameter.
        is_straight: whether the wedge must point at the disc's middle.
        touches: whether it stands for discs up to `_TOUCHING` of the glyph's longer side, and
            a tip may be as blunt as that.
    """

    turn_rad: float
    blunt: float
    is_straight: bool = False
    touches: bool = False


# White between edges within 80 degrees of one another; it may end in a round or a flat that is
# narrower than the ink beside it.
_WHITE_IN_INK = (_Rule(math.radians(180 - 80), 0.75),)
# A point of ink is at most 0.4 of the gap wide, since the thinnest stroke that a method holds is
# six tenths of the narrowest gap that it keeps open, or more. One that all but touches, as the
# arms of some K do their stem and the serifs of some W one another, may be as blunt as theirs:
# such a letter reads the same where they touch.
_INK_IN_WHITE = (
    _Rule(math.radians(180 - 60), 0.4, is_straight=True),
    _Rule(math.radians(180 - 130), 0.4, is_straight=True, touches=True),
)

_TOUCHING = 0.03
_NEAR = 1.25  # of the disc's diameter: how far along the edge from the disc a tip lies
_SIDES = 1.5  # of the diameter: how far the wedge's sides are followed
_SHUT_RAD = math.radians(190)  # an edge that turns by more within them goes round an island
_STRAIGHT = math.cos(math.radians(25))
_TOUCHES = 1.01  # times its radius: how near the disc's middle the edge that it touches passes


class _Contact(NamedTuple):
    """Where a disc touches: a piece, how far along it, and the way to the disc's middle."""

    piece: int
    from_start_em: float
    inward: tuple[float, float]


class _Tip(NamedTuple):
    """The tip of a wedge: by how much the edge turns there, and which way it points."""

    turn_rad: float
    points: tuple[float, float]


class Wedges:
    """The sharp wedges that enter one side of a boundary, asked for disc by disc."""

    def __init__(self, boundary: Boundary, *, of_ink: bool) -> None:
        """Find by how much the edge turns at each place.

        Args:
            boundary: of a glyph.
            of_ink: True for wedges of white that enter ink, False for the reverse.
        """
        self._boundary = boundary
        self._rules = _WHITE_IN_INK if of_ink else _INK_IN_WHITE
        along, ahead = boundary.along, boundary.along[boundary.after]
        cross = along[:, 0] * ahead[:, 1] - along[:, 1] * ahead[:, 0]
        turn = np.arctan2(cross, np.einsum("ij,ij->i", along, ahead))
        self._turn: Array = turn if of_ink else -turn
        self._before = np.empty_like(boundary.after)
        self._before[boundary.after] = np.arange(len(boundary.after))

    def touch(self, centre: Point, diameter_em: float) -> bool:
        """Whether a disc touches the tip of a wedge or the edge hard by, and no bow tie's."""
        contacts = self._contacts(centre, diameter_em)
        return any(
            self._touches(rule, contacts, diameter_em)
            for rule in self._rules
            if not rule.touches or diameter_em <= _TOUCHING * self._boundary.side_em
        )

    def _touches(self, rule: _Rule, contacts: Sequence[_Contact], diameter_em: float) -> bool:
        straight: list[_Tip] = []
        blunt_em = rule.blunt * diameter_em
        if rule.touches:
            blunt_em = max(blunt_em, _TOUCHING * self._boundary.side_em)
        for contact in contacts:
            tip = self._tip(contact, diameter_em, blunt_em)
            if tip is None or -tip.turn_rad < rule.turn_rad:
                continue
            if _along(tip.points, contact.inward) >= _STRAIGHT:
                straight.append(tip)
            elif not rule.is_straight:
                return True
        return bool(straight) and (rule.touches or not _is_bow_tie(straight))

    def _contacts(self, centre: Point, diameter_em: float) -> list[_Contact]:
        """Where a disc touches."""
        boundary = self._boundary
        offset = boundary.middle - np.asarray(centre)
        half = boundary.length / 2
        foot = np.clip(-np.einsum("ij,ij->i", offset, boundary.along), -half, half)
        offset += foot[:, None] * boundary.along
        away = np.hypot(*offset.T)
        reach_em = _TOUCHES * diameter_em / 2 + COARSE_SHARE * boundary.side_em
        return [
            _Contact(
                piece,
                float(half[piece] + foot[piece]),
                (-float(offset[piece, 0] / away[piece]), -float(offset[piece, 1] / away[piece])),
            )
            for piece in np.flatnonzero(away <= reach_em).tolist()
        ]

    def _tip(self, contact: _Contact, diameter_em: float, blunt_em: float) -> _Tip | None:
        """The sharpest turn of the edge near a place; None where it goes round an island."""
        near_em = max(_NEAR * diameter_em, blunt_em) * (1 + SAME_SHARE)
        ends = self._ends_about(contact, max(_SIDES * diameter_em * (1 + SAME_SHARE), near_em))
        turn = self._turn
        if sum(float(turn[end]) for end, _ in ends) < -_SHUT_RAD:
            return None
        near = [each for each in ends if abs(each[1]) <= near_em]
        total, first_end, last_end = 0.0, -1, -1
        for number, (first, from_em) in enumerate(near):
            here = 0.0
            for last, at_em in near[number:]:
                if at_em - from_em > blunt_em * (1 + SAME_SHARE):
                    break
                here += float(turn[last])
                if here < total:
                    total, first_end, last_end = here, first, last
        if first_end < 0:
            return None
        out = self._boundary.along[self._boundary.after[last_end]]
        x, y = (self._boundary.along[first_end] - out).tolist()
        size = math.hypot(x, y) or 1.0
        return _Tip(total, (x / size, y / size))

    def _ends_about(self, contact: _Contact, far_em: float) -> list[tuple[int, float]]:
        """Pieces that end near a place, in order, and how far along the edge from there."""
        length, after, before = self._boundary.length, self._boundary.after, self._before
        found: list[tuple[int, float]] = []
        piece, from_start_em, _ = contact
        at, away_em = piece, float(length[piece]) - from_start_em
        while away_em <= far_em:
            found.append((at, away_em))
            at = int(after[at])
            if at == piece:
                return found
            away_em += float(length[at])
        stop, at, away_em = at, int(before[piece]), -from_start_em
        while away_em >= -far_em and at != stop:
            found.insert(0, (at, away_em))
            away_em -= float(length[at])
            at = int(before[at])
        return found


def _is_bow_tie(tips: Sequence[_Tip]) -> bool:
    """Whether two tips point at one another."""
    return any(_along(one.points, other.points) <= -_STRAIGHT for one in tips for other in tips)


def _along(one: tuple[float, float], other: tuple[float, float]) -> float:
    return one[0] * other[0] + one[1] * other[1]
