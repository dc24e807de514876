"""Do the books of a table fit? The command ``spinefit batch``.

In: a CSV or JSON Lines file, or standard input, and options that hold for rows which do not say
otherwise. Out: a result a row, in their order, as the rows are done; a line on standard error
for every row at fault. Exit code 2 where a row is at fault, else 1 where a book does not fit.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import click

from spinefit.cli.batch_options import (
    Asked,
    checked_defaults,
    chosen_form,
    jobs_of,
    one_table,
    refuse_idle_files,
)
from spinefit.cli.jobs import GroupedCommand, takes_fields
from spinefit.cli.tables import opened_table
from spinefit.say.screen import Screen, columns, screen

__all__ = ["batch"]

_FILE_COLUMNS = 100  # of a text table in a file, which has no terminal's width


@click.command(cls=GroupedCommand)
@click.argument("table", metavar="FILE", nargs=-1)
@takes_fields
@click.option(
    "--keep", multiple=True, metavar="COLUMN",
    help="Carry a column along to the results; all for every one. [id, isbn, shelfmark, barcode, "
    "note]",
)  # fmt: skip
@click.option("--slash-breaks", is_flag=True, help="Let ' / ' in a title force a line break.")
@click.option("--verify", is_flag=True, help="Have the geometry engine confirm every size.")
@click.option(
    "--format", "format_name", metavar="FORMAT",
    help="csv, jsonl, text or html. [by the ending of --output; text on a terminal, else csv]",
)  # fmt: skip
@click.option("--output", metavar="FILE", help="Write there, whole or not at all.")
@click.option("--force", is_flag=True, help="Replace the file of --output, and begin afresh.")
@click.option("--resume", is_flag=True, help="Go on from FILE.partial of an interrupted run.")
@click.option("--jobs", metavar="N", help="Processes at work. [one a core]")
def batch(
    table: tuple[str, ...],
    keep: tuple[str, ...],
    jobs: str | None,
    typed: Mapping[str, object],
    **options: Any,
) -> int:
    """Check every book of FILE: CSV, TSV or JSON Lines; - reads standard input.

    The first line names the columns: title, width or panel, and any option below. Further
    texts of the back: author, subtitle, volume, date, imprint. Consecutive rows with the same
    'set' are volumes that match. Options given here hold for rows that do not say otherwise;
    fonts, tools and method files named in a row are looked for beside FILE.
    Exit code 0: every book fits; 1: one does not; 2: a row or the input is at fault, or it was
    stopped.
    """
    name = one_table(table)
    asked = Asked(options["output"], options["force"], options["resume"], jobs_of(jobs))
    refuse_idle_files(asked, name)
    form = chosen_form(options["format_name"], asked.output)
    defaults = checked_defaults(typed)
    with opened_table(name, "FILE", keep) as (read, stream):
        from spinefit.batch.model import Settings
        from spinefit.cli.batch_run import run

        settings = Settings(
            form=form,
            kept=read.kept,
            defaults=defaults,
            slash_breaks=options["slash_breaks"],
            verify=options["verify"],
            screen=screen()._replace(columns=columns())
            if asked.output is None
            else Screen(_FILE_COLUMNS),
        )
        return run(read, settings, asked, name, stream)
