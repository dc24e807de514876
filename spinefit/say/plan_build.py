"""How does a plan become a report of a back, of volumes of several texts, or of a set?

In: a `Plan`, facts only. Out: `BackReport`, `BacksReport` or `SetReport`, every text with the
report that a title alone would have. Wording comes from the words beside this; nothing is
decided here.
"""

from __future__ import annotations

from spinefit.judgement.text import JudgedText
from spinefit.plan.model import Role
from spinefit.plan.remedies import changes_for
from spinefit.plan.result import Plan, PlannedText, PlannedVolume
from spinefit.say import back_words, backs_words, set_words
from spinefit.say.build import build_report
from spinefit.say.model import LayoutReport, Report
from spinefit.say.pattern_words import breached, matched
from spinefit.say.phrasing import shown_layout
from spinefit.say.plan_model import (
    BACK_SCHEMA,
    BACKS_SCHEMA,
    SET_SCHEMA,
    BackReport,
    BacksReport,
    BackVolumeReport,
    CompromiseReport,
    PlanRemedy,
    SetReport,
    TextReport,
    VolumeReport,
)
from spinefit.vocabulary import Verdict

__all__ = [
    "back_report",
    "backs_report",
    "plan_remedies",
    "report_of",
    "set_report",
    "volume_backs",
]


def report_of(judged: JudgedText) -> Report:
    """The report of one text judged by itself."""
    return build_report(judged.job, judged.title, judged.panel, judged.judgement)


def back_report(plan: Plan) -> BackReport:
    """The report of one back."""
    volume = plan.volumes[0]
    texts = _texts(plan, volume)
    several = not plan.backs[0].is_single
    if several:
        said = back_words.answer(texts, volume.failing, plan.verdict)
        findings = back_words.findings(
            plan.backs[0], plan.job, texts, volume.failing, switched=plan.turned
        )
    else:
        said, findings = texts[0].report.answer, ()
    title = next(one for one in texts if one.role is Role.TITLE)
    return BackReport(
        schema=BACK_SCHEMA,
        verdict=plan.verdict,
        answer=said,
        orientation=back_words.shown(title.report).orientation,
        texts=texts,
        failing=volume.failing,
        findings=findings,
        assumed=plan.assumed,
        plan=plan,
        labels=plan.labels,
    )


def plan_remedies(report: BackReport) -> tuple[PlanRemedy, ...]:
    """What would make all texts of a back fit, each planned again and found to work."""
    return tuple(
        PlanRemedy(one.change, back_words.change_in_words(one), one.title_pt, one.cost)
        for one in changes_for(report.plan)
    )


def backs_report(plan: Plan) -> BacksReport:
    """The report of volumes of several texts each."""
    volumes = tuple(
        BackVolumeReport(one.label, one.fits, one.alone.set_pt, _texts(plan, one), one.failing)
        for one in plan.volumes
    )
    verdict = plan.verdict
    limit, limiting_role = plan.limit
    if verdict is Verdict.DOES_NOT_FIT:
        limit, limiting_role = None, None  # what fails is named instead
    title = next(one for one in plan.roles if one.role is Role.TITLE)
    return BacksReport(
        schema=BACKS_SCHEMA,
        verdict=verdict,
        answer=backs_words.answer(volumes, plan.roles, verdict, limit, limiting_role),
        orientation=title.orientation,
        roles=plan.roles,
        limiting=limit,
        limiting_role=limiting_role,
        volumes=volumes,
        findings=backs_words.findings(volumes, plan.roles, verdict, limit, limiting_role),
        assumed=plan.assumed,
        plan=plan,
    )


def volume_backs(report: BacksReport) -> tuple[BackReport, ...]:
    """The answer for each volume of a set, as for a back by itself, in the order given."""
    return tuple(_volume_back(report, one) for one in report.plan.volumes)


def _volume_back(report: BacksReport, one: PlannedVolume) -> BackReport:
    texts = _texts(report.plan, one)
    said = back_words.answer(texts, one.failing, one.verdict)
    return BackReport(
        schema=BACK_SCHEMA,
        verdict=one.verdict,
        answer=set_words.beside_failing(said, report) if one.fits else said,
        orientation=report.orientation,
        texts=texts,
        failing=one.failing,
        findings=report.findings,
        assumed=report.assumed,
        plan=report.plan,
    )


def set_report(plan: Plan) -> SetReport:
    """The report of a set of titles."""
    size_asked = plan.backs[0].lettering.size_pt is not None
    volumes = tuple(
        _volume(plan, one, as_set=not (size_asked or plan.matched)) for one in plan.volumes
    )
    title, verdict = plan.roles[0], plan.verdict
    limiting = _limiting(plan)
    compromises = tuple(
        CompromiseReport(
            volume=one.volume,
            change=one.change,
            text=set_words.compromise_text(one.volume, one.change, _shown(one.text), one.others_pt),
            set_pt=one.text.set_pt,
            others_pt=one.others_pt,
            report=report_of(one.text.judged),
        )
        for one in plan.compromises
    )
    if plan.matched:
        assert plan.pattern is not None
        said = set_words.match_answer(volumes, plan.pattern.size_pt)
        findings = set_words.match_findings(volumes, plan.pattern.size_pt)
    else:
        said = set_words.answer(volumes, plan, limiting, verdict, compromises)
        labels = plan.backs[0].panel is not None
        findings = set_words.findings(volumes, plan, limiting, labels=labels)
    return SetReport(
        schema=SET_SCHEMA,
        verdict=verdict,
        answer=said,
        orientation=title.orientation,
        reading=title.reading,
        lines=title.lines,
        set_pt=title.set_pt,
        largest_pt=plan.largest_pt,
        limiting=limiting,
        volumes=volumes,
        compromises=compromises,
        pattern=plan.pattern,
        findings=findings,
        assumed=plan.assumed,
    )


def _limiting(plan: Plan) -> str:
    """The volume that keeps the title from being larger, or takes the smallest."""
    if plan.limit.volume is not None and not plan.matched:
        return plan.limit.volume
    return min(plan.volumes, key=lambda one: one.largest_pt).label


def _texts(plan: Plan, volume: PlannedVolume) -> tuple[TextReport, ...]:
    return tuple(_text(plan, one) for one in volume.texts)


def _text(plan: Plan, one: PlannedText) -> TextReport:
    return TextReport(
        role=one.role,
        text=one.text,
        panel=one.panel,
        zone=one.zone,
        set_pt=one.set_pt,
        fits=one.fits,
        report=_of_text(plan, one),
        job=one.job,
        judged=one.judged,
        label=one.label,
    )


def _of_text(plan: Plan, one: PlannedText) -> Report:
    report = report_of(one.judged)
    if plan.matched and one.role is Role.TITLE:
        return matched(report, one.breaches)
    return breached(report, one.breaches)


def _volume(plan: Plan, one: PlannedVolume, *, as_set: bool) -> VolumeReport:
    report = _of_text(plan, one.title)
    return VolumeReport(
        label=one.label,
        fits=one.fits,
        largest_pt=one.largest_pt,
        alone=_shown(one.alone),
        report=set_words.as_the_set_has_it(report) if as_set else report,
        job=one.title.job,
        judged=one.title.judged,
    )


def _shown(one: PlannedText) -> LayoutReport:
    layout = shown_layout(report_of(one.judged))
    assert layout is not None  # every text has a setting in an orientation it was asked for
    return layout
