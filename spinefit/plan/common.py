"""What do the texts of one back, or of several alike, ask together, and in which sizes?

In: the volumes, each with what its texts ask. Out: the stretches that all have, what each role
asks of them, every volume being a limit, and the `Solution` for both. Stretches lie in mm from
the head of the lowest volume; volumes stand on their tails.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import JobError
from spinefit.job.resolved import ResolvedJob
from spinefit.plan.demand import Demand, together
from spinefit.plan.model import BackPlan, Role, Zone
from spinefit.plan.result import Limit
from spinefit.plan.seats import Seat, SeatKey, SharedLabel, Stretch, seats_of, stretch_of
from spinefit.plan.sizes import Solution, kept_roles, size_of, solve
from spinefit.vocabulary import Orientation

__all__ = [
    "Asked",
    "Common",
    "Ways",
    "common_of",
    "limit_of",
    "of_the_able",
    "union_plan",
]

_LEAST_STRETCH_MM = 1.0  # less than any lettering

Ways = Mapping[SeatKey, Orientation]
"""Which way the lines of each seat run."""


class Asked(NamedTuple):
    """One back with what its texts ask.

    Attributes:
        label: its name in the set.
        plan: what was said of it.
        job: its title on the whole back, resolved.
        demands: what each of its texts asks.
    """

    label: str
    plan: BackPlan
    job: ResolvedJob
    demands: Mapping[Role, Demand] = {}

    @property
    def height_mm(self) -> float:
        """From its head to its tail; of a label its height, and 0 where neither is known."""
        return self.plan.height_mm or 0.0


class Common(NamedTuple):
    """What all volumes have in common.

    Attributes:
        volumes: with their demands held at the sizes found.
        single: True where every volume has but a title.
        stretches: where the texts stand, in mm from the head of the lowest volume.
        demands: what each role asks together.
        kept: the roles that find room.
        solution: their sizes and lines; None where not even one finds room.
    """

    volumes: tuple[Asked, ...]
    single: bool
    stretches: tuple[Stretch, ...]
    demands: Mapping[Role, Demand]
    kept: frozenset[Role]
    solution: Solution | None

    @property
    def is_complete(self) -> bool:
        """Whether every text finds room."""
        return self.solution is not None and self.kept == frozenset(self.demands)

    @property
    def lowest(self) -> Asked:
        """The volume of the least height, the first of several."""
        return min(self.volumes, key=lambda one: one.height_mm)

    @property
    def title_pt(self) -> float:
        """The title's size, or the smallest on offer where it finds no room."""
        if self.solution is not None:
            return self.solution.title_pt
        title = self.demands[Role.TITLE]
        return size_of(title, title.offer.smallest_pt())

    @property
    def largest_pt(self) -> float:
        """The most that the title of every volume takes so."""
        lines = self.lines(Role.TITLE)
        own = [self.demands, *(one.demands for one in self.volumes)]
        return min(
            max((each.largest_pt for each in demands[Role.TITLE].settings
                 if lines in (None, each.lines)), default=0.0)
            for demands in own
        )  # fmt: skip

    def size_pt(self, role: Role) -> float:
        """The size of a role."""
        return size_of(self.demands[role], self.title_pt)

    def lines(self, role: Role) -> int | None:
        """In how many lines a role is set; None where that is left open."""
        if self.solution is not None and role in self.solution.settings:
            return self.solution.settings[role].lines
        if len(self.volumes) == 1 or not self.single:
            return None
        return max(self.demands[role].settings, key=lambda one: one.largest_pt).lines

    def needs_mm(self, stretch: Stretch) -> dict[Role, float]:
        """The length of back that each text of a stretch needs which finds room."""
        settings = {} if self.solution is None else self.solution.settings
        return {
            role: self.demands[role].need_mm(settings[role], self.size_pt(role))
            for role in stretch.roles
            if role in settings
        }


def union_plan(plans: Sequence[BackPlan], on: BackPlan) -> BackPlan:
    """A plan on one volume's back with a text of every role that any volume has."""
    texts = {text.role: text for plan in reversed(plans) for text in plan.texts}
    order = dict.fromkeys(text.role for plan in plans for text in plan.texts)
    return replace(on, texts=tuple(texts[role] for role in order))


def common_of(
    volumes: Sequence[Asked],
    ways: Ways,
    *,
    single: bool,
    labels: Mapping[str, SharedLabel] | None = None,
    at_most_pt: float | None = None,
    without: Collection[Role] = (),
) -> Common:
    """The largest title for which every text of every volume fits, all alike.

    Args:
        volumes: with their demands.
        ways: which way the lines run, by seat.
        single: True where every volume has but a title.
        labels: the labels that the texts of one back share.
        at_most_pt: the most the title may be, in points.
        without: roles to be left out.

    Raises:
        JobError: no number of lines, or no stretch of back, is open to all.
    """
    stretches = _stretches(volumes, ways, single=single, labels=labels, without=without)
    job = volumes[0].job
    while True:
        demands = _together(volumes, stretches, at_most_pt)
        kept = frozenset(demands)
        solution = solve(job, stretches, demands, kept)
        if solution is None:
            kept = kept_roles(job, stretches, demands)
            solution = solve(job, stretches, demands, kept)
        held = tuple(_held(volume, demands, solution) for volume in volumes)
        if held == tuple(volumes):
            return Common(held, single, stretches, demands, kept, solution)
        volumes = held  # a floor only ever rises, to the weakest of few letters


