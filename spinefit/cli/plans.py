"""What does ``spinefit check --job`` do with several texts, several volumes, or a pattern?

In: the tables of a job file and the options typed beside it, or a job and a pattern's file.
Out: the plan as text, JSON, checklists or JUnit XML, a pattern saved, and the exit code.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import NamedTuple

from spinefit.backs import match_set, matched_back, pattern_of, plan_back, plan_backs, plan_set
from spinefit.cli import output
from spinefit.cli.files import Finished, write_all
from spinefit.cli.options import Wanted
from spinefit.cli.outcome import written_by
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import option_place
from spinefit.job.model import Job
from spinefit.job.read import JobTables
from spinefit.pipeline import Answer, answer_of
from spinefit.plan import Pattern
from spinefit.plan.job_file import back_plan, backs_of, volumes_of
from spinefit.plan.pattern import pattern_text, read_pattern
from spinefit.say.failing import fails
from spinefit.say.model import Report
from spinefit.say.plan_model import BackReport, BacksReport, PlanReport
from spinefit.say.plan_text import render

__all__ = ["Saving", "check_tables", "matched", "pattern_to_save"]


class Saving(NamedTuple):
    """Where a pattern is to be saved."""

    path: str


def check_tables(
    file: str,
    tables: JobTables,
    typed: Mapping[str, object],
    wanted: Wanted,
    patterns: tuple[Saving | None, str | None],
) -> int:
    """Plan the back or the set of a job file, write the answer and say the exit code.

    Args:
        file: the job file's name.
        tables: what stands in it.
        typed: options of the command line, which have the last word.
        wanted: in which form, and which findings count.
        patterns: where to save a set's pattern, and the file of one that is to be matched.
    """
    saving, match_file = patterns
    report: PlanReport
    try:
        pattern = None if match_file is None else read_pattern(match_file)
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
    files: list[Finished] = []
    if saving is not None:
        files += _finished(pattern_of(report) if report.fits else None, saving)
    if wanted.drawings:
        from spinefit.cli.drawings import drawn
        from spinefit.drawing.plate import subject_of_plan

        files += drawn(subject_of_plan(report), wanted.drawings)
    write = written_by(report, wanted, partial(render, report))
    write_all(files, force=wanted.force)
    write()
    return int(fails(report, wanted.fail_on))


def matched(job: Job, file: str, place: Callable[[str], str]) -> Answer:
    """The next volume judged by the pattern of a file.

    Args:
        job: the volume.
        file: the pattern's file.
        place: where the value of a field came from, for messages.
    """
    pattern = read_pattern(file)
    try:
        text = matched_back(job, pattern).texts[0]
        return answer_of(text.judged, text.report)
    except SpinefitError as fault:
        if fault.where.startswith("--"):
            fault.where = place(fault.where.removeprefix("--"))
        elif fault.where == "TITLE":
            fault.where = place("title")
        raise


def pattern_to_save(report: Report, job: Job, saving: Saving) -> list[Finished]:
    """The file of one job's pattern; none of what does not fit."""
    return _finished(pattern_of(report, job) if report.fits else None, saving)


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
            "a title beside several texts",
            value=tables.title,
            where=f"{file}: title",
            remedy='give it as a text of its own, with role = "title"',
        )


def _finished(pattern: Pattern | None, saving: Saving) -> list[Finished]:
    if pattern is None:
        output.complain("no pattern saved: what does not fit is none")
        return []
    return [Finished(saving.path, pattern_text(pattern), "--save-pattern")]
