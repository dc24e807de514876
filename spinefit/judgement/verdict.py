"""Does the title fit, and what is advised?

The entry point of the judgement stage. In: the job, its panel and its layouts, judged. Out: a
`Judgement`: the advised layout, the verdict and findings. Legibility is graded and never
decides. Remedies are looked for by `remedies`, only where somebody wants them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.back_findings import back_findings, lettering_findings
from spinefit.judgement.choice import choose
from spinefit.judgement.conventions import convention_findings
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.layout_findings import layout_findings
from spinefit.judgement.strength import closest_letters, weakest_at
from spinefit.later import LaterEach
from spinefit.layout.search import Layout
from spinefit.shaping.title import ShapedTitle
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Level, LimitedBy, Verdict

if TYPE_CHECKING:
    from spinefit.geometry.recess import RecessPlan
    from spinefit.judgement.boards import BoardPlace

__all__ = ["Judgement", "judge", "verdict_of"]


class Judgement(NamedTuple):
    """The trade's answer.

    Attributes:
        verdict: fits, tight, or does not fit.
        judged: every layout, in the order given.
        recommended: index of the advised one, or None.
        findings: what concerns the job as a whole.
        of_layouts: for each layout, what was found about it; worked out when it is read.
        could_improve: whether a change might make it fit, be placed with room, be read with
            ease, or cover old lettering.
        board_place: where the label stands on a front board; None elsewhere.
        recess: the recess for the label, where one is wanted.
    """

    verdict: Verdict
    judged: tuple[Judged, ...]
    recommended: int | None
    findings: tuple[Finding, ...]
    of_layouts: Sequence[Sequence[Finding]]
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
    words: TitleWords,
    at_widest_pt: Callable[[Layout], float | None],
) -> Judgement:
    """Judge a job by its layouts.

    Args:
        job: the resolved job.
        panel: its usable panel.
        judged: all its layouts, each judged.
        words: small words of the title's language.
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
        of_layouts=LaterEach(
            len(judged),
            lambda at: _of_layout(job, judged[at], words, advised=at == choice.place),
        ),
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
    from spinefit.judgement.boards import board_findings, board_place, recess_findings, recess_of

    place, recess = board_place(job, shown), recess_of(job, panel, shown)
    if place is not None:
        findings += board_findings(job, place)
    if recess is not None:
        findings += recess_findings(job, panel, shown, recess, place)
    return place, recess


def _of_layout(
    job: ResolvedJob, one: Judged, words: TitleWords, *, advised: bool
) -> tuple[Finding, ...]:
    found = layout_findings(job, one, words)
    return found + _letters(job, one.layout.title, one) if advised else found


def _letters(job: ResolvedJob, title: ShapedTitle, one: Judged) -> tuple[Finding, ...]:
    """Letters of the advised setting that need a large size, are fine, or may run together."""
    found: list[Finding] = []
    if one.set_because == "floor" and one.offer.weakest is not None:
        found.extend(_sturdier(job, one))
    fine = weakest_at(job, title, one.set_pt, as_advised=True)
    if fine is not None:
        found.append(
            Finding.by_rule(
                "finer-than-advised",
                Level.NOTE,
                fine.measured_em * mm_from_pt(one.set_pt),
                fine.rule,
                what=fine.what,
                letter=fine.letter,
                needs_pt=fine.needs_pt,
            )
        )
    close = closest_letters(job, title, one.layout, one.set_pt)
    if close is not None:
        found.append(
            Finding.by_rule(
                "letters-close",
                Level.WARNING,
                close.gap_mm,
                close.rule,
                method=job.method.name,
                in_line=close.in_line,
                tracking=1000 * (job.lettering.tracking_em + close.missing_em),
            )
        )
    return tuple(found)


def _sturdier(job: ResolvedJob, one: Judged) -> list[Finding]:
    from spinefit.judgement.sturdier import sturdier_letter  # for jobs that need it

    found = sturdier_letter(job, one.set_pt)
    if found is None:
        return []
    note = Finding.by_rule(
        "sturdier-letter", Level.NOTE, found.from_pt, one.offer.floor, font=found.font
    )
    return [note._replace(limit=one.set_pt, unit="pt")]


def verdict_of(best: Judged | None) -> Verdict:
    """The verdict on a job, by its advised layout."""
    if best is None:
        return Verdict.DOES_NOT_FIT
    return Verdict.TIGHT if best.tight else Verdict.FITS
