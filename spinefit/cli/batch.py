"""Do the books of a table fit? The command ``spinefit batch``.

In: a CSV or JSON Lines file, or standard input, and options that hold for rows which do not say
otherwise. Out: a result a row, in their order, as the rows are done (`batch_run`). Exit code 2
where a row is at fault, else 1 where a book does not fit. What was asked for and cannot be is
refused before a row is read.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import click

from spinefit.cli import output
from spinefit.cli.batch_run import Request, run
from spinefit.cli.faults import OF_PROGRAMS, leave
from spinefit.cli.files import make_folder
from spinefit.cli.house import tell
from spinefit.cli.jobs import GroupedCommand, takes_fields
from spinefit.cli.options import SPOT_HELP, fail_on_option, format_option
from spinefit.cli.several import each, files_in, is_folder, refuse_for_several
from spinefit.cli.tables import STDIN, opened_table, shown_name, takes_table
from spinefit.errors import FaultsAt, FieldError, JobError, SpinefitError, reason_of
from spinefit.job import lengths
from spinefit.job.fields import FIELDS, assemble, option_place
from spinefit.job.house import House
from spinefit.say.screen import Screen, columns, on_terminal, screen

if TYPE_CHECKING:
    from spinefit.batch.model import Settings, TableOptions
    from spinefit.batch.reading import Table
    from spinefit.cli.artwork import ArtworkFolder
    from spinefit.plan import Pattern

_FILE_COLUMNS = 100  # of a text table in a file, which has no terminal's width
_FORMATS = ("csv", "jsonl", "text", "html", "xlsx", "junit")
_ENDINGS = {
    "": "csv", ".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".txt": "text",
    ".html": "html", ".htm": "html", ".xlsx": "xlsx", ".xml": "junit",
}  # fmt: skip
_SHOWN = (".csv", ".jsonl", ".txt", ".html", ".xlsx", ".xml")
_MOST_JOBS = 256
_BAD_INPUT = 2
_LOOKED_UP = (  # the same for any book
    "market", "language", "method", "method-file", "font", "tools",
)  # fmt: skip


@click.command(cls=GroupedCommand)
@click.argument("table", metavar="FILE...", nargs=-1)
@takes_fields
@click.option(
    "--keep", multiple=True, metavar="COLUMN",
    help="Carry a column along to the results; all for every one, as typed. [id, isbn, "
    "shelfmark, barcode, note]",
)  # fmt: skip
@takes_table
@click.option(
    "--patterns", metavar="FOLDER",
    help="Saved patterns, FOLDER/NAME.toml, that rows with that name in a column 'serial' match.",
)  # fmt: skip
@click.option("--slash-breaks", is_flag=True, help="Let ' / ' in a title force a line break.")
@click.option("--verify", is_flag=True, help="Have the geometry engine confirm every size.")
@format_option(*_FORMATS, usual="by the ending of --output; text on a terminal, else csv")
@fail_on_option
@click.option(
    "--sort", metavar="COLUMNS",
    help="Sort the results by columns of theirs or of the table, such as method,size or -size, "
    "rows at fault last. Volumes of a set are sorted like other rows. All are held until the last "
    "one is there; what they are sorted by, some hundred bytes a row, is kept in memory.",
)  # fmt: skip
@click.option("--bom", is_flag=True, help="Begin CSV with a byte order mark, as UTF-8.")
@click.option(
    "--output",
    metavar="FILE",
    help="Write there, whole or not at all; into a folder (found/) as NAME.csv, or by --format.",
)
@click.option(
    "--artwork",
    metavar="FOLDER",
    help="The lettering of each row that fits, alone and as outlines, as a .pdf of exactly the "
    "size of its back, label or panel, named by line and title; as of 'spinefit check'.",
)
@click.option("--spot", metavar="NAME", help=SPOT_HELP)
@click.option(
    "--force", is_flag=True,
    help="Replace the files of --output and --artwork, and begin afresh.",
)  # fmt: skip
@click.option("--resume", is_flag=True, help="Go on from FILE.partial of an interrupted run.")
@click.option("--jobs", metavar="N", help="Processes at work. [one a core]")
def batch(
    table: tuple[str, ...],
    keep: tuple[str, ...],
    how: TableOptions,
    jobs: str | None,
    typed: Mapping[str, object],
    **options: Any,
) -> int:
    """Check every book of FILE: CSV, TSV, JSON Lines or .xlsx; - reads standard input.

    Of several files each is answered as text; with --output FOLDER/ it has a file of its own.

    The first line names the columns: title, width or panel, and any option below. Further
    texts of the back: author, subtitle, volume, date, imprint. Consecutive rows with the same
    'set' are volumes that match; 'apart' (yes or no) says which goes its own way. A row with a
    'serial' is held against the pattern saved for it, as by 'spinefit check --match'. Options
    given here hold for rows that do not say otherwise; fonts, tools and method files named in a
    row are looked for beside FILE.
    Exit code 0: every book fits; 1: one does not, or --fail-on has a finding count; 2: a row or
    the input is at fault, or it was stopped.
    """
    how = how._replace(keep=keep)
    if not all(name.strip() for name in table or ("",)):
        raise FieldError(
            "no table given", where="FILE",
            remedy="such as: spinefit batch books.csv; - reads a pipe",
        )  # fmt: skip
    into = options["output"]
    if into is not None and is_folder(into):
        form = options["form"] or "csv"
        files = files_in(into, table, _SHOWN[_FORMATS.index(form)])
        if len(table) > 1:
            refuse_for_several({"artwork": options["artwork"]})

        def to_file(name: str) -> int:
            own = {**options, "form": form, "output": files[name]}
            return _one_table(name, how, jobs, typed, own, folder=into)

        return each(table, "", to_file)
    if len(table) == 1:
        return _one_table(table[0], how, jobs, typed, options)
    if into is not None or options["form"] not in (None, "text"):
        raise FieldError(
            "the results of several tables go into a folder", value=into or options["form"],
            where="--format" if into is None else "--output",
            remedy="give --output FOLDER/, and each table has a file of its own there",
        )  # fmt: skip
    refuse_for_several(options)
    on_screen = {**options, "form": "text"}
    return each(table, "text", lambda name: _one_table(name, how, jobs, typed, on_screen))


def _one_table(
    name: str,
    how: TableOptions,
    jobs: str | None,
    typed: Mapping[str, object],
    options: Mapping[str, Any],
    *,
    folder: str | None = None,
) -> int:
    """Let the books of one table be done, and say the exit code.

    Where they would go into a file that programs read, a fault of the table stands there instead.
    """
    asked = {key: options[key] for key in ("output", "force", "resume")}
    request = Request(**asked, artwork=_artwork(options), jobs=_jobs_of(jobs))
    form, path = _chosen_form(options["form"], request.output), request.output
    _refuse_idle_files(request, name, form)
    try:
        return _done(name, how, typed, options, request, form, folder)
    except JobError as fault:
        of_options = fault.where.startswith("-")
        begun = path is not None and os.path.lexists(f"{path}.partial")  # --resume goes on from it
        if path is None or form not in OF_PROGRAMS or of_options or begun:
            raise
        if folder is not None:
            make_folder(folder, "--output")
        output.complain(str(fault))
        leave(fault, form, shown_name(name), path, force=request.force)
        return _BAD_INPUT


def _done(
    name: str,
    how: TableOptions,
    typed: Mapping[str, object],
    options: Mapping[str, Any],
    request: Request,
    form: str,
    folder: str | None,
) -> int:
    house: House = options["house"]
    defaults = _checked_defaults(typed, house)
    patterns = _patterns(options["patterns"])
    keep = (*(how.keep or ()), "all") if form == "xlsx" else how.keep  # all its columns stay
    with opened_table(name, "FILE", how._replace(keep=keep)) as (read, stream):
        settings = _settings(read, form, options)._replace(
            defaults=defaults,
            artwork=request.artwork is not None,
            patterns=patterns,
            house=house._replace(file=os.path.basename(house.file)),  # results are handed on
            table=shown_name(name) if form == "junit" else "",
        )
        if form == "xlsx" and not how.keep:
            _say_passed_over(read)
        if form != "text" or request.output is not None:  # which says it at its foot
            tell(house.in_words(typed))
        if folder is not None:
            make_folder(folder, "--output")
        return run(read, settings, request, name, stream)


def _say_passed_over(read: Table) -> None:
    """Say which columns of a workbook say nothing to the check, since a name may be a slip."""
    from spinefit.batch.columns import CARRIED, earlier_answers, plain_name

    heading = read.style.heading
    said = {*earlier_answers(heading), *(at for at, one in enumerate(read.meanings) if one)}
    names = [name for at, name in enumerate(heading) if at not in said and name.strip()]
    found = [name for name in names if plain_name(name) not in CARRIED]
    if found:
        output.complain(f"columns kept that say nothing to the check: {', '.join(found)}")


def _settings(read: Table, form: str, options: Mapping[str, Any]) -> Settings:
    """What holds for every row of a table.

    Raises:
        FieldError: no such columns to sort by, or a byte order mark where none can stand.
    """
    from spinefit.batch.columns import MEASURES, further_texts
    from spinefit.batch.held import columns_to_sort_by
    from spinefit.batch.model import Settings, TableStyle

    style = read.style if form in (read.style.kind, "xlsx") else TableStyle()
    if options["bom"]:
        if form != "csv":
            raise FieldError("no byte order mark but in CSV", value=form, where="--bom")
        utf = style.encoding if style.encoding.startswith("utf") else "utf-8"
        style = style._replace(marked=True, encoding=utf)
    named = [*zip(read.style.heading, read.meanings, strict=True)]
    texts = further_texts(read.meanings)
    if "set" in read.meanings and options["slash_breaks"] and "volume" not in texts:
        texts = (*texts, "volume")  # a number that stands apart from its title
    settings = Settings(
        form=form,
        kept=read.kept,
        titled=any(meaning == "title" and name in read.kept for name, meaning in named),
        texts=texts,
        measures=tuple(name for name, meaning in named if meaning in MEASURES),
        style=style,
        slash_breaks=options["slash_breaks"],
        verify=options["verify"],
        screen=screen()._replace(columns=columns())
        if options["output"] is None
        else Screen(_FILE_COLUMNS),
        spot=options["spot"],
        fail_on=options["fail_on"],
    )
    if options["sort"] is None:
        return settings
    return settings._replace(sort=columns_to_sort_by(options["sort"], settings, dict(named)))


def _refuse_idle_files(request: Request, name: str, form: str) -> None:
    """Refuse options about files that say nothing here, or would do harm.

    Raises:
        FieldError: --force or --resume without a file, or both; a workbook without one; or the
            table as its own result.
    """
    for option, given in (
        ("--force", request.force and request.artwork is None),
        ("--resume", request.resume),
    ):
        if given and request.output is None:
            raise FieldError("no file to go with it", where=option, remedy="give --output FILE")
    if request.force and request.resume:
        raise FieldError(
            "begun afresh and resumed at once", where="--resume", remedy="leave out one of the two"
        )
    if form == "xlsx" and request.output is None:
        raise FieldError(
            "a workbook goes into a file", where="--format", remedy="give --output books.xlsx"
        )
    if request.output is not None and name != STDIN and _same_file(request.output, name):
        raise FieldError(
            "the results would replace the table", value=request.output, where="--output",
            remedy="choose another name",
        )  # fmt: skip


def _artwork(options: Mapping[str, Any]) -> ArtworkFolder | None:
    """The folder for artwork, refused at once where it cannot be one."""
    if options["spot"] is None and options["artwork"] is None:
        return None
    from spinefit.cli.artwork import ArtworkFolder, refuse_spot

    if options["spot"] is not None:
        refuse_spot(options["spot"], options["artwork"] is not None)
    return ArtworkFolder(options["artwork"], shared=options["force"] or options["resume"])


def _patterns(folder: str | None) -> Mapping[str, Pattern]:
    """The saved patterns of a folder, read at once, so that all rows have the same.

    Raises:
        FieldError: no such folder, or no pattern in it.
        JobError: a file of it that is no pattern.
    """
    if folder is None:
        return {}
    from spinefit.plan.pattern import read_pattern

    try:
        files = [os.path.splitext(name) for name in sorted(os.listdir(folder))]
    except (OSError, ValueError) as fault:
        raise FieldError(
            f"no folder that can be read ({reason_of(fault)})", value=folder, where="--patterns",
            remedy="name the folder in which the patterns are",
        ) from None  # fmt: skip
    found = [(name, end) for name, end in files if end.casefold() == ".toml" and name[0] != "."]
    if not found:
        raise FieldError(
            "no pattern, as NAME.toml, in the folder", value=folder, where="--patterns",
            remedy="'spinefit check --save-pattern NAME.toml' saves one",
        )  # fmt: skip
    return {name: read_pattern(os.path.join(folder, f"{name}{end}")) for name, end in found}


def _same_file(one: str, other: str) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):
        return False


def _jobs_of(typed: str | None) -> int:
    """How many processes: one for each core this one may use, where nothing was said.

    Raises:
        FieldError: no such number.
    """
    if typed is None:
        try:
            return min(len(os.sched_getaffinity(0)), _MOST_JOBS)
        except AttributeError:  # a system that binds no processes to cores
            return min(os.cpu_count() or 1, _MOST_JOBS)
    try:
        found = lengths.parse_count(typed)
    except SpinefitError:
        found = 0
    if not 1 <= found <= _MOST_JOBS:
        raise FieldError(
            "not a number of processes", value=typed, where="--jobs",
            remedy=f"give 1 to {_MOST_JOBS}",
        )  # fmt: skip
    return found


def _chosen_form(typed: str | None, path: str | None) -> str:
    """The form of the results: as asked for, by the file's ending, or as the screen has it.

    Raises:
        FieldError: there is none of such an ending.
    """
    if typed is not None:
        return typed
    if path is not None:
        ending = os.path.splitext(path)[1].casefold()
        if ending in _ENDINGS:
            return _ENDINGS[ending]
        raise FieldError(
            "no results of such an ending", value=path, where="--output",
            remedy=f"let it end in {', '.join(_SHOWN)}, or say --format",
        )  # fmt: skip
    return "text" if on_terminal() else "csv"


def _checked_defaults(typed: Mapping[str, object], house: House) -> Mapping[str, object]:
    """The fields said on the command line, refused at once where no row could have them.

    So is what a house says, which is told.
    """
    for field in FIELDS:
        if field.name in typed:
            with FaultsAt(option_place(field.name)):
                value = field.kind.read(typed[field.name])
                if value is not None:
                    field.kind.check(value, option_place(field.name))
    try:
        looked_up = {name: value for name, value in typed.items() if name in _LOOKED_UP}
        job = assemble("A", {**looked_up, "panel": "100x100mm"}, house=house)
        if looked_up or house.values:
            from spinefit.job.resolve import resolve

            resolve(job)
        if job.lettering.font is not None and job.lettering.tools is None:
            from spinefit.shaping.fontfile import open_font

            open_font(job.lettering.font)
    except SpinefitError as fault:
        raise house.placed(fault, typed) from None
    return typed
