"""How do results stand in JUnit XML, which build servers read?

In: answered rows. Out: a ``testsuite`` of the table with a ``testcase`` for each row, failed where
it does not fit or a finding of it counts, an error where it is at fault. A suite begins with its
counts, so the rows are held until the last is there.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from spinefit.batch.books import Answered
from spinefit.batch.counted import counted, failing
from spinefit.batch.model import Settings, Totals
from spinefit.say import junit
from spinefit.say.junit import Case, facts
from spinefit.say.phrasing import visible
from spinefit.vocabulary import Level, Verdict

_ASKED = "spinefit batch"
_CLOSING = "  </testsuite>\n</testsuites>"


def head(settings: Settings, totals: Totals) -> str:
    """The beginning of the document, and of the suite of the table."""
    counts = totals.counts
    failures = counts[Verdict.DOES_NOT_FIT] + totals.failed
    suite = junit.counting(
        Element("testsuite", name=visible(settings.table)),
        sum(counts.values()), failures, counts[""],
    )  # fmt: skip
    suite = junit.with_properties(suite, [(junit.HOUSE, settings.of_house)])
    return junit.document(_ASKED, [suite]).removesuffix(_CLOSING)


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """The cases of some rows."""
    return "".join(junit.in_lines(junit.case_of(_case(one, settings)), 2) for one in answered)


def foot(totals: Totals, settings: Settings) -> str:
    """The end of the document."""
    return f"{_CLOSING}\n"


def _name(one: Answered) -> str:
    line = f"line {one.row.line}"
    return f"{one.row.title} ({line})" if one.row.title else line


def _set_or_table(one: Answered, settings: Settings) -> str:
    """What a row is a case of: its set, or its table; of a row at fault there is no set."""
    name = str((one.result.fault is None and one.row.cells.get("set")) or "")
    return f"{settings.table}: {name}" if name else settings.table


def _case(one: Answered, settings: Settings) -> Case:
    name, of, kept = _name(one), _set_or_table(one, settings), _kept(one, settings)
    found = one.result
    if found.fault is not None:
        return Case(name, of, found.fault.line, "bad input", kept, is_error=True)
    failed, why = failing(one, settings.fail_on)
    text = why or found.answer
    more = [] if text == found.answer else [found.answer]
    for finding in counted(one, Level.WARNING):
        more += [*([] if finding.text == text else [finding.text]), *facts(finding)]
    return Case(name, of, text, failed, [*more, *kept])


def _kept(one: Answered, settings: Settings) -> list[str]:
    """The columns carried along."""
    cells = zip(settings.kept, one.row.kept, strict=False)  # there are none where it is unread
    return [f"{name}: {cell}" for name, cell in cells if cell]
