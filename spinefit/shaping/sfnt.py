"""Are these bytes a font that can be measured?

HarfBuzz takes any bytes for a font and draws nothing with them, so the table directory is
vetted by hand first: signature, tables inside the file, the tables that shaping and outlines
need, a sane number of units per em. Source: OpenType specification, font file and head table.
"""

from __future__ import annotations

import struct
import sys
from array import array
from collections.abc import Iterator

from spinefit.errors import FontBrokenError

__all__ = ["damaged_tables", "face_count", "packed_as", "vet"]

_SIGNATURES = frozenset({b"\x00\x01\x00\x00", b"OTTO", b"true"})
_NEEDED = ("cmap", "head", "hhea", "hmtx", "maxp")
_OUTLINES = (("glyf", "loca"), ("CFF ",), ("CFF2",))
# `head` is left out: its own sum is counted in another way, and old programs get it wrong.
_MEASURED = frozenset(
    ("cmap", "hhea", "hmtx", "maxp", "glyf", "loca", "CFF ", "CFF2", "GSUB", "GPOS", "gvar", "fvar")
)
_PICTURES = {
    "EBDT": "bitmaps (EBDT)",
    "CBDT": "colour bitmaps (CBDT)",
    "sbix": "colour bitmaps (sbix)",
    "SVG ": "SVG drawings",
    "bdat": "bitmaps (bdat)",
}
_PACKED = {b"wOFF": "WOFF", b"wOF2": "WOFF2"}
_AXIS_BYTES = 20
_UPEM = (16, 16384)  # bounds set by the head table's specification


def vet(data: bytes, index: int = 0) -> None:
    """Refuse bytes that are no usable font.

    Args:
        data: the whole file.
        index: face of a collection.

    Raises:
        FontBrokenError: what is wrong with the file.
    """
    start = _face_start(data, index)
    tables = _directory(data, start)
    missing = [tag for tag in _NEEDED if tag not in tables]
    if missing:
        raise FontBrokenError(f"the font lacks its {', '.join(missing)} table", remedy=_REMEDY)
    if not any(all(tag in tables for tag in tags) for tags in _OUTLINES):
        raise FontBrokenError(
            f"the font has no outlines, only {_pictures(tables)}",
            remedy="its letters cannot be measured: give a font with outlines",
        )
    offset, length = tables["head"]
    upem = struct.unpack_from(">H", data, offset + 18)[0] if length >= 54 else 0
    if not _UPEM[0] <= upem <= _UPEM[1]:
        raise FontBrokenError("the font's units per em cannot be", value=upem, remedy=_REMEDY)
    offset, length = tables["maxp"]
    if length < 6 or struct.unpack_from(">H", data, offset + 4)[0] == 0:
        raise FontBrokenError("the font has no glyphs", remedy=_REMEDY)
    if "fvar" in tables:
        _vet_variations(data, tables)


def _vet_variations(data: bytes, tables: dict[str, tuple[int, int]]) -> None:
    """Refuse axes and variations that HarfBuzz would pass over, so that no letter changed.

    Source: OpenType specification, fvar and gvar tables.
    """
    offset, length = tables["fvar"]
    head = data[offset : offset + length][:16].ljust(16, b"\0")
    version, _minor, at, _two, axes, size, named, of_named = struct.unpack(">8H", head)
    short = (axes and size < _AXIS_BYTES) or (named and of_named < 4 * axes + 4)
    if version != 1 or short or at + axes * size + named * of_named > length:
        raise FontBrokenError("the font's fvar table is damaged", remedy=_REMEDY)
    if not axes or "gvar" not in tables:
        return
    (glyphs,) = struct.unpack_from(">H", data, tables["maxp"][0] + 4)
    offset, length = tables["gvar"]
    head = data[offset : offset + length][:20].ljust(20, b"\0")
    version, _minor, of_axes, _shared, _at, of_glyphs, flags, at = struct.unpack(">HHHHLHHL", head)
    listed = 20 + (of_glyphs + 1) * (4 if flags & 1 else 2)
    if version != 1 or (of_axes, of_glyphs) != (axes, glyphs) or max(at, listed) > length:
        raise FontBrokenError("the font's gvar table is damaged", remedy=_REMEDY)


