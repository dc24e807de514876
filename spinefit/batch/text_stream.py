"""How do bytes become lines of text, whoever wrote them?

In: a binary stream. Out: its lines with their ends, in UTF-8 or, where a byte order mark says
so, UTF-16. Bytes that are no text come out as characters that `unreadable` knows. Memory is
bounded: a line or record past a limit is an error, and reading goes on behind it; so is time,
since a line that has no end at all is looked for only so far.
"""

from __future__ import annotations

import codecs
import io
import re
from collections import deque
from collections.abc import Iterator
from typing import IO, Any

from spinefit.batch.encodings import western
from spinefit.errors import FieldError

LONGEST_RECORD = 1 << 20
"""Characters that one row may have: far past any book, well below any memory."""

_LONGEST_SKIPPED = 1 << 28  # characters passed over to find a line's end: no table's, a device's

_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # begins as UTF-16's does, so it is asked first
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_NO_TEXT = re.compile("[\0\ud800-\udfff]")


class TooLongError(ValueError):
    """A record past the limit."""


class Lines(Iterator[str]):
    """The lines of a stream, their ends kept; an iterator that goes on after its own errors.

    Args:
        begin: the bytes it begins with.
        rest: those behind them.
        where: the file, for messages.
        encoding: of its text; None for what its mark or its bytes say.

    Raises:
        FieldError: no such encoding, or another one; and while reading a line that does not end.

    Attributes:
        number: lines read so far.
        marked: whether the stream begins with a byte order mark.
        encoding: of its text, as Python names it.
        sample: the text it begins with, of any length up to a limit.
        notes: a line where its encoding was guessed.
    """

    def __init__(
        self, begin: bytes, rest: IO[bytes], where: str, encoding: str | None = None
    ) -> None:
        mark, of_mark = next((one for one in _MARKS if begin.startswith(one[0])), (b"", ""))
        begin = begin[len(mark) :]
        self.marked = bool(mark)
        self.notes: tuple[str, ...] = ()
        if encoding is not None:
            encoding = _said(encoding, of_mark, begin)
        elif of_mark or _is_utf8(begin):
            encoding = of_mark or "utf-8"
        else:
            encoding = western(begin)
            self.notes = (f"no UTF-8, so read as {encoding}; --encoding says otherwise",)
        self.encoding = encoding
        self.number = 0
        # Others have no bytes to smuggle through: what they cannot say becomes U+FFFD.
        errors = "surrogateescape" if encoding == "utf-8" else "replace"
        self.sample = begin.decode(encoding, errors)
        whole = io.BufferedReader(_Rejoined(begin, rest))
        self._text = io.TextIOWrapper(whole, encoding, errors, newline="")
        self._in_record = 0
        self._record: list[str] = []
        self._again: deque[str] = deque()
        self._where = where

    def begin_record(self) -> None:
        """Let the next line begin a new record."""
        self._in_record = 0
        self._record = []

    def unread(self, line: str) -> None:
        """Let a line that was read last be the next one again."""
        self._again.appendleft(line)
        self.number -= 1

    def reread(self) -> str:
        """Let all lines of a record but its first be read again; that one, "" where it is lost."""
        for line in reversed(self._record[1:]):
            self.unread(line)
        return "".join(self._record[:1])

    def __next__(self) -> str:
        line = self._again.popleft() if self._again else self._text.readline(LONGEST_RECORD)
        if not line:
            raise StopIteration
        self.number += 1
        ended = line.endswith(("\n", "\r"))
        if not ended and len(line) == LONGEST_RECORD:
            self._skip_rest()
            raise TooLongError
        self._record.append(line)
        self._in_record += len(line)
        if self._in_record > LONGEST_RECORD:
            raise TooLongError
        return line

    def _skip_rest(self) -> None:
        for _ in range(_LONGEST_SKIPPED // LONGEST_RECORD):
            more = self._text.readline(LONGEST_RECORD)
            if not more or more.endswith(("\n", "\r")):
                return
        raise FieldError(
            "a line without an end", where=f"{self._where}:{self.number}",
            remedy="name a CSV or JSON Lines file",
        )  # fmt: skip


def _said(name: str, of_mark: str, begin: bytes) -> str:
    """An encoding that a person named, as Python names it.

    Raises:
        FieldError: there is none of that name, or the bytes are in another.
    """
    try:
        "".encode(name)  # a LookupError too where it is an encoding of bytes
        named = codecs.lookup(name).name.removesuffix("-sig")
    except (LookupError, ValueError):
        raise FieldError(
            "no such encoding", value=name, where="--encoding",
            remedy="such as utf-8, cp1252, mac-roman or iso-8859-15",
        ) from None  # fmt: skip
    if of_mark and named not in (of_mark, of_mark[:-3]):
        raise FieldError(
            f"the table's byte order mark says {of_mark}", value=name, where="--encoding",
            remedy="leave it out",
        )  # fmt: skip
    found = of_mark or named
    try:
        codecs.getincrementaldecoder(found)().decode(begin)
    except (UnicodeError, ValueError) as fault:
        raise FieldError(
            f"the table is in another encoding ({fault})", value=name, where="--encoding",
            remedy="leave it out to have it guessed, or name the right one",
        ) from None  # fmt: skip
    return found


def _is_utf8(begin: bytes) -> bool:
    """Whether bytes are UTF-8, as JSON is, or were before some were damaged."""
    whole = len(begin) < _SAMPLE  # else its last character may be cut
    text = codecs.getincrementaldecoder("utf-8")("surrogateescape").decode(begin, whole)
    damaged = sum("\udc80" <= char <= "\udcff" for char in text)
    sound = sum(char > "\x7f" for char in text) - damaged
    return damaged <= sound or "\0" in text or text.lstrip().startswith("{")


_SAMPLE = 1 << 16  # bytes: enough rows to see by them how a table is written


def begin_of(stream: IO[bytes]) -> bytes:
    """The bytes a stream begins with; the same whoever writes it, and however slowly."""
    begin = b""
    while len(begin) < _SAMPLE and (more := stream.read(_SAMPLE - len(begin))):
        begin += more
    return begin


class _Rejoined(io.RawIOBase):
    """A stream with the bytes before it that were read already."""

    def __init__(self, begin: bytes, rest: IO[bytes]) -> None:
        self._begin = io.BytesIO(begin)
        self._read = getattr(rest, "read1", rest.read)  # what has come, without waiting for more

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:
        more = self._begin.read(len(buffer)) or self._read(len(buffer)) or b""
        buffer[: len(more)] = more
        return len(more)


def unreadable(text: str) -> str | None:
    """What keeps a cell from being text, or None.

    >>> unreadable("Tide Tables"), unreadable("Tide" + chr(0))
    (None, 'a NUL character')
    """
    if "\0" in text:
        return "a NUL character"
    if text.isascii():
        return None
    if any("\udc80" <= char <= "\udcff" for char in text):  # as surrogateescape has them
        return "bytes that are no UTF-8"
    if any("\ud800" <= char <= "\udfff" for char in text):
        return "half a character (a surrogate by itself)"
    return None


def legible(text: str) -> str:
    r"""A cell with what is no text in it made visible.

    >>> legible("Tide" + chr(0) + "s " + chr(0xDCFF))
    'Tide\\x00s \\xff'
    """
    return _NO_TEXT.sub(lambda found: f"\\x{ord(found[0]) & 0xFF:02x}", text)
