"""At which size is a layout judged, and does it fit there?

In: a layout with its exact largest size. Out: a `Judged` layout: the size asked for or the
advised one, what is spare on each side at that size, and whether the placing tolerance of the
method is covered. The largest is a limit, not advice: the advised size is a share of it, no
larger than eyes ask for, no smaller than the method holds.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement import placing
from spinefit.judgement.offer import Offer, offer_of
from spinefit.judgement.placing import Sides
from spinefit.judgement.strength import held_from
from spinefit.layout.search import Layout
from spinefit.shaping.title import ShapedTitle
from spinefit.units import (
    arcminutes_of,
    distance_mm_at_arcminutes,
    height_mm_at_arcminutes,
    mm_from_pt,
    pt_from_mm,
    round_down_pt,
)
from spinefit.vocabulary import Orientation, SetBy

__all__ = ["SHARES", "Judged", "advised_pt", "judge_layouts", "judged_at"]

SHARES = {
    Orientation.TRANSVERSE: "advised.across_share",
    Orientation.LONGITUDINAL: "advised.along_share",
    Orientation.PILLAR: "advised.pillar_share",
}
"""The rule by which the advised size is a share of the largest, by orientation."""

_ROUNDING = 1 + 1e-9
_SLACK_MM = 1e-9  # rounding of sums of typed decimals


class Judged(NamedTuple):
    """A layout at the size it is judged at.

    Attributes:
        layout: what is judged.
        largest_pt: its limit in DTP points, rounded down to 0.001.
        set_pt: the size judged.
        set_by: asked or advised.
        set_because: what set the size: asked, share, eye or floor.
        fits: the size is one the method offers and not above the limit, and the lettering
            keeps to its panel (over the bands it does not).
        tight: it fits, but less than the placing tolerance lies between ink and some edge.
        spare_mm: from ink to panel edge less clearance.
        to_edge_mm: from ink to what is physically there: joint, band, end.
        nearest_edge_mm: the least of these, or the distance to a curved side or an area kept
            free where that is nearer.
        centre_mm: where the placing point stands in the panel's frame.
        cap_height_mm: height of the capitals most of the title is set in.
        height_seen: the share of that height that the round of the back leaves to the eye; 1
            but for lines along a rounded back.
        arcminutes: the angle that the height seen subtends at the reading distance.
        foreshortening: cosine at the outermost ink; 1 on a flat back.
        reads_from_mm: the distance at which the height seen subtends the least legible angle.
        needs_back_mm: length of back (of panel, between bands) that longitudinal lettering
            needs where no height was given; else None.
        first_from_head_mm: from the head of the back, or of the panel given outright, to the
            first baseline of transverse lines, else to the ink; None without a height.
        offer: the sizes that can be set.
    """

    layout: Layout
    largest_pt: float
    set_pt: float
    set_by: SetBy
    set_because: str
    fits: bool
    tight: bool
    spare_mm: Sides
    to_edge_mm: Sides
    nearest_edge_mm: float
    centre_mm: tuple[float, float]
    cap_height_mm: float
    height_seen: float
    arcminutes: float
    foreshortening: float
    reads_from_mm: float
    needs_back_mm: float | None
    first_from_head_mm: float | None
    offer: Offer


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
    judged = tuple(_judged(job, title, layout, offer) for layout in layouts)
    fitting = [one.set_pt for one in judged if one.fits]
    weakest = held_from(job, title, min(fitting)) if fitting else None
    raised = offer.raised_by(weakest)
    if raised is offer:
        return judged
    return tuple(_judged(job, title, layout, raised) for layout in layouts)


def advised_pt(
    job: ResolvedJob, title: ShapedTitle, layout: Layout, offer: Offer
) -> tuple[float, str]:
    """The advised size in points, and what set it: share, eye or floor.

    A share of the largest, no larger than the eye asks for at the reading distance, in a size
    that is offered; the smallest held where that would be smaller.

    Source: rules.toml advised.*; the cap from ASR A6 and DIN EN ISO 9241-303.
    """
    rules = job.rules
    largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
    most_mm = height_mm_at_arcminutes(rules.value("advised.most_arcmin"), job.reading_distance_mm)
    eye_pt = pt_from_mm(most_mm / title.cap_height_em)
    share_pt = rules.value(SHARES[layout.candidate.orientation]) * largest_pt
    wanted = min(share_pt, eye_pt)
    size = offer.at_most(wanted)
    if size > wanted:
        return size, "floor"
    return size, "share" if share_pt <= eye_pt else "eye"


def _judged(job: ResolvedJob, title: ShapedTitle, layout: Layout, offer: Offer) -> Judged:
    asked = job.lettering.size_pt
    set_pt, why = advised_pt(job, title, layout, offer) if asked is None else (asked, "asked")
    largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
    if layout.at_size is not None:
        layout = layout.at_size(set_pt)
    return judged_at(job, layout, offer, set_pt=set_pt, why=why, largest_pt=largest_pt)


def judged_at(
    job: ResolvedJob,
    layout: Layout,
    offer: Offer,
    *,
    set_pt: float,
    why: str,
    largest_pt: float,
) -> Judged:
    """A layout at a size.

    Args:
        job: the resolved job.
        layout: what is judged.
        offer: the sizes that can be set.
        set_pt: the size, in points.
        why: what set it: asked, share, eye or floor.
        largest_pt: the layout's limit in points.
    """
    size_mm = mm_from_pt(set_pt)
    centre, spare = placing.place(job, layout, size_mm)
    beyond = placing.to_edge(job, layout, spare)
    nearest = placing.nearest_edge_mm(layout, beyond, size_mm)
    fits = offer.holds(set_pt) and set_pt <= largest_pt and not layout.over_bands
    if layout.at_size is not None:
        fits = fits and size_mm <= layout.limit.size_mm * _ROUNDING
    height_mm = layout.title.reading_height_em * size_mm
    share = placing.height_seen(layout, size_mm, centre[0])
    return Judged(
        layout=layout,
        largest_pt=largest_pt,
        set_pt=set_pt,
        set_by=SetBy.ADVISED if job.lettering.size_pt is None else SetBy.ASKED,
        set_because=why,
        fits=fits,
        tight=fits and nearest < job.method.placing.value - _SLACK_MM,
        spare_mm=spare,
        to_edge_mm=beyond,
        nearest_edge_mm=nearest,
        centre_mm=centre,
        cap_height_mm=height_mm,
        height_seen=share,
        arcminutes=arcminutes_of(share * height_mm, job.reading_distance_mm),
        foreshortening=placing.narrowing(layout, size_mm, centre[0]),
        reads_from_mm=distance_mm_at_arcminutes(
            share * height_mm, job.rules.value("legibility.least_arcmin")
        ),
        needs_back_mm=placing.needs_back_mm(job, layout, size_mm),
        first_from_head_mm=placing.first_from_head_mm(layout, size_mm, centre[1]),
        offer=offer,
    )
