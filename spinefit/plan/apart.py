"""What does a volume of a set do that goes its own way?

In: the volume, and the others lettered alike. Out: the `Way`s that fit, the one taken first:
in the lines of the others and on their baselines, in more lines, or with its title along the back
and its number still across at the height where the others have theirs. Never larger than they.
Across is kept down to rules.toml sets.smallest_share of their size; below that the larger of
across and along is taken. Sizes in points, heights in mm from the tail, zones in mm from the head.
Source: Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115; the rest is practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.text import JudgedText
from spinefit.plan.attempt import Attempt, attempt_of
from spinefit.plan.common import Arrangement, Volume
from spinefit.plan.model import BackPlan, BackText, Role, Zone
from spinefit.plan.result import PlannedText
from spinefit.plan.standing import (
    Standing,
    at_height,
    judged_in,
    leading_text,
    lettered_zone,
    resolved_title,
    spine_in,
)
from spinefit.tolerances import SAME_PT
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation

__all__ = ["Way", "ways_apart"]

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
_NUMBER = re.compile(r"\d|\b[IVXLCDM]+\b")


class Way(NamedTuple):
    """One way in which a volume that is set apart fits.

    Attributes:
        change: smaller (in the lines of the others), broken (into other lines) or along.
        texts: from head to tail; a number that was part of the title is a text of its own where
            the title runs along the back.
    """

    change: str
    texts: tuple[PlannedText, ...]

    @property
    def title(self) -> PlannedText:
        """Its title."""
        return next(one for one in self.texts if one.role is Role.TITLE)


class _Others(NamedTuple):
    """How the volumes are lettered that are alike; their number stands at ``number_mm``."""

    found: Attempt
    number_mm: float | None
    size_pt: float
    lines: int
    orientation: Orientation
    leading_em: float | None


def ways_apart(volume: Volume, alike: Attempt) -> tuple[Way, ...]:
    """The ways that fit, the one that is taken first.

    Args:
        volume: that goes its own way.
        alike: the others.
    """
    others = _others(alike)
    if volume.plan.is_single:
        found = [*_of_a_title(volume.plan, others)]
    else:
        found = [*_of_texts(volume, others)]
    least_pt = volume.job.rules.value("sets.smallest_share") * others.size_pt - SAME_PT
    first = next((one for one in found if one.title.set_pt >= least_pt), None)
    if others.orientation is ACROSS:
        found += _along(volume, others)
    if first is None and found:
        first = max(found, key=lambda one: one.title.set_pt)
    return tuple(sorted(found, key=lambda one: one is not first))


def _others(alike: Attempt) -> _Others:
    title = next(one for one in alike.texts[0] if one.role is Role.TITLE)
    number_mm = alike.stands_mm.get(Role.VOLUME)
    height_mm = alike.stands_mm.get(Role.TITLE)
    if alike.common.arrangement.titles_only and height_mm is not None:
        baselines = title.shown.baselines_mm
        number_mm = height_mm + baselines[-1] - baselines[0] if baselines else None
    shown, leading_em = title.shown, title.judged.asked.lettering.leading_em
    lines, way = len(shown.lines), shown.orientation
    return _Others(alike, number_mm, title.set_pt, lines, way, leading_em)


def _of_a_title(own: BackPlan, others: _Others) -> Iterator[Way]:
    """A title alone in the lines of the others, then in more where that is larger."""
    least_pt = 0.0
    for change, count in _numbers_of_lines(own, others):
        standing = Standing(
            orientation=others.orientation, lines=count, leading_em=others.leading_em
        )
        text = _fitting(own, own.texts[0], standing, others)
        if text is not None and text.set_pt > least_pt:
            least_pt = text.set_pt
            yield Way(change, (text,))
            if change == "broken":
                break


def _numbers_of_lines(own: BackPlan, others: _Others) -> list[tuple[str, int]]:
    """The number of the others, where its title has so many, then greater ones.

    Of the greater ones that of the largest size comes first.
    """
    judged = judged_in(own, own.texts[0], Standing(orientation=others.orientation))
    listed = [one for one in judged.judgement.judged if not one.over_bands]
    wanted = others.lines
    same = any(len(one.lines) == wanted for one in listed)
    sizes = {len(one.lines): one.set_pt for one in listed if one.fits and len(one.lines) > wanted}
    more = sorted(sizes, key=lambda at: (-sizes[at], at))
    return [("smaller", wanted)] * same + [("broken", count) for count in more]


def _fitting(
    own: BackPlan, text: BackText, standing: Standing, others: _Others
) -> PlannedText | None:
    """A text at the size it is advised so, at most that of the others; None where none fits."""
    advised = judged_in(own, text, standing)
    if not advised.fits:
        return None
    shown = advised.judgement.shown
    size_pt = min(shown.set_pt, others.size_pt)
    outright = standing._replace(lines=len(shown.lines), size_pt=size_pt)
    if len(shown.lines) == others.lines and others.leading_em is not None:
        # Smaller letters on the same baselines, as guide lines ruled for the set have them.
        on_lines = outright._replace(leading_em=others.leading_em * others.size_pt / size_pt)
        found = _at_set_height(own, text, judged_in(own, text, on_lines), others)
        if found.fits:
            return found
    found = _at_set_height(own, text, judged_in(own, text, outright), others)
    return found if found.fits else None


def _at_set_height(
    own: BackPlan, text: BackText, judged: JudgedText, others: _Others
) -> PlannedText:
    """A text at the height that its role has on the others, or where it stands by itself."""
    wanted_mm = others.found.stands_mm.get(text.role)
    alike = judged.shown.orientation is others.orientation
    if wanted_mm is not None and judged.fits and alike:
        moved, breaches = at_height(own, text, judged, wanted_mm)
        if moved.fits and not breaches:
            judged = moved
    spine = judged.job.spine
    known = spine is not None and spine.height_mm is not None
    zone = lettered_zone(spine) if known and spine is not None else None
    return PlannedText(text.role, text.text, judged.panel.number, zone, judged)


def _of_texts(volume: Volume, others: _Others) -> Iterator[Way]:
    """Several texts in the seats of the others, at their heights where they can be."""
    arrangement = others.found.common.arrangement
    found = attempt_of(arrangement._replace(volumes=(volume,)), at_most_pt=others.size_pt)
    if not found.fits:
        return
    own = {text.role: text for text in volume.plan.texts}
    texts = tuple(
        _raised(volume.plan, own[one.role], one, others.found.stands_mm.get(one.role))
        for one in found.texts[0]
    )
    way = Way("smaller", texts)
    same = len(way.title.shown.lines) == others.lines
    yield way if same else way._replace(change="broken")


def _raised(
    own: BackPlan, text: BackText, one: PlannedText, wanted_mm: float | None
) -> PlannedText:
    """A text brought to a height within its zone, or left where it cannot be."""
    if wanted_mm is None:
        return one
    judged, breaches = at_height(own, text, one.judged, wanted_mm)
    return one._replace(judged=judged) if judged.fits and not breaches else one


def _along(volume: Volume, others: _Others) -> Iterator[Way]:
    """The title along the back, its number across beside it where there is room for both."""
    rest, number = _number_aside(volume.plan)
    if number is not None and others.number_mm is not None:
        placed = _number_across(volume.plan, number, others, others.number_mm)
        if placed is not None:
            assert placed.zone is not None and rest.spine is not None  # it stands on a back
            room = _beside(volume, placed.zone, others.size_pt)
            texts = _all_along(replace(rest, spine=spine_in(rest.spine, zone=room)), others)
            if texts:
                in_order = sorted((*texts, placed), key=lambda one: one.zone or Zone(0, 0))
                yield Way("along", tuple(in_order))
                return
    texts = _all_along(volume.plan, others)
    if texts:
        yield Way("along", texts)


def _number_aside(own: BackPlan) -> tuple[BackPlan, BackText | None]:
    """The texts without the volume's number, and that; a title's last line may be the number.

    Between bands every text has its own panel, and there is nothing to set aside.
    """
    if not own.is_single:
        number = next((text for text in own.texts if text.role is Role.VOLUME), None)
        if own.has_bands or number is None:
            return own, None
        return replace(own, texts=tuple(one for one in own.texts if one is not number)), number
    (title,) = own.texts
    words, _break, last = title.text.rpartition(" / ")
    if not words or not own.slash_breaks or _NUMBER.search(last) is None:
        return own, None
    number = replace(title, role=Role.VOLUME, text=last)
    return replace(own, texts=(replace(title, text=words),)), number


def _number_across(
    own: BackPlan, number: BackText, others: _Others, wanted_mm: float
) -> PlannedText | None:
    """The number in one line across at a height; None where it does not fit there."""
    standing = Standing(orientation=ACROSS, lines=1, size_pt=others.size_pt)
    judged = judged_in(own, number, standing)
    if not judged.fits:
        judged = judged_in(own, number, standing._replace(size_pt=None))
    if not judged.fits or judged.job.spine is None:
        return None
    size_pt = judged.shown.set_pt
    judged, breaches = at_height(own, number, judged, wanted_mm)
    spare, clear_mm = judged.shown.spare_mm, judged.job.lettering.clearance_mm
    if breaches or judged.job.spine is None or spare.head is None or spare.tail is None:
        return None
    whole = lettered_zone(judged.job.spine)
    room_mm = min(_gap_mm(judged.job, others.size_pt) / 2, spare.head, spare.tail)
    zone = Zone(whole.begins_mm + spare.head - room_mm, whole.ends_mm - spare.tail + room_mm)
    if zone.length_mm <= 2 * clear_mm or size_pt > others.size_pt:
        return None
    middle_mm = None if own.has_bands else zone.middle_mm
    own_zone = standing._replace(size_pt=size_pt, zone=zone, middle_mm=middle_mm)
    judged = judged_in(own, number, own_zone)
    if not judged.fits:
        return None
    return PlannedText(number.role, number.text, judged.panel.number, zone, judged)


def _beside(volume: Volume, taken: Zone, size_pt: float) -> Zone:
    """The longer of the stretches above and below what the number takes."""
    job = volume.job
    assert job.spine is not None  # a number stands on a back
    whole = lettered_zone(job.spine)
    gap_mm = _gap_mm(job, size_pt) / 2  # the other half is the number's own
    above = Zone(whole.begins_mm, taken.begins_mm - gap_mm)
    below = Zone(taken.ends_mm + gap_mm, whole.ends_mm)
    return max(above, below, key=lambda one: one.length_mm)


def _gap_mm(job: ResolvedJob, size_pt: float) -> float:
    return job.rules.value("plan.gap_along_em") * mm_from_pt(size_pt)


def _all_along(own: BackPlan, others: _Others) -> tuple[PlannedText, ...]:
    """Every text along the back, between bands the title alone; none where they do not fit."""
    if own.is_single:
        text = _fitting(own, own.texts[0], Standing(orientation=ALONG), others)
        return () if text is None else (text,)
    volume = Volume("", own, resolved_title(own))
    arrangement = Arrangement((volume,), titles_only=False)
    set_has = others.found.common.arrangement.directions
    directions = {
        seat.key: ALONG
        if seat.panel is None or leading_text(seat.texts).role is Role.TITLE
        else set_has.get(seat.key, ACROSS)
        for seat in arrangement.seats_on(volume)
    }
    found = attempt_of(arrangement._replace(directions=directions), at_most_pt=others.size_pt)
    return found.texts[0] if found.fits else ()
