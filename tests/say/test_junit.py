"""The report as a build server reads it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from xml.etree import ElementTree as Tree

import pytest

import spinefit
from spinefit.say.junit import failed_findings, to_junit
from spinefit.say.model import FindingReport, Report
from spinefit.vocabulary import Level
from tests.say.junit_form import junit_of


def suite_of(report: Report, *more: Any) -> Tree.Element:
    """The one suite of its document."""
    (suite,) = junit_of(to_junit(report, *more).encode())
    return suite


def failed(report: Report, *level: Level) -> list[str | None]:
    suite = suite_of(report, *level)
    cases = suite.findall("testcase")
    found = [case.get("name") for case in cases if case.find("failure") is not None]
    assert (suite.get("tests"), suite.get("failures")) == (str(len(cases)), str(len(found)))
    return found


def test_a_case_for_the_fit_and_one_for_each_finding(report: Report) -> None:
    """The name is the topic, the class the title, and each says what was found."""
    suite = suite_of(report)
    assert (suite.tag, suite.get("name")) == ("testsuite", "The Harbour Light")
    cases = suite.findall("testcase")
    assert [case.get("name") for case in cases] == ["fits", "placing", "legibility"]
    assert {case.get("classname") for case in cases} == {"The Harbour Light"}
    said = cases[2].findtext("system-out")
    assert said is not None
    for part in ("Capitals 3.3 mm", "figure: 22.6 arcmin", "limit: 16 arcmin", "published"):
        assert part in said


def test_the_properties_name_what_was_measured_with(report: Report) -> None:
    """Version, font, market and method."""
    suite = suite_of(report)
    assert suite[0].tag == "properties"
    found = {one.get("name"): one.get("value") for one in suite.iter("property")}
    assert found["version"] == spinefit.__version__
    assert (found["font"], found["market"]) == ("EB Garamond", "GB")
    assert (found["method"], found["verdict"]) == ("paperback-cover", "fits")


def test_a_file_names_its_suites(report: Report) -> None:
    """Several stand in one list of a build server; the title is a property then."""
    suite = suite_of(report, None, "jobs/light.toml")
    assert suite.get("name") == "jobs/light.toml"
    assert {case.get("classname") for case in suite.iter("testcase")} == {"jobs/light.toml"}
    found = {one.get("name"): one.get("value") for one in suite.iter("property")}
    assert found["title"] == report.title


def test_what_came_from_a_house_is_a_property(report: Report) -> None:
    """And none where nothing did."""
    of_house = report._replace(
        assumed=("bands: none", "market GB (house defaults)", "edge 2mm (house defaults)")
    )
    for one, said in ((report, None), (of_house, "market GB; edge 2mm")):
        found = {found.get("name"): found.get("value") for found in suite_of(one).iter("property")}
        assert found.get("house-defaults") == said


def test_the_level_decides_what_fails(report: Report, unfitting: Report) -> None:
    """A warning fails where warnings do; what does not fit always fails."""
    assert failed(report) == []
    assert failed(report, Level.WARNING) == ["placing"]
    assert failed(unfitting) == ["fits"]
    assert failed(unfitting, Level.WARNING) == ["fits", "placing"]


def test_a_failure_says_why(unfitting: Report) -> None:
    """Its message is the answer."""
    failure = suite_of(unfitting).find("testcase/failure")
    assert failure is not None
    assert failure.get("message") == unfitting.answer
    assert failure.get("type") == "does not fit"


@pytest.mark.parametrize(
    "title",
    ["<&>\"'", "]]>", "a\x00b\x1b\x7f", "a\ud800b", "\ufffe\uffff", "a\nb\r\tc", "灯台 Φάρος"],
)
def test_any_title_is_well_formed(report_of: Callable[..., Report], title: str) -> None:
    """What XML has no place for is shown as an escape, on one line."""
    suite = suite_of(report_of(title=title))
    name = suite.get("name")
    assert name and name.isprintable()


def test_a_topic_found_twice_has_two_names(report: Report) -> None:
    """Build servers tell cases by their names."""
    other = report.findings[0]._replace(text="At the right too.")
    suite = suite_of(report._replace(findings=(*report.findings, other)))
    names = [case.get("name") for case in suite.findall("testcase")]
    assert names == ["fits", "placing", "placing 2", "legibility"]


def test_legibility_counts_where_failures_do(report_of: Callable[..., Report]) -> None:
    """It never decides whether a title fits, but a failure is one."""
    small = FindingReport("legibility", Level.FAILURE, "Too small.", 9, 10, "arcmin", "x", None)
    report = report_of(findings=(small,))
    assert report.fits
    assert failed(report, Level.FAILURE) == ["legibility"]
    assert failed_findings(report, Level.FAILURE) == [small]


def test_without_a_level_only_what_does_not_fit_is_failed(
    report_of: Callable[..., Report], unfitting: Report
) -> None:
    """As the exit code of a check has it."""
    small = FindingReport("legibility", Level.FAILURE, "Too small.", 9, 10, "arcmin", "x", None)
    assert failed(report_of(findings=(small,))) == []
    assert failed(unfitting) == ["fits"]


def test_the_same_report_gives_the_same_bytes(report: Report) -> None:
    """No time, no host."""
    assert to_junit(report) == to_junit(report)
    assert to_junit(report).startswith('<?xml version="1.0" encoding="UTF-8"?>\n<testsuites ')
