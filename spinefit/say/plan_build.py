"""How does a plan become a report of a back, or of a set?

In: a `Plan`, facts only. Out: a `BackReport` or a `SetReport`, every text with the report that a
title alone would have. Wording comes from `plan_words` and `sentences`; nothing is
decided here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from spinefit.judgement.finding import Finding
from spinefit.plan.remedies import changes_for
from spinefit.plan.result import Limit, Plan, PlannedText, PlannedVolume
from spinefit.say import plan_words as words
from spinefit.say.answers import AS_ASKED
from spinefit.say.build import build_report
from spinefit.say.model import FindingReport, Report
from spinefit.say.phrasing import shown
from spinefit.say.plan_findings import (
    back_findings,
    backs_findings,
    match_findings,
    set_findings,
    text_findings,
)
from spinefit.say.plan_model import (
    BACK_SCHEMA,
    BACKS_SCHEMA,
    SET_SCHEMA,
    ApartReport,
    BackReport,
    CompromiseReport,
    PlanRemedy,
    SetReport,
    TextReport,
    VolumeReport,
)
from spinefit.say.sentences import reported
from spinefit.say.thickness import answer_beside, beside_estimate
from spinefit.vocabulary import Level, Role, Status, Verdict

_MATCHED = Finding(
    topic="pattern-matched",
    level=Level.GOOD,
    source="common practice: volumes of a set are lettered alike",
    status=Status.PRACTICE,
)


def back_report(plan: Plan) -> BackReport:
    """The report of one back."""
    volume = plan.volumes[0]
    texts = _texts(plan, volume)
    answer, findings = texts[0].report.answer, _reported(())
    if not plan.backs[0].is_single:
        answer = words.back_answer(texts, volume.failing, plan.verdict)
        if plan.matched:
            answer = words.back_matched(plan, texts, answer)
        answer = _told(answer, texts)
        findings = _reported(back_findings(plan, texts))
    return _back(plan, volume, texts, answer, findings)


def _back(
    plan: Plan,
    volume: PlannedVolume,
    texts: tuple[TextReport, ...],
    answer: str,
    findings: tuple[FindingReport, ...],
) -> BackReport:
    return BackReport(
        schema=BACK_SCHEMA,
        verdict=volume.verdict,
        answer=answer,
        orientation=volume.title.shown.orientation,
        texts=texts,
        labels=plan.labels,
        failing=volume.failing,
        findings=findings,
        plan=plan,
        assumed=plan.assumed,
        cautions=_cautions(texts),
    )


def plan_remedies(report: BackReport) -> tuple[PlanRemedy, ...]:
    """What would make all texts of a back fit, each planned again and found to work."""
    return remedies_of_plan(report.plan)


def remedies_of_plan(plan: Plan) -> tuple[PlanRemedy, ...]:
    """The same of the plan that the report was made of."""
    return tuple(
        PlanRemedy(one.change, words.change_in_words(one), one.title_pt, one.cost)
        for one in changes_for(plan)
    )


def volume_backs(report: SetReport) -> tuple[BackReport, ...]:
    """The answer for each volume of several texts, as for a back by itself, in the order given."""
    return tuple(map(partial(_volume_back, report), report.plan.volumes, report.volumes))


def _volume_back(report: SetReport, planned: PlannedVolume, told: VolumeReport) -> BackReport:
    answer = words.back_answer(told.texts, planned.failing, planned.verdict)
    if planned.fits:
        answer = words.beside_failing(answer, report)
    return _back(report.plan, planned, told.texts, _told(answer, told.texts), report.findings)


def set_report(plan: Plan, *, of_texts: bool) -> SetReport:
    """The report of volumes that stand together.

    Args:
        plan: what was found.
        of_texts: True where each text of a volume is told of by itself, False of titles alone.
    """
    volumes = tuple(_volume(plan, one, of_texts=of_texts) for one in plan.volumes)
    limit = plan.limit if plan.fits else Limit()  # what fails is named instead
    if not of_texts:
        limit = Limit(_limiting(plan), Role.TITLE)
    answer, findings = _answer_of_set(plan, volumes, limit, of_texts=of_texts)
    title = next((one for one in plan.roles if one.role is Role.TITLE), plan.roles[0])
    told = [text for one in volumes for text in (one.texts if of_texts else (one.title,))]
    return SetReport(
        schema=BACKS_SCHEMA if of_texts else SET_SCHEMA,
        verdict=plan.verdict,
        answer=words.beside_estimates(answer, plan.volumes),
        orientation=title.orientation,
        reading=title.reading,
        lines=title.lines,
        set_pt=title.set_pt,
        largest_pt=plan.largest_pt,
        roles=plan.roles,
        limit=limit,
        volumes=volumes,
        compromises=_compromises(plan),
        pattern=plan.pattern,
        findings=_reported(findings),
        assumed=plan.assumed,
        cautions=_cautions(told),
        alike=plan.alike,
        plan=plan,
    )


def _answer_of_set(
    plan: Plan, volumes: Sequence[VolumeReport], limit: Limit, *, of_texts: bool
) -> tuple[str, Iterator[Finding]]:
    """The sentence on a set, and what is found of it."""
    if of_texts:
        found = backs_findings(plan, volumes, limit)
        return words.backs_answer(plan, volumes, limit), found
    if plan.matched:
        return words.match_answer(plan), match_findings(plan, volumes)
    return words.set_answer(plan, limit), set_findings(plan, volumes, limit)


def _compromises(plan: Plan) -> tuple[CompromiseReport, ...]:
    return tuple(
        CompromiseReport(
            volume=one.volume,
            change=one.change,
            text=words.compromise_in_words(one),
            set_pt=one.text.set_pt,
            others_pt=one.others_pt,
            report=build_report(one.text.judged),
        )
        for one in plan.compromises
    )


def _limiting(plan: Plan) -> str:
    """The volume that keeps the title from being larger, or takes the smallest."""
    if plan.limit.volume is not None and not plan.matched:
        return plan.limit.volume
    alike = [one for one in plan.volumes if one.apart is None]
    return min(alike, key=lambda one: one.largest_pt).label


def _apart(one: PlannedVolume) -> ApartReport | None:
    if one.apart is None:
        return None
    why = "asked" if one.apart.asked else "gain"
    return ApartReport(why, one.apart.change, one.title.set_pt, words.apart_in_words(one))


def _volume(plan: Plan, one: PlannedVolume, *, of_texts: bool) -> VolumeReport:
    texts = _texts(plan, one) if of_texts else _title_and_number(plan, one)
    return VolumeReport(
        label=one.label,
        fits=one.fits,
        largest_pt=one.largest_pt,
        title_alone_pt=one.alone.set_pt,
        alone=None if of_texts else shown(build_report(one.alone.judged)),
        failing=one.failing,
        texts=texts,
        apart=_apart(one),
    )


def _title_and_number(plan: Plan, one: PlannedVolume) -> tuple[TextReport, ...]:
    """The title of a volume, told of as the set's, and its number where that stands by itself."""
    size_asked = plan.backs[0].lettering.size_pt is not None
    asked = AS_ASKED if size_asked or plan.matched else words.AS_THE_SET
    if one.apart is not None:
        asked = words.APART
    number = next((text for text in one.texts if text.role is Role.VOLUME), None)
    title = _text(plan, one.title, asked=asked, number=number)
    return (title,) if number is None else (title, _text(plan, number))


