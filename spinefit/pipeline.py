"""From a job to its report, in one call.

In: a job. Out: its `Report`, or an `Answer` for those who also draw it. Judged by `judgement`, said
by `say`; nothing is worked out here. Pure but for reading the font file.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.geometry import UsablePanel
from spinefit.job.model import Job
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement import Judgement
from spinefit.judgement.text import JudgedText, judge_text
from spinefit.say.build import build_report
from spinefit.say.model import Report
from spinefit.say.thickness import beside_estimate


class Answer(NamedTuple):
    """A report, and what the stages handed on to make it, for those who draw it.

    Attributes:
        job: the job, checked and completed.
        panel: its usable panel.
        judgement: every layout with its outlines, in the order of the report's ``layouts``.
        report: what is said.
    """

    job: ResolvedJob
    panel: UsablePanel
    judgement: Judgement
    report: Report


def check(job: Job, *, verify: bool = False) -> Report:
    """Will this title fit, how large, in which lines, running which way?

    Args:
        job: the title, the spine or panel, and how it is to be lettered; mm and points.
        verify: also ask the geometry engine whether the advised layout's outlines lie inside
            the panel at the largest size and outside just above it. Panels that are not
            plain rectangles are always verified.

    Returns:
        The report; a title that does not fit is a result, not an error.

    Raises:
        SpinefitError: what was asked cannot be, the font cannot serve, or (never seen) the
            engine disagrees with the arithmetic.

    >>> from spinefit.job import Job, Spine
    >>> check(Job(title="The Harbour Light", spine=Spine(width_mm=9, height_mm=210))).fits
    True
    """
    return answer(job, verify=verify).report


def answer(job: Job, *, verify: bool = False) -> Answer:
    """The same as `check`, with what a drawing needs beside the report."""
    judged = judge_text(job, verify=verify)
    return answer_of(judged, beside_estimate(build_report(judged), judged.job))


def answer_of(judged: JudgedText, report: Report) -> Answer:
    """A judged text with what was said of it."""
    return Answer(judged.job, judged.panel, judged.judgement, report)
