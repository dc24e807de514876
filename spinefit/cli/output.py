"""How does a finished text reach the terminal, a pipe or a file, whole or not at all?

In: text that is complete before its first letter is written. Out: bytes on standard output,
one line on standard error. A terminal that lacks a character gets a plainer one; a reader
that has gone away is no fault; a full disk is.
"""

from __future__ import annotations

import codecs
import errno
import os
import sys
from contextlib import suppress

from spinefit.errors import OutputError, one_line

__all__ = [
    "colour_wanted",
    "columns",
    "complain",
    "encoding",
    "hush_stdout",
    "on_terminal",
    "picture_can_be_shown",
    "shows_unicode",
    "stream",
    "write_text",
    "write_utf8",
]

_PIPED_COLUMNS = 80
_LONGEST_LINE = 600  # of a fault that repeats what was typed; no fault of ours is as long
_GONE = {errno.EPIPE, errno.EBADF, errno.EINVAL}  # EINVAL: a closed pipe on Windows
_PLAINER = {
    "│": "|",
    "─": "-",
    "‐": "-",
    "‑": "-",
    "–": "-",
    "—": "-",
    "−": "-",
    "×": "x",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "°": " deg",
    "≤": "<=",
    "≥": ">=",
}


def columns() -> int:
    """Width to write in: the terminal's, or 80 where the output goes elsewhere."""
    if not on_terminal():
        return _PIPED_COLUMNS
    import shutil

    return shutil.get_terminal_size().columns


def colour_wanted() -> bool:
    """True on a terminal that shows colours, unless NO_COLOR is set."""
    dumb = os.environ.get("TERM", "") in ("dumb", "unknown")
    return on_terminal() and not dumb and not os.environ.get("NO_COLOR")


def picture_can_be_shown() -> bool:
    """True on a terminal that shows more than ASCII."""
    dumb = os.environ.get("TERM", "") in ("dumb", "unknown")
    return on_terminal() and not dumb and shows_unicode()


def shows_unicode() -> bool:
    """Whether standard output takes every character."""
    return codecs.lookup(encoding()).name.startswith("utf")


def encoding() -> str:
    """The encoding of standard output."""
    return getattr(sys.stdout, "encoding", None) or "utf-8"


def on_terminal() -> bool:
    """True where somebody reads standard output as it comes."""
    try:
        return sys.stdout is not None and sys.stdout.isatty()
    except ValueError:  # closed
        return False


def write_text(text: str) -> None:
    """Write text in the terminal's encoding, what it lacks in plainer characters.

    Raises:
        OutputError: it cannot be written, and not because the reader has gone.
    """
    _write(text.encode(encoding(), "spinefit.plainer"), text)


def write_utf8(text: str) -> None:
    """Write text as UTF-8, whatever the terminal's encoding.

    Raises:
        OutputError: it cannot be written, and not because the reader has gone.
    """
    _write(f"{text}\n".encode(), f"{text}\n")


def stream(text: str, *, utf8: bool) -> bool:
    """Write some more of an answer that comes in parts.

    Args:
        text: whole lines.
        utf8: whether as UTF-8 whatever the terminal's encoding.

    Returns:
        False where the reader has gone, so that the rest need not be worked out.

    Raises:
        OutputError: it cannot be written, and not because the reader has gone.
    """
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    raw = text.encode() if utf8 else text.encode(encoding, "spinefit.plainer")
    return _write(raw, text)


def complain(line: str) -> None:
    """Write one line about a fault to standard error, if anybody listens."""
    with suppress(OSError, ValueError, AttributeError):
        said = one_line(line)
        if len(said) > _LONGEST_LINE:
            said = said[: _LONGEST_LINE - 1] + "…"
        sys.stderr.write(f"spinefit: {said}\n")
        sys.stderr.flush()


def hush_stdout() -> None:
    """Let what is left in standard output's buffer vanish, so that closing it stays quiet."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _write(raw: bytes, text: str) -> bool:
    """Write, and say whether anybody reads it."""
    if sys.stdout is None:  # closed before we began
        return False
    try:
        buffer = getattr(sys.stdout, "buffer", None)
        if buffer is None:
            sys.stdout.write(text)
        else:
            sys.stdout.flush()
            buffer.write(raw)
        sys.stdout.flush()
    except OSError as fault:
        hush_stdout()
        if fault.errno not in _GONE:
            raise OutputError(
                f"the answer cannot be written ({fault.strerror})", remedy="make room for it"
            ) from None
        return False
    return True


def _plainer(fault: UnicodeError) -> tuple[str, int]:
    """Codec error handler: a plainer character, or the escape of one that has none."""
    if not isinstance(fault, UnicodeEncodeError):
        raise fault
    lost = fault.object[fault.start : fault.end]
    shown = "".join(
        _PLAINER.get(char) or char.encode("unicode_escape", "surrogatepass").decode()
        for char in lost
    )
    return shown, fault.end


codecs.register_error("spinefit.plainer", _plainer)
