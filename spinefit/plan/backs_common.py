"""How large can the texts of several backs be, all in one size and place for each role?

In: the volumes, each with what its texts ask. Out: what they ask together, every volume being
a limit, the stretches they have in common, and the solution for both. So the arithmetic of one
back, `plan.solve`, serves for several. Common stretches lie in mm from the head of the lowest
volume; volumes stand on their tails.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import JobError
from spinefit.job.resolved import ResolvedJob
from spinefit.plan.demand import Demand, Setting
from spinefit.plan.model import BackPlan, Role
from spinefit.plan.reports import Zone
from spinefit.plan.seats import Stretch, seats_of, stretch_of
from spinefit.plan.solve import Solution, kept_roles, solve
from spinefit.vocabulary import Orientation

__all__ = [
    "Common",
    "Volume",
    "common_of",
    "limits_of",
    "lowest_of",
    "of_the_able",
    "union_plan",
]

_LEAST_STRETCH_MM = 1.0  # less than any lettering


class Volume(NamedTuple):
    """One back of several, with what its texts ask."""

    label: str
    plan: BackPlan
    job: ResolvedJob
    demands: Mapping[Role, Demand]

    @property
    def height_mm(self) -> float:
        """From its head to its tail."""
        assert self.job.spine is not None and self.job.spine.height_mm is not None
        return self.job.spine.height_mm


class Common(NamedTuple):
    """What all volumes have in common.

    Attributes:
        volumes: with their demands held at the sizes found.
        stretches: where the texts stand, in mm from the head of the lowest volume.
        demands: what each role asks together.
        kept: the roles that find room.
        solution: their sizes and lines; None where not even one finds room.
    """

    volumes: tuple[Volume, ...]
    stretches: tuple[Stretch, ...]
    demands: Mapping[Role, Demand]
    kept: frozenset[Role]
    solution: Solution | None

    @property
    def is_complete(self) -> bool:
        """Whether every text finds room."""
        return self.solution is not None and self.kept == frozenset(self.demands)


def lowest_of(volumes: Sequence[Volume]) -> Volume:
    """The volume of the least height, the first of several."""
    return min(volumes, key=lambda one: one.height_mm)


def union_plan(plans: Sequence[BackPlan], on: BackPlan) -> BackPlan:
    """A plan on one volume's back with a text of every role that any volume has."""
    texts = {text.role: text for plan in reversed(plans) for text in plan.texts}
    order = dict.fromkeys(text.role for plan in plans for text in plan.texts)
    return replace(on, texts=tuple(texts[role] for role in order))


def common_of(
    volumes: Sequence[Volume],
    ways: Mapping[int | None, Orientation],
    *,
    at_most_pt: float | None = None,
    without: Collection[Role] = (),
) -> Common:
    """The largest title for which every text of every volume fits, all alike.

    Args:
        volumes: with their demands.
        ways: which way the lines run, by panel; None for a back without bands.
        at_most_pt: the most the title may be, in points.
        without: roles to be left out.

    Raises:
        JobError: no number of lines, or no stretch of back, is open to all.
    """
    stretches = _stretches(volumes, ways, without)
    while True:
        demands = _together(volumes, at_most_pt, without)
        job = volumes[0].job
        kept = frozenset(demands)
        solution = solve(job, stretches, demands, kept)
        if solution is None:
            kept = kept_roles(job, stretches, demands)
            solution = solve(job, stretches, demands, kept)
        held = tuple(_held(volume, demands, solution) for volume in volumes)
        if held == tuple(volumes):
            return Common(tuple(volumes), stretches, demands, kept, solution)
        volumes = held  # a floor only ever rises, to the weakest of few letters


def of_the_able(common: Common, ways: Mapping[int | None, Orientation]) -> Common:
    """What the volumes have in common that find room by themselves, for all to be held against.

    So that it is said of the others that they do not fit; as it was where none or all do.
    """
    able = [one for one in common.volumes if common_of([one], ways).is_complete]
    if not able or len(able) == len(common.volumes):
        return common
    found = common_of(able, ways)
    if found.demands.keys() != common.demands.keys():
        return common
    return found._replace(volumes=common.volumes, stretches=common.stretches)


def _held(volume: Volume, demands: Mapping[Role, Demand], solution: Solution | None) -> Volume:
    """The volume, its offers raised where its letters do not hold at the sizes found."""
    if solution is None:
        return volume
    found = dict(volume.demands)
    for role, size_pt in solution.sizes_pt.items():
        if role in found and demands[role].text.size_pt is None:
            raised = found[role].held_at(size_pt)
            if raised.offer != found[role].offer:
                found[role] = raised
    return volume if found == volume.demands else volume._replace(demands=found)


