"""What does ``spinefit check --job`` do with several texts, several volumes, or a pattern?

In: the tables of a job file and the options typed beside it, or a job and a pattern's file.
Out: the plan as text, JSON, checklists or JUnit XML, a pattern saved, and the exit code.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import NamedTuple

from spinefit import pipeline
from spinefit.cli import output
from spinefit.cli.files import Finished, write_all
from spinefit.cli.options import Wanted
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import option_place
from spinefit.job.model import Job
from spinefit.job.read import JobTables
from spinefit.pipeline import Answer
from spinefit.plan import (
    BackReport,
    BacksReport,
    Pattern,
    SetReport,
    match_set,
    plan_back,
    plan_backs,
    plan_set,
)
from spinefit.plan.job_file import back_plan, backs_of, volumes_of
from spinefit.plan.pattern import match_job, pattern_of
from spinefit.plan.pattern_file import pattern_text, read_pattern
from spinefit.say.model import Report
from spinefit.say.screen import screen

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
    if match_file is not None and (tables.texts or tables.are_backs):
        raise FieldError(
            "a pattern is of one text", where="--match", remedy="match each title by itself"
        )
    report: BackReport | BacksReport | SetReport
    try:
        if tables.are_backs:
            report = _backs(file, tables, typed, saving)
        elif tables.texts:
            report = _back(file, tables, typed, saving)
        else:
            volumes = volumes_of(
                tables.title, tables.values, tables.volumes, file=file, typed=typed
            )
            if match_file is None:
                report = plan_set(volumes)
            else:
                report = match_set(volumes, read_pattern(match_file))
    except SpinefitError as fault:
        if fault.where.startswith(("text ", "volume ")):
            fault.where = f"{file}: {fault.where}"
        raise fault.at(file) from None
    files: list[Finished] = []
    if saving is not None and isinstance(report, SetReport):
        files += _finished(report.pattern, saving)
    if wanted.drawings:
        from spinefit.cli.drawings import drawn
        from spinefit.drawing.plate import subject_of_plan

        files += drawn(subject_of_plan(report), wanted.drawings)
    say = _said_in(report, wanted)
    write_all(files, force=wanted.force)
    say()
    if wanted.fail_on is None:
        return 0 if report.fits else 1
    from spinefit.cli.outcome import exit_code

    return exit_code(report, wanted.fail_on)


def matched(job: Job, file: str, place: Callable[[str], str]) -> Answer:
    """The next volume judged by the pattern of a file.

    Args:
        job: the volume.
        file: the pattern's file.
        place: where the value of a field came from, for messages.
    """
    pattern = read_pattern(file)
    try:
        own, report = match_job(job, pattern)
        return pipeline.answer(own)._replace(report=report)
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
    file: str, tables: JobTables, typed: Mapping[str, object], saving: Saving | None
) -> BackReport:
    _refuse_beside_texts(file, tables, saving)

    def place(name: str) -> str:
        in_file = name in tables.values and name not in typed
        return f"{file}: {name}" if in_file else option_place(name)

    plan = back_plan({**tables.values, **typed}, tables.texts, file=file, place=place)
    try:
        return plan_back(plan)
    except SpinefitError as fault:
        if fault.where.startswith("--"):
            fault.where = place(fault.where.removeprefix("--"))
        raise


def _backs(
    file: str, tables: JobTables, typed: Mapping[str, object], saving: Saving | None
) -> BacksReport:
    _refuse_beside_texts(file, tables, saving)
    return plan_backs(backs_of(tables.values, tables.texts, tables.volumes, file=file, typed=typed))


def _refuse_beside_texts(file: str, tables: JobTables, saving: Saving | None) -> None:
    if saving is not None:
        raise FieldError(
            "a pattern is of one text",
            where="--save-pattern",
            remedy="save it from the title's own check, or from a set",
        )
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


def _said_in(report: BackReport | BacksReport | SetReport, wanted: Wanted) -> Callable[[], None]:
    """What writes the finished text."""
    if wanted.form == "json":
        from spinefit.plan.as_json import to_json

        return partial(output.write_utf8, to_json(report))
    if wanted.form == "checklist":
        from spinefit.plan.checklist import to_checklist

        return partial(output.write_text, to_checklist(report))
    if wanted.form == "junit":
        from spinefit.plan.junit import to_junit

        return partial(output.write_utf8, to_junit(report, wanted.fail_on))
    from spinefit.plan.text import render

    text = render(report, screen())
    return partial(output.write_text, text)
