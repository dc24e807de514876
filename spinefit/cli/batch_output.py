"""Where do the results of a batch go as they come, and what is left of an interrupted one?

In: text in whole rows. Out: standard output, or ``FILE.partial`` with ``FILE.partial.json``
beside it, which says how far it is whole; in the end the partial file gets its name. So FILE
is there whole or not at all, and a later run with ``--resume`` goes on behind the last row.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryFile
from typing import BinaryIO, Protocol, cast

from spinefit.batch.progress import Mark, read_mark
from spinefit.cli import output
from spinefit.cli.files import refuse_existing, refuse_irreplaceable, writing
from spinefit.errors import OutputError
from spinefit.say.screen import encoded

_SECONDS_BETWEEN_MARKS = 1.0
_WHERE = "--output"


Whole = Callable[[BinaryIO], Iterable[str | bytes]]
"""Makes the whole of rows that were held, from their file."""


class Sink(Protocol):
    """Where text goes."""

    def write(self, text: str) -> int | None:
        """Write whole rows; how many bytes they took, or None where nobody listens any more."""

    def marked(self, mark: Mark) -> None:
        """What was written up to here is whole."""

    def keep(self) -> None:
        """Leave what there is so that another run can go on from it."""

    def finish(self, whole: Whole | None) -> None:
        """Nothing more comes; where it was held, what is to be made of it."""


class Stdout:
    """Standard output.

    Args:
        encoding: of what is written; None for the terminal's.
        held: True where nothing can be written before the last row is there.
    """

    def __init__(self, encoding: str | None, *, held: bool) -> None:
        self._encoding = encoding
        self._held = TemporaryFile() if held else None  # noqa: SIM115 (closed when it is written)

    def write(self, text: str) -> int | None:
        """Write and count nothing: there is no going on from here."""
        if self._held is None:
            return 0 if output.stream(text, self._encoding) else None
        with writing("standard output", _WHERE):
            self._held.write(text.encode())
        return 0

    def marked(self, mark: Mark) -> None:
        """Nothing is kept of it."""

    def keep(self) -> None:
        """What was written is where it is; what was held is no whole."""
        if self._held is not None:
            self._held.close()

    def finish(self, whole: Whole | None) -> None:
        """It stays open; what was held is written."""
        if whole is None or self._held is None:
            return
        with self._held:
            self._held.seek(0)
            for part in whole(cast(BinaryIO, self._held)):
                if not output.stream(str(part), self._encoding):
                    return


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
        with writing(self._partial, _WHERE):
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
        raw = encoded(text, self._encoding)  # all of it ASCII where it is held
        with writing(self._partial, _WHERE):
            self._file.write(raw)
        return len(raw)

    def marked(self, mark: Mark) -> None:
        """Record, at most once a second, how far the partial result is whole."""
        self.mark = mark
        if time.monotonic() - self._saved >= _SECONDS_BETWEEN_MARKS:
            self.keep()

    def keep(self) -> None:
        """Leave a partial result that can be read, and gone on from."""
        with writing(self._partial, _WHERE):
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

    def finish(self, whole: Whole | None) -> None:
        """Give the whole result its name; one that was held is made beside it first."""
        if not self._force:
            refuse_existing(self._path, _WHERE)
        refuse_irreplaceable(self._path, _WHERE)
        if whole is not None:
            self.keep()  # so that another run can go on from here, should this one not end well
        ready = self._partial if whole is None else f"{self._partial}.part"
        with writing(self._path, _WHERE), self._file:
            if whole is not None:
                self._make(whole, ready)
            self._file.flush()
            os.fsync(self._file.fileno())
        with writing(self._path, _WHERE):
            os.replace(ready, self._path)
        for left in (self._record, self._partial):
            with suppress(OSError):
                os.unlink(left)

    def _make(self, whole: Whole, path: str) -> None:
        """Make the whole of what was held, in a file of its own."""
        self._file.seek(0)
        try:
            with _created(path) as made:
                for part in whole(self._file):
                    made.write(part if isinstance(part, bytes) else encoded(part, self._encoding))
                made.flush()
                os.fsync(made.fileno())
        except BaseException:
            with suppress(OSError):
                os.unlink(path)
            raise


def _created(path: str) -> BinaryIO:
    """A new file to write; what stood there is taken away first, and no link is followed."""
    with suppress(FileNotFoundError):
        os.unlink(path)
    return _opened(path, "w+b", os.O_RDWR | os.O_CREAT | os.O_EXCL)


def _opened(path: str, mode: str, flags: int) -> BinaryIO:
    """A file of ours, opened: where the last name is a link, that is a fault of the system."""
    beyond = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    return cast(BinaryIO, os.fdopen(os.open(path, flags | beyond, 0o666), mode))