def _texts(plan: Plan, volume: PlannedVolume) -> tuple[TextReport, ...]:
    return tuple(_text(plan, one) for one in volume.texts)


def _text(
    plan: Plan, one: PlannedText, *, asked: str = AS_ASKED, number: PlannedText | None = None
) -> TextReport:
    """A text where it stands; of a title with what is said of the number beside it."""
    report = _of_text(plan, one, asked=asked)
    if number is not None:
        report = report._replace(answer=words.beside_number(report.answer, number))
    return TextReport(
        role=one.role,
        text=one.text,
        panel=one.panel,
        label=one.label,
        zone=one.zone,
        set_pt=one.set_pt,
        fits=one.fits,
        report=beside_estimate(report, one.judged.job),
        judged=one.judged,
        from_tail_mm=one.from_tail_mm,
    )


def _told(answer: str, texts: Sequence[TextReport]) -> str:
    """The answer of a back with what is read of it first: day numbers, and an estimated width."""
    answer = " ".join([answer, *day_numbers(texts)])
    return answer_beside(answer, texts[0].judged.job)


_IN_ANSWER = ("day-number", "call-number-cover")


def day_numbers(texts: Iterable[TextReport]) -> list[str]:
    """What would be lettered wrongly, or not at all: the answer is often all that is read."""
    found = (finding for one in texts for finding in one.report.findings)
    return [one.text for one in found if one.topic in _IN_ANSWER]


def _of_text(plan: Plan, one: PlannedText, *, asked: str = AS_ASKED) -> Report:
    """The report of a text; where it breaches its set or a pattern it does not fit."""
    report = build_report(one.judged, asked=asked)
    of_role = _reported(text_findings(plan, one))
    report = report._replace(findings=(*of_role, *report.findings)) if of_role else report
    beside_pattern = plan.matched and one.role is Role.TITLE
    if one.breaches:
        found = _reported(one.breaches)
        first = found[0].text
        match = "match the pattern" if beside_pattern else "match"
        return report._replace(
            verdict=Verdict.DOES_NOT_FIT,
            answer=f"It does not {match}: {first[:1].lower()}{first[1:]}",
            recommended=None,
            nearest=report.nearest if report.recommended is None else report.recommended,
            layouts=tuple(each._replace(fits=False) for each in report.layouts),
            findings=(*found, *report.findings),
        )
    if not beside_pattern:
        return report
    found = (reported(_MATCHED),) if report.fits else ()
    return report._replace(
        answer=words.matched(report.fits, report.answer), findings=(*found, *report.findings)
    )


def _cautions(texts: Iterable[TextReport]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text for one in texts for text in one.report.cautions))


def _reported(findings: Iterable[Finding]) -> tuple[FindingReport, ...]:
    return tuple(map(reported, findings))
