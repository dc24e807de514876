"""What comes of it if the lines run so?

In: backs, and which way the lines of each seat run. Out: an `Attempt`: what their texts ask, the
sizes that all can have, and every text judged where it then stands, brought to one height over
the shelf on all backs. Lengths in mm, sizes in points.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from spinefit.judgement.text import JudgedText
from spinefit.plan.checks import volume_fault
from spinefit.plan.common import Asked, Common, Ways, common_of, of_the_able, union_plan
from spinefit.plan.demand import demand_of
from spinefit.plan.heights import at_height, common_height_mm, reach_of, stands_mm
from spinefit.plan.labels import plan_on
from spinefit.plan.model import BackPlan, BackText, Role, Zone
from spinefit.plan.result import PlannedText
from spinefit.plan.seats import SharedLabel, Stretch, seats_of
from spinefit.plan.sizes import BY_WEIGHT, gap_mm_at, wanted_gap_mm_at
from spinefit.plan.standing import Standing, judged_in, title_from_head_mm
from spinefit.plan.zones import zones_for
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation

__all__ = ["Attempt", "attempt_of", "leading_em"]

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
        out = frozenset(self.common.demands) - self.common.kept
        if self.common.single:
            out = frozenset()  # one text finds room or not by its own judgement
        own = [
            {one.role for one in texts if not one.fits or one.role in out} for texts in self.texts
        ]
        return tuple(tuple(role for role in BY_WEIGHT if role in roles) for roles in own)

    @property
    def fits(self) -> bool:
        """Whether every text of every back finds room."""
        return not any(self.failing)


def attempt_of(
    volumes: Sequence[Asked],
    ways: Ways,
    *,
    single: bool,
    labels: Mapping[str, SharedLabel] | None = None,
) -> Attempt:
    """All texts planned with their lines running these ways.

    Args:
        volumes: the backs.
        ways: which way the lines run, by seat.
        single: True where every back has but a title.
        labels: the labels that the texts of one back share.
    """
    asked, leadings = _asking(volumes, ways, single=single, labels=labels)
    at_most_pt: float | None = None
    for _ in range(_TRIES):
        common = common_of(asked, ways, single=single, labels=labels, at_most_pt=at_most_pt)
        if not common.is_complete:
            if labels is None and len(volumes) > 1:
                common = of_the_able(common, ways)
            return _judged(common, leadings)
        found = _judged(common, leadings)
        if found.fits or common.demands[Role.TITLE].text.size_pt is not None:
            return found
        at_most_pt = _LOWER * common.title_pt
    return found


def _asking(
    volumes: Sequence[Asked],
    ways: Ways,
    *,
    single: bool,
    labels: Mapping[str, SharedLabel] | None,
) -> tuple[list[Asked], dict[Role, float | None]]:
    """Every back with what its texts ask, and for each role the leading that serves all."""
    trials = []
    for place, one in enumerate(volumes, 1):
        with volume_fault(place, of=len(volumes)):
            trials.append(list(_trials(volumes, one, ways, single=single, labels=labels)))
    leadings: dict[Role, float | None] = {}
    for text, _standing, judged, _lone in (each for own in trials for each in own):
        known = [one for one in (leadings.get(text.role), leading_em(judged)) if one is not None]
        leadings[text.role] = max(known, default=None)
    found = []
    for place, (one, own) in enumerate(zip(volumes, trials, strict=True), 1):
        demands = {}
        for text, standing, trial, lone in own:
            assert standing.orientation is not None
            judged, common_em = trial, leadings[text.role]
            if common_em is not None and leading_em(trial) != common_em:
                with volume_fault(place, of=len(volumes)):
                    wider = standing._replace(leading_em=common_em)
                    _job, judged = judged_in(_plan_on(one, text, labels), text, wider)
            leads = lone and len(volumes) == 1 and text.role is Role.TITLE
            demands[text.role] = demand_of(
                one.plan, text, judged, standing.orientation, leads=leads
            )
        found.append(one._replace(demands=demands))
    return found, leadings if len(volumes) > 1 else dict.fromkeys(leadings)


def _trials(
    volumes: Sequence[Asked],
    one: Asked,
    ways: Ways,
    *,
    single: bool,
    labels: Mapping[str, SharedLabel] | None,
) -> Iterator[tuple[BackText, Standing, JudgedText, bool]]:
    """Each text of a back, judged alone in all of the seat that all volumes give its role."""
    union = union_plan([each.plan for each in volumes], one.plan)
    own = {text.role: text for text in one.plan.texts}
    for seat in seats_of(union, one.job, labels, single=single):
        lone = len(seat.texts) == 1 and seat.label is None and not seat.is_part
        for text in (own[each.role] for each in seat.texts if each.role in own):
            standing = Standing(seat.panel, seat.room, orientation=ways[seat.key])
            _job, judged = judged_in(_plan_on(one, text, labels), text, standing)
            yield text, standing, judged, lone


def _plan_on(one: Asked, text: BackText, labels: Mapping[str, SharedLabel] | None) -> BackPlan:
    if labels is None or text.label is None:
        return one.plan
    return plan_on(one.plan, one.job, labels[text.label])


def leading_em(judged: JudgedText) -> float | None:
    """The distance of baselines that a text's lines have, in em; None for lines alone."""
    for one in judged.judgement.judged:
        if len(one.baselines_mm) > 1 and one.orientation is not Orientation.PILLAR:
            return (one.baselines_mm[0] - one.baselines_mm[1]) / mm_from_pt(one.set_pt)
    return None


