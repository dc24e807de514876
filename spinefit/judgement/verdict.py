"""What is the answer for one text, and what is found of the job as a whole?

In: a resolved job, its usable panel, every layout judged. Out: a `Judgement`: the advised layout
and why, the verdict, and on need the findings of the book, the place on a board and the recess.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from functools import cached_property
from typing import TYPE_CHECKING

from spinefit.geometry import (
    UsablePanel,
    largest,
    outright_panel,
    panel_on_back,
    refuse_no_room,
    turn_box,
)
from spinefit.geometry.plane import Corners
from spinefit.job.house import names_of_house
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.book_findings import (
    back_findings,
    convention_findings,
    lettering_findings,
)
from spinefit.judgement.choice import choose, nearest_of, place_of
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.layout import Layout
from spinefit.units import pt_from_mm, round_down_pt
from spinefit.vocabulary import LimitedBy, Verdict

if TYPE_CHECKING:
    from spinefit.judgement.labels import BoardPlace
    from spinefit.judgement.recess import RecessPlan


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
    typed = job.lettering.clearance_typed and "clearance" not in names_of_house(job.assumed)
    refuse_no_room(panel, job.lettering.clearance_mm if typed else 0.0)
    return panel


class Judgement:
    """The trade's answer; what is found of the book is worked out when it is first read.

    Attributes:
        settings: every layout, in the order given.
        best: the advised one, or None.
        nearest: index of the one to be shown where none is advised; else None.
        why: why the advised one was taken.
        usual: the advised one with its lines at their usual distance; best, where they are not
            opened.
    """

    def __init__(
        self,
        job: ResolvedJob,
        panel: UsablePanel,
        settings: Sequence[Judged],
        *,
        first: tuple[Finding, ...] = (),
    ) -> None:
        """Judge a job by its layouts.

        Args:
            job: the resolved job.
            panel: its usable panel.
            settings: all its layouts, each judged.
            first: what was found before.
        """
        self._job, self._panel, self._first = job, panel, first
        self.settings = settings
        self.best, self.why = choose(job, settings)
        self.usual = self.best
        self.nearest = nearest_of(job, settings) if self.best is None else None

    def opened(self, best: Judged) -> Judgement:
        """The same with the lines of the advised one opened."""
        found = copy(self)
        found.best = best
        return found

    def after(self, finding: Finding) -> Judgement:
        """The same with a finding before all others."""
        found = copy(self)
        found.findings = (finding, *self.findings)
        return found

    @cached_property
    def verdict(self) -> Verdict:
        """Fits, tight, or does not fit."""
        if self.usual is None:
            return Verdict.DOES_NOT_FIT
        return Verdict.TIGHT if self.usual.tight else Verdict.FITS

    @property
    def judged(self) -> Sequence[Judged]:
        """Every layout, in the order given, the advised one with its lines opened."""
        best = self.best
        if self.usual is best or best is None:
            return self.settings
        return tuple(best if one is self.usual else one for one in self.settings)

    @property
    def recommended(self) -> int | None:
        """Index of the advised layout, or None; it takes them all to be laid."""
        return None if self.usual is None else place_of(self.usual, self.settings)

    @property
    def shown(self) -> Judged:
        """The advised layout, or where none fits the nearest."""
        if self.best is not None:
            return self.best
        assert self.nearest is not None  # one of the two is there
        return self.settings[self.nearest]

    @property
    def could_improve(self) -> bool:
        """Whether a change might make it fit, have room, be read with ease, or hide the old."""
        one = self.usual
        return one is None or one.tight or not one.is_read_with_ease or one.old_stays

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What concerns the job as a whole."""
        job, panel = self._job, self._panel
        shown = self.usual or self.shown
        by_width = shown.layout.limit.by is LimitedBy.WIDTH
        at_widest_pt = _at_widest_pt(job, shown.layout)
        stands = shown.orientation
        old: list[Finding] = []
        if shown.over_old is not None:
            from spinefit.judgement.covering import old_findings

            old += old_findings(job, panel, shown.over_old, fits=shown.fits)
        return (
            *self._first,
            *old,
            *back_findings(job, panel, at_widest_pt=at_widest_pt, by_width=by_width),
            *self.why,
            *(convention_findings(job, stands) if job.front_board is None else ()),
            *lettering_findings(job, shown.layout.title),
            *self._of_board,
        )

    @property
    def _of_board(self) -> Iterator[Finding]:
        if self.board_place is not None:
            from spinefit.judgement.labels import board_findings

            yield from board_findings(self._job, self.board_place)
        if self.recess is not None:
            from spinefit.judgement.recess import recess_findings

            yield from recess_findings(self._job, self.recess)

    @cached_property
    def board_place(self) -> BoardPlace | None:
        """Where the label stands on a front board; None elsewhere."""
        if self._job.front_board is None:
            return None
        from spinefit.judgement.labels import board_place

        return board_place(self._job, self.usual or self.shown)

    @cached_property
    def recess(self) -> RecessPlan | None:
        """The recess for the label, where one is wanted."""
        if self._job.recess is None:
            return None
        from spinefit.judgement.recess import recess_of

        return recess_of(self._job, self._panel, self.usual or self.shown, self.board_place)


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
