"""How do several volumes match that have several texts each?

The entry point `plan_backs`: one plan for all volumes, each role in one size, in as many lines
and at one height over the shelf, the worst being the limit. Every text of every volume is then
run through `check` where it stands; what is reported of it rests on that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.plan import backs_words as words
from spinefit.plan.asking import demand_of, text_report, title_from_head_mm, way_of
from spinefit.plan.back import plan_back
from spinefit.plan.back_words import shown
from spinefit.plan.backs_common import (
    Common,
    Volume,
    common_of,
    limits_of,
    lowest_of,
    of_the_able,
    union_plan,
)
from spinefit.plan.model import BackPlan, BackText, Role
from spinefit.plan.reports import (
    BACKS_SCHEMA,
    BackReport,
    BacksReport,
    BackVolumeReport,
    RoleReport,
    TextReport,
    Zone,
)
from spinefit.plan.seats import Stretch, seats_of
from spinefit.plan.set_checks import check_backs, volume_fault
from spinefit.plan.set_words import out_of_line
from spinefit.plan.shelf import common_height_mm, moved, reach_of, stands_mm
from spinefit.plan.solve import gap_mm_at, size_of, wanted_gap_mm_at
from spinefit.plan.text_jobs import Standing, checked, job_in, job_of, leading_of, report_of
from spinefit.plan.zones import zones_for
from spinefit.say.model import Report
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Verdict

__all__ = ["plan_backs"]

_SAME_MM = 1e-6  # rounding of sums of millimetres
_LOWER = 0.97  # what the arithmetic grants and a check refuses is tried again so much smaller
_TRIES = 8

_Ways = Mapping[int | None, Orientation]


class _Found(NamedTuple):
    """One way of planning all volumes, every text as `check` finds it."""

    ways: _Ways
    common: Common
    texts: tuple[tuple[TextReport, ...], ...]
    stands_mm: Mapping[Role, float | None]

    @property
    def failing(self) -> tuple[tuple[Role, ...], ...]:
        """For each volume the roles that find no room in it."""
        out = frozenset(self.common.demands) - self.common.kept
        return tuple(
            tuple(one.role for one in own if not one.fits or one.role in out) for own in self.texts
        )

    @property
    def fits(self) -> bool:
        """Whether every text of every volume finds room."""
        return not any(self.failing)


def plan_backs(volumes: Sequence[tuple[str, BackPlan]]) -> BacksReport:
    """Can these volumes, of several texts each, be lettered alike, and what is the limit?

    Args:
        volumes: label and plan of each, two or more; they share letters, bands and seats.

    Returns:
        The report; volumes that do not fit are a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be, or volumes that contradict each other.

    >>> from spinefit.job import Spine
    >>> pair = [(n, BackPlan(spine=Spine(width_mm=w, height_mm=210), texts=(
    ...             BackText(role=Role.TITLE, text="Tide Tables"),
    ...             BackText(role=Role.DATE, text=n)))) for n, w in (("1930", 26), ("1931", 30))]
    >>> plan_backs(pair).fits
    True
    """
    check_backs(volumes)
    labels = [label for label, _plan in volumes]
    plans = [plan for _label, plan in volumes]
    alone = [_alone(place, plan) for place, plan in enumerate(plans, 1)]
    found = _best(labels, plans, alone)
    limiting, limiting_role = limits_of(found.common, found.ways)
    if not found.fits:
        limiting, limiting_role = None, None  # what fails is named instead
    reports = tuple(
        BackVolumeReport(label, not failing, _title(own.texts).set_pt, texts, failing)
        for label, own, texts, failing in zip(
            labels, alone, found.texts, found.failing, strict=True
        )
    )
    roles = tuple(_role(found, stretch, role) for stretch, role in _seated(found.common))
    verdict = _verdict(reports)
    return BacksReport(
        schema=BACKS_SCHEMA,
        verdict=verdict,
        answer=words.answer(reports, roles, verdict, limiting, limiting_role),
        orientation=_way(found, Role.TITLE),
        roles=roles,
        limiting=limiting,
        limiting_role=limiting_role,
        volumes=reports,
        findings=words.findings(reports, roles, verdict, limiting, limiting_role),
        assumed=tuple(dict.fromkeys(text for v in found.common.volumes for text in v.job.assumed)),
    )


def _alone(place: int, plan: BackPlan) -> BackReport:
    with volume_fault(place):
        return plan_back(plan)


def _best(labels: Sequence[str], plans: Sequence[BackPlan], alone: Sequence[BackReport]) -> _Found:
    """Across where every volume would be, else along; the other way where only that fits."""
    if plans[0].spine.bands or plans[0].spine.bands_at_mm:
        return _found(labels, plans, _ways_in_panels(plans))
    asked = plans[0].lettering.orientation
    if asked not in (None, Orientation.ANY):
        return _found(labels, plans, {None: asked})
    across, along = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
    own = {report.orientation for report in alone}
    tries = [across, along] if own == {across} else [along, across]
    first = _found(labels, plans, {None: tries[0]})
    if first.fits:
        return first
    second = _found(labels, plans, {None: tries[1]})
    return second if second.fits else first


def _ways_in_panels(plans: Sequence[BackPlan]) -> _Ways:
    """By panel: the way of all where they agree, else along, which the narrowest asks for."""
    found: dict[int | None, set[Orientation]] = {}
    for place, plan in enumerate(plans, 1):
        with volume_fault(place):
            for seat in seats_of(plan, resolve(job_of(plan, leading_of(plan.texts)))):
                found.setdefault(seat.panel, set()).add(way_of(plan, seat))
    return {
        panel: next(iter(own)) if len(own) == 1 else Orientation.LONGITUDINAL
        for panel, own in found.items()
    }


def _found(labels: Sequence[str], plans: Sequence[BackPlan], ways: _Ways) -> _Found:
    volumes, leadings = _volumes(labels, plans, ways)
    at_most_pt: float | None = None
    for _ in range(_TRIES):
        common = common_of(volumes, ways, at_most_pt=at_most_pt)
        if common.solution is None or not common.is_complete:
            return _checked(of_the_able(common, ways), ways, leadings)
        found = _checked(common, ways, leadings)
        if found.fits or common.demands[Role.TITLE].text.size_pt is not None:
            return found
        at_most_pt = _LOWER * common.solution.title_pt
    return found


def _volumes(
    labels: Sequence[str], plans: Sequence[BackPlan], ways: _Ways
) -> tuple[tuple[Volume, ...], dict[Role, float | None]]:
    """Every volume with what its texts ask, and for each role the leading that serves all."""
    found: list[Volume] = []
    leadings: dict[Role, float | None] = {}
    jobs = []
    for place, plan in enumerate(plans, 1):
        with volume_fault(place):
            jobs.append(resolve(job_of(plan, leading_of(plan.texts))))
            for text, standing in _seats(plan, plans, ways):
                leading_em = _leading_em(checked(plan, text, standing))
                known = [one for one in (leadings.get(text.role), leading_em) if one is not None]
                leadings[text.role] = max(known, default=None)
    for place, (label, plan, job) in enumerate(zip(labels, plans, jobs, strict=True), 1):
        with volume_fault(place):
            demands = {
                text.role: demand_of(
                    plan, job, text, standing._replace(leading_em=leadings[text.role])
                )
                for text, standing in _seats(plan, plans, ways)
            }
        found.append(Volume(label, plan, job, demands))
    return tuple(found), leadings


def _seats(
    plan: BackPlan, plans: Sequence[BackPlan], ways: _Ways
) -> Iterator[tuple[BackText, Standing]]:
    """Each text of a volume in the panel that all volumes give its role."""
    union = union_plan(plans, plan)
    own = {text.role: text for text in plan.texts}
    job = resolve(job_of(plan, leading_of(plan.texts)))
    for seat in seats_of(union, job):
        for text in seat.texts:
            if text.role in own:
                yield own[text.role], Standing(seat.panel, orientation=ways[seat.panel])


def _leading_em(report: Report) -> float | None:
    for one in report.layouts:
        if len(one.baselines_mm) > 1 and one.orientation is not Orientation.PILLAR:
            return (one.baselines_mm[0] - one.baselines_mm[1]) / mm_from_pt(one.set_pt)
    return None


def _checked(common: Common, ways: _Ways, leadings: Mapping[Role, float | None]) -> _Found:
    """Every text in its zone, then brought to the height that it has in all volumes."""
    texts: list[list[TextReport]] = [[] for _ in common.volumes]
    heights: dict[Role, float | None] = {}
    for stretch in common.stretches:
        for role, zone, middle_mm in _zones(common, stretch):
            standing = Standing(
                panel=stretch.panel,
                orientation=stretch.orientation,
                size_pt=size_of(common.demands[role], _title_pt(common)),
                lines=_lines(common, role),
                leading_em=leadings[role],
            )
            placed = _placed(common, role, zone, middle_mm if stretch.hangs else None, standing)
            heights[role], reports = _aligned(placed)
            for place, one in reports.items():
                texts[place].append(one)
    return _Found(ways, common, tuple(map(tuple, texts)), heights)


def _title_pt(common: Common) -> float:
    title = common.demands[Role.TITLE]
    if common.solution is not None:
        return common.solution.title_pt
    return size_of(title, title.offer.smallest_pt())


def _lines(common: Common, role: Role) -> int | None:
    settings = {} if common.solution is None else common.solution.settings
    return settings[role].lines if role in settings else None


def _zones(common: Common, stretch: Stretch) -> Iterator[tuple[Role, Zone, float]]:
    """The zone and middle of each role, in mm from the head of the lowest volume."""
    title_pt = _title_pt(common)
    settings = {} if common.solution is None else common.solution.settings
    needs = {
        role: common.demands[role].need_mm(settings[role], size_of(common.demands[role], title_pt))
        for role in stretch.roles
        if role in settings
    }
    lowest = lowest_of(common.volumes)
    zones = zones_for(
        stretch,
        needs,
        gap_mm=gap_mm_at(lowest.job, stretch, title_pt),
        wanted_gap_mm=wanted_gap_mm_at(lowest.job, stretch, title_pt),
        sliver_mm=common.demands[Role.TITLE].sliver_mm,
        title_from_head_mm=title_from_head_mm(lowest.job),
    )
    for role in stretch.roles:
        zone, middle_mm = zones[role]
        yield role, zone, middle_mm


class _Placed(NamedTuple):
    """A text of one volume as a job in its zone."""

    place: int
    plan: BackPlan
    text: BackText
    panel: int | None
    zone: Zone
    job: Job


def _placed(
    common: Common, role: Role, zone: Zone, middle_mm: float | None, standing: Standing
) -> list[_Placed]:
    found = []
    lowest_mm = lowest_of(common.volumes).height_mm
    for place, volume in enumerate(common.volumes):
        text = next((one for one in volume.plan.texts if one.role is role), None)
        if text is None:
            continue
        higher_mm = volume.height_mm - lowest_mm
        own = Zone(zone.begins_mm + higher_mm, zone.ends_mm + higher_mm)
        stands = standing._replace(
            zone=own, middle_mm=None if middle_mm is None else middle_mm + higher_mm
        )
        job = job_in(volume.plan, text, stands)
        found.append(_Placed(place, volume.plan, text, standing.panel, own, job))
    return found


def _aligned(placed: Sequence[_Placed]) -> tuple[float | None, dict[int, TextReport]]:
    """One role in all volumes at one height, and that height; None where it is not known."""
    reports = [_report(one, one.job) for one in placed]
    reaches = [
        reach_of(one.job, shown(report)) for one, report in zip(placed, reports, strict=True)
    ]
    known = [reach for reach in reaches if reach is not None]
    wanted_mm = None
    if len(known) == len(placed):
        first = shown(reports[0])
        wanted_mm = common_height_mm(known, stands_mm(placed[0].job, first), first.set_pt)
    found = {}
    for one, report in zip(placed, reports, strict=True):
        stands = (one.job, report) if wanted_mm is None else _at_height(one, report, wanted_mm)
        found[one.place] = text_report(one.text, one.panel, one.zone, stands[1], stands[0])
    return wanted_mm, found


def _at_height(one: _Placed, report: Report, wanted_mm: float) -> tuple[Job, Report]:
    """The text at that height; it does not fit where it cannot be brought there."""
    job = one.job
    for _ in range(2):  # another split may be taken once it is moved
        other = moved(job, shown(report), wanted_mm)
        if other is None or other == job:
            break
        job, report = other, _report(one, other)
    stands = stands_mm(job, shown(report))
    if report.fits and (stands is None or abs(stands - wanted_mm) > _SAME_MM):
        report = out_of_line(report, stands, wanted_mm)
    return job, report


def _report(one: _Placed, job: Job) -> Report:
    with volume_fault(one.place + 1):
        return report_of(one.plan, one.text, job)


def _seated(common: Common) -> Iterator[tuple[Stretch, Role]]:
    for stretch in common.stretches:
        for role in stretch.roles:
            yield stretch, role


def _role(found: _Found, stretch: Stretch, role: Role) -> RoleReport:
    first = next(one for own in found.texts for one in own if one.role is role)
    layout = shown(first.report)
    return RoleReport(
        role=role,
        panel=stretch.panel,
        orientation=stretch.orientation,
        reading=layout.reading,
        lines=len(layout.lines),
        set_pt=first.set_pt,
        stands_mm=found.stands_mm[role],
    )


def _way(found: _Found, role: Role) -> Orientation:
    return next(s.orientation for s, each in _seated(found.common) if each is role)


def _title(texts: Sequence[TextReport]) -> TextReport:
    return next(one for one in texts if one.role is Role.TITLE)


def _verdict(volumes: Sequence[BackVolumeReport]) -> Verdict:
    if not all(volume.fits for volume in volumes):
        return Verdict.DOES_NOT_FIT
    tight = any(text.report.verdict is Verdict.TIGHT for one in volumes for text in one.texts)
    return Verdict.TIGHT if tight else Verdict.FITS
