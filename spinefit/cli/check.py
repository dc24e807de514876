"""Does this title fit this back? The command ``spinefit check``.

In: a title and options, or a job file, or both, the options having the last word. Out: the
report as text, JSON, checklist or JUnit XML, complete before it is written, and 0 where it
fits, 1 where it does not, or where ``--fail-on`` has findings count. The stages are loaded
once the job has been read without fault; several texts, sets and patterns are for `cli.plans`.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import click

from spinefit.cli import output
from spinefit.cli.jobs import Described, GroupedCommand, JobRequest, takes_job
from spinefit.cli.options import Wanted, answer_options, give, wanted_of
from spinefit.errors import FieldError
from spinefit.say.screen import Screen, picture_can_be_shown

if TYPE_CHECKING:
    from spinefit.drawing.plate import Subject
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables
    from spinefit.pipeline import Answer

__all__ = ["check"]


@click.command(cls=GroupedCommand)
@takes_job(
    file_help="A TOML file with title and options, with [[text]] or with [[volume]] tables; files "
    "named in it lie beside it."
)
@answer_options
def check(request: JobRequest, **options: Any) -> int:
    """Check whether TITLE fits: how large, in which lines, which way.

    Give the width of the back, or a panel. Lengths: 9mm, 0.9cm, 3/8in, 24pt. What is assumed
    without an option stands in brackets. Exit code 0: it fits; 1: it does not; 2: the input is
    at fault.
    """
    wanted = wanted_of(options)
    tables = request.tables()
    if tables is not None and (tables.texts or tables.volumes):
        return _check_tables(request, tables, wanted)
    described = request.described((None, {}) if tables is None else (tables.title, tables.values))
    job = described.job()
    answer = _answered(described, job, wanted.match_file)
    return give(
        answer.report,
        wanted,
        text=partial(_text, answer, wanted),
        subject=partial(_subject, answer),
        job=job,
    )


def _check_tables(request: JobRequest, tables: JobTables, wanted: Wanted) -> int:
    """Several texts on one back, or a set."""
    assert request.file is not None  # where there are tables there is their file
    if request.title is not None:
        raise FieldError(
            "a title beside a job file with several texts or volumes", value=request.title,
            where="TITLE", remedy="change it in the file",
        )  # fmt: skip
    from spinefit.cli.plans import check_tables

    return check_tables(request.file, tables, request.typed, wanted)


def _answered(described: Described, job: Job, match_file: str | None) -> Answer:
    if match_file is None:
        return described.answered(job)
    from spinefit.cli.plans import matched

    return matched(described, job, match_file)


def _subject(answer: Answer) -> Subject:
    from spinefit.drawing.plate import subject_of

    return subject_of(answer)


def _text(answer: Answer, wanted: Wanted, shown: Screen) -> str:
    from spinefit.say.terminal import render

    return render(answer.report, shown, picture=_picture(answer, wanted, shown))


def _picture(answer: Answer, wanted: Wanted, shown: Screen) -> tuple[str, ...]:
    """The lettering in its panel, where it is wanted and can be shown."""
    if wanted.picture is False or (wanted.picture is None and not picture_can_be_shown()):
        return ()
    from spinefit.drawing.picture import picture

    found = picture(answer, columns=shown.columns)
    if wanted.picture and not found:
        output.complain("no picture: the lettering is too long and low for this screen")
    return found
