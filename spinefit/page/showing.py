"""What does the page show of an answer?

In: a report of one title, of several texts or of a set, with its subject. Out: plain values and
drawings, all from the writers of the other rooms: the sentences of the report, the settings as the
page of an answer has them, the drawing at true size. Remedies and shapes, which run the job again,
are asked for by themselves.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from functools import cached_property
from typing import Any

from spinefit.drawing import html
from spinefit.drawing.frame import ShownText
from spinefit.drawing.plate import Subject, figures, subject_of, subject_of_plan
from spinefit.drawing.svg import to_svg
from spinefit.job.fields import FIELDS
from spinefit.pipeline import Answer
from spinefit.say import phrasing as say
from spinefit.say.as_json import to_dict
from spinefit.say.model import FindingReport, Report
from spinefit.say.plan_model import AnyReport, BackReport
from spinefit.say.remedies import changes_of, remedies
from spinefit.say.shapes import shapes

_FLAGS = frozenset(field.name for field in FIELDS if field.kind.flag)


class Shown:
    """An answer with what is drawn of it.

    Args:
        report: of whatever was asked.
        answer: of one title, with what a drawing needs; None for a plan.
    """

    def __init__(self, report: AnyReport, answer: Answer | None = None) -> None:
        self.report, self.answer = report, answer

    @cached_property
    def subject(self) -> Subject:
        """What is drawn."""
        if self.answer is not None:
            return subject_of(self.answer)
        assert not isinstance(self.report, Report)
        return subject_of_plan(self.report)

    def texts(self) -> Iterator[tuple[int, str, ShownText]]:
        """Each text with the place of its volume and its name."""
        subject = self.subject
        for at, texts in enumerate(subject.backs):
            for one in texts:
                yield at, subject.names[at], one


def shown(found: Shown) -> dict[str, Any]:
    """The answer as the page shows it; lengths in mm, sizes in points."""
    subject = found.subject
    return {
        "verdict": str(subject.verdict),
        "answer": subject.answer,
        "title": subject.title,
        "drawings": [to_svg(scene, paper=False) for scene in figures(subject)],
        "texts": [_text(at, name, one) for at, name, one in found.texts()],
        "findings": [_finding(one) for one in subject.findings],
        "assumed": list(getattr(found.report, "assumed", ())),
        "cautions": _cautions(found),
    }


def _cautions(found: Shown) -> list[str]:
    every = (line for _, _, one in found.texts() for line in one.answer.report.cautions)
    return list(dict.fromkeys(every))


def _text(at: int, volume: str, shown_text: ShownText) -> dict[str, Any]:
    """One text: its sentence, size and lines, what to mind, and other settings beside it."""
    report, layout = shown_text.answer.report, shown_text.layout
    limits = {one.what: list(one.values) for one in report.method.limits}
    return {
        "volume": at,
        "of": volume,
        "name": shown_text.name,
        "verdict": str(report.verdict),
        "answer": report.answer,
        "fits": report.fits,
        "set_pt": layout.set_pt,
        "largest_pt": layout.largest_pt,
        "smallest_pt": limits.get("smallest", [None])[0],
        "sizes_pt": limits.get("sizes", []),
        "lines": list(layout.lines),
        "font": say.font_in_words(report.font),
        "method": report.method.name,
        "findings": [_finding(one) for one in say.findings_by_weight(report, layout)],
        "convention": html.convention(shown_text),
        "assumed": list(report.assumed),
        "panel": to_dict(report.panel),
    }


def settings(found: Shown) -> dict[str, Any]:
    """Every setting of each text with its picture and the fields that ask for it."""
    return {"texts": [_settings(one) for _, _, one in found.texts()]}


def _settings(shown_text: ShownText) -> list[dict[str, Any]]:
    report = shown_text.answer.report
    asks = {
        id(layout): {"orientation": str(layout.orientation), "lines": str(len(layout.lines))}
        for layout in report.layouts
    }
    return [{**one, "change": asks[id(one.pop("layout"))]} for one in html.settings(shown_text)]


def _finding(one: FindingReport) -> dict[str, Any]:
    source = say.source_in_words(one.source, one.status) if one.source else ""
    return {"topic": one.topic, "level": str(one.level), "text": one.text, "source": source}


def improvements(found: Shown) -> dict[str, Any]:
    """What could be changed, with the fields that change it, and the shapes of the lines."""
    report = found.report
    if isinstance(report, Report):
        return {
            "remedies": [
                {"text": one.text, "cost": one.cost, "change": changed_fields(one.options)}
                for one in remedies(report)
            ],
            "shapes": [
                {
                    "shape": str(one.shape), "lines": list(one.lines), "set_pt": one.set_pt,
                    "largest_pt": one.largest_pt, "fits": one.fits,
                }
                for one in shapes(report)
            ],
        }  # fmt: skip
    if isinstance(report, BackReport) and report.is_single:
        alone = report.texts[0]
        return improvements(Shown(alone.report))
    told = [{"text": text, "cost": 1, "change": None} for text in changes_of(report)]
    return {"remedies": told, "shapes": []}


def changed_fields(options: str) -> dict[str, str] | None:
    """What options say, by field; None where they are no change of fields.

    >>> changed_fields("--lines 3 --font 'EB Garamond Bold'")
    {'lines': '3', 'font': 'EB Garamond Bold'}
    """
    words = shlex.split(options)
    found: dict[str, str] = {}
    while words:
        name, _, value = words.pop(0).removeprefix("--").partition("=")
        if not value and name not in _FLAGS and words:
            value = words.pop(0)
        found[name] = value or "yes"
    return found or None
