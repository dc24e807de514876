"""How do the texts of a back share it: how large, and which stretch is each one's own?

In: the seats of the back and what each text demands there. Out: a `Solution`, the title's size,
the largest on offer for which every text fits, each text's size in its relation to the title's,
and the setting it takes; then a `Zone` for each text and the middle it stands on, in mm from the
head. Zones never overlap. Shares go by the weights stated, else by what each needs; texts across
a back without bands hang from the head, the title's middle where a title alone would have it
(rules.toml ends.from_head), date and imprint at the tail. Plain arithmetic; `planner` judges it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise, product
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import SHARE
from spinefit.judgement.offer import Offer
from spinefit.plan.demand import Demand, Setting
from spinefit.plan.model import Zone
from spinefit.plan.seats import Seat
from spinefit.tolerances import SAME_PT
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Role

BY_WEIGHT = (
    Role.TITLE,
    Role.VOLUME,
    Role.AUTHOR,
    Role.DATE,
    Role.SUBTITLE,
    Role.IMPRINT,
)
"""Which text gives way last: ISO 6357 keeps the title, the volume with it, the author if
possible, the publisher only if room is left."""


class Solution(NamedTuple):
    """Sizes and settings for which everything fits.

    Attributes:
        title_pt: the title's size.
        sizes_pt: each role's size.
        settings: each role's setting.
    """

    title_pt: float
    sizes_pt: Mapping[Role, float]
    settings: Mapping[Role, Setting]


class _Way(NamedTuple):
    """At which size of the title, in advised sizes or up to the limits, in which lines."""

    title_pt: float
    as_advised: bool
    least_length: bool


def gap_mm_at(job: ResolvedJob, seat: Seat, title_pt: float) -> float:
    """The least space between the zones of two texts of a seat, in mm."""
    return _gap_mm(job, seat, title_pt, gap_row(seat))


def wanted_gap_mm_at(job: ResolvedJob, seat: Seat, title_pt: float) -> float:
    """The space that is left between them where there is room, in mm."""
    row = gap_row(seat) if seat.is_along else "plan.gap_stack_wanted_em"
    return _gap_mm(job, seat, title_pt, row)


def _gap_mm(job: ResolvedJob, seat: Seat, title_pt: float, row: str) -> float:
    gap_mm = job.rules.value(row) * mm_from_pt(title_pt)
    if seat.label is not None:  # its margin is kept once, round all of its texts
        return gap_mm
    return max(0.0, gap_mm - 2 * job.lettering.clearance_mm)


def gap_row(seat: Seat) -> str:
    """The rule for the space between the ink of two texts of a seat."""
    return "plan.gap_along_em" if seat.is_along else "plan.gap_stack_em"


def size_of(demand: Demand, title_pt: float) -> float:
    """A text's size beside a title of that size: asked for, or in its relation to it."""
    if demand.text.size_pt is not None:
        return demand.text.size_pt
    if demand.text.role is Role.TITLE:
        return title_pt
    wanted_pt = max(demand.ratio * title_pt, min(demand.least_pt, title_pt))
    return demand.offer.nearest(wanted_pt, at_most_pt=title_pt)


def solve(
    job: ResolvedJob,
    seats: Sequence[Seat],
    demands: Mapping[Role, Demand],
    roles: Collection[Role],
) -> Solution | None:
    """The largest title for which the texts of these roles fit; None where there is none.

    First within the sizes that are advised for each, then up to the limit; each time with the
    lines that custom prefers, then with those that need the least of the back.

    Args:
        job: the resolved job of the title, for sizes on offer and rules.
        seats: where the texts stand.
        demands: what each text needs.
        roles: of the texts that are to fit.
    """
    for as_advised, least_length in product((True, False), (False, True)):
        for title_pt in _title_sizes(demands, roles, as_advised=as_advised):
            way = _Way(title_pt, as_advised, least_length)
            found = _solution(job, seats, demands, roles, way)
            if found is not None:
                return found
    return None


