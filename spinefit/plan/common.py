"""What do the texts of one back, or of several alike, ask together, and in which sizes?

In: the volumes, each with what its texts ask, and which way their lines run. Out: the seats that
all have, what each role asks of them, every volume being a limit, and the `Solution` for both.
Seats lie in mm from the head of the lowest volume; volumes stand on their tails.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import JobError
from spinefit.job.resolved import ResolvedJob
from spinefit.plan.checks import volume_fault
from spinefit.plan.demand import Demand, common_demand
from spinefit.plan.model import BackPlan, Zone
from spinefit.plan.result import PlannedText
from spinefit.plan.seats import Seat, SeatKey, SharedLabel, seats_of
from spinefit.plan.sharing import Solution, roles_with_room, size_of, solve
from spinefit.vocabulary import Orientation, Role

_LEAST_STRETCH_MM = 1.0  # less than any lettering

Directions = Mapping[SeatKey, Orientation]
"""Which way the lines of each seat run."""


class Volume(NamedTuple):
    """One back with what its texts ask.

    Attributes:
        label: its name in the set.
        plan: what was said of it.
        job: its title on the whole back, resolved.
        place: its number in the set, from 1; None for one back.
        alone: its title as it is by itself; None where that is not known.
        demands: what each of its texts asks.
    """

    label: str
    plan: BackPlan
    job: ResolvedJob
    place: int | None = None
    alone: PlannedText | None = None
    demands: Mapping[Role, Demand] = {}

    @property
    def height_mm(self) -> float:
        """From its head to its tail; of a label its height, and 0 where neither is known."""
        return self.plan.height_mm or 0.0

    def faults(self) -> AbstractContextManager[None]:
        """While it lasts, faults name this volume."""
        return volume_fault(self.place)


class Arrangement(NamedTuple):
    """Volumes to be lettered alike, and which way their lines run.

    Attributes:
        volumes: in the order given.
        titles_only: True where every one of the backs asked about has but a title.
        directions: of the lines of each seat.
        labels: the labels that the texts of one back share, by name; None where there is none.
    """

    volumes: tuple[Volume, ...]
    titles_only: bool
    directions: Mapping[SeatKey, Orientation] = {}
    labels: Mapping[str, SharedLabel] | None = None

    @property
    def lowest(self) -> Volume:
        """The volume of the least height, the first of several."""
        return min(self.volumes, key=lambda one: one.height_mm)

    def seats_on(self, volume: Volume, *, without: Collection[Role] = ()) -> tuple[Seat, ...]:
        """The seats of one volume, with a text of every role that any volume has."""
        plan = self._union_on(volume.plan, without)
        return seats_of(plan, volume.job, self.labels, single=self.titles_only)

    def seats(self, *, without: Collection[Role] = ()) -> tuple[Seat, ...]:
        """The seats of all, each as much of the back as every volume has there over the shelf.

        Raises:
            JobError: a seat for which there is no such stretch.
        """
        lowest = self.lowest
        seats = self.seats_on(lowest, without=without)
        if len(self.volumes) > 1 and not self.titles_only:
            zones = [
                {
                    seat.panel: seat.zone.seen_from_tail(volume.height_mm)
                    for seat in self.seats_on(volume, without=without)
                }
                for volume in self.volumes
            ]
            seats = tuple(_shared(seat, zones, lowest.height_mm) for seat in seats)
        reading = lowest.job.lettering.reading
        return tuple(seat.running(self.directions[seat.key], reading) for seat in seats)

    def _union_on(self, plan: BackPlan, without: Collection[Role]) -> BackPlan:
        plans = [volume.plan for volume in self.volumes]
        texts = {text.role: text for one in reversed(plans) for text in one.texts}
        order = dict.fromkeys(text.role for one in plans for text in one.texts)
        return replace(plan, texts=tuple(texts[role] for role in order if role not in without))


def _shared(seat: Seat, zones: Sequence[Mapping[int | None, Zone]], height_mm: float) -> Seat:
    """A seat cut to what all volumes have there, in mm from the head of the lowest."""
    shared = Zone(
        max(own[seat.panel].begins_mm for own in zones),
        min(own[seat.panel].ends_mm for own in zones),
    )
    if shared.length_mm < _LEAST_STRETCH_MM:
        where = "the back" if seat.panel is None else f"panel {seat.panel}"
        raise JobError(
            f"{where} has no height over the shelf in common in all volumes",
            remedy="give the positions of the bands with --bands-at, or plan the volumes apart",
        )
    return seat._replace(zone=shared.seen_from_tail(height_mm))


class Common(NamedTuple):
    """What all volumes have in common.

    Attributes:
        arrangement: its volumes with their demands held at the sizes found.
        seats: where the texts stand, in mm from the head of the lowest volume.
        demands: what each role asks together.
        with_room: the roles that find room.
        solution: their sizes and lines; None where not even one finds room.
    """

    arrangement: Arrangement
    seats: tuple[Seat, ...]
    demands: Mapping[Role, Demand]
    with_room: frozenset[Role]
    solution: Solution | None

    @property
    def is_complete(self) -> bool:
        """Whether every text finds room."""
        return self.solution is not None and self.with_room == frozenset(self.demands)

    @property
    def volumes(self) -> tuple[Volume, ...]:
        """With their demands."""
        return self.arrangement.volumes

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
        if len(self.volumes) == 1 or not self.arrangement.titles_only:
            return None
        return max(self.demands[role].settings, key=lambda one: one.largest_pt).lines

    def needs_mm(self, seat: Seat) -> dict[Role, float]:
        """The length of back that each text of a seat needs which finds room."""
        settings = {} if self.solution is None else self.solution.settings
        return {
            role: self.demands[role].need_mm(settings[role], self.size_pt(role))
            for role in seat.roles
            if role in settings
        }


def common_of(
    arrangement: Arrangement,
    *,
    at_most_pt: float | None = None,
    without: Collection[Role] = (),
) -> Common:
    """The largest title for which every text of every volume fits, all alike.

    Args:
        arrangement: volumes with their demands.
        at_most_pt: the most the title may be, in points.
        without: roles to be left out.

    Raises:
        JobError: no number of lines, or no stretch of back, is open to all.
    """
    seats = arrangement.seats(without=without)
    job = arrangement.volumes[0].job
    while True:
        demands = _common_demands(arrangement.volumes, seats, at_most_pt)
        with_room = frozenset(demands)
        solution = solve(job, seats, demands, with_room)
        if solution is None:
            with_room = roles_with_room(job, seats, demands)
            solution = solve(job, seats, demands, with_room)
        held = tuple(
            _with_offers_raised(volume, demands, solution) for volume in arrangement.volumes
        )
        if held == arrangement.volumes:
            return Common(arrangement, seats, demands, with_room, solution)
        # A floor only ever rises, to the weakest of few letters.
        arrangement = arrangement._replace(volumes=held)


def title_pt_of(arrangement: Arrangement, *, without: Collection[Role] = ()) -> float:
    """The title's size where every text of every volume finds room; 0 where one does not."""
    found = common_of(arrangement, without=without)
    return found.solution.title_pt if found.is_complete and found.solution is not None else 0.0


