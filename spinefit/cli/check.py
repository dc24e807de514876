"""Does this title, or this plan of several, fit its back? The command ``spinefit check``.

In: a title and options, or a job file, or both, the options having the last word; or several job
files. Out: the report as text, JSON, checklist or JUnit XML, complete before it is written, and 0
where it fits, 1 where it does not, or where ``--fail-on`` has findings count. The stages are
loaded once the job has been read without fault; the planner only where a file has several texts
or volumes, or there is a pattern to match.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial, wraps
from typing import TYPE_CHECKING, Any

import click

from spinefit.asked import JobRequest, answered, planned
from spinefit.cli import output
from spinefit.cli.jobs import GroupedCommand, takes_job
from spinefit.cli.options import Wanted, answer_options, give, wanted_of
from spinefit.errors import FieldError
from spinefit.say.screen import Screen, picture_can_be_shown

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from spinefit.drawing.plate import Subject
    from spinefit.job.read import JobTables
    from spinefit.pipeline import Answer


_OF_SEVERAL = ("text", "checklist", "junit")  # forms that can hold several answers


def _takes_job_files(command: Callable[..., int]) -> Callable[..., int]:
    """Give ``check`` the option that makes its titles the names of job files."""

    @wraps(command)
    def with_files(
        title: tuple[str, ...], job_file: str | None, job_files: bool, **options: Any
    ) -> int:
        if not job_files:
            return command(title=title, job_file=job_file, **options)
        if not title:
            raise FieldError(
                "no job files to go with it", where="--job-files",
                remedy="such as: spinefit check --job-files jobs/*.toml",
            )  # fmt: skip
        for option, given in (("--job", job_file is not None), ("--watch", options["watch"])):
            if given:
                raise FieldError(
                    "it is of one job file", where=option, remedy="leave out this or --job-files"
                )
        from spinefit.cli.several import each, each_in_junit, refuse_for_several

        form = options["form"]
        if form not in _OF_SEVERAL:
            raise FieldError(
                "several files are answered as text, checklist or junit", value=form,
                where="--format", remedy="take one of these, or give one file at a time",
            )  # fmt: skip
        refuse_for_several(options)

        def one(name: str, suites: list[Element] | None = None) -> int:
            return command(title=(), job_file=name, **options, suites=suites)

        return each_in_junit(title, one) if form == "junit" else each(title, form, one)

    return click.option(
        "--job-files", is_flag=True,
        help="TITLE is the name of a job file, or of several: each is answered below its name, or "
        "with --format junit as a suite of one document.",
    )(with_files)  # fmt: skip


@click.command(cls=GroupedCommand)
@_takes_job_files
@takes_job(
    file_help="A TOML file with title and options, with [[text]] or with [[volume]] tables; files "
    "named in it lie beside it."
)
@click.option(
    "--watch", is_flag=True,
    help="Answer again whenever the file of --job or of the house changes, or a font, tools or a "
    "method file that they name; drawings are replaced. Ctrl-C ends it, with exit code 0.",
)  # fmt: skip
@answer_options
def check(request: JobRequest, watch: bool, **options: Any) -> int:
    """Check whether TITLE fits: how large, in which lines, which way.

    Give the width of the back, or a panel. Lengths: 9mm, 0.9cm, 3/8in, 24pt. What is assumed
    without an option stands in brackets. Exit code 0: it fits; 1: it does not; 2: the input is
    at fault.
    """
    if watch:
        from spinefit.cli.watch import watched

        return watched(request, options, _check)
    return _check(request, wanted_of(options))


def _check(request: JobRequest, wanted: Wanted) -> int:
    """The answer to a job as it is wanted, and the exit code."""
    wanted = wanted._replace(of=request.file or "")
    tables = request.tables()
    several = tables is not None and (tables.texts or tables.volumes)
    if tables is not None and several and not tables.are_of_a_label(request.typed):
        return _check_tables(request, tables, wanted)
    described = request.described(tables)
    job = described.job()
    answer = answered(described, job, wanted.match_file)
    return give(
        answer.report,
        wanted,
        text=partial(_text, answer, wanted),
        subject=partial(_subject, answer),
        job=job,
    )


def _subject(answer: Answer) -> Subject:
    from spinefit.drawing.plate import subject_of

    return subject_of(answer)


def _text(answer: Answer, wanted: Wanted, shown: Screen) -> str:
    from spinefit.say.terminal import render

    picture = _picture(answer, wanted, shown)
    return render(answer.report, shown, picture=picture, why=wanted.why)


def _picture(answer: Answer, wanted: Wanted, shown: Screen) -> tuple[str, ...]:
    """The lettering in its panel, where it is wanted and can be shown."""
    if wanted.picture is False or (wanted.picture is None and not picture_can_be_shown()):
        return ()
    from spinefit.drawing.picture import picture

    found = picture(answer, columns=shown.columns)
    if wanted.picture and not found:
        output.complain("no picture: the lettering is too long and low for this screen")
    return found


def _check_tables(request: JobRequest, tables: JobTables, wanted: Wanted) -> int:
    """Several texts on one back, or a set: planned, given, and the exit code."""
    from spinefit.drawing.plate import subject_of_plan
    from spinefit.say.plan_text import render

    report = planned(request, tables, wanted.match_file)
    return give(
        report,
        wanted,
        text=partial(render, report, why=wanted.why),
        subject=partial(subject_of_plan, report),
    )
