"""What does a build server learn: does an answer count as failed, and by which findings?

In: a report, of a title or a plan, and a level a person chose. Out: whether it counts, and JUnit
XML, which most build servers read: a suite for each title, a case "fits" and one for each finding,
failed where the exit code would be 1 for it; or suites of other cases, and of bad input. Of a title
count its own findings and those of its recommended setting (of the nearest, where none fits); "does
not fit" always does. Legibility, which never decides whether a title fits, counts like any other.
There is no published standard; the element names are those in common use. No time or host is
written: the same job, the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, NamedTuple
from xml.etree import ElementTree as Tree

from spinefit import __version__
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Level

if TYPE_CHECKING:
    from spinefit.errors import SpinefitError
    from spinefit.say.plan_model import AnyReport

Element = Tree.Element
DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'
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


def to_junit(report: AnyReport, fail_on: Level | None = None) -> str:
    """The report as an XML document, without a newline at its end.

    Args:
        report: the answer to one job, one ``testsuite``; or a plan, a suite for the whole and one
            for each text or volume.
        fail_on: the level from which on a finding is a failure; None where only what does not
            fit counts.
    """
    if isinstance(report, Report):
        return _written(_suite_of(report, fail_on))
    whole = _suite_of_findings(
        report.of, report.of, report.findings, fail_on, answer=report.answer, fits=report.fits
    )
    suites = [whole, *(_suite_of(one, fail_on, label) for label, one in report.parts)]
    root = Element("testsuites", name=say.visible(report.of))
    root.extend(suites)
    _count(root)
    return _written(root)


def fault_junit(fault: SpinefitError, asked: str) -> str:
    """Bad input as an XML document: a suite of one case that is an error.

    Args:
        fault: what was wrong.
        asked: the command that was asked.
    """
    return _written(suite_of(asked, [Case("input", asked, str(fault), "bad input", (), True)]))


def _suite_of(report: Report, fail_on: Level | None, name: str = "") -> Element:
    """The ``testsuite`` of one title, named by it unless another name is given."""
    findings = say.findings_by_weight(report, say.shown_layout(report))
    suite = _suite_of_findings(
        name or report.title,
        report.title,
        findings,
        fail_on,
        answer=report.answer,
        fits=report.fits,
    )
    properties = Element("properties")
    for key, value in (
        ("version", __version__),
        ("font", say.font_in_words(report.font)),
        ("market", report.convention.market or "none"),
        ("method", report.method.key),
        ("verdict", str(report.verdict)),
    ):
        Tree.SubElement(properties, "property", name=key, value=say.visible(value))
    suite.insert(0, properties)
    if report.cautions:
        Tree.SubElement(suite, "system-out").text = "\n".join(map(say.visible, report.cautions))
    return suite


def _suite_of_findings(
    name: str,
    class_name: str,
    findings: Iterable[FindingReport],
    fail_on: Level | None,
    *,
    answer: str,
    fits: bool,
) -> Element:
    """A ``testsuite`` of a case for the fit and one for each finding.

    Args:
        name: of the suite.
        class_name: of every case.
        findings: in the order to be shown.
        fail_on: the level from which on a finding is a failure; None where only what does not
            fit counts.
        answer: the sentence that says whether it fits.
        fits: whether it does.
    """
    cases = [Case("fits", class_name, answer, "" if fits else "does not fit")]
    used: dict[str, int] = {}
    for finding in findings:
        used[finding.topic] = used.get(finding.topic, 0) + 1
        again = f" {used[finding.topic]}" if used[finding.topic] > 1 else ""
        failed = str(finding.level) if _is_failed(finding, fail_on) else ""
        topic = f"{finding.topic}{again}"
        cases.append(Case(topic, class_name, finding.text, failed, facts(finding)))
    return suite_of(name, cases)


def suite_of(name: str, cases: Iterable[Case]) -> Element:
    """A ``testsuite`` of cases, counted."""
    suite = Element("testsuite", name=say.visible(name))
    for one in cases:
        names = {"name": say.visible(one.name), "classname": say.visible(one.class_name)}
        case = Tree.SubElement(suite, "testcase", {**names, "time": "0"})
        shown = say.visible(one.text)
        if one.failed:
            kind = "error" if one.is_error else "failure"
            said = Tree.SubElement(case, kind, message=shown, type=one.failed)
        else:
            said = Tree.SubElement(case, "system-out")
        said.text = "\n".join((shown, *map(say.visible, one.more)))
    _count(suite)
    return suite


def as_text(element: Element, level: int = 0) -> str:
    """An element in indented lines, so many levels deep in its document."""
    Tree.indent(element, level=level)
    return Tree.tostring(element, encoding="unicode")


def _written(root: Element) -> str:
    """The document of an element, to be encoded in UTF-8."""
    return f"{DECLARATION}{as_text(root)}"


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


def _count(element: Element) -> None:
    for name, tag in (("tests", "testcase"), ("failures", "failure"), ("errors", "error")):
        element.set(name, str(len([*element.iter(tag)])))
    element.set("time", "0")
