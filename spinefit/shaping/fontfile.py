"""Which font is meant, and is it fit to measure?

A rim: it finds a bundled font by name, opens a file, or asks for an installed one, vets it, and
keeps it open. Of one name the bundled font is meant, so that an answer is the same on every
machine. An `OpenFont` answers for glyph outlines and exact ink extents in em, at one place of
its axes, each found once.
"""

from __future__ import annotations

import hashlib
import os
from copy import copy
from functools import lru_cache
from pathlib import Path

from spinefit import catalogue
from spinefit.errors import FontBrokenError, FontError, FontNotFoundError, nearest
from spinefit.shaping.glyphs import Box, Outline, ink_box
from spinefit.shaping.harfbuzz import AxisValues, HarfBuzzFont
from spinefit.shaping.setter import Damage
from spinefit.shaping.vetting import (
    LARGEST_FILE,
    WHOLE_FILE,
    face_count,
    packed_as,
    refuse_intricate,
    refuse_wild,
    vet,
)

_SUFFIXES = (".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2")
# Letters whose tops are flat, in the three scripts whose capitals the trade speaks of.
_FLAT_CAPITALS = "HIETΗΙΕТНИ"
_FLAT_SMALL = "xzvuχνхин"
_MOST_SIZES = 256  # optical sizes kept open at once
_OPTICAL = "opsz"  # the axis that follows the size of the letters, in points


class OpenFont:
    """A font kept open, at one place of its axes.

    Args:
        name: as menus show it; "" for the name in the file.
        file: the file it came from, as the person named it.
        data: the whole file, unpacked.
        axes: values by axis tag; the others stand where the font has them.
        face: which face of a collection, from 1.
        digest: sha256 of the file as it lies on disk; None for that of ``data``.

    Attributes:
        name: as menus show it.
        file: the file it came from, as the person named it.
        sha256: digest of the file's bytes, in hexadecimal.
        face: which face of the file, from 1.
        axes: every axis of the font with its value; empty for a static font.
        optical: from which to which size the letters change with it, in points; None where
            they do not, or where the optical size was asked for.
        assumed: what was not said of the font, in words.
        damaged: itself, where tables do not have their checksums; empty where all have.
        shaper: HarfBuzz's side of it.
        plain_thinness_em: thinnest stroke and least counter of any plain character,
            where they were measured beforehand.

    Raises:
        FontBrokenError: bytes that are no usable font.
        FontError: an axis it does not have, or a value past its ends.
    """

    def __init__(
        self,
        name: str,
        file: str,
        data: bytes,
        axes: AxisValues,
        *,
        face: int = 1,
        digest: str | None = None,
    ) -> None:
        vet(data, face - 1)
        self.shaper = HarfBuzzFont(data, face - 1, axes)
        self.name = name or _joined(*self.shaper.family_and_style()) or Path(file).stem
        self.file = file
        self.sha256 = digest or hashlib.sha256(data).hexdigest()
        self.face: int | None = face
        self.assumed: tuple[str, ...] = ()
        self.damaged: tuple[Damage, ...] = ()
        self.optical: tuple[float, float] | None = None
        self.axes: AxisValues = ()
        self._sizes: dict[float, OpenFont] = {}
        own = self.shaper.axes
        if own or axes:
            from spinefit.shaping.faces import axis_values

            self.axes = tuple(axis_values(own, axes, self.name).items())
            range_of = {axis.tag: (axis.least, axis.most) for axis in own}
            if _OPTICAL in range_of and _OPTICAL not in dict(axes):
                self.optical = range_of[_OPTICAL]
        self._draw()

    def _draw(self) -> None:
        """Begin anew with what depends on the place of the axes."""
        self._outlines: dict[int, Outline] = {}
        self._ink: dict[int, Box | None] = {}
        space = self.shaper.nominal(" ")
        if space and self.outline(space):
            # Letterers leave spaces empty, and so does all that is measured here.
            raise FontBrokenError(f"the space of {self.name} has ink", remedy=WHOLE_FILE)
        self.plain_thinness_em: tuple[float, float] | None = None
        self.cap_height_em = self._top_of(_FLAT_CAPITALS)
        self.x_height_em = self._top_of(_FLAT_SMALL) or self.cap_height_em

    def at_size(self, size_pt: float) -> OpenFont:
        """The font as it is drawn for a size in points; itself where it has no optical size."""
        if self.optical is None:
            return self
        size = min(max(size_pt, self.optical[0]), self.optical[1])
        found = self._sizes.get(size)
        if found is None:
            found = copy(self)
            found.axes = tuple((tag, size if tag == _OPTICAL else at) for tag, at in self.axes)
            found.shaper = self.shaper.at(found.axes)
            found._draw()
            if len(self._sizes) >= _MOST_SIZES:
                self._sizes.clear()
            self._sizes[size] = found
        return found

    @property
    def middle_em(self) -> float:
        """Height over the baseline, in em, that stands on the middle of a column."""
        return self.shaper.middle_em()

    def outline(self, gid: int) -> Outline:
        """The curves of a glyph in em."""
        found = self._outlines.get(gid)
        if found is None:
            found = self.shaper.outline(gid)
            refuse_intricate(found, gid, self.name)
            self._outlines[gid] = found
        return found

    def ink(self, gid: int) -> Box | None:
        """Exact ink extents of a glyph in em from the pen, None for a glyph without ink."""
        try:
            return self._ink[gid]
        except KeyError:
            found = self._ink[gid] = ink_box(self.outline(gid))
            if found is not None:
                refuse_wild(found, gid, self.name)
            return found

    def _top_of(self, letters: str) -> float:
        """Height in em of the first of the letters that stands on the line; 0 for none."""
        for letter in letters:
            gid = self.shaper.nominal(letter)
            box = self.ink(gid) if gid else None
            if box and box[3] > 0:
                return box[3]
        return 0.0


