"""What does the page show of an answer?

In: a report of one title, of several texts or of a set, with its subject. Out: plain values and
drawings, all from the writers of the other rooms: the sentences of the report, the settings as the
page of an answer has them, the drawing at true size. Remedies and shapes, which run the job again,
are `improving`'s.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any

from spinefit.drawing import html
from spinefit.drawing.frame import ShownText
from spinefit.drawing.plate import Subject, figures, subject_of, subject_of_plan
from spinefit.drawing.svg import to_svg
from spinefit.pipeline import Answer
from spinefit.say import phrasing as say
from spinefit.say.as_json import to_dict
from spinefit.say.checklist import plain_task, to_markdown
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.plan_model import AnyReport


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
        "parts": [{"role": one.role, "lines": list(one.lines)} for one in layout.texts],
        "font": say.font_in_words(report.font),
        "method": report.method.name,
        "findings": [_finding(one) for one in say.findings_by_weight(report, layout)],
        "convention": html.convention(shown_text),
        "assumed": list(report.assumed),
        "panel": to_dict(report.panel),
    }


def settings(found: Shown) -> dict[str, Any]:
    """Every setting of each text with its picture and the edit that asks for it."""
    return {"texts": [_settings(one) for _, _, one in found.texts()], "all": None}


def _settings(shown_text: ShownText) -> list[dict[str, Any]]:
    report = shown_text.answer.report
    asks = {id(layout): _edit_of(layout) for layout in report.layouts}
    return [{**one, "edit": asks[id(one.pop("layout"))]} for one in html.settings(shown_text)]


def _edit_of(layout: LayoutReport) -> dict[str, Any] | None:
    """What asks for a setting: of several texts the lines of each, of one how many there are.

    None for one over the bands, which nobody can ask for.
    """
    if layout.over_bands:
        return None
    values = {"orientation": str(layout.orientation), "lines": str(len(layout.lines))}
    if not layout.texts:
        return {"values": values}
    breaks = {one.role: list(one.lines) for one in layout.texts}
    return {"values": {**values, "lines": ""}, "breaks": breaks}


def directions(found: Shown, others: Mapping[str, Shown]) -> dict[str, Any]:
    """The same of several texts or volumes: all of them across the back, or along it.

    Args:
        found: what is shown.
        others: what is found with each direction asked for, by its name in a job file.
    """
    assert not isinstance(found.report, Report)
    advised = str(found.report.orientation)
    every = [_direction(name, one, advised=name == advised) for name, one in others.items()]
    return {"texts": [], "all": every}


_WORDS = {"transverse": "Across", "longitudinal": "Along"}


def _direction(name: str, found: Shown, *, advised: bool) -> dict[str, Any]:
    subject = found.subject
    title = next(one for _, _, one in found.texts() if one.name in ("", "title"))
    return {
        "picture": to_svg(figures(subject)[0], paper=False),
        "name": _WORDS[name],
        "verdict": str(subject.verdict),
        "kind": str(subject.verdict).replace(" ", "-"),
        "advised": advised,
        "facts": [("Size", say.pt(title.layout.set_pt))],
        "edit": {"values": {"orientation": name}},
    }


DIRECTIONS = tuple(_WORDS)
"""What may be asked for of several texts, as a job file has it."""


def tasks(found: Shown) -> dict[str, Any]:
    """The checklist, to be ticked: under each heading its tasks, and whether each is done."""
    groups: list[dict[str, Any]] = []
    for line in to_markdown(found.report).splitlines():
        if line.startswith("#"):
            groups.append({"heading": line.lstrip("# "), "tasks": []})
        elif line.startswith("- ["):
            groups[-1]["tasks"].append(plain_task(line))
    return {"groups": [one for one in groups if one["tasks"]]}


def _finding(one: FindingReport) -> dict[str, Any]:
    source = say.source_in_words(one.source, one.status) if one.source else ""
    return {"topic": one.topic, "level": str(one.level), "text": one.text, "source": source}