def _together(
    volumes: Sequence[Volume], at_most_pt: float | None, without: Collection[Role]
) -> dict[Role, Demand]:
    roles = dict.fromkeys(role for volume in volumes for role in volume.demands)
    return {
        role: _of_role(
            role,
            [volume.demands[role] for volume in volumes if role in volume.demands],
            at_most_pt if role is Role.TITLE else None,
        )
        for role in roles
        if role not in without
    }


def _of_role(role: Role, own: Sequence[Demand], at_most_pt: float | None) -> Demand:
    """What a role asks in all volumes: the least of their limits, the most of their lengths."""
    by_lines = [{setting.lines: setting for setting in one.settings} for one in own]
    shared = set.intersection(*map(set, by_lines))
    if not shared:
        raise JobError(
            f"no number of lines is open to the {role} of every volume",
            remedy="force the same number of breaks with ' / ' in every volume",
        )
    orders = [list(found) for found in by_lines]
    ranked = sorted(shared, key=lambda lines: (sum(one.index(lines) for one in orders), lines))
    return own[0]._replace(
        settings=tuple(
            _worst([found[lines] for found in by_lines], at_most_pt) for lines in ranked
        ),
        offer=max((one.offer for one in own), key=lambda offer: offer.floor_pt),
        pad_mm=max(one.pad_mm for one in own),
    )


def _worst(settings: Sequence[Setting], at_most_pt: float | None) -> Setting:
    most_pt = float("inf") if at_most_pt is None else at_most_pt
    return Setting(
        lines=settings[0].lines,
        advised_pt=min(most_pt, *(one.advised_pt for one in settings)),
        largest_pt=min(most_pt, *(one.largest_pt for one in settings)),
        extent_mm=max(one.extent_mm for one in settings),
    )


def _stretches(
    volumes: Sequence[Volume],
    ways: Mapping[int | None, Orientation],
    without: Collection[Role],
) -> tuple[Stretch, ...]:
    """The seats of all, each as much of the back as every volume has there over the shelf."""
    lowest = lowest_of(volumes)
    union = union_plan([volume.plan for volume in volumes], lowest.plan)
    union = replace(union, texts=tuple(one for one in union.texts if one.role not in without))
    zones = [_zones_from_tail(volume, union) for volume in volumes]
    found = []
    for seat in seats_of(union, lowest.job):
        low_mm = max(own[seat.panel].begins_mm for own in zones)
        high_mm = min(own[seat.panel].ends_mm for own in zones)
        if high_mm - low_mm < _LEAST_STRETCH_MM:
            where = "the back" if seat.panel is None else f"panel {seat.panel}"
            raise JobError(
                f"{where} has no height over the shelf in common in all volumes",
                remedy="give the positions of the bands with --bands-at, or plan the volumes apart",
            )
        height_mm = lowest.height_mm
        shared = seat._replace(zone=Zone(height_mm - high_mm, height_mm - low_mm))
        found.append(stretch_of(shared, ways[seat.panel], lowest.job.lettering.reading))
    return tuple(found)


def _zones_from_tail(volume: Volume, union: BackPlan) -> dict[int | None, Zone]:
    seats = seats_of(replace(union, spine=volume.plan.spine), volume.job)
    height_mm = volume.height_mm
    return {
        seat.panel: Zone(height_mm - seat.zone.ends_mm, height_mm - seat.zone.begins_mm)
        for seat in seats
    }


def limits_of(
    common: Common, ways: Mapping[int | None, Orientation]
) -> tuple[str | None, Role | None]:
    """The volume and the text without which the title could be larger, or None for either.

    Of several volumes, or texts, the one that gives most; a title is its own limit where no
    other text is.
    """
    if common.solution is None:
        return None, None
    now_pt = common.solution.title_pt
    volume, gain = None, now_pt
    for one in common.volumes:
        rest = [each for each in common.volumes if each is not one]
        title_pt = _title_pt(rest, ways, ())
        if title_pt > gain:
            volume, gain = one.label, title_pt
    role: Role | None = None
    gain = now_pt
    for left_out in common.demands:
        if left_out is not Role.TITLE:
            title_pt = _title_pt(common.volumes, ways, (left_out,))
            if title_pt > gain:
                role, gain = left_out, title_pt
    if role is None and volume is not None:
        role = Role.TITLE
    return volume, role


def _title_pt(
    volumes: Sequence[Volume],
    ways: Mapping[int | None, Orientation],
    without: Collection[Role],
) -> float:
    found = common_of(volumes, ways, without=without)
    return found.solution.title_pt if found.is_complete and found.solution is not None else 0.0