def damaged_tables(data: bytes, index: int = 0) -> tuple[str, ...]:
    """Tables that lettering is measured by and whose bytes are not what their checksums say.

    Of 81 fonts of a system at hand none had one; but a program that edits fonts may leave old
    checksums behind, so that it is no proof of damage. Source: OpenType specification,
    calculating checksums.

    Args:
        data: the whole file, vetted.
        index: face of a collection.
    """
    start = _face_start(data, index)
    return tuple(
        tag
        for tag, (offset, length, said) in _entries(data, start)
        if tag in _MEASURED and _checksum(data[offset : offset + length]) != said
    )


def _checksum(table: bytes) -> int:
    """The sum of a table's words of four bytes, the last one filled up with zeros."""
    words = array("I", table + bytes(-len(table) % 4))
    if sys.byteorder == "little":
        words.byteswap()
    return sum(words) & 0xFFFFFFFF


_REMEDY = "the file is damaged or no font; give a whole TTF or OTF file"


def face_count(data: bytes) -> int:
    """How many faces the file holds: those of a collection, else one.

    Raises:
        FontBrokenError: a collection without a face, or one that ends too soon.
    """
    if data[:4] != b"ttcf":
        return 1
    if len(data) < 12:
        raise FontBrokenError("the collection ends too soon", remedy=_REMEDY)
    count = int(struct.unpack_from(">L", data, 8)[0])
    if count == 0 or len(data) < 12 + 4 * count:
        raise FontBrokenError("the collection has no faces", value=count, remedy=_REMEDY)
    return count


def packed_as(data: bytes) -> str | None:
    """WOFF or WOFF2 where the bytes are a packed web font; else None."""
    return _PACKED.get(bytes(data[:4]))


def _pictures(tables: dict[str, tuple[int, int]]) -> str:
    """What a font without outlines draws its letters with."""
    found = [name for tag, name in _PICTURES.items() if tag in tables]
    return " and ".join(dict.fromkeys(found)) or "pictures or nothing"


def _face_start(data: bytes, index: int) -> int:
    if data[:4] in _PACKED:
        raise FontBrokenError(f"a {_PACKED[data[:4]]} web font still packed", remedy=_REMEDY)
    if not 0 <= index < face_count(data):
        raise FontBrokenError(f"the file has no face {index}", remedy=_REMEDY)
    if data[:4] != b"ttcf":
        return 0
    return int(struct.unpack_from(">L", data, 12 + 4 * index)[0])


def _directory(data: bytes, start: int) -> dict[str, tuple[int, int]]:
    """Offset and length of every table, all inside the file."""
    if len(data) < start + 12:
        raise FontBrokenError("the file is too short to be a font", remedy=_REMEDY)
    if data[start : start + 4] not in _SIGNATURES:
        raise FontBrokenError("the file is no TrueType or OpenType font", remedy=_REMEDY)
    count = struct.unpack_from(">H", data, start + 4)[0]
    if len(data) < start + 12 + 16 * count:
        raise FontBrokenError("the font's table directory ends too soon", remedy=_REMEDY)
    tables: dict[str, tuple[int, int]] = {}
    for name, (offset, length, _said) in _entries(data, start):
        if offset + length > len(data):
            raise FontBrokenError(f"the font's {name} table runs past the file", remedy=_REMEDY)
        tables[name] = (offset, length)
    return tables


def _entries(data: bytes, start: int) -> Iterator[tuple[str, tuple[int, int, int]]]:
    """Each table of the directory: its tag, offset, length and checksum."""
    for number in range(struct.unpack_from(">H", data, start + 4)[0]):
        tag, said, offset, length = struct.unpack_from(">4sLLL", data, start + 12 + 16 * number)
        yield tag.decode("latin-1"), (offset, length, said)
