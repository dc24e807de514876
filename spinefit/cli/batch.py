"""Do the books of a table fit? The command ``spinefit batch``.

In: a CSV or JSON Lines file, or standard input, and options that hold for rows which do not say
otherwise. Out: a result a row, in their order, as the rows are done; a line on standard error
for every row at fault. Exit code 2 where a row is at fault, else 1 where a book does not fit.
What was asked for and cannot be is refused before a row is read; Ctrl-C and a request to end
let the rows at hand be written first.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from enum import Enum, auto
from typing import IO, TYPE_CHECKING, Any, NamedTuple

import click

from spinefit.cli import output
from spinefit.cli.jobs import STDIN, GroupedCommand, opened_table, shown_name, takes_fields
from spinefit.cli.options import SPOT_HELP, chosen_format
from spinefit.errors import FaultsAt, FieldError, SpinefitError
from spinefit.job import lengths
from spinefit.job.fields import FIELDS, assemble, option_place
from spinefit.say.screen import Screen, columns, on_terminal, screen

if TYPE_CHECKING:
    from spinefit.batch.model import Settings
    from spinefit.batch.progress import Journal, Mark
    from spinefit.batch.reading import Table
    from spinefit.cli.artwork import ArtworkFolder
    from spinefit.cli.batch_output import Sink

_BAD_ROW, _NO_FIT = 2, 1
_FILE_COLUMNS = 100  # of a text table in a file, which has no terminal's width
_FORMATS = ("csv", "jsonl", "text", "html")
_ENDINGS = {
    "": "csv", ".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".txt": "text",
    ".html": "html", ".htm": "html",
}  # fmt: skip
_SHOWN = (".csv", ".jsonl", ".txt", ".html")
_MOST_JOBS = 256
_LOOKED_UP = ("market", "language", "method", "method-file")  # the same for any title and back


class _Request(NamedTuple):
    """How a batch is to be run and where its results go."""

    output: str | None
    artwork: ArtworkFolder | None
    force: bool
    resume: bool
    jobs: int


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
    jobs: str | None,
    typed: Mapping[str, object],
    **options: Any,
) -> int:
    """Check every book of FILE: CSV, TSV or JSON Lines; - reads standard input.

    The first line names the columns: title, width or panel, and any option below. Further
    texts of the back: author, subtitle, volume, date, imprint. Consecutive rows with the same
    'set' are volumes that match; 'apart' (yes or no) says which goes its own way. Options given
    here hold for rows that do not say otherwise; fonts, tools and method files named in a row are
    looked for beside FILE.
    Exit code 0: every book fits; 1: one does not; 2: a row or the input is at fault, or it was
    stopped.
    """
    name = _one_table(table)
    asked = {key: options[key] for key in ("output", "force", "resume")}
    request = _Request(**asked, artwork=_artwork(options), jobs=_jobs_of(jobs))
    _refuse_idle_files(request, name)
    form = _chosen_form(options["format_name"], request.output)
    defaults = _checked_defaults(typed)
    with opened_table(name, "FILE", keep) as (read, stream):
        from spinefit.batch.model import Settings

        settings = Settings(
            form=form,
            kept=read.kept,
            defaults=defaults,
            slash_breaks=options["slash_breaks"],
            verify=options["verify"],
            screen=screen()._replace(columns=columns())
            if request.output is None
            else Screen(_FILE_COLUMNS),
            artwork=request.artwork is not None,
            spot=options["spot"],
        )
        return _run(read, settings, request, name, stream)


def _one_table(table: tuple[str, ...]) -> str:
    """The one table that was named.

    Raises:
        FieldError: none was, or several.
    """
    if len(table) == 1 and table[0].strip():
        return table[0]
    if len(table) > 1:
        raise FieldError("more than one table", value=table[1], where="FILE", remedy="give one")
    raise FieldError(
        "no table given", where="FILE", remedy="such as: spinefit batch books.csv; - reads a pipe"
    )


def _refuse_idle_files(request: _Request, name: str) -> None:
    """Refuse options about files that say nothing here, or would do harm.

    Raises:
        FieldError: --force or --resume without a file, or both, or the table as its own result.
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
        FieldError: there is no such form, or none of such an ending.
    """
    if typed is not None:
        return chosen_format(typed, _FORMATS)
    if path is not None:
        ending = os.path.splitext(path)[1].casefold()
        if ending in _ENDINGS:
            return _ENDINGS[ending]
        raise FieldError(
            "no results of such an ending", value=path, where="--output",
            remedy=f"let it end in {', '.join(_SHOWN)}, or say --format",
        )  # fmt: skip
    return "text" if on_terminal() else "csv"


def _checked_defaults(typed: Mapping[str, object]) -> Mapping[str, object]:
    """The fields said on the command line, refused at once where no row could have them."""
    for field in FIELDS:
        if field.name in typed:
            with FaultsAt(option_place(field.name)):
                value = field.kind.read(typed[field.name])
                if value is not None:
                    field.kind.check(value, option_place(field.name))
    looked_up = {name: value for name, value in typed.items() if name in _LOOKED_UP}
    if looked_up:
        from spinefit.job.resolve import resolve

        resolve(assemble("A", {**looked_up, "panel": "100x100mm"}))
    if "font" in typed:
        from spinefit.shaping.fontfile import open_font

        open_font(str(typed["font"]))
    if "tools" in typed:
        assemble("A", {"tools": typed["tools"], "panel": "100x100mm"})
    return typed


def _run(read: Table, settings: Settings, request: _Request, name: str, stream: IO[bytes]) -> int:
    """Let every row be done, and say the exit code.

    Args:
        read: the table.
        settings: what holds for every row.
        request: where the results go, and how many processes are at work.
        name: the table's name as it was typed.
        stream: its bytes, for how far it is read.

    Raises:
        SpinefitError: the result cannot be written, or gone on with.
    """
    from spinefit.batch.progress import Journal
    from spinefit.batch.writing import foot_of

    sink, mark = _sink(settings, request)
    journal = Journal(mark, shown_name(name))
    try:
        with _Stop() as stop, _bar(name, stream, request) as show:
            end = _rows(read, settings, request, (journal, sink), (stop, show))
            if end is _End.WHOLE:
                sink.write(foot_of(settings, journal.mark.counts, journal.mark.hazards))
    except SpinefitError:
        with suppress(SpinefitError):  # the first fault is the one to tell
            sink.keep()
        raise
    if end is _End.STOPPED:
        sink.keep()
        kept = f"; {request.output}.partial has them, --resume goes on" if request.output else ""
        output.complain(f"stopped after {journal.mark.rows} rows{kept}")
        return _BAD_ROW
    if end is _End.UNREAD:
        return _BAD_ROW  # nobody may take the rest for fitting
    sink.finish()
    if request.artwork is not None:
        output.complain(request.artwork.said)
    return _code(journal.mark)


class _End(Enum):
    """How the rows came to an end."""

    WHOLE = auto()
    STOPPED = auto()
    UNREAD = auto()


def _rows(
    read: Table,
    settings: Settings,
    request: _Request,
    to: tuple[Journal, Sink],
    watch: tuple[_Stop, Callable[[int], None]],
) -> _End:
    """Write the head, where there is none yet, and every row."""
    from spinefit.batch import pool, work, writing
    from spinefit.batch.work import Done

    (journal, sink), (stop, show) = to, watch
    if not journal.mark.written_bytes:
        mark = _BYTE_ORDER_MARK if read.marked and settings.form == "csv" else ""
        size = sink.write(mark + writing.head_of(settings))
        if size is None:
            return _End.UNREAD
        journal.done(Done("", (), ()), size)
    found = work.chunks(journal.to_do(work.units(read.rows)))
    with closing(pool.run(found, settings, jobs=request.jobs)) as working:
        for done in working:
            if request.artwork is not None:  # before its rows, which a later run goes on behind
                request.artwork.write(done.artwork)
            size = sink.write(done.text)
            if size is None:
                return _End.UNREAD
            journal.done(done, size)
            sink.marked(journal.mark)
            for line, fault in done.faults:
                output.complain(f"{journal.where}:{line}: {fault}")
            show(journal.mark.rows)
            if stop.asked:
                return _End.STOPPED
    return _End.WHOLE


_BYTE_ORDER_MARK = "\ufeff"  # a spreadsheet that wrote one wants one


def _sink(settings: Settings, request: _Request) -> tuple[Sink, Mark]:
    """Where the rows go, and behind which of them to begin."""
    from spinefit import __version__
    from spinefit.batch.progress import fresh_mark
    from spinefit.cli.batch_output import PartialFile, Stdout

    fresh = fresh_mark(settings, __version__)
    if request.output is None:
        return Stdout(plain=settings.form != "text"), fresh
    file = PartialFile(request.output, fresh, force=request.force, resume=request.resume)
    return file, file.mark


class _Stop:
    """While it lasts, Ctrl-C and a request to end let the chunk at hand be written first.

    Attributes:
        asked: whether somebody wants it to end. Who asks twice does not wait.
    """

    def __init__(self) -> None:
        self.asked = False
        self._before: dict[signal.Signals, Any] = {}

    def __enter__(self) -> _Stop:
        for number in (signal.SIGINT, signal.SIGTERM):
            with suppress(ValueError):  # not the main thread: its signals are another's
                self._before[number] = signal.signal(number, self._ask)
        return self

    def _ask(self, number: int, _frame: object) -> None:
        self.asked = True
        signal.signal(number, self._before[signal.Signals(number)])

    def __exit__(self, *_: object) -> None:
        for number, before in self._before.items():
            signal.signal(number, before)


@contextmanager
def _bar(name: str, stream: IO[bytes], request: _Request) -> Iterator[Callable[[int], None]]:
    """Where somebody looks on and no results come between: a bar that says how far it is."""
    watched = sys.stderr is not None and sys.stderr.isatty()
    if not watched or (request.output is None and on_terminal()):
        yield lambda rows: None
        return
    from spinefit.say.page import Bar

    raw = getattr(stream, "raw", None)
    total = None if name == STDIN or raw is None else os.stat(name).st_size or None
    with Bar(total, sys.stderr) as bar:
        yield lambda rows: bar.show(rows, raw.tell() if total and raw is not None else 0)


def _code(mark: Mark) -> int:
    if mark.counts[""]:
        return _BAD_ROW
    return _NO_FIT if mark.counts["does not fit"] else 0
