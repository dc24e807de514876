"""At which size is each layout judged?

In: layouts with their exact largest sizes, which are limits, no advice. Out: each judged at the
size asked for, or at the advised one: what `custom` aims at, in a size that is offered and held.
Letters that are tools come in the sizes of the set, each of its own proportions.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import Aim
from spinefit.judgement.judged import Judged
from spinefit.judgement.offer import Offer, held_from, offer_of
from spinefit.layout.standing import Layout, LayoutKey, key_of
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_PT, SAME_SHARE
from spinefit.units import mm_from_pt, pt_from_mm, round_down_pt
from spinefit.vocabulary import Sourced, Status

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
    judged = _judged(job, layouts, offer)
    fitting = [one.set_pt for one in judged if one.fits]
    # Where nothing fits, letters that no size here holds are the graver fault.
    weakest = held_from(job, title, min(fitting, default=offer.smallest_pt()))
    raised = offer.raised_by(weakest)
    return judged if raised is offer else _judged(job, layouts, raised)


def _judged(job: ResolvedJob, layouts: Sequence[Layout], offer: Offer) -> tuple[Judged, ...]:
    return tuple(map(judge_in(job, offer, Aim(job)), layouts))


def judge_in(job: ResolvedJob, offer: Offer, aim: Aim) -> Callable[[Layout], Judged]:
    """What judges a layout at the size asked for, or at its advised size of those offered."""
    asked = job.lettering.size_pt

    def judged(layout: Layout) -> Judged:
        largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
        if asked is None:
            set_pt, why = advised(aim, offer, layout, largest_pt)
        else:
            set_pt, why = asked, "asked"
        own = layout if layout.at_size is None else layout.at_size(set_pt)
        return Judged(
            job, own, offer, set_pt=set_pt, why=why, largest_pt=largest_pt, limit=layout.limit
        )

    return judged


def advised(aim: Aim, offer: Offer, layout: Layout, largest_pt: float) -> tuple[float, str]:
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