def roles_with_room(
    job: ResolvedJob, seats: Sequence[Seat], demands: Mapping[Role, Demand]
) -> frozenset[Role]:
    """The roles that find room, those that matter most being asked first."""
    found: frozenset[Role] = frozenset()
    for role in (role for role in BY_WEIGHT if role in demands):
        if solve(job, seats, demands, found | {role}) is not None:
            found |= {role}
    return found


def _room_for(
    job: ResolvedJob,
    seat: Seat,
    needs_mm: Mapping[Role, float],
    title_pt: float,
    *,
    slivers_mm: float = 0.0,
) -> bool:
    """True where the texts of a stretch that have needs find room side by side.

    Args:
        job: for the gap between them.
        seat: where they stand.
        needs_mm: length of back that each of them needs.
        title_pt: the title's size.
        slivers_mm: what is kept for the texts that find none.
    """
    gaps_mm = gap_mm_at(job, seat, title_pt) * (len(needs_mm) - 1)
    room_mm = seat.zone.length_mm - gaps_mm - slivers_mm
    if not seat.is_weighted:
        return sum(needs_mm.values()) <= room_mm
    total = sum(seat.weights[role] for role in needs_mm)
    return all(
        need_mm <= room_mm * seat.weights[role] / total for role, need_mm in needs_mm.items()
    )


def _title_sizes(
    demands: Mapping[Role, Demand], roles: Collection[Role], *, as_advised: bool
) -> Sequence[float]:
    title = demands[Role.TITLE]
    if title.text.size_pt is not None:
        return (title.text.size_pt,)
    if Role.TITLE not in roles:
        return (title.offer.smallest_pt(),)
    limits = [one.most_pt(as_advised=as_advised) for one in title.settings]
    return tuple(_falling_pt(title.offer, max(limits, default=0.0)))


def _falling_pt(offer: Offer, most_pt: float) -> Iterator[float]:
    """Every size on offer from ``most_pt`` down, in points."""
    size_pt = offer.at_most(most_pt)
    if size_pt > most_pt + SAME_PT:
        return
    yield size_pt
    while (lower_pt := offer.at_most(size_pt - 2 * SAME_PT)) < size_pt:
        size_pt = lower_pt
        yield size_pt


def _solution(
    job: ResolvedJob,
    seats: Sequence[Seat],
    demands: Mapping[Role, Demand],
    roles: Collection[Role],
    way: _Way,
) -> Solution | None:
    """The solution in one way, or None where something does not fit."""
    sizes: dict[Role, float] = {}
    settings: dict[Role, Setting] = {}
    for seat in seats:
        needs: dict[Role, float] = {}
        for role in (role for role in seat.roles if role in roles):
            demand = demands[role]
            size_pt = size_of(demand, way.title_pt)
            as_advised = way.as_advised and demand.text.size_pt is None
            setting = demand.setting_at(
                size_pt, as_advised=as_advised, least_length=way.least_length
            )
            if setting is None or not demand.offer.holds(size_pt):
                return None
            sizes[role], settings[role] = size_pt, setting
            needs[role] = demand.need_mm(setting, size_pt)
            if as_advised and seat.is_along and not seat.is_lone:
                needs[role] /= job.rules.value(SHARE)  # texts that fill a back look crowded
        left_mm = sum(demands[role].sliver_mm for role in seat.roles if role not in roles)
        if not seat.is_lone and not _room_for(job, seat, needs, way.title_pt, slivers_mm=left_mm):
            return None
    return Solution(way.title_pt, sizes, settings)


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
    return _spans(zone.begins_mm, lengths, gap_mm)


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
    """Zones of these lengths, one below the other, so far apart."""
    found, at = [], start_mm
    for length in lengths:
        found.append(Zone(at, at + length))
        at += length + gap_mm
    return found
