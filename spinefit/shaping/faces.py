"""Which faces do font files hold, which of them is meant, and which are installed here?

A rim. In: bytes of a file, and what a person says of the face and its axes. Out: a `FontFace` with
its names, axes and named instances, or the one chosen with a value for every axis. HarfBuzz takes
any axis tag and any value in silence, so both are held against the font here. Axes count in their
own units. Source: OpenType specification, name and fvar tables.

Where installed fonts lie is asked of the system itself, fontconfig, Core Text or DirectWrite,
through FindSystemFontsFilename; what they are called is read from the files. That is kept in the
user's cache, by path, time of change and size, so that only new and changed files are read again.
A file that is no usable font is passed over and counted.
"""

from __future__ import annotations

import json
import os
import struct
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache
from mmap import ACCESS_READ, mmap
from pathlib import Path
from typing import Any, NamedTuple, cast

from spinefit.errors import FontError, FontNotFoundError, nearest
from spinefit.shaping.harfbuzz import Axis, AxisValues, HarfBuzzFont, Instance
from spinefit.shaping.vetting import LARGEST_FILE, entries, face_count, vet

_REGULAR = ("regular", "roman", "normal", "book")  # styles that menus leave out of a name
_MOST_NAMED = 12
_OS2_WITH_PAGES = 86  # bytes; the oldest form has no code pages
_FORM = 1  # of the cache; another is read anew


class FontFace(NamedTuple):
    """A face of a font file.

    Attributes:
        number: counted from 1.
        name: family and style, as menus show it.
        also: its other names: in other languages, full and PostScript names.
        axes: the axes of a variable font.
        instances: its named instances.
        weight: weight class, from 1 to 1000.
        width_percent: of the normal width.
    """

    number: int
    name: str
    also: tuple[str, ...]
    axes: tuple[Axis, ...]
    instances: tuple[Instance, ...]
    weight: float
    width_percent: float


def plain_name(name: str) -> str:
    """A name with case, accents, spaces and hyphens forgiven.

    >>> plain_name("EB Garamond-Bold") == plain_name("eb garamond bold")
    True
    """
    decomposed = unicodedata.normalize("NFKD", name.casefold())
    return "".join(char for char in decomposed if char.isalnum())


def faces_of(data: bytes) -> tuple[FontFace, ...]:
    """Every face of a file.

    Args:
        data: the whole file, unpacked.

    Raises:
        FontBrokenError: a face that cannot be measured.
    """
    return tuple(face_of(data, number) for number in range(1, face_count(data) + 1))


def face_of(data: bytes, number: int) -> FontFace:
    """One face of a file, by its number from 1."""
    vet(data, number - 1)
    font = HarfBuzzFont(data, number - 1, ())
    families, styles, full = font.names()
    family, style = font.family_and_style()
    names = [f"{one} {other}" for one in families for other in styles]
    plainly = plain_name(style)
    if plainly in _REGULAR or not style:
        names.extend(families)
    name = family if plainly == _REGULAR[0] else f"{family} {style}".strip()
    weight, width_percent = font.weight_and_width
    return FontFace(
        number=number,
        name=name or next(iter(full), ""),
        also=tuple(dict.fromkeys((*names, *full))),
        axes=font.axes,
        instances=font.instances,
        weight=weight,
        width_percent=width_percent,
    )


def faces_in(path: Path) -> tuple[FontFace, ...] | None:
    """The faces of a file; None where it is no usable font."""
    try:
        if not path.is_file() or path.stat().st_size > LARGEST_FILE:
            return None
        return faces_of(path.read_bytes())
    except (OSError, FontError):
        return None


def choose_face(data: bytes, wanted: str) -> tuple[int, AxisValues, str]:
    """The number from 1 of the face that is meant; the axes and name of a named instance.

    Args:
        data: the whole file, unpacked.
        wanted: a number from 1, a face's name or style, or a named instance.

    Raises:
        FontError: there is none of that number or name; those there are are named.
    """
    count = face_count(data)
    if wanted.isascii() and wanted.isdigit() and 1 <= int(wanted) <= count:
        return int(wanted), (), ""
    known: dict[str, tuple[int, AxisValues, str]] = {}
    shown: list[str] = []
    for face in faces_of(data):
        shown.append(face.name if count == 1 else f"{face.number} {face.name}")
        for name in (face.name, *face.also):
            known.setdefault(plain_name(name), (face.number, (), ""))
        for instance in face.instances:
            shown.append(instance.name)
            called = f"{face.name} {instance.name}"
            for name in (instance.name, called):
                known.setdefault(plain_name(name), (face.number, instance.axes, called))
    found = known.get(plain_name(wanted))
    if found is None:
        more = ", ..." if len(shown) > _MOST_NAMED else ""
        raise FontError(
            "no such face in the font",
            value=wanted,
            where="--face",
            remedy=f"it has {', '.join(shown[:_MOST_NAMED])}{more}",
        )
    return found


