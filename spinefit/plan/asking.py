"""What does a text ask of its back, and how is it found to stand there?

What planning one back and planning several alike have in common: a text's `Demand`, made of
its own `check`, and its `TextReport`. Lengths in mm, sizes in points.
"""

from __future__ import annotations

from dataclasses import replace

from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.offer import offer_of
from spinefit.plan.back_words import shown
from spinefit.plan.demand import Demand, settings_of
from spinefit.plan.model import BackPlan, BackText, Relation, Role
from spinefit.plan.reports import TextReport, Zone
from spinefit.plan.seats import Seat
from spinefit.plan.text_jobs import Standing, checked, job_of, leading_of
from spinefit.say.model import Report
from spinefit.shaping import shape_title
from spinefit.vocabulary import Orientation

__all__ = ["demand_of", "room_of", "text_report", "title_from_head_mm", "way_of"]


def title_from_head_mm(job: ResolvedJob) -> float:
    """Where the middle of a title across a back without bands is wanted, in mm from the head."""
    assert job.spine is not None and job.spine.height_mm is not None  # a plan has both
    if job.spine.from_head_mm is not None:
        return job.spine.from_head_mm
    return job.rules.value("ends.from_head") * job.spine.height_mm


def demand_of(plan: BackPlan, job: ResolvedJob, text: BackText, standing: Standing) -> Demand:
    """What a text asks of the stretch it stands in, as `check` finds it there alone.

    Args:
        plan: the back.
        job: the resolved job of the title, for rules and clearance.
        text: the text.
        standing: its panel, orientation and, where it is settled, its leading.
    """
    orientation = standing.orientation
    assert orientation is not None  # a stretch has one
    report = checked(plan, text, standing)
    clearance_mm = job.lettering.clearance_mm
    on_label = text.label is not None  # which keeps its margin once, round all of its texts
    own = resolve(job_of(plan, text))
    title = shape_title(own)
    ratio = 1.0
    if text.role is not Role.TITLE and plan.relation is Relation.GRADED:
        ratio = job.rules.value(f"plan.{text.role}_ratio")
    size_pt = text.size_pt
    if size_pt is None and text.role is Role.TITLE:
        size_pt = plan.lettering.size_pt
    return Demand(
        text=replace(text, size_pt=size_pt),
        settings=settings_of(
            report,
            orientation,
            job.rules,
            clearance_mm=clearance_mm,
            prefer=text.role is Role.TITLE,
        ),
        ratio=ratio,
        offer=offer_of(own, title),
        pad_mm=0.0 if on_label else 2 * clearance_mm,
        job=own,
        title=title,
    )


def text_report(
    text: BackText, panel: int | None, zone: Zone, report: Report, job: Job
) -> TextReport:
    """A text in its zone, as it was found."""
    return TextReport(
        role=text.role,
        text=text.text,
        panel=panel,
        zone=zone,
        set_pt=shown(report).set_pt,
        fits=report.fits,
        report=report,
        job=job,
        label=text.label,
    )


def room_of(seat: Seat) -> Zone | None:
    """What of its panel, or of the back, a text of a seat is tried in; None for all of it."""
    if seat.label is not None:
        return seat.label.zone if seat.label.is_given else None
    return seat.zone if seat.is_part else None


def way_of(plan: BackPlan, seat: Seat) -> Orientation:
    """Which way the leading text of a seat would run if the seat were its own."""
    asked = plan.lettering.orientation
    if asked not in (None, Orientation.ANY):
        return asked
    standing = Standing(panel=seat.panel, zone=room_of(seat))
    return shown(checked(plan, leading_of(seat.texts), standing)).orientation
