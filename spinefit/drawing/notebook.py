"""What is drawn for those who ask in Python?

In: a job, or a report of any kind. Out: its drawing as text or bytes, its label sheet, or what a
notebook shows of it: true SVG with the answer and what to mind, a style that holds for nothing
else, no script. No file is written. A report is drawn with the outlines it was judged with, which
do not travel with one that is pickled: that one is shown without, and drawn by its job.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal, overload

from spinefit import backs, pipeline
from spinefit.catalogue.trade import sheet_rules
from spinefit.drawing.html import filled, to_html
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.plate import Subject, figures, plates, stacked, subject_of, subject_of_plan
from spinefit.drawing.svg import to_svg
from spinefit.errors import FaultsAt, JobError
from spinefit.job.lengths import parse_choice
from spinefit.job.model import Job
from spinefit.job.sheet import sheet_wishes
from spinefit.plan.model import BackPlan
from spinefit.say import phrasing as say
from spinefit.say.model import Report, hazards_of
from spinefit.say.plan_model import AnyReport
from spinefit.say.plan_words import told_once
from spinefit.say.settings import Settings
from spinefit.vocabulary import Level

_FORMS = ("svg", "pdf", "html")


@overload
def draw(what: Job | AnyReport, form: Literal["svg", "html"] = "svg") -> str: ...
@overload
def draw(what: Job | AnyReport, form: Literal["pdf"]) -> bytes: ...
def draw(what: Job | AnyReport, form: str = "svg") -> str | bytes:
    """The drawing of an answer at true size, as ``--drawing`` writes it.

    Args:
        what: a report, or a job or the plan of a back, which is asked for it.
        form: "svg" or "pdf" for the sheet with its dimensions, "html" for the whole answer.

    Raises:
        FieldError: another form.
        JobError: a report that came from another process; give its job.
        SpinefitError: as of `check`, of a job.

    >>> from spinefit import Job, Spine, check
    >>> report = check(Job(title="Tide Tables", spine=Spine(width_mm=12, height_mm=200)))
    >>> draw(report)[:4], draw(report, "pdf")[:5]
    ('<svg', b'%PDF-')
    """
    with FaultsAt("form"):
        form = parse_choice(form, _FORMS)
    subject = _subject(what)
    if form == "html":
        return to_html(subject)
    return to_svg(stacked(plates(subject))) if form == "svg" else to_pdf(plates(subject))


def label_sheet(job: Job, **wishes: object) -> bytes:
    """Labels of a title at true size, to print and cut, as ``spinefit sheet`` sets them.

    Args:
        job: the title, its back or panel, and how it is lettered; a printed paper label where it
            names no method.
        wishes: what is compared and on which paper, by the keys of a job file's ``[sheet]``:
            sizes=4, splits=2, labels=["30x40mm"], cases="as-typed,capitals", spares=2, paper="A4".

    Returns:
        The bytes of a PDF.

    Raises:
        FieldError: no such wish, or one that cannot be.
        JobError: no label that was asked for takes the title; it says what would.

    >>> from spinefit import Job, Panel
    >>> label_sheet(Job(title="Tides", panel=Panel(width_mm=30, height_mm=20)), spares=0)[:5]
    b'%PDF-'
    """
    from spinefit.drawing.sheet import build_sheet
    from spinefit.drawing.sheet_page import page_wished
    from spinefit.drawing.sheet_settings import completed, settings_of

    rules = sheet_rules()
    given = {key.replace("_", "-"): value for key, value in wishes.items()}
    wished = completed(sheet_wishes(given, lambda key: key.replace("-", "_")), rules)
    if job.method is None and not wished.trial:
        job = replace(job, method="paper-label")
    settings, left_out = settings_of(job, wished, rules, usual_sizes=int(rules.value("sizes")))
    if not settings:
        raise JobError(" ".join(dict.fromkeys(one.why for one in left_out)))
    page, spares = page_wished(wished), wished.spares or 0
    sheet = build_sheet(settings, page, spares=spares, marks=wished.marks)
    return to_pdf(sheet.scenes)


def notebook_html(report: AnyReport) -> str:
    """What a notebook shows of a report."""
    drawn = ""
    if not isinstance(report, Report) or isinstance(report.layouts, Settings):
        drawn = "".join(map(to_svg, figures(_subject(report))))
    return filled(
        "spinefit.drawing", "notebook.html", report=report, drawing=drawn, mind=[*_to_mind(report)]
    )


def _subject(what: Job | AnyReport) -> Subject:
    if isinstance(what, BackPlan):
        return subject_of_plan(backs.plan_back(what))
    if isinstance(what, Job):
        return subject_of(pipeline.answer(what))
    if not isinstance(what, Report):
        return subject_of_plan(what)
    if not isinstance(what.layouts, Settings):
        raise JobError(
            "a report that came from another process has no outlines", remedy="draw its job"
        )
    return subject_of(pipeline.Answer(*what.layouts.made_of, what))


def _to_mind(report: AnyReport) -> Iterator[str]:
    """What would spoil the work, of all and of each part, then what can hurt."""
    parts = (("", report),) if isinstance(report, Report) else report.parts
    if not isinstance(report, Report):
        grave = (Level.FAILURE, Level.WARNING)
        yield from (one.text for one in report.findings if one.level in grave)
    yield from told_once((name, one.text) for name, part in parts for one in say.grave(part))
    yield from hazards_of(part for _name, part in parts)
