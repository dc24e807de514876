"""How is it said that a volume does or does not match a pattern?

In: what differs. Out: findings, and the report with them in it.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.provenance import Status
from spinefit.say.model import FindingReport, Report
from spinefit.say.phrasing import mm
from spinefit.vocabulary import Level, Verdict

__all__ = ["differs", "height_missed", "matched", "no_such_lines", "other_font"]

_SOURCE = "common practice: volumes of a set are lettered alike"


def differs(name: str, mine: object, theirs: object) -> FindingReport:
    """A value that the job says otherwise than the pattern."""
    text = f"The {name} asked for is {mine}; the pattern has {theirs}, which was judged."
    return _breach(f"pattern-{name}", text, str(mine), str(theirs))


def other_font(mine: str, theirs: str) -> FindingReport:
    """Another font file than the one that was measured for the pattern."""
    text = (
        f"The font is not the one the pattern was made with: {mine} here, {theirs} there, or "
        "another version of its file."
    )
    return _breach("pattern-font", text, mine, theirs)


def no_such_lines(what: str, lines: int) -> FindingReport:
    """A title that cannot be broken into the pattern's number of lines."""
    many = "one line" if lines == 1 else f"{lines} lines"
    return _breach("pattern-lines", f"The pattern has {many}; {what}.", what, str(lines))


def height_missed(stands_mm: float | None, wanted_mm: float) -> FindingReport:
    """Lettering that cannot stand at the pattern's height on this back."""
    here = "" if stands_mm is None else f"; it would stand {mm(stands_mm)} from it"
    text = (
        f"The pattern has the lettering {mm(wanted_mm)} from the tail, which this back has no "
        f"room for{here}."
    )
    return FindingReport(
        "pattern-height",
        Level.FAILURE,
        text,
        stands_mm,
        wanted_mm,
        "mm",
        _SOURCE,
        Status.PRACTICE,
    )


def matched(report: Report, breaches: Sequence[FindingReport]) -> Report:
    """The report of a volume beside the pattern: with a breach it does not fit."""
    if breaches:
        return report._replace(
            verdict=Verdict.DOES_NOT_FIT,
            answer=f"It does not match the pattern: {_small(breaches[0].text)}",
            recommended=None,
            layouts=tuple(one._replace(fits=False) for one in report.layouts),
            findings=(*breaches, *report.findings),
        )
    if not report.fits:
        return report._replace(answer=f"It does not match the pattern. {report.answer}")
    good = FindingReport(
        "pattern-matched",
        Level.GOOD,
        "Size, lines, direction, font and height are those of the pattern.",
        None,
        None,
        "",
        _SOURCE,
        Status.PRACTICE,
    )
    return report._replace(
        answer=f"It matches the pattern. {report.answer}", findings=(good, *report.findings)
    )


def _breach(topic: str, text: str, mine: str, theirs: str) -> FindingReport:
    return FindingReport(topic, Level.FAILURE, text, mine, theirs, "", _SOURCE, Status.PRACTICE)


def _small(text: str) -> str:
    return f"{text[:1].lower()}{text[1:]}"
