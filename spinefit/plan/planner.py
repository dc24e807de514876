"""Where does every text of every back stand, how large, and does all of it fit?

The entry point `plan`: one back or several alike, of a title alone or of several texts each.
Who stands where, which way the lines run, how large all can be, then every text judged by itself
in its zone at its size. What is claimed rests on those judgements, not on the arithmetic that led
there. A title alone on one back is judged at once: there is nothing to search.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from spinefit.catalogue import usual_fonts
from spinefit.errors import JobError
from spinefit.job.making import first_font
from spinefit.job.parts import refuse_unasked
from spinefit.judgement.text import verify_text
from spinefit.plan.apart import Way, ways_apart
from spinefit.plan.attempt import Attempt, leading_em
from spinefit.plan.call_numbers import seat_call_numbers
from spinefit.plan.checks import (
    check_plan,
    check_reading,
    check_set,
    in_one_language,
    volume_fault,
)
from spinefit.plan.common import Arrangement, Volume
from spinefit.plan.directions import best_attempt
from spinefit.plan.labels import check_labels, place_labels, planned_labels, without_labels
from spinefit.plan.limits import limit_of
from spinefit.plan.model import BackPlan
from spinefit.plan.parting import Parting, parted, without
from spinefit.plan.pattern import Pattern, pattern_of_judged
from spinefit.plan.result import (
    Alike,
    Apart,
    Compromise,
    Limit,
    Plan,
    PlannedRole,
    PlannedText,
    PlannedVolume,
)
from spinefit.plan.seats import seats_of
from spinefit.plan.sharing import gap_row
from spinefit.plan.standing import (
    Standing,
    judged_in,
    leading_text,
    resolved_title,
    size_asked_pt,
)
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Role


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
    >>> from spinefit.plan import BackText
    >>> texts = (BackText(role=Role.TITLE, text="Tide Tables"),
    ...          BackText(role=Role.DATE, text="1931"))
    >>> plan([("", BackPlan(spine=Spine(width_mm=30, height_mm=210), texts=texts))]).fits
    True
    """
    if len(backs) == 1:
        check_plan(backs[0][1])
    else:
        check_set(backs)
    roles = [text.role for _label, own in backs for text in own.texts]
    for _label, own in backs:  # what is said above a set is said of those that have one
        refuse_unasked(own.call_number, roles)
    backs, assumed = in_one_language(backs)
    if len(backs) > 1:
        check_reading(backs)
    seated = seat_call_numbers(backs)
    found = seated.beside(_in_usual_font(seated.rest))
    verify_plan(found)
    return found._replace(assumed=(*assumed, *_with_fonts(found)))


def _with_fonts(found: Plan) -> tuple[str, ...]:
    """What was assumed, with the fonts that the texts came to be set in."""
    jobs = [text.judged.job for volume in found.volumes for text in volume.texts]
    fonts = dict.fromkeys(one for job in jobs for one in job.assumed if one.startswith("font:"))
    return tuple(
        dict.fromkeys(
            words
            for one in found.assumed
            for words in (fonts if one.startswith("font:") and fonts else (one,))
        )
    )


def _in_usual_font(backs: Sequence[tuple[str, BackPlan]]) -> Plan:
    """The plan in the first of the fonts usual for the method in which all fits; else in the first.

    A title alone on its back tries them itself.
    """
    if len(backs) == 1 and backs[0][1].is_single:
        return _planned(backs)
    choices = range(len(usual_fonts(resolved_title(backs[0][1]).method)))
    return first_font(
        [partial(_planned_choice, backs, at) for at in choices],
        lambda made: made.fits,
        lambda made: made.largest_pt if made.fits else None,
    )


def _planned_choice(backs: Sequence[tuple[str, BackPlan]], font_choice: int) -> Plan:
    return _planned([(label, replace(own, font_choice=font_choice)) for label, own in backs])


def verify_plan(found: Plan) -> None:
    """Ask the geometry engine about every text where it came to stand; trials need no proof."""
    texts = [text for volume in found.volumes for text in volume.texts]
    for text in (*texts, *(one.text for one in found.compromises)):
        verify_text(text.judged)


