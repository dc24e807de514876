"""Does one text fit in its zone, and what is advised?

The entry point of the judgement stage. In: a `Job`, or one that is resolved. Out: its judgement
(every layout judged, the advised one, the verdict, findings), or a part of the way there: the
usable panel, the layouts, these judged. Legibility is graded and never decides. `Trials` runs
changed jobs, for remedies and for the end of a font's axis. Pure but for reading the font file.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from spinefit import catalogue
from spinefit.errors import SpinefitError
from spinefit.geometry import (
    UsablePanel,
    largest,
    outright_panel,
    panel_on_back,
    refuse_no_room,
    turn_box,
)
from spinefit.geometry.plane import Corners
from spinefit.job.making import first_font
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.book_findings import (
    back_findings,
    convention_findings,
    lettering_findings,
)
from spinefit.judgement.choice import choose, nearest_of, place_of
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.opening import opened
from spinefit.judgement.settings import settings_of
from spinefit.judgement.sizing import judge_layouts
from spinefit.judgement.verification import disagreed, verify_layout
from spinefit.layout import Layout
from spinefit.layout.search import laid_again
from spinefit.shaping import ShapedTitle, shape_titles
from spinefit.units import pt_from_mm, round_down_pt
from spinefit.vocabulary import LimitedBy, Orientation, Role, Verdict

if TYPE_CHECKING:
    from spinefit.judgement.labels import BoardPlace
    from spinefit.judgement.recess import RecessPlan

_LETTERS_TRIED = 8_000  # a second or two; two dozen trials of a title of thirty letters
_USUAL_LAYOUTS = 12  # of a trial: six numbers of lines, across and along


class Judgement(NamedTuple):
    """The trade's answer.

    Attributes:
        verdict: fits, tight, or does not fit.
        settings: every layout, in the order given.
        best: the advised one, or None.
        nearest: index of the one to be shown where none is advised; else None.
        findings: what concerns the job as a whole.
        could_improve: whether a change might make it fit, be placed with room, be read with
            ease, or hide old lettering.
        board_place: where the label stands on a front board; None elsewhere.
        recess: the recess for the label, where one is wanted.
        usual: the advised one with its lines at their usual distance, where they are opened.
    """

    verdict: Verdict
    settings: Sequence[Judged]
    best: Judged | None
    nearest: int | None
    findings: tuple[Finding, ...]
    could_improve: bool
    board_place: BoardPlace | None = None
    recess: RecessPlan | None = None
    usual: Judged | None = None

    @property
    def judged(self) -> Sequence[Judged]:
        """Every layout, in the order given, the advised one with its lines opened."""
        best = self.best
        if self.usual is None or best is None:
            return self.settings
        return tuple(best if one is self.usual else one for one in self.settings)

    @property
    def recommended(self) -> int | None:
        """Index of the advised layout, or None; it takes them all to be laid."""
        return None if self.best is None else place_of(self.usual or self.best, self.settings)

    @property
    def shown(self) -> Judged:
        """The advised layout, or where none fits the nearest."""
        if self.best is not None:
            return self.best
        assert self.nearest is not None  # one of the two is there
        return self.settings[self.nearest]


class JudgedText(NamedTuple):
    """One text in its zone, judged; nothing is said of it yet.

    Attributes:
        job: the job, checked and completed.
        title: its text, shaped.
        panel: its usable panel.
        judgement: every layout judged, the advised one, the verdict and the findings.
        asked: the job as it was asked.
    """

    job: ResolvedJob
    title: ShapedTitle
    panel: UsablePanel
    judgement: Judgement
    asked: Job

    @property
    def shown(self) -> Judged:
        """The advised layout, or the nearest to one."""
        return self.judgement.shown

    @property
    def fits(self) -> bool:
        """True where some layout fits, tight or not."""
        return self.judgement.best is not None


def judge_text(
    job: Job, *, font_choice: int | None = None, closed: bool = False, verify: bool = False
) -> JudgedText:
    """One text in its zone, judged; faults as of `spinefit.check`.

    Args:
        job: as of `spinefit.check`.
        font_choice: as of `resolve`; None to try in turn the fonts that are usual for the
            method, until one need not be set larger than looks well; else the smallest fits.
        closed: whether its lines are left at their usual distance, however much room they have.
        verify: as of `spinefit.check`.
    """
    if job.role is Role.CALL_NUMBER and job.lettering.orientation in (None, Orientation.ANY):
        from spinefit.judgement.call_number import across_or_along

        again = partial(judge_text, font_choice=font_choice, closed=closed, verify=verify)
        return across_or_along(job, again)
    first = resolve(job, font_choice=font_choice or 0)
    others = range(0)
    if font_choice is None and job.lettering.font is None:
        others = range(1, len(catalogue.usual_fonts(first.method)))
    found = first_font(
        [partial(_judged_choice, job, one) for one in (first, *others)],
        lambda one: one.fits and one.judgement.shown.set_because != "floor",
        lambda one: one.judgement.shown.set_pt if one.fits else None,
    )
    if not closed:
        found = _opened(found)
    if verify or not found.panel.is_plain:
        verify_text(found)
    return found


def _judged_choice(job: Job, resolved: ResolvedJob | int) -> JudgedText:
    """A job judged in one of the fonts that its method usually takes, resolved or to be so."""
    if isinstance(resolved, int):
        resolved = resolve(job, font_choice=resolved)
    resolved, axis_found = _with_axis(resolved)
    titles = shape_titles(resolved)
    title = titles[0]
    if title.font.assumed:
        resolved = resolved._replace(assumed=(*resolved.assumed, *title.font.assumed))
    panel = panel_of(resolved)
    judgement = judge(resolved, panel, settings_of(resolved, titles, panel))
    if axis_found is not None:
        judgement = judgement._replace(findings=(axis_found, *judgement.findings))
    return JudgedText(resolved, title, panel, judgement, job)


def _opened(found: JudgedText) -> JudgedText:
    """The same with the lines of the advised layout opened, where their panel has room."""
    usual = found.judgement.best
    if usual is None:
        return found
    best = _with_room(found.job, found.panel, usual)
    if best is usual:
        return found
    return found._replace(judgement=found.judgement._replace(best=best, usual=usual))


def _with_room(job: ResolvedJob, panel: UsablePanel, best: Judged) -> Judged:
    def again(changed: ResolvedJob) -> Sequence[Judged]:
        if changed.parts:
            title, words = best.layout.title, catalogue.title_words(job.language)
            return judge_layouts(changed, title, (laid_again(changed, title, words, best.layout),))
        return settings_of(changed, shape_titles(changed), panel)

    return opened(job, panel, best, again)


def _with_axis(job: ResolvedJob) -> tuple[ResolvedJob, Finding | None]:
    """The job with every axis of its font at a value, and what was found where one was sought."""
    if job.lettering.sought is None:
        return job, None
    from spinefit.judgement.axis import find_axis

    return find_axis(job, trial)


def judge(job: ResolvedJob, panel: UsablePanel, judged: Sequence[Judged]) -> Judgement:
    """Judge a job by its layouts.

    Args:
        job: the resolved job.
        panel: its usable panel.
        judged: all its layouts, each judged.
    """
    best, why = choose(job, judged)
    nearest = nearest_of(job, judged) if best is None else None
    shown = best or judged[nearest or 0]
    by_width = shown.layout.limit.by is LimitedBy.WIDTH
    stands = shown.layout.candidate.orientation
    at_widest_pt = _at_widest_pt(job, shown.layout)
    findings = [
        *back_findings(job, panel, at_widest_pt=at_widest_pt, by_width=by_width),
        *why,
        *(convention_findings(job, stands) if job.front_board is None else ()),
        *lettering_findings(job, shown.layout.title),
    ]
    if shown.over_old is not None:
        from spinefit.judgement.covering import old_findings

        findings[:0] = old_findings(job, panel, shown.over_old, fits=shown.fits)
    place, recess = _on_board(job, panel, shown, findings)
    return Judgement(
        verdict=_verdict(best),
        settings=judged,
        best=best,
        nearest=nearest,
        findings=tuple(findings),
        could_improve=best is None or best.tight or not best.is_read_with_ease or best.old_stays,
        board_place=place,
        recess=recess,
    )


def _verdict(best: Judged | None) -> Verdict:
    if best is None:
        return Verdict.DOES_NOT_FIT
    return Verdict.TIGHT if best.tight else Verdict.FITS


def _on_board(
    job: ResolvedJob, panel: UsablePanel, shown: Judged, findings: list[Finding]
) -> tuple[BoardPlace | None, RecessPlan | None]:
    """Where a label stands on the front board, and its recess; what is found of them is added."""
    if job.front_board is None and job.recess is None:
        return None, None
    from spinefit.judgement.labels import board_findings, board_place
    from spinefit.judgement.recess import recess_findings, recess_of

    place = board_place(job, shown)
    recess = recess_of(job, panel, shown, place)
    if place is not None:
        findings += board_findings(job, place)
    if recess is not None:
        findings += recess_findings(job, recess)
    return place, recess


class JudgedTitle(NamedTuple):
    """A title as far as the choice of a layout.

    Attributes:
        title: the shaped title.
        judged: every layout, judged.
        best: the advised one of them, or None.
    """

    title: ShapedTitle
    judged: Sequence[Judged]
    best: Judged | None


def panel_of(job: ResolvedJob) -> UsablePanel:
    """The usable panel of a job; beside old lettering the part of it that is free of that.

    Raises:
        ImpossibleBackError: nothing is left of it.
    """
    if job.spine is not None:
        panel = panel_on_back(job, job.spine)
        if job.old_lettering is not None and not job.old_lettering.covered:
            from spinefit.judgement.covering import free_of_old

            panel = free_of_old(job.old_lettering, panel, job.spine.from_head_mm)
    else:
        assert job.panel is not None  # resolve sees to it that one of the two is there
        panel = outright_panel(job.panel, job.shape)
        if job.front_board is not None:
            panel = panel._replace(middle_from_head_mm=job.front_board.from_head_mm)
    panel = panel._replace(frame=job.frame)
    typed_mm = job.lettering.clearance_mm if job.lettering.clearance_typed else 0.0
    refuse_no_room(panel, typed_mm)
    return panel


def judged_title(job: ResolvedJob) -> JudgedTitle:
    """A job run as far as the choice of a layout."""
    titles = shape_titles(job)
    return _judged(job, titles, panel_of(job))


def _judged(job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel) -> JudgedTitle:
    judged = settings_of(job, titles, panel)
    best = choose(job, judged).best
    return JudgedTitle(titles[0], judged, best and _with_room(job, panel, best))


class Trials:
    """Runs changed jobs, as far as the choice of a layout; gives nothing where one cannot be run.

    In a panel that is no plain rectangle every letter of every layout is looked at, so that a
    long title would be tried for minutes: there the trials end with so many letters.
    """

    def __init__(self) -> None:
        self._letters_left = _LETTERS_TRIED

    def __call__(self, job: ResolvedJob) -> tuple[Judged | None, Sequence[Judged]]:
        """The advised layout, or None, and all layouts."""
        try:
            titles, panel = shape_titles(job), panel_of(job)
            letters = 0 if panel.is_plain else len(titles[0].text) * _USUAL_LAYOUTS
            if letters > self._letters_left:
                return None, ()
            self._letters_left -= letters
            found = _judged(job, titles, panel)
        except SpinefitError:
            return None, ()
        return found.best, found.judged


def trial(job: ResolvedJob) -> tuple[Judged | None, Sequence[Judged]]:
    """One changed job, run as those of `Trials` are."""
    return Trials()(job)


def _at_widest_pt(job: ResolvedJob, layout: Layout) -> float | None:
    """Largest size of a layout, in points, at the greatest width of a range."""
    if job.widest is None:
        return None
    widest = panel_of(job._replace(spine=job.widest, widest=None))

    def limit_pt(own: Layout) -> float:
        box = turn_box(own.group.box, own.candidate.turn)
        clearance_mm = job.lettering.clearance_mm
        limit = largest(widest, box, lambda: _rings(own), clearance_mm=clearance_mm)
        return pt_from_mm(limit.size_mm)

    if layout.at_size is None:
        return round_down_pt(limit_pt(layout))
    from spinefit.layout.optical import largest_pt

    at_size = layout.at_size
    return largest_pt(lambda size_pt: limit_pt(at_size(size_pt)), layout.title.optical or (0, 0))


def _rings(layout: Layout) -> tuple[Corners, ...]:
    from spinefit.geometry.polygons import ink_polygon, ink_rings

    return ink_rings(ink_polygon(layout.placed(), turn=layout.candidate.turn))


def verify_text(judged: JudgedText) -> None:
    """Ask shapely about the advised layout, or about the largest where none is advised.

    Where letters change with their size it is asked twice: in those of the size judged and in
    those of the largest, which has to be the largest in letters of its own.

    Raises:
        VerificationError: (never seen) it disagrees with the arithmetic.
    """
    job, judgement = judged.job, judged.judgement
    one = judgement.best or max(judgement.settings, key=lambda one: one.largest_pt)
    verify_layout(job, one.layout)
    if one.layout.at_size is not None:
        at_largest = one.layout.at_size(one.largest_pt)
        verify_layout(job, at_largest)
        if round_down_pt(pt_from_mm(at_largest.limit.size_mm)) < one.largest_pt:
            raise disagreed(at_largest)
