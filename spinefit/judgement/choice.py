"""At which size is each layout judged, and which of those that fit is advised?

In: layouts with their exact largest sizes, which are limits, no advice: the advised size is a share
of it, no larger than eyes ask for, no smaller than the method holds. Letters that are tools come in
the sizes of the set, each of its own proportions. Within an orientation, splits within a tenth
of the best size count as equal and sense chooses; settings of too many lines, or with a word
broken, only where nothing else can be read. Between across and along, capitals are compared, never
points; on a back without bands across needs room (rules.toml across.*), in a panel between bands
across is the rule unless only a longitudinal setting can be read (Cockerell, ch. XV, fig. 95).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import SHARES, Judged
from spinefit.judgement.offer import Offer, held_from, offer_of
from spinefit.layout.search import Layout, LayoutKey, key_of
from spinefit.layout.sense import is_good_shape
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_PT, SAME_SHARE
from spinefit.units import height_mm_at_arcminutes, mm_from_pt, pt_from_mm, round_down_pt
from spinefit.vocabulary import Level, Orientation, Sourced, Status

__all__ = [
    "Advice",
    "Choice",
    "choose",
    "judge_layouts",
    "tie_break",
]

_OWN = "the smallest of the tools given"
_ISO = 'ISO 6357:1985, via the German encyclopaedia article "ISO 6357": across when wide enough'


def judge_layouts(
    job: ResolvedJob, title: ShapedTitle, layouts: Sequence[Layout]
) -> tuple[Judged, ...]:
    """Every layout at the size asked for, or at its advised size.

    Args:
        job: the resolved job.
        title: its shaped title.
        layouts: what the search found.
    """
    if title.only_pt is not None:
        return _judge_tools(job, layouts)
    offer = offer_of(job, title)
    judged = _judged(job, title, layouts, offer)
    fitting = [one.set_pt for one in judged if one.fits]
    # Where nothing fits, letters that no size here holds are the graver fault.
    weakest = held_from(job, title, min(fitting, default=offer.smallest_pt()))
    raised = offer.raised_by(weakest)
    return judged if raised is offer else _judged(job, title, layouts, raised)


def _judged(
    job: ResolvedJob, title: ShapedTitle, layouts: Sequence[Layout], offer: Offer
) -> tuple[Judged, ...]:
    asked = job.lettering.size_pt
    advice = Advice(job, title, offer)
    found: list[Judged] = []
    for layout in layouts:
        largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
        if asked is None:
            set_pt, why = advice.of(largest_pt, layout.candidate.orientation)
        else:
            set_pt, why = asked, "asked"
        own = layout if layout.at_size is None else layout.at_size(set_pt)
        one = Judged(job, own, offer, set_pt=set_pt, why=why, largest_pt=largest_pt)
        found.append(one.clear_of_old(advice.of) if asked is None and one.old_stays else one)
    return tuple(found)


class Advice:
    """Which size is advised for a title.

    A share of the largest, no larger than the eye asks for at the reading distance, in a size
    that is offered; the smallest held where that would be smaller.

    Args:
        job: the resolved job.
        title: its shaped title.
        offer: the sizes that can be set.

    Source: rules.toml advised.*; the cap from ASR A6 and DIN EN ISO 9241-303.
    """

    def __init__(self, job: ResolvedJob, title: ShapedTitle, offer: Offer) -> None:
        self._eye_pt = pt_from_mm(_eye_mm(job) / title.cap_height_em)
        self._shares = {each: job.rules.value(name) for each, name in SHARES.items()}
        self._at_most = offer.at_most

    def of(self, largest_pt: float, orientation: Orientation) -> tuple[float, str]:
        """The advised size in points, and what set it: share, eye or floor.

        Args:
            largest_pt: the largest size of the setting, in points.
            orientation: its orientation, which has a share of its own.
        """
        share_pt = self._shares[orientation] * largest_pt
        wanted = share_pt if share_pt < self._eye_pt else self._eye_pt
        size = self._at_most(wanted)
        if size > wanted:
            return size, "floor"
        return size, "share" if share_pt <= self._eye_pt else "eye"


def _eye_mm(job: ResolvedJob) -> float:
    """How high capitals need be for the eye at the reading distance."""
    most_arcmin = job.rules.value("advised.most_arcmin")
    return height_mm_at_arcminutes(most_arcmin, job.reading_distance_mm)


def _judge_tools(job: ResolvedJob, layouts: Sequence[Layout]) -> tuple[Judged, ...]:
    """Every setting at the size asked for, or at its advised size.

    The largest is that of the largest tools that fit; the figures are those of the size judged.

    Args:
        job: the resolved job.
        layouts: each setting in every size, the sizes rising.
    """
    settings: dict[LayoutKey, list[Layout]] = {}
    for layout in layouts:
        settings.setdefault(key_of(layout), []).append(layout)
    return tuple(_in_tools(job, sizes) for sizes in settings.values())


def _in_tools(job: ResolvedJob, sizes: Sequence[Layout]) -> Judged:
    """One setting, laid in every size."""
    fitting = [layout for layout in sizes if _fits(job, layout)]
    asked = job.lettering.size_pt
    if asked is None:
        layout, why = _advised_tool(job, fitting or sizes[:1])
        set_pt = _size_pt(layout)
    else:
        layout = min(sizes, key=lambda one: abs(_size_pt(one) - asked))
        why, set_pt = "asked", asked
    at_hand = abs(set_pt - _size_pt(layout)) <= SAME_PT
    misfit = at_hand and layout not in fitting
    limiting = fitting[-1] if fitting and not misfit else layout
    offer = _offer_of_tools(job, sizes, layout)
    return Judged(job, layout, offer, set_pt=set_pt, why=why, largest_pt=_largest_pt(limiting))


def _offer_of_tools(job: ResolvedJob, sizes: Sequence[Layout], layout: Layout) -> Offer:
    """The sizes that the tools have, with the floor of the one that is judged."""
    offer = offer_of(job, layout.title)
    floor = offer.floor
    if floor is not job.method.smallest_cap:
        floor = Sourced(_size_pt(sizes[0]), "pt", _OWN, Status.PRACTICE)
    return offer._replace(sizes_pt=tuple(_size_pt(one) for one in sizes), floor=floor)


def _size_pt(layout: Layout) -> float:
    assert layout.title.only_pt is not None  # every title of tools has its size
    return layout.title.only_pt


def _fits(job: ResolvedJob, layout: Layout) -> bool:
    """Whether a size fits in its own letters, and is one that the method holds."""
    return _size_pt(layout) >= offer_of(job, layout.title).floor_pt and _has_room(layout)


def _has_room(layout: Layout) -> bool:
    return mm_from_pt(_size_pt(layout)) <= layout.limit.size_mm * (1 + SAME_SHARE)


def _largest_pt(layout: Layout) -> float:
    """The limit in points of a size's proportions, never just under the size that fits."""
    largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
    return max(largest_pt, _size_pt(layout)) if _has_room(layout) else largest_pt


