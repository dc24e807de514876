"""Does one text fit in its zone, and what is advised?

The entry point of the judgement stage. In: a `Job`, or one that is resolved. Out: its judgement
(every layout judged, the advised one, the verdict, findings), or a part of the way there: the
usable panel, the layouts, these judged. Legibility is graded and never decides. `Trials` runs
changed jobs, for remedies and for the end of a font's axis. Pure but for reading the font file.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from spinefit import catalogue
from spinefit.errors import MissingCharacterError, SpinefitError
from spinefit.geometry import UsablePanel
from spinefit.job.making import first_font
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.choice import choose
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.judgement.opening import opened
from spinefit.judgement.settings import settings_of
from spinefit.judgement.sizing import judge_layouts
from spinefit.judgement.verdict import Judgement, panel_of
from spinefit.judgement.verification import disagreed, verify_layout
from spinefit.layout.search import laid_again
from spinefit.shaping import ShapedTitle, shape_titles
from spinefit.units import pt_from_mm, round_down_pt
from spinefit.vocabulary import Orientation, Role

_LETTERS_TRIED = 8_000  # a second or two; two dozen trials of a title of thirty letters
_USUAL_LAYOUTS = 12  # of a trial: six numbers of lines, across and along


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
    usual = range(len(catalogue.usual_fonts(first.method)) if job.lettering.font is None else 0)
    try:
        found = _in_first_font(job, (first, *(usual[1:] if font_choice is None else ())))
    except MissingCharacterError:
        from spinefit.judgement.installed import in_installed_fonts  # for what no font at hand has

        installed = in_installed_fonts(first) if font_choice in (None, *usual[-1:]) else ()
        if not installed:
            raise
        found = _in_first_font(job, installed)
    found = found if closed else _opened(found)
    if verify or not found.panel.is_plain:
        verify_text(found)
    return found


def _in_first_font(job: Job, choices: Sequence[ResolvedJob | int]) -> JudgedText:
    return first_font(
        [partial(_judged_choice, job, one) for one in choices],
        lambda one: one.fits and one.judgement.shown.set_because != "floor",
        lambda one: one.judgement.shown.set_pt if one.fits else None,
    )


def _judged_choice(job: Job, resolved: ResolvedJob | int) -> JudgedText:
    """A job judged in one of the fonts that its method usually takes, resolved or to be so."""
    if isinstance(resolved, int):
        resolved = resolve(job, font_choice=resolved)
    resolved, axis_found = _with_axis(resolved)
    title = (titles := shape_titles(resolved))[0]
    if title.font.assumed:
        resolved = resolved._replace(assumed=(*resolved.assumed, *title.font.assumed))
    panel = panel_of(resolved)
    first = () if axis_found is None else (axis_found,)
    judgement = Judgement(resolved, panel, settings_of(resolved, titles, panel), first=first)
    if (resolved.widest, resolved.front_board, resolved.recess) != (None, None, None):
        _ = judgement.findings  # of these a part may yet be refused
    return JudgedText(resolved, title, panel, judgement, job)


def _opened(found: JudgedText) -> JudgedText:
    """The same with the lines of the advised layout opened, where their panel has room."""
    usual = found.judgement.best
    if usual is None:
        return found
    best = _with_room(found.job, found.panel, usual)
    if best is usual:
        return found
    return found._replace(judgement=found.judgement.opened(best))


def _with_room(job: ResolvedJob, panel: UsablePanel, best: Judged) -> Judged:
    def again(changed: ResolvedJob) -> Sequence[Judged]:
        title = best.layout.title
        own_in_sizes = title.only_pt is not None or title.optical is not None
        if own_in_sizes and not changed.parts:
            return settings_of(changed, shape_titles(changed), panel)
        words = catalogue.title_words(job.language)
        return judge_layouts(changed, title, (laid_again(changed, title, words, best.layout),))

    return opened(job, panel, best, again)


def _with_axis(job: ResolvedJob) -> tuple[ResolvedJob, Finding | None]:
    """The job with every axis of its font at a value, and what was found where one was sought."""
    if job.lettering.sought is None:
        return job, None
    from spinefit.judgement.axis import find_axis

    return find_axis(job, trial)


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
