"""At which size is a layout judged?

In: layouts with their exact largest sizes. Out: a `Judged` for each, at the size asked for or at
the advised one. The largest is a limit, not advice: the advised size is a share of it, no larger
than eyes ask for, no smaller than the method holds.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import SHARES, Judged
from spinefit.judgement.offer import Offer, offer_of
from spinefit.judgement.strength import held_from
from spinefit.layout.search import Layout
from spinefit.shaping.title import ShapedTitle
from spinefit.units import height_mm_at_arcminutes, pt_from_mm, round_down_pt
from spinefit.vocabulary import Orientation

__all__ = ["Advice", "judge_layouts"]


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
        from spinefit.judgement.tool_sizes import judge_tools

        return judge_tools(job, layouts)
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
        self._at_most = offer.taker()

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
