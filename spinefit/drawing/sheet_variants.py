"""In which ways does a job vary on one sheet?

In: a job, and the labels, cases, weights and rules to compare. Out: every combination of them,
each a changed job with its label and what its caption says of it. How many sizes and splits of
each are set depends on what fits, and is for `sheet_settings`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import NamedTuple

from spinefit import pipeline
from spinefit.errors import FieldError
from spinefit.job.model import Job
from spinefit.job.sheet import SheetWishes
from spinefit.job.values import Panel
from spinefit.shaping.weights import of_weight
from spinefit.vocabulary import Case, Frame, Role, Ruling, Weight


class Differs(NamedTuple):
    """What sets a label apart beside size and sides; its fields are keys of the JSON.

    Attributes:
        case: None where all are of one.
        weight: likewise.
        rule: which lines the rules of a label are, ``none`` where they were left out.
    """

    case: Case | None = None
    weight: Weight | None = None
    rule: Frame | None = None

    @property
    def in_words(self) -> str:
        """As captions and tables say it; "" for nothing."""
        words = [str(one).replace("-", " ") for one in self[:2] if one is not None]
        if self.rule is not None:
            words.append(f"{self.rule} rule".replace("none", "no").replace("-", " "))
        return ", ".join(words)


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
        job: as it was given. What a text of several says of itself stays.
        wishes: what is to be compared.

    Raises:
        FontError: a family that lacks a weight asked for.
        FieldError: rules of a label that has none.
    """
    styled = [
        (ruled, Differs(case, weight, rule))
        for case, cased in _in_cases(job, wishes.cases)
        for weight, weighted in _in_weights(cased, wishes.weights)
        for rule, ruled in _with_rules(weighted, wishes.rules)
    ]
    for label, (lettered, differs) in product(wishes.labels or (job.panel,), styled):
        yield Variant(lettered, label, differs)


def _in_cases(job: Job, cases: tuple[Case, ...]) -> Iterator[tuple[Case | None, Job]]:
    """The job in each case."""
    for case in cases:
        yield case, replace(job, lettering=replace(job.lettering, case=case))
    if not cases:
        yield None, job


def _in_weights(job: Job, weights: tuple[Weight, ...]) -> Iterator[tuple[Weight | None, Job]]:
    """The job in each weight of its font's family: of the font that its method takes, unsaid."""
    if not weights:
        yield None, job
        return
    usual = job.lettering.font or pipeline.answer(job).judgement.shown.layout.title.font.name
    for weight in weights:
        yield weight, replace(job, lettering=of_weight(job.lettering, usual, weight))


def _with_rules(job: Job, rules: tuple[Frame, ...]) -> Iterator[tuple[Frame | None, Job]]:
    """The job with each kind of rule between its texts, or with none."""
    if not rules:
        yield None, job
        return
    if not any(part.role is Role.RULE for part in job.parts):
        raise FieldError(
            "no rule in the label to vary", where="--rules",
            remedy='write [[text]] role = "rule" where one is to stand, or leave it out',
        )  # fmt: skip
    for rule in rules:
        lines = None if rule is Frame.NONE else Ruling(str(rule))
        parts = [
            part if part.role is not Role.RULE else replace(part, rule=lines)
            for part in job.parts
            if part.role is not Role.RULE or lines is not None
        ]
        yield rule, replace(job, parts=tuple(parts))
