"""Which job do a command line and a job file describe?

In: a title, the options of a job as typed, and a job file's name. Out: the `Job`, the options
having the last word, and for every value the place where it was said, so that a fault found
by a later stage is told where it can be mended.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from spinefit.cli.options import parameter_of
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import FIELDS, assemble, option_place

if TYPE_CHECKING:
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables
    from spinefit.pipeline import Answer

__all__ = [
    "answered",
    "job_of",
    "one_title_of",
    "placed",
    "said_of",
    "tables_of",
    "typed_fields",
]


def job_of(
    title: tuple[str, ...], job_file: str | None, options: Mapping[str, Any]
) -> tuple[Job, Callable[[str], str]]:
    """The one job that was described, and where each of its values was said.

    Args:
        title: the words given for it, at most one.
        job_file: a job file's name, or None.
        options: what click found, by parameter.

    Raises:
        SpinefitError: no title, several texts or volumes, or a value that cannot be.
    """
    typed, in_file = typed_fields(options), one_title_of(job_file)
    words, values, place = said_of(title, job_file, in_file, typed)
    return assemble(words, values, place=place), place


def answered(job: Job, place: Callable[[str], str]) -> Answer:
    """The answer to a job with what a drawing needs, verified, faults told at their place."""
    from spinefit import pipeline

    try:
        return pipeline.answer(job, verify=True)
    except SpinefitError as fault:
        raise placed(fault, place) from None


def typed_fields(options: Mapping[str, Any]) -> dict[str, object]:
    """The options of a job that were typed, by field."""
    found = {field.name: options[parameter_of(field.name)] for field in FIELDS}
    return {name: value for name, value in found.items() if value not in (None, ())}


def tables_of(job_file: str | None) -> JobTables | None:
    """What stands in a job file, where one is named."""
    if job_file is None:
        return None
    from spinefit.job.read import read_job_tables

    return read_job_tables(job_file)


def one_title_of(job_file: str | None) -> tuple[str | None, dict[str, object]]:
    """The title and the values of a job file that has one title, where one is named."""
    if job_file is None:
        return None, {}
    from spinefit.job.read import read_job_file

    return read_job_file(job_file)


def said_of(
    title: tuple[str, ...],
    job_file: str | None,
    in_file: tuple[str | None, Mapping[str, object]],
    typed: Mapping[str, object],
    *,
    example: str = "check 'The Harbour Light' --width 13mm",
) -> tuple[str, dict[str, object], Callable[[str], str]]:
    """The title, the values, and where each of them was said.

    Args:
        title: the words given for it, at most one.
        job_file: a job file's name, or None.
        in_file: the title and the values that stand in it.
        typed: the options that were typed, which have the last word.
        example: how a title is given, for the message where there is none.

    Raises:
        FieldError: no title, or more than one.
    """
    if len(title) > 1:
        raise FieldError(
            "more than one title", value=" ".join(title), where="TITLE",
            remedy="put a title of several words in quotes",
        )  # fmt: skip
    file_title, file_values = in_file

    def place(name: str) -> str:
        said_here = bool(title) if name == "title" else name in typed or name not in file_values
        return option_place(name) if said_here or job_file is None else f"{job_file}: {name}"

    words = title[0] if title else file_title
    if words is None:
        raise FieldError(
            "no title given", where=job_file or "TITLE",
            remedy=f"such as: spinefit {example}",
        )  # fmt: skip
    return words, {**file_values, **typed}, place


def placed(fault: SpinefitError, place: Callable[[str], str]) -> SpinefitError:
    """The fault of a later stage, at the job file's line where the value stood there."""
    by_option = {option_place(name): name for name in ("title", *(f.name for f in FIELDS))}
    if fault.where in by_option:
        fault.where = place(by_option[fault.where])
    return fault
