"""Checklists, JUnit XML and exit codes by findings, on the command line."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main
from spinefit.say.phrasing import assumed_parted

JOBS = Path(__file__).parents[2] / "shared" / "jobs"
GOOD = ("check", "The Harbour Light", "--width", "40", "--height", "200", "--market", "GB")
THIN = ("check", "Tides", "--width", "4.5", "--height", "200", "--market", "GB")
TIGHT = ("check", "Tides", "--width", "9", "--height", "200", "--market", "GB", "--size", "18")
TOO_SMALL = (*GOOD, "--size", "5")
TOO_LONG = ("check", "The Harbour Light", "--panel", "5x5mm")
BANDED = (*GOOD, "--back", "rounded", "--bands", "4")


def run(*words: str) -> Result:
    """Run a command line in this process."""
    return CliRunner().invoke(main, list(words))


@pytest.mark.parametrize(
    ("words", "codes"),
    [
        (GOOD, (0, 0, 0)),
        (TIGHT, (0, 0, 1)),
        (THIN, (0, 1, 1)),
        (TOO_SMALL, (0, 1, 1)),
        (TOO_LONG, (1, 1, 1)),
    ],
)
@pytest.mark.parametrize("form", ["text", "json", "checklist", "junit"])
def test_the_level_decides_the_exit_code(
    words: tuple[str, ...], codes: tuple[int, ...], form: str
) -> None:
    """Nothing is asked, failure, warning; the report is the same and nothing is added to it."""
    asked = ((), ("--fail-on", "failure"), ("--fail-on", "Warning"))
    results = [run(*words, *level, "--format", form) for level in asked]
    assert tuple(one.exit_code for one in results) == codes
    assert {one.stderr for one in results} == {""}
    if form != "junit":
        assert len({one.stdout for one in results}) == 1


def test_the_report_shows_which_finding_it_was() -> None:
    """As JUnit XML the failed case, in JSON the finding at that level."""
    suite = Tree.fromstring(run(*THIN, "--fail-on", "warning", "--format", "junit").stdout_bytes)
    failed = {
        case.get("name") for case in suite.iter("testcase") if case.find("failure") is not None
    }
    report = json.loads(run(*THIN, "--format", "json").stdout)
    layout = report["layouts"][report["recommended"]]
    grave = {
        one["topic"]
        for one in (*report["findings"], *layout["findings"])
        if one["level"] in ("warning", "failure")
    }
    assert failed == grave and "thin-back" in grave


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("--fail-on", "warnings"),
            "--fail-on: no such choice: 'warnings'; did you mean 'warning'?",
        ),
        (("--fail-on", "note"), "choose from warning, failure"),
        (("--format", "junti"), "--format: no such choice: 'junti'; did you mean 'junit'?"),
        (("--fail_on", "failure"), "did you mean --fail-on?"),
    ],
)
def test_a_wrong_word_is_refused(words: tuple[str, ...], said: str) -> None:
    """One line, nothing on standard output, exit code 2."""
    result = run(*GOOD, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


@pytest.mark.parametrize("name", ["pilots-almanack", "commissioners-set"])
def test_a_plan_has_a_suite_for_each_part(name: str) -> None:
    """And one of its own, all in one document."""
    file = str(JOBS / f"{name}.toml")
    root = Tree.fromstring(run("check", "--job", file, "--format", "junit").stdout_bytes)
    report = json.loads(run("check", "--job", file, "--format", "json").stdout)
    own = report.get("texts") or report.get("volumes")
    assert root.tag == "testsuites"
    assert len(root.findall("testsuite")) == len(own) + 1
    assert root.get("tests") == str(len(list(root.iter("testcase"))))


def test_a_plan_counts_the_findings_of_its_parts() -> None:
    """The level reaches every text and volume."""
    for name in ("pilots-almanack", "commissioners-set", "northern-roads-folio"):
        words = ("check", "--job", str(JOBS / f"{name}.toml"))
        suites = Tree.fromstring(
            run(*words, "--fail-on", "warning", "--format", "junit").stdout_bytes
        )
        failed = int(suites.get("failures", "0"))
        assert run(*words, "--fail-on", "warning").exit_code == int(failed > 0)


@pytest.mark.parametrize(
    "words", [GOOD, THIN, TOO_SMALL, TOO_LONG, BANDED, (*GOOD, "--method", "leather-label"),
              (*GOOD, "--method", "hand-letters"), ("check", "Tides", "--width", "13..15mm")],
)  # fmt: skip
def test_a_checklist_is_whole_for_every_kind_of_job(words: tuple[str, ...]) -> None:
    """Four sections; the method's cautions; nothing to measure is ticked."""
    result = run(*words, "--format", "checklist")
    assert result.stderr == ""
    measure, checked, eye, minded = result.stdout.split("\n### ")[1:]
    assert "- [x]" not in measure + eye + minded
    report = json.loads(run(*words, "--format", "json").stdout)
    assert checked.count("- [x] Size:") == int(report["recommended"] is not None)
    assert minded.count("\n- ") == len(report["method"]["cautions"]) > 0
    of_book, of_setting = assumed_parted(report["assumed"])
    assert measure.count("- [ ] Confirm: ") == len(of_book)
    for text in of_setting:  # in one task
        assert text.split()[0] in measure


@pytest.mark.parametrize("words", [GOOD, THIN, TOO_SMALL, TOO_LONG], ids=str)
@pytest.mark.parametrize("more", [(), ("--fail-on", "failure"), ("--fail-on", "warning")], ids=str)
def test_junit_and_the_exit_code_agree(words: tuple[str, ...], more: tuple[str, ...]) -> None:
    """A case is failed where, and only where, the exit code is 1."""
    done = run(*words, *more, "--format", "junit")
    suite = Tree.fromstring(done.stdout_bytes)
    assert done.exit_code == int(int(suite.get("failures", "0")) > 0)
