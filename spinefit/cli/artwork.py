"""Which files of artwork are written, in which ink, and what is said of them?

In: what was typed, and what is to be lettered. Out: files for `files.write_all`, of a batch a
folder of them, each whole; a line for each on standard error, so that every form of the answer
stays as it is. What does not fit has no artwork.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from spinefit.cli.files import Finished, write_all
from spinefit.errors import FieldError, OutputError

if TYPE_CHECKING:
    from spinefit.drawing.plate import Subject

_WHERE = "--artwork"
_LONGEST_SPOT = 31  # characters of four bytes at most: a name in a PDF has 127
_KEPT = ("all", "none", "cyan", "magenta", "yellow", "black", "basicfonts")  # names PDFs use


def refuse_spot(name: str, in_pdf: bool) -> None:
    """Refuse a name that no spot ink can have, or where there is no ink to name.

    Args:
        name: as it was typed.
        in_pdf: whether a PDF is asked for; SVG knows no spot inks.

    Raises:
        FieldError: no PDF, or no such name.
    """
    if not in_pdf:
        raise FieldError(
            "no PDF for it: only that names an ink", value=name, where="--spot",
            remedy="give --artwork with a .pdf",
        )  # fmt: skip
    if name.casefold() in _KEPT:
        raise FieldError(
            "no spot ink, a PDF keeps that name for itself", value=name, where="--spot",
            remedy="name the foil or ink; without --spot it is 100 % black",
        )  # fmt: skip
    bare = name.strip() == name and name.isprintable() and "/" not in name
    if not (bare and 1 <= len(name) <= _LONGEST_SPOT):
        raise FieldError(
            "no name for an ink", value=name, where="--spot",
            remedy=f"give 1 to {_LONGEST_SPOT} characters without '/', such as 'Gold foil'",
        )  # fmt: skip


def artwork(
    subject: Subject, paths: Sequence[str], spot: str | None, *, fits: bool
) -> tuple[list[Finished], list[str]]:
    """The files of artwork, complete, and a line about each; none of what does not fit.

    Args:
        subject: what is lettered.
        paths: of ``--artwork``, each of a known kind.
        spot: the ink of a PDF; None for black.
        fits: whether all of it fits.

    Raises:
        FieldError: letters or a back of which there is none.
    """
    from spinefit.drawing.artwork import artwork_files

    made = [file for path in paths for file in artwork_files(subject, path, spot)]
    if not fits:
        return [], ["no artwork written: what does not fit is not to be placed"]
    once = {file.path: file for file in made}  # two kinds of one name share a placing sheet
    files = [Finished(file.path, file.data, _WHERE) for file in once.values()]
    return files, [file.said for file in once.values()]


class ArtworkFolder:
    """A folder for the artwork of a table.

    Args:
        path: of the folder; it is made with the first file.
        shared: whether files may stand in it already.

    Raises:
        OutputError: it cannot be such a folder, or holds files already.
    """

    def __init__(self, path: str, *, shared: bool) -> None:
        self._path = path
        self._count = 0
        if not path.strip() or "\0" in path:
            raise OutputError("no folder named", value=path, where=_WHERE, remedy="name a folder")
        if os.path.lexists(path) and not os.path.isdir(path):
            raise OutputError(
                "no folder", value=path, where=_WHERE, remedy="name a folder, or one to be made"
            )
        parent = os.path.dirname(os.path.abspath(path))
        if not os.path.isdir(parent):
            raise OutputError("no such folder", value=parent, where=_WHERE, remedy="make it first")
        if not shared and os.path.isdir(path) and os.listdir(path):
            raise OutputError(
                "this folder holds files already", value=path, where=_WHERE,
                remedy="name another, or give --force to replace files of the same names",
            )  # fmt: skip

    def write(self, files: Sequence[tuple[str, str | bytes]]) -> None:
        """Write the files of some rows, by name and data, each whole."""
        if not files:
            return
        os.makedirs(self._path, exist_ok=True)
        made = [Finished(os.path.join(self._path, name), data, _WHERE) for name, data in files]
        write_all(made, force=True)
        self._count += len(made)

    @property
    def said(self) -> str:
        """What was written, in a line."""
        files = "1 file" if self._count == 1 else f"{self._count} files"
        return f"{files} of artwork written into {self._path}; what does not fit has none"
