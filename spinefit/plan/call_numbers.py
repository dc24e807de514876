"""Where do call numbers stand, and what do they leave of their backs to all other texts?

In: backs, some of whose texts are call numbers. Out: every number where its house has it, as wide
and high as its own lines, in one size on all backs; and the backs without them, whose other texts
are planned on what is left. A number is seated first: it has a size and a place of its own, and
gives way to no title. Between bands it has the panel at the tail to itself (common practice).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import FieldError
from spinefit.plan.checks import volume_fault
from spinefit.plan.model import BackPlan, BackText, Zone
from spinefit.plan.result import Plan, PlannedRole, PlannedText, PlannedVolume
from spinefit.plan.seats import panels_of
from spinefit.plan.standing import (
    Standing,
    judged_in,
    lettered_zone,
    resolved_title,
    size_asked_pt,
)
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Role

_LEAST_LEFT_MM = 1.0  # less than any lettering: what stands there does not fit

Backs = Sequence[tuple[str, BackPlan]]


class Seated(NamedTuple):
    """Call numbers where they stand.

    Attributes:
        asked: the backs as they were asked about.
        numbers: the call number of each, or None.
        rest: the backs with what is left of them to their other texts.
    """

    asked: Backs
    numbers: tuple[PlannedText | None, ...]
    rest: Backs

    def beside(self, found: Plan) -> Plan:
        """The plan of all other texts with the call numbers in their places."""
        if not any(self.numbers):
            return found
        volumes = tuple(map(_with_number, found.volumes, self.numbers))
        first = next(one for one in self.numbers if one is not None)
        heights = {one.stands_mm for one in self.numbers if one is not None}
        shown = first.shown
        role = PlannedRole(
            role=Role.CALL_NUMBER,
            panel=first.panel,
            orientation=shown.orientation,
            reading=shown.reading,
            lines=len(shown.lines),
            set_pt=first.set_pt,
            stands_mm=first.stands_mm if len(heights) == 1 else None,
        )
        own = (text for one in self.numbers if one is not None for text in one.judged.job.assumed)
        of_numbers = [text for text in own if text.startswith("call number: ")]
        return found._replace(
            backs=tuple(own for _label, own in self.asked),
            volumes=volumes,
            roles=(*found.roles, role),
            assumed=tuple(dict.fromkeys((*found.assumed, *of_numbers))),
        )


def seat_call_numbers(backs: Backs) -> Seated:
    """Every call number in its place, and the backs without them.

    Args:
        backs: label and texts of each, checked. A call number alone is asked as a title is.

    Raises:
        SpinefitError: a number that cannot be broken or placed as was asked.
    """
    plans = [own for _label, own in backs]
    texts = [None if own.is_single else _number_of(own) for own in plans]
    if not any(texts):
        return Seated(backs, (None,) * len(backs), backs)
    numbers: list[PlannedText | None] = []
    for at, (own, text) in enumerate(zip(plans, texts, strict=True), 1):
        with volume_fault(at if len(plans) > 1 else None):
            numbers.append(None if text is None else _placed(own, text))
    fitting = [one.set_pt for one in numbers if one is not None and one.fits]
    if len(set(fitting)) > 1:  # one size on the whole shelf
        numbers = [
            _placed(own, replace(text, size_pt=min(fitting)))
            if text is not None and one is not None and one.fits
            else one
            for own, text, one in zip(plans, texts, numbers, strict=True)
        ]
    rest = []
    for at, ((label, own), one) in enumerate(zip(backs, numbers, strict=True), 1):
        with volume_fault(at if len(plans) > 1 else None):
            rest.append((label, own if one is None else _without(own, one)))
    return Seated(backs, tuple(numbers), rest)


def _number_of(plan: BackPlan) -> BackText | None:
    return next((text for text in plan.texts if text.role is Role.CALL_NUMBER), None)


def _placed(plan: BackPlan, text: BackText) -> PlannedText:
    """A call number where it stands on its back, by itself."""
    own = replace(plan, texts=(text,), lettering=replace(plan.lettering, orientation=None))
    if own.spine is not None:  # what was said of the title's place is not the number's
        own = replace(own, spine=replace(own.spine, title_panel=None, from_head_mm=None))
    judged = judged_in(own, text, Standing(size_pt=size_asked_pt(plan, text)))
    spine, panel = judged.job.spine, judged.panel.number
    assert spine is not None  # several texts need a back
    zone, spare = lettered_zone(spine), judged.shown.spare_mm
    if panel is None:  # what it takes up, a label's margin with it
        head_mm, tail_mm = (max(0.0, each or 0.0) for each in (spare.head, spare.tail))
        zone = Zone(zone.begins_mm + head_mm, zone.ends_mm - tail_mm)
    return PlannedText(text.role, text.text, panel, zone, judged)


def _without(plan: BackPlan, number: PlannedText) -> BackPlan:
    """The back with what the number leaves to its other texts; all of it where it does not fit."""
    texts = tuple(text for text in plan.texts if text.role is not Role.CALL_NUMBER)
    rest = replace(plan, texts=texts)
    if not number.fits:
        return rest
    if number.panel is not None:
        return replace(rest, texts=_moved(rest, number.panel))
    spine, zone = plan.spine, number.zone
    assert spine is not None and spine.height_mm is not None and zone is not None
    job = number.judged.job
    gap_mm = job.rules.value("call_number.gap_em") * mm_from_pt(number.set_pt)
    own = resolved_title(rest).spine
    assert own is not None  # it stands on the same back
    most_mm = spine.height_mm - own.head_mm - own.foot_mm - _LEAST_LEFT_MM
    if job.call_number is not None and job.call_number.at_head:
        head_mm = min(zone.ends_mm + gap_mm, own.head_mm + most_mm)
        return replace(rest, spine=replace(spine, head_mm=max(own.head_mm, head_mm)))
    foot_mm = min(spine.height_mm - zone.begins_mm + gap_mm, own.foot_mm + most_mm)
    return replace(rest, spine=replace(spine, foot_mm=max(own.foot_mm, foot_mm)))


def _moved(plan: BackPlan, taken: int) -> tuple[BackText, ...]:
    """The other texts between bands, none in the number's panel: custom's moves towards the head.

    Raises:
        FieldError: a text was given that panel.
    """
    for text in plan.texts:
        if text.panel == taken:
            raise FieldError(
                "the call number has its panel to itself",
                value=taken,
                where=f"the {text.role}: panel",
                remedy="give one of the two another panel",
            )
    panels = panels_of(plan, resolved_title(plan), plan.bands + 1)
    other = taken - 1 or taken + 1
    return tuple(
        replace(text, panel=other) if panels[text.role] == taken else text for text in plan.texts
    )


def _with_number(volume: PlannedVolume, number: PlannedText | None) -> PlannedVolume:
    """A back with its call number among its texts, from head to tail."""
    if number is None:
        return volume
    first = volume.texts[0].zone
    assert number.zone is not None  # it has a back of known height
    leads = first is not None and number.zone.begins_mm < first.begins_mm
    texts = (number, *volume.texts) if leads else (*volume.texts, number)
    failing = volume.failing if number.fits else (*volume.failing, Role.CALL_NUMBER)
    return volume._replace(texts=texts, failing=failing)
