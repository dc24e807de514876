"""What is drawn for the bench beside the answer? ``spinefit worksheet``, ``spinefit recess``.

In: a title and the options of a check, or a job file. Out: of a worksheet, where each letter
goes, a paper pattern as PDF or the places as text or JSON; of a recess, how it is cut, as SVG or
PDF, of a label on the front board the board with it on a page of its own. A file is written
whole or not at all; 0, or 1 where it does not fit and nothing is drawn, save by force a recess.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from spinefit.asked import JobRequest
from spinefit.cli import output
from spinefit.cli.files import refuse_existing, write_whole
from spinefit.cli.house import tell
from spinefit.cli.jobs import GroupedCommand, takes_job
from spinefit.cli.options import format_option
from spinefit.errors import FaultsAt, FieldError, OutputError
from spinefit.job.lengths import parse_choice
from spinefit.say.page import Page, wrapped
from spinefit.say.phrasing import grave, visible
from spinefit.say.screen import screen

if TYPE_CHECKING:
    from spinefit.drawing.scene import Scene
    from spinefit.drawing.worksheet_places import Worksheet
    from spinefit.pipeline import Answer

_FORMATS = ("text", "json")
_PITCHES = ("proportional", "equal")
_METHOD, _ON_LABEL = "hand-letters", "paper-label"


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
@format_option(*_FORMATS, usual="text")
def worksheet(
    request: JobRequest,
    pitch: str,
    paper: str | None,
    output_file: str | None,
    force: bool,
    form: str | None,
) -> int:
    """Say where each letter of TITLE is struck, and draw the paper pattern for it.

    For hand letters and type: a space counts as a letter, and places are counted from the
    middle. Options are those of check. Exit code 0: done; 1: the title does not fit; 2: the
    input is at fault.
    """
    equal, pitch_mm = _pitch(pitch)
    if output_file is not None:
        _refuse_output(output_file, (".pdf",), "a worksheet is a PDF", "pattern.pdf", force=force)
    answers, why_not = _answers(request)
    if why_not:
        output.write_text(wrapped(why_not, screen()))
        return 1
    if form == "json" and len(answers) > 1:
        raise FieldError(
            "JSON tells of one text", value=form, where="--format",
            remedy="take text, or give a job file with one text",
        )  # fmt: skip
    from spinefit.drawing.worksheet_places import worksheet_of
    from spinefit.drawing.worksheet_words import refusal_in_words

    found = [worksheet_of(one, pitch_mm=pitch_mm, equal=equal) for one in answers]
    refused = [refusal_in_words(one) for one in found if not one.fits]
    if refused:
        output.write_text("".join(wrapped(one, screen()) for one in refused))
        return 1
    if form != "json":
        keys = () if output_file is None or paper else ("paper",)
        tell(request.house.in_words(request.typed, _METHOD, keys))
    pages = [0] * len(found)
    if output_file is not None:
        on = paper or request.house.sheet.get("paper")
        pages = _draw(found, None if on is None else str(on), output_file, force=force)
    for number, (one, count) in enumerate(zip(found, pages, strict=True)):
        if number:
            output.write_text("\n")
        _write(one, form, output_file, count)
    return 0


def _answers(request: JobRequest) -> tuple[list[Answer], str]:
    """The answer to the title or label, or to each text of a back, and why it does not fit."""
    tables = request.tables()
    if tables is None or not tables.texts or tables.volumes or tables.are_of_a_label(request.typed):
        described = request.described(request.one_job(tables))
        answer = described.answered(described.job(method=_METHOD))
        return [answer], "" if answer.report.fits else answer.report.answer
    from spinefit.asked import planned
    from spinefit.pipeline import answer_of
    from spinefit.say.plan_model import BackReport

    usual = request.house.usual((*tables.values, *request.typed), _METHOD)
    request = request._replace(typed={**request.typed, **usual})
    plan = planned(request, tables)
    assert isinstance(plan, BackReport)  # there are no volumes
    answers = [answer_of(one.judged, one.report) for one in plan.texts]
    return answers, "" if plan.fits else plan.answer


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


def _draw(found: list[Worksheet], paper: str | None, path: str, *, force: bool) -> list[int]:
    """Draw the pattern of each text in one file, and say on how many pages."""
    from spinefit.drawing.pdf import to_pdf
    from spinefit.drawing.worksheet import worksheet_scenes

    scenes = [worksheet_scenes(one, paper=paper) for one in found]
    every = [page for pages in scenes for page in pages]
    write_whole(path, to_pdf(every), "--output", force=force)
    return [len(pages) for pages in scenes]


def _write(found: Worksheet, form: str | None, file: str | None, pages: int) -> None:
    """The worksheet on the screen; beside its pattern only what to mind, unless it was asked for.

    Args:
        found: the worksheet.
        form: text or json where one was asked for.
        file: the file of its pattern, where there is one.
        pages: how many that has.
    """
    from spinefit.drawing.worksheet_words import to_json, to_text

    if form == "json":
        output.write_utf8(to_json(found, file))
        return
    whole = file is None or form is not None
    output.write_text(to_text(found, screen(), file=file, pages=pages, whole=whole))


@click.command(cls=GroupedCommand)
@takes_job(method=_ON_LABEL)
@click.option(
    "--output", "output_file", metavar="FILE", required=True, help="FILE.svg or FILE.pdf to draw."
)
@click.option(
    "--force", is_flag=True,
    help="Replace the file of --output; draw, with a warning, what should not be cut so too.",
)  # fmt: skip
def recess(request: JobRequest, output_file: str, force: bool) -> int:
    """Draw how the recess for a label with TITLE is cut.

    The opening and the pressing piece at true size, a section through the board, and for a
    label on the front board (PDF) the board with the label in its place. Options are those of
    check. Exit code 0: drawn; 1: the title does not fit, or the recess would spoil the board;
    2: the input is at fault.
    """
    _refuse_output(
        output_file, (".svg", ".pdf"), "a drawing is SVG or PDF", "recess.pdf", force=force
    )
    request = request._replace(typed={**request.typed, "recess": "yes"})
    described = request.described(request.one_job())
    job = described.job()
    answer = described.answered(job)
    tell(request.house.in_words(request.typed, _ON_LABEL))
    if not (answer.report.fits or answer.judgement.shown.fits_uncut):
        output.write_text(wrapped(answer.report.answer, screen()))
        return 1
    from spinefit.drawing.recess import recess_scene

    draws = answer.report.fits or force
    if draws:
        _draw_recess(answer, recess_scene(answer), output_file, force=force)
    _say_recess(answer, output_file if draws else None)
    return int(not answer.report.fits)


def _draw_recess(answer: Answer, scene: Scene, path: str, *, force: bool) -> None:
    """The drawing of a recess, on paper with pages the front board too."""
    if path.lower().endswith(".svg"):
        from spinefit.drawing.svg import to_svg

        write_whole(path, to_svg(scene), "--output", force=force)
        return
    from spinefit.drawing.front_board import board_scene
    from spinefit.drawing.pdf import to_pdf

    scenes = [scene, *([] if answer.judgement.board_place is None else [board_scene(answer)])]
    write_whole(path, to_pdf(scenes), "--output", force=force)


def _say_recess(answer: Answer, file: str | None) -> None:
    """Whether the recess may be cut so, what was drawn and where, and what to mind."""
    recess = answer.report.recess
    assert recess is not None  # one was asked for
    page = Page(screen())
    if not answer.report.fits:
        page.paragraph(visible(answer.report.answer), "bold red")
    if file is None:
        page.paragraph("Nothing was drawn; --force draws it as it stands, with these warnings.")
    else:
        page.paragraph(f"{visible(file)}: {recess.text}.")
    page.heading("Mind")
    for warning in grave(answer.report):
        page.row(str(warning.level), warning.text, style="yellow")
    page.bulleted(answer.report.cautions)
    output.write_text(page.text())


def _refuse_output(
    path: str, endings: tuple[str, ...], fault: str, example: str, *, force: bool
) -> None:
    """A file that cannot be written is refused before anything is worked out."""
    if not path.lower().endswith(endings):
        raise OutputError(fault, value=path, where="--output", remedy=f"such as {example}")
    if not force:
        refuse_existing(path, "--output")
