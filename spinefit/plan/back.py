"""How do several texts share one back?

The entry point `plan_back`: who stands where, which way the lines run, how large all can be,
then every text checked in its own zone at its own size by `pipeline.check`. What is claimed
rests on those reports, not on the arithmetic that led there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob
from spinefit.plan import back_words as words
from spinefit.plan.asking import demand_of, room_of, text_report, title_from_head_mm, way_of
from spinefit.plan.demand import Demand
from spinefit.plan.model import BackPlan, Role
from spinefit.plan.plan_checks import check_plan
from spinefit.plan.remedies import remedies_for
from spinefit.plan.reports import (
    BACK_SCHEMA,
    BackReport,
    PlannedLabel,
    PlanRemedy,
    TextReport,
    Zone,
)
from spinefit.plan.seats import Seat, SharedLabel, Stretch, seats_of, stretch_of
from spinefit.plan.solve import (
    Solution,
    gap_mm_at,
    gap_row,
    kept_roles,
    size_of,
    solve,
    wanted_gap_mm_at,
)
from spinefit.plan.text_jobs import Standing, job_in, job_of, leading_of, report_of
from spinefit.plan.zones import zones_for
from spinefit.say.model import Report
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation, Verdict

__all__ = ["plan_back"]


class _Planned(NamedTuple):
    """Every text checked where it stands, and the roles that find no room."""

    stretches: tuple[Stretch, ...]
    demands: Mapping[Role, Demand]
    texts: tuple[TextReport, ...]
    failing: tuple[Role, ...]


def plan_back(plan: BackPlan) -> BackReport:
    """Do these texts fit this back together, where does each stand, and how large?

    Args:
        plan: the back, its texts, and how they are to be lettered; mm and points.

    Returns:
        The report; texts that do not fit are a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be.

    >>> from spinefit.job import Spine
    >>> from spinefit.plan import BackText
    >>> texts = (BackText(role=Role.TITLE, text="Tide Tables"),
    ...          BackText(role=Role.DATE, text="1931"))
    >>> plan_back(BackPlan(spine=Spine(width_mm=30, height_mm=210), texts=texts)).fits
    True
    """
    return _report(plan, with_remedies=True)


def _report(plan: BackPlan, *, with_remedies: bool) -> BackReport:
    check_plan(plan)
    job = resolve(job_of(plan, leading_of(plan.texts)))
    planned, switched = _labelled(plan, job) if _has_labels(plan) else _best_way(plan, job, None)
    failing = planned.failing
    remedies: tuple[PlanRemedy, ...] = ()
    if failing and with_remedies:
        remedies = remedies_for(plan, failing, lambda other: _report(other, with_remedies=False))
    verdict = _verdict(planned)
    title = _title_of(planned.texts)
    return BackReport(
        schema=BACK_SCHEMA,
        verdict=verdict,
        answer=words.answer(planned.texts, failing, verdict, remedies),
        orientation=_orientation_of(title.report),
        texts=planned.texts,
        failing=failing,
        findings=words.findings(plan, job, planned.texts, failing, switched=switched),
        remedies=remedies,
        assumed=job.assumed,
        labels=_label_reports(planned) if _has_labels(plan) else (),
    )


def _has_labels(plan: BackPlan) -> bool:
    return any(text.label is not None or text.label_size_mm is not None for text in plan.texts)


def _labelled(plan: BackPlan, job: ResolvedJob) -> tuple[_Planned, bool]:
    """Planned as if every text stood on its own, then again with the labels that asks for."""
    from spinefit.plan.labels import check_labels, place_labels, without_labels

    check_labels(plan, job)
    bare, switched = _best_way(without_labels(plan, job), job, None)
    title = bare.demands[Role.TITLE]
    title_pt = next(one.set_pt for one in bare.texts if one.role is Role.TITLE)
    stretches = [
        (
            stretch,
            [one for one in bare.texts if one.role in stretch.roles],
            title.job.rules.value(gap_row(stretch)) * mm_from_pt(title_pt),
        )
        for stretch in bare.stretches
    ]
    labels = place_labels(plan, job, stretches)
    way = bare.stretches[0].orientation if switched else None
    found, other = _best_way(plan, job, labels, way)
    return found, switched or other


def _label_reports(planned: _Planned) -> tuple[PlannedLabel, ...]:
    from spinefit.plan.labels import label_reports

    return label_reports(planned.stretches, planned.texts, planned.failing)


def _best_way(
    plan: BackPlan,
    job: ResolvedJob,
    labels: Mapping[str, SharedLabel] | None,
    way: Orientation | None = None,
) -> tuple[_Planned, bool]:
    """Planned the way the title would run alone; the other way where only that fits."""
    seats = seats_of(plan, job, labels)
    first = _plan(plan, job, seats, way)
    asked = job.lettering.orientation is not Orientation.ANY
    if not first.failing or asked or seats[0].panel is not None:
        return first, False
    other = _OTHER_WAY[first.stretches[0].orientation]
    second = _plan(plan, job, seats, other)
    return (first, False) if second.failing else (second, True)


_OTHER_WAY = {
    Orientation.LONGITUDINAL: Orientation.TRANSVERSE,
    Orientation.TRANSVERSE: Orientation.LONGITUDINAL,
    Orientation.PILLAR: Orientation.LONGITUDINAL,
}


def _plan(
    plan: BackPlan, job: ResolvedJob, seats: Sequence[Seat], forced: Orientation | None
) -> _Planned:
    stretches: list[Stretch] = []
    demands: dict[Role, Demand] = {}
    for seat in seats:
        own = _plan_on(plan, job, seat.label)
        orientation = forced or way_of(own, seat)
        standing = Standing(seat.panel, room_of(seat), orientation=orientation)
        stretches.append(stretch_of(seat, orientation, job.lettering.reading))
        demands |= {text.role: demand_of(own, job, text, standing) for text in seat.texts}
    demands, kept, solution = _solved(job, stretches, demands)
    texts = tuple(
        found for stretch in stretches for found in _checked(plan, job, stretch, demands, solution)
    )
    failing = {text.role for text in texts if not text.fits} | (frozenset(demands) - kept)
    return _Planned(
        tuple(stretches), demands, texts, tuple(role for role in _BY_WEIGHT if role in failing)
    )


def _solved(
    job: ResolvedJob, stretches: Sequence[Stretch], demands: dict[Role, Demand]
) -> tuple[dict[Role, Demand], frozenset[Role], Solution | None]:
    """Sizes at which the method holds every letter, for all texts or those that find room."""
    while True:
        kept = frozenset(demands)
        solution = solve(job, stretches, demands, kept)
        if solution is None:
            kept = kept_roles(job, stretches, demands)
            solution = solve(job, stretches, demands, kept)
        sizes = {} if solution is None else solution.sizes_pt
        held = {
            role: one.held_at(sizes[role]) if role in sizes and one.text.size_pt is None else one
            for role, one in demands.items()
        }
        if all(held[role].offer == one.offer for role, one in demands.items()):
            return demands, kept, solution
        demands = held  # a floor only ever rises, to the weakest of few letters


_BY_WEIGHT = (Role.TITLE, Role.VOLUME, Role.AUTHOR, Role.DATE, Role.SUBTITLE, Role.IMPRINT)


def _orientation_of(report: Report) -> Orientation:
    return words.shown(report).orientation


def _checked(
    plan: BackPlan,
    job: ResolvedJob,
    stretch: Stretch,
    demands: Mapping[Role, Demand],
    solution: Solution | None,
) -> list[TextReport]:
    """Every text of a stretch in its zone at its size, as `check` finds it."""
    title = demands[Role.TITLE]
    title_pt = size_of(title, title.offer.smallest_pt())
    if solution is not None:
        title_pt = solution.title_pt
    placed = {} if solution is None else solution.settings
    needs = {
        role: demands[role].need_mm(placed[role], size_of(demands[role], title_pt))
        for role in stretch.roles
        if role in placed
    }
    zones = zones_for(
        stretch,
        needs,
        gap_mm=gap_mm_at(job, stretch, title_pt),
        wanted_gap_mm=wanted_gap_mm_at(job, stretch, title_pt),
        sliver_mm=title.sliver_mm,
        title_from_head_mm=title_from_head_mm(job),
    )
    found = []
    for role in stretch.roles:
        zone, middle_mm = zones[role]
        own = job_in(
            _plan_on(plan, job, stretch.label),
            demands[role].text,
            Standing(
                panel=stretch.panel,
                zone=_room(job, stretch, zone),
                middle_mm=middle_mm if stretch.hangs or _is_across(stretch) else None,
                orientation=stretch.orientation,
                size_pt=size_of(demands[role], title_pt),
                lines=placed[role].lines if role in placed else None,
            ),
        )
        report = report_of(plan, demands[role].text, own)
        found.append(text_report(demands[role].text, stretch.panel, zone, report, own))
    return found


def _plan_on(plan: BackPlan, job: ResolvedJob, label: SharedLabel | None) -> BackPlan:
    if label is None or label.width_mm is None:
        return plan
    from spinefit.plan.labels import plan_on

    return plan_on(plan, job, label)


def _room(job: ResolvedJob, stretch: Stretch, zone: Zone) -> Zone | None:
    """What a text is checked in; on a label its zone is of its ink, without the clearance."""
    if stretch.label is not None:
        clear_mm = job.lettering.clearance_mm
        return Zone(zone.begins_mm - clear_mm, zone.ends_mm + clear_mm)
    return None if zone == stretch.zone and not stretch.is_part else zone


def _is_across(stretch: Stretch) -> bool:
    """True for lines across on a label of a back without bands, which stand in its middle."""
    across = stretch.orientation is Orientation.TRANSVERSE
    return stretch.label is not None and stretch.panel is None and across


def _title_of(texts: Sequence[TextReport]) -> TextReport:
    return next(text for text in texts if text.role is Role.TITLE)


def _verdict(planned: _Planned) -> Verdict:
    if planned.failing:
        return Verdict.DOES_NOT_FIT
    tight = any(text.report.verdict is Verdict.TIGHT for text in planned.texts)
    return Verdict.TIGHT if tight else Verdict.FITS