def common_of_fitting(common: Common) -> Common:
    """What the volumes have in common that find room by themselves, for all to be held against.

    So that it is said of the others that they do not fit; as it was where none or all do.
    """
    arranged = common.arrangement
    volumes = [_with_shared_lines(one, common.demands) for one in common.volumes]
    fitting = [one for one in volumes if common_of(arranged._replace(volumes=(one,))).is_complete]
    if not fitting or len(fitting) == len(volumes):
        return common
    found = common_of(arranged._replace(volumes=tuple(fitting)))
    if found.demands.keys() != common.demands.keys():
        return common
    return found._replace(arrangement=arranged, seats=common.seats)


def _with_shared_lines(volume: Volume, demands: Mapping[Role, Demand]) -> Volume:
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


def _with_offers_raised(
    volume: Volume, demands: Mapping[Role, Demand], solution: Solution | None
) -> Volume:
    """The volume, its offers raised where its letters do not hold at the sizes found."""
    sizes = {} if solution is None else solution.sizes_pt
    found = {
        role: one.with_offer_raised(sizes[role])
        if role in sizes and demands[role].text.size_pt is None
        else one
        for role, one in volume.demands.items()
    }
    raised = any(found[role] is not one for role, one in volume.demands.items())
    return volume._replace(demands=found) if raised else volume


def _common_demands(
    volumes: Sequence[Volume], seats: Sequence[Seat], at_most_pt: float | None
) -> dict[Role, Demand]:
    found = {}
    for seat in seats:
        for role in seat.roles:
            own = [volume.demands[role] for volume in volumes if role in volume.demands]
            most_pt = at_most_pt if role is Role.TITLE else None
            found[role] = common_demand(role, own, lone=seat.is_lone, at_most_pt=most_pt)
    return found
