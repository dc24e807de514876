"""What is a drawing of: one title, several texts on a back, or the volumes of a set?

In: an answer or a plan's report. Out: a `Subject` that the drawings are made of. A plan's texts
are answered again, from the jobs it was judged by, since a report holds no outlines.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit import pipeline
from spinefit.drawing.frame import Piece, piece_of
from spinefit.job.model import Job
from spinefit.pipeline import Answer
from spinefit.plan.reports import BackReport, BacksReport, SetReport
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Verdict

__all__ = ["Subject", "answer_as_reported", "subject_of", "subject_of_plan"]


class Subject(NamedTuple):
    """What a drawing is of.

    Attributes:
        backs: the texts on each back; one back, or one for each volume.
        names: what each back is called; "" where there is one.
        verdict: of the whole.
        answer: the same in a sentence.
        title: in a few words.
        findings: what concerns the whole of several texts or volumes; none for one title, whose
            findings its own report holds.
        changes: what could be done about the whole, in sentences.
    """

    backs: tuple[tuple[Piece, ...], ...]
    names: tuple[str, ...]
    verdict: Verdict
    answer: str
    title: str
    findings: tuple[FindingReport, ...] = ()
    changes: tuple[str, ...] = ()

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every text that is drawn."""
        return tuple(piece for pieces in self.backs for piece in pieces)

    @property
    def on_board(self) -> bool:
        """Whether the lettering stands on the front board, which is drawn at half size."""
        return self.backs[0][0].answer.judgement.board_place is not None


def subject_of(answer: Answer) -> Subject:
    """One title."""
    report = answer.report
    return Subject(
        ((piece_of(answer),),), ("",), report.verdict, report.answer, say.visible(report.title)
    )


def subject_of_plan(plan: BackReport | BacksReport | SetReport) -> Subject:
    """Several texts on one back, or the volumes of a set side by side."""
    if isinstance(plan, BackReport):
        labels = {one.name: (one.zone.begins_mm, one.zone.ends_mm) for one in plan.labels}
        pieces = tuple(
            piece_of(answer_as_reported(one.job, one.report), str(one.role))._replace(
                label_mm=None if one.label is None else labels[one.label]
            )
            for one in plan.texts
        )
        backs: tuple[tuple[Piece, ...], ...] = (pieces,)
        names: tuple[str, ...] = ("",)
        changes = tuple(one.text for one in plan.remedies)
        title = ", ".join(say.visible(piece.answer.report.title) for piece in pieces)
    elif isinstance(plan, BacksReport):
        backs = tuple(
            tuple(
                piece_of(answer_as_reported(one.job, one.report), str(one.role))
                for one in volume.texts
            )
            for volume in plan.volumes
        )
        names = tuple(one.label for one in plan.volumes)
        title = f"A set of {len(names)}: {', '.join(map(say.visible, names))}"
        changes = ()
    else:
        backs = tuple((piece_of(answer_as_reported(one.job, one.report)),) for one in plan.volumes)
        names = tuple(one.label for one in plan.volumes)
        title = f"A set of {len(names)}: {', '.join(map(say.visible, names))}"
        changes = tuple(one.text for one in plan.compromises)
    return Subject(backs, names, plan.verdict, plan.answer, title, plan.findings, changes)


def answer_as_reported(job: Job, report: Report) -> Answer:
    """The answer of a job with its outlines, said as the report says it."""
    return pipeline.answer(job)._replace(report=report)
