"""Does this title fit this back? The command ``spinefit check``.

In: a title and options, or a job file, or both, the options having the last word. Out: the
report as text, JSON, checklist or JUnit XML, complete before it is written, and 0 where it
fits, 1 where it does not, or where ``--fail-on`` has findings count. The stages are loaded
once the job has been read without fault; several texts, sets and patterns are for `cli.plans`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from spinefit.cli import output
from spinefit.cli.options import (
    GroupedCommand,
    Wanted,
    chosen_fail_on,
    chosen_format,
    fail_on_option,
    format_option,
    job_options,
    parameter_of,
)
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import FIELDS, assemble, option_place

if TYPE_CHECKING:
    from spinefit.cli.plans import Saving
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables
    from spinefit.report.model import Report

__all__ = ["check"]

_FORMATS = ("text", "json", "checklist", "junit")


@click.command(cls=GroupedCommand)
@click.argument("title", metavar="[TITLE]", nargs=-1)
@job_options
@click.option(
    "--job",
    "job_file",
    metavar="FILE",
    help="A TOML file with title and options, with [[text]] or with [[volume]] tables.",
)
@click.option(
    "--save-pattern",
    "pattern_file",
    metavar="FILE",
    help="Save size, lines, font and heights for the next volume of a set to match.",
)
@click.option("--force", is_flag=True, help="Replace the file of --save-pattern.")
@click.option(
    "--match",
    "match_file",
    metavar="FILE",
    help="Judge by a saved pattern: nothing is solved, and what differs is said.",
)
@format_option(*_FORMATS)
@fail_on_option
def check(
    title: tuple[str, ...],
    job_file: str | None,
    format_name: str,
    fail_on: str | None,
    pattern_file: str | None,
    force: bool,
    match_file: str | None,
    **options: Any,
) -> int:
    """Check whether TITLE fits: how large, in which lines, which way.

    Give the width of the back, or a panel. Lengths: 9mm, 0.9cm, 3/8in, 24pt. What is assumed
    without an option stands in brackets. Exit code 0: it fits; 1: it does not; 2: the input is
    at fault.
    """
    wanted = Wanted(chosen_format(format_name, _FORMATS), chosen_fail_on(fail_on))
    saving = _saving(pattern_file, match_file, force=force)
    typed = {
        field.name: options[parameter_of(field.name)]
        for field in FIELDS
        if options[parameter_of(field.name)] not in (None, ())
    }
    tables = _tables(job_file)
    if tables is not None and (tables.texts or tables.volumes):
        return _check_tables(title, job_file, tables, typed, wanted, (saving, match_file))
    words, values, place = _said(title, job_file, tables, typed)
    job = assemble(words, values, place=place)
    report = _checked(job, match_file, place)
    if saving is not None:
        from spinefit.cli.plans import save_pattern

        save_pattern(report, job, saving)
    _write(report, wanted)
    return _code(report, wanted)


def _code(report: Report, wanted: Wanted) -> int:
    if wanted.fail_on is None:
        return 0 if report.fits else 1
    from spinefit.cli.outcome import exit_code

    return exit_code(report, wanted.fail_on)


def _saving(pattern_file: str | None, match_file: str | None, *, force: bool) -> Saving | None:
    """Where to save a pattern, refused before anything is worked out."""
    if pattern_file is None:
        if force:
            raise FieldError(
                "nothing to replace", where="--force", remedy="it goes with --save-pattern"
            )
        return None
    if match_file is not None:
        raise FieldError(
            "a pattern both matched and saved", where="--save-pattern",
            remedy="what matches has that pattern already",
        )  # fmt: skip
    from spinefit.cli.files import refuse_existing
    from spinefit.cli.plans import Saving

    if not force:
        refuse_existing(pattern_file, "--save-pattern")
    return Saving(pattern_file, force)


def _tables(job_file: str | None) -> JobTables | None:
    if job_file is None:
        return None
    from spinefit.job.read import read_job_tables

    return read_job_tables(job_file)


def _check_tables(
    title: tuple[str, ...],
    job_file: str | None,
    tables: JobTables,
    typed: dict[str, object],
    wanted: Wanted,
    patterns: tuple[Saving | None, str | None],
) -> int:
    """Several texts on one back, or a set."""
    assert job_file is not None  # where there are tables there is their file
    if title:
        raise FieldError(
            "a title beside a job file with several texts or volumes", value=title[0],
            where="TITLE", remedy="change it in the file",
        )  # fmt: skip
    from spinefit.cli.plans import check_tables

    return check_tables(job_file, tables, typed, wanted, patterns)


def _checked(job: Job, match_file: str | None, place: Callable[[str], str]) -> Report:
    if match_file is not None:
        from spinefit.cli.plans import matched

        return matched(job, match_file, place)
    from spinefit import pipeline

    try:
        return pipeline.check(job, verify=True)
    except SpinefitError as fault:
        raise _placed(fault, place) from None


def _said(
    title: tuple[str, ...],
    job_file: str | None,
    tables: JobTables | None,
    typed: dict[str, object],
) -> tuple[str, dict[str, object], Callable[[str], str]]:
    """The title, the values, and where each of them was said."""
    if len(title) > 1:
        raise FieldError(
            "more than one title", value=" ".join(title), where="TITLE",
            remedy="put a title of several words in quotes",
        )  # fmt: skip
    in_file = {} if tables is None else tables.values
    file_title = None if tables is None else tables.title

    def place(name: str) -> str:
        said_here = bool(title) if name == "title" else name in typed or name not in in_file
        return option_place(name) if said_here or job_file is None else f"{job_file}: {name}"

    words = title[0] if title else file_title
    if words is None:
        raise FieldError(
            "no title given", where=job_file or "TITLE",
            remedy="such as: spinefit check 'The Harbour Light' --width 13mm",
        )  # fmt: skip
    return words, {**in_file, **typed}, place


def _placed(fault: SpinefitError, place: Callable[[str], str]) -> SpinefitError:
    """The fault of a later stage, at the job file's line where the value stood there."""
    by_option = {option_place(name): name for name in ("title", *(f.name for f in FIELDS))}
    if fault.where in by_option:
        fault.where = place(by_option[fault.where])
    return fault


def _write(report: Report, wanted: Wanted) -> None:
    if wanted.form == "json":
        from spinefit.report.as_json import to_json

        output.write_utf8(to_json(report))
    elif wanted.form == "checklist":
        from spinefit.report.checklist import to_markdown

        output.write_text(to_markdown(report))
    elif wanted.form == "junit":
        from spinefit.report.junit import to_junit

        output.write_utf8(to_junit(report, wanted.fail_on))
    else:
        from spinefit.report.terminal import render

        text = render(report, columns=output.columns(), colour=output.colour_wanted())
        output.write_text(text)
