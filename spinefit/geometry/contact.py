"""At which size does growing ink first come within a distance of the panel's edge?

In: rings of ink in em about the placing point, borders of the panel in mm, the place of the
point. Out: the least size (em in mm) of contact, in closed form, and the edge met. Two sets
of segments come within r of one another first where a corner of one meets the other: a
corner of the ink runs along a ray into the r-neighbourhood of a panel edge, or an edge of
the ink sweeps to within r of a panel corner. Vectorised; computed, no source needed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from spinefit.geometry.plane import Corners, Ring
from spinefit.shaping.glyphs import Box, Point
from spinefit.tolerances import ON_SIDE_MM, SAME_SHARE

_Array = npt.NDArray[np.float64]

_BLOCK = 1024  # ink corners worked at a time, so that tables stay within some megabytes


class Contact(NamedTuple):
    """The first contact.

    Attributes:
        size_mm: the em in mm.
        edge: the ends of the panel edge met, in the panel's frame; None for a corner.
    """

    size_mm: float
    edge: tuple[Point, Point] | None


class Edges(NamedTuple):
    """Segments with their unit directions and left normals; arrays of shape (n, 2) or (n,).

    Attributes:
        start: where each begins.
        end: where it ends.
        along: its unit direction.
        normal: the unit direction to its left.
        length: its length, above 0.
        offset: how far it lies from the origin to its left, ``normal . start``.
    """

    start: _Array
    end: _Array
    along: _Array
    normal: _Array
    length: _Array
    offset: _Array


def support_limit(
    rings: Sequence[Corners],
    ink: Box,
    outline_mm: Ring,
    centre_mm: Point,
    clearance_mm: float,
    error_em: float,
) -> Contact:
    """Largest size in a convex outline: least (d - clearance - n.c) / h(n) over its edges.

    Args:
        rings: ink in em about the placing point.
        ink: its exact extents, which bound the support from above; exact along the axes.
        outline_mm: convex, anticlockwise.
        centre_mm: place of the placing point, more than the clearance inside.
        clearance_mm: taken off each edge.
        error_em: how far true curves may lie outside the rings; added to their support.

    Returns:
        The contact, with the edge met.
    """
    edges = _sides_of(outline_mm)
    outward = -edges.normal
    points = np.concatenate([np.asarray(ring, dtype=np.float64) for ring in rings])
    left, bottom, right, top = ink
    box_support = np.where(outward[:, 0] > 0, right, left) * outward[:, 0]
    box_support += np.where(outward[:, 1] > 0, top, bottom) * outward[:, 1]
    support = np.minimum(np.max(points @ outward.T, axis=0) + error_em, box_support)
    room = -edges.offset - clearance_mm - outward @ np.asarray(centre_mm)
    sizes = np.full(len(room), np.inf)
    np.divide(room, support, out=sizes, where=support > 0)
    first = int(np.argmin(sizes))
    size_mm = max(0.0, float(sizes[first]))
    return Contact(size_mm, (_point(edges.start[first]), _point(edges.end[first])))


@lru_cache(maxsize=16)  # of one panel again and again
def _sides_of(outline_mm: Ring) -> Edges:
    return edges_of([outline_mm])


def first_contact(
    ink: Edges,
    borders: Sequence[Ring],
    centre_mm: Point,
    distance_mm: float,
    *,
    at_most_mm: float = math.inf,
) -> Contact:
    """The least size at which ink is within ``distance_mm`` of a border of the panel.

    Args:
        ink: its edges in em about the placing point; only outer rings can make first contact.
        borders: outlines and areas kept free, in mm; none is met at no size.
        centre_mm: place of the placing point, farther than the distance from every border.
        distance_mm: 0 or more.
        at_most_mm: contacts at sizes above this do not matter and need not be found.

    Returns:
        The contact; its size is infinite where none comes.
    """
    if not borders:
        return Contact(math.inf, None)
    panel = edges_of(borders, centre_mm)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        bound = at_most_mm
        if not math.isfinite(bound):
            bound = _bound(ink.start, panel, distance_mm)
        ink, panel = _within_reach(ink, panel, distance_mm, bound)
        on_edge = np.full(len(panel.length), np.inf)
        on_corner = np.inf
        for block in _blocks(ink):
            on_edge = np.minimum(on_edge, _corners_on_edges(block.start, panel, distance_mm))
            on_corner = min(
                on_corner,
                _corners_on_corners(block.start, panel.start, distance_mm),
                _edges_on_corners(block, panel.start, distance_mm),
            )
    first = int(np.argmin(on_edge)) if len(on_edge) else -1
    edge_mm = float(on_edge[first]) if first >= 0 else math.inf
    size_mm = min(edge_mm, on_corner)
    # Contacts so near in size are one: an edge is named before a corner.
    if edge_mm > size_mm * (1 + SAME_SHARE) or not math.isfinite(edge_mm):
        return Contact(size_mm, None)
    middle = np.asarray(centre_mm)
    met = (_point(panel.start[first] + middle), _point(panel.end[first] + middle))
    return Contact(size_mm, met)


def _corners_on_edges(corners: _Array, panel: Edges, distance_mm: float) -> _Array:
    """For each panel edge, the least size at which an ink corner is beside it at the distance."""
    approach = corners @ panel.normal.T
    advance = corners @ panel.along.T
    begins = np.einsum("ij,ij->i", panel.start, panel.along)
    best = np.full(len(panel.length), np.inf)
    for side in _sides(distance_mm):
        sizes = (panel.offset + side) / approach
        foot = sizes * advance - begins
        beside = (foot >= -ON_SIDE_MM) & (foot <= panel.length + ON_SIDE_MM)
        best = np.minimum(best, np.min(_only(sizes, beside), axis=0))
    return best


def _corners_on_corners(corners: _Array, panel_corners: _Array, distance_mm: float) -> float:
    """Least size at which an ink corner is at the distance from a panel corner: a quadratic."""
    square = np.einsum("ij,ij->i", corners, corners)[:, None]
    dot = corners @ panel_corners.T
    constant = np.einsum("ij,ij->i", panel_corners, panel_corners) - distance_mm**2
    under_root = dot**2 - square * constant
    sizes = constant / (dot + np.sqrt(np.maximum(under_root, 0.0)))  # the lesser root, stable
    return float(np.min(_only(sizes, (under_root >= 0) & (dot > 0))))


def _edges_on_corners(ink: Edges, panel_corners: _Array, distance_mm: float) -> float:
    """Least size at which an ink edge is beside a panel corner at the distance."""
    height = ink.normal @ panel_corners.T
    place = ink.along @ panel_corners.T
    begins = np.einsum("ij,ij->i", ink.start, ink.along)[:, None]
    best = np.inf
    for side in _sides(distance_mm):
        sizes = (height + side) / ink.offset[:, None]
        foot = place - sizes * begins
        beside = (foot >= -ON_SIDE_MM) & (foot <= sizes * ink.length[:, None] + ON_SIDE_MM)
        best = min(best, float(np.min(_only(sizes, beside))))
    return best


def _bound(corners: _Array, panel: Edges, distance_mm: float) -> float:
    """A size not below that of the first contact: that of the corners farthest in 8 directions."""
    x, y = np.ascontiguousarray(corners.T)
    ends = [int(end(along)) for along in (x, y, x + y, x - y) for end in (np.argmin, np.argmax)]
    farthest = corners[np.unique(ends)]
    return min(
        float(np.min(_corners_on_edges(farthest, panel, distance_mm))),
        _corners_on_corners(farthest, panel.start, distance_mm),
    )


def _within_reach(
    ink: Edges, panel: Edges, distance_mm: float, bound: float
) -> tuple[Edges, Edges]:
    """Only the segments that can meet at a size up to the bound; all where there is none.

    All of a panel edge lies beyond its point nearest to the placing point, seen from there. Ink
    that does not reach so far in that direction does not meet it. A panel corner within reach is
    the start of an edge that is within reach for that reason.
    """
    if not math.isfinite(bound):
        return ink, panel
    foot = np.clip(-np.einsum("ij,ij->i", panel.start, panel.along), 0.0, panel.length)
    nearest = panel.start + foot[:, None] * panel.along
    away = np.hypot(*nearest.T)
    needed = (away - distance_mm - ON_SIDE_MM) / (bound * (1 + SAME_SHARE))
    toward = nearest.T / away
    near = needed <= np.max(np.hypot(*ink.start.T))
    far = np.zeros(len(ink.length), dtype=np.bool_)
    met = np.zeros(int(np.count_nonzero(near)), dtype=np.bool_)
    for begin in range(0, len(far), _BLOCK):
        block = slice(begin, begin + _BLOCK)
        reach = np.maximum(ink.start[block] @ toward[:, near], ink.end[block] @ toward[:, near])
        reaches = reach >= needed[near]
        far[block], met = np.any(reaches, axis=1), met | np.any(reaches, axis=0)
    near[near] = met
    return _chosen(ink, far), _chosen(panel, near)


def edges_of(rings: Sequence[Corners], origin: Point = (0.0, 0.0)) -> Edges:
    """The edges of closed rings, without those that have no length.

    Args:
        rings: in any unit.
        origin: what becomes the origin, in that unit.
    """
    starts = [np.asarray(ring, dtype=np.float64) for ring in rings]
    start = np.concatenate(starts) - np.asarray(origin)
    end = np.concatenate([np.roll(ring, -1, axis=0) for ring in starts]) - np.asarray(origin)
    step = end - start
    length = np.hypot(step[:, 0], step[:, 1])
    real = length > 0
    start, end, step, length = start[real], end[real], step[real], length[real]
    along = step / length[:, None]
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1)
    offset = np.einsum("ij,ij->i", normal, start)
    return Edges(start, end, along, normal, length, offset)


def _chosen(edges: Edges, which: npt.NDArray[np.bool_] | slice) -> Edges:
    return Edges(*[each[which] for each in edges])


def _blocks(edges: Edges) -> Iterator[Edges]:
    for begin in range(0, len(edges.length), _BLOCK):
        yield _chosen(edges, slice(begin, begin + _BLOCK))


def _sides(distance_mm: float) -> tuple[float, ...]:
    return (distance_mm, -distance_mm) if distance_mm > 0 else (0.0,)


def _only(sizes: _Array, allowed: npt.NDArray[np.bool_]) -> _Array:
    """The sizes that are allowed, finite and above 0; infinity for the others."""
    return np.where(allowed & (sizes > 0) & np.isfinite(sizes), sizes, np.inf)


def _point(row: _Array) -> Point:
    return float(row[0]), float(row[1])
