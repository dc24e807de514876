"""How does a finished text reach the terminal, a pipe or a file, whole or not at all?

In: text that is complete before its first letter is written. Out: bytes on standard output,
one line on standard error. A reader that has gone away is no fault; a full disk is.
"""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress

from spinefit.errors import OutputError, one_line
from spinefit.say.screen import encoded

_LONGEST_LINE = 600  # of a fault that repeats what was typed; no fault of ours is as long
_begun: list[object] = []  # the standard output that something was written to last
_GONE = {errno.EPIPE, errno.EBADF, errno.EINVAL}  # EINVAL: a closed pipe on Windows


def write_text(text: str) -> None:
    """Write text in the terminal's encoding, what it lacks in plainer characters.

    Raises:
        OutputError: it cannot be written, and not because the reader has gone.
    """
    _write(encoded(text), text)


def write_utf8(text: str) -> None:
    """Write text as UTF-8, whatever the terminal's encoding.

    Raises:
        OutputError: it cannot be written, and not because the reader has gone.
    """
    _write(f"{text}\n".encode(), f"{text}\n")


def stream(text: str, encoding: str | None) -> bool:
    """Write some more of an answer that comes in parts.

    Args:
        text: whole lines.
        encoding: as Python names it; None for the terminal's. What it lacks is written plainer.

    Returns:
        False where the reader has gone, so that the rest need not be worked out.

    Raises:
        OutputError: it cannot be written, and not because the reader has gone.
    """
    return _write(encoded(text, encoding), text)


def complain(line: str) -> None:
    """Write one line about a fault to standard error, if anybody listens."""
    with suppress(OSError, ValueError, AttributeError):
        said = one_line(line)
        if len(said) > _LONGEST_LINE:
            said = said[: _LONGEST_LINE - 1] + "…"
        sys.stderr.write(f"spinefit: {said}\n")
        sys.stderr.flush()


def begun() -> bool:
    """Whether something stands on standard output already."""
    return sys.stdout in _begun


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
    _begun[:] = [sys.stdout]
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
