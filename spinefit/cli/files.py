"""How are the binder's files written, whole or not at all?

In: paths and what belongs there. Out: the files; each is written beside its place under another
name first, and all are renamed at the end, so that nobody ever sees half of one. What stands
there already is kept unless it may be replaced; a folder, a device or a pipe never is: renaming
over one would take it from everybody. ``sweep`` takes unfinished ones away, for a process that is
ended by Ctrl-C. Drawings are files like others; each kind's library is loaded where it is
asked for.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, NamedTuple

from spinefit.errors import OutputError, reason_of

if TYPE_CHECKING:
    from spinefit.drawing.plate import Subject

_DRAWING = "--drawing"
_KINDS = {_DRAWING: (".svg", ".pdf", ".html"), "--artwork": (".svg", ".pdf")}
_begun: set[str] = set()


class Finished(NamedTuple):
    """What belongs in a file.

    Attributes:
        path: where.
        data: text, written as UTF-8, or bytes.
        where: the option that named it, for messages.
    """

    path: str
    data: str | bytes
    where: str


def refuse_existing(path: str, where: str) -> None:
    """Refuse a path at which something stands already.

    Args:
        path: where a file is to be written.
        where: the option that named it, for the message.

    Raises:
        OutputError: something stands there, or nothing can by such a name.
    """
    refuse_irreplaceable(path, where)  # first, since no --force would help
    if os.path.lexists(path):
        raise OutputError(
            "there is such a file already",
            value=path,
            where=where,
            remedy="choose another name, or give --force to replace it",
        )


def refuse_irreplaceable(path: str, where: str) -> None:
    """Refuse a path at which no file of ours may ever stand, whatever was allowed.

    Args:
        path: where a file is to be written.
        where: the option that named it, for the message.

    Raises:
        OutputError: no name, or one that no file can have; or a folder, a device, a pipe or a
            socket stands there, or a link to one, or a link that the system keeps, as
            ``/dev/stdout`` is. Any other link is replaced, what it points to kept.
    """
    _refuse_zero_byte(path, where)
    if not path.strip():
        raise OutputError("no file named", value=path, where=where, remedy="name the file to write")
    what = _irreplaceable(path)
    if what is not None:
        raise OutputError(
            f"{what} stands there, which no file may replace", value=path, where=where,
            remedy="choose another name",
        )  # fmt: skip


def _irreplaceable(path: str) -> str | None:
    """What stands there that is no file nor an ordinary link to one; None for nothing such."""
    try:
        mode = os.lstat(path).st_mode
        if stat.S_ISLNK(mode):
            if _is_of_the_system(path):
                return "a link of the system's own"
            mode = os.stat(path).st_mode
    except OSError:
        return None  # nothing stands there, or the writing will say what is in the way
    if stat.S_ISREG(mode):
        return None
    return "a folder" if stat.S_ISDIR(mode) else "a device or a pipe"


def _is_of_the_system(link: str) -> bool:
    """Whether a link is one that other programs find their way by, wherever it leads just now."""
    folder = Path(os.path.realpath(os.path.dirname(link) or os.curdir))
    return folder.parts[1:2] in {("dev",), ("proc",), ("sys",)}


def make_folder(path: str, where: str) -> None:
    """Make a folder, where there is none yet.

    Args:
        path: its name; the folder it lies in has to be there.
        where: the option that named it, for the message.

    Raises:
        OutputError: it cannot be made.
    """
    with writing(path, where), suppress(FileExistsError):
        os.mkdir(path)


def refuse_same(paths: Sequence[tuple[str, str]]) -> None:
    """Refuse two files of one name.

    Args:
        paths: each path and the option that named it.

    Raises:
        OutputError: two of them are one and the same place.
    """
    seen: set[str] = set()
    for path, where in paths:
        _refuse_zero_byte(path, where)
        place = os.path.normcase(os.path.realpath(path))
        if place in seen:
            raise OutputError(
                "two files of the same name", value=path, where=where,
                remedy="give each a name of its own",
            )  # fmt: skip
        seen.add(place)


def _refuse_zero_byte(path: str, where: str) -> None:
    if "\0" in path:
        raise OutputError(
            "no file can have such a name", value=path, where=where, remedy="choose another name"
        )


def write_whole(path: str, data: str | bytes, where: str, *, force: bool) -> None:
    """Write one file, whole or not at all: `write_all` of one."""
    write_all([Finished(path, data, where)], force=force)


def write_all(files: Sequence[Finished], *, force: bool) -> None:
    """Write several files, all of them or none.

    Args:
        files: what to write.
        force: replace what stands there.

    Raises:
        OutputError: something stands at one of the places, or cannot be written there; or two
            of them are one place.
    """
    refuse_same([(file.path, file.where) for file in files])
    for file in files:
        if not force:
            refuse_existing(file.path, file.where)
        refuse_irreplaceable(file.path, file.where)
    parts: list[str] = []
    try:
        for file in files:
            with writing(file.path, file.where):
                parts.append(_part_of(file))
        for file, part in zip(files, parts, strict=True):
            with writing(file.path, file.where):
                os.replace(part, file.path)
                _begun.discard(part)
    except BaseException:
        sweep()
        raise


def sweep() -> None:
    """Take away every file that was begun and not finished."""
    for part in list(_begun):
        with suppress(OSError):
            os.unlink(part)
        _begun.discard(part)


def _part_of(file: Finished) -> str:
    """The data under another name beside its place."""
    target = Path(file.path)
    part = str(target.parent / f".{target.name[:50]}.{os.getpid()}.{len(_begun)}.part")
    data = file.data.encode() if isinstance(file.data, str) else file.data
    _begun.add(part)  # before it is there, so that it is swept away whenever the end comes
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(handle, "wb") as opened:
        opened.write(data)
    return part


@contextmanager
def writing(path: str, where: str) -> Iterator[None]:
    """While it lasts, what the system says of a file becomes one line.

    Args:
        path: the file.
        where: the option that named it.
    """
    try:
        yield
    except (OSError, ValueError) as fault:
        raise OutputError(
            f"the file cannot be written ({reason_of(fault)})", value=path, where=where,
            remedy="choose a place that may be written to, with room for it",
        ) from None  # fmt: skip


def refuse_drawings(
    drawings: Sequence[tuple[str, str]], others: Sequence[tuple[str, str]], *, force: bool
) -> None:
    """Refuse names under which no drawing or artwork can be written.

    Args:
        drawings: their paths, with their options.
        others: other files that are to be written, with their options.
        force: whether what stands there may be replaced.

    Raises:
        OutputError: an unknown kind, a name given twice, no such folder, or a file there.
    """
    for path, where in drawings:
        kinds = _KINDS[where]
        if _kind(path) not in kinds:
            raise OutputError(
                f"no such kind of {where.removeprefix('--')}", value=path, where=where,
                remedy=f"let the name end in {', '.join(kinds[:-1])} or {kinds[-1]}",
            )  # fmt: skip
    refuse_same([*others, *drawings])
    for path, where in drawings:
        folder = os.path.dirname(path) or "."
        if "\0" in path or not os.path.isdir(folder):
            raise OutputError("no such folder", value=folder, where=where, remedy="make it first")
        if not force:
            refuse_existing(path, where)


def drawn(subject: Subject, paths: Sequence[str]) -> list[Finished]:
    """Every drawing asked for, complete.

    Args:
        subject: what to draw.
        paths: of ``--drawing``, each of a known kind.
    """
    return [Finished(path, _data(subject, _kind(path)), _DRAWING) for path in paths]


def _data(subject: Subject, kind: str) -> str | bytes:
    if kind == ".html":
        from spinefit.drawing.html import to_html

        return to_html(subject)
    from spinefit.drawing.plate import plates, stacked

    scenes = plates(subject)
    if kind == ".svg":
        from spinefit.drawing.svg import to_svg

        return to_svg(stacked(scenes))
    from spinefit.drawing.pdf import to_pdf

    return to_pdf(scenes)


def _kind(path: str) -> str:
    return PurePath(path).suffix.lower()
