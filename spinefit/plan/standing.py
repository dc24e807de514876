"""Where does one text of a back stand, and how is it judged there?

In: a back, one of its texts, and its `Standing`. Out: the text as a `Job` of its own, and what
is judged of it. A zone is made of the back's own terms, the space kept free at head and foot, so
that every rule of a title alone holds. Lengths in mm from the head, sizes in points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import SpinefitError
from spinefit.job.model import Job, Spine
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.text import JudgedText, judge_text
from spinefit.plan.model import SHARED_WITH_JOB, BackPlan, BackText, Role, Zone
from spinefit.vocabulary import Orientation

__all__ = [
    "Standing",
    "job_in",
    "job_of",
    "judged_at",
    "judged_in",
    "leading_text",
    "resolved_title",
    "size_asked_pt",
    "spine_in",
    "title_from_head_mm",
]

_OF_THE_TEXT = {
    "TITLE": "text",
    "--font": "font",
    "--case": "case",
    "--size": "size",
    "--lines": "text",
    "--title-panel": "panel",
}


_OF_THE_TITLE = ("recess", "old_lettering", "overlap_mm")


class Standing(NamedTuple):
    """Where and how a text stands; what is None is left open.

    Attributes:
        panel: number of the panel between bands.
        zone: the stretch in mm from the head; None for all of the panel or back.
        middle_mm: where the middle of lettering across is wanted, from the head.
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


def leading_text(texts: Sequence[BackText]) -> BackText:
    """The title where it is among the texts, else the first of them."""
    return next((text for text in texts if text.role is Role.TITLE), texts[0])


def size_asked_pt(plan: BackPlan, text: BackText) -> float | None:
    """The size that a text is to be judged at; that of the plan is the title's."""
    if text.size_pt is None and text.role is Role.TITLE:
        return plan.lettering.size_pt
    return text.size_pt


def job_of(plan: BackPlan, text: BackText) -> Job:
    """The text as a job of its own on the whole back, its size left open."""
    said = {name: getattr(plan, name) for name in SHARED_WITH_JOB}
    lettering = replace(
        plan.lettering,
        size_pt=None,
        case=text.case or plan.lettering.case,
        font=text.font or plan.lettering.font,
    )
    if text.font is not None and plan.lettering.font is not None:
        lettering = replace(lettering, face=None, axes=None)
    if text.role is not Role.TITLE:
        lettering = replace(lettering, lines=None)
        said |= dict.fromkeys(_OF_THE_TITLE)
    return Job(**said | {"title": text.text, "lettering": lettering})


def job_in(plan: BackPlan, text: BackText, standing: Standing) -> Job:
    """The text as a job of its own where it stands."""
    job = job_of(plan, text)
    lettering = replace(job.lettering, size_pt=standing.size_pt)
    if standing.orientation is not None:
        lettering = replace(lettering, orientation=standing.orientation)
    if standing.lines is not None:
        lettering = replace(lettering, lines=standing.lines)
    if standing.leading_em is not None:
        lettering = replace(lettering, leading_em=standing.leading_em)
    job = replace(job, lettering=lettering)
    if plan.spine is None:
        return job
    panel = text.panel if standing.panel is None and plan.is_single else standing.panel
    return replace(
        job,
        spine=spine_in(plan.spine, panel=panel, zone=standing.zone, middle_mm=standing.middle_mm),
    )


def spine_in(
    spine: Spine,
    *,
    panel: int | None = None,
    zone: Zone | None = None,
    middle_mm: float | None = None,
) -> Spine:
    """The back of which only a panel or a zone is left for lettering; as of `Standing`."""
    if panel is not None:
        spine = replace(spine, title_panel=panel)
    if zone is not None:
        assert spine.height_mm is not None  # a zone is a stretch of a known height
        spine = replace(spine, head_mm=zone.begins_mm, foot_mm=spine.height_mm - zone.ends_mm)
    return spine if middle_mm is None else replace(spine, from_head_mm=middle_mm)


def judged_in(plan: BackPlan, text: BackText, standing: Standing) -> tuple[Job, JudgedText]:
    """The text as a job where it stands, and that job judged.

    Raises:
        SpinefitError: as of `judge_text`, its place naming the text by number.
    """
    job = job_in(plan, text, standing)
    return job, judged_at(plan, text, job)


def judged_at(plan: BackPlan, text: BackText, job: Job) -> JudgedText:
    """The job of a text, judged; faults as of `judged_in`."""
    try:
        return judge_text(job, verify=True)
    except SpinefitError as fault:
        raise _at_text(fault, plan, text) from None


def resolved_title(plan: BackPlan) -> ResolvedJob:
    """The title on the whole back, checked and completed; faults as of `judged_in`."""
    title = leading_text(plan.texts)
    try:
        return resolve(job_in(plan, title, Standing()))
    except SpinefitError as fault:
        raise _at_text(fault, plan, title) from None


def _at_text(fault: SpinefitError, plan: BackPlan, text: BackText) -> SpinefitError:
    if fault.where in _OF_THE_TEXT:
        number = [one.role for one in plan.texts].index(text.role) + 1
        fault.where = f"text {number}: {_OF_THE_TEXT[fault.where]}"
    return fault


def title_from_head_mm(job: ResolvedJob) -> float:
    """Where the middle of a title across a back without bands is wanted, in mm from the head."""
    assert job.spine is not None and job.spine.height_mm is not None  # several texts need both
    if job.spine.from_head_mm is not None:
        return job.spine.from_head_mm
    return job.rules.value("ends.from_head") * job.spine.height_mm
