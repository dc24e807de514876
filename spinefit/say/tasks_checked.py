"""What was checked, and did it pass?

In: a `Report`. Out: tasks, ticked where a check passed and open where it did not or is not
settled, with figure, limit, source and status: fit and spare, size, lines, direction, what
the method holds, then every finding, the gravest first. Nothing is judged here: a check
without a finding against it passed where the setting fits.
"""

from __future__ import annotations

from collections.abc import Iterable

from spinefit.provenance import Status
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, LayoutReport, LimitReport, RemedyReport, Report
from spinefit.say.tasks import escaped, finding_task, limit_of, sourced, task
from spinefit.vocabulary import Orientation

__all__ = ["checked_tasks"]

_OF_LETTERS = ("thin-stroke", "thin-gap")
_OF_OFFER = ("size-not-offered", "size-below-method", "below-method", *_OF_LETTERS)
_OF_BREAKS = ("words-alone", "words-chosen", "words-stranded", "words-broken")

_SAME_PT = 1e-6  # a size typed in another point comes back with rounding


def checked_tasks(report: Report, remedies: Iterable[RemedyReport]) -> list[str]:
    """The checks of the recommended setting, or of the nearest where none fits.

    Args:
        report: the answer to one job.
        remedies: what could be changed, as `remedies` found it, to be tried.
    """
    layout = say.shown_layout(report)
    findings = say.findings_by_weight(report, layout)
    return [
        *(_setting(report, layout, findings) if layout else ()),
        *_bands(report),
        *(finding_task(finding) for finding in findings),
        *(task(False, f"To be tried: {escaped(remedy.text)}") for remedy in remedies),
    ]


def _setting(report: Report, layout: LayoutReport, findings: list[FindingReport]) -> list[str]:
    fits = layout.fits
    computed = sourced("computed from the outlines and the panel", Status.COMPUTED)
    size = f"Size: {say.size_in_words(layout)}, {escaped(say.font_in_words(report.font))}{computed}"
    found = [
        task(fits, size),
        task(fits, f"Spare on each side: {_spares(layout)}{computed}"),
        *_offer(report, layout, findings),
        _lines(layout, findings),
        _direction(report, layout),
        *_letters(report, layout, findings),
    ]
    place = say.placing_in_words(layout) if fits else ""
    if place:
        found.append(task(True, f"Place: {place}"))
    if layout.needs_back_mm is not None:
        needs = say.mm(layout.needs_back_mm)
        found.append(task(False, f"Length of back: {needs} needed; not stated"))
    return found


def _spares(layout: LayoutReport) -> str:
    sides = layout.spare_mm._asdict().items()
    known = [f"{side} {say.mm(spare)}" for side, spare in sides if spare is not None]
    return ", ".join(known) or "not known"


def _offer(report: Report, layout: LayoutReport, findings: list[FindingReport]) -> list[str]:
    """Whether the size is one the method offers, be it too large for the panel or not."""
    limits = _limits(report)
    row = limits.get("sizes") or limits.get("smallest")
    if row is None:
        return []
    name = escaped(report.method.name)
    if row.what == "sizes":
        sizes = ", ".join(say.bare_pt(size) for size in row.values)
        offered = f"a {name} has {sizes} pt"
    else:
        offered = f"a {name} takes any from {say.pt(row.values[0])} up"
    behind = sourced(row.source, row.status)
    against = any(finding.topic in _OF_OFFER for finding in findings)
    too_large = any(finding.topic == "too-large" for finding in findings)
    near = [size for size in row.values if abs(size - layout.set_pt) < _SAME_PT]
    offered_too = too_large and not against and (row.what != "sizes" or bool(near))
    done = layout.fits or offered_too
    return [task(done, f"Size on offer: {say.pt(layout.set_pt)}; {offered}{behind}")]


def _lines(layout: LayoutReport, findings: list[FindingReport]) -> str:
    faulty = layout.word_broken or any(finding.topic in _OF_BREAKS for finding in findings)
    breaks = "" if len(layout.lines) == 1 else f", broken {_why_broken(layout)}"
    text = f"Lines: {say.lines_in_words(layout)}, {escaped(say.joined(layout))}{breaks}"
    return task(layout.fits and not faulty, text)


def _why_broken(layout: LayoutReport) -> str:
    return {"as typed": "as typed", "sense": "by sense"}.get(layout.split, f"for {layout.split}")


def _direction(report: Report, layout: LayoutReport) -> str:
    text = f"Direction: {say.way_in_words(report, layout)}"
    if layout.orientation is not Orientation.LONGITUDINAL:
        return task(layout.fits, text)
    rule = report.convention
    agreed = layout.reading == rule.reading
    custom = f"the custom is {rule.reading}, {rule.firmness}"
    text += f"; {say.turn_in_words(layout)}{sourced(rule.source, rule.status, custom)}"
    return task(layout.fits and agreed, text)


def _letters(report: Report, layout: LayoutReport, findings: list[FindingReport]) -> list[str]:
    """Whether the strokes and gaps of each letter hold; their findings say where they do not."""
    against = any(finding.topic in _OF_LETTERS for finding in findings)
    found = []
    for what, words in (("stroke", "Thinnest stroke"), ("gap", "Narrowest gap")):
        row = _limits(report).get(what)
        if row is None:
            continue
        behind = sourced(row.source, row.status, limit_of(row.values[0], row.unit))
        holds = layout.fits and not against
        state = f"{words} of each letter"
        text = f"{state}: held at {say.pt(layout.set_pt)}" if holds else f"{state}: not settled"
        found.append(task(holds, f"{text}{behind}"))
    return found


def _bands(report: Report) -> list[str]:
    """Bands as wide as bands are; narrower ones have a finding of their own."""
    found = []
    for measured in report.measurements:
        if measured.what != "band-height" or measured.least is None:
            continue
        limit = limit_of(measured.least, measured.unit)
        behind = sourced(measured.source, measured.status, limit)
        wide_mm = measured.values[0]
        if wide_mm >= measured.least:
            found.append(task(True, f"Width of the bands: {say.mm(wide_mm)}{behind}"))
    return found


def _limits(report: Report) -> dict[str, LimitReport]:
    return {limit.what: limit for limit in report.method.limits}
