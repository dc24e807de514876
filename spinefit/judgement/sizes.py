"""At which size is a layout judged?

In: layouts with their exact largest sizes. Out: a `Judged` for each, at the size asked for or at
the advised one. The largest is a limit, not advice: the advised size is a share of it, no larger
than eyes ask for, no smaller than the method holds. Where letters are tools, a layout comes in
every size of the set, each in letters of its own proportions: its largest size is the largest of
the tools that fits, it is judged at the advised one, and its figures are those of that size.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import SHARES, Judged
from spinefit.judgement.offer import Offer, held_from, offer_of
from spinefit.layout.search import Layout, LayoutKey, key_of
from spinefit.provenance import Sourced, Status
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_PT, SAME_SHARE
from spinefit.units import height_mm_at_arcminutes, mm_from_pt, pt_from_mm, round_down_pt
from spinefit.vocabulary import Orientation

__all__ = ["Advice", "judge_layouts"]

_OWN = "the smallest of the tools given"


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
    weakest = held_from(job, title, min(fitting)) if fitting else None
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
        found.append(Judged(job, own, offer, set_pt=set_pt, why=why, largest_pt=largest_pt))
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
        most_arcmin = job.rules.value("advised.most_arcmin")
        most_mm = height_mm_at_arcminutes(most_arcmin, job.reading_distance_mm)
        self._eye_pt = pt_from_mm(most_mm / title.cap_height_em)
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


def _judge_tools(job: ResolvedJob, layouts: Sequence[Layout]) -> tuple[Judged, ...]:
    """Every setting at the size asked for, or at its advised size.

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
    smallest_pt = _size_pt(sizes[0])
    floor = offer.floor
    if floor is not job.method.smallest_cap:
        floor = Sourced(smallest_pt, "pt", _OWN, Status.PRACTICE)
    return offer._replace(sizes_pt=tuple(_size_pt(one) for one in sizes), floor=floor)


def _size_pt(layout: Layout) -> float:
    assert layout.title.only_pt is not None  # every title of tools has its size
    return layout.title.only_pt


def _fits(job: ResolvedJob, layout: Layout) -> bool:
    """Whether a size fits in its own letters, and is one that the method holds."""
    size_pt = _size_pt(layout)
    held = size_pt >= offer_of(job, layout.title).floor_pt
    return held and mm_from_pt(size_pt) <= layout.limit.size_mm * (1 + SAME_SHARE)


def _largest_pt(layout: Layout) -> float:
    """The limit in points of a size's proportions, never just under the size that fits."""
    size_pt, limit_mm = _size_pt(layout), layout.limit.size_mm
    largest_pt = round_down_pt(pt_from_mm(limit_mm))
    return (
        max(largest_pt, size_pt)
        if mm_from_pt(size_pt) <= limit_mm * (1 + SAME_SHARE)
        else largest_pt
    )


def _advised_tool(job: ResolvedJob, fitting: Sequence[Layout]) -> tuple[Layout, str]:
    """The advised one of the sizes that fit, and what set it: share, eye or floor.

    Up to the share of the largest that the rules give, and with capitals no higher than the
    eye asks for; the smallest that fits where none is so small.
    """
    rules = job.rules
    share = rules.value(SHARES[fitting[-1].candidate.orientation])
    share_pt = share * _largest_pt(fitting[-1])
    most_mm = height_mm_at_arcminutes(rules.value("advised.most_arcmin"), job.reading_distance_mm)
    in_share = [one for one in fitting if _size_pt(one) <= share_pt + SAME_PT]
    for_eye = [one for one in in_share if _cap_mm(one) <= most_mm]
    if not for_eye:
        return fitting[0], "floor"
    return for_eye[-1], "share" if for_eye[-1] is in_share[-1] else "eye"


def _cap_mm(layout: Layout) -> float:
    return layout.title.cap_height_em * mm_from_pt(_size_pt(layout))
