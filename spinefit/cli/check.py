"""Does this title fit this back? The command ``spinefit check``.

In: a title and options, or a job file, or both, the options having the last word. Out: the
report as text, JSON or a checklist, complete before it is written, and 0 where it fits, 1
where it does not. The stages are loaded once the job has been read without fault.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from spinefit.cli import output
from spinefit.cli.options import (
    GroupedCommand,
    chosen_format,
    format_option,
    job_options,
    parameter_of,
)
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import FIELDS, assemble, option_place

if TYPE_CHECKING:
    from spinefit.report.model import Report

__all__ = ["check"]

_FORMATS = ("text", "json", "checklist")


@click.command(cls=GroupedCommand)
@click.argument("title", metavar="[TITLE]", nargs=-1)
@job_options
@click.option("--job", "job_file", metavar="FILE", help="A TOML file with title and options.")
@format_option(*_FORMATS)
def check(title: tuple[str, ...], job_file: str | None, format_name: str, **options: Any) -> int:
    """Check whether TITLE fits: how large, in which lines, which way.

    Give the width of the back, or a panel. Lengths: 9mm, 0.9cm, 3/8in, 24pt. What is assumed
    without an option stands in brackets. Exit code 0: it fits; 1: it does not; 2: the input is
    at fault.
    """
    form = chosen_format(format_name, _FORMATS)
    words, values, place = _said(title, job_file, options)
    job = assemble(words, values, place=place)
    from spinefit import pipeline

    try:
        report = pipeline.check(job, verify=True)
    except SpinefitError as fault:
        raise _placed(fault, place) from None
    _write(report, form)
    return 0 if report.fits else 1


def _said(
    title: tuple[str, ...], job_file: str | None, options: dict[str, Any]
) -> tuple[str, dict[str, object], Callable[[str], str]]:
    """The title, the values, and where each of them was said."""
    if len(title) > 1:
        raise FieldError(
            "more than one title", value=" ".join(title), where="TITLE",
            remedy="put a title of several words in quotes",
        )  # fmt: skip
    typed = {
        field.name: options[parameter_of(field.name)]
        for field in FIELDS
        if options[parameter_of(field.name)] not in (None, ())
    }
    in_file: dict[str, object] = {}
    file_title: str | None = None
    if job_file is not None:
        from spinefit.job.read import read_job_file

        file_title, in_file = read_job_file(job_file)

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


def _write(report: Report, form: str) -> None:
    if form == "json":
        from spinefit.report.as_json import to_json

        output.write_json(to_json(report))
    elif form == "checklist":
        from spinefit.report.checklist import to_markdown

        output.write_text(to_markdown(report))
    else:
        from spinefit.report.terminal import render

        text = render(report, columns=output.columns(), colour=output.colour_wanted())
        output.write_text(text)
