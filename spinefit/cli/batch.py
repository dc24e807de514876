"""Do the books of a table fit? The command ``spinefit batch``.

In: a CSV or JSON Lines file, or standard input, and options that hold for rows which do not say
otherwise. Out: a result a row, in their order, as the rows are done; a line on standard error
for every row at fault. Exit code 2 where a row is at fault, else 1 where a book does not fit.
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
from spinefit.cli.jobs import typed_fields
from spinefit.cli.options import GroupedCommand, chosen_format, job_options
from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job import numbers
from spinefit.job.fields import FIELDS, assemble, option_place

if TYPE_CHECKING:
    from spinefit.batch.model import Settings
    from spinefit.batch.progress import Journal, Mark
    from spinefit.batch.reading import Table
    from spinefit.cli.batch_output import Sink

__all__ = ["batch"]

_FORMATS = ("csv", "jsonl", "text", "html")
_ENDINGS = {".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".txt": "text", ".html": "html"}
_STDIN = "-"
_FILE_COLUMNS = 100  # of a text table in a file, which has no terminal's width
_MOST_JOBS = 256
_BAD_ROW, _NO_FIT = 2, 1


class _Asked(NamedTuple):
    """What was asked of a batch, beside the options of a job."""

    output: str | None
    force: bool
    resume: bool
    jobs: int


@click.command(cls=GroupedCommand)
@click.argument("table", metavar="FILE", nargs=-1)
@job_options
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
def batch(table: tuple[str, ...], keep: tuple[str, ...], jobs: str | None, **options: Any) -> int:
    """Check every book of FILE: CSV, TSV or JSON Lines; - reads standard input.

    The first line names the columns: title, width or panel, and any option below. Further
    texts of the back: author, subtitle, volume, date, imprint. Consecutive rows with the same
    'set' are volumes that match. Options given here hold for rows that do not say otherwise.
    Exit code 0: every book fits; 1: one does not; 2: a row or the input is at fault.
    """
    name = _one_table(table)
    asked = _Asked(options["output"], options["force"], options["resume"], _jobs(jobs))
    _refuse_idle(asked, name)
    form = _form(options["format_name"], asked.output)
    defaults = _defaults(options)
    with _opened(name) as stream:
        from spinefit.batch.model import Settings
        from spinefit.batch.reading import read_table

        read = read_table(stream, _shown(name), keep)
        settings = Settings(
            form=form,
            kept=read.kept,
            defaults=defaults,
            slash_breaks=options["slash_breaks"],
            verify=options["verify"],
            columns=output.columns() if asked.output is None else _FILE_COLUMNS,
            colour=asked.output is None and output.colour_wanted(),
        )
        return _run(read, settings, asked, name, stream)


def _one_table(table: tuple[str, ...]) -> str:
    if len(table) == 1 and table[0].strip():
        return table[0]
    if len(table) > 1:
        raise FieldError("more than one table", value=table[1], where="FILE", remedy="give one")
    raise FieldError(
        "no table given", where="FILE", remedy="such as: spinefit batch books.csv; - reads a pipe"
    )


def _refuse_idle(asked: _Asked, name: str) -> None:
    for option, given in (("--force", asked.force), ("--resume", asked.resume)):
        if given and asked.output is None:
            raise FieldError("no file to go with it", where=option, remedy="give --output FILE")
    if asked.force and asked.resume:
        raise FieldError(
            "begun afresh and resumed at once", where="--resume", remedy="leave out one of the two"
        )
    if asked.output is not None and name != _STDIN and _same_file(asked.output, name):
        raise FieldError(
            "the results would replace the table", value=asked.output, where="--output",
            remedy="choose another name",
        )  # fmt: skip


def _same_file(one: str, other: str) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):
        return False


def _jobs(typed: str | None) -> int:
    if typed is None:
        try:
            return min(len(os.sched_getaffinity(0)), _MOST_JOBS)
        except AttributeError:  # a system that binds no processes to cores
            return min(os.cpu_count() or 1, _MOST_JOBS)
    try:
        found = numbers.parse_count(typed)
    except SpinefitError as fault:
        raise fault.at("--jobs") from None
    if not 1 <= found <= _MOST_JOBS:
        raise FieldError(
            "not a number of processes", value=typed, where="--jobs",
            remedy=f"give 1 to {_MOST_JOBS}",
        )  # fmt: skip
    return found


def _form(typed: str | None, path: str | None) -> str:
    if typed is not None:
        return chosen_format(typed, _FORMATS)
    if path is not None:
        ending = os.path.splitext(path)[1].casefold()
        if ending in _ENDINGS:
            return _ENDINGS[ending]
        return "csv"
    return "text" if output.on_terminal() else "csv"


def _defaults(options: Mapping[str, Any]) -> dict[str, object]:
    """The fields said on the command line, refused at once where no row could have them."""
    said = typed_fields(options)
    for field in FIELDS:
        if field.name in said:
            try:
                field.parse(said[field.name])
            except SpinefitError as fault:
                raise fault.at(option_place(field.name)) from None
    alike = {name: value for name, value in said.items() if name in _SAME_FOR_ANY_BACK}
    if alike:
        from spinefit.job.resolve import resolve

        resolve(assemble("A", {**alike, "panel": "100x100mm"}))
    if "font" in said:
        from spinefit.shaping.fontfile import open_font

        open_font(str(said["font"]))
    return said


# Whether these can be does not hang on title and back, so that one trial answers for all rows.
_SAME_FOR_ANY_BACK = ("market", "language", "method", "method-file", "reading-distance")


@contextmanager
def _opened(name: str) -> Iterator[IO[bytes]]:
    """The bytes of the table."""
    if name == _STDIN:
        if sys.stdin is None:  # closed before we began
            raise JobError("standard input is closed", where="FILE", remedy="name a file")
        yield sys.stdin.buffer
        return
    try:
        file = open(name, "rb")  # noqa: SIM115 (faults of its reading are not of its opening)
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else str(fault)
        raise JobError(
            f"the table cannot be read ({reason})", value=name, where="FILE",
            remedy="name a CSV or JSON Lines file",
        ) from None  # fmt: skip
    with file:
        yield file


def _shown(name: str) -> str:
    return "standard input" if name == _STDIN else name


def _run(read: Table, settings: Settings, asked: _Asked, name: str, stream: IO[bytes]) -> int:
    """Let every row be done, and say the exit code."""
    from spinefit.batch.progress import Journal
    from spinefit.batch.writing import foot_of

    sink, mark = _sink(settings, asked)
    journal = Journal(mark, _shown(name))
    try:
        with _Stop() as stop, _bar(name, stream, asked) as show:
            end = _rows(read, settings, asked.jobs, (journal, sink), (stop, show))
            if end is _End.WHOLE:
                sink.write(foot_of(settings, journal.mark.counts))
    except SpinefitError:
        with suppress(SpinefitError):  # the first fault is the one to tell
            sink.keep()
        raise
    if end is _End.STOPPED:
        sink.keep()
        kept = f"; {asked.output}.partial has them, --resume goes on" if asked.output else ""
        output.complain(f"stopped after {journal.mark.rows} rows{kept}")
        return _BAD_ROW
    if end is _End.WHOLE:
        sink.finish()
    return _code(journal.mark)


class _End(Enum):
    """How the rows came to an end."""

    WHOLE = auto()
    STOPPED = auto()
    UNREAD = auto()


def _rows(
    read: Table,
    settings: Settings,
    jobs: int,
    to: tuple[Journal, Sink],
    watch: tuple[_Stop, Callable[[int], None]],
) -> _End:
    """Write the head, where there is none yet, and every row."""
    from spinefit.batch import chunks, pool, writing
    from spinefit.batch.work import Done

    (journal, sink), (stop, show) = to, watch
    if not journal.mark.written_bytes:
        mark = _BYTE_ORDER_MARK if read.marked and settings.form == "csv" else ""
        size = sink.write(mark + writing.head_of(settings))
        if size is None:
            return _End.UNREAD
        journal.done(Done("", (), ()), size)
    found = chunks.chunks(journal.to_do(chunks.units(read.rows)))
    with closing(pool.run(found, settings, jobs=jobs)) as working:
        for done in working:
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


def _sink(settings: Settings, asked: _Asked) -> tuple[Sink, Mark]:
    """Where the rows go, and behind which of them to begin."""
    from spinefit import __version__
    from spinefit.batch.progress import fresh_mark
    from spinefit.cli.batch_output import PartialFile, Stdout

    fresh = fresh_mark(settings, __version__)
    if asked.output is None:
        return Stdout(plain=settings.form != "text"), fresh
    file = PartialFile(asked.output, fresh, force=asked.force, resume=asked.resume)
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
def _bar(name: str, stream: IO[bytes], asked: _Asked) -> Iterator[Callable[[int], None]]:
    """Where somebody looks on and no results come between: a bar that says how far it is."""
    watched = sys.stderr is not None and sys.stderr.isatty()
    if not watched or (asked.output is None and output.on_terminal()):
        yield lambda rows: None
        return
    from spinefit.report.page import Bar

    raw = getattr(stream, "raw", None)
    total = None if name == _STDIN or raw is None else os.stat(name).st_size or None
    with Bar(total, sys.stderr) as bar:
        yield lambda rows: bar.show(rows, raw.tell() if total and raw is not None else 0)


def _code(mark: Mark) -> int:
    if mark.counts[""]:
        return _BAD_ROW
    return _NO_FIT if mark.counts["does not fit"] else 0
