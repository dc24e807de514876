"""What does a build server learn: does an answer count as failed, and by which findings?

In: a report, of a title or a plan, and a level a person chose. Out: whether it counts, and JUnit
XML, which most build servers read: a suite for each title, a case "fits" and one for each finding,
failed where the exit code would be 1 for it. Of a title count its own findings and those of its
recommended setting (of the nearest, where none fits); "does not fit" always does. Legibility, which
never decides whether a title fits, counts like any other. There is no published standard; the
element names are those in common use. No time or host is written: the same job, the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING
from xml.etree import ElementTree as Tree

from spinefit import __version__
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Level

if TYPE_CHECKING:
    from spinefit.say.plan_model import AnyReport

Element = Tree.Element
FAIL_ON = (Level.WARNING, Level.FAILURE)
"""The levels that may be chosen, the graver one last."""


def _is_failed(finding: FindingReport, fail_on: Level | None) -> bool:
    """Whether a finding is at the level ``fail_on`` or graver; none is where that is None."""
    return fail_on is not None and finding.level in FAIL_ON[FAIL_ON.index(fail_on) :]


def failed_findings(report: Report, fail_on: Level | None) -> list[FindingReport]:
    """The findings that count as failed, the gravest first."""
    findings = say.findings_by_weight(report, say.shown_layout(report))
    return [finding for finding in findings if _is_failed(finding, fail_on)]


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
    own = any(_is_failed(finding, fail_on) for finding in report.findings)
    return own or any(failed_findings(one, fail_on) for _, one in report.parts)


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
    _count(root, suites)
    return _written(root)


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
    suite = Element("testsuite", name=say.visible(name))
    _case(suite, "fits", class_name, answer, "" if fits else "does not fit")
    used: dict[str, int] = {}
    for finding in findings:
        used[finding.topic] = used.get(finding.topic, 0) + 1
        again = f" {used[finding.topic]}" if used[finding.topic] > 1 else ""
        failed = str(finding.level) if _is_failed(finding, fail_on) else ""
        topic = f"{finding.topic}{again}"
        _case(suite, topic, class_name, finding.text, failed, _facts(finding))
    _count(suite, [suite])
    return suite


def _written(root: Element) -> str:
    """The document of an element, to be encoded in UTF-8."""
    Tree.indent(root)
    text = Tree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}'


def _case(
    suite: Element, name: str, class_name: str, text: str, failed: str, facts: str = ""
) -> None:
    """A case with a failure of the kind ``failed``, or what was found where that is empty."""
    case = Tree.SubElement(
        suite, "testcase", name=say.visible(name), classname=say.visible(class_name), time="0"
    )
    shown = say.visible(text)
    if failed:
        Tree.SubElement(case, "failure", message=shown, type=failed).text = f"{shown}{facts}"
    else:
        Tree.SubElement(case, "system-out").text = f"{shown}{facts}"


def _facts(finding: FindingReport) -> str:
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
    return "".join(f"\n{say.visible(row)}" for row in rows)


def _count(element: Element, suites: list[Element]) -> None:
    cases = [case for suite in suites for case in suite.iter("testcase")]
    failures = [case for case in cases if case.find("failure") is not None]
    element.set("tests", str(len(cases)))
    element.set("failures", str(len(failures)))
    element.set("errors", "0")
    element.set("time", "0")