def _judged(common: Common, leadings: Mapping[Role, float | None]) -> Attempt:
    """Every text in its zone, then brought to the height that it has on all backs."""
    texts: list[list[PlannedText]] = [[] for _ in common.volumes]
    heights: dict[Role, float | None] = {}
    for stretch in common.stretches:
        for role, zone, middle_mm in _zones(common, stretch):
            lines = common.lines(role)
            standing = Standing(
                panel=stretch.panel,
                zone=zone,
                middle_mm=middle_mm,
                orientation=stretch.orientation,
                size_pt=common.size_pt(role),
                lines=lines,
                leading_em=leadings[role] if lines is None or lines > 1 else None,
            )
            placed = [
                (place, _placed(common, one, role, stretch, standing))
                for place, one in enumerate(common.volumes)
                if role in one.demands
            ]
            heights[role], found = _aligned(common, placed, lone=stretch.is_lone)
            for (place, _each), one in zip(placed, found, strict=True):
                texts[place].append(one)
    return Attempt(common, tuple(map(tuple, texts)), heights)


def _zones(common: Common, stretch: Stretch) -> Iterator[tuple[Role, Zone | None, float | None]]:
    """Zone and middle of each role, in mm from the head of the lowest back.

    Both None for a text that has all of its panel or back: it stands there as if alone.
    """
    if stretch.is_lone:
        yield stretch.roles[0], None, None
        return
    job, title_pt = common.lowest.job, common.title_pt
    zones = zones_for(
        stretch,
        common.needs_mm(stretch),
        gap_mm=gap_mm_at(job, stretch, title_pt),
        wanted_gap_mm=wanted_gap_mm_at(job, stretch, title_pt),
        sliver_mm=common.demands[Role.TITLE].sliver_mm,
        title_from_head_mm=title_from_head_mm(job),
    )
    across = stretch.orientation is Orientation.TRANSVERSE
    on_label = stretch.label is not None and stretch.panel is None and across
    for role in stretch.roles:
        zone, middle_mm = zones[role]
        yield role, zone, middle_mm if stretch.hangs or on_label else None


def _placed(
    common: Common, one: Asked, role: Role, stretch: Stretch, standing: Standing
) -> PlannedText:
    """A text of one back, judged where it stands there."""
    place = common.volumes.index(one) + 1
    text = one.demands[role].text
    own = plan_on(one.plan, one.job, stretch.label)
    if standing.zone is None:
        zone: Zone | None = _zone_alone(common, one, stretch)
        stands = standing
    else:
        higher_mm = one.height_mm - common.lowest.height_mm
        zone = Zone(standing.zone.begins_mm + higher_mm, standing.zone.ends_mm + higher_mm)
        middle_mm = standing.middle_mm
        stands = standing._replace(
            zone=_room(one, stretch, zone),
            middle_mm=None if middle_mm is None else middle_mm + higher_mm,
        )
    with volume_fault(place, of=len(common.volumes)):
        job, judged = judged_in(own, text, stands)
    panel = judged.panel.number if common.single else stretch.panel
    return PlannedText(role, text.text, panel, zone, job, judged, text.label)


def _zone_alone(common: Common, one: Asked, stretch: Stretch) -> Zone | None:
    """All of its panel, or of the back; None where no height is known."""
    if one.plan.height_mm is None:
        return None
    seats = seats_of(
        union_plan([each.plan for each in common.volumes], one.plan), one.job, single=common.single
    )
    return next(seat.zone for seat in seats if seat.panel == stretch.panel)


def _room(one: Asked, stretch: Stretch, zone: Zone) -> Zone:
    """What a text is judged in; on a label its zone is of its ink, without the clearance."""
    if stretch.label is None:
        return zone
    clear_mm = one.job.lettering.clearance_mm
    return Zone(zone.begins_mm - clear_mm, zone.ends_mm + clear_mm)


def _aligned(
    common: Common, placed: Sequence[tuple[int, PlannedText]], *, lone: bool
) -> tuple[float | None, list[PlannedText]]:
    """One role on all backs at one height, and that height; None where it is not known."""
    texts = [one for _place, one in placed]
    if len(common.volumes) == 1:
        return stands_mm(texts[0].judged.job, texts[0].shown), texts
    # What does not fit by itself does not say where the others stand.
    guides = [each for each in placed if each[1].judged.fits] or list(placed)
    reaches = [reach_of(one.judged.job, one.shown) for _place, one in guides]
    known = [reach for reach in reaches if reach is not None]
    if len(known) < len(guides):
        return None, texts
    wanted_mm = common_height_mm(known, _natural_mm(common, guides, lone=lone), texts[0].set_pt)
    found = []
    for place, one in placed:
        volume = common.volumes[place]
        with volume_fault(place + 1, of=len(common.volumes)):
            job, judged, breaches = at_height(
                volume.plan, volume.demands[one.role].text, one.job, one.judged, wanted_mm
            )
        found.append(one._replace(job=job, judged=judged, breaches=breaches if judged.fits else ()))
    return wanted_mm, found


def _natural_mm(
    common: Common, placed: Sequence[tuple[int, PlannedText]], *, lone: bool
) -> float | None:
    """The height at which a role would stand on the lowest back; None where any is as good.

    Lines across a back without bands have such a height; a text that has all of its panel, or
    runs along all of the back, stands midway of what is possible.
    """
    first = placed[0][1]
    if lone:
        banded = any(one.plan.has_bands for one in common.volumes)
        if banded or first.shown.orientation is not Orientation.TRANSVERSE:
            return None
        first = min(placed, key=lambda one: common.volumes[one[0]].height_mm)[1]
    return stands_mm(first.judged.job, first.shown)
