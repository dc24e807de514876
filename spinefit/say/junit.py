"""What does a build server learn: does an answer count as failed, and by which findings?

In: a report, of a title or a plan, and a level a person chose. Out: whether it counts, and JUnit
XML, which most build servers read: ``testsuites``, whatever was asked, in it a suite for each title
or file, a case "fits" and one for each finding, failed where the exit code would be 1 for it; or
suites of other cases, and of bad input. Of a title
count its own findings and those of its recommended setting (of the nearest, where none fits); "does
not fit" always does. Legibility, which never decides whether a title fits, counts like any other.
There is no published standard; the element names are those in common use. No time or host is
written: the same job, the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple
from xml.etree import ElementTree as Tree

from spinefit import __version__
from spinefit.job.house import OF_HOUSE
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Level

if TYPE_CHECKING:
    from spinefit.errors import SpinefitError
    from spinefit.say.plan_model import AnyReport

Element = Tree.Element
OF_CHECK, HOUSE = "spinefit check", "house-defaults"
_DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'
_COUNTED = {"tests": "testcase", "failures": "failure", "errors": "error"}
FAIL_ON = (Level.WARNING, Level.FAILURE)
"""The levels that may be chosen, the graver one last."""


class Case(NamedTuple):
    """Something that is passed or not.

    Attributes:
        name: tells it from the others of its class.
        class_name: what it is of.
        text: what was found, in a sentence.
        failed: in a few words why it failed; "" where it is passed.
        more: lines below the sentence.
        is_error: whether nothing could be found, the input being at fault.
    """

    name: str
    class_name: str
    text: str
    failed: str = ""
    more: Iterable[str] = ()
    is_error: bool = False


def _is_failed(finding: FindingReport, fail_on: Level | None) -> bool:
    """Whether a finding is at the level ``fail_on`` or graver; none is where that is None."""
    return fail_on is not None and finding.level in FAIL_ON[FAIL_ON.index(fail_on) :]


def failed_findings(report: Report, fail_on: Level | None) -> list[FindingReport]:
    """The findings that count as failed, the gravest first."""
    findings = say.findings_by_weight(report, say.shown_layout(report))
    return [finding for finding in findings if _is_failed(finding, fail_on)]


def counted(
    own: Iterable[FindingReport], parts: Iterable[Report], fail_on: Level | None
) -> list[FindingReport]:
    """The findings that count of a plan and of what it is made of, in their order."""
    found = [finding for finding in own if _is_failed(finding, fail_on)]
    return found + [finding for one in parts for finding in failed_findings(one, fail_on)]


def fails(report: AnyReport, fail_on: Level | None) -> bool:
    """Whether the whole does not fit, or a finding counts.

    Args:
        report: the answer to a job, or a plan.
        fail_on: the level from which on a finding counts; None where none does.
    """
    if not report.fits or fail_on is None:
        return not report.fits
    if isinstance(report, Report):
        return bool(failed_findings(report, fail_on))
    return bool(counted(report.findings, (one for _, one in report.parts), fail_on))


def to_junit(report: AnyReport, fail_on: Level | None = None, name: str = "") -> str:
    """The report as an XML document, without a newline at its end.

    Args:
        report: the answer to one job, or a plan.
        fail_on: the level from which on a finding is a failure; None where only what does not
            fit counts.
        name: what was asked, such as the name of its file; "" for the title.
    """
    return document(OF_CHECK, suites(report, fail_on, name))


def suites(report: AnyReport, fail_on: Level | None, name: str) -> list[Element]:
    """The suites of a report: one of a title, of a plan each part's too.

    Args:
        report: the answer to one job, or a plan.
        fail_on: as of `to_junit`.
        name: as of `to_junit`.
    """
    if isinstance(report, Report):
        return [_suite_of(report, fail_on, name or report.title)]
    whole = name or report.of
    own = _suite_of_findings(
        whole, report.findings, fail_on, answer=report.answer, fits=report.fits
    )
    parts = [
        _suite_of(one, fail_on, f"{name}: {label}" if name else label)
        for label, one in report.parts
    ]
    return [own, *parts]


def fault_suite(fault: SpinefitError, name: str) -> Element:
    """Bad input as a suite of one case that is an error.

    Args:
        fault: what was wrong.
        name: what is at fault, such as a file, or the command that was asked.
    """
    return suite_of(name, [Case("input", name, str(fault), "bad input", (), True)])


def document(asked: str, suites: Sequence[Element]) -> str:
    """An XML document of suites, without a newline at its end.

    Args:
        asked: the command that was asked.
        suites: what stands in it, each counted.
    """
    root = Element("testsuites", name=asked)
    root.extend(suites)
    totals = [sum(int(one.get(name, "0")) for one in suites) for name in _COUNTED]
    return f"{_DECLARATION}{in_lines(counting(root, *totals), 0)}".rstrip()


def of_house(assumed: Iterable[str]) -> str:
    """What of that which was assumed came from the file of a house, in a line."""
    return "; ".join(one.removesuffix(OF_HOUSE) for one in assumed if one.endswith(OF_HOUSE))


def with_properties(suite: Element, said: Iterable[tuple[str, str]]) -> Element:
    """The suite with properties in front, those that say something."""
    properties = Element("properties")
    for key, value in (("version", __version__), *said):
        if value:
            Tree.SubElement(properties, "property", name=key, value=say.visible(value))
    suite.insert(0, properties)
    return suite


def _suite_of(report: Report, fail_on: Level | None, name: str) -> Element:
    """The ``testsuite`` of one title."""
    findings = say.findings_by_weight(report, say.shown_layout(report))
    suite = with_properties(
        _suite_of_findings(name, findings, fail_on, answer=report.answer, fits=report.fits),
        (
            ("title", report.title),
            ("font", say.font_in_words(report.font)),
            ("market", report.convention.market or "none"),
            ("method", report.method.key),
            ("verdict", str(report.verdict)),
            (HOUSE, of_house(report.assumed)),
        ),
    )
    if report.cautions:
        Tree.SubElement(suite, "system-out").text = "\n".join(map(say.visible, report.cautions))
    return suite


def _suite_of_findings(
    name: str,
    findings: Iterable[FindingReport],
    fail_on: Level | None,
    *,
    answer: str,
    fits: bool,
) -> Element:
    """A ``testsuite`` of a case for the fit and one for each finding.

    Args:
        name: of the suite, and the class of every case.
        findings: in the order to be shown.
        fail_on: the level from which on a finding is a failure; None where only what does not
            fit counts.
        answer: the sentence that says whether it fits.
        fits: whether it does.
    """
    cases = [Case("fits", name, answer, "" if fits else "does not fit")]
    used: dict[str, int] = {}
    for finding in findings:
        used[finding.topic] = used.get(finding.topic, 0) + 1
        again = f" {used[finding.topic]}" if used[finding.topic] > 1 else ""
        failed = str(finding.level) if _is_failed(finding, fail_on) else ""
        topic = f"{finding.topic}{again}"
        cases.append(Case(topic, name, finding.text, failed, facts(finding)))
    return suite_of(name, cases)


def suite_of(name: str, cases: Iterable[Case]) -> Element:
    """A ``testsuite`` of cases, counted."""
    suite = Element("testsuite", name=say.visible(name))
    suite.extend(map(case_of, cases))
    return counting(suite, *(len([*suite.iter(tag)]) for tag in _COUNTED.values()))


def case_of(one: Case) -> Element:
    """A ``testcase``."""
    names = {"name": say.visible(one.name), "classname": say.visible(one.class_name)}
    case = Element("testcase", {**names, "time": "0"})
    shown = say.visible(one.text)
    if one.failed:
        kind = "error" if one.is_error else "failure"
        said = Tree.SubElement(case, kind, message=shown, type=one.failed)
    else:
        said = Tree.SubElement(case, "system-out")
    said.text = "\n".join((shown, *map(say.visible, one.more)))
    return case


def counting(suite: Element, *counts: int) -> Element:
    """The suite, with how many cases it has, and how many of them failed or are errors."""
    for name, count in zip(_COUNTED, counts, strict=True):
        suite.set(name, str(count))
    suite.set("time", "0")
    return suite


def in_lines(element: Element, level: int) -> str:
    """An element in indented lines, so many levels deep in its document."""
    Tree.indent(element, level=level)
    return f"{'  ' * level}{Tree.tostring(element, encoding='unicode')}\n"


def facts(finding: FindingReport) -> list[str]:
    """Level, figure, limit, source and status, each on a line of its own."""
    unit = f" {finding.unit}" if finding.unit else ""
    rows = [f"level: {finding.level}"]
    for name, figure in (("figure", finding.value), ("limit", finding.limit)):
        if figure is not None:
            value = figure if isinstance(figure, str) else f"{round(figure, 4):g}"
            rows.append(f"{name}: {value}{unit}")
    if finding.source:
        rows.append(f"source: {finding.source}")
    if finding.status is not None:
        rows.append(f"status: {finding.status}")
    return rows
