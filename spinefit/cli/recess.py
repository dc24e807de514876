"""How is the recess for a label cut? The command ``spinefit recess``.

In: a title and the options of a check, or a job file. Out: the cutting drawing as SVG or PDF,
whole or not at all, of a label on the front board the board with it, on a page of its own; 0,
or 1 where the title does not fit and nothing is drawn.
"""

from __future__ import annotations

from dataclasses import replace

import click

from spinefit.cli import output
from spinefit.cli.files import refuse_existing, write_whole
from spinefit.cli.jobs import GroupedCommand, JobRequest, takes_job
from spinefit.errors import OutputError
from spinefit.job.model import Recess
from spinefit.pipeline import Answer
from spinefit.say.page import Page, wrapped
from spinefit.say.screen import screen

__all__ = ["recess"]

_ENDINGS = (".svg", ".pdf")


@click.command(cls=GroupedCommand)
@takes_job(method="paper-label")
@click.option(
    "--output", "output_file", metavar="FILE", required=True, help="FILE.svg or FILE.pdf to draw."
)
@click.option("--force", is_flag=True, help="Replace the file of --output.")
def recess(request: JobRequest, output_file: str, force: bool) -> int:
    """Draw how the recess for a label with TITLE is cut.

    The opening and the pressing piece at true size, a section through the board, and for a
    label on the front board (PDF) the board with the label in its place. Options are those of
    check. Exit code 0: drawn; 1: the title does not fit; 2: the input is at fault.
    """
    if not output_file.lower().endswith(_ENDINGS):
        raise OutputError(
            "a drawing is SVG or PDF", value=output_file, where="--output",
            remedy="such as recess.pdf",
        )  # fmt: skip
    if not force:
        refuse_existing(output_file, "--output")
    described = request.described(request.one_title())
    job = described.job()
    job = replace(job, recess=replace(job.recess or Recess(), wanted=True))
    answer = described.answered(job)
    if not answer.report.fits:
        output.write_text(wrapped(answer.report.answer, screen()))
        return 1
    from spinefit.drawing.recess import recess_scene

    scene = recess_scene(answer)
    if output_file.lower().endswith(".svg"):
        from spinefit.drawing.svg import to_svg

        write_whole(output_file, to_svg(scene), "--output", force=force)
        return _told(answer)
    from spinefit.drawing.front_board import board_scene
    from spinefit.drawing.pdf import to_pdf

    scenes = [scene, *([] if answer.judgement.board_place is None else [board_scene(answer)])]
    write_whole(output_file, to_pdf(scenes), "--output", force=force)
    return _told(answer)


def _told(answer: Answer) -> int:
    """What was drawn, in a sentence, and what to mind."""
    recess = answer.report.recess
    assert recess is not None  # one was asked for
    page = Page(screen())
    page.paragraph(recess.text)
    page.heading("Mind")
    page.bulleted(recess.cautions)
    output.write_text(page.text())
    return 0
