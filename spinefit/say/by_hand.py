"""How are lines told that were moved or spaced by hand?"""

from __future__ import annotations

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.say.model import LayoutReport, NudgeReport
from spinefit.say.phrasing import bare_mm, listed


def nudges_of(job: ResolvedJob, one: Judged) -> tuple[NudgeReport, ...]:
    """What was done to each line of a setting; empty where nothing was."""
    found: list[NudgeReport] = []
    usual = NudgeReport(0.0, round(job.lettering.tracking_em * 1000, 9))
    for text in one.layout.title.texts:
        own = job.parts[text.number - 1].nudges if text.number else ()
        nudges = own or (job.lettering.nudges if text.leads else ())
        lines = [line for line in one.layout.group.set_lines if line.number == text.number]
        found += [
            NudgeReport(nudge.up_mm, round(nudge.tracking_em * 1000, 9)) for nudge in nudges
        ] or [usual] * len(lines)
    return tuple(found) if set(found) - {usual} else ()


def by_hand_in_words(layout: LayoutReport) -> str:
    """What was done to its lines, in a sentence: "line 2 0.4 mm higher"."""
    found = []
    for number, nudge in enumerate(layout.nudges, 1):
        words = []
        if nudge.up_mm:
            way = "higher" if nudge.up_mm > 0 else "lower"
            words.append(f"{bare_mm(abs(nudge.up_mm))} mm {way}")
        if nudge.tracking != min(one.tracking for one in layout.nudges):
            words.append(f"tracking {nudge.tracking:g}")
        if words:
            found.append(f"line {number} {', '.join(words)}")
    return listed(found)
