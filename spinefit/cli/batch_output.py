"""Where do the results of a batch go as they come, and what is left of an interrupted one?

In: text in whole rows. Out: standard output, or ``FILE.partial`` with ``FILE.partial.json``
beside it, which says how far it is whole; in the end the partial file gets its name. So FILE
is there whole or not at all, and a later run with ``--resume`` goes on behind the last row.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO, Protocol, cast

from spinefit.batch.progress import Mark, read_mark
from spinefit.cli import output
from spinefit.cli.files import refuse_existing, refuse_irreplaceable
from spinefit.errors import OutputError
from spinefit.say.screen import encoded

_SECONDS_BETWEEN_MARKS = 1.0
_WHERE = "--output"


class Sink(Protocol):
    """Where text goes."""

    def write(self, text: str) -> int | None:
        """Write whole rows; how many bytes they took, or None where nobody listens any more."""

    def marked(self, mark: Mark) -> None:
        """What was written up to here is whole."""

    def keep(self) -> None:
        """Leave what there is so that another run can go on from it."""

    def finish(self) -> None:
        """Nothing more comes."""


class Stdout:
    """Standard output.

    Args:
        encoding: of what is written; None for the terminal's.
    """

    def __init__(self, encoding: str | None) -> None:
        self._encoding = encoding

    def write(self, text: str) -> int | None:
        """Write and count nothing: there is no going on from here."""
        return 0 if output.stream(text, self._encoding) else None

    def marked(self, mark: Mark) -> None:
        """Nothing is kept of it."""

    def keep(self) -> None:
        """What was written is where it is."""

    def finish(self) -> None:
        """It stays open."""


class PartialFile:
    """A file that has its name only once it is whole.

    Args:
        path: its name.
        encoding: of what is written.
        fresh: the mark of a run from the beginning.
        force: replace what stands there.
        resume: go on from what an interrupted run has left.

    Attributes:
        mark: where to go on from.

    Raises:
        OutputError: something stands there, or it cannot be written.
        JobError: what was left cannot be gone on from.
    """

    def __init__(self, path: str, encoding: str, fresh: Mark, *, force: bool, resume: bool) -> None:
        self._path = path
        self._encoding = encoding
        self._partial, self._record = f"{path}.partial", f"{path}.partial.json"
        self._force = force
        if not force:
            refuse_existing(path, _WHERE)
        for place in (path, self._partial, self._record):
            refuse_irreplaceable(place, _WHERE)
        self.mark = fresh
        going_on = resume and os.path.lexists(self._partial)
        if not (force or resume) and os.path.lexists(self._partial):
            raise OutputError(
                "an interrupted run has left a partial result", value=self._partial, where=_WHERE,
                remedy="--resume goes on from it, --force begins afresh",
            )  # fmt: skip
        with _writing(self._partial):
            if going_on and not self._nothing_yet():
                self.mark = read_mark(self._recorded(), fresh, self._record)
                self._file: BinaryIO = _opened(self._partial, "r+b", os.O_RDWR)
                self._go_to_mark()
            else:
                self._file = _created(self._partial)
                self._save(fresh)
        self._saved = time.monotonic()

    def _nothing_yet(self) -> bool:
        """Whether the other run ended before it had written a row, or even a record."""
        return not os.path.lexists(self._record) and os.path.getsize(self._partial) == 0

    def _recorded(self) -> str:
        try:
            return Path(self._record).read_text(encoding="utf-8")
        except FileNotFoundError:
            raise OutputError(
                "a partial result without its record", value=self._partial, where=_WHERE,
                remedy="begin afresh with --force",
            ) from None  # fmt: skip

    def _go_to_mark(self) -> None:
        if self._file.seek(0, os.SEEK_END) < self.mark.written_bytes:
            raise OutputError(
                "the partial result is shorter than its record says", value=self._partial,
                where=_WHERE, remedy="begin afresh with --force",
            )  # fmt: skip
        self._file.truncate(self.mark.written_bytes)
        self._file.seek(self.mark.written_bytes)

    def write(self, text: str) -> int | None:
        """Write whole rows and count their bytes."""
        raw = encoded(text, self._encoding)
        with _writing(self._partial):
            self._file.write(raw)
        return len(raw)

    def marked(self, mark: Mark) -> None:
        """Record, at most once a second, how far the partial result is whole."""
        self.mark = mark
        if time.monotonic() - self._saved >= _SECONDS_BETWEEN_MARKS:
            self.keep()

    def keep(self) -> None:
        """Leave a partial result that can be read, and gone on from."""
        with _writing(self._partial):
            self._file.flush()
            self._save(self.mark)
        self._saved = time.monotonic()

    def _save(self, mark: Mark) -> None:
        beside = f"{self._record}.part"
        try:
            with _created(beside) as file:
                file.write(mark.as_json().encode())
        except OSError:
            with suppress(OSError):
                os.unlink(beside)
            raise
        os.replace(beside, self._record)

    def finish(self) -> None:
        """Give the whole result its name."""
        if not self._force:
            refuse_existing(self._path, _WHERE)
        refuse_irreplaceable(self._path, _WHERE)
        with _writing(self._path):
            self._file.flush()
            os.fsync(self._file.fileno())
            self._file.close()
            os.replace(self._partial, self._path)
        with suppress(OSError):
            os.unlink(self._record)


def _created(path: str) -> BinaryIO:
    """A new file to write; what stood there is taken away first, and no link is followed."""
    with suppress(FileNotFoundError):
        os.unlink(path)
    return _opened(path, "wb", os.O_WRONLY | os.O_CREAT | os.O_EXCL)


def _opened(path: str, mode: str, flags: int) -> BinaryIO:
    """A file of ours, opened: where the last name is a link, that is a fault of the system."""
    beyond = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    return cast(BinaryIO, os.fdopen(os.open(path, flags | beyond, 0o666), mode))


@contextmanager
def _writing(path: str) -> Iterator[None]:
    """Faults of the system inside become one line."""
    try:
        yield
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else str(fault)
        raise OutputError(
            f"the file cannot be written ({reason})", value=path, where=_WHERE,
            remedy="choose a place that may be written to, with room for it",
        ) from None  # fmt: skip
