"""How large is the largest disc of ink at each place of its edge, and which lie in a sharp join?

In: the boundary of a glyph's ink, and a width beyond which nothing is asked. Out: a profile:
places in order round each ring with the diameter of the largest disc that touches there from
inside and holds nothing but ink, and whether it touches again across from there, between edges
within 25 degrees of parallel. The disc with centre p + r n touches a straight piece with normal
m at distance d(p) where r = d(p) / (1 - m.n). At corners that stick out into the ink the disc is
rolled round. Computed, no source needed. `Wedges` tells which discs touch the tip of a sharp
wedge of white, and lie in a join.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from spinefit.geometry.boundary import Boundary
from spinefit.geometry.rings import Array, Indexes, near_pairs
from spinefit.shaping.glyphs import Point
from spinefit.tolerances import COARSE_SHARE, SAME_SHARE

_Flags = npt.NDArray[np.bool_]

# "Between edges within 25 degrees of parallel": the chord then stands within half of that
# of both edges' normals.
_FACING = math.cos(math.radians(25 / 2))
_ACROSS = math.cos(math.radians(60))  # what lies more to the side is the same edge bending on
_BEND_RAD = math.radians(12)  # a ring that turns by less bends; by more, it has a corner there
_ROLL_RAD = math.radians(10)  # step of a disc rolled round a corner
_FINE_BEND_RAD = math.radians(3)
_FINE_ROLL_RAD = math.radians(2.5)  # a width is 1 - cos(1.25 degrees) = 0.03 % off at most
_TIP_COS = math.cos(math.radians(120))  # where a ring turns back by more, a tip ends
_AS_WIDE = 1.002  # a facing contact this near to the first one counts as first
_FINER = 8  # pieces into which one is cut to find the largest disc, again and again
_ROUNDS = 4


class Profile(NamedTuple):
    """Discs in order round each ring.

    Attributes:
        width_em: diameters; infinite where larger than asked for.
        facing: whether the disc touches again between edges that face one another.
        place: where the disc touches, in em, shape (n, 2).
        inward: unit normal there, towards the middle of the disc.
        ring: number of the ring of each place, in rising order.
        piece: the piece of the boundary on which it lies, or which ends there.
    """

    width_em: Array
    facing: _Flags
    place: Array
    inward: Array
    ring: Indexes
    piece: Indexes


def profile_of(boundary: Boundary, *, at_most_em: float) -> Profile:
    """The discs of ink along a boundary.

    Args:
        boundary: of a glyph.
        at_most_em: larger diameters need not be told apart.
    """
    every = np.arange(len(boundary.length))
    return _profile(boundary, at_most_em, every, (_BEND_RAD, _ROLL_RAD))


def profile_near(
    boundary: Boundary, *, at_most_em: float, point: Point, reach_em: float
) -> Profile:
    """The discs of ink that touch a boundary near a point, at every few degrees.

    Args:
        boundary: of a glyph.
        at_most_em: larger diameters need not be told apart.
        point: in em.
        reach_em: how near.
    """
    away = np.hypot(*(boundary.middle - np.asarray(point)).T)
    pieces = np.flatnonzero(away <= reach_em + boundary.length / 2)
    return _profile(boundary, at_most_em, pieces, (_FINE_BEND_RAD, _FINE_ROLL_RAD))


def largest_disc(boundary: Boundary, piece: int, *, at_most_em: float) -> tuple[float, Point]:
    """Diameter and middle of the largest disc that touches a piece or its neighbours.

    Args:
        boundary: of a glyph.
        piece: number of the piece.
        at_most_em: a diameter that none of these has.
    """
    before = int(np.flatnonzero(boundary.after == piece)[0])
    around = np.array([before, piece, int(boundary.after[piece])])
    starts, spans = boundary.start[around], (boundary.end - boundary.start)[around]
    normals = boundary.normal[around]
    diameter, centre = 0.0, boundary.middle[piece]
    share = (np.arange(_FINER) + 0.5) / _FINER
    for _ in range(_ROUNDS):
        places = (starts[:, None, :] + share[None, :, None] * spans[:, None, :]).reshape(-1, 2)
        inward = np.repeat(normals, _FINER, axis=0)
        found, _facing = _discs(boundary, places, inward, at_most_em)
        at = int(np.argmax(found))
        if diameter < found[at] < math.inf:
            diameter, centre = float(found[at]), places[at] + inward[at] * found[at] / 2
        span = spans[at // _FINER]
        starts, spans = (places[at] - span / _FINER)[None, :], (span * (2 / _FINER))[None, :]
        normals = inward[at : at + 1]
    return diameter, (float(centre[0]), float(centre[1]))


def _profile(
    boundary: Boundary, at_most_em: float, pieces: Indexes, angles: tuple[float, float]
) -> Profile:
    """Discs at the middles of pieces, and rolled round the corners at their ends."""
    bend_rad, roll_rad = angles
    normal = boundary.normal[pieces]
    ahead = boundary.normal[boundary.after[pieces]]
    cosine = normal[:, 0] * ahead[:, 0] + normal[:, 1] * ahead[:, 1]
    turn = np.arctan2(normal[:, 0] * ahead[:, 1] - normal[:, 1] * ahead[:, 0], cosine)
    rolls = np.where(turn < -bend_rad, np.ceil(-turn / roll_rad) + 1, 0).astype(np.intp)
    tips = (turn > 0) & (cosine < _TIP_COS)
    counts = 1 + rolls + tips
    own = np.repeat(np.arange(len(counts)), counts)
    number = np.arange(len(own)) - np.repeat(np.cumsum(counts) - counts, counts)
    piece = pieces[own]
    at_corner = number > 0
    place = np.where(at_corner[:, None], boundary.end[piece], boundary.middle[piece])
    share = np.where(at_corner, (number - 1) / np.maximum(rolls[own] - 1, 1), 0.0)
    angle = share * turn[own]
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = normal[own].T
    inward = np.stack([x * cos - y * sin, x * sin + y * cos], axis=1)
    width, facing = _discs(boundary, place, inward, at_most_em)
    tip = at_corner & tips[own]
    width[tip], facing[tip] = 0.0, False
    return Profile(width, facing, place, inward, boundary.ring[piece], piece)


def _discs(
    boundary: Boundary, places: Array, inward: Array, at_most_em: float
) -> tuple[Array, _Flags]:
    """Diameters of the largest discs at places with those normals, and whether they face."""
    width = np.full(len(places), np.inf)
    facing = np.zeros(len(places), dtype=np.bool_)
    half = boundary.length / 2
    # The largest disc asked for holds all others that touch at its place, and where they touch.
    most_em, reach_em = at_most_em / 2, (at_most_em + boundary.piece_em) / 2
    centre = places + most_em * inward
    at, other = near_pairs(centre, boundary.middle, reach_em)
    x = boundary.middle[:, 0][other] - centre[:, 0][at]
    y = boundary.middle[:, 1][other] - centre[:, 1][at]
    front = np.flatnonzero(x * x + y * y <= reach_em * reach_em * (1 + SAME_SHARE))
    at, other = at[front], other[front]
    x, y = boundary.middle[other, 0] - places[at, 0], boundary.middle[other, 1] - places[at, 1]
    m_x, m_y = boundary.normal.T
    distance = -(m_x[other] * x + m_y[other] * y)
    front = np.flatnonzero(distance > 0)
    at, other, x, y, distance = at[front], other[front], x[front], y[front], distance[front]
    n_x, n_y = inward[at, 0], inward[at, 1]
    opening = 1 - (m_x[other] * n_x + m_y[other] * n_y)
    radius = distance / np.maximum(opening, SAME_SHARE)
    u_x, u_y = boundary.along[other, 0], boundary.along[other, 1]
    foot = u_x * (radius * n_x - x) + u_y * (radius * n_y - y)
    foot = np.clip(foot, -half[other], half[other])
    x += foot * u_x
    y += foot * u_y
    square = x * x + y * y
    ahead = x * n_x + y * n_y
    real = (square > (SAME_SHARE * boundary.side_em) ** 2) & (ahead > 0)
    real &= ahead * ahead >= _ACROSS**2 * square
    real &= square <= at_most_em * ahead
    at, square, ahead = at[real], square[real], ahead[real]
    if not len(at):
        return width, facing
    diameter = square / ahead
    first = np.flatnonzero(np.append(True, at[1:] != at[:-1]))
    width[at[first]] = np.minimum.reduceat(diameter, first)
    opposite = (ahead * ahead >= _FACING**2 * square) & (diameter <= _AS_WIDE * width[at])
    facing[at[opposite]] = True
    return width, facing


# A sharp wedge of white: between edges within 80 degrees of one another; it may end in a round or
# a flat that is narrower than the ink beside it.
_SHARP_RAD = math.radians(180 - 80)  # by so much at least the edge turns round the tip, ...
_BLUNT = 0.75  # ... within this part of the disc's diameter
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
    """The sharp wedges of white that enter ink, asked for disc by disc.

    Where an arch springs from a stem, white runs to a point between the two: ink beside it is
    thin, but no stroke; the point fills in. Two wedges that point at one another leave a bow tie,
    which counts. How near a tip is and how blunt it may be go by the disc, so that the answer
    scales. Common practice, no source.
    """

    def __init__(self, boundary: Boundary) -> None:
        """Find by how much the edge of a glyph's ink turns at each place."""
        self._boundary = boundary
        along, ahead = boundary.along, boundary.along[boundary.after]
        cross = along[:, 0] * ahead[:, 1] - along[:, 1] * ahead[:, 0]
        self._turn: Array = np.arctan2(cross, np.einsum("ij,ij->i", along, ahead))
        self._before = np.empty_like(boundary.after)
        self._before[boundary.after] = np.arange(len(boundary.after))

    def touch(self, centre: Point, diameter_em: float) -> bool:
        """Whether a disc touches the tip of a wedge or the edge hard by, and no bow tie's."""
        straight: list[_Tip] = []
        for contact in self._contacts(centre, diameter_em):
            tip = self._tip(contact, diameter_em)
            if tip is None or -tip.turn_rad < _SHARP_RAD:
                continue
            if _along(tip.points, contact.inward) < _STRAIGHT:
                return True
            straight.append(tip)
        return bool(straight) and not _is_bow_tie(straight)

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

    def _tip(self, contact: _Contact, diameter_em: float) -> _Tip | None:
        """The sharpest turn of the edge near a place; None where it goes round an island."""
        near_em = _NEAR * diameter_em * (1 + SAME_SHARE)
        blunt_em = _BLUNT * diameter_em * (1 + SAME_SHARE)
        ends = self._ends_about(contact, max(_SIDES * diameter_em * (1 + SAME_SHARE), near_em))
        turn = self._turn
        if sum(float(turn[end]) for end, _ in ends) < -_SHUT_RAD:
            return None
        near = [each for each in ends if abs(each[1]) <= near_em]
        total, first_end, last_end = 0.0, -1, -1
        for number, (first, from_em) in enumerate(near):
            here = 0.0
            for last, at_em in near[number:]:
                if at_em - from_em > blunt_em:
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