def _planned(backs: Sequence[tuple[str, BackPlan]]) -> Plan:
    """The plan of backs that were checked."""
    plans = tuple(own for _label, own in backs)
    if len(plans) == 1 and plans[0].is_single:
        return _alone(plans[0])
    volumes = _volumes(backs)
    if any(text.label is not None or text.label_size_mm is not None for text in plans[0].texts):
        return _on_labels(volumes[0])
    if len(plans) > 1:
        by_itself = [_alone_in_set(volume) for volume in volumes]
        if _are_alike(by_itself) and not any(own.apart for own in plans):
            return _as_alone(volumes, by_itself)
        volumes = [
            volume._replace(alone=one.volumes[0].title)
            for volume, one in zip(volumes, by_itself, strict=True)
        ]
    if len(plans) == 1:
        return _plan_of(best_attempt(volumes))
    parting = parted(volumes)
    made = _plan_of(parting.alike)._replace(limit=limit_of(parting.alike))
    if parting.apart:
        made = _with_apart(made, volumes, parting)
    elif parting.could:
        made = made._replace(compromises=_offered(volumes, parting.could))
    return made._replace(pattern=_pattern_of(made) if made.fits else None)


def _with_apart(made: Plan, volumes: Sequence[Volume], parting: Parting) -> Plan:
    """The plan of a set with the volumes that go their own way in their places."""
    placed = {one.label: one for one in made.volumes}
    compromises: list[Compromise] = []
    title_pt = next(one.set_pt for one in made.roles if one.role is Role.TITLE)
    for volume in parting.apart:
        with volume.faults():
            ways = ways_apart(volume, parting.alike)
            placed[volume.label] = _apart(volume, ways)
        compromises += (
            Compromise(volume.label, way.change, way.title, title_pt) for way in ways[1:]
        )
    asked = any(volume.plan.apart for volume in volumes)
    return made._replace(
        backs=tuple(volume.plan for volume in volumes),
        volumes=tuple(placed[volume.label] for volume in volumes),
        assumed=tuple(dict.fromkeys(text for one in volumes for text in one.job.assumed)),
        compromises=tuple(compromises),
        alike=None if asked else _all_alike(volumes),
    )


def _offered(volumes: Sequence[Volume], could: Sequence[Volume]) -> tuple[Compromise, ...]:
    """What volumes may do without which the rest gain, where all are alike."""
    rest = without(volumes, could)
    if not rest.fits:
        return ()
    found = []
    for volume in could:
        with volume.faults():
            ways = ways_apart(volume, rest)
        found += [
            Compromise(volume.label, one.change, one.title, rest.common.title_pt) for one in ways
        ]
    return tuple(found)


def _apart(volume: Volume, ways: Sequence[Way]) -> PlannedVolume:
    """A volume in the first of its ways; as it would be by itself where there is none."""
    asked = bool(volume.plan.apart)
    if ways:
        texts, change = ways[0].texts, ways[0].change
        failing: tuple[Role, ...] = ()
    else:
        found = best_attempt((volume,))
        texts, failing, change = found.texts[0], found.failing[0], "alone"
    title = next(one for one in texts if one.role is Role.TITLE)
    largest_pt = title.shown.largest_pt
    alone = volume.alone or title
    return PlannedVolume(volume.label, texts, failing, alone, largest_pt, Apart(asked, change))


def _all_alike(volumes: Sequence[Volume]) -> Alike | None:
    """What all would have if none were set apart; None where that does not fit."""
    try:
        found = best_attempt(volumes)
    except JobError:  # no number of lines is open to all
        return None
    if not found.fits:
        return None
    title = next(one for one in found.texts[0] if one.role is Role.TITLE)
    shown = title.shown
    return Alike(shown.orientation, shown.reading, len(shown.lines), title.set_pt)


def _volumes(backs: Sequence[tuple[str, BackPlan]]) -> list[Volume]:
    """The backs, the title of each resolved."""
    volumes = []
    for number, (label, own) in enumerate(backs, 1):
        place = number if len(backs) > 1 else None
        with volume_fault(place):
            volumes.append(Volume(label, own, resolved_title(own), place))
    return volumes


def _pattern_of(made: Plan) -> Pattern:
    """What the next volume has to match, of a set that fits."""
    title = made.volumes[0].title
    height_mm = next(one.stands_mm for one in made.roles if one.role is Role.TITLE)
    return pattern_of_judged(title.judged, height_mm)


def title_alone(own: BackPlan) -> PlannedText:
    """A title as it is asked by itself, at the size asked for it."""
    text = leading_text(own.texts)
    standing = Standing(size_pt=size_asked_pt(own, text))
    judged = judged_in(own, text, standing, closed=False)
    zone = seats_of(own, judged.job, single=True)[0].zone
    known = own.height_mm is not None
    return PlannedText(text.role, text.text, judged.panel.number, zone if known else None, judged)


