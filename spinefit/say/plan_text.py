"""How does a person at the bench read a plan on a screen?

In: a `BackReport`, `BacksReport` or `SetReport`. Out: plain text, the answer first, then each
text or volume with its lines and where to measure, then what could be changed, why, and what
was assumed.
Each text's own report in full is in ``--format json`` and in the checklist.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.say import terminal
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.page import Page
from spinefit.say.phrasing import (
    bare_mm,
    joined,
    least_spare_mm,
    limit_pt,
    mm,
    pt,
    shown,
    source_in_words,
    visible,
)
from spinefit.say.plan_build import changes_of
from spinefit.say.plan_model import (
    BackReport,
    BacksReport,
    PlanReport,
    TextReport,
    VolumeReport,
)
from spinefit.say.plan_words import label_in_words
from spinefit.say.screen import PLAIN, Screen
from spinefit.say.terminal import assumed_rows
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
        page.heading("From head to tail")
        for text in report.texts:
            _text(page, text)
        if report.labels:
            page.heading("Labels that texts share")
            for label in report.labels:
                page.row(visible(label.name), visible(label_in_words(label)))
        _changes(page, "What would make it fit", changes_of(report))
    elif isinstance(report, BacksReport):
        for back in report.volumes:
            page.heading(f"{visible(back.label)}, from head to tail")
            for text in back.texts:
                _text(page, text)
    else:
        page.heading("The volumes")
        for volume in report.volumes:
            _volume(page, volume)
        _changes(page, "Instead of letting the worst rule all", changes_of(report))
    if report.findings:
        page.heading("Why, and who says so")
        for finding in report.findings:
            _finding(page, finding)
    assumed_rows(page, report.assumed)
    return page.text()


def _changes(page: Page, heading: str, texts: Sequence[str]) -> None:
    if texts:
        page.heading(heading)
        for at, text in enumerate(texts, 1):
            page.row(str(at), visible(text))


def _text(page: Page, one: TextReport) -> None:
    layout = shown(one.report)
    where = "" if one.panel is None else f", panel {one.panel}"
    room = ""
    if one.zone is not None:
        begins, ends = bare_mm(one.zone.begins_mm), mm(one.zone.ends_mm)
        room = f"; its room is {begins} to {ends} from the head"
    rows = [f"{joined(layout)}", f"{_size(layout)}{where}{room}", *_place(layout)]
    _block(page, str(one.role), rows, one.report, layout)


def _volume(page: Page, one: VolumeReport) -> None:
    layout = shown(one.report)
    rows = [
        joined(layout),
        f"{_size(layout)}; by itself {pt(one.alone.set_pt)} "
        f"{'across' if one.alone.reading is Reading.ACROSS else one.alone.reading} would be "
        f"advised, as {joined(one.alone)}",
        *_place(layout),
    ]
    _block(page, one.label, rows, one.report, layout)


def _size(layout: LayoutReport) -> str:
    verdict = "" if layout.fits else "does not fit: "
    return f"{verdict}{pt(layout.set_pt)}, {limit_pt(layout.largest_pt)} at most"


def _place(layout: LayoutReport) -> list[str]:
    rows = []
    if layout.first_from_head_mm is not None and layout.fits:
        what = "first baseline" if layout.reading is Reading.ACROSS else "lettering begins"
        if layout.reading is Reading.ASCENDING:
            what = "lettering ends"
        rows.append(f"{what} {mm(layout.first_from_head_mm)} from the head")
    least = least_spare_mm(layout)
    if least is not None:
        rows.append(f"least spare {mm(least)}")
    return ["; ".join(rows)] if rows else []


def _block(
    page: Page, name: str, rows: Sequence[str], report: Report, layout: LayoutReport
) -> None:
    """A text or volume: its name before its first line, then what is grave about it."""
    grave = [
        finding.text for finding in (*report.findings, *layout.findings) if finding.level in _GRAVE
    ]
    page.blank()
    for at, line in enumerate((*rows, *dict.fromkeys(grave))):
        page.row("" if at else visible(name), visible(line))


def _finding(page: Page, finding: FindingReport) -> None:
    source = source_in_words(finding.source, finding.status)
    page.row(finding.level, visible(finding.text), dim=f"[{visible(source)}]" if source else "")
