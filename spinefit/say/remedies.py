"""What could be changed so that the title fits, stands safer, or is read with ease?

In: a report whose job has something left to wish for. Out: the remedies that running that job
changed has shown, each in a sentence.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, overload

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.remedies import remedies_for
from spinefit.judgement.remedy import Remedy
from spinefit.judgement.text import Trials, judged_title
from spinefit.say.filling import said
from spinefit.say.model import RemedyReport, Report
from spinefit.say.phrasing import grave, limit_pt, mm, on_lines, pt, way
from spinefit.vocabulary import Case, Orientation

if TYPE_CHECKING:
    from spinefit.plan.result import Plan
    from spinefit.say.plan_model import BackReport, CompromiseReport, PlanRemedy, PlanReport


@overload
def remedies(report: Report) -> tuple[RemedyReport, ...]: ...
@overload
def remedies(report: BackReport) -> tuple[RemedyReport | PlanRemedy, ...]: ...
def remedies(report: Report | BackReport) -> tuple[RemedyReport | PlanRemedy, ...]:
    """What could be changed so that it fits, stands safer, or is read with ease.

    Each remedy was run, and gives what it says. That takes some twenty runs of the job, so keep
    the answer rather than ask twice.

    Args:
        report: the answer to a job, as `check` gives it, or for the texts of a back, as
            `plan_back` does.

    Returns:
        The best remedy of each kind, the cheapest first; none where nothing is wanting.

    Raises:
        SpinefitError: the font file of the job is there no more.

    >>> from spinefit import Job, Panel, check
    >>> job = Job(title="Tide / Tables", panel=Panel(width_mm=30, height_mm=4))
    >>> [one.change for one in remedies(check(job))]
    ['split', 'leading', 'wider-label', 'cover']
    """
    if isinstance(report, Report):
        return remedies_of(report.to_improve)
    if not hasattr(report, "is_single"):
        raise TypeError("remedies are those of one title or one back, not of a set")
    if report.is_single:
        return remedies_of(report.texts[0].report.to_improve)
    from spinefit.say.plan_build import plan_remedies

    return plan_remedies(report)


def remedies_of(job: ResolvedJob | None) -> tuple[RemedyReport, ...]:
    """The remedies of a job that has something left to wish for; none where there is no job."""
    return tuple(told for _, told in remedies_run(job))


def remedies_run(job: ResolvedJob | None) -> tuple[tuple[Remedy, RemedyReport], ...]:
    """The same, each beside the facts that it was found by."""
    if job is None:
        return ()
    title, judged, best = judged_title(job)
    found = remedies_for(job, title, judged, best, Trials())
    return tuple((one, _reported(job, one)) for one in found)


def changes_of(report: PlanReport) -> list[str]:
    """What could be done about a plan, each in a sentence."""
    from spinefit.say.plan_model import BackReport

    if not isinstance(report, BackReport):
        from spinefit.say.plan_words import alike_in_words

        alike = [] if report.alike is None else [alike_in_words(report.alike)]
        return [
            *(text for _, _, text in like_the_others_run(report.plan)),
            *map(compromise_in_words, report.compromises),
            *alike,
        ]
    return [*(one.text for one in remedies(report)), *_coverings(report)]


def compromise_in_words(one: CompromiseReport) -> str:
    """What a volume may do, and what is grave of that."""
    return " ".join([one.text, *(finding.text for finding in grave(one.report))])


_OF_WORDS_OR_LETTERS = ("abbreviate", "break-word", "condensed")


def like_the_others_run(plan: Plan) -> Iterator[tuple[str, Remedy, str]]:
    """With which words or letters a volume set apart would be like its set; ask its owner.

    Args:
        plan: of a set.

    Returns:
        The label of each such volume, what was changed, and that in a sentence.
    """
    from spinefit.plan.remedies import like_the_others

    for label, job in like_the_others(plan):
        for found, one in remedies_run(job):
            if found.outcome is None or len(found.outcome.lines) != job.lettering.lines:
                continue  # of other lines it is not like them
            if set(one.change.split("+")) & set(_OF_WORDS_OR_LETTERS):
                text = f"{label} like the others: {one.text[:1].lower()}{one.text[1:]}"
                yield label, found, text


def _coverings(report: BackReport) -> list[str]:
    """The label that covers old lettering, of the title that is to lie over it."""
    plan = report.plan
    if report.is_single or plan.matched or plan.backs[0].old_lettering is None:
        return []
    title = next(one for one in report.texts if one.role == "title")
    found = remedies_of(title.report.to_improve)
    return [one.text for one in found if one.change == "cover-old"]


def _reported(job: ResolvedJob, remedy: Remedy) -> RemedyReport:
    """A remedy in words, its options with the axes that were found for the job."""
    one, options = remedy.outcome, remedy.options
    if job.lettering.axes_found and options and "--axes" not in options:
        axes = ",".join(f"{tag}={value:g}" for tag, value in job.lettering.axes)
        options = f"{options} --axes {axes}"
    return RemedyReport(
        change=remedy.change,
        options=options,
        text=remedy_text(remedy),
        largest_pt=None if one is None else one.largest_pt,
        spare_mm=None if one is None else min(one.spare_mm.known()),
        cost=remedy.cost,
    )


def remedy_text(remedy: Remedy) -> str:
    """What to do, in a sentence, with the size it gives."""
    one = remedy.outcome
    if one is None:
        return "Put it on the front cover or board, where there is room for it."
    facts = _facts(remedy.facts, one, _LETTERED.get(remedy.change, ""))
    if remedy.change in CHANGES:
        return said(CHANGES[remedy.change], **facts)
    parts: Any = remedy.facts["parts"]
    changes = " and ".join(said(PARTS[change], **_facts(own, one)) for change, own in parts)
    return said("Two changes together: {changes}: {size}, {stands}.", changes=changes, **facts)


_LETTERED = {
    "panel": "panel",
    "cover-old": "label",
    "old-panel": "panel",
    "old-clear": "label",
    "wider-label": "label",
}
"""What is lettered after a change, where it is not what the job has."""
CHANGES = {
    "larger": "Set it at {set_pt:pt} or more: {stands}, {largest_pt:pt at most} at most.",
    "smaller": "Set it smaller: {set_pt:pt}{tight:, still tight|}.",
    "split": "Let it break as {lines}: {size}.",
    "tracking": "{closer:start}: {size}, {stands}.",
    "leading": ("Bring the lines closer, {leading} from baseline to baseline: {size}, {stands}."),
    "font": "Take a sturdier letter ('{font}'): {size}.",
    "font+case": "Take a sturdier letter in capitals, {font}: {size}, {stands}.",
    "condensed": "Take {own:its condensed companion|a narrower letter}, {font}: {size}, {stands}.",
    "turn": "Letter it {turned} instead: {size}.",
    "capitals": "Set it in capitals, {turned}: {size}.",
    "as-typed": "Set it in small letters instead of capitals, {turned}: {size}.",
    "panel": "Letter panel {title_panel}, which is longer: {size}, {stands}.",
    "cover-old": (
        "Cover the old lettering with a label of {width_mm} x {height_mm} mm at least{of_method}"
        "{for_round}: {size}, {stands}."
    ),
    "old-panel": (
        "Letter panel {number}{over:, over the old lettering| and leave the old lettering in view}"
        ": {size}, {stands}."
    ),
    "old-clear": (
        "Put the label {below:below|above} the old lettering, which stays in view: {size}, "
        "{stands}."
    ),
    "wider-label": "Cut the label to {width_mm} x {height_mm} mm at least: {size}, {stands}.",
    "abbreviate": "If the title may be abbreviated, letter it “{title}” ({sources}): {size}.",
    "break-word": "If you allow a word to be broken, {lines}: {size}{beside}.",
    "over-bands": "Only if forced, along the whole back over its bands: {size}.",
    "cover": (
        "Put the title on the front cover or board: {size} across it, taking it to be "
        "{place.board.width_mm:bare mm} x {place.board.height_mm:mm}, the "
        "{place.is_label:label|lettering} {place.label_width_mm:bare mm} x "
        "{place.label_height_mm:mm}{near_edge}."
    ),
}
"""What to do for each change."""
PARTS = {
    "size": "set it at {set_pt:pt}",
    "split": "let it break as {lines}",
    "turn": "letter it {turned}",
    "case": "set it in {in_capitals:capitals|small letters}",
    "condensed": "take a narrower letter, {font}",
    "abbreviate": "abbreviate it, “{title}” ({sources})",
    "tracking": "{closer}",
    "leading": "bring the lines closer, {leading} from baseline to baseline",
}
"""The same for one of two changes."""


def _facts(own: Any, one: Judged, lettered: str = "") -> dict[str, Any]:
    """What the templates name: the facts of the change, and how the title then stands."""
    lines, turned = one.layout.group.texts, _turned(one, lettered)
    pillar = one.layout.candidate.orientation is Orientation.PILLAR
    facts = {
        **own,
        "set_pt": one.set_pt,
        "largest_pt": one.largest_pt,
        "size": f"{pt(one.set_pt)} (up to {limit_pt(one.largest_pt)})",
        "tight": one.tight,
        "lines": " / ".join(lines),
        "turned": turned,
        "stands": turned if pillar else f"{turned}, {on_lines(len(lines))}",
        "in_capitals": own.get("case") is Case.CAPITALS,
        "closer": "leave out the space added between letters",
        "sources": _sources(own.get("rows", ())),
        "of_method": f", a {own['method']}" if own.get("method") else "",
        "for_round": "",
        "near_edge": "",
        "beside": "".join(
            f"; or {' / '.join(other.lines)}, up to {limit_pt(other.largest_pt)}"
            for other in own.get("beside", ())
        ),
    }
    if own.get("parted"):
        facts["closer"] = "leave the letters at their own spacing"
    if own.get("tracking"):
        closer = f"{-own['tracking'] / 1000 * one.size_mm:.2f} mm (--tracking {own['tracking']:g})"
        facts["closer"] = f"close the letters up by {closer}"
    if own.get("leading_em"):
        leading_em = own["leading_em"]
        facts["leading"] = f"{mm(leading_em * one.size_mm)} (--leading {leading_em:g})"
    if own.get("bent"):
        facts["for_round"] = f", cut {mm(own['bent'].cut_width_mm)} wide for the round"
    if own.get("near"):
        facts["near_edge"] = f", {mm(min(own['place'].around_mm.known()))} from an edge"
    return facts


def _sources(rows: Any) -> str:
    return ", ".join(dict.fromkeys(f"{row.source}; {row.status}" for row in rows))


def _turned(one: Judged, lettered: str) -> str:
    what = lettered or ("panel" if one.layout.panel.back is None else "back")
    orientation = one.layout.candidate.orientation
    if orientation is Orientation.LONGITUDINAL:
        return f"along the {what}, {way(one.layout.candidate.reading.value)}"
    if orientation is Orientation.PILLAR:
        return "as upright letters one under another"
    return f"across the {what}"
