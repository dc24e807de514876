"""Are these bytes a font that can be measured?

HarfBuzz takes any bytes for a font and draws nothing with them, so the table directory is
vetted by hand first: signature, tables inside the file, the tables that shaping and outlines
need, a sane number of units per em. Source: OpenType specification, font file and head table.
"""

from __future__ import annotations

import struct

from spinefit.errors import FontBrokenError

__all__ = ["vet"]

_SIGNATURES = frozenset({b"\x00\x01\x00\x00", b"OTTO", b"true"})
_NEEDED = ("cmap", "head", "hhea", "hmtx", "maxp")
_OUTLINES = (("glyf", "loca"), ("CFF ",), ("CFF2",))
_PACKED = {b"wOFF": "WOFF", b"wOF2": "WOFF2"}
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
            "the font has no outlines, only pictures or nothing", remedy="give a TTF or OTF file"
        )
    offset, length = tables["head"]
    upem = struct.unpack_from(">H", data, offset + 18)[0] if length >= 54 else 0
    if not _UPEM[0] <= upem <= _UPEM[1]:
        raise FontBrokenError("the font's units per em cannot be", value=upem, remedy=_REMEDY)
    offset, length = tables["maxp"]
    if length < 6 or struct.unpack_from(">H", data, offset + 4)[0] == 0:
        raise FontBrokenError("the font has no glyphs", remedy=_REMEDY)


_REMEDY = "the file is damaged or no font; give a whole TTF or OTF file"


def _face_start(data: bytes, index: int) -> int:
    if data[:4] in _PACKED:
        raise FontBrokenError(
            f"a {_PACKED[data[:4]]} web font is not read", remedy="give its TTF or OTF file"
        )
    if data[:4] != b"ttcf":
        return 0
    if len(data) < 12:
        raise FontBrokenError("the collection ends too soon", remedy=_REMEDY)
    count = struct.unpack_from(">L", data, 8)[0]
    if not 0 <= index < count or len(data) < 16 + 4 * index:
        raise FontBrokenError(f"the collection has no face {index}", remedy=_REMEDY)
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
    for number in range(count):
        tag, _sum, offset, length = struct.unpack_from(">4sLLL", data, start + 12 + 16 * number)
        name = tag.decode("latin-1")
        if offset + length > len(data):
            raise FontBrokenError(f"the font's {name} table runs past the file", remedy=_REMEDY)
        tables[name] = (offset, length)
    return tables
