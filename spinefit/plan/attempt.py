"""What comes of it if the lines run so?

In: backs, and which way the lines of each seat run. Out: an `Attempt`: what their texts ask, the
sizes that all can have, and every text judged where it then stands, brought to one height over
the shelf on all backs. Lengths in mm, sizes in points.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from spinefit.judgement.opening import opened_leading_em
from spinefit.judgement.text import JudgedText
from spinefit.plan.common import Arrangement, Common, Volume, common_of, common_of_fitting
from spinefit.plan.demand import demand_of
from spinefit.plan.labels import plan_on
from spinefit.plan.model import BackText, Zone
from spinefit.plan.result import PlannedText
from spinefit.plan.seats import Seat
from spinefit.plan.sharing import BY_WEIGHT, gap_mm_at, wanted_gap_mm_at, zones_for
from spinefit.plan.standing import (
    Standing,
    at_height,
    common_height_mm,
    judged_in,
    reach_of,
    size_asked_pt,
    title_from_head_mm,
)
from spinefit.vocabulary import Orientation, Role

_LOWER = 0.97  # what the arithmetic grants and a judgement refuses is tried again so much smaller
_TRIES = 8


class Attempt(NamedTuple):
    """One way of planning all backs, every text judged where it stands.

    Attributes:
        common: what the arithmetic found.
        texts: of each back, from head to tail.
        stands_mm: for each role its height from the tail; None where it has none in common.
        turned: True where the lines run otherwise than the titles alone would.
    """

    common: Common
    texts: tuple[tuple[PlannedText, ...], ...]
    stands_mm: Mapping[Role, float | None]
    turned: bool = False

    @property
    def failing(self) -> tuple[tuple[Role, ...], ...]:
        """For each back the roles that find no room on it, in the order in which they matter."""
        out = frozenset(self.common.demands) - self.common.with_room
        if self.common.arrangement.titles_only:
            out = frozenset()  # one text finds room or not by its own judgement
        own = [
            {one.role for one in texts if not one.fits or one.role in out} for texts in self.texts
        ]
        return tuple(tuple(role for role in BY_WEIGHT if role in roles) for roles in own)

    @property
    def old_shows(self) -> bool:
        """Whether old lettering would show somewhere, which no smaller size mends."""
        over = (one.shown.over_old for texts in self.texts for one in texts)
        return any(one is not None and one.misfit is not None for one in over)

    @property
    def fits(self) -> bool:
        """Whether every text of every back finds room."""
        return not any(self.failing)


class _Trial(NamedTuple):
    """A text of a back, judged alone in all of the seat that all volumes give its role."""

    text: BackText
    seat: Seat
    standing: Standing
    judged: JudgedText


def attempt_of(arrangement: Arrangement, *, at_most_pt: float | None = None) -> Attempt:
    """All texts planned with their lines running so.

    Args:
        arrangement: the backs, and which way their lines run; what is asked is found out.
        at_most_pt: the most the title may be, in points.
    """
    asked, leadings = _with_demands(arrangement)
    for _ in range(_TRIES):
        common = common_of(asked, at_most_pt=at_most_pt)
        if not common.is_complete:
            if len(asked.volumes) > 1:
                common = common_of_fitting(common)
            return _judged(common, leadings)
        found = _judged(common, leadings)
        fixed = common.demands[Role.TITLE].text.size_pt is not None
        if found.fits or fixed or found.old_shows:
            return found
        at_most_pt = _LOWER * common.title_pt
    return found


def _with_demands(arrangement: Arrangement) -> tuple[Arrangement, dict[Role, float | None]]:
    """Every back with what its texts ask, and for each role the leading that serves all."""
    trials = []
    for volume in arrangement.volumes:
        with volume.faults():
            trials.append(list(_trials(arrangement, volume)))
    leadings: dict[Role, float | None] = {}
    for each in (each for own in trials for each in own):
        role = each.text.role
        known = [em for em in (leadings.get(role), leading_em(each.judged)) if em is not None]
        leadings[role] = max(known, default=None)
    alone = len(arrangement.volumes) == 1
    volumes = []
    for volume, own in zip(arrangement.volumes, trials, strict=True):
        with volume.faults():
            demands = {
                each.text.role: demand_of(
                    volume.plan,
                    each.text,
                    _judged_with_leading(arrangement, volume, each, leadings[each.text.role]),
                    each.seat.orientation,
                    leads=alone and each.seat.is_lone and each.text.role is Role.TITLE,
                )
                for each in own
            }
        volumes.append(volume._replace(demands=demands))
    asked = arrangement._replace(volumes=tuple(volumes))
    return asked, dict.fromkeys(leadings) if alone else leadings


def _trials(arrangement: Arrangement, volume: Volume) -> Iterator[_Trial]:
    """Every text of a back, tried."""
    own = {text.role: text for text in volume.plan.texts}
    reading = volume.job.lettering.reading
    for bare in arrangement.seats_on(volume):
        seat = bare.running(arrangement.directions[bare.key], reading)
        for text in (own[role] for role in bare.roles if role in own):
            standing = Standing(
                seat.panel,
                seat.room,
                orientation=seat.orientation,
                size_pt=size_asked_pt(volume.plan, text),
            )
            back = plan_on(volume.plan, volume.job, seat.label)
            judged = judged_in(back, text, standing)
            yield _Trial(text, seat, standing, judged)


def _judged_with_leading(
    arrangement: Arrangement, volume: Volume, trial: _Trial, common_em: float | None
) -> JudgedText:
    """The text of a trial, judged again where the leading of all volumes is another."""
    if common_em is None or leading_em(trial.judged) == common_em:
        return trial.judged
    back = plan_on(volume.plan, volume.job, trial.seat.label)
    return judged_in(back, trial.text, trial.standing._replace(leading_em=common_em))


def leading_em(judged: JudgedText) -> float | None:
    """The distance of baselines that a text's lines have, in em; None for lines alone."""
    leadings = (one.leading_em for one in judged.judgement.judged)
    return next((em for em in leadings if em is not None), None)


