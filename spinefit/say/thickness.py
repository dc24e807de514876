"""How is it said that a back was estimated from the making of its book, and not measured?

In: estimates, and the answers of backs that have them. Out: a sentence to stand in each answer,
which is often all that is read, and the sum for the finding. Lengths in mm.
"""

from __future__ import annotations

from spinefit.job.bulk import Estimate, Range
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.say.model import Report
from spinefit.say.phrasing import bare_mm, mm
from spinefit.vocabulary import Cover

ESTIMATED = "estimated"
"""Of a width, in place of what it was measured on."""


def estimate_of(job: ResolvedJob) -> Estimate | None:
    """The estimate that a job's back rests on, if it does."""
    return None if job.spine is None else job.spine.estimate


def answer_beside(answer: str, job: ResolvedJob) -> str:
    """An answer with the sentence that the back it is for is an estimate, once."""
    made = estimate_of(job)
    if made is None:
        return answer
    sentence = (
        f"The width of the back is an estimate from {made.of}: {range_in_words(made.back_mm)}; "
        "measure before cutting."
    )
    return answer if sentence in answer else f"{answer} {sentence}"


def beside_estimate(report: Report, job: ResolvedJob) -> Report:
    """A report whose answer says so too."""
    if estimate_of(job) is None:
        return report
    return report._replace(answer=answer_beside(report.answer, job))


def estimate_in_words(f: Finding) -> str:
    """The sum of an estimate, as the sentence of its finding."""
    made = f.facts["made"]
    assert isinstance(made, Estimate)
    loose = f", {made.endpapers} of them endpapers," if made.endpapers else ""
    parts = [
        f"{_counted(made)} leaves of {made.leaf_mm:.4g} mm{loose} make a block of "
        f"{range_in_words(made.block_mm)}"
    ]
    if made.sewing_mm[1]:
        parts.append(f"sewing adds {range_in_words(made.sewing_mm)}")
    if made.cover_mm[1]:
        covers = "boards add" if made.cover is Cover.CASE else "cover paper adds"
        parts.append(f"{covers} {range_in_words(made.cover_mm)}")
    text = f"The back is estimated, not measured: {', '.join(parts)}."
    if made.over_round_mm is not None:
        text += (
            f" Over a round of 60 to 120 degrees it would be {range_in_words(made.over_round_mm)} "
            "long, shoulders and linings not counted."
        )
    if made.case_mm is not None:
        case = range_in_words(made.case_mm)
        text += f" A case made before the block is known is allowed {case} over the round."
    return f"{text} Measure the bound book before cutting."


def _counted(made: Estimate) -> str:
    least, most = (number + made.endpapers for number in made.leaves)
    return f"{least}" if least == most else f"{least} to {most}"


def range_in_words(range_mm: Range) -> str:
    """The least and the greatest, or the one length that both are.

    >>> range_in_words((14.72, 16.8)), range_in_words((5.0, 5.0))
    ('14.7 to 16.8 mm', '5 mm')
    """
    least_mm, most_mm = range_mm
    if bare_mm(least_mm) == bare_mm(most_mm):
        return mm(least_mm)
    return f"{bare_mm(least_mm)} to {mm(most_mm)}"
