"""Which findings of a row count as failed, beside its not fitting?

In: an answered row and a level. Out: its own findings from that level on, as of a check of the same
book. What is found of a set as a whole is of the volumes that do not fit, and of no other.
"""

from __future__ import annotations

from spinefit.batch.books import Answered, noughts
from spinefit.say.model import FindingReport
from spinefit.say.plan_model import BackReport
from spinefit.vocabulary import Level, Verdict


def counted(one: Answered, level: Level | None) -> list[FindingReport]:
    """The findings of a row that are as grave as a level; none for None."""
    if level is None or one.report is None:
        return []
    from spinefit.say import junit

    own = one.report.findings if isinstance(one.report, BackReport) else ()
    if "set" in one.row.cells and "serial" not in one.row.cells:  # else each stands alone
        own = noughts(one.row)
    return junit.counted(own, one.reports, level)


def failing(one: Answered, level: Level | None) -> tuple[str, str]:
    """By what an answered row counts as failed, and the sentence that says so; ("", "") for not.

    Args:
        one: the row; one at fault is no failed one.
        level: the level from which on findings count; None where none does.
    """
    if one.result.verdict == Verdict.DOES_NOT_FIT:
        return Verdict.DOES_NOT_FIT, one.result.answer
    found = counted(one, level)
    return (str(found[0].level), found[0].text) if found else ("", "")