def _judged(common: Common, leadings: Mapping[Role, float | None]) -> Attempt:
    """Every text in its zone, then brought to the height that it has on all backs."""
    texts: dict[str, list[PlannedText]] = {volume.label: [] for volume in common.volumes}
    heights: dict[Role, float | None] = {}
    for seat in common.seats:
        for role, zone, middle_mm in _zones(common, seat):
            lines = common.lines(role)
            standing = Standing(
                panel=seat.panel,
                zone=zone,
                middle_mm=middle_mm,
                orientation=seat.orientation,
                size_pt=common.size_pt(role),
                lines=lines,
                leading_em=leadings[role] if lines is None or lines > 1 else None,
            )
            placed = _placed_on_all(common, role, seat, standing)
            heights[role], found = _aligned(common, placed, lone=seat.is_lone)
            for (volume, _each), one in zip(placed, found, strict=True):
                texts[volume.label].append(one)
    return Attempt(common, tuple(map(tuple, texts.values())), heights)


def _placed_on_all(
    common: Common, role: Role, seat: Seat, standing: Standing
) -> list[tuple[Volume, PlannedText]]:
    """A role where it stands on every back that has it.

    Lines that have a panel to themselves open as far as they can on all backs.
    """
    own = [volume for volume in common.volumes if role in volume.demands]
    found = [(volume, _placed(common, volume, role, seat, standing)) for volume in own]
    if not seat.is_lone or not all(one.judged.fits for _volume, one in found):
        return found
    asked_em = common.volumes[0].plan.lettering.leading_em
    free = [
        one.judged.job._replace(lettering=one.judged.job.lettering._replace(leading_em=asked_em))
        for _volume, one in found
    ]
    opened = [
        opened_leading_em(job, one.judged.panel, one.shown)
        for job, (_volume, one) in zip(free, found, strict=True)
    ]
    known = [em for em in opened if em is not None]
    if len(known) < len(found) or not found:
        return found
    wider = standing._replace(leading_em=min(known))
    again = [(volume, _placed(common, volume, role, seat, wider)) for volume in own]
    return again if all(one.fits for _volume, one in again) else found


