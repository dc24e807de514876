"""How do results stand in JUnit XML, which build servers read?

In: answered rows. Out: a ``testcase`` for each, failed where it does not fit or a finding of it
counts, an error where the row is at fault; a ``testsuite`` for each book, and for the volumes of a
set together, so that each says its counts and yet is written as it comes.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from spinefit.batch.books import Answered
from spinefit.batch.counted import counted
from spinefit.batch.model import Settings, Totals
from spinefit.say.junit import DECLARATION, Case, as_text, facts, suite_of
from spinefit.vocabulary import Level, Verdict


def head(settings: Settings) -> str:
    """The beginning of the document."""
    return f'{DECLARATION}<testsuites name="spinefit batch">\n'


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """The suites of some rows; those of a set are all among them."""
    found = groupby(answered, key=_suite_name)
    each = (suite_of(name, [_case(one, settings) for one in volumes]) for name, volumes in found)
    return "".join(f"  {as_text(suite, level=1)}\n" for suite in each)


def foot(totals: Totals, settings: Settings) -> str:
    """The end of the document."""
    return "</testsuites>\n"


def _suite_name(one: Answered) -> str:
    """Its set, or itself; a row at fault, for which there is no set, too."""
    return str((one.result.fault is None and one.row.cells.get("set")) or _name(one))


def _name(one: Answered) -> str:
    line = f"line {one.row.line}"
    return f"{one.row.title} ({line})" if one.row.title else line


def _case(one: Answered, settings: Settings) -> Case:
    name, of, kept = _name(one), _suite_name(one), _kept(one, settings)
    found = one.result
    if found.fault is not None:
        return Case(name, of, found.fault.line, "bad input", kept, is_error=True)
    failing = counted(one, settings.fail_on)
    text, failed = found.answer, ""
    if found.verdict == Verdict.DOES_NOT_FIT:
        failed = found.verdict
    elif failing:
        text, failed = failing[0].text, str(failing[0].level)
    more = [] if text == found.answer else [found.answer]
    for finding in counted(one, Level.WARNING):
        more += [*([] if finding.text == text else [finding.text]), *facts(finding)]
    return Case(name, of, text, failed, [*more, *kept])


def _kept(one: Answered, settings: Settings) -> list[str]:
    """The columns carried along."""
    cells = zip(settings.kept, one.row.kept, strict=False)  # there are none where it is unread
    return [f"{name}: {cell}" for name, cell in cells if cell]
