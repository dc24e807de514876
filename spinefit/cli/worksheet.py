"""Where does each letter go? The command ``spinefit worksheet``.

In: a title and the options of a check, or a job file. Out: a paper pattern as PDF, whole or not
at all, or the places of the letters as text or JSON on standard output; 0, or 1 where the
title does not fit and nothing is drawn.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from spinefit.cli import output
from spinefit.cli.files import refuse_existing, write_whole
from spinefit.cli.jobs import GroupedCommand, JobRequest, takes_job
from spinefit.cli.options import chosen_format
from spinefit.errors import FaultsAt, FieldError, OutputError
from spinefit.job.lengths import parse_choice
from spinefit.say.page import wrapped
from spinefit.say.screen import screen

if TYPE_CHECKING:
    from spinefit.drawing.worksheet_places import Worksheet

__all__ = ["worksheet"]

_FORMATS = ("text", "json")
_PITCHES = ("proportional", "equal")
_METHOD = "hand-letters"


@click.command(cls=GroupedCommand)
@takes_job(method=_METHOD)
@click.option(
    "--pitch",
    metavar="PITCH",
    default="proportional",
    help="proportional, as checked; equal, all middles as far apart as the widest letters need; "
    "or a distance such as 4mm. [proportional]",
)
@click.option(
    "--paper",
    metavar="PAPER",
    help="A5, A4, A3, A2, A1, Letter, Tabloid or WxH. [A4, or A3 where it is needed]",
)
@click.option("--output", "output_file", metavar="FILE.pdf", help="Where to write the pattern.")
@click.option("--force", is_flag=True, help="Replace the file of --output.")
@click.option(
    "--format", "format_name", metavar="FORMAT", help="text or json on standard output. [text]"
)
def worksheet(
    request: JobRequest,
    pitch: str,
    paper: str | None,
    output_file: str | None,
    force: bool,
    format_name: str | None,
) -> int:
    """Say where each letter of TITLE is struck, and draw the paper pattern for it.

    For hand letters and type: a space counts as a letter, and places are counted from the
    middle. Options are those of check. Exit code 0: done; 1: the title does not fit; 2: the
    input is at fault.
    """
    form = None if format_name is None else chosen_format(format_name, _FORMATS)
    equal, pitch_mm = _pitch(pitch)
    if output_file is not None:
        _refuse_output(output_file, force=force)
    described = request.described(request.one_title())
    answer = described.answered(described.job(method=_METHOD))
    if not answer.report.fits:
        output.write_text(wrapped(answer.report.answer, screen()))
        return 1
    from spinefit.drawing.worksheet_places import worksheet_of
    from spinefit.drawing.worksheet_words import excess_in_words

    found = worksheet_of(answer, pitch_mm=pitch_mm, equal=equal)
    if not found.fits:
        output.write_text(wrapped(excess_in_words(found), screen()))
        return 1
    if output_file is not None:
        _draw(found, paper, output_file, force=force)
    if form is not None or output_file is None:
        _write(found, form or "text")
    return 0


def _pitch(typed: str) -> tuple[bool, float | None]:
    """Whether all letters have one pitch, and how long it is where that was said."""
    from spinefit.job.kinds import LENGTH

    with FaultsAt("--pitch"):
        if any(char.isnumeric() for char in typed):
            return True, LENGTH.check(LENGTH.read(typed), "--pitch")
        try:
            return parse_choice(typed, _PITCHES) == "equal", None
        except FieldError as fault:
            fault.remedy += ", or give a distance such as 4mm"
            raise


def _refuse_output(path: str, *, force: bool) -> None:
    """A file that cannot be written is refused before anything is worked out."""
    if not path.lower().endswith(".pdf"):
        raise OutputError(
            "a worksheet is a PDF", value=path, where="--output", remedy="such as pattern.pdf"
        )
    if not force:
        refuse_existing(path, "--output")


def _draw(found: Worksheet, paper: str | None, path: str, *, force: bool) -> None:
    from spinefit.drawing.pdf import to_pdf
    from spinefit.drawing.worksheet import worksheet_scenes

    write_whole(path, to_pdf(worksheet_scenes(found, paper=paper)), "--output", force=force)


def _write(found: Worksheet, form: str) -> None:
    from spinefit.drawing.worksheet_words import to_json, to_text

    if form == "json":
        output.write_utf8(to_json(found))
    else:
        output.write_text(to_text(found, screen()))
