"""Which font is meant, and is it fit to measure?

A rim: it finds a bundled font by name or opens a file, vets it, and keeps it open. An
`OpenFont` answers for glyph outlines and exact ink extents in em, each found once.
"""

from __future__ import annotations

import hashlib
import os
from functools import lru_cache
from pathlib import Path

from spinefit import catalogue
from spinefit.errors import FontBrokenError, FontError, FontNotFoundError, nearest
from spinefit.shaping.harfbuzz import HarfBuzzFont
from spinefit.shaping.ink import ink_box
from spinefit.shaping.outline import Box, Outline
from spinefit.shaping.sfnt import vet

__all__ = ["OpenFont", "bundled_fonts_covering", "open_font"]

_SUFFIXES = (".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2")
_LARGEST_FILE = 64 * 1024 * 1024
# Letters whose tops are flat, in the three scripts whose capitals the trade speaks of.
_FLAT_CAPITALS = "HIETΗΙΕТНИ"
_FLAT_SMALL = "xzvuχνхин"


class OpenFont:
    """A font kept open.

    Attributes:
        name: as menus show it.
        file: the file it came from, as the person named it.
        sha256: digest of the file's bytes, in hexadecimal.
        shaper: HarfBuzz's side of it.
        ascii_thinness_em: thinnest stroke and narrowest gap of any printable ASCII character,
            where they were measured beforehand.
    """

    def __init__(
        self, name: str, file: str, data: bytes, axes: tuple[tuple[str, float], ...]
    ) -> None:
        vet(data)
        self.shaper = HarfBuzzFont(data, 0, axes)
        self.name = name or _joined(*self.shaper.family_and_style()) or Path(file).stem
        self.file = file
        self.sha256 = hashlib.sha256(data).hexdigest()
        self._outlines: dict[int, Outline] = {}
        self._ink: dict[int, Box | None] = {}
        self.ascii_thinness_em: tuple[float, float] | None = None
        self.cap_height_em = self._top_of(_FLAT_CAPITALS)
        self.x_height_em = self._top_of(_FLAT_SMALL) or self.cap_height_em

    @property
    def middle_em(self) -> float:
        """Height over the baseline, in em, that stands on the middle of a column."""
        return self.shaper.middle_em()

    def outline(self, gid: int) -> Outline:
        """The curves of a glyph in em."""
        found = self._outlines.get(gid)
        if found is None:
            found = self._outlines[gid] = self.shaper.outline(gid)
        return found

    def ink(self, gid: int) -> Box | None:
        """Exact ink extents of a glyph in em from the pen, None for a glyph without ink."""
        try:
            return self._ink[gid]
        except KeyError:
            found = self._ink[gid] = ink_box(self.outline(gid))
            return found

    def _top_of(self, letters: str) -> float:
        """Height in em of the first of the letters that the font has; 0 for none."""
        for letter in letters:
            gid = self.shaper.nominal(letter)
            box = self.ink(gid) if gid else None
            if box:
                return box[3]
        return 0.0


def _joined(family: str, style: str) -> str:
    return family if style in ("", "Regular") else f"{family} {style}".strip()


def open_font(wanted: str) -> OpenFont:
    """The font of that name or file.

    Args:
        wanted: a bundled font's name, case and spaces forgiven, or a path.

    Raises:
        FontNotFoundError: neither a known name nor a file.
        FontBrokenError: the file is no usable font.
    """
    row = catalogue.font_named(wanted)
    if row is not None:
        path = catalogue.fonts_folder() / row.file
        font = _opened(path, row.name, row.file, row.axes)
        font.ascii_thinness_em = (row.thinnest_stroke_em, row.narrowest_gap_em)
        return font
    if not wanted.strip() or "\0" in wanted:
        raise FontNotFoundError("no font named", value=wanted, where="--font", remedy=_LIST)
    path = Path(wanted).expanduser()
    if wanted.lower().endswith(_SUFFIXES) or os.sep in wanted or path.exists():
        return _opened(path, "", wanted, ())
    like = nearest(wanted, [known.name for known in catalogue.font_rows()])
    remedy = f"did you mean '{like}'? otherwise give a font file" if like else _LIST
    raise FontNotFoundError("no font of that name", value=wanted, where="--font", remedy=remedy)


_LIST = "'spinefit fonts' lists the names known; or give a TTF or OTF file"


def bundled_fonts_covering(chars: frozenset[str]) -> list[str]:
    """Names of the bundled fonts that have every one of the characters."""
    codes = {ord(char) for char in chars}
    found = []
    for row in catalogue.font_rows():
        font = open_font(row.name)
        if codes <= font.shaper.covered():
            found.append(row.name)
    return found


def _opened(path: Path, name: str, shown: str, axes: tuple[tuple[str, float], ...]) -> OpenFont:
    try:
        stat = path.stat()
        return _kept_open(path, name, shown, axes, stat.st_mtime_ns, stat.st_size)
    except FileNotFoundError:
        raise FontNotFoundError(
            "no such font file", value=shown, where="--font", remedy=_LIST
        ) from None
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        raise FontNotFoundError(
            f"the font file cannot be read ({reason})",
            value=shown,
            where="--font",
            remedy="give a TTF or OTF file",
        ) from None
    except FontError as fault:
        fault.value = fault.value or shown
        raise fault.at("--font") from None


@lru_cache(maxsize=32)
def _kept_open(
    path: Path,
    name: str,
    shown: str,
    axes: tuple[tuple[str, float], ...],
    _changed_ns: int,
    size: int,
) -> OpenFont:
    """The font, opened once until the file changes."""
    if path.is_dir():
        raise FontBrokenError("a folder is no font", remedy="give a TTF or OTF file")
    if size > _LARGEST_FILE:
        raise FontBrokenError("the file is too large for a font", remedy="give a TTF or OTF file")
    return OpenFont(name, shown, path.read_bytes(), axes)
