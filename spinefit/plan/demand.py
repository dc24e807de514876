"""How much of the back does a text need at a size, on one back or on several alike?

In: a text judged alone in the whole stretch that it may share. Out: its settings, each with the
most it takes across its lines' room and with the length of back it covers at one point; ink
scales with the size, so both hold at every size. Of several volumes every one is a limit. mm
and points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import JobError
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import SHARE
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import Offer, offer_of, weakest_at
from spinefit.judgement.reading import joined
from spinefit.judgement.text import JudgedText
from spinefit.plan.model import BackPlan, BackText, Relation
from spinefit.plan.standing import SAFE_PT, Reach, largest_together_pt, reach_of, size_asked_pt
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import STATED_PT
from spinefit.units import round_down_pt
from spinefit.vocabulary import Orientation, Role

_SLIVER_MM = 0.1
_MOST_LINES = {
    Orientation.TRANSVERSE: "across.most_lines",
    Orientation.LONGITUDINAL: "lines.most_along",
    Orientation.PILLAR: "lines.most_along",
}


class Setting(NamedTuple):
    """One way of setting a text.

    Attributes:
        orientation: which way its lines run.
        lines: number of lines.
        advised_pt: the size that would be advised for it if the stretch were its own.
        largest_pt: the most it takes there.
        extent_mm: the length of back it covers, in mm for each point of size.
        reach: how far it reaches from where it stands; None where no height is known.
        passed_over: True where it is not advised, its small words apart from those they should
            join; taken only where no other number of lines is open to all.
    """

    orientation: Orientation
    lines: int
    advised_pt: float
    largest_pt: float
    extent_mm: float
    reach: Reach | None
    passed_over: bool

    def most_pt(self, *, as_advised: bool) -> float:
        """The most it may be: what is advised, or the limit."""
        return self.advised_pt if as_advised else self.largest_pt


class Demand(NamedTuple):
    """What one text asks of the stretch it stands in.

    Attributes:
        text: the text, with the size it is to be judged at.
        settings: in the order in which they are to be tried.
        ratio: its size over the title's.
        least_pt: no smaller than that where the title is larger; 0 for any size.
        offer: the sizes that can be set.
        pad_mm: the clearance at its two ends together.
        job: the text as a resolved job.
        title: the text shaped.
    """

    text: BackText
    settings: tuple[Setting, ...]
    ratio: float
    least_pt: float
    offer: Offer
    pad_mm: float
    job: ResolvedJob
    title: ShapedTitle

    @property
    def sliver_mm(self) -> float:
        """What is left to it where it finds no room, so that it can be judged all the same."""
        return self.pad_mm + _SLIVER_MM

    def with_offer_raised(self, size_pt: float) -> Demand:
        """The same, its offer raised where the method does not hold its letters at a size."""
        raised = self.offer.raised_by(weakest_at(self.job, self.title, size_pt))
        return self if raised is self.offer else self._replace(offer=raised)

    def need_mm(self, setting: Setting, size_pt: float) -> float:
        """The length of back that a setting needs at a size, in mm."""
        # Limits are stated rounded down, so a zone is made longer by as much.
        needed_mm = setting.extent_mm * (size_pt + STATED_PT) + self.pad_mm
        old = self.job.old_lettering
        if old is None or not old.covered or self.text.label is not None:
            return needed_mm
        return max(needed_mm, old.label_mm[1])

    def setting_at(self, size_pt: float, *, as_advised: bool, least_length: bool) -> Setting | None:
        """The setting to take at a size, or None where none is large enough.

        Args:
            size_pt: the size.
            as_advised: stay within the advised sizes, rather than go to the limit.
            least_length: take the one that needs the least length of back, rather than the
                first.
        """
        fitting = [one for one in self.settings if size_pt <= one.most_pt(as_advised=as_advised)]
        if least_length:
            return min(fitting, key=lambda one: one.extent_mm, default=None)
        return fitting[0] if fitting else None


def demand_of(
    plan: BackPlan,
    text: BackText,
    judged: JudgedText,
    orientation: Orientation,
    *,
    leads: bool,
) -> Demand:
    """What a text asks of the stretch it stands in, as it is judged there alone.

    Args:
        plan: the back.
        text: the text.
        judged: the text in the whole seat, its size left open.
        orientation: which way its lines run there.
        leads: True for a title that shares its place with none and matches no other volume:
            then no other number of lines is advised larger than the one recommended.
    """
    job = judged.job
    ratio, least_pt = 1.0, 0.0
    if text.role is not Role.TITLE and plan.relation is Relation.GRADED:
        ratio = job.rules.value(f"plan.{text.role}_ratio")
        if text.role is Role.DATE:
            least_pt = job.rules.value("plan.date_least_pt")
    on_label = text.label is not None  # which keeps its margin once, round all of its texts
    return Demand(
        text=replace(text, size_pt=size_asked_pt(plan, text)),
        settings=_settings(judged, orientation, prefer=text.role is Role.TITLE, capped=leads),
        ratio=ratio,
        least_pt=least_pt,
        offer=offer_of(job, judged.title),
        pad_mm=0.0 if on_label else 2 * job.lettering.clearance_mm,
        job=job,
        title=judged.title,
    )


def _settings(
    judged: JudgedText, orientation: Orientation, *, prefer: bool, capped: bool
) -> tuple[Setting, ...]:
    """The settings of one orientation, the fewest lines first.

    Where ``prefer`` is asked the number of lines that is recommended comes before them; where
    ``capped``, its advised size is the most that is advised for any.
    """
    judgement, panel = judged.judgement, judged.panel
    own = [one for one in judgement.judged if one.orientation is orientation]
    own = [one for one in own if not one.over_bands]
    most = int(judged.job.rules.value(_MOST_LINES[orientation]))
    usual = [one for one in own if not one.word_broken]
    if panel.number is None or orientation is not Orientation.TRANSVERSE:
        usual = [one for one in usual if len(one.lines) <= most]
    recommended = None
    if prefer and judgement.recommended is not None:
        recommended = judgement.judged[judgement.recommended]
    fitting = [one for one in usual or own if one.fits]
    passed = {id(one) for one in fitting} - {id(one) for one in joined(judged.job, fitting)}
    best: dict[int, Judged] = {}
    for one in sorted(usual or own, key=lambda one: id(one) in passed):
        known = best.setdefault(len(one.lines), one)
        if id(one) in passed and id(known) not in passed:
            continue
        if one is recommended or (known is not recommended and _larger(one, known)):
            best[len(one.lines)] = one
    ranked = [
        _setting(judged, best[lines], passed_over=id(best[lines]) in passed)
        for lines in sorted(best)
    ]
    if recommended is not None and recommended.orientation is orientation:
        ranked.sort(key=lambda one: one.lines != len(recommended.lines))
        if capped:
            most_pt = ranked[0].advised_pt
            ranked = [one._replace(advised_pt=min(one.advised_pt, most_pt)) for one in ranked]
    return tuple(ranked)


def _larger(one: Judged, other: Judged) -> bool:
    """Whether one setting of so many lines takes a larger size than another."""
    return (one.fits, one.set_pt, one.largest_pt) > (other.fits, other.set_pt, other.largest_pt)


def _setting(judged: JudgedText, one: Judged, *, passed_over: bool) -> Setting:
    panel, clearance_mm = judged.panel, judged.job.lettering.clearance_mm
    across = one.orientation is Orientation.TRANSVERSE
    floats = one.layout.floats or (across and panel.number is None)
    extent_mm, spare = one.ink_height_mm, one.spare_mm
    if one.orientation is Orientation.LONGITUDINAL:
        extent_mm = one.ink_width_mm
    height_mm = panel.height_mm
    if not floats and height_mm is not None and spare.head is not None and spare.tail is not None:
        # Centred, perhaps not on its ink: twice the longer of its two reaches.
        extent_mm = height_mm - 2 * clearance_mm - 2 * min(spare.head, spare.tail)
    return Setting(
        orientation=one.orientation,
        lines=len(one.lines),
        advised_pt=min(one.set_pt, one.largest_pt),
        largest_pt=one.largest_pt,
        extent_mm=extent_mm / one.set_pt,
        reach=reach_of(judged.job, one),
        passed_over=passed_over,
    )


def common_demand(
    role: Role, own: Sequence[Demand], *, lone: bool, at_most_pt: float | None
) -> Demand:
    """What a role asks in all volumes: the least of their limits, the most of their lengths.

    Args:
        role: of the text.
        own: what it asks in each volume that has it.
        lone: True where it has all of its panel or back: then it is brought to one height
            within that, which is a limit of its own.
        at_most_pt: a size that it may not exceed; None for none.

    Raises:
        JobError: no number of lines is open to all.
    """
    by_lines = [{setting.lines: setting for setting in one.settings} for one in own]
    shared = set.intersection(*map(set, by_lines))
    if not shared:
        raise JobError(
            f"no number of lines is open to the {role} of every volume",
            remedy="force the same number of breaks with ' / ' in every volume",
        )
    whole = {lines for lines in shared if not any(found[lines].passed_over for found in by_lines)}
    shared = whole or shared
    orders = [list(found) for found in by_lines]
    ranked = sorted(shared, key=lambda lines: (sum(one.index(lines) for one in orders), lines))
    offer = max((one.offer for one in own), key=lambda one: one.floor_pt)
    found = own[0]._replace(offer=offer, pad_mm=max(one.pad_mm for one in own))
    most_pt = float("inf") if at_most_pt is None else at_most_pt
    settings = [_tightest([found[lines] for found in by_lines], most_pt) for lines in ranked]
    if len(own) > 1:
        settings = [_at_one_height(found, setting, by_lines, lone=lone) for setting in settings]
    return found._replace(settings=tuple(settings))


def _tightest(settings: Sequence[Setting], most_pt: float) -> Setting:
    return settings[0]._replace(
        advised_pt=min(most_pt, *(one.advised_pt for one in settings)),
        largest_pt=min(most_pt, *(one.largest_pt for one in settings)),
        extent_mm=max(one.extent_mm for one in settings),
    )


def _at_one_height(
    own: Demand, tightest: Setting, by_lines: Sequence[dict[int, Setting]], *, lone: bool
) -> Setting:
    """A setting that all volumes have at one height, in a size whose letters hold in all."""
    advised_pt, largest_pt = tightest.advised_pt, tightest.largest_pt
    reaches = [found[tightest.lines].reach for found in by_lines]
    known = [reach for reach in reaches if reach is not None]
    if lone and len(known) == len(reaches):
        together_pt = round_down_pt(largest_together_pt(known) - SAFE_PT)
        largest_pt = max(0.0, min(largest_pt, together_pt))
        share = own.job.rules.value(SHARE)
        advised_pt = own.offer.at_most(min(advised_pt, share * largest_pt))
    advised_pt = max(advised_pt, own.offer.smallest_pt())  # a title alone may be set smaller
    return tightest._replace(advised_pt=min(advised_pt, largest_pt), largest_pt=largest_pt)
