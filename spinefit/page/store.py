"""Where do the files lie that were opened in the page, and under which names are they found?

In: their bytes. Out: their digests, by which the page names them from then on; for a question a
folder of its own in which they lie beside the job file, under the names that it has for them. It
is all gone when the server ends; the page gives again what is lacking.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from spinefit.errors import FieldError

JOB = "job.toml"
"""What the file of a job is called there."""

_MOST_BYTES = 512 * 1024 * 1024  # in all; the oldest goes
_LONGEST = 200  # bytes of a name
_DIGEST = re.compile("[0-9a-f]{64}")
_UNFIT = re.compile(r'[\x00-\x1f\x7f/\\:*?"<>|\ud800-\udfff]')


class Store:
    """Files by their digests.

    Args:
        folder: where they lie.
    """

    def __init__(self, folder: str) -> None:
        self._folder = Path(folder)
        self._sizes: dict[str, int] = {}

    def keep(self, data: bytes) -> str:
        """Keep a file, and say by which digest."""
        digest = hashlib.sha256(data).hexdigest()
        if digest not in self._sizes:
            place_of(str(self._folder), digest).write_bytes(data)
            self._sizes[digest] = len(data)
            while sum(self._sizes.values()) > _MOST_BYTES and len(self._sizes) > 1:
                oldest = next(iter(self._sizes))
                del self._sizes[oldest]
                place_of(str(self._folder), oldest).unlink(missing_ok=True)
        return digest

    def lacking(self, named: object) -> list[str]:
        """Which of the files that a question names have to be given first."""
        if not isinstance(named, Mapping):
            return []
        return sorted({str(one) for one in named.values() if str(one) not in self._sizes})


def place_of(folder: str, digest: str) -> Path:
    """Where a file of that digest lies."""
    if not _DIGEST.fullmatch(digest):
        raise ValueError("no digest")
    return Path(folder, digest)


@contextmanager
def laid_out(folder: str, named: Mapping[str, str]) -> Iterator[Path]:
    """A folder in which files lie under their names, for one question.

    Args:
        folder: of the store.
        named: digest by name; a name that could lead out of the folder is no name.
    """
    own = Path(tempfile.mkdtemp(dir=folder))
    try:
        for name, digest in named.items():
            if is_plain(name):
                _link(place_of(folder, digest), own / name)
        yield own
    finally:
        shutil.rmtree(own, ignore_errors=True)


def lay_job(own: Path, text: object) -> Path:
    """Lay the text of a job file beside its files.

    Half characters are no text, which who reads the file says.

    Raises:
        FieldError: it is no text at all.
    """
    if not isinstance(text, str):
        raise FieldError("no job given")
    place = own / JOB
    place.write_bytes(text.encode("utf-8", "surrogatepass"))
    return place


def is_plain(name: str) -> bool:
    """Whether a name is that of a file beside the job, and leads nowhere else."""
    if not name or _UNFIT.search(name) or name[0] in ". ":
        return False
    return len(name.encode()) <= _LONGEST


def _link(source: Path, target: Path) -> None:
    try:
        os.link(source, target)
    except OSError:
        shutil.copyfile(source, target)
