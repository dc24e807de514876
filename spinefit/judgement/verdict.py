"""Does the title fit, and what is advised?

The entry point of the judgement stage. In: the job, its panel and its layouts, judged. Out: a
`Judgement`: the advised layout, the verdict and findings. Legibility is graded and never
decides. Remedies are looked for by `remedies`, only where somebody wants them.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.book_findings import (
    back_findings,
    convention_findings,
    lettering_findings,
)
from spinefit.judgement.choice import choose
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.layout.search import Layout
from spinefit.vocabulary import LimitedBy, Verdict

if TYPE_CHECKING:
    from spinefit.geometry.recess import RecessPlan
    from spinefit.judgement.labels import BoardPlace

__all__ = ["Judgement", "judge", "verdict_of"]


class Judgement(NamedTuple):
    """The trade's answer.

    Attributes:
        verdict: fits, tight, or does not fit.
        judged: every layout, in the order given.
        recommended: index of the advised one, or None.
        findings: what concerns the job as a whole.
        could_improve: whether a change might make it fit, be placed with room, be read with
            ease, or cover old lettering.
        board_place: where the label stands on a front board; None elsewhere.
        recess: the recess for the label, where one is wanted.
    """

    verdict: Verdict
    judged: tuple[Judged, ...]
    recommended: int | None
    findings: tuple[Finding, ...]
    could_improve: bool
    board_place: BoardPlace | None = None
    recess: RecessPlan | None = None

    @property
    def shown(self) -> Judged:
        """The advised layout, or where none fits the one that could be largest."""
        if self.recommended is not None:
            return self.judged[self.recommended]
        able = [one for one in self.judged if not one.over_bands]
        return max(able, key=lambda one: one.largest_pt)


def judge(
    job: ResolvedJob,
    panel: UsablePanel,
    judged: tuple[Judged, ...],
    *,
    at_widest_pt: Callable[[Layout], float | None],
) -> Judgement:
    """Judge a job by its layouts.

    Args:
        job: the resolved job.
        panel: its usable panel.
        judged: all its layouts, each judged.
        at_widest_pt: largest size of a layout at the greatest width of a range of widths.
    """
    choice = choose(job, judged)
    best = None if choice.place is None else judged[choice.place]
    verdict = verdict_of(best)
    shown = best or max(
        (one for one in judged if not one.layout.over_bands), key=lambda one: one.largest_pt
    )
    findings = [
        *back_findings(
            job,
            panel,
            at_widest_pt=at_widest_pt(shown.layout),
            by_width=shown.layout.limit.by is LimitedBy.WIDTH,
        ),
        *choice.findings,
        *(convention_findings(job) if job.front_board is None else ()),
        *lettering_findings(job, shown.layout.title),
    ]
    place, recess = _on_board(job, panel, shown, findings)
    return Judgement(
        verdict=verdict,
        judged=judged,
        recommended=choice.place,
        findings=tuple(findings),
        could_improve=(
            best is None or best.tight or not best.is_read_with_ease or bool(job.old_lettering)
        ),
        board_place=place,
        recess=recess,
    )


def _on_board(
    job: ResolvedJob, panel: UsablePanel, shown: Judged, findings: list[Finding]
) -> tuple[BoardPlace | None, RecessPlan | None]:
    """Where a label stands on the front board, and its recess; what is found of them is added."""
    if job.front_board is None and job.recess is None:
        return None, None
    from spinefit.judgement.labels import board_findings, board_place, recess_findings, recess_of

    place, recess = board_place(job, shown), recess_of(job, panel, shown)
    if place is not None:
        findings += board_findings(job, place)
    if recess is not None:
        findings += recess_findings(job, panel, shown, recess, place)
    return place, recess


def verdict_of(best: Judged | None) -> Verdict:
    """The verdict on a job, by its advised layout."""
    if best is None:
        return Verdict.DOES_NOT_FIT
    return Verdict.TIGHT if best.tight else Verdict.FITS