def _zones(common: Common, seat: Seat) -> Iterator[tuple[Role, Zone | None, float | None]]:
    """Zone and middle of each role, in mm from the head of the lowest back.

    Both None for a text that has all of its panel or back: it stands there as if alone.
    """
    if seat.is_lone:
        yield seat.roles[0], None, None
        return
    job, title_pt = common.arrangement.lowest.job, common.title_pt
    zones = zones_for(
        seat,
        common.needs_mm(seat),
        gap_mm=gap_mm_at(job, seat, title_pt),
        wanted_gap_mm=wanted_gap_mm_at(job, seat, title_pt),
        sliver_mm=common.demands[Role.TITLE].sliver_mm,
        title_from_head_mm=title_from_head_mm(job),
    )
    across = seat.orientation is Orientation.TRANSVERSE
    on_label = seat.label is not None and seat.panel is None and across
    for role in seat.roles:
        zone, middle_mm = zones[role]
        yield role, zone, middle_mm if seat.hangs or on_label else None


def _placed(
    common: Common, volume: Volume, role: Role, seat: Seat, standing: Standing
) -> PlannedText:
    """A text of one back, judged where it stands there."""
    text = volume.demands[role].text
    if standing.zone is None:
        zone: Zone | None = _zone_alone(common, volume, seat)
        stands = standing
    else:
        higher_mm = volume.height_mm - common.arrangement.lowest.height_mm
        zone = standing.zone.lower_by(higher_mm)
        middle_mm = standing.middle_mm
        stands = standing._replace(
            zone=_room(volume, seat, zone),
            middle_mm=None if middle_mm is None else middle_mm + higher_mm,
        )
    with volume.faults():
        judged = judged_in(plan_on(volume.plan, volume.job, seat.label), text, stands)
    panel = judged.panel.number if common.arrangement.titles_only else seat.panel
    return PlannedText(role, text.text, panel, zone, judged, text.label)


def _zone_alone(common: Common, volume: Volume, seat: Seat) -> Zone | None:
    """All of its panel, or of the back; None where no height is known."""
    if volume.plan.height_mm is None:
        return None
    seats = common.arrangement.seats_on(volume)
    return next(each.zone for each in seats if each.panel == seat.panel)


def _room(volume: Volume, seat: Seat, zone: Zone) -> Zone:
    """What a text is judged in; on a label its zone is of its ink, without the clearance."""
    if seat.label is None:
        return zone
    clear_mm = volume.job.lettering.clearance_mm
    return Zone(zone.begins_mm - clear_mm, zone.ends_mm + clear_mm)


def _aligned(
    common: Common, placed: Sequence[tuple[Volume, PlannedText]], *, lone: bool
) -> tuple[float | None, list[PlannedText]]:
    """One role on all backs at one height, and that height; None where it is not known."""
    texts = [one for _volume, one in placed]
    if len(common.volumes) == 1:
        return texts[0].stands_mm, texts
    # What does not fit by itself does not say where the others stand.
    guides = [each for each in placed if each[1].judged.fits] or list(placed)
    reaches = [reach_of(one.judged.job, one.shown) for _volume, one in guides]
    known = [reach for reach in reaches if reach is not None]
    if len(known) < len(guides):
        return None, texts
    wanted_mm = common_height_mm(known, _natural_mm(common, guides, lone=lone), texts[0].set_pt)
    found = []
    for volume, one in placed:
        with volume.faults():
            judged, breaches = at_height(
                volume.plan, volume.demands[one.role].text, one.judged, wanted_mm
            )
        found.append(one._replace(judged=judged, breaches=breaches if judged.fits else ()))
    return wanted_mm, found


def _natural_mm(
    common: Common, placed: Sequence[tuple[Volume, PlannedText]], *, lone: bool
) -> float | None:
    """The height at which a role would stand on the lowest back; None where any is as good.

    Lines across a back without bands have such a height; a text that has all of its panel, or
    runs along all of the back, stands midway of what is possible.
    """
    first = placed[0][1]
    over_old = any(one.shown.over_old is not None for _volume, one in placed)
    if lone and not over_old:
        banded = any(one.plan.has_bands for one in common.volumes)
        if banded or first.shown.orientation is not Orientation.TRANSVERSE:
            return None
        first = min(placed, key=lambda one: one[0].height_mm)[1]
    return first.stands_mm
