"""At which size is each layout judged, and which of those that fit is advised?

In: layouts with their exact largest sizes, which are limits, no advice: the advised size is what
`custom` aims at, in a size that is offered and held. Letters that are tools come in the sizes of
the set, each of its own proportions. Within an orientation, splits within a tenth of the best
size count as equal and sense chooses; settings of too many lines, or with a word broken, only
where nothing else can be read. Between across and along custom decides.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import (
    Aim,
    across_or_along,
    is_across_by_custom,
    needs_room_across,
    unless_forced,
)
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import Offer, held_from, offer_of
from spinefit.judgement.reading import is_alone, joined, reads_best
from spinefit.layout.search import LayoutKey, key_of
from spinefit.layout.standing import Layout
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_PT, SAME_SHARE
from spinefit.units import mm_from_pt, pt_from_mm, round_down_pt
from spinefit.vocabulary import Level, Orientation, Sourced, Status

_OWN = "the smallest of the tools given"
_WAYS = (Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR)


def judge_layouts(
    job: ResolvedJob, title: ShapedTitle, layouts: Sequence[Layout]
) -> tuple[Judged, ...]:
    """Every layout at the size asked for, or at its advised size.

    Args:
        job: the resolved job.
        title: its shaped title.
        layouts: what the search found.
    """
    judged = _at_their_sizes(job, title, layouts)
    if job.recess is None:
        return judged
    from spinefit.judgement.recess import can_be_cut

    return tuple(
        one if not one.fits or can_be_cut(job, one) else one.not_to_be_cut() for one in judged
    )


def _at_their_sizes(
    job: ResolvedJob, title: ShapedTitle, layouts: Sequence[Layout]
) -> tuple[Judged, ...]:
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
    advise = partial(_advised, Aim(job), offer)
    found: list[Judged] = []
    for layout in layouts:
        largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
        if asked is None:
            set_pt, why = advise(layout, largest_pt)
        else:
            set_pt, why = asked, "asked"
        own = layout if layout.at_size is None else layout.at_size(set_pt)
        found.append(
            Judged(job, own, offer, set_pt=set_pt, why=why, largest_pt=largest_pt,
                   limit=layout.limit)
        )  # fmt: skip
    return tuple(found)


def _advised(aim: Aim, offer: Offer, layout: Layout, largest_pt: float) -> tuple[float, str]:
    """The size wanted of a layout, as nearly as it is offered, and what set it."""
    wanted_pt, rule = aim.of(layout, largest_pt)
    size_pt = offer.at_most(wanted_pt)
    return size_pt, "floor" if size_pt > wanted_pt else rule


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
    """The largest of the sizes that fit and are no larger than wanted, and what set it.

    That is the rule which refused the next one; the smallest that fits where all are refused.
    """
    aim, largest_pt = Aim(job), _largest_pt(fitting[-1])
    refused_by = ""
    for layout in reversed(fitting):
        wanted_pt, rule = aim.of(layout, largest_pt)
        if _size_pt(layout) <= wanted_pt + SAME_PT:
            return layout, refused_by or rule
        refused_by = rule
    return fitting[0], "floor"


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
    place = next(at for at, one in enumerate(judged) if one is best)
    return Choice(place, (*why, *_larger_apart(job, judged, best)))


def _larger_apart(job: ResolvedJob, judged: Sequence[Judged], best: Judged) -> tuple[Finding, ...]:
    """That it could be larger with small words on lines of their own, where it could be so."""
    same_way = [one for one in judged if one.orientation is best.orientation]
    apart = [one for one in same_way if one.fits and is_alone(one)]
    if not apart or is_alone(best):
        return ()
    apart_pt = reads_best(job, apart).set_pt
    if job.rules.value("lines.sense_share") * apart_pt <= best.set_pt:
        return ()
    return (Finding.of("words-joined", Level.NOTE, apart_pt),)


def nearest_of(job: ResolvedJob, judged: Sequence[Judged]) -> int:
    """The place of the layout nearest to one that fits, where none does.

    Where only old lettering would show, it is the one advised for a label that hid it; where the
    size asked for is smaller than holds, the one advised in the least that does; else the one
    that could be largest. Over the bands is no way to letter a back.

    Args:
        job: the resolved job.
        judged: all layouts.
    """
    asked = job.lettering.size_pt
    if asked is not None and judged[0].layout.title.only_pt is None:
        held = [one.at(one.offer.at_least(asked)) for one in judged]
        place = choose(job, held).place
        if place is not None:
            return place
    if job.old_lettering is not None and job.old_lettering.covered:
        place = choose(job, [one.if_hidden() for one in judged]).place
        if place is not None:
            return place
    own = [at for at, one in enumerate(judged) if not one.over_bands]
    return max(own, key=lambda at: judged[at].largest_pt)


def _best_of_all(
    job: ResolvedJob, judged: Sequence[Judged]
) -> tuple[Judged | None, tuple[Finding, ...]]:
    own: dict[Orientation, list[Judged]] = {each: [] for each in _WAYS}
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
    if not needs_room_across(job):
        return unless_forced(job, across.best, along.best)
    if across.usual is None and along.best.layout.group.breaks:
        return max((across.best, along.best), key=lambda one: one.cap_height_mm), ()
    usual = across.roomiest, across.usual
    if across.is_unread_joined and not is_alone(along.best):
        usual = None, None
    return across_or_along(job, across.best, *usual, along.best)


class _Settings:
    """The settings of one orientation that fit, and the best of them.

    Attributes:
        tried: whether the orientation was asked for.
        usual: the best of those within the usual number of lines, without a broken word.
        roomiest: of those the one that could be largest: by the room for its longest words, small
            ones joined to them, a title stands across or along; where across is the custom, of
            all of so many lines.
        is_unread_joined: whether small words stand alone in it for want of others that can be read.
        best: the best there is; beyond the usual only where nothing usual can be read.
    """

    def __init__(self, job: ResolvedJob, own: Sequence[Judged], orientation: Orientation) -> None:
        fitting = [one for one in own if one.fits]
        self.tried = bool(own)
        self.usual: Judged | None = None
        self.roomiest: Judged | None = None
        self.best: Judged | None = None
        self.is_unread_joined = False
        if not fitting:
            return
        most = _most_lines(job, orientation)
        taken = joined(job, fitting)
        levels = _levels(taken, most)
        first = reads_best(job, levels[0])
        group = first.layout.group
        if not group.breaks and group.line_count <= most:
            self.usual = first
            roomy = _levels(fitting, most) if is_across_by_custom(job) else levels
            self.roomiest = max(roomy[0], key=lambda one: one.largest_pt)
        if _is_easy(first):
            self.best = first
        else:
            others = [reads_best(job, level) for level in levels[1:]]
            self.best = _first_readable(job, [first, *others])
        self.is_unread_joined = len(taken) == len(fitting) and is_alone(self.best)


def _most_lines(job: ResolvedJob, orientation: Orientation) -> float:
    """How many lines look well; as many as were asked for, or as a shape asked for takes."""
    if job.lettering.group_shape is not None:
        return math.inf
    if orientation is Orientation.LONGITUDINAL:
        return job.rules.value("lines.most_along")
    if not needs_room_across(job):
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
