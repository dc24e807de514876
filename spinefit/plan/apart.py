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
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.text import JudgedText
from spinefit.plan.attempt import Attempt, attempt_of
from spinefit.plan.common import Arrangement, Volume
from spinefit.plan.model import BackPlan, BackText, Zone
from spinefit.plan.result import PlannedText
from spinefit.plan.seats import Seat
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
from spinefit.vocabulary import Orientation, Role

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
_NUMBERS = (Role.VOLUME, Role.DATE)
_LEAST_MM = 1.0  # less than any lettering
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
    title: PlannedText

    @property
    def size_pt(self) -> float:
        """Of the title."""
        return self.title.set_pt

    @property
    def orientation(self) -> Orientation:
        """Of the title."""
        return self.title.shown.orientation

    @property
    def lines(self) -> int:
        """Of the title."""
        return len(self.title.shown.lines)

    def of_role(self, role: Role) -> tuple[Volume, PlannedText] | None:
        """The first volume that has a text of that role, and the text."""
        pairs = zip(self.found.common.volumes, self.found.texts, strict=True)
        return next(((own, one) for own, all_ in pairs for one in all_ if one.role is role), None)

    def size_of(self, role: Role) -> float:
        """The size that a role has; a number that is part of the title has that of the title."""
        known = self.of_role(role)
        return self.size_pt if known is None else known[1].set_pt


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
    return _Others(alike, number_mm, title)


