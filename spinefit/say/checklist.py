"""Which tasks are left before anything is cut?

In: a `Report` or a plan. Out: a checklist in Markdown, text escaped so that it shows letter for
letter: what is to be measured again, with the figures used; what was checked, ticked where it
passed, with figure, limit, source and status; what only a person can check; and what to mind
with the method. Nothing is judged here: a check without a finding against it passed where the
setting fits.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from spinefit.judgement.setting_findings import OF_LETTERS
from spinefit.say import phrasing as say
from spinefit.say.label_texts import rows_of
from spinefit.say.model import (
    FindingReport,
    LayoutReport,
    LimitReport,
    MeasurementReport,
    RemedyReport,
    Report,
    doubts_of,
)
from spinefit.say.remedies import remedies
from spinefit.say.thickness import ESTIMATED
from spinefit.tolerances import SAME_PT
from spinefit.vocabulary import Level, Measured, Orientation, Status

if TYPE_CHECKING:
    from spinefit.say.plan_model import AnyReport

_BY_EYE = (
    "Proof printed at 100 %, a printed length checked with a rule, and laid on the book",
    "Spelling, figures and accents compared with the title page, letter by letter",
    "Direction, size and place compared with the books it will stand among, or the list it joins",
    "Spaces between letters and between lines look even from arm's length",
    "Colour of lettering and ground seen in the light of the shelf; grain runs from head to tail",
    "Middle of the width marked at head and tail, and the marks of the proof laid on them",
)
_ROUNDED = "Proof bent over the round: the outermost letters are seen from the front"
_BANDED = "Each panel measured by itself: bands are seldom quite evenly spaced"
_ALONG = "Proof turned as it will stand: it reads the right way with the front cover in its place"
_LAPPED = (
    "Label pasted on and rubbed down into both joints, boards opened and shut with it while it is "
    "damp, and dry before its ends are covered by the sides"
)
CAUTION = (
    "Knives and heated tools, presses and solvents: local rules, those of your workshop and what "
    "trained hands have shown you come before anything said here. Use them only as you were "
    "trained to."
)
"""What comes before anything a report says of tools that can hurt."""
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&$@!])")  # ( and ) mean nothing without [ and ]
_TASK = re.compile(r"- \[(.)\] (.*)", re.DOTALL)
_MEASURED_ON = {
    Measured.BULK: "of the bulk, pressed as it will be bound",
    Measured.BACK: "of the back, between the joints",
    Measured.OVER_BOARDS: "over the boards, both boards taken off, and the boards themselves",
    ESTIMATED: "of the back, so far only an estimate",
}
_OF_LETTERS = tuple(OF_LETTERS.values())
_SAID_IN_WORDS = ("", "arcmin")  # of such figures the text says all
_OF_WIDTHS = ("width-estimated", "width-range")  # both widths stand in the text
_OF_OFFER = ("size-not-offered", "size-below-method", "below-method", *_OF_LETTERS)
_OF_BREAKS = ("words-alone", "words-chosen", "words-stranded", "words-broken")


def to_markdown(report: AnyReport) -> str:
    """The report, or the plan, as Markdown task lists, ended by a newline."""
    if isinstance(report, Report):
        return _of_title(report)
    from spinefit.say.plan_model import BackReport
    from spinefit.say.plan_words import label_in_words
    from spinefit.say.remedies import changes_of  # for a plan

    if isinstance(report, BackReport) and report.is_single:
        return _of_title(report.texts[0].report)
    items = [
        task(report.fits, escaped(report.answer)),
        *(finding_task(finding) for finding in report.findings),
        *(
            task(False, escaped(f"Label {one.name}: {label_in_words(one)}"))
            for one in (report.labels if isinstance(report, BackReport) else ())
        ),
        *(task(False, f"To be weighed: {escaped(text)}") for text in changes_of(report)),
    ]
    parts = [f"# {report.of.capitalize()}", "\n".join(items)]
    for name, one in report.parts:
        parts += [f"# {escaped(name)}", _of_title(one).rstrip("\n")]
    return "\n\n".join(parts) + "\n"


def _of_title(report: Report) -> str:
    method = escaped(report.method.name)
    parts = [
        f"## Spine lettering: {escaped(report.title)}",
        task(report.fits, escaped(report.answer)),
        "\n".join(task(False, escaped(text)) for text in doubts_of([report])),
        "### To be measured again, with the figures used",
        "\n".join(measuring_tasks(report)),
        "### What was checked",
        "\n".join(checked_tasks(report, remedies(report))),
        "### To be checked by a person",
        "\n".join(task(False, text) for text in tasks_by_eye(report)),
        f"### To be minded: {method}",
        "\n".join(f"- {escaped(text)}" for text in report.cautions),
        f"> {CAUTION}",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def tasks_by_eye(report: Report) -> list[str]:
    """What only a person can check, each in a sentence, as plain text."""
    layout = say.shown_layout(report)
    measured = {one.what for one in report.measurements}
    tasks = list(_BY_EYE)
    if measured & {"rise", "radius", "arc"}:
        tasks.append(_ROUNDED)
    if "bands" in measured:
        tasks.append(_BANDED)
    if layout is not None and layout.orientation is Orientation.LONGITUDINAL:
        tasks.append(_ALONG)
    if report.label is not None and report.label.lap is not None:
        tasks.append(_LAPPED)
    tasks += (f"{text.rstrip('.')} (common practice)" for text in report.method.protection)
    return tasks


def escaped(text: str) -> str:
    r"""``text`` so that Markdown shows it letter for letter, on one line.

    >>> escaped("[x] *Tides*")
    '\\[x\\] \\*Tides\\*'
    """
    return _SPECIAL.sub(r"\\\1", say.visible(text))


def task(done: bool, text: str) -> str:
    """A line of a task list, of text that is escaped already."""
    return f"- [{'x' if done else ' '}] {text}"


def plain_task(line: str) -> tuple[bool, str]:
    r"""A line of a task list as it was before: whether it is done, and its plain text.

    >>> plain_task(task(True, escaped("[x] *Tides*")))
    (True, '[x] *Tides*')

    Raises:
        ValueError: a line that `task` did not make.
    """
    found = _TASK.fullmatch(line)
    if found is None:
        raise ValueError(f"no task: {line!r}")
    mark, text = found.groups()
    return mark == "x", re.sub(r"\\(.)", r"\1", text)


def finding_task(finding: FindingReport) -> str:
    """A finding: ticked where it is good, with figure, limit, source and status."""
    figures = [
        f"{name} {say.figure(figure)}{_unit(finding.unit)}"
        for name, figure in (("figure", finding.value), ("limit", finding.limit))
        if not isinstance(figure, str | None)
        and finding.unit not in _SAID_IN_WORDS
        and finding.topic not in _OF_WIDTHS
    ]
    good = finding.level is Level.GOOD
    lead = "" if good else f"{str(finding.level).capitalize()}: "
    behind = _sourced(finding.source, finding.status, *figures)
    return task(good, f"{lead}{escaped(finding.text)}{behind}")


def _sourced(source: str, status: Status | None, *figures: str) -> str:
    """Figures, source and status in brackets after a blank; nothing where none is known.

    >>> _sourced("", None), _sourced("the trade", Status.PRACTICE, "limit 5 mm")
    ('', ' (limit 5 mm; the trade; practice)')
    """
    said = escaped(say.source_in_words(source, status))
    behind = "; ".join([*figures, *([said] if said else [])])
    return f" ({behind})" if behind else ""


def _limit_of(value: float, unit: str) -> str:
    """A limit as it stands in brackets.

    >>> _limit_of(1.6, "mm")
    'limit 1.6 mm'
    """
    return f"limit {say.figure(value)}{_unit(unit)}"


def _unit(unit: str) -> str:
    return f" {escaped(unit)}" if unit else ""


def measuring_tasks(report: Report) -> list[str]:
    """The tasks, in the order of measuring; none of them is ever ticked."""
    found = [_measuring_task(measured) for measured in report.measurements]
    of_book, of_setting = say.assumed_parted(report.assumed)
    found += [task(False, f"Confirm: {escaped(text)}") for text in of_book]
    if of_setting:
        found.append(task(False, f"Confirm the setting: {escaped('; '.join(of_setting))}"))
    return found


def _measuring_task(measured: MeasurementReport) -> str:
    what, otherwise = _MEASURING[measured.what]
    if measured.what == "width":
        what = f"Width {_MEASURED_ON[measured.note]}, {what}"
    behind = ""
    if measured.least is not None and measured.values and measured.values[0] < measured.least:
        limit = _limit_of(measured.least, measured.unit)
        behind = _sourced(measured.source, measured.status, f"under the {limit}")
    return task(False, f"{what}: {_used(measured) or otherwise}{behind}")


def _used(measured: MeasurementReport) -> str:
    """The figures that were used, to a hundredth of a millimetre."""
    digits = 1 if measured.note == ESTIMATED else 2  # an estimate is told as in its answer
    figures = [f"{round(value, digits):g}" for value in measured.values]
    unit = f" {measured.unit}".rstrip()
    if len(figures) == 2 and measured.what == "width":
        return f"{figures[0]} to {figures[1]}{unit} used, judged at the least"
    return f"{', '.join(figures)}{unit} used" if figures else ""


_NOT_STATED = "not stated"
_MEASURING = {
    "width": ("in three places at least (head, middle and tail)", _NOT_STATED),
    "height": ("From head to tail, at both joints", "not stated, left open"),
    "rise": ("Rise of the round over a straight edge", _NOT_STATED),
    "radius": ("Radius of the round, against a template", _NOT_STATED),
    "arc": (
        "Tape laid over the round from joint to joint",
        "not measured, so the width counts as if the back were flat",
    ),
    "bands": ("Bands, counted", _NOT_STATED),
    "band-height": ("Width of each band, measured along the back", _NOT_STATED),
    "bands-at": ("Middle of each band, from the head", _NOT_STATED),
    "label-width": ("Width of the label", _NOT_STATED),
    "label-height": ("Room for the label from head to tail", "not known, left open"),
    "old-width": ("Old lettering, ink and impression, across the back", _NOT_STATED),
    "old-height": ("Old lettering, ink and impression, along the back", _NOT_STATED),
    "old-from-head": ("From the head down to the upper edge of the old lettering", _NOT_STATED),
    "joint-width": ("Joint, from the back to where the board lies clear, on both", _NOT_STATED),
    "board-width": ("Breadth of the front board, at head and tail", _NOT_STATED),
    "board-height": ("Height of the front board, at joint and fore edge", _NOT_STATED),
    "panel-width": ("Width of the panel or label, at head and foot", _NOT_STATED),
    "panel-height": ("Height of the panel or label, at both sides", _NOT_STATED),
}
"""What is measured, and what stands in place of its figure where nothing was said."""


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
    computed = _sourced("computed from the outlines and the panel", Status.COMPUTED)
    size = f"Size: {say.size_in_words(layout)}, {escaped(say.font_in_words(report.font))}{computed}"
    found = [
        task(fits, size),
        task(fits, f"Spare on each side: {_spares(report, layout)}{computed}"),
        *_offer(report, layout, findings),
        _lines(layout, findings),
        _direction(report, layout),
        *_texts(report, layout),
        *_letters(report, layout, findings),
    ]
    place = "; ".join(filter(None, (say.placing_in_words(layout), say.middle_in_words(layout))))
    if fits and place:
        found.append(task(True, f"Place: {place}"))
    if layout.needs_back_mm is not None:
        needs = say.mm(layout.needs_back_mm)
        found.append(task(False, f"Length of back: {needs} needed; not stated"))
    return found


def _spares(report: Report, layout: LayoutReport) -> str:
    sides = report.spare_around(layout)._asdict().items()
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
    behind = _sourced(row.source, row.status)
    against = any(finding.topic in _OF_OFFER for finding in findings)
    too_large = any(finding.topic == "too-large" for finding in findings)
    near = [size for size in row.values if abs(size - layout.set_pt) < SAME_PT]
    offered_too = too_large and not against and (row.what != "sizes" or bool(near))
    done = layout.fits or offered_too
    return [task(done, f"Size on offer: {say.pt(layout.set_pt)}; {offered}{behind}")]


def _lines(layout: LayoutReport, findings: list[FindingReport]) -> str:
    faulty = layout.word_broken or any(finding.topic in _OF_BREAKS for finding in findings)
    breaks = "" if len(layout.lines) == 1 else f", broken {_why_broken(layout)}"
    text = f"Lines: {say.lines_in_words(layout)}, {escaped(say.joined(layout))}{breaks}"
    return task(layout.fits and not faulty, text)


def _why_broken(layout: LayoutReport) -> str:
    said = {"as typed": "as typed", "sense": "by sense", "beside": "at another place in the word"}
    return said.get(layout.split, f"for {layout.split}")


def _direction(report: Report, layout: LayoutReport) -> str:
    text = f"Direction: {say.way_in_words(report, layout)}"
    if layout.orientation is not Orientation.LONGITUDINAL:
        return task(layout.fits, text)
    rule = report.convention
    agreed = layout.reading == rule.reading
    custom = f"the custom is {rule.reading}, {rule.firmness}"
    text += f"; {say.turn_in_words(layout)}{_sourced(rule.source, rule.status, custom)}"
    return task(layout.fits and agreed, text)


def _texts(report: Report, layout: LayoutReport) -> list[str]:
    """Each text and rule of a label with several, and the frame that stays on one."""
    found = list(rows_of(layout))
    if report.panel.frame is not None:
        found.append(("Frame", say.frame_in_words(report.panel.frame)))
    return [task(layout.fits, escaped(f"{name}: {words}")) for name, words in found]


def _letters(report: Report, layout: LayoutReport, findings: list[FindingReport]) -> list[str]:
    """Whether strokes and counters of each letter hold; their findings say where they do not."""
    against = any(finding.topic in _OF_LETTERS for finding in findings)
    found = []
    for what, words in (("stroke", "Thinnest stroke"), ("counter", "Smallest counter")):
        row = _limits(report).get(what)
        if row is None:
            continue
        behind = _sourced(row.source, row.status, _limit_of(row.values[0], row.unit))
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
        limit = _limit_of(measured.least, measured.unit)
        behind = _sourced(measured.source, measured.status, limit)
        wide_mm = measured.values[0]
        if wide_mm >= measured.least:
            found.append(task(True, f"Width of the bands: {say.mm(wide_mm)}{behind}"))
    return found


def _limits(report: Report) -> dict[str, LimitReport]:
    return {limit.what: limit for limit in report.method.limits}
