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
from spinefit.cli.options import (
    Wanted,
    chosen_fail_on,
    chosen_format,
    drawing_options,
    fail_on_option,
    format_option,
)
from spinefit.errors import FieldError
from spinefit.say.screen import Screen, encoding, picture_can_be_shown, shows_unicode

if TYPE_CHECKING:
    from spinefit.cli.plans import Saving
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables
    from spinefit.pipeline import Answer

__all__ = ["check"]

_FORMATS = ("text", "json", "checklist", "junit")


@click.command(cls=GroupedCommand)
@takes_job(
    file_help="A TOML file with title and options, with [[text]] or with [[volume]] tables; files "
    "named in it lie beside it."
)
@click.option(
    "--save-pattern",
    "pattern_file",
    metavar="FILE",
    help="Save size, lines, font and heights for the next volume of a set to match.",
)
@click.option(
    "--match",
    "match_file",
    metavar="FILE",
    help="Judge by a saved pattern: nothing is solved, and what differs is said.",
)
@drawing_options
@format_option(*_FORMATS)
@fail_on_option
def check(
    request: JobRequest, pattern_file: str | None, match_file: str | None, **options: Any
) -> int:
    """Check whether TITLE fits: how large, in which lines, which way.

    Give the width of the back, or a panel. Lengths: 9mm, 0.9cm, 3/8in, 24pt. What is assumed
    without an option stands in brackets. Exit code 0: it fits; 1: it does not; 2: the input is
    at fault.
    """
    wanted = _wanted(options)
    saving = _saving(pattern_file, match_file, wanted)
    _refuse_drawings(wanted, pattern_file)
    tables = request.tables()
    if tables is not None and (tables.texts or tables.volumes):
        return _check_tables(request, tables, wanted, (saving, match_file))
    described = request.described((None, {}) if tables is None else (tables.title, tables.values))
    job = described.job()
    answer, files = _answered(described, job, match_file), []
    if saving is not None:
        from spinefit.cli.plans import pattern_to_save

        files += pattern_to_save(answer.report, job, saving)
    if wanted.drawings:
        from spinefit.cli.drawings import drawn
        from spinefit.drawing.plate import subject_of

        files += drawn(subject_of(answer), wanted.drawings)
    from spinefit.cli.outcome import written_by
    from spinefit.say.failing import fails

    write = written_by(answer.report, wanted, partial(_as_text, answer, wanted))
    if files:
        from spinefit.cli.files import write_all

        write_all(files, force=wanted.force)
    write()
    return int(fails(answer.report, wanted.fail_on))


def _wanted(options: dict[str, Any]) -> Wanted:
    """How the answer is to be given, out of the options that are no fields of a job."""
    wanted = Wanted(
        chosen_format(options["format_name"], _FORMATS),
        chosen_fail_on(options["fail_on"]),
        options["drawings"],
        options["force"],
        options["picture"],
    )
    if wanted.picture and wanted.form != "text":
        raise FieldError(
            "a picture stands in the text only", value=wanted.form, where="--picture",
            remedy="leave out --format",
        )  # fmt: skip
    if wanted.picture and not shows_unicode():
        raise FieldError(
            "this terminal cannot show a picture", value=encoding(), where="--picture",
            remedy="set it to UTF-8, or draw into a file with --drawing",
        )  # fmt: skip
    return wanted


def _refuse_drawings(wanted: Wanted, pattern_file: str | None) -> None:
    if wanted.drawings:
        from spinefit.cli.drawings import refuse_names

        others = [] if pattern_file is None else [(pattern_file, "--save-pattern")]
        refuse_names(wanted.drawings, others, force=wanted.force)


def _saving(pattern_file: str | None, match_file: str | None, wanted: Wanted) -> Saving | None:
    """Where to save a pattern, refused before anything is worked out."""
    if pattern_file is None:
        if wanted.force and not wanted.drawings:
            raise FieldError(
                "nothing to replace", where="--force",
                remedy="it goes with --drawing and --save-pattern",
            )  # fmt: skip
        return None
    if match_file is not None:
        raise FieldError(
            "a pattern both matched and saved", where="--save-pattern",
            remedy="what matches has that pattern already",
        )  # fmt: skip
    from spinefit.cli.files import refuse_existing
    from spinefit.cli.plans import Saving

    if not wanted.force:
        refuse_existing(pattern_file, "--save-pattern")
    return Saving(pattern_file)


def _check_tables(
    request: JobRequest,
    tables: JobTables,
    wanted: Wanted,
    patterns: tuple[Saving | None, str | None],
) -> int:
    """Several texts on one back, or a set."""
    assert request.file is not None  # where there are tables there is their file
    if request.title is not None:
        raise FieldError(
            "a title beside a job file with several texts or volumes", value=request.title,
            where="TITLE", remedy="change it in the file",
        )  # fmt: skip
    from spinefit.cli.plans import check_tables

    return check_tables(request.file, tables, request.typed, wanted, patterns)


def _answered(described: Described, job: Job, match_file: str | None) -> Answer:
    if match_file is None:
        return described.answered(job)
    from spinefit.cli.plans import matched

    return matched(job, match_file, described.place)


def _as_text(answer: Answer, wanted: Wanted, shown: Screen) -> str:
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