def _of_a_title(own: BackPlan, others: _Others) -> Iterator[Way]:
    """A title alone in the lines of the others, then in more where that is larger."""
    least_pt = 0.0
    for change, count in _numbers_of_lines(own, others):
        standing = Standing(
            orientation=others.orientation, lines=count, leading_em=_leading_em(others.title)
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


def _leading_em(one: PlannedText) -> float | None:
    return one.judged.asked.lettering.leading_em


def _fitting(
    own: BackPlan, text: BackText, standing: Standing, others: _Others
) -> PlannedText | None:
    """A text at the size of the others where that holds, else as advised; None where none fits.

    A title takes no more than is advised for it, unless a person set its volume apart.
    """
    of_set_pt = others.size_of(text.role)
    if own.apart or text.role is not Role.TITLE:
        judged = judged_in(own, text, standing._replace(size_pt=of_set_pt))
        alike = _at_set_height(own, text, judged, others)
        if alike.fits and not (text.role is Role.TITLE and alike.shown.tight):
            return alike
    advised = judged_in(own, text, standing)
    if not advised.fits:
        return None
    shown = advised.judgement.shown
    size_pt = min(shown.set_pt, of_set_pt)
    outright = standing._replace(lines=len(shown.lines), size_pt=size_pt)
    leading_em = _leading_em(others.title)
    if text.role is Role.TITLE and len(shown.lines) == others.lines and leading_em is not None:
        # Smaller letters on the same baselines, as guide lines ruled for the set have them.
        on_lines = outright._replace(leading_em=leading_em * of_set_pt / size_pt)
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
    known_text = others.of_role(text.role)
    alike = known_text and judged.shown.orientation is known_text[1].shown.orientation
    if wanted_mm is not None and judged.fits and alike:
        moved, breaches = at_height(own, text, judged, wanted_mm)
        if moved.fits and not breaches:
            judged = moved
    spine = judged.job.spine
    known = spine is not None and spine.height_mm is not None
    zone = lettered_zone(spine) if known and spine is not None else None
    return PlannedText(text.role, text.text, judged.panel.number, zone, judged)


def _of_texts(volume: Volume, others: _Others) -> Iterator[Way]:
    """Several texts in the seats of the others, at their sizes and heights where they can be."""
    texts = _in_their_seats(volume, others)
    if not texts:
        arrangement = others.found.common.arrangement
        found = attempt_of(arrangement._replace(volumes=(volume,)), at_most_pt=others.size_pt)
        if not found.fits:
            return
        texts = _like_the_set(volume, found.texts[0], others)
    way = Way("smaller", texts)
    same = len(way.title.shown.lines) == others.lines
    yield way if same else way._replace(change="broken")


def _in_their_seats(volume: Volume, others: _Others) -> tuple[PlannedText, ...]:
    """Every text in the stretch that its role has on the others; none where one does not fit."""
    texts = []
    for seat in _seats_on(volume):
        for text in seat.texts:
            standing = _their_standing(volume, text, seat, others)
            one = None if standing is None else _fitting(volume.plan, text, standing, others)
            if one is None:
                return ()
            texts.append(one._replace(panel=seat.panel))
    return _from_head(texts)


def _seats_on(volume: Volume) -> tuple[Seat, ...]:
    return Arrangement((volume,), titles_only=False).seats_on(volume)


def _from_head(texts: Iterable[PlannedText]) -> tuple[PlannedText, ...]:
    return tuple(sorted(texts, key=lambda one: one.zone or Zone(0, 0)))


def _their_standing(volume: Volume, text: BackText, seat: Seat, others: _Others) -> Standing | None:
    """Where and how the others have a text; None where they have none or here is no such place."""
    known = others.of_role(text.role)
    if known is None:
        return None
    there, one = known
    standing = Standing(
        panel=seat.panel,
        orientation=one.shown.orientation,
        lines=len(one.shown.lines),
        leading_em=_leading_em(one),
    )
    if seat.is_lone:
        return standing
    assert one.zone is not None  # several texts share a back of known height
    zone = one.zone.lower_by(volume.height_mm - there.height_mm)
    zone = Zone(max(zone.begins_mm, seat.zone.begins_mm), min(zone.ends_mm, seat.zone.ends_mm))
    return standing._replace(zone=zone) if zone.length_mm > _LEAST_MM else None


def _like_the_set(
    volume: Volume, texts: Sequence[PlannedText], others: _Others
) -> tuple[PlannedText, ...]:
    """Texts brought to the sizes and heights of the others within what is their own.

    A text that has a panel to itself takes what of it the others have.
    """
    own = {text.role: (text, seat) for seat in _seats_on(volume) for text in seat.texts}
    return tuple(_alike(volume, *own[one.role], one, others) for one in texts)


def _alike(
    volume: Volume, text: BackText, seat: Seat, one: PlannedText, others: _Others
) -> PlannedText:
    standing = _their_standing(volume, text, seat, others)
    if seat.is_lone and one.role is not Role.TITLE and standing is not None:
        alike = _fitting(volume.plan, text, standing, others)
        return one if alike is None else alike._replace(panel=seat.panel)
    wanted_mm = others.found.stands_mm.get(one.role)
    if wanted_mm is None:
        return one
    judged, breaches = at_height(volume.plan, text, one.judged, wanted_mm)
    return one._replace(judged=judged) if judged.fits and not breaches else one


def _along(volume: Volume, others: _Others) -> Iterator[Way]:
    """The title along the back, number and date across beside it where there is room for all."""
    rest, numbers = _numbers_aside(volume.plan, others)
    placed = [
        one
        for number, wanted_mm in numbers
        if (one := _number_across(volume.plan, number, others, wanted_mm)) is not None
    ]
    across = {one.role for one in placed}
    back = [number for number, _ in numbers if number.role not in across]
    if across and not (back and volume.plan.is_single) and rest.spine is not None:
        room = _beside(volume, [one.zone for one in placed if one.zone], others.size_pt)
        spine = spine_in(rest.spine, zone=room)
        texts = _all_along(replace(rest, spine=spine, texts=(*rest.texts, *back)), others)
        if texts:
            yield Way("along", _from_head((*texts, *placed)))
            return
    texts = _all_along(volume.plan, others)
    if texts:
        yield Way("along", texts)


def _numbers_aside(own: BackPlan, others: _Others) -> tuple[BackPlan, list[tuple[BackText, float]]]:
    """The texts without volume and date where the others have these across, and at what heights.

    A title's last line may be the number. Between bands every text has its own panel, and there is
    nothing to set aside.
    """
    if not own.is_single:
        if own.has_bands:
            return own, []
        aside = [
            (text, wanted_mm)
            for text in own.texts
            if text.role in _NUMBERS
            and (known := others.of_role(text.role)) is not None
            and known[1].shown.orientation is ACROSS
            and (wanted_mm := others.found.stands_mm.get(text.role)) is not None
        ]
        roles = {text.role for text, _ in aside}
        return replace(own, texts=tuple(one for one in own.texts if one.role not in roles)), aside
    (title,) = own.texts
    words, _break, last = title.text.rpartition(" / ")
    is_number = words and own.slash_breaks and _NUMBER.search(last) is not None
    if not is_number or others.number_mm is None:
        return own, []
    number = replace(title, role=Role.VOLUME, text=last)
    return replace(own, texts=(replace(title, text=words),)), [(number, others.number_mm)]


def _number_across(
    own: BackPlan, number: BackText, others: _Others, wanted_mm: float
) -> PlannedText | None:
    """The number in one line across at a height; None where it does not fit there."""
    of_set_pt = others.size_of(number.role)
    standing = Standing(orientation=ACROSS, lines=1, size_pt=of_set_pt)
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
    if zone.length_mm <= 2 * clear_mm or size_pt > of_set_pt:
        return None
    middle_mm = None if own.has_bands else zone.middle_mm
    own_zone = standing._replace(size_pt=size_pt, zone=zone, middle_mm=middle_mm)
    judged = judged_in(own, number, own_zone)
    if not judged.fits:
        return None
    return PlannedText(number.role, number.text, judged.panel.number, zone, judged)


def _beside(volume: Volume, taken: Sequence[Zone], size_pt: float) -> Zone:
    """The longest of the stretches above, between and below what numbers take."""
    job = volume.job
    assert job.spine is not None  # a number stands on a back
    whole = lettered_zone(job.spine)
    gap_mm = _gap_mm(job, size_pt) / 2  # the other half is the number's own
    begins = [whole.begins_mm, *(one.ends_mm + gap_mm for one in sorted(taken))]
    ends = [*(one.begins_mm - gap_mm for one in sorted(taken)), whole.ends_mm]
    return max(map(Zone, begins, ends), key=lambda one: one.length_mm)


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
    return _like_the_set(volume, found.texts[0], others) if found.fits else ()
