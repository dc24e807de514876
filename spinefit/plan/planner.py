"""Where does every text of every back stand, how large, and does all of it fit?

The entry point `plan`: one back or several alike, of a title alone or of several texts each.
Who stands where, which way the lines run, how large all can be, then every text judged by itself
in its zone at its size. What is claimed rests on those judgements, not on the arithmetic that led
there. A title alone on one back is judged at once: there is nothing to search.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from spinefit.plan.attempt import Attempt, attempt_of, leading_em
from spinefit.plan.checks import check_plan, check_set, volume_fault
from spinefit.plan.common import Asked, Ways, limit_of, union_plan
from spinefit.plan.compromise import compromises_for, limiting_place
from spinefit.plan.heights import stands_mm
from spinefit.plan.labels import check_labels, place_labels, plan_on, planned_labels, without_labels
from spinefit.plan.model import BackPlan, BackText, Role
from spinefit.plan.pattern import Pattern, pattern_of_judged
from spinefit.plan.result import Limit, Plan, PlannedRole, PlannedText, PlannedVolume
from spinefit.plan.seats import Seat, SeatKey, SharedLabel, seats_of
from spinefit.plan.sizes import gap_row
from spinefit.plan.standing import (
    Standing,
    judged_in,
    leading_text,
    resolved_title,
    size_asked_pt,
)
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation

__all__ = ["best_attempt", "plan", "title_alone"]

_OTHER_WAY = {
    Orientation.LONGITUDINAL: Orientation.TRANSVERSE,
    Orientation.TRANSVERSE: Orientation.LONGITUDINAL,
    Orientation.PILLAR: Orientation.LONGITUDINAL,
}


def plan(backs: Sequence[tuple[str, BackPlan]]) -> Plan:
    """Do these texts fit their backs, where does each stand, and how large?

    Args:
        backs: label and texts of each; one back, or the volumes of a set, which share letters,
            bands and seats.

    Returns:
        The plan; what does not fit is a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be, or volumes that contradict each other.

    >>> from spinefit.job import Spine
    >>> texts = (BackText(role=Role.TITLE, text="Tide Tables"),
    ...          BackText(role=Role.DATE, text="1931"))
    >>> plan([("", BackPlan(spine=Spine(width_mm=30, height_mm=210), texts=texts))]).fits
    True
    """
    if len(backs) == 1:
        check_plan(backs[0][1])
    else:
        check_set(backs)
    plans = tuple(own for _label, own in backs)
    if len(plans) == 1 and plans[0].is_single:
        return _alone(plans[0])
    if any(text.label is not None or text.label_size_mm is not None for text in plans[0].texts):
        return _on_labels(plans[0])
    labels = [label for label, _own in backs]
    alone: list[PlannedText | None] = [None]
    if len(plans) > 1:
        by_itself = [_alone_in_set(place, own) for place, own in enumerate(plans, 1)]
        if _are_alike(by_itself):
            return _as_alone(labels, by_itself)
        alone = [one.volumes[0].title for one in by_itself]
    found, ways = best_attempt(labels, plans, alone)
    made = _plan_of(plans, found, alone)
    if len(plans) == 1:
        return made
    return made._replace(
        limit=_limit(found, ways),
        compromises=compromises_for(backs, found, alone, best_attempt),
        pattern=_pattern_of(made) if made.fits else None,
    )


def _limit(found: Attempt, ways: Ways) -> Limit:
    """What keeps the title from being larger; of titles alone the volume that takes the least."""
    if found.common.single:
        return Limit(found.common.volumes[limiting_place(found.common)].label, Role.TITLE)
    return limit_of(found.common, ways) if found.fits else Limit()


def _pattern_of(made: Plan) -> Pattern:
    """What the next volume has to match, of a set that fits."""
    title = made.volumes[0].title
    height_mm = next(one.stands_mm for one in made.roles if one.role is Role.TITLE)
    return pattern_of_judged(title.job, title.judged, height_mm)


def title_alone(own: BackPlan) -> PlannedText:
    """A title as it is asked by itself, at the size asked for it."""
    text = leading_text(own.texts)
    standing = Standing(size_pt=size_asked_pt(own, text))
    job, judged = judged_in(own, text, standing)
    zone = seats_of(own, judged.job, single=True)[0].zone
    known = own.height_mm is not None
    return PlannedText(
        text.role, text.text, judged.panel.number, zone if known else None, job, judged
    )


def _alone(own: BackPlan) -> Plan:
    found = title_alone(own)
    failing = () if found.fits else (Role.TITLE,)
    volume = PlannedVolume("", (found,), failing, found, found.shown.largest_pt)
    job = found.judged.job
    return Plan((own,), job, (volume,), _roles((found,), {}), found.shown.largest_pt, job.assumed)


def _alone_in_set(place: int, own: BackPlan) -> Plan:
    """A volume of a set as it would be by itself."""
    with volume_fault(place):
        return plan([("", own)])


def _are_alike(found: Sequence[Plan]) -> bool:
    """Whether backs planned by themselves stand as one set already, so that nothing is to solve."""
    first = [_looks_of(text) for text in found[0].volumes[0].texts]
    return all([_looks_of(text) for text in one.volumes[0].texts] == first for one in found[1:])


def _looks_of(text: PlannedText) -> tuple[object, ...]:
    """What all volumes of a set share of a text; its height to a thousandth of a millimetre."""
    shown = text.shown
    height_mm = stands_mm(text.judged.job, shown)
    return (
        text.role,
        text.panel,
        shown.reading,
        len(shown.lines),
        shown.set_pt,
        leading_em(text.judged),
        None if height_mm is None else round(height_mm, 3),
    )


def _as_alone(labels: Sequence[str], found: Sequence[Plan]) -> Plan:
    """A set whose volumes are left as they are by themselves."""
    volumes = tuple(
        one.volumes[0]._replace(label=label) for label, one in zip(labels, found, strict=True)
    )
    least = min(volumes, key=lambda one: one.largest_pt)
    texts = volumes[0].texts
    heights = {one.role: stands_mm(one.judged.job, one.shown) for one in texts}
    on_backs = all(one.backs[0].spine is not None for one in found)
    made = Plan(
        backs=tuple(one.backs[0] for one in found),
        job=found[0].job,
        volumes=volumes,
        roles=_roles(texts, heights if on_backs else {}),
        largest_pt=least.largest_pt,
        assumed=tuple(dict.fromkeys(text for one in found for text in one.assumed)),
        turned=found[0].turned,
        limit=Limit(least.label, Role.TITLE) if found[0].backs[0].is_single else Limit(),
    )
    return made._replace(pattern=_pattern_of(made) if made.fits else None)


def best_attempt(
    labels: Sequence[str], plans: Sequence[BackPlan], alone: Sequence[PlannedText | None] = ()
) -> tuple[Attempt, Ways]:
    """Every way that the lines may run, until all fit; else the one that needs the least more.

    Args:
        labels: of the backs.
        plans: the backs.
        alone: each title by itself, where that is known; for titles alone.
    """
    volumes = []
    for place, (label, own) in enumerate(zip(labels, plans, strict=True), 1):
        with volume_fault(place, of=len(plans)):
            volumes.append(Asked(label, own, resolved_title(own)))
    single = all(own.is_single for own in plans)
    tried: list[tuple[Attempt, Ways]] = []
    for ways in _ways(volumes, alone if single else (), single=single):
        found = attempt_of(volumes, ways, single=single)._replace(turned=bool(tried))
        if found.fits:
            return found, ways
        tried.append((found, ways))
    if single:
        return max(tried, key=lambda one: one[0].common.largest_pt)
    return tried[0]


def _ways(
    volumes: Sequence[Asked], alone: Sequence[PlannedText | None], *, single: bool
) -> Iterator[Ways]:
    """Which way the lines of each seat run: as they would on every back by itself, then turned.

    Where backs disagree they run along, which the narrowest asks for. Between bands nothing is
    turned but a title alone: a panel's lines stand as its lettering asks.
    """
    own: dict[SeatKey, set[Orientation]] = {}
    known = {id(one.plan): found for one, found in zip(volumes, alone, strict=False) if found}
    plans = [one.plan for one in volumes]
    for place, one in enumerate(volumes, 1):
        with volume_fault(place, of=len(volumes)):
            texts = {text.role: text for text in one.plan.texts}
            for seat in seats_of(union_plan(plans, one.plan), one.job, single=single):
                there = [texts[each.role] for each in seat.texts if each.role in texts]
                if there:
                    way = _way_of(one, leading_text(there), seat, known.get(id(one.plan)))
                    own.setdefault(seat.key, set()).add(way)
    along = Orientation.LONGITUDINAL
    first = {key: next(iter(ways)) if len(ways) == 1 else along for key, ways in own.items()}
    yield first
    asked = plans[0].lettering.orientation not in (None, Orientation.ANY)
    if asked or (any(one.has_bands for one in plans) and not single):
        return
    turned = _OTHER_WAY[next(iter(first.values()))]
    yield dict.fromkeys(first, turned)
    if Orientation.PILLAR in first.values():
        yield dict.fromkeys(first, Orientation.TRANSVERSE)


def _way_of(one: Asked, text: BackText, seat: Seat, alone: PlannedText | None) -> Orientation:
    """Which way a text would run if its seat were its own."""
    asked = one.plan.lettering.orientation
    if asked not in (None, Orientation.ANY):
        return asked
    if alone is not None:
        return alone.shown.orientation
    _job, judged = judged_in(one.plan, text, Standing(panel=seat.panel, zone=seat.room))
    return judged.judgement.shown.orientation


def _on_labels(own: BackPlan) -> Plan:
    """Planned as if every text stood on its own, then again with the labels that asks for."""
    volume = Asked("", own, resolved_title(own))
    check_labels(own, volume.job)
    bare, _ways_bare = best_attempt([""], [without_labels(own, volume.job)])
    title_pt = next(one.set_pt for one in bare.texts[0] if one.role is Role.TITLE)
    stretches = [
        (
            stretch,
            [one for one in bare.texts[0] if one.role in stretch.roles],
            volume.job.rules.value(gap_row(stretch)) * mm_from_pt(title_pt),
        )
        for stretch in bare.common.stretches
    ]
    labels = place_labels(own, volume.job, stretches)
    way = bare.common.stretches[0].orientation if bare.turned else None
    found = _best_on_labels(volume, labels, way)
    made = _plan_of((own,), found._replace(turned=found.turned or bare.turned), [None])
    shown = planned_labels(found.common.stretches, found.texts[0], found.failing[0])
    return made._replace(labels=shown)


def _best_on_labels(
    volume: Asked, labels: Mapping[str, SharedLabel], way: Orientation | None
) -> Attempt:
    first: dict[SeatKey, Orientation] = {}
    seats = seats_of(volume.plan, volume.job, labels)
    for seat in seats:
        own = volume._replace(plan=plan_on(volume.plan, volume.job, seat.label))
        text = leading_text(seat.texts)
        first[seat.key] = way or _way_of(own, text, seat, None)
    found = attempt_of([volume], first, single=False, labels=labels)
    asked = volume.job.lettering.orientation is not Orientation.ANY
    if found.fits or asked or seats[0].panel is not None:
        return found
    turned = _OTHER_WAY[found.common.stretches[0].orientation]
    other = attempt_of([volume], dict.fromkeys(first, turned), single=False, labels=labels)
    return other._replace(turned=True) if other.fits else found


def _plan_of(
    plans: Sequence[BackPlan], found: Attempt, alone: Sequence[PlannedText | None]
) -> Plan:
    common = found.common
    lines = common.lines(Role.TITLE)
    volumes = tuple(
        _volume(asked, texts, failing, by_itself, lines)
        for asked, texts, failing, by_itself in zip(
            common.volumes, found.texts, found.failing, alone, strict=True
        )
    )
    firsts = {one.role: one for texts in reversed(found.texts) for one in texts}
    in_order = tuple(firsts[role] for stretch in common.stretches for role in stretch.roles)
    return Plan(
        backs=tuple(plans),
        job=common.volumes[0].job,
        volumes=volumes,
        roles=_roles(in_order, found.stands_mm),
        largest_pt=min(common.largest_pt, *(one.largest_pt for one in volumes)),
        assumed=tuple(dict.fromkeys(text for one in common.volumes for text in one.job.assumed)),
        turned=found.turned,
    )


def _volume(
    asked: Asked,
    texts: tuple[PlannedText, ...],
    failing: tuple[Role, ...],
    alone: PlannedText | None,
    lines: int | None,
) -> PlannedVolume:
    title = next(one for one in texts if one.role is Role.TITLE)
    settings = asked.demands[Role.TITLE].settings
    own = [one.largest_pt for one in settings if one.lines == lines]
    largest_pt = own[0] if own else title.shown.largest_pt
    return PlannedVolume(asked.label, texts, failing, alone or title, largest_pt)


def _roles(
    texts: Sequence[PlannedText], stands: Mapping[Role, float | None]
) -> tuple[PlannedRole, ...]:
    return tuple(
        PlannedRole(
            role=one.role,
            panel=one.panel,
            orientation=one.shown.orientation,
            reading=one.shown.reading,
            lines=len(one.shown.lines),
            set_pt=one.set_pt,
            stands_mm=stands.get(one.role),
        )
        for one in texts
    )