def _advised_tool(job: ResolvedJob, fitting: Sequence[Layout]) -> tuple[Layout, str]:
    """The advised one of the sizes that fit, and what set it: share, eye or floor.

    Up to the share of the largest that the rules give, and with capitals no higher than the
    eye asks for; the smallest that fits where none is so small.
    """
    share = job.rules.value(SHARES[fitting[-1].candidate.orientation])
    share_pt = share * _largest_pt(fitting[-1])
    most_mm = _eye_mm(job)
    in_share = [one for one in fitting if _size_pt(one) <= share_pt + SAME_PT]
    for_eye = [
        one for one in in_share if one.title.cap_height_em * mm_from_pt(_size_pt(one)) <= most_mm
    ]
    if not for_eye:
        return fitting[0], "floor"
    return for_eye[-1], "share" if for_eye[-1] is in_share[-1] else "eye"


class Choice(NamedTuple):
    """The advised layout's place in the list, or None, and why it was taken."""

    place: int | None
    findings: tuple[Finding, ...]


def choose(job: ResolvedJob, judged: Sequence[Judged]) -> Choice:
    """The advised one of the layouts that fit.

    Args:
        job: the resolved job.
        judged: all layouts.
    """
    best, why = _best_of_all(job, judged)
    if best is None:
        return Choice(None, ())
    return Choice(next(at for at, one in enumerate(judged) if one is best), why)


