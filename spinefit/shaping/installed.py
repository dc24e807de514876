"""Which fonts are installed on this machine, and in which file does a named one lie?

A rim. Where fonts lie is asked of the system itself, fontconfig, Core Text or DirectWrite,
through FindSystemFontsFilename; what they are called is read from the files. That is kept in the
user's cache, by path, time of change and size, so that only new and changed files are read
again. A file that is no usable font is passed over and counted.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from spinefit.errors import FontError, FontNotFoundError
from spinefit.shaping.faces import FontFace, faces_of, plain_name
from spinefit.shaping.harfbuzz import Axis, HarfBuzzFont, Instance
from spinefit.shaping.sfnt import vet

__all__ = ["Found", "Installed", "covered_by", "find_installed", "installed_fonts"]

_FORM = 1  # of the cache; another is read anew
_LARGEST_FILE = 256 * 1024 * 1024


class Installed(NamedTuple):
    """A face of an installed font, and its file."""

    path: str
    face: FontFace


class Found(NamedTuple):
    """The file that a name stands for.

    Attributes:
        path: the file.
        number: its face, from 1.
        name: as menus show it.
        axes: those of a named instance.
    """

    path: str
    number: int
    name: str
    axes: tuple[tuple[str, float], ...]


@lru_cache(maxsize=1)
def installed_fonts() -> tuple[tuple[Installed, ...], int]:
    """Every face that is installed, by name, and how many files could not be read.

    Raises:
        FontNotFoundError: the system does not say which fonts it has.
    """
    known, kept = _cached(), {}
    found: list[Installed] = []
    broken = 0
    for path in sorted(_paths()):
        try:
            stat = Path(path).stat()
        except OSError:
            broken += 1
            continue
        stamp = [stat.st_mtime_ns, stat.st_size]
        row = known.get(path)
        if row is None or row[:2] != stamp:
            row = [*stamp, _read(path, stat.st_size)]
        kept[path] = row
        if row[2] is None:
            broken += 1
        else:
            found.extend(Installed(path, face) for face in row[2])
    if kept != known:
        _keep(kept)
    return tuple(sorted(found, key=lambda one: (one.face.name.casefold(), one.path))), broken


def find_installed(wanted: str) -> Found | None:
    """The installed font of that name, a named instance of a variable font too, or None.

    The name that is shown is taken before other names of a face, and a face before an instance;
    of several files the first by path.
    """
    return _names().get(plain_name(wanted))


def covered_by(one: Installed) -> frozenset[int]:
    """Every code point that an installed face maps; none where it can no longer be read."""
    try:
        data = Path(one.path).read_bytes()
        vet(data, one.face.number - 1)
    except (OSError, FontError):
        return frozenset()
    return HarfBuzzFont(data, one.face.number - 1, ()).covered()


@lru_cache(maxsize=1)
def _names() -> dict[str, Found]:
    fonts, _broken = installed_fonts()
    ordered = sorted(fonts, key=lambda one: (one.path, one.face.number))
    found: dict[str, Found] = {}
    for path, face in ordered:
        found.setdefault(plain_name(face.name), Found(path, face.number, face.name, ()))
    for path, face in ordered:
        for name in face.also:
            found.setdefault(plain_name(name), Found(path, face.number, face.name, ()))
    for path, face in ordered:
        for instance in face.instances:
            called = f"{face.name} {instance.name}"
            meant = Found(path, face.number, called, instance.axes)
            for family in (face.name, *face.also):
                found.setdefault(plain_name(f"{family} {instance.name}"), meant)
    return found


def _paths() -> Iterable[str]:
    try:
        from find_system_fonts_filename import get_system_fonts_filename

        return [str(path) for path in get_system_fonts_filename()]
    except Exception as fault:  # whatever the system's own library cannot do
        raise FontNotFoundError(
            "the system does not say which fonts are installed",
            value=str(fault) or type(fault).__name__,
            where="--font",
            remedy="give a font file; on Linux, fontconfig's library has to be installed",
        ) from None


def _read(path: str, size: int) -> list[FontFace] | None:
    """The faces of a file; None where it is no usable font."""
    if size > _LARGEST_FILE:
        return None
    try:
        return list(faces_of(Path(path).read_bytes()))
    except (OSError, FontError):
        return None


def _cache_file() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("spinefit", appauthor=False) / "fonts.json"


def _cached() -> dict[str, list[Any]]:
    """What was read before; nothing where that is not to be had."""
    try:
        table = json.loads(_cache_file().read_text(encoding="utf-8"))
        if table["form"] != _FORM:
            return {}
        return {
            path: [changed, size, None if faces is None else [_face(row) for row in faces]]
            for path, (changed, size, faces) in table["files"].items()
        }
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return {}


def _face(row: list[Any]) -> FontFace:
    number, name, also, axes, instances, weight, width_percent = row
    return FontFace(
        number=int(number),
        name=str(name),
        also=tuple(map(str, also)),
        axes=tuple(Axis(*axis) for axis in axes),
        instances=tuple(
            Instance(called, tuple((tag, float(value)) for tag, value in place))
            for called, place in instances
        ),
        weight=float(weight),
        width_percent=float(width_percent),
    )


def _keep(files: dict[str, list[Any]]) -> None:
    """Write the cache whole or not at all; without one the files are read again next time."""
    try:
        path = _cache_file()
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f"{path.name}.{os.getpid()}")
        part.write_text(json.dumps({"form": _FORM, "files": files}), encoding="utf-8")
        part.replace(path)
    except (OSError, UnicodeError):
        return
