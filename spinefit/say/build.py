"""How do the results of the stages become one report?

In: job, title, panel and judgement. Out: a `Report`, plain numbers and words. Wording comes
from `sentences` and `answers`; nothing is decided here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, partial
from typing import Any, overload

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Sides
from spinefit.judgement.setting_findings import setting_findings
from spinefit.judgement.verdict import Judgement
from spinefit.say.answers import AS_ASKED, answer_text
from spinefit.say.measurements import measurements_of, method_report
from spinefit.say.model import (
    SCHEMA,
    ConventionReport,
    FontReport,
    FontUseReport,
    LabelReport,
    LayoutReport,
    PanelReport,
    Report,
    SpareReport,
)
from spinefit.say.sentences import reported
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Place

__all__ = ["build_report"]


def build_report(
    job: ResolvedJob,
    title: ShapedTitle,
    panel: UsablePanel,
    judgement: Judgement,
    *,
    asked: str = AS_ASKED,
) -> Report:
    """The report of a judged job; ``asked`` is said of a size that was not chosen here."""
    font, market = _font(job, title, judgement), job.market
    return Report(
        schema=SCHEMA,
        verdict=judgement.verdict,
        answer=answer_text(job, judgement, asked),
        title=title.text,
        font=font,
        panel=PanelReport(
            width_mm=panel.width_mm,
            height_mm=panel.height_mm,
            number=panel.number,
            developed=panel.developed,
            assumed=job.assumed,
            of=_panel_of(job),
        ),
        recommended=judgement.recommended,
        layouts=_Settings(len(judgement.judged), partial(_layout, job, judgement)),
        findings=tuple(map(reported, judgement.findings)),
        to_improve=job if judgement.could_improve else None,
        convention=ConventionReport(
            market=job.market_code,
            reading=market.reading,
            firmness=market.firmness,
            source=market.source,
            status=market.status,
            note=market.note,
        ),
        assumed=job.assumed,
        method=method_report(job),
        measurements=measurements_of(job, panel),
        label=_label(judgement),
        **_on_board(judgement),
        fonts=_fonts(title),
    )


def _fonts(title: ShapedTitle) -> tuple[FontUseReport, ...]:
    return tuple(
        FontUseReport(one.name, one.file, one.sha256, letters)
        for one, letters in title.fonts_used()
    )


def _font(job: ResolvedJob, title: ShapedTitle, judgement: Judgement) -> FontReport:
    """The font as it is drawn for the setting that is advised, or for the largest."""
    judged, place = judgement.judged, judgement.recommended
    if title.optical is not None:
        shown = judged[place] if place is not None else max(judged, key=lambda one: one.largest_pt)
        title = shown.layout.title
    font = title.font
    of = "font" if job.lettering.tools is None else "tools"
    return FontReport(font.name, font.file, font.sha256, font.face, font.axes, of)


def _on_board(judgement: Judgement) -> dict[str, Any]:
    """The label on a front board and its recess, where there is one of the two."""
    if judgement.board_place is None and judgement.recess is None:
        return {}
    from spinefit.say.boards import front_board_report, recess_report

    place, recess = judgement.board_place, judgement.recess
    return {
        "front_board": None if place is None else front_board_report(place),
        "recess": None if recess is None else recess_report(recess),
    }


def _label(judgement: Judgement) -> LabelReport | None:
    """The label over a round, as the judgement found it."""
    for finding in judgement.findings:
        if finding.topic == "label-cut-width":
            label: Any = finding.facts["label"]
            return LabelReport(*label)
    return None


def _panel_of(job: ResolvedJob) -> str:
    if job.front_board is not None:
        return "front board"
    if job.spine is None:
        return "outright"
    return "label" if job.method.place is Place.LABEL else "back"


class _Settings(Sequence[LayoutReport]):
    """The settings of a title, each made when it is first read.

    A title has a dozen, to describe one takes nearly as long as to find it, and most readers
    look at no more than one. They equal, print and pickle as the tuple of them all.

    Args:
        count: how many there are.
        make: describes the one at a place.
    """

    __slots__ = ("_count", "_make")

    def __init__(self, count: int, make: Callable[[int], LayoutReport]) -> None:
        self._count = count
        self._make = cache(make)

    def __len__(self) -> int:
        return self._count

    @overload
    def __getitem__(self, at: int) -> LayoutReport: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[LayoutReport, ...]: ...

    def __getitem__(self, at: int | slice) -> LayoutReport | tuple[LayoutReport, ...]:
        places = range(self._count)[at]
        return self._make(places) if isinstance(places, int) else tuple(map(self._make, places))

    def __eq__(self, other: object) -> bool:
        return tuple(self) == (tuple(other) if isinstance(other, _Settings) else other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return repr(tuple(self))

    def __reduce__(self) -> tuple[type[tuple[LayoutReport, ...]], tuple[tuple[LayoutReport, ...]]]:
        return tuple, (tuple(self),)


def _layout(job: ResolvedJob, judgement: Judgement, place: int) -> LayoutReport:
    one = judgement.judged[place]
    layout, size_mm = one.layout, one.size_mm
    group, title = layout.group, layout.title
    return LayoutReport(
        orientation=one.orientation,
        reading=one.reading,
        turn=layout.candidate.turn,
        lines=one.lines,
        largest_pt=one.largest_pt,
        set_pt=one.set_pt,
        set_by=one.set_by,
        cap_height_mm=title.cap_height_em * size_mm,
        x_height_mm=title.x_height_em * size_mm,
        ink_width_mm=one.ink_width_mm,
        ink_height_mm=one.ink_height_mm,
        line_widths_mm=tuple(width * size_mm for width in group.widths_em),
        baselines_mm=one.baselines_mm,
        limited_by=layout.limit.by,
        spare_mm=_spare(one.spare_mm),
        centre=group.centre,
        fits=one.fits,
        tight=one.tight,
        shape=group.shape,
        foreshortening=one.foreshortening,
        reads_from_mm=one.reads_from_mm,
        needs_back_mm=one.needs_back_mm,
        first_from_head_mm=one.first_from_head_mm,
        over_bands=one.over_bands,
        word_broken=one.word_broken,
        split=layout.split,
        findings=tuple(
            map(reported, setting_findings(job, one, advised=place == judgement.recommended))
        ),
    )


def _spare(sides: Sides) -> SpareReport:
    return SpareReport(left=sides.left, right=sides.right, head=sides.head, tail=sides.tail)
