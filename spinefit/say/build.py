"""How do the results of the stages become one report?

In: job, title, panel and judgement. Out: a `Report`, plain numbers and words, with the figures that
were used, and what the method asks. Wording is that of `sentences`; nothing is decided here.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import CUT_WIDTH
from spinefit.judgement.judged import Judged, Sides
from spinefit.judgement.setting_findings import setting_findings
from spinefit.judgement.text import JudgedText
from spinefit.judgement.verdict import Judgement
from spinefit.say.answers import AS_ASKED, answer_text
from spinefit.say.label_model import (
    FrontBoardReport,
    LabelReport,
    LabelTextReport,
    LayerReport,
    OldLetteringReport,
    RecessReport,
    RuleReport,
    SpareReport,
    frame_report,
)
from spinefit.say.measured import measurements
from spinefit.say.model import (
    SCHEMA,
    ConventionReport,
    FontReport,
    FontUseReport,
    LayoutReport,
    LimitReport,
    MethodReport,
    NudgeReport,
    PanelReport,
    Report,
    not_said_in,
)
from spinefit.say.sentences import RECESS_CAUTIONS, place_in_words, recess_in_words, reported
from spinefit.say.settings import Settings
from spinefit.say.thickness import estimate_of
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Letters, Orientation, Place

if TYPE_CHECKING:
    from spinefit.judgement.labels import BoardPlace
    from spinefit.judgement.recess import RecessPlan


def build_report(judged: JudgedText, *, asked: str = AS_ASKED) -> Report:
    """The report of a judged text; ``asked`` is said of a size that was not chosen here."""
    return Report(partial(_field, judged, asked))


def _field(judged: JudgedText, asked: str, name: str) -> object:
    """What a field of the report says."""
    if name == "answer":
        return answer_text(judged.job, judged.judgement, asked)
    return _FIELDS[name](judged)


def _settings(of: JudgedText) -> Settings:
    made_of = of.job, of.panel, of.judgement
    return Settings(made_of, partial(_layout, of.job, of.judgement))


def _panel(of: JudgedText) -> PanelReport:
    job, panel = of.job, of.panel
    return PanelReport(
        width_mm=panel.width_mm,
        height_mm=panel.height_mm,
        number=panel.number,
        developed=panel.developed,
        assumed=job.assumed,
        of=_panel_of(job),
        frame=frame_report(job.frame, job.lettering.clearance_mm),
        label_from_head_mm=None if job.label is None else panel.middle_from_head_mm,
        covering_colour=job.covering_colour,
        ink_colour=job.ink_colour,
        thickness=estimate_of(job),
    )


def _cautions(of: JudgedText) -> tuple[str, ...]:
    method, recess = of.job.method, of.judgement.recess
    return (*method.cautions, *(not_said_in(method.caution, RECESS_CAUTIONS) if recess else ()))


def _convention(job: ResolvedJob) -> ConventionReport:
    market = job.market
    unknown = f"{job.market_code}, of which nothing is known"
    return ConventionReport(
        market=job.market_code,
        reading=market.reading,
        firmness=market.firmness,
        source=market.source,
        status=market.status,
        note=market.note,
        name=market.name if job.market_known else unknown,
        weakening=market.weakening,
    )


def _as_shown(job: ResolvedJob, title: ShapedTitle, shown: Judged) -> ResolvedJob | None:
    """The job with its lines standing as in a setting; None where they make no shape."""
    if shown.orientation is Orientation.PILLAR or title.stack:
        return None
    return job._replace(lettering=job.lettering._replace(orientation=shown.orientation))


def _fonts(title: ShapedTitle) -> tuple[FontUseReport, ...]:
    return tuple(
        FontUseReport(one.name, one.file, one.sha256, letters)
        for one, letters in title.fonts_used()
    )


def _font(job: ResolvedJob, title: ShapedTitle, judgement: Judgement) -> FontReport:
    """The font as it is drawn for the setting that is advised, or for the nearest."""
    if title.optical is not None:
        title = judgement.shown.layout.title
    font = title.font
    of = "font" if job.lettering.tools is None else "tools"
    return FontReport(font.name, font.file, font.sha256, font.face, font.axes, of)


def _label(job: ResolvedJob, panel: UsablePanel, judgement: Judgement) -> LabelReport | None:
    """The label over a round or joints, as the judgement found it."""
    for finding in judgement.findings:
        if finding.topic in CUT_WIDTH:
            label: Any = finding.facts["label"]
            if job.lap is None:
                return LabelReport(*label)
            from spinefit.say.label_texts import lap_of  # for few books

            return LabelReport(*label)._replace(lap=lap_of(job, job.lap, panel, judgement))
    return None


def _old_lettering(
    job: ResolvedJob, panel: UsablePanel, judgement: Judgement
) -> OldLetteringReport | None:
    if job.old_lettering is None:
        return None
    from spinefit.say.old_lettering import old_lettering_report  # for few books

    return old_lettering_report(job, panel, judgement.shown)


def _panel_of(job: ResolvedJob) -> str:
    if job.front_board is not None:
        return "front board"
    if job.spine is None:
        return "outright"
    return "label" if job.method.place is Place.LABEL and job.lap is None else "back"


def _layout(job: ResolvedJob, judgement: Judgement, one: Judged) -> LayoutReport:
    layout, size_mm = one.layout, one.size_mm
    group, title = layout.group, layout.title
    texts: tuple[LabelTextReport, ...] = ()
    rules: tuple[RuleReport, ...] = ()
    nudges: tuple[NudgeReport, ...] = ()
    if group.set_lines:
        from spinefit.say.by_hand import nudges_of  # for few jobs

        nudges = nudges_of(job, one)
    if title.stack:
        from spinefit.say.label_texts import texts_of  # for labels with several

        texts, rules = texts_of(job, judgement, one)
    at_largest = title if title.optical is None else title.at_size(one.largest_pt)
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
        limited_by=one.limit.by,
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
        findings=tuple(map(reported, setting_findings(job, one, shown=one is judgement.shown))),
        texts=texts,
        rules=rules,
        nudges=nudges,
        set_axes=title.font.axes,
        largest_axes=at_largest.font.axes,
    )


def _spare(sides: Sides) -> SpareReport:
    return SpareReport(left=sides.left, right=sides.right, head=sides.head, tail=sides.tail)


def _front_board(place: BoardPlace) -> FrontBoardReport:
    """The label on the front board."""
    board, around = place.board, place.around_mm
    return FrontBoardReport(
        width_mm=board.width_mm,
        height_mm=board.height_mm,
        joint_mm=board.joint_mm,
        leather_mm=board.leather_mm,
        corners_mm=board.corners_mm,
        label_width_mm=place.label_width_mm,
        label_height_mm=place.label_height_mm,
        label_advised=place.advised,
        from_head_mm=place.from_head_mm,
        from_free_edge_mm=place.from_free_mm,
        from_fore_edge_mm=place.from_fore_edge_mm,
        around_mm=SpareReport(around.left, around.right, around.head, around.tail),
        text=place_in_words(place),
    )


def _recess(plan: RecessPlan) -> RecessReport:
    """The recess for the label."""
    return RecessReport(
        label_mm=(plan.label_width_mm, plan.label_height_mm, plan.label_thickness_mm),
        opening_mm=(plan.opening_width_mm, plan.opening_height_mm),
        covered_mm=(plan.covered_width_mm, plan.covered_height_mm),
        depth_mm=plan.depth_mm,
        build_up=tuple(
            LayerReport(
                layer.what,
                layer.thickness.value_mm,
                layer.cut,
                layer.thickness.source,
                layer.thickness.status,
            )
            for layer in plan.layers
        ),
        board_mm=plan.total_mm,
        remaining_mm=plan.remaining_mm,
        pressing_piece_mm=(plan.pressing_width_mm, plan.pressing_height_mm),
        text=recess_in_words(plan),
        cautions=RECESS_CAUTIONS,
    )


def _method(job: ResolvedJob) -> MethodReport:
    """The method of a job, with what it holds and offers."""
    method, own_pt = job.method, job.lettering.sizes_pt
    rows = [("smallest", method.smallest)]
    if method.letters is Letters.OUTLINES:  # a tool's face is what it is
        own = (("stroke", method.stroke), ("counter", method.counter), ("gap", method.gap))
        rows += [(what, row) for what, row in own if row]
    rows.append(("placing", method.placing))
    limits = [
        LimitReport(what, (row.value,), row.unit, row.source, row.status) for what, row in rows
    ]
    if own_pt is not None:
        limits.append(LimitReport("sizes", own_pt, "pt", "the sizes at hand, as given", None))
    elif method.sizes is not None:
        row = method.sizes
        limits.append(LimitReport("sizes", row.values, "pt", row.source, row.status))
    return MethodReport(
        method.key,
        method.name,
        tuple(method.cautions),
        tuple(limits),
        method.caution,
        method.protection,
    )


_FIELDS: dict[str, Callable[[JudgedText], object]] = {
    "schema": lambda of: SCHEMA,
    "verdict": lambda of: of.judgement.verdict,
    "title": lambda of: of.title.text,
    "font": lambda of: _font(of.job, of.title, of.judgement),
    "panel": _panel,
    "recommended": lambda of: of.judgement.recommended,
    "layouts": _settings,
    "findings": lambda of: tuple(map(reported, of.judgement.findings)),
    "to_improve": lambda of: of.job if of.judgement.could_improve else None,
    "convention": lambda of: _convention(of.job),
    "assumed": lambda of: of.job.assumed,
    "method": lambda of: _method(of.job),
    "measurements": lambda of: measurements(of.job, of.panel),
    "front_board": lambda of: of.judgement.board_place and _front_board(of.judgement.board_place),
    "recess": lambda of: of.judgement.recess and _recess(of.judgement.recess),
    "label": lambda of: _label(of.job, of.panel, of.judgement),
    "fonts": lambda of: _fonts(of.title),
    "cautions": _cautions,
    "old_lettering": lambda of: _old_lettering(of.job, of.panel, of.judgement),
    "nearest": lambda of: of.judgement.nearest,
    "as_shown": lambda of: _as_shown(of.job, of.title, of.judgement.shown),
}
"""What each field of a report says, worked out when it is read."""
