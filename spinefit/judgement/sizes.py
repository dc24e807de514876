"""At which size is a layout judged, and does it fit there?

In: a layout with its exact largest size. Out: a `Judged` layout: the size asked for or the
advised one, what is spare on each side at that size, and whether the placing tolerance of the
method is covered. The largest is a limit, not advice: the advised size is a share of it, no
larger than eyes ask for, no smaller than the method holds.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import Method
from spinefit.geometry import foreshortening, turn_box
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.layout.search import Layout
from spinefit.shaping.title import ShapedTitle
from spinefit.units import (
    arcminutes_of,
    distance_mm_at_arcminutes,
    height_mm_at_arcminutes,
    mm_from_pt,
    pt_from_mm,
    round_down_pt,
    step_down_pt,
)
from spinefit.vocabulary import Orientation, SetBy

__all__ = ["Judged", "Sides", "advised_pt", "judge_layout", "smallest_offered_pt"]

_SHARE = {
    Orientation.TRANSVERSE: "advised.across_share",
    Orientation.LONGITUDINAL: "advised.along_share",
    Orientation.PILLAR: "advised.pillar_share",
}
_SLACK_MM = 1e-9  # rounding of sums of typed decimals


class Sides(NamedTuple):
    """A length in mm on each side of the panel, None where there is no edge."""

    left: float
    right: float
    head: float | None
    tail: float | None

    def known(self) -> list[float]:
        """The lengths that are known."""
        return [side for side in (self.left, self.right, self.head, self.tail) if side is not None]


class Judged(NamedTuple):
    """A layout at the size it is judged at.

    Attributes:
        layout: what is judged.
        largest_pt: its limit in DTP points, rounded down to 0.001.
        set_pt: the size judged.
        set_by: asked or advised.
        fits: the size is one the method offers and not above the limit, and the lettering
            keeps to its panel (over the bands it does not).
        tight: it fits, but less than the placing tolerance lies between ink and some edge.
        spare_mm: from ink to panel edge less clearance.
        to_edge_mm: from ink to what is physically there: joint, band, end.
        centre_mm: where the placing point stands in the panel's frame.
        cap_height_mm: height of the capitals most of the title is set in.
        arcminutes: the angle that height subtends at the reading distance.
        foreshortening: cosine at the outermost ink; 1 on a flat back.
        reads_from_mm: the distance at which that height subtends the least legible angle.
        needs_back_mm: length of back (of panel, between bands) that longitudinal lettering
            needs where no height was given; else None.
        first_from_head_mm: from the head of the back, or of the panel given outright, to the
            first baseline of transverse lines, else to the ink; None without a height.
        findings: what was found about it.
    """

    layout: Layout
    largest_pt: float
    set_pt: float
    set_by: SetBy
    fits: bool
    tight: bool
    spare_mm: Sides
    to_edge_mm: Sides
    centre_mm: tuple[float, float]
    cap_height_mm: float
    arcminutes: float
    foreshortening: float
    reads_from_mm: float
    needs_back_mm: float | None
    first_from_head_mm: float | None
    findings: tuple[Finding, ...] = ()


def smallest_offered_pt(method: Method) -> float:
    """The smallest size a method offers, in points."""
    return method.smallest.value


def advised_pt(job: ResolvedJob, title: ShapedTitle, layout: Layout) -> float:
    """The advised size in points: design by share, capped by the eye, floored by the method.

    Source: rules.toml advised.*; the cap from ASR A6 and DIN EN ISO 9241-303.
    """
    rules, method = job.rules, job.method
    largest = pt_from_mm(layout.limit.size_mm)
    most_mm = height_mm_at_arcminutes(rules.value("advised.most_arcmin"), job.reading_distance_mm)
    eye_pt = pt_from_mm(most_mm / title.reading_height_em)
    share = rules.value(_SHARE[layout.candidate.orientation])
    size = step_down_pt(min(share * largest, eye_pt), method.step.value)
    return max(size, smallest_offered_pt(method))


def judge_layout(job: ResolvedJob, title: ShapedTitle, layout: Layout) -> Judged:
    """A layout at the size asked for, or at its advised size."""
    asked = job.lettering.size_pt
    set_pt = advised_pt(job, title, layout) if asked is None else asked
    largest_pt = round_down_pt(pt_from_mm(layout.limit.size_mm))
    size_mm = mm_from_pt(set_pt)
    centre, spare = _place(job, layout, size_mm)
    to_edge = _to_edge(layout, spare, job.lettering.clearance_mm)
    fits = smallest_offered_pt(job.method) <= set_pt <= largest_pt and not layout.over_bands
    tight = fits and min(to_edge.known()) < job.method.placing.value - _SLACK_MM
    height_mm = title.reading_height_em * size_mm
    return Judged(
        layout=layout,
        largest_pt=largest_pt,
        set_pt=set_pt,
        set_by=SetBy.ADVISED if asked is None else SetBy.ASKED,
        fits=fits,
        tight=tight,
        spare_mm=spare,
        to_edge_mm=to_edge,
        centre_mm=centre,
        cap_height_mm=height_mm,
        arcminutes=arcminutes_of(height_mm, job.reading_distance_mm),
        foreshortening=_foreshortening(layout, size_mm, centre[0]),
        reads_from_mm=distance_mm_at_arcminutes(
            height_mm, job.rules.value("legibility.least_arcmin")
        ),
        needs_back_mm=_needs_back_mm(job, layout, size_mm),
        first_from_head_mm=_first_from_head_mm(layout, size_mm, centre[1]),
    )


def _needs_back_mm(job: ResolvedJob, layout: Layout, size_mm: float) -> float | None:
    along = layout.candidate.orientation is not Orientation.TRANSVERSE
    if layout.panel.height_mm is not None or job.spine is None or not along:
        return None
    _left, bottom, _right, top = turn_box(layout.group.box, layout.candidate.turn)
    # Centred on the panel, so that the longer side counts twice.
    ink_mm = 2 * max(top, -bottom) * size_mm + 2 * job.lettering.clearance_mm
    return ink_mm if job.spine.bands else ink_mm + job.spine.head_mm + job.spine.foot_mm


def _first_from_head_mm(layout: Layout, size_mm: float, y_mm: float) -> float | None:
    panel = layout.panel
    if panel.height_mm is None:
        return None
    from_head_mm = panel.middle_from_head_mm
    if from_head_mm is None:
        from_head_mm = panel.height_mm / 2
    if layout.candidate.orientation is Orientation.TRANSVERSE:
        return from_head_mm - y_mm - layout.group.baselines_em[0] * size_mm
    top = turn_box(layout.group.box, layout.candidate.turn)[3]
    return from_head_mm - y_mm - top * size_mm


def _place(job: ResolvedJob, layout: Layout, size_mm: float) -> tuple[tuple[float, float], Sides]:
    """Where the group stands at a size, and what is spare around it, in mm."""
    panel, clearance = layout.panel, job.lettering.clearance_mm
    left, bottom, right, top = (
        edge * size_mm for edge in turn_box(layout.group.box, layout.candidate.turn)
    )
    x, y = layout.limit.centre_mm
    half_mm = panel.width_mm / 2 - clearance
    head = tail = None
    if panel.height_mm is not None:
        end_mm = panel.height_mm / 2 - clearance
        if layout.floats:
            y = _quarter_down(job, layout, top, bottom, end_mm)
        head, tail = end_mm - (y + top), end_mm + (y + bottom)
    spare = Sides(left=half_mm + x + left, right=half_mm - x - right, head=head, tail=tail)
    return (x, y), spare


def _quarter_down(
    job: ResolvedJob, layout: Layout, top: float, bottom: float, end_mm: float
) -> float:
    """Y of the middle of lettering across an unbanded back, in the panel's frame, in mm.

    As far from the head as was asked, else a quarter of the back's height down (common
    practice); or as much lower or higher as the ends of the panel ask for.
    """
    panel = layout.panel
    if panel.middle_from_head_mm is None or panel.back_height_mm is None:
        return 0.0
    from_head_mm = None if job.spine is None else job.spine.from_head_mm
    if from_head_mm is None:
        from_head_mm = job.rules.value("ends.from_head") * panel.back_height_mm
    wanted = panel.middle_from_head_mm - from_head_mm
    highest, lowest = end_mm - top, -end_mm - bottom
    if highest < lowest:
        return (highest + lowest) / 2
    return min(max(wanted, lowest), highest)


def _to_edge(layout: Layout, spare: Sides, clearance_mm: float) -> Sides:
    panel = layout.panel

    def beyond(side: float | None, margin: float | None) -> float | None:
        return None if side is None or margin is None else side + margin + clearance_mm

    return Sides(
        left=spare.left + panel.margin_left_mm + clearance_mm,
        right=spare.right + panel.margin_right_mm + clearance_mm,
        head=beyond(spare.head, panel.margin_head_mm),
        tail=beyond(spare.tail, panel.margin_tail_mm),
    )


def _foreshortening(layout: Layout, size_mm: float, x_mm: float) -> float:
    back = layout.panel.back
    if back is None:
        return 1.0
    left, _bottom, right, _top = turn_box(layout.group.box, layout.candidate.turn)
    outermost = max(abs(x_mm + left * size_mm), abs(x_mm + right * size_mm))
    return foreshortening(back, outermost)
