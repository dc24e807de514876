"""What does ``spinefit check --job`` do with several texts, several volumes, or a pattern?

In: the tables of a job file and the options typed beside it, or a job and a pattern's file.
Out: the plan, given as `spinefit.cli.options` gives every answer, and the exit code.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from spinefit.backs import match_set, matched_back, plan_back, plan_backs, plan_set
from spinefit.cli.jobs import Described
from spinefit.cli.options import Wanted, give
from spinefit.drawing.plate import subject_of_plan
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import option_place
from spinefit.job.model import Job
from spinefit.job.read import JobTables
from spinefit.pipeline import Answer, answer_of
from spinefit.plan import Pattern
from spinefit.plan.model import back_plan, backs_of, volumes_of
from spinefit.plan.pattern import read_pattern
from spinefit.say.plan_model import BackReport, BacksReport, PlanReport
from spinefit.say.plan_text import render

__all__ = ["check_tables", "matched"]


def check_tables(file: str, tables: JobTables, typed: Mapping[str, object], wanted: Wanted) -> int:
    """Plan the back or the set of a job file, write the answer and say the exit code.

    Args:
        file: the job file's name.
        tables: what stands in it.
        typed: options of the command line, which have the last word.
        wanted: in which form, which findings count, and which pattern is to be matched or saved.
    """
    report: PlanReport
    try:
        pattern = None if wanted.match_file is None else read_pattern(wanted.match_file)
        if tables.are_backs:
            report = _backs(file, tables, typed, pattern)
        elif tables.texts:
            report = _back(file, tables, typed, pattern)
        else:
            volumes = volumes_of(
                tables.title, tables.values, tables.volumes, file=file, typed=typed
            )
            report = plan_set(volumes) if pattern is None else match_set(volumes, pattern)
    except SpinefitError as fault:
        if fault.where.startswith(("text ", "volume ")):
            fault.where = f"{file}: {fault.where}"
        raise fault.at(file) from None
    return give(
        report,
        wanted,
        text=partial(render, report),
        subject=partial(subject_of_plan, report),
    )


def matched(described: Described, job: Job, file: str) -> Answer:
    """The next volume judged by the pattern of a file.

    Args:
        described: what was said of the volume, for messages.
        job: the volume.
        file: the pattern's file.
    """
    pattern = read_pattern(file)
    try:
        text = matched_back(job, pattern).texts[0]
        return answer_of(text.judged, text.report)
    except SpinefitError as fault:
        raise described.placed(fault) from None


def _back(
    file: str, tables: JobTables, typed: Mapping[str, object], pattern: Pattern | None
) -> BackReport:
    _refuse_title(file, tables)

    def place(name: str) -> str:
        in_file = name in tables.values and name not in typed
        return f"{file}: {name}" if in_file else option_place(name)

    plan = back_plan({**tables.values, **typed}, tables.texts, file=file, place=place)
    try:
        return plan_back(plan, pattern=pattern)
    except SpinefitError as fault:
        if fault.where.startswith("--"):
            fault.where = place(fault.where.removeprefix("--"))
        raise


def _backs(
    file: str, tables: JobTables, typed: Mapping[str, object], pattern: Pattern | None
) -> BacksReport:
    _refuse_title(file, tables)
    volumes = backs_of(tables.values, tables.texts, tables.volumes, file=file, typed=typed)
    return plan_backs(volumes, pattern=pattern)


def _refuse_title(file: str, tables: JobTables) -> None:
    if tables.title is not None:
        raise FieldError(
            "a title beside several texts", value=tables.title, where=f"{file}: title",
            remedy='give it as a text of its own, with role = "title"',
        )  # fmt: skip
