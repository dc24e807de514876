"""What could be changed so that the title fits, stands safer, or is read with ease?

In: a report whose job has something left to wish for. Out: the remedies that running that job
changed has shown, each in a sentence.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, overload

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.remedies import Remedy, remedies_for
from spinefit.judgement.text import Trials, judged_title
from spinefit.say.model import RemedyReport, Report
from spinefit.say.phrasing import bare_mm, limit_pt, mm, on_lines, pt, way
from spinefit.vocabulary import Case, Orientation

if TYPE_CHECKING:
    from spinefit.say.plan_model import BackReport, PlanRemedy

__all__ = ["remedies", "remedies_of", "remedy_text"]


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
    if report.is_single:
        return remedies_of(report.texts[0].report.to_improve)
    from spinefit.say.plan_build import plan_remedies

    return plan_remedies(report)


def remedies_of(job: ResolvedJob | None) -> tuple[RemedyReport, ...]:
    """The remedies of a job that has something left to wish for; none where there is no job."""
    if job is None:
        return ()
    title, judged, best = judged_title(job)
    found = remedies_for(job, title, judged, best, Trials())
    return tuple(_reported(job, one) for one in found)


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
        return "Put the title on the front cover or board, where there is room for it."
    size = f"{pt(one.set_pt)} (up to {limit_pt(one.largest_pt)})"
    if "+" in remedy.change:
        return _pair_text(remedy, one, size)
    return _REMEDIES[remedy.change](remedy, one, size)


def _pair_text(remedy: Remedy, one: Judged, size: str) -> str:
    parts: Any = remedy.facts["parts"]
    said = " and ".join(_PARTS[change](facts, one) for change, facts in parts)
    return f"Two changes together: {said}: {size}, {_set(one)}."


def _panel_text(remedy: Remedy, one: Judged, size: str) -> str:
    number = remedy.facts["title_panel"]
    return f"Letter panel {number}, which is longer: {size}, {_set(one, 'panel')}."


def _label_text(remedy: Remedy, one: Judged, size: str) -> str:
    label = f"{remedy.facts['width_mm']:g} x {remedy.facts['height_mm']:g} mm"
    return f"Cut the label to {label} at least: {size}, {_set(one, 'label')}."


def _cover_text(remedy: Remedy, one: Judged, size: str) -> str:
    facts: Any = remedy.facts
    label = f"{facts['width_mm']:g} x {facts['height_mm']:g} mm"
    kind = f", a {facts['method']}," if facts["method"] else ""
    cut = f", cut {mm(facts['bent'].cut_width_mm)} wide for the round" if facts["bent"] else ""
    return (
        f"Cover the old lettering with a label of {label} at least{kind}{cut}: {size}, "
        f"{_set(one, 'label')}."
    )


def _board_text(remedy: Remedy, one: Judged, size: str) -> str:
    place: Any = remedy.facts["place"]
    what = "label" if place.is_label else "lettering"
    near = f", {mm(min(place.around_mm.known()))} from an edge" if remedy.facts["near"] else ""
    return (
        f"Put the title on the front cover or board: {size} across it, taking it to be "
        f"{bare_mm(place.board.width_mm)} x {mm(place.board.height_mm)}, the {what} "
        f"{bare_mm(place.label_width_mm)} x {mm(place.label_height_mm)}{near}."
    )


def _condensed_text(remedy: Remedy, one: Judged, size: str) -> str:
    what = "its condensed companion" if remedy.facts["own"] else "a narrower letter"
    return f"Take {what}, {remedy.facts['font']}: {size}, {_set(one)}."


def _abbreviated_text(remedy: Remedy, one: Judged, size: str) -> str:
    rows: Any = remedy.facts["rows"]
    return (
        f"If the title may be abbreviated, letter it \u201c{remedy.facts['title']}\u201d "
        f"({_sources(rows)}): {size}."
    )


def _set(one: Judged, what: str = "") -> str:
    """Which way and in how many lines."""
    pillar = one.layout.candidate.orientation is Orientation.PILLAR
    return (
        _turned(one) if pillar else f"{_turned(one, what)}, {on_lines(len(one.layout.group.texts))}"
    )


_PARTS: dict[str, Callable[[Any, Judged], str]] = {
    "size": lambda facts, one: f"set it at {pt(one.set_pt)}",
    "split": lambda facts, one: f"let it break as {' / '.join(one.layout.group.texts)}",
    "turn": lambda facts, one: f"letter it {_turned(one)}",
    "case": lambda facts, one: (
        "set it in capitals" if facts["case"] is Case.CAPITALS else "set it in small letters"
    ),
    "condensed": lambda facts, one: f"take a narrower letter, {facts['font']}",
    "abbreviate": lambda facts, one: (
        f"abbreviate it, \u201c{facts['title']}\u201d ({_sources(facts['rows'])})"
    ),
    "tracking": lambda facts, one: _closer_words(facts["tracking"]),
    "leading": lambda facts, one: (
        f"bring the lines closer, {facts['leading_em']:g} em from baseline to baseline"
    ),
}


def _sources(rows: Any) -> str:
    return ", ".join(dict.fromkeys(f"{row.source}; {row.status}" for row in rows))


_REMEDIES: dict[str, Callable[[Remedy, Judged, str], str]] = {
    "smaller": lambda r, one, size: (
        f"Set it smaller: {pt(one.set_pt)}{', still tight' if one.tight else ''}."
    ),
    "split": lambda r, one, size: f"Let it break as {' / '.join(one.layout.group.texts)}: {size}.",
    "tracking": lambda r, one, size: f"{_closer(r)}: {size}, {_set(one)}.",
    "leading": lambda r, one, size: (
        f"Bring the lines closer, {r.facts['leading_em']:g} em from baseline to baseline: "
        f"{size}, {_set(one)}."
    ),
    "font": lambda r, one, size: f"Take a sturdier letter ('{r.facts['font']}'): {size}.",
    "condensed": _condensed_text,
    "turn": lambda r, one, size: f"Letter it {_turned(one)} instead: {size}.",
    "capitals": lambda r, one, size: f"Set it in capitals, {_turned(one)}: {size}.",
    "as-typed": lambda r, one, size: (
        f"Set it in small letters instead of capitals, {_turned(one)}: {size}."
    ),
    "panel": _panel_text,
    "cover-old": _cover_text,
    "wider-label": _label_text,
    "abbreviate": _abbreviated_text,
    "break-word": lambda r, one, size: (
        f"If you allow a word to be broken, {' / '.join(one.layout.group.texts)}: {size}."
    ),
    "over-bands": lambda r, one, size: (
        f"Only if forced, along the whole back over its bands: {size}."
    ),
    "cover": _board_text,
}


def _closer(remedy: Remedy) -> str:
    said = _closer_words(remedy.facts["tracking"])
    return f"{said[:1].upper()}{said[1:]}"


def _closer_words(tracking: Any) -> str:
    if not tracking:
        return "leave out the space added between letters"
    return f"close the letters up by {-tracking:g} thousandths of the size"


def _turned(one: Judged, what: str = "") -> str:
    what = what or ("panel" if one.layout.panel.back is None else "back")
    orientation = one.layout.candidate.orientation
    if orientation is Orientation.LONGITUDINAL:
        return f"along the {what}, {way(one.layout.candidate.reading.value)}"
    return "as a pillar" if orientation is Orientation.PILLAR else f"across the {what}"
