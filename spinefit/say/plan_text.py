"""How does a person at the bench read a plan on a screen?

In: a `BackReport`, `BacksReport` or `SetReport`. Out: plain text, the answer first, then each
text or volume with its lines and where to measure, then what could be changed, why, and what
was assumed.
Each text's own report in full is in ``--format json`` and in the checklist.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.say import terminal
from spinefit.say.model import LayoutReport, Report
from spinefit.say.page import Page
from spinefit.say.phrasing import (
    bare_mm,
    from_head_in_words,
    joined,
    least_spare_mm,
    limit_pt,
    mm,
    pt,
    shown,
    visible,
)
from spinefit.say.plan_model import (
    BackReport,
    BacksReport,
    PlanReport,
    SetReport,
    TextReport,
    VolumeReport,
)
from spinefit.say.plan_words import label_in_words
from spinefit.say.remedies import changes_of
from spinefit.say.screen import PLAIN, Screen
from spinefit.say.terminal import assumed_rows, finding_rows, numbered_rows
from spinefit.vocabulary import Level, Reading

__all__ = ["render"]

_GRAVE = (Level.FAILURE, Level.WARNING)


def render(report: PlanReport, screen: Screen = PLAIN) -> str:
    """The whole plan as text, lines ended by newlines.

    Args:
        report: the plan.
        screen: what it is written for.
    """
    if isinstance(report, BackReport) and report.is_single:
        return terminal.render(report.texts[0].report, screen)
    page = Page(screen)
    page.paragraph(visible(report.answer), "bold")
    if isinstance(report, BackReport):
        _back(page, report)
    elif isinstance(report, BacksReport):
        for back in report.volumes:
            page.heading(f"{visible(back.label)}, from head to tail")
            for text in back.texts:
                _text(page, text)
    else:
        _set(page, report)
    finding_rows(page, "Why, and who says so", report.findings)
    assumed_rows(page, report.assumed)
    return page.text()


def _back(page: Page, report: BackReport) -> None:
    page.heading("From head to tail")
    for text in report.texts:
        _text(page, text)
    if report.labels:
        page.heading("Labels that texts share")
    for label in report.labels:
        page.row(visible(label.name), visible(label_in_words(label)))
    heading = "Over the old lettering" if report.fits else "What would make it fit"
    numbered_rows(page, heading, changes_of(report))


def _set(page: Page, report: SetReport) -> None:
    page.heading("The volumes")
    for volume in report.volumes:
        _volume(page, volume)
    if report.compromises:
        page.heading("Instead of letting the worst rule all")
    for at, one in enumerate(report.compromises, 1):
        _named(page, str(at), [one.text, *_grave(one.report)])


def _text(page: Page, one: TextReport) -> None:
    layout = shown(one.report)
    where = "" if one.panel is None else f", panel {one.panel}"
    room = ""
    if one.zone is not None:
        begins, ends = bare_mm(one.zone.begins_mm), mm(one.zone.ends_mm)
        room = f"; its room is {begins} to {ends} from the head"
    size = f"{_size(layout)}{where}{room}"
    recess = [] if one.report.recess is None else [f"recess: {one.report.recess.text}"]
    page.blank()
    rows = [joined(layout), size, *_place(layout), *recess, *_grave(one.report)]
    _named(page, str(one.role), rows)


def _volume(page: Page, one: VolumeReport) -> None:
    layout, alone = shown(one.report), one.alone
    way = "across" if alone.reading is Reading.ACROSS else alone.reading
    by_itself = f"{pt(alone.set_pt)} {way} would be advised, as {joined(alone)}"
    if not alone.fits:
        by_itself = f"it takes {limit_pt(alone.largest_pt)} at most, {way}, as {joined(alone)}"
    size = f"{_size(layout)}; by itself {by_itself}"
    page.blank()
    _named(page, one.label, [joined(layout), size, *_place(layout), *_grave(one.report)])


def _size(layout: LayoutReport) -> str:
    verdict = "" if layout.fits else "does not fit: "
    return f"{verdict}{pt(layout.set_pt)}, {limit_pt(layout.largest_pt)} at most"


def _place(layout: LayoutReport) -> list[str]:
    parts = [from_head_in_words(layout)] if layout.fits else []
    least = least_spare_mm(layout)
    if least is not None:
        parts.append(f"least spare {mm(least)}")
    return ["; ".join(filter(None, parts))] if any(parts) else []


def _grave(report: Report) -> list[str]:
    """Warnings and failures of a text and its setting, each once."""
    found = (*report.findings, *shown(report).findings)
    return list(dict.fromkeys(one.text for one in found if one.level in _GRAVE))


def _named(page: Page, name: str, lines: Sequence[str]) -> None:
    """Lines, the first beside what they are of."""
    for at, line in enumerate(lines):
        page.row("" if at else visible(name), visible(line))