def _joined(family: str, style: str) -> str:
    return family if style in ("", "Regular") else f"{family} {style}".strip()


def open_font(wanted: str, face: str | None = None, axes: AxisValues = ()) -> OpenFont:
    """The font of that name or file.

    Args:
        wanted: a bundled font's name, a path, or an installed font's name; case, spaces and
            hyphens of a name are forgiven.
        face: a face of a collection, from 1 or by name, or a named instance.
        axes: values by axis tag.

    Raises:
        FontNotFoundError: no font of that name, and no such file.
        FontBrokenError: the file is no usable font.
        FontError: no such face or axis, or a value past the ends of its axis.
    """
    bundled = _bundled(wanted)
    if bundled is not None:
        path, row = bundled
        return _opened(path, row.name, row.file, axes, face, own=row.axes)
    if not wanted.strip() or "\0" in wanted:
        raise FontNotFoundError("no font named", value=wanted, where="--font", remedy=_LIST)
    path = Path(os.path.expanduser(wanted))  # Path's own knows no way out of an unknown home
    if wanted.lower().endswith(_SUFFIXES) or os.sep in wanted or path.exists():
        return _opened(path, "", wanted, axes, face)
    return _installed(wanted, axes, face)


@lru_cache(maxsize=64)
def _bundled(wanted: str) -> tuple[Path, catalogue.FontRow] | None:
    """The bundled font of that name, and where it lies."""
    row = catalogue.font_named(wanted)
    return None if row is None else (catalogue.fonts_folder() / row.file, row)


def _installed(wanted: str, axes: AxisValues, face: str | None) -> OpenFont:
    """An installed font, by its name."""
    from spinefit.shaping.faces import find_installed, installed_fonts

    found = find_installed(wanted)
    if found is None:
        names = [row.name for row in catalogue.font_rows()]
        names += [one.face.name for one in installed_fonts()[0]]
        like = nearest(wanted, names)
        remedy = f"did you mean '{like}'? otherwise give a font file" if like else _LIST
        raise FontNotFoundError("no font of that name", value=wanted, where="--font", remedy=remedy)
    chosen = str(found.number) if face is None else face
    return _opened(Path(found.path), found.name, found.path, axes, chosen, own=found.axes)