def axis_values(axes: Sequence[Axis], asked: AxisValues, name: str) -> dict[str, float]:
    """Every axis of a font with its value: what was asked for, else the font's own.

    Args:
        axes: those of the font.
        asked: values by axis tag.
        name: of the font, for messages.

    Raises:
        FontError: an axis the font does not have, or a value past its ends.
    """
    found = {axis.tag: axis.usual for axis in axes}
    for tag, value in asked:
        axis = axis_named(axes, tag, name)
        if not axis.least <= value <= axis.most:
            raise FontError(
                f"{tag} of {name} runs from {axis.least:g} to {axis.most:g}",
                value=f"{value:g}",
                where="--axes",
                remedy="give a value in that range",
            )
        found[tag] = value
    return found


def axis_named(axes: Sequence[Axis], tag: str, name: str) -> Axis:
    """The axis of that tag.

    Raises:
        FontError: a font without axes, or without that one; those it has are named.
    """
    known = {axis.tag: axis for axis in axes}
    if tag in known:
        return known[tag]
    if not axes:
        raise FontError(
            f"{name} is no variable font and has no axes",
            value=tag,
            where="--axes",
            remedy="leave it out, or take a variable font",
        )
    like = nearest(tag, known)
    has = ", ".join(f"{one.tag} {one.least:g} to {one.most:g}" for one in axes)
    hint = f"did you mean '{like}'? " if like else ""
    raise FontError(
        f"{name} has no such axis", value=tag, where="--axes", remedy=f"{hint}it has {has}"
    )


class Installed(NamedTuple):
    """A face of an installed font, and its file."""

    path: str
    face: FontFace


class NamedFont(NamedTuple):
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
    axes: AxisValues


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
            row = [*stamp, faces_in(Path(path))]
        kept[path] = row
        if row[2] is None:
            broken += 1
        else:
            found.extend(Installed(path, face) for face in row[2])
    if kept != known:
        _keep(kept)
    return tuple(sorted(found, key=lambda one: (one.face.name.casefold(), one.path))), broken


def find_installed(wanted: str) -> NamedFont | None:
    """The installed font of that name, a named instance of a variable font too, or None.

    The name that is shown is taken before other names of a face, and a face before an instance;
    of several files the first by path.
    """
    return _names().get(plain_name(wanted))


def has_all(one: Installed, codes: Iterable[int]) -> bool:
    """Whether an installed face maps all these code points; no where it can no longer be read."""
    covered = _covered_by(one)
    return all(code >> 3 < len(covered) and covered[code >> 3] >> (code & 7) & 1 for code in codes)


def serves_page(one: Installed, page: int | None) -> bool:
    """Whether an installed face says that it serves a code page.

    Args:
        one: the face.
        page: its bit in the OS/2 table (OpenType specification); None for any.
    """
    if page is None:
        return True
    try:
        with Path(one.path).open("rb") as file, mmap(file.fileno(), 0, access=ACCESS_READ) as data:
            tables = entries(cast(bytes, data), one.face.number - 1)
            for tag, (offset, length, _sum) in tables:
                if tag == "OS/2" and length >= _OS2_WITH_PAGES:
                    return bool(struct.unpack_from(">L", data, offset + 78)[0] >> page & 1)
    except (OSError, ValueError, struct.error, FontError):
        pass  # it can no longer be read
    return False


@lru_cache(maxsize=512)
def _covered_by(one: Installed) -> bytes:
    """A bit for every code point: sets of them would fill the memory of who asks all fonts."""
    try:
        data = Path(one.path).read_bytes()
        vet(data, one.face.number - 1)
    except (OSError, FontError):
        return b""
    covered = HarfBuzzFont(data, one.face.number - 1, ()).covered()
    bits = bytearray((max(covered, default=0) >> 3) + 1)
    for code in covered:
        bits[code >> 3] |= 1 << (code & 7)
    return bytes(bits)


@lru_cache(maxsize=1)
def _names() -> dict[str, NamedFont]:
    fonts, _broken = installed_fonts()
    ordered = sorted(fonts, key=lambda one: (one.path, one.face.number))
    found: dict[str, NamedFont] = {}
    for path, face in ordered:
        found.setdefault(plain_name(face.name), NamedFont(path, face.number, face.name, ()))
    for path, face in ordered:
        for name in face.also:
            found.setdefault(plain_name(name), NamedFont(path, face.number, face.name, ()))
    for path, face in ordered:
        for instance in face.instances:
            called = f"{face.name} {instance.name}"
            meant = NamedFont(path, face.number, called, instance.axes)
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
