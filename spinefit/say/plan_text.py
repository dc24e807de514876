"""How does a person at the bench read a plan on a screen?

In: a `BackReport`, `BacksReport` or `SetReport`. Out: plain text, the answer first, then each text
or volume with its lines and where to measure, what could be changed, what to mind, and the same
end as a title alone has. Each text's own report in full is in JSON and in the checklist.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.say import terminal
from spinefit.say.model import FindingReport, LayoutReport
from spinefit.say.page import Page
from spinefit.say.phrasing import (
    bare_mm,
    from_head_in_words,
    grave,
    joined,
    least_spare_mm,
    limit_pt,
    mm,
    placing_in_words,
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
from spinefit.say.terminal import (
    assumed_rows,
    closing,
    mind_rows,
    numbered_rows,
    reason_rows,
)
from spinefit.vocabulary import Reading

__all__ = ["render"]


def render(report: PlanReport, screen: Screen = PLAIN, *, why: bool = False) -> str:
    """The plan as text, lines ended by newlines.

    Args:
        report: the plan.
        screen: what it is written for.
        why: whether reasons, sources, each text by itself and all that was assumed are wanted too.
    """
    if isinstance(report, BackReport) and report.is_single:
        return terminal.render(report.texts[0].report, screen, why=why)
    page = Page(screen)
    page.paragraph(visible(report.answer), "bold")
    if isinstance(report, BackReport):
        _back(page, report, why=why)
    elif isinstance(report, BacksReport):
        for back in report.volumes:
            page.heading(f"{visible(back.label)}, from head to tail")
            for text in back.texts:
                _text(page, text, why=why, in_brief=not why)
        numbered_rows(page, "What else could be done", changes_of(report), why=why)
    else:
        _set(page, report, why=why)
    findings = [*(("", one) for one in report.findings), *_of_parts(report)]
    mind_rows(page, findings, parts=frozenset(name for name, _ in report.parts), why=why)
    if why:
        assumed_rows(page, report.assumed)
        reason_rows(page, report.findings)
    closing(page, [one for _, one in report.parts], report.assumed, why=why)
    return page.text()


def _of_parts(report: PlanReport) -> list[tuple[str, FindingReport]]:
    """What is grave of each text or volume and its setting; notes are for its own report."""
    return [(name, finding) for name, one in report.parts for finding in grave(one)]


def _back(page: Page, report: BackReport, *, why: bool) -> None:
    page.heading("From head to tail")
    for text in report.texts:
        _text(page, text, why=why)
    if report.labels:
        page.heading("Labels that texts share")
    for label in report.labels:
        page.row(visible(label.name), visible(label_in_words(label)))
    heading = "Over the old lettering" if report.fits else "What would make it fit"
    numbered_rows(page, heading, changes_of(report), why=why)


def _set(page: Page, report: SetReport, *, why: bool) -> None:
    page.heading("The volumes")
    for volume in report.volumes:
        _volume(page, volume, why=why)
    numbered_rows(page, "What else could be done", changes_of(report), why=why)


def _text(page: Page, one: TextReport, *, why: bool, in_brief: bool = False) -> None:
    """A text of a back; in brief where others are set alike and it fits: where it stands."""
    layout = shown(one.report)
    where = "" if one.panel is None else f", panel {one.panel}"
    if in_brief and layout.fits:
        place = filter(None, (f"{pt(layout.set_pt)}{where}", from_head_in_words(layout)))
        _named(page, str(one.role), [joined(layout), *place], why=why)
        return
    if why and one.zone is not None:
        begins, ends = bare_mm(one.zone.begins_mm), mm(one.zone.ends_mm)
        where += f"; its room is {begins} to {ends} from the head"
    old = one.report.old_lettering
    recess = [] if one.report.recess is None else [f"recess: {one.report.recess.text}"]
    recess += [] if old is None else [f"old ink: {old.text}"]
    rows = [joined(layout), f"{_size(layout)}{where}", *_place(layout), *recess]
    _named(page, str(one.role), rows, why=why)


def _volume(page: Page, one: VolumeReport, *, why: bool) -> None:
    layout, alone = shown(one.report), one.alone
    rows = [joined(layout), *_place(layout)]
    if why or not one.fits or one.apart:
        rows.insert(1, _size(layout))
    if why:
        way = "across" if alone.reading is Reading.ACROSS else alone.reading
        by_itself = f"{pt(alone.set_pt)} {way} would be advised, as {joined(alone)}"
        if not alone.fits:
            by_itself = f"it takes {limit_pt(alone.largest_pt)} at most, {way}, as {joined(alone)}"
        rows[1] += f"; by itself {by_itself}"
    if one.number is not None:
        across = shown(one.number.report)
        place = "; ".join([f"{_size(across)} across the back", *_place(across)])
        rows.append(f"{joined(across)}: {place}")
    if one.report.old_lettering is not None:
        rows.append(f"old ink: {one.report.old_lettering.text}")
    _named(page, one.label, rows, why=why)


def _size(layout: LayoutReport) -> str:
    verdict = "" if layout.fits else "does not fit: "
    return f"{verdict}{pt(layout.set_pt)}, {limit_pt(layout.largest_pt)} at most"


def _place(layout: LayoutReport) -> list[str]:
    parts = [placing_in_words(layout)] if layout.fits else []
    least = least_spare_mm(layout)
    if least is not None:
        parts.append(f"least spare {mm(least)}")
    return ["; ".join(filter(None, parts))] if any(parts) else []


def _named(page: Page, name: str, facts: Sequence[str], *, why: bool) -> None:
    """Facts beside what they are of: one after the other, or each on a line of its own."""
    if not why:
        page.row(visible(name), visible("; ".join(facts)))
        return
    page.blank()
    for at, fact in enumerate(facts):
        page.row("" if at else visible(name), visible(fact))
