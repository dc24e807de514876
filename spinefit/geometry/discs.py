"""How wide is the largest disc on one side of a boundary that touches it at a given place?

In: the boundary of a glyph's ink, a side (ink or white), a width beyond which nothing is
asked. Out: a profile: places in order round each ring with the diameter of the largest disc
that touches there from that side and holds nothing of the other, and whether it touches
again across from there, between edges within 25 degrees of parallel. The disc with centre
p + r n touches a straight piece with normal m at distance d(p) where r = d(p) / (1 - m.n).
At corners that stick out into that side the disc is rolled round. Computed, no source needed.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from spinefit.geometry.boundary import Boundary
from spinefit.geometry.rings import Array, Indexes, near_pairs
from spinefit.shaping.outline import Point
from spinefit.tolerances import SAME_SHARE

__all__ = ["Profile", "largest_disc", "profile_near", "profile_of"]

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


def profile_of(boundary: Boundary, *, of_ink: bool, at_most_em: float) -> Profile:
    """The discs on one side of a boundary.

    Args:
        boundary: of a glyph.
        of_ink: True for discs of ink, False for discs of white.
        at_most_em: larger diameters need not be told apart.
    """
    side = 1.0 if of_ink else -1.0
    every = np.arange(len(boundary.length))
    return _profile(boundary, side, at_most_em, every, (_BEND_RAD, _ROLL_RAD))


def profile_near(
    boundary: Boundary, *, of_ink: bool, at_most_em: float, point: Point, reach_em: float
) -> Profile:
    """The discs that touch one side of a boundary near a point, at every few degrees.

    Args:
        boundary: of a glyph.
        of_ink: True for discs of ink, False for discs of white.
        at_most_em: larger diameters need not be told apart.
        point: in em.
        reach_em: how near.
    """
    away = np.hypot(*(boundary.middle - np.asarray(point)).T)
    pieces = np.flatnonzero(away <= reach_em + boundary.length / 2)
    side = 1.0 if of_ink else -1.0
    return _profile(boundary, side, at_most_em, pieces, (_FINE_BEND_RAD, _FINE_ROLL_RAD))


def largest_disc(boundary: Boundary, *, of_ink: bool, piece: int) -> tuple[float, Point]:
    """Diameter and middle of the largest disc that touches a piece or its neighbours.

    Args:
        boundary: of a glyph.
        of_ink: the side.
        piece: number of the piece.
    """
    side = 1.0 if of_ink else -1.0
    before = int(np.flatnonzero(boundary.after == piece)[0])
    around = np.array([before, piece, int(boundary.after[piece])])
    starts, spans = boundary.start[around], (boundary.end - boundary.start)[around]
    normals = boundary.normal[around] * side
    diameter, centre = 0.0, boundary.middle[piece]
    share = (np.arange(_FINER) + 0.5) / _FINER
    for _ in range(_ROUNDS):
        places = (starts[:, None, :] + share[None, :, None] * spans[:, None, :]).reshape(-1, 2)
        inward = np.repeat(normals, _FINER, axis=0)
        found, _facing = _discs(boundary, side, places, inward, 4 * boundary.side_em)
        at = int(np.argmax(found))
        if diameter < found[at] < math.inf:
            diameter, centre = float(found[at]), places[at] + inward[at] * found[at] / 2
        span = spans[at // _FINER]
        starts, spans = (places[at] - span / _FINER)[None, :], (span * (2 / _FINER))[None, :]
        normals = inward[at : at + 1]
    return diameter, (float(centre[0]), float(centre[1]))


def _profile(
    boundary: Boundary, side: float, at_most_em: float, pieces: Indexes, angles: tuple[float, float]
) -> Profile:
    """Discs at the middles of pieces, and rolled round the corners at their ends."""
    bend_rad, roll_rad = angles
    normal = boundary.normal[pieces] * side
    ahead = boundary.normal[boundary.after[pieces]] * side
    cosine = normal[:, 0] * ahead[:, 0] + normal[:, 1] * ahead[:, 1]
    turn = side * np.arctan2(normal[:, 0] * ahead[:, 1] - normal[:, 1] * ahead[:, 0], cosine)
    rolls = np.where(turn < -bend_rad, np.ceil(-turn / roll_rad) + 1, 0).astype(np.intp)
    tips = (turn > 0) & (cosine < _TIP_COS)
    counts = 1 + rolls + tips
    own = np.repeat(np.arange(len(counts)), counts)
    number = np.arange(len(own)) - np.repeat(np.cumsum(counts) - counts, counts)
    piece = pieces[own]
    at_corner = number > 0
    place = np.where(at_corner[:, None], boundary.end[piece], boundary.middle[piece])
    share = np.where(at_corner, (number - 1) / np.maximum(rolls[own] - 1, 1), 0.0)
    angle = side * share * turn[own]
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = normal[own].T
    inward = np.stack([x * cos - y * sin, x * sin + y * cos], axis=1)
    width, facing = _discs(boundary, side, place, inward, at_most_em)
    tip = at_corner & tips[own]
    width[tip], facing[tip] = 0.0, False
    return Profile(width, facing, place, inward, boundary.ring[piece], piece)


def _discs(
    boundary: Boundary, side: float, places: Array, inward: Array, at_most_em: float
) -> tuple[Array, _Flags]:
    """Diameters of the largest discs at places with those normals, and whether they face."""
    width = np.full(len(places), np.inf)
    facing = np.zeros(len(places), dtype=np.bool_)
    half = boundary.length / 2
    middle_x, middle_y = boundary.middle.T
    at, other = near_pairs(places, boundary.middle, at_most_em + boundary.piece_em / 2)
    x, y = middle_x[other] - places[at, 0], middle_y[other] - places[at, 1]
    m_x, m_y = boundary.normal[:, 0] * side, boundary.normal[:, 1] * side
    distance = -(m_x[other] * x + m_y[other] * y)
    n_x, n_y = inward[:, 0], inward[:, 1]
    ahead = n_x[at] * x + n_y[at] * y
    # In front of the piece, and the piece in front: half of one and a half pieces' slack.
    front = distance > 0
    front &= ahead > _ACROSS * np.hypot(x, y) - 0.75 * boundary.piece_em
    at, other, x, y, distance = at[front], other[front], x[front], y[front], distance[front]
    n_x, n_y = n_x[at], n_y[at]
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