def _best_of_all(
    job: ResolvedJob, judged: Sequence[Judged]
) -> tuple[Judged | None, tuple[Finding, ...]]:
    own: dict[Orientation, list[Judged]] = {each: [] for each in SHARES}
    for one in judged:
        own[one.orientation].append(one)
    across, along, pillar = (
        _Settings(job, settings, orientation) for orientation, settings in own.items()
    )
    if pillar.best is not None:
        return pillar.best, ()
    if not (across.tried and along.tried):
        return across.best or along.best, ()
    if along.best is None or across.best is None:
        topic = "across-does-not-fit" if across.best is None else "along-does-not-fit"
        return across.best or along.best, (Finding.of(topic, Level.NOTE),)
    if not _has_to_earn_its_place(job):
        return _in_panel(job, across.best, along.best)
    if across.usual is None and along.best.layout.group.breaks:
        return max((across.best, along.best), key=lambda one: one.cap_height_mm), ()
    return _gate(job, across, along.best)


class _Settings:
    """The settings of one orientation that fit, and the best of them.

    Attributes:
        tried: whether the orientation was asked for.
        usual: the best of those within the usual number of lines, without a broken word.
        best: the best there is; beyond the usual only where nothing usual can be read.
    """

    def __init__(self, job: ResolvedJob, own: Sequence[Judged], orientation: Orientation) -> None:
        fitting = [one for one in own if one.fits]
        self.tried = bool(own)
        self.usual: Judged | None = None
        self.best: Judged | None = None
        if not fitting:
            return
        most = _most_lines(job, orientation)
        levels = _levels(fitting, most)
        first = _reads_best(job, levels[0])
        group = first.layout.group
        if not group.breaks and group.line_count <= most:
            self.usual = first
        if _is_easy(first):
            self.best = first
        else:
            others = [_reads_best(job, level) for level in levels[1:]]
            self.best = _first_readable(job, [first, *others])


def _most_lines(job: ResolvedJob, orientation: Orientation) -> float:
    """How many lines look well; as many as were asked for where they were asked for."""
    if orientation is Orientation.LONGITUDINAL:
        return job.rules.value("lines.most_along")
    if not _has_to_earn_its_place(job):
        return math.inf
    asked = max(len(job.title_lines), job.lettering.lines or 0)
    return max(job.rules.value("across.most_lines"), asked)


def _levels(fitting: Sequence[Judged], most: float) -> list[list[Judged]]:
    """The settings, the usual ones first, then more lines, then more and more broken words."""
    levels: dict[tuple[int, bool], list[Judged]] = {}
    for one in fitting:
        group = one.layout.group
        levels.setdefault((group.breaks, group.line_count > most), []).append(one)
    return [levels[level] for level in sorted(levels)]


def _is_easy(one: Judged) -> bool:
    """Whether it is read with ease, one broken word at most."""
    return one.layout.group.breaks <= 1 and one.is_read_with_ease


def _first_readable(job: ResolvedJob, bests: Sequence[Judged]) -> Judged:
    """The first that is read with ease; else the first readable; else the first."""
    for one in bests:
        if _is_easy(one):
            return one
    pinch = job.rules.value("legibility.failing_arcmin")
    return next((one for one in bests if one.arcminutes >= pinch), bests[0])


