"""Which stretch of the back is each text's own?

In: a seat, and the length of back that each of its texts needs. Out: a `Zone` for each and
the middle it stands on, in mm from the head; zones never overlap. Shares go by the weights
stated, else by what each needs; texts across a back without bands hang from the head, the
title's middle where a title alone would have it (rules.toml ends.from_head), date and imprint
at the tail.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from spinefit.plan.model import Role, Zone
from spinefit.plan.seats import Seat

__all__ = ["zones_for"]

_AT_TAIL = (Role.DATE, Role.IMPRINT)


def zones_for(
    seat: Seat,
    needs_mm: Mapping[Role, float],
    *,
    gap_mm: float,
    wanted_gap_mm: float,
    sliver_mm: float,
    title_from_head_mm: float,
) -> dict[Role, tuple[Zone, float]]:
    """The zone and the middle of every text of a seat.

    Args:
        seat: its roles from head to tail.
        needs_mm: length of back needed by each text that finds room.
        gap_mm: between two zones, at least.
        wanted_gap_mm: between two texts of a back without bands, where there is room.
        sliver_mm: the least that is left to a text without room.
        title_from_head_mm: where the middle of the title is wanted on a back without bands.
    """
    if len(seat.roles) == 1:
        role = seat.roles[0]
        return {role: (seat.zone, _middle_alone(seat, role, needs_mm, title_from_head_mm))}
    if len(needs_mm) == len(seat.roles):
        if seat.hangs:
            gap_mm = _widened(seat, needs_mm, gap_mm, wanted_gap_mm)
            return _hung(seat, needs_mm, gap_mm, title_from_head_mm)
        lengths = _shares(seat, needs_mm, gap_mm)
    else:
        lengths = _leftover(seat, needs_mm, gap_mm, sliver_mm)
    return {
        role: (zone, zone.middle_mm)
        for role, zone in zip(seat.roles, _in_a_row(seat.zone, lengths, gap_mm), strict=True)
    }


def _middle_alone(
    seat: Seat, role: Role, needs_mm: Mapping[Role, float], title_from_head_mm: float
) -> float:
    """The middle of one text of a seat: where a title alone stands, a date at the tail."""
    begins_mm, ends_mm = seat.zone
    half_mm = needs_mm.get(role, 0.0) / 2
    if seat.hangs and role in needs_mm and role in _AT_TAIL:
        return ends_mm - half_mm
    if seat.hangs and role is Role.TITLE:
        return max(begins_mm + half_mm, min(title_from_head_mm, ends_mm - half_mm))
    return seat.zone.middle_mm


def _shares(seat: Seat, needs_mm: Mapping[Role, float], gap_mm: float) -> list[float]:
    weights = seat.weights if seat.is_weighted else needs_mm
    room_mm = seat.zone.length_mm - gap_mm * (len(seat.roles) - 1)
    total = sum(weights[role] for role in seat.roles)
    return [room_mm * weights[role] / total for role in seat.roles]


def _leftover(
    seat: Seat, needs_mm: Mapping[Role, float], gap_mm: float, sliver_mm: float
) -> list[float]:
    """What the texts that find room need; the others share what is left, a sliver at least."""
    failing = [role for role in seat.roles if role not in needs_mm]
    room_mm = seat.zone.length_mm - gap_mm * (len(seat.roles) - 1)
    left_mm = (room_mm - sum(needs_mm.values())) / len(failing)
    return [needs_mm.get(role, max(left_mm, sliver_mm)) for role in seat.roles]


def _in_a_row(zone: Zone, lengths: Sequence[float], gap_mm: float) -> list[Zone]:
    """Zones of these lengths from the head of ``zone`` on, drawn together where it is short."""
    over_mm = sum(lengths) + gap_mm * (len(lengths) - 1) - zone.length_mm
    gap_mm = max(0.0, gap_mm - max(0.0, over_mm) / (len(lengths) - 1))
    found, at = [], zone.begins_mm
    for length in lengths:
        found.append(Zone(at, at + length))
        at += length + gap_mm
    return found


def _widened(
    seat: Seat, needs_mm: Mapping[Role, float], least_mm: float, wanted_mm: float
) -> float:
    """The gap between texts: as wide as is wanted, or as there is room for."""
    gaps = len(seat.roles) - 1
    room_mm = (seat.zone.length_mm - sum(needs_mm.values())) / gaps
    return max(least_mm, min(wanted_mm, room_mm))


def _hung(
    seat: Seat, needs_mm: Mapping[Role, float], gap_mm: float, title_from_head_mm: float
) -> dict[Role, tuple[Zone, float]]:
    lower = _tail_roles(seat.roles)
    upper = seat.roles[: len(seat.roles) - len(lower)]
    begins, ends = seat.zone
    lower_mm = sum(needs_mm[role] + gap_mm for role in lower)
    upper_mm = sum(needs_mm[role] for role in upper) + gap_mm * (len(upper) - 1)
    leading = upper.index(Role.TITLE) if Role.TITLE in upper else 0
    before_mm = sum(needs_mm[role] + gap_mm for role in upper[:leading])
    start_mm = title_from_head_mm - before_mm - needs_mm[upper[leading]] / 2
    start_mm = max(begins, min(start_mm, ends - lower_mm - upper_mm))
    inks = _spans(start_mm, [needs_mm[role] for role in upper], gap_mm)
    inks += _spans(ends - lower_mm + gap_mm, [needs_mm[role] for role in lower], gap_mm)
    edges = [begins, *((above.ends_mm + below.begins_mm) / 2 for above, below in pairwise(inks))]
    zones = [Zone(top, bottom) for top, bottom in pairwise((*edges, ends))]
    return {
        role: (zone, ink.middle_mm) for role, zone, ink in zip(seat.roles, zones, inks, strict=True)
    }


def _tail_roles(roles: Sequence[Role]) -> tuple[Role, ...]:
    """The date and imprint at the tail end of the order; never all of the texts."""
    count = 0
    while count < len(roles) - 1 and roles[-1 - count] in _AT_TAIL:
        count += 1
    return tuple(roles[len(roles) - count :])


def _spans(start_mm: float, lengths: Sequence[float], gap_mm: float) -> list[Zone]:
    found, at = [], start_mm
    for length in lengths:
        found.append(Zone(at, at + length))
        at += length + gap_mm
    return found
