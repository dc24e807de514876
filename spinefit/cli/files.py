"""How is a file of the binder's written, whole or not at all?

In: a path, and text or bytes for it. Out: the file; it is written beside its place under another
name first, then renamed, so that nobody ever sees half of it. What stands there already is
kept unless it may be replaced.
"""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from spinefit.errors import OutputError

__all__ = ["refuse_existing", "write_whole"]


def refuse_existing(path: str, where: str) -> None:
    """Refuse a path at which something stands already.

    Args:
        path: where a file is to be written.
        where: the option that named it, for the message.

    Raises:
        OutputError: something stands there.
    """
    if os.path.lexists(path):
        raise OutputError(
            "there is such a file already",
            value=path,
            where=where,
            remedy="choose another name, or give --force to replace it",
        )


def write_whole(path: str, content: str | bytes, where: str, *, force: bool) -> None:
    """Write text, as UTF-8, or bytes to ``path``, whole or not at all.

    Args:
        path: where to write.
        content: what to write.
        where: the option that named it, for messages.
        force: replace what stands there.

    Raises:
        OutputError: something stands there, or it cannot be written.
    """
    if not force:
        refuse_existing(path, where)
    target = Path(path)
    try:
        handle, name = tempfile.mkstemp(
            dir=target.parent, prefix=f".{target.name[:50]}.", suffix=".part"
        )
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content.encode() if isinstance(content, str) else content)
            os.chmod(name, 0o666 & ~_umask())
            os.replace(name, target)
        except BaseException:
            with suppress(OSError):
                os.unlink(name)
            raise
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else str(fault)
        raise OutputError(
            f"the file cannot be written ({reason})",
            value=path,
            where=where,
            remedy="choose a place that may be written to",
        ) from None


def _umask() -> int:
    found = os.umask(0)
    os.umask(found)
    return found
