"""How are the rows of a batch worked through, and when does that end?

In: a table being read, what holds for every row, and where the results go. Out: the results as
they are done, and the exit code; on standard error the first rows at fault in a way and in the end
how many more there are, and how many books fit. Ctrl-C and a request to end let the rows at hand
be written first.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from enum import Enum, auto
from functools import partial
from typing import IO, TYPE_CHECKING, NamedTuple

import click

from spinefit.cli import output
from spinefit.cli.stopping import Stop
from spinefit.cli.tables import STDIN, shown_name
from spinefit.errors import SpinefitError
from spinefit.say.screen import on_terminal

if TYPE_CHECKING:
    from spinefit.batch.beside import Book
    from spinefit.batch.model import Settings
    from spinefit.batch.progress import Journal, Mark
    from spinefit.batch.reading import Table
    from spinefit.batch.work import Done
    from spinefit.cli.artwork import ArtworkFolder
    from spinefit.cli.batch_output import Sink

_BAD_ROW, _NO_FIT = 2, 1
_NAMED = 5  # rows that count as failed: why a build failed is seen by then


class Request(NamedTuple):
    """How a batch is to be run and where its results go."""

    output: str | None
    artwork: ArtworkFolder | None
    force: bool
    resume: bool
    jobs: int


def run(read: Table, settings: Settings, request: Request, name: str, stream: IO[bytes]) -> int:
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
    from spinefit.batch.writing import foot_of, whole_of

    book = _book(read, settings, request, shown_name(name)) if settings.form == "xlsx" else None
    sink, mark = _sink(settings, request)
    journal = Journal(mark, shown_name(name))
    try:
        with Stop() as stop, _bar(name, stream, request, settings) as show:
            end = _rows(read, settings, request, (journal, sink), (stop, show))
            if end is _End.WHOLE:
                sink.write(foot_of(settings, journal.mark.totals))
    except SpinefitError:
        with suppress(SpinefitError):  # the first fault is the one to tell
            sink.keep()
        raise
    if end is _End.STOPPED:
        sink.keep()
        kept = f"; {request.output}.partial has them, --resume goes on" if request.output else ""
        output.complain(f"stopped after {journal.mark.rows} rows{kept}")
        raise click.exceptions.Exit(_BAD_ROW)  # and no other table is begun
    if end is _End.UNREAD:
        raise click.exceptions.Exit(_BAD_ROW)  # nobody may take the rest for fitting
    whole = partial(whole_of, settings=settings, totals=journal.mark.totals, book=book)
    sink.finish(whole if settings.held else None)
    if read.foot.note is not None:
        output.complain(f"{journal.where}: {read.foot.note}")
    _close(journal, settings, request)
    return _code(journal.mark)


def _close(journal: Journal, settings: Settings, request: Request) -> None:
    """Say what the whole came to; at the foot of a table on the screen that stands already."""
    from spinefit.batch.alike import untold
    from spinefit.batch.text_table import summary

    for line in untold(journal.mark.kinds):
        output.complain(f"{journal.where}: {line}")
    failed = journal.mark.counts["does not fit"] + journal.mark.failed
    if settings.fail_on is not None and failed > _NAMED:
        output.complain(f"{journal.where}: {failed} rows count as failed")
    if request.artwork is not None:
        output.complain(request.artwork.said)
    if request.output is not None or settings.form != "text":
        written = f"; written to {request.output}" if request.output is not None else ""
        output.complain(f"{summary(journal.mark.totals)}{written}")


def _tell_failing(done: Done, journal: Journal, room: int) -> int:
    """Name rows that count as failed, and say for how many there is room left."""
    for line, why in done.failing[:room]:
        output.complain(f"{journal.where}:{line}: {why}")
    return max(0, room - len(done.failing))


class _End(Enum):
    """How the rows came to an end."""

    WHOLE = auto()
    STOPPED = auto()
    UNREAD = auto()


def _rows(
    read: Table,
    settings: Settings,
    request: Request,
    to: tuple[Journal, Sink],
    watch: tuple[Stop, Callable[[int], None]],
) -> _End:
    """Write the head, where there is none yet, and every row."""
    from spinefit.batch import pool, work, writing
    from spinefit.batch.work import Done

    (journal, sink), (stop, show) = to, watch
    if not journal.mark.written_bytes:
        size = sink.write(writing.head_of(settings))
        if size is None:
            return _End.UNREAD
        journal.done(Done("", (), ()), size)
    room = _NAMED if settings.form != "text" or request.output is not None else 0
    found = work.chunks(journal.to_do(work.units(read.rows)))
    with closing(pool.run(found, settings, jobs=request.jobs)) as working:
        for done in working:
            if request.artwork is not None:  # before its rows, which a later run goes on behind
                request.artwork.write(done.artwork)
            is_page = settings.form == "html" and not settings.held
            text = journal.once(done.text) if is_page else done.text
            size = sink.write(text)
            if size is None:
                return _End.UNREAD
            told = journal.done(done, size)
            sink.marked(journal.mark)
            for line, fault in told:
                output.complain(f"{journal.where}:{line}: {fault.line}")
            room = _tell_failing(done, journal, room)
            show(journal.mark.rows)
            if stop.asked:
                return _End.STOPPED
    return _End.WHOLE


def _sink(settings: Settings, request: Request) -> tuple[Sink, Mark]:
    """Where the rows go, and behind which of them to begin."""
    from spinefit import __version__
    from spinefit.batch.progress import fresh_mark
    from spinefit.batch.writing import encoding_of
    from spinefit.cli.batch_output import PartialFile, Stdout

    fresh, encoding = fresh_mark(settings, __version__), encoding_of(settings)
    if request.output is None:
        shown = None if settings.form == "text" else encoding
        return Stdout(shown, held=settings.held), fresh
    file = PartialFile(request.output, encoding, fresh, force=request.force, resume=request.resume)
    return file, file.mark


def _book(read: Table, settings: Settings, request: Request, name: str) -> Book:
    """The workbook that the results go into; what of its source it will lack is said at once."""
    from spinefit.batch.beside import Book

    book = Book(settings, read.workbook, read.meanings)
    if book.lost:
        lost = ", ".join(book.lost)
        output.complain(f"{name}: what it has of these is not in {request.output}: {lost}")
    return book


@contextmanager
def _bar(
    name: str, stream: IO[bytes], request: Request, settings: Settings
) -> Iterator[Callable[[int], None]]:
    """Where somebody looks on and no results come between: a bar that says how far it is."""
    watched = sys.stderr is not None and sys.stderr.isatty()
    written = request.output is None and not settings.held
    if not watched or (written and on_terminal()):
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
    return _NO_FIT if mark.counts["does not fit"] or mark.failed else 0
