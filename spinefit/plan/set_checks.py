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

__all__ = ["check_set", "volume_fault"]

_OPTION = {
    field.target.removeprefix("lettering."): field.name
    for field in FIELDS
    if field.target.startswith("lettering.")
}
_OWN = ("clearance_mm", "break_words")  # these may differ from volume to volume


def check_set(volumes: Sequence[tuple[str, Job]]) -> None:
    """Refuse what cannot be a set.

    Raises:
        JobError: fewer than two volumes, a label twice, letters that differ.
    """
    if len(volumes) < 2:
        raise JobError("a set of fewer than two volumes", remedy="give two or more")
    labels: list[str] = []
    for place, (label, job) in enumerate(volumes, 1):
        if not isinstance(label, str) or not label.strip():
            raise FieldError("no label", value=label, where=f"volume {place}: label")
        if label in labels:
            raise FieldError(
                "two volumes of one label",
                value=label,
                where=f"volume {place}: label",
                remedy="give each its own",
            )
        labels.append(label)
        _same_letters(volumes[0][1], job, place)
    readings = []
    for place, (_label, job) in enumerate(volumes, 1):
        with volume_fault(place):
            readings.append(resolve(job).lettering.reading)
        if readings[-1] is not readings[0]:
            raise FieldError(
                "volumes of a set read the same way along the back",
                value=readings[-1],
                where=f"volume {place}: reading",
                remedy="give --reading, or one market for all",
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


def _same_letters(first: Job, other: Job, place: int) -> None:
    for field in fields(Lettering):
        if field.name in _OWN:
            continue
        mine, theirs = getattr(first.lettering, field.name), getattr(other.lettering, field.name)
        if mine != theirs:
            name = _OPTION.get(field.name, field.name)
            raise FieldError(
                f"volumes of a set share their {name}",
                value=theirs,
                where=f"volume {place}: {name}",
                remedy="give it once for all volumes",
            )