def _alone(own: BackPlan) -> Plan:
    found = title_alone(own)
    failing = () if found.fits else (found.role,)
    volume = PlannedVolume("", (found,), failing, found, found.shown.largest_pt)
    job = found.judged.job
    return Plan((own,), job, (volume,), _roles((found,), {}), found.shown.largest_pt, job.assumed)


def _alone_in_set(volume: Volume) -> Plan:
    """A volume of a set as it would be by itself."""
    with volume.faults():
        return _planned([("", volume.plan)])


def _are_alike(found: Sequence[Plan]) -> bool:
    """Whether backs planned by themselves stand as one set already, so that nothing is to solve."""
    traits = [[_traits_of(text) for text in one.volumes[0].texts] for one in found]
    return all(own == traits[0] for own in traits)


def _traits_of(text: PlannedText) -> tuple[object, ...]:
    """What all volumes of a set share of a text; its height to a thousandth of a millimetre."""
    shown = text.shown
    height_mm = text.stands_mm
    return (
        text.role,
        text.panel,
        shown.reading,
        len(shown.lines),
        shown.set_pt,
        leading_em(text.judged),
        None if height_mm is None else round(height_mm, 3),
    )


def _as_alone(asked: Sequence[Volume], found: Sequence[Plan]) -> Plan:
    """A set whose volumes are left as they are by themselves."""
    volumes = tuple(
        one.volumes[0]._replace(label=own.label) for own, one in zip(asked, found, strict=True)
    )
    least = min(volumes, key=lambda one: one.largest_pt)
    texts = volumes[0].texts
    heights = {one.role: one.stands_mm for one in texts}
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


def _on_labels(volume: Volume) -> Plan:
    """Planned as if every text stood on its own, then again with the labels that asks for."""
    own = volume.plan
    check_labels(own, volume.job)
    bare = best_attempt(_volumes([("", without_labels(own, volume.job))]), titles_only=False)
    title_pt = next(one.set_pt for one in bare.texts[0] if one.role is Role.TITLE)
    seats = [
        (
            seat,
            [one for one in bare.texts[0] if one.role in seat.roles],
            volume.job.rules.value(gap_row(seat)) * mm_from_pt(title_pt),
        )
        for seat in bare.common.seats
    ]
    labels = place_labels(own, volume.job, seats)
    turned = None
    if bare.turned:  # then all lines run as they did without labels
        way = bare.common.seats[0].orientation
        arrangement = Arrangement((volume,), titles_only=False, labels=labels)
        turned = {seat.key: way for seat in arrangement.seats_on(volume)}
    found = best_attempt((volume,), titles_only=False, first=turned, labels=labels)
    made = _plan_of(found._replace(turned=found.turned or bare.turned))
    shown = planned_labels(found.common.seats, found.texts[0], found.failing[0])
    return made._replace(labels=shown)


def _plan_of(found: Attempt) -> Plan:
    common = found.common
    lines = common.lines(Role.TITLE)
    volumes = tuple(
        _volume(asked, texts, failing, lines)
        for asked, texts, failing in zip(common.volumes, found.texts, found.failing, strict=True)
    )
    firsts = {one.role: one for texts in reversed(found.texts) for one in texts}
    in_order = tuple(firsts[role] for seat in common.seats for role in seat.roles)
    return Plan(
        backs=tuple(volume.plan for volume in common.volumes),
        job=common.volumes[0].job,
        volumes=volumes,
        roles=_roles(in_order, found.stands_mm),
        largest_pt=min(common.largest_pt, *(one.largest_pt for one in volumes)),
        assumed=tuple(dict.fromkeys(text for one in common.volumes for text in one.job.assumed)),
        turned=found.turned,
    )


def _volume(
    asked: Volume,
    texts: tuple[PlannedText, ...],
    failing: tuple[Role, ...],
    lines: int | None,
) -> PlannedVolume:
    title = next(one for one in texts if one.role is Role.TITLE)
    settings = asked.demands[Role.TITLE].settings
    own = [one.largest_pt for one in settings if one.lines == lines]
    largest_pt = own[0] if own else title.shown.largest_pt
    return PlannedVolume(asked.label, texts, failing, asked.alone or title, largest_pt)


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
