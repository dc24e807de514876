"""How large is a label cut, and how does it bend on the back?

In: a job answered on its back, and a setting of it. Out: the sides of its label, as wide as the
back leaves and as long as the ink needs; the label over a round; and what the back has to say of
one that goes round over the joints. Lengths in mm.
"""

from __future__ import annotations

import math

from spinefit.catalogue import Rules
from spinefit.drawing.frame import ink_box_mm
from spinefit.geometry.back import BentLabel, bent_label, build_back, covered_mm
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.judgement import Judged
from spinefit.judgement.labels import LAP_TOPICS
from spinefit.pipeline import Answer
from spinefit.tolerances import SAME_MM, SAME_STEP
from spinefit.vocabulary import Level


def widest_mm(answer: Answer) -> float:
    """How wide a label may be cut: over a round it is wider than what it covers."""
    label = answer.report.label
    return answer.panel.width_mm if label is None else label.cut_width_mm


def bent_as_cut(job: Job, cut_width_mm: float) -> BentLabel | None:
    """How a label cut so wide bends over the back of a job; None where it does not."""
    if job.spine is None:
        return None
    resolved = resolve(job)
    assert resolved.spine is not None  # a job with a spine
    back = build_back(resolved.spine, resolved.rules)
    thickness_mm = resolved.label_thickness_mm
    if back.radius_mm is None or not back.curve_known or not thickness_mm:
        return None
    covers_mm = covered_mm(back.radius_mm, thickness_mm, cut_width_mm)
    return bent_label(back.radius_mm, thickness_mm, covers_mm)


def lap_warnings(answer: Answer) -> tuple[str, ...]:
    """What is warned of on the back of a label that goes round over the joints."""
    return tuple(
        one.text
        for one in answer.report.findings
        if one.topic in LAP_TOPICS and one.level is Level.WARNING
    )


def label_for(answer: Answer, one: Judged, rules: Rules) -> Panel:
    """Sides of a label for a setting on a back."""
    job, panel = answer.job, answer.panel
    board = job.front_board
    if board is not None and board.label_given:
        assert job.panel is not None  # the label is the panel
        return Panel(width_mm=job.panel.width_mm, height_mm=job.panel.height_mm)
    if job.label is not None:
        return job.label
    width_mm = math.floor(widest_mm(answer) * 10 + SAME_STEP) / 10
    if panel.height_mm is not None and not panel.is_plain:
        return Panel(width_mm=panel.width_mm, height_mm=panel.height_mm)
    left, bottom, right, top = ink_box_mm(one)
    # Between the ink and the label's ends: the clearance, or where there is none, the habit.
    around_mm = 2 * (job.lettering.clearance_mm or rules.value("ink_margin_mm"))
    height_mm = float(math.ceil(top - bottom + around_mm - SAME_MM))
    if job.lap is not None:
        width_mm = panel.width_mm
    if board is not None:  # no joints say how wide it is
        width_mm = min(width_mm, math.ceil(right - left + around_mm - SAME_MM))
    if one.over_old is not None and one.over_old.label_mm is not None:
        height_mm = one.over_old.label_mm[3] - one.over_old.label_mm[1]
    if panel.height_mm is not None:
        height_mm = min(height_mm, panel.height_mm)
    return Panel(width_mm=width_mm, height_mm=height_mm)
