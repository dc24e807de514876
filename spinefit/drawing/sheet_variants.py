"""In which ways does a job vary on one sheet?

In: a job, and the labels, cases and weights to compare. Out: every combination of them, each a
changed job with its label and what its caption says of it. How many sizes and splits of each are
set depends on what fits, and is for `sheet_settings`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import NamedTuple

from spinefit import pipeline
from spinefit.job.model import Job
from spinefit.job.sheet import SheetWishes
from spinefit.job.values import Panel
from spinefit.shaping.weights import of_weight
from spinefit.vocabulary import Case, Weight


class Differs(NamedTuple):
    """What sets a label apart beside size and sides; its fields are keys of the JSON.

    Attributes:
        case: None where all are of one.
        weight: likewise.
    """

    case: Case | None = None
    weight: Weight | None = None

    @property
    def in_words(self) -> str:
        """As captions and tables say it; "" for nothing."""
        return ", ".join(str(one).replace("-", " ") for one in self if one is not None)


class Variant(NamedTuple):
    """One way of setting a job.

    Attributes:
        job: the job in this way.
        label: the label it is to stand on; None for one as large as the ink needs.
        differs: what sets it apart.
    """

    job: Job
    label: Panel | None
    differs: Differs


def variants_of(job: Job, wishes: SheetWishes) -> Iterator[Variant]:
    """Every combination that was asked for: labels, on each the cases, of each the weights.

    Args:
        job: as it was given.
        wishes: what is to be compared.

    Raises:
        FontError: a family that lacks a weight asked for.
    """
    cases: tuple[Case | None, ...] = wishes.cases or (None,)
    styled = [
        (lettered, Differs(case, weight))
        for case in cases
        for weight, lettered in _in_weights(_in_case(job, case), wishes.weights)
    ]
    for label, (lettered, differs) in product(wishes.labels or (job.panel,), styled):
        yield Variant(lettered, label, differs)


def _in_case(job: Job, case: Case | None) -> Job:
    return job if case is None else replace(job, lettering=replace(job.lettering, case=case))


def _in_weights(job: Job, weights: tuple[Weight, ...]) -> Iterator[tuple[Weight | None, Job]]:
    """The job in each weight of its font's family: of the font that its method takes, unsaid."""
    if not weights:
        yield None, job
        return
    usual = job.lettering.font or pipeline.answer(job).judgement.shown.layout.title.font.name
    for weight in weights:
        yield weight, replace(job, lettering=of_weight(job.lettering, usual, weight))
