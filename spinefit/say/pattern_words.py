"""How is it said that a volume does or does not match its set, or a pattern?

In: a text's report, and the findings of where it differs. Out: the report with them in it: then
it does not fit.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from spinefit.judgement.finding import Finding
from spinefit.provenance import Status
from spinefit.say.model import FindingReport, Report
from spinefit.say.phrasing import mm
from spinefit.vocabulary import Level, Verdict

__all__ = ["breached", "matched"]

_MATCHED = FindingReport(
    "pattern-matched",
    Level.GOOD,
    "Size, lines, direction, font and height are those of the pattern.",
    None,
    None,
    "",
    "common practice: volumes of a set are lettered alike",
    Status.PRACTICE,
)


def breached(report: Report, breaches: Sequence[Finding]) -> Report:
    """The report of a text that differs from the others of its set."""
    return _with_breaches(report, breaches, "It does not match") if breaches else report


def matched(report: Report, breaches: Sequence[Finding]) -> Report:
    """The report of a title beside the pattern: with a breach it does not fit."""
    if breaches:
        return _with_breaches(report, breaches, "It does not match the pattern")
    if not report.fits:
        return report._replace(answer=f"It does not match the pattern. {report.answer}")
    return report._replace(
        answer=f"It matches the pattern. {report.answer}", findings=(_MATCHED, *report.findings)
    )


def _with_breaches(report: Report, breaches: Sequence[Finding], answer: str) -> Report:
    found = tuple(_finding(one) for one in breaches)
    first = found[0].text
    return report._replace(
        verdict=Verdict.DOES_NOT_FIT,
        answer=f"{answer}: {first[:1].lower()}{first[1:]}",
        recommended=None,
        layouts=tuple(one._replace(fits=False) for one in report.layouts),
        findings=(*found, *report.findings),
    )


def _finding(one: Finding) -> FindingReport:
    topic, level, value, limit, unit, source, status, _facts = one
    return FindingReport(topic, level, _text(one), value, limit, unit, source, status)


def _text(one: Finding) -> str:
    name = one.topic.removeprefix("pattern-")
    if name == "height":
        stands_mm, wanted_mm = cast("float | None", one.value), cast("float", one.limit)
        where = "at no known height" if stands_mm is None else f"{mm(stands_mm)} from the tail"
        return (
            f"The lettering stands {where} instead of {mm(wanted_mm)}, where the others of the "
            "set have theirs: this back has no room for it there."
        )
    if name == "font":
        return (
            f"The font is not the one the pattern was made with: {one.value} here, {one.limit} "
            "there, or another version of its file."
        )
    if name == "lines" and not str(one.value).isdigit():  # the title has no such number
        many = "one line" if one.limit == "1" else f"{one.limit} lines"
        return f"The pattern has {many}; {one.value}."
    return f"The {name} asked for is {one.value}; the pattern has {one.limit}, which was judged."
