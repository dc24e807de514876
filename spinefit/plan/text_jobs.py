"""What job is one text of a back, alone in its zone?

In: a plan, one of its texts and where it stands. Out: a `Job`, or what `pipeline.check` says
of it, a fault naming the text. A zone is made of the back's own terms, the space kept free at
head and foot, so that every rule of a check holds. Lengths in mm from the head.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit import pipeline
from spinefit.errors import SpinefitError
from spinefit.job.model import Job, Spine
from spinefit.plan.model import BackPlan, BackText, Role
from spinefit.plan.reports import Zone
from spinefit.say.model import Report
from spinefit.vocabulary import Orientation

__all__ = ["Standing", "checked", "job_in", "job_of", "leading_of", "report_of", "spine_in"]

_OF_THE_TEXT = {
    "TITLE": "text",
    "--font": "font",
    "--case": "case",
    "--size": "size",
    "--lines": "text",
    "--title-panel": "panel",
}


def leading_of(texts: Sequence[BackText]) -> BackText:
    """The title where it is among the texts, else the first of them."""
    return next((text for text in texts if text.role is Role.TITLE), texts[0])


def spine_in(
    spine: Spine,
    *,
    panel: int | None = None,
    zone: Zone | None = None,
    middle_mm: float | None = None,
) -> Spine:
    """The back of which only a panel or a zone is left for lettering.

    Args:
        spine: the back, its height known where a zone is given.
        panel: number of the panel between bands.
        zone: the stretch in mm from the head; None for all of the panel or back.
        middle_mm: where the middle of lettering across is wanted, from the head.
    """
    if panel is not None:
        spine = replace(spine, title_panel=panel)
    if zone is not None:
        assert spine.height_mm is not None  # a zone is a stretch of a known height
        spine = replace(spine, head_mm=zone.begins_mm, foot_mm=spine.height_mm - zone.ends_mm)
    return spine if middle_mm is None else replace(spine, from_head_mm=middle_mm)


def job_of(plan: BackPlan, text: BackText) -> Job:
    """The text as a job of its own on the whole back, its size left open."""
    lines = plan.lettering.lines if text.role is Role.TITLE else None
    return Job(
        title=text.text,
        spine=plan.spine,
        lettering=replace(
            plan.lettering,
            size_pt=None,
            lines=lines,
            case=text.case or plan.lettering.case,
            font=text.font or plan.lettering.font,
            face=plan.lettering.face if text.font is None else None,
            axes=plan.lettering.axes if text.font is None else None,
        ),
        market=plan.market,
        language=plan.language,
        method=plan.method,
        reading_distance_mm=plan.reading_distance_mm,
        slash_breaks=plan.slash_breaks,
        label_thickness_mm=plan.label_thickness_mm,
    )


class Standing(NamedTuple):
    """Where and how a text stands; what is None is left open.

    Attributes:
        panel, zone, middle_mm: as of `spine_in`.
        orientation: the only one to be tried.
        size_pt: the size to judge, in DTP points; None for the advised one.
        lines: the only number of lines to be tried.
        leading_em: distance of baselines in em.
    """

    panel: int | None = None
    zone: Zone | None = None
    middle_mm: float | None = None
    orientation: Orientation | None = None
    size_pt: float | None = None
    lines: int | None = None
    leading_em: float | None = None


def job_in(plan: BackPlan, text: BackText, standing: Standing) -> Job:
    """The text as a job of its own where it stands."""
    job = job_of(plan, text)
    spine = spine_in(
        plan.spine, panel=standing.panel, zone=standing.zone, middle_mm=standing.middle_mm
    )
    lettering = replace(job.lettering, size_pt=standing.size_pt)
    if standing.orientation is not None:
        lettering = replace(lettering, orientation=standing.orientation)
    if standing.lines is not None:
        lettering = replace(lettering, lines=standing.lines)
    if standing.leading_em is not None:
        lettering = replace(lettering, leading_em=standing.leading_em)
    return replace(job, spine=spine, lettering=lettering)


def checked(plan: BackPlan, text: BackText, standing: Standing) -> Report:
    """What `check` says of a text there.

    Raises:
        SpinefitError: as of `check`, its place naming the text by number.
    """
    return report_of(plan, text, job_in(plan, text, standing))


def report_of(plan: BackPlan, text: BackText, job: Job) -> Report:
    """What `check` says of the job of a text; faults as of `checked`."""
    try:
        return pipeline.check(job, verify=True)
    except SpinefitError as fault:
        if fault.where in _OF_THE_TEXT:
            number = [one.role for one in plan.texts].index(text.role) + 1
            fault.where = f"text {number}: {_OF_THE_TEXT[fault.where]}"
        raise
