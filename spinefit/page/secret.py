"""Which secret stands in the address of the page, so that nobody else gets anything?

In: a folder of the user's own. Out: the same secret at every start, so that an open tab goes on
working after a new one; another when that is asked for. The file can be read by the user alone.
"""

from __future__ import annotations

import os
import re
import secrets
from contextlib import suppress
from pathlib import Path

from spinefit.errors import OutputError

_NAME = "page-secret"
_BYTES = 24
_SECRET = re.compile(r"[A-Za-z0-9_-]{32}")


def kept_secret(folder: Path | None = None, *, renewed: bool = False) -> str:
    """The secret that was kept, or a new one that is kept from now on.

    Args:
        folder: where it is kept; None for the user's own folder for what programs remember.
        renewed: True where the old one is to open nothing any more.

    Raises:
        OutputError: it cannot be kept there.
    """
    place = (folder or _users_folder()) / _NAME
    if not renewed and (found := _read(place)) is not None:
        return found
    made = secrets.token_urlsafe(_BYTES)
    try:
        place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        beside = place.with_name(f"{_NAME}.{os.getpid()}")
        with suppress(FileNotFoundError):
            beside.unlink()
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="ascii") as file:
            file.write(made)
        os.replace(beside, place)
    except OSError as fault:
        raise OutputError(
            f"the secret of the page cannot be kept ({fault.strerror})", value=str(place.parent),
            remedy="make that folder one that can be written to",
        ) from None  # fmt: skip
    return made


def _read(place: Path) -> str | None:
    """What is kept there; None for nothing, or for what others could have read or written."""
    try:
        with place.open(encoding="ascii") as file:
            kept = os.fstat(file.fileno())
            text = file.read(2 * _BYTES)
    except (OSError, ValueError):
        return None
    others = os.name == "posix" and (kept.st_mode & 0o077 or kept.st_uid != os.getuid())
    return None if others or not _SECRET.fullmatch(text) else text


def _users_folder() -> Path:
    from platformdirs import user_state_path

    return user_state_path("spinefit", appauthor=False)