def _reads_best(job: ResolvedJob, settings: Sequence[Judged]) -> Judged:
    """Of several settings, the one that reads best within a tenth of the largest."""
    share = job.rules.value("lines.sense_share") * (1 - SAME_SHARE)
    if len(settings) == 1:
        return settings[0]
    if job.lettering.size_pt is None:
        least = share * max([one.set_pt for one in settings])
        near = [one for one in settings if one.set_pt >= least]
    else:
        least = share * max([one.largest_pt for one in settings])
        near = [one for one in settings if one.largest_pt >= least]
    least_penalty = min([one.layout.group.penalty for one in near])
    good = [one for one in near if one.layout.group.penalty == least_penalty]
    return good[0] if len(good) == 1 else min(good, key=tie_break)


def tie_break(one: Judged) -> tuple[object, ...]:
    """What chooses between settings of equal penalty: the least is the best."""
    group = one.layout.group
    return (
        not is_good_shape(group.shape),
        one.tight,
        group.line_count,
        -group.lines.phrases,
        max(group.widths_em),  # sizes lie within a tenth: a hair more is no gain
        -one.set_pt,
        -one.largest_pt,
    )


def _has_to_earn_its_place(job: ResolvedJob) -> bool:
    """True where across needs room: on a back without bands, and on a tall label."""
    if job.spine is not None:
        return job.spine.bands == 0
    panel = job.panel
    return panel is not None and (
        panel.height_mm > job.rules.value("across.tall_label") * panel.width_mm
    )


def _gate(
    job: ResolvedJob, across: _Settings, along: Judged
) -> tuple[Judged | None, tuple[Finding, ...]]:
    """Across, if the back is wide enough and the letters are not too small beside those along."""
    rules = job.rules
    width_mm, least_mm = _width_and_least(job)
    if width_mm < least_mm:
        rule = rules["across.least_back_mm"]._replace(value=least_mm)
        return along, _refused("across-narrow", width_mm, rule, across.best)
    if across.usual is None:
        return along, _unusual(job, across.best)
    share, cap_mm = rules["across.cap_share"], across.usual.cap_height_mm
    enough = share._replace(value=share.value * along.cap_height_mm, unit="mm")
    if cap_mm < enough.value and not across.usual.is_read_with_ease:
        return along, _refused("across-small", cap_mm, enough, across.usual)
    chosen = Sourced(enough.value, "mm", _ISO, Status.PUBLISHED)
    return across.usual, (Finding.by_rule("across-chosen", Level.GOOD, cap_mm, chosen),)


def _unusual(job: ResolvedJob, across: Judged | None) -> tuple[Finding, ...]:
    """Why the settings across that fit are not usual ones."""
    if across is not None and across.layout.group.breaks:
        pleger = Sourced(0, "", "Pleger (1914), p. 250: never break a word", Status.PUBLISHED)
        return _refused("across-broken", None, pleger, across)
    lines = across.layout.group.line_count if across is not None else 0
    return _refused("across-lines", lines, job.rules["across.most_lines"], across)


def _width_and_least(job: ResolvedJob) -> tuple[float, float]:
    """The width to hold against the least for lettering across, and that least, in mm.

    A label is held against what such a back leaves for ink.
    """
    least_mm = job.rules.value("across.least_back_mm")
    if job.spine is not None:
        return job.spine.width_mm, least_mm
    assert job.panel is not None  # a resolved job has one of the two
    return job.panel.width_mm, least_mm - job.rules.value("edge.usual_mm")


def _refused(
    topic: str, value: float | None, rule: Sourced, refused: Judged | None
) -> tuple[Finding, ...]:
    return (Finding.by_rule(topic, Level.NOTE, value, rule, refused=refused),)


def _in_panel(
    job: ResolvedJob, across: Judged, along: Judged
) -> tuple[Judged, tuple[Finding, ...]]:
    """Across in a panel, unless only the longitudinal setting can be read."""
    rule = job.rules["legibility.failing_arcmin"]
    if across.arcminutes < rule.value <= along.arcminutes:
        return along, _refused("across-unreadable", across.arcminutes, rule, across)
    topic = "across-in-label" if job.spine is None else "across-in-panel"
    return across, (Finding.of(topic, Level.GOOD),)
