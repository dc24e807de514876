"""The report as a Markdown task list."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from spinefit.report.checklist import escaped, to_markdown
from spinefit.report.model import Report


def test_what_is_settled_is_ticked(report: Report) -> None:
    """The answer, the size, the lines and the direction."""
    text = to_markdown(report)
    for settled in ("It fits", "Size: 14.5 pt", "Lines: 3 lines", "Direction: across"):
        assert f"- [x] {settled}" in text


def test_what_does_not_fit_is_open(unfitting: Report) -> None:
    """Nothing is ticked that is not settled, and the remedies are tasks."""
    text = to_markdown(unfitting)
    assert "- [ ] It does not fit" in text
    assert "- [ ] Size: 5 pt" in text
    assert "- [ ] To be tried: Break the title" in text


def test_findings_are_ticked_only_where_good(report: Report) -> None:
    """A warning is open, with figure, limit, source and status."""
    text = to_markdown(report)
    assert "- [x] Capitals 3.3 mm high" in text
    assert re.search(r"- \[ \] Warning: .*\(figure 1\.2 mm; limit 1\.6 mm; .*; published\)", text)


def test_what_only_a_person_can_check_stands_last(report: Report) -> None:
    """Four open tasks and one line of caution."""
    tail = to_markdown(report).split("To be checked by a person:")[1]
    assert tail.count("- [ ] ") == 4
    assert tail.strip().splitlines()[-1].startswith("> Knives and heated tools")


@pytest.mark.parametrize("char", list("\\`*_{}[]()<>#|~&$@!"))
def test_markdown_in_a_title_is_escaped(report_of: Callable[..., Report], char: str) -> None:
    """A title is shown letter for letter."""
    text = to_markdown(report_of(title=f"a{char}b", lines=(f"a{char}b",)))
    assert text.splitlines()[0].endswith(f"a\\{char}b")
    assert f"Lines: one line, a\\{char}b" in text


def test_a_title_stays_on_its_line() -> None:
    """No title can start a line of its own."""
    assert escaped("a\n- [x] b") == r"a\\n- \[x\] b"