_LIST = "'spinefit fonts --installed' lists the names known; or give a font file"


def bundled_fonts_covering(chars: frozenset[str]) -> list[str]:
    """Names of the bundled fonts that have every one of the characters."""
    names = [row.name for row in catalogue.font_rows()]
    return [name for name in names if all(map(open_font(name).shaper.nominal, chars))]


def _opened(
    path: Path, name: str, shown: str, axes: AxisValues, face: str | None, *, own: AxisValues = ()
) -> OpenFont:
    """The font of a file, ``own`` being the place on its axes that goes with its name."""
    try:
        stat = path.stat()
        return _kept_open(path, name, shown, own, axes, face, stat.st_mtime_ns, stat.st_size)
    except FileNotFoundError:
        from spinefit.job.files import looked_in

        raise FontNotFoundError(
            "no such font file", value=shown, where="--font",
            remedy=f"it was looked for in {looked_in(path)}; {_LIST}",
        ) from None  # fmt: skip
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        raise FontNotFoundError(
            f"the font file cannot be read ({reason})",
            value=shown,
            where="--font",
            remedy="give a TTF or OTF file",
        ) from None
    except FontError as fault:
        fault.value = shown if fault.value is None else fault.value
        raise fault.at("--font") from None


@lru_cache(maxsize=32)
def _kept_open(
    path: Path,
    name: str,
    shown: str,
    own: AxisValues,
    axes: AxisValues,
    face: str | None,
    _changed_ns: int,
    size: int,
) -> OpenFont:
    """The font, opened once until the file changes."""
    if path.is_dir():
        raise FontBrokenError("a folder is no font", remedy="give a TTF or OTF file")
    data = raw = _bytes_of(path, size)
    if packed_as(raw):
        from spinefit.shaping.packed import unpacked

        data = unpacked(raw)
    number, of_instance = 1, own
    if face is not None:
        from spinefit.shaping.faces import choose_face

        number, named, called = choose_face(data, face)
        if named:
            of_instance, name = named, called
    place = {**dict(of_instance), **dict(axes)}
    font = OpenFont(
        name, shown, data, tuple(place.items()), face=number, digest=hashlib.sha256(raw).hexdigest()
    )
    font.assumed = _assumed(data, face, font)
    row = catalogue.font_named(name) if name else None
    if row is not None and tuple(sorted(place.items())) == row.axes:
        font.plain_thinness_em = (row.thinnest_stroke_em, row.least_counter_em)
    if row is None or row.sha256 != font.sha256:
        font.damaged = _damage(font, data, number - 1)
    return font


def _damage(font: OpenFont, data: bytes, index: int) -> tuple[Damage, ...]:
    from spinefit.shaping.checksums import (
        damaged_tables,
        is_head_borne_out,
        is_whole,
        units_were,
    )

    tables = damaged_tables(data, index)
    if not tables:
        return ()
    borne_out = tables == ("head",) and (
        is_whole(data)
        or (
            units_were(data, index) is None
            and is_head_borne_out(font.shaper.upem, font.cap_height_em)
        )
    )
    return (Damage(font.name, tables, borne_out),)


def _bytes_of(path: Path, size: int) -> bytes:
    """What stands in a font file; a pipe or a device has no size, and may have no end."""
    raw = b""
    if size == 0:
        from spinefit.job.files import opened

        with opened(path) as file:
            raw = file.read(LARGEST_FILE + 1)
    elif size <= LARGEST_FILE:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    if size > LARGEST_FILE or len(raw) > LARGEST_FILE:
        raise FontBrokenError("the file is too large for a font", remedy="give a TTF or OTF file")
    return raw


def _assumed(data: bytes, face: str | None, font: OpenFont) -> tuple[str, ...]:
    """What was not said of the font."""
    found = []
    count = face_count(data)
    if face is None and count > 1:
        found.append(f"face: the first of {count}, {font.name}")
    if font.optical is not None:
        found.append("optical size: that of the letters")
    return tuple(found)
