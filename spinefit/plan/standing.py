"""Where does one text of a back stand, how is it judged there, and brought to a height?

In: a back, one of its texts, and its `Standing`, or a height over the shelf. Out: the text as a
`Job` of its own, and what is judged of it. Place and height are made of the back's own terms,
from-head and the space kept free at head and foot, so that every rule of a title alone holds; a
label given outright is not moved. Lengths in mm from the head, heights from the tail, sizes in
points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import SpinefitError
from spinefit.geometry.panels import divide
from spinefit.job.model import Job, Spine
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.job.values import OldLettering
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.text import JudgedText, judge_text
from spinefit.plan.model import BackPlan, BackText, Zone, said_of
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Level, Orientation, Reading, Role, Status

_OF_THE_TEXT = {
    "TITLE": "text",
    "--font": "font",
    "--case": "case",
    "--size": "size",
    "--title-panel": "panel",
}
_OF_THE_TITLE = ("recess", "overlap_mm")


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
    """The size that a text is to be judged at; that of the plan is the title's, or one alone's."""
    if text.size_pt is not None:
        return text.size_pt
    if text.role is Role.TITLE or (plan.is_single and plan.lettering.size_pt is not None):
        return plan.lettering.size_pt
    if text.role is Role.CALL_NUMBER and plan.call_number is not None:
        return plan.call_number.size_pt
    return text.size_pt


def job_of(plan: BackPlan, text: BackText) -> Job:
    """The text as a job of its own on the whole back, its size left open."""
    said = said_of(plan)
    if text.role is not Role.CALL_NUMBER:
        said["call_number"] = None
    lettering = replace(
        plan.lettering,
        size_pt=None,
        case=text.case or plan.lettering.case,
        font=text.font or plan.lettering.font,
    )
    if text.font is not None and plan.lettering.font is not None:
        lettering = replace(lettering, face=None, axes=None)
    leads = text.role is leading_text(plan.texts).role
    if not leads or text.lines_up_mm is not None or text.lines_tracking is not None:
        lettering = replace(
            lettering, lines_up_mm=text.lines_up_mm, lines_tracking=text.lines_tracking
        )
    if not leads:
        lettering = replace(lettering, lines=None)
        said |= dict.fromkeys(_OF_THE_TITLE) | {"old_lettering": _beside(plan, text)}
    return Job(**said | {"title": text.text, "lettering": lettering, "role": text.role})


def _beside(plan: BackPlan, text: BackText) -> OldLettering | None:
    """Old lettering that a text has to stand clear of: not where it lies on the label over it."""
    old, title = plan.old_lettering, leading_text(plan.texts)
    if old is None or old.from_head_mm is None:
        return None
    if text.label is not None and text.label == title.label:
        return None
    return replace(old, of_another=True)


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


def judged_in(
    plan: BackPlan, text: BackText, standing: Standing, *, closed: bool = True
) -> JudgedText:
    """The text as a job where it stands, judged.

    Its lines are left ``closed`` while it is not known what room they have.

    Raises:
        SpinefitError: as of `judge_text`, its place naming the text by number.
    """
    return _judged_at(plan, text, job_in(plan, text, standing), closed=closed)


def _judged_at(plan: BackPlan, text: BackText, job: Job, *, closed: bool = True) -> JudgedText:
    """The job of a text, judged; faults as of `judged_in`."""
    try:
        return judge_text(job, font_choice=plan.font_choice, closed=closed)
    except SpinefitError as fault:
        raise _at_text(fault, plan, text) from None


def resolved_title(plan: BackPlan) -> ResolvedJob:
    """The title on the whole back, checked and completed; faults as of `judged_in`."""
    title = leading_text(plan.texts)
    try:
        job = job_in(plan, title, Standing(size_pt=size_asked_pt(plan, title)))
        return resolve(job, font_choice=plan.font_choice or 0)
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


_LEAST_WINDOW_MM = 0.01
SAFE_PT = 0.002
"""Limits are stated rounded down to 0.001 pt; a height is found for a size larger by this."""


class Reach(NamedTuple):
    """How far one volume's lettering reaches from where it stands, and where it may stand.

    Attributes:
        lowest_mm, highest_mm: ends of the usable panel less clearance, from the tail.
        up_mm, down_mm: reach of the ink towards head and tail, in mm for each point of size,
            from the first baseline across the back, from where the lettering begins along it.
    """

    lowest_mm: float
    highest_mm: float
    up_mm: float
    down_mm: float


def stands_mm(job: ResolvedJob, shown: Judged) -> float | None:
    """First baseline across the back, or beginning of the lettering along it, from the tail."""
    height_mm = _height_mm(job)
    first_mm = shown.first_from_head_mm
    if height_mm is None or first_mm is None:
        return None
    if shown.reading is Reading.ASCENDING:
        return height_mm - first_mm - shown.ink_width_mm
    return height_mm - first_mm


def _height_mm(job: ResolvedJob) -> float | None:
    if job.spine is not None:
        return job.spine.height_mm
    return None if job.panel is None else job.panel.height_mm


def reach_of(job: ResolvedJob, shown: Judged) -> Reach | None:
    """The reach of a setting; None where the height is open or the panel given outright."""
    stands, spare = stands_mm(job, shown), shown.spare_mm
    if stands is None or job.spine is None or job.spine.height_mm is None:
        return None
    if spare.head is None or spare.tail is None:
        return None
    zone, clearance_mm = lettered_zone(job.spine), job.lettering.clearance_mm
    highest_mm = job.spine.height_mm - zone.begins_mm - clearance_mm
    lowest_mm = job.spine.height_mm - zone.ends_mm + clearance_mm
    return Reach(
        lowest_mm=lowest_mm,
        highest_mm=highest_mm,
        up_mm=(highest_mm - spare.head - stands) / shown.set_pt,
        down_mm=(stands - lowest_mm - spare.tail) / shown.set_pt,
    )


def largest_together_pt(reaches: Sequence[Reach]) -> float:
    """The largest size, in points, at which all can stand at one height."""
    return min(
        (upper.highest_mm - lower.lowest_mm) / (lower.down_mm + upper.up_mm)
        for lower in reaches
        for upper in reaches
    )


def common_height_mm(reaches: Sequence[Reach], wanted_mm: float | None, size_pt: float) -> float:
    """The height from the tail at which all can stand, in mm.

    Args:
        reaches: of all volumes.
        wanted_mm: the nearest to it is taken; None for the middle of what is possible.
        size_pt: the size of all.
    """
    size_pt += SAFE_PT
    lowest = max(one.lowest_mm + one.down_mm * size_pt for one in reaches)
    highest = min(one.highest_mm - one.up_mm * size_pt for one in reaches)
    if wanted_mm is None or highest < lowest:
        return (lowest + highest) / 2
    return min(max(wanted_mm, lowest), highest)


def at_height(
    plan: BackPlan, text: BackText, judged: JudgedText, wanted_mm: float
) -> tuple[JudgedText, tuple[Finding, ...]]:
    """A text brought to a height from the tail, and a finding where it cannot be.

    It then is left where it stands by itself.
    """
    for _ in range(2):  # another split may be taken once it is moved
        other = _moved(judged, wanted_mm)
        if other is None or other == judged.asked:
            break
        judged = _judged_at(plan, text, other)
    stands = stands_mm(judged.job, judged.shown)
    if stands is not None and abs(stands - wanted_mm) <= SAME_MM:
        return judged, ()
    return judged, (_out_of_line(stands, wanted_mm),)


def _out_of_line(stands: float | None, wanted_mm: float) -> Finding:
    """What is found of lettering that cannot be brought to the height of the others."""
    return Finding(
        topic="pattern-height",
        level=Level.FAILURE,
        value=stands,
        limit=wanted_mm,
        unit="mm",
        source="common practice: volumes of a set are lettered at one height",
        status=Status.PRACTICE,
    )


def _moved(judged: JudgedText, wanted_mm: float) -> Job | None:
    """Its job with the lettering at that height from the tail; None where it cannot be."""
    job, shown, spine = judged.asked, judged.shown, judged.job.spine
    stands = stands_mm(judged.job, shown)
    if stands is None or job.spine is None or spine is None or spine.height_mm is None:
        return None
    up_mm, old = wanted_mm - stands, judged.job.old_lettering
    over_old = old is not None and old.covered and shown.layout.floats
    if over_old or abs(up_mm) <= SAME_MM:
        return _label_moved(judged, up_mm) if over_old else job
    plain, banded = job.shape is None, bool(spine.bands or spine.bands_at_mm)
    if shown.orientation is Orientation.TRANSVERSE and plain and not banded:
        from_head_mm = spine.height_mm - wanted_mm + shown.baselines_mm[0]
        if not 0 <= from_head_mm <= spine.height_mm:
            return None
        return replace(job, spine=replace(job.spine, from_head_mm=from_head_mm))
    zone = lettered_zone(spine)
    middle_mm = zone.middle_mm - up_mm
    half_mm = min(middle_mm - zone.begins_mm, zone.ends_mm - middle_mm)
    if half_mm < _LEAST_WINDOW_MM or not plain:
        return None
    window = Zone(middle_mm - half_mm, middle_mm + half_mm)
    return replace(job, spine=spine_in(job.spine, zone=window))


def _label_moved(judged: JudgedText, up_mm: float) -> Job:
    """The job with its label so much higher over old lettering."""
    job, middle_mm = judged.asked, judged.panel.middle_from_head_mm
    y_mm = judged.shown.centre_mm[1]
    assert job.old_lettering is not None and middle_mm is not None  # the height is known
    return replace(job, old_lettering=replace(job.old_lettering, at_mm=middle_mm - y_mm - up_mm))


def lettered_zone(spine: ResolvedSpine) -> Zone:
    """The panel that is lettered, or the whole back; its height is known."""
    spans = divide(spine)
    span = spans[spine.title_panel - 1 if len(spans) > 1 else 0]
    return Zone(span.top_mm, span.bottom_mm)