def of_the_able(common: Common, ways: Ways) -> Common:
    """What the volumes have in common that find room by themselves, for all to be held against.

    So that it is said of the others that they do not fit; as it was where none or all do.
    """
    single = common.single
    volumes = [_with_shared_lines(one, common.demands) for one in common.volumes]
    able = [one for one in volumes if common_of([one], ways, single=single).is_complete]
    if not able or len(able) == len(volumes):
        return common
    found = common_of(able, ways, single=single)
    if found.demands.keys() != common.demands.keys():
        return common
    return found._replace(volumes=common.volumes, stretches=common.stretches)


def _with_shared_lines(volume: Asked, demands: Mapping[Role, Demand]) -> Asked:
    """The volume, its texts asking only for numbers of lines that are open to all."""
    shared = {role: {each.lines for each in one.settings} for role, one in demands.items()}
    return volume._replace(
        demands={
            role: one._replace(
                settings=tuple(each for each in one.settings if each.lines in shared[role])
            )
            for role, one in volume.demands.items()
        }
    )


def _held(volume: Asked, demands: Mapping[Role, Demand], solution: Solution | None) -> Asked:
    """The volume, its offers raised where its letters do not hold at the sizes found."""
    sizes = {} if solution is None else solution.sizes_pt
    found = {
        role: one.held_at(sizes[role])
        if role in sizes and demands[role].text.size_pt is None
        else one
        for role, one in volume.demands.items()
    }
    raised = any(found[role] is not one for role, one in volume.demands.items())
    return volume._replace(demands=found) if raised else volume


def _together(
    volumes: Sequence[Asked], stretches: Sequence[Stretch], at_most_pt: float | None
) -> dict[Role, Demand]:
    found = {}
    for stretch in stretches:
        for role in stretch.roles:
            own = [volume.demands[role] for volume in volumes if role in volume.demands]
            most_pt = at_most_pt if role is Role.TITLE else None
            found[role] = together(role, own, lone=stretch.is_lone, at_most_pt=most_pt)
    return found


def _stretches(
    volumes: Sequence[Asked],
    ways: Ways,
    *,
    single: bool,
    labels: Mapping[str, SharedLabel] | None,
    without: Collection[Role],
) -> tuple[Stretch, ...]:
    """The seats of all, each as much of the back as every volume has there over the shelf."""
    lowest = min(volumes, key=lambda one: one.height_mm)
    union = union_plan([volume.plan for volume in volumes], lowest.plan)
    union = replace(union, texts=tuple(one for one in union.texts if one.role not in without))
    seats = seats_of(union, lowest.job, labels, single=single)
    if len(volumes) > 1 and not single:
        seats = _shared(seats, union, volumes, lowest.height_mm)
    reading = lowest.job.lettering.reading
    return tuple(stretch_of(seat, ways[seat.key], reading) for seat in seats)


def _shared(
    seats: Sequence[Seat], union: BackPlan, volumes: Sequence[Asked], height_mm: float
) -> tuple[Seat, ...]:
    """The seats cut to what all volumes have there, in mm from the head of the lowest."""
    zones = [_zones_from_tail(volume, union) for volume in volumes]
    found = []
    for seat in seats:
        low_mm = max(own[seat.panel].begins_mm for own in zones)
        high_mm = min(own[seat.panel].ends_mm for own in zones)
        if high_mm - low_mm < _LEAST_STRETCH_MM:
            where = "the back" if seat.panel is None else f"panel {seat.panel}"
            raise JobError(
                f"{where} has no height over the shelf in common in all volumes",
                remedy="give the positions of the bands with --bands-at, or plan the volumes apart",
            )
        found.append(seat._replace(zone=Zone(height_mm - high_mm, height_mm - low_mm)))
    return tuple(found)


def _zones_from_tail(volume: Asked, union: BackPlan) -> dict[int | None, Zone]:
    seats = seats_of(replace(union, spine=volume.plan.spine), volume.job)
    height_mm = volume.height_mm
    return {
        seat.panel: Zone(height_mm - seat.zone.ends_mm, height_mm - seat.zone.begins_mm)
        for seat in seats
    }


def limit_of(common: Common, ways: Ways) -> Limit:
    """The volume and the text without which the title could be larger.

    Of several volumes, or texts, the one that gives most; a title is its own limit where no
    other text is.
    """
    if common.solution is None or len(common.volumes) == 1:
        return Limit()
    now_pt = common.solution.title_pt
    volume, gain = None, now_pt
    for one in common.volumes:
        rest = [each for each in common.volumes if each is not one]
        title_pt = _title_pt(rest, ways, common.single, ())
        if title_pt > gain:
            volume, gain = one.label, title_pt
    role: Role | None = None
    gain = now_pt
    for left_out in common.demands:
        if left_out is not Role.TITLE:
            title_pt = _title_pt(common.volumes, ways, common.single, (left_out,))
            if title_pt > gain:
                role, gain = left_out, title_pt
    if role is None and volume is not None:
        role = Role.TITLE
    return Limit(volume, role)


def _title_pt(
    volumes: Sequence[Asked], ways: Ways, single: bool, without: Collection[Role]
) -> float:
    found = common_of(volumes, ways, single=single, without=without)
    return found.solution.title_pt if found.is_complete and found.solution is not None else 0.0
