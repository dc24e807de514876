"""Can these volumes be a set?

In: labels and jobs. Out: nothing, or a fault that names the volume by its number. Volumes of
a set share their letters; what differs is title, back and label.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import fields

from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job.fields import FIELDS
from spinefit.job.model import Job, Lettering
from spinefit.job.resolve import resolve
from spinefit.plan.model import BackPlan, BackText, Role
from spinefit.plan.plan_checks import check_plan
from spinefit.plan.text_jobs import job_of, leading_of

__all__ = ["check_backs", "check_labels", "check_set", "volume_fault"]

_OPTION = {field.attribute: field.name for field in FIELDS if field.part == "lettering"}
_OWN = ("clearance_mm", "break_words")  # these may differ from volume to volume


def check_set(volumes: Sequence[tuple[str, Job]]) -> None:
    """Refuse what cannot be a set.

    Raises:
        JobError: fewer than two volumes, a label twice, letters that differ.
    """
    check_labels([label for label, _job in volumes])
    for place, (_label, job) in enumerate(volumes, 1):
        _same_letters(volumes[0][1].lettering, job.lettering, place)
    _same_reading([job for _label, job in volumes])


def check_backs(volumes: Sequence[tuple[str, BackPlan]]) -> None:
    """Refuse what cannot be several backs alike.

    Raises:
        JobError: fewer than two volumes, a label twice, letters, bands or seats that differ.
    """
    check_labels([label for label, _plan in volumes])
    first = volumes[0][1]
    titles = []
    for place, (_label, plan) in enumerate(volumes, 1):
        with volume_fault(place):
            check_plan(plan)
            _refuse_shared_labels(plan)
        titles.append(job_of(plan, leading_of(plan.texts)))
        _same_letters(first.lettering, plan.lettering, place)
        _same(place, "bands", _bands(first), _bands(plan))
        _same(place, "order", first.order, plan.order)
        _same(place, "relation", first.relation, plan.relation)
    _same_reading(titles)
    _same_seats([plan for _label, plan in volumes])


def _refuse_shared_labels(plan: BackPlan) -> None:
    for number, text in enumerate(plan.texts, 1):
        if text.label is not None or text.label_size_mm is not None:
            raise FieldError(
                "a label that texts share is planned for one back",
                value=text.label,
                where=f"text {number}: label",
                remedy="plan this volume by itself, or leave the label out",
            )


def _bands(plan: BackPlan) -> int:
    return plan.spine.bands or len(plan.spine.bands_at_mm or ())


def _same_seats(plans: Sequence[BackPlan]) -> None:
    """Texts of one role share panel, weight, size, case and font."""
    first: dict[Role, BackText] = {}
    for place, plan in enumerate(plans, 1):
        for number, text in enumerate(plan.texts, 1):
            known = first.setdefault(text.role, text)
            for name, attribute in _OF_A_ROLE.items():
                mine, theirs = getattr(known, attribute), getattr(text, attribute)
                _same(place, f"text {number}: {name}", mine, theirs)


_OF_A_ROLE = {
    "panel": "panel",
    "weight": "weight",
    "size": "size_pt",
    "case": "case",
    "font": "font",
}


def _same(place: int, name: str, mine: object, theirs: object) -> None:
    if mine != theirs:
        raise FieldError(
            f"volumes planned together share their {name.rpartition(' ')[2]}",
            value="none" if theirs is None else theirs,
            where=f"volume {place}: {name}",
            remedy="give the same in every volume",
        )


def _same_reading(jobs: Sequence[Job]) -> None:
    readings = []
    for place, job in enumerate(jobs, 1):
        with volume_fault(place):
            readings.append(resolve(job).lettering.reading)
        if readings[-1] is not readings[0]:
            raise FieldError(
                "volumes of a set read the same way along the back",
                value=readings[-1],
                where=f"volume {place}: reading",
                remedy="give --reading, or one market for all",
            )


def check_labels(labels: Sequence[str], *, least: int = 2) -> None:
    """Refuse too few volumes, and labels that are none or are given twice.

    Raises:
        JobError: as said.
    """
    if len(labels) < least:
        raise JobError("a set of fewer than two volumes", remedy="give two or more")
    for place, label in enumerate(labels, 1):
        if not isinstance(label, str) or not label.strip():
            raise FieldError("no label", value=label, where=f"volume {place}: label")
        if label in labels[: place - 1]:
            raise FieldError(
                "two volumes of one label",
                value=label,
                where=f"volume {place}: label",
                remedy="give each its own",
            )


@contextmanager
def volume_fault(place: int) -> Iterator[None]:
    """Faults raised inside name the volume of that number."""
    try:
        yield
    except SpinefitError as fault:
        name = "title" if fault.where == "TITLE" else fault.where.removeprefix("--")
        fault.where = f"volume {place}: {name}" if name else f"volume {place}"
        raise


def _same_letters(first: Lettering, other: Lettering, place: int) -> None:
    for field in fields(Lettering):
        if field.name in _OWN:
            continue
        mine, theirs = getattr(first, field.name), getattr(other, field.name)
        if mine != theirs:
            name = _OPTION.get(field.name, field.name)
            raise FieldError(
                f"volumes of a set share their {name}",
                value=theirs,
                where=f"volume {place}: {name}",
                remedy="give it once for all volumes",
            )
