"""Are these bytes a font that can be measured, and its glyphs what any letter could be?

HarfBuzz takes any bytes for a font and draws nothing with them, so the table directory is
vetted by hand first: signature, tables inside the file, the tables that shaping and outlines
need, a sane number of units per em. Source: OpenType specification, font file and head table.
It draws whatever a damaged or hostile file holds: ink far from its letter, or thousands of
contours and scribbles whose crossings alone would fill the memory. The bounds of glyphs lie well
past all those of 107 fonts at hand (computed; 100,000 glyphs of Latin, Arabic, Han and symbols).
"""

from __future__ import annotations

import math
import struct
from collections.abc import Iterator

from spinefit.errors import FontBrokenError
from spinefit.shaping.glyphs import Box, Outline

_SIGNATURES = frozenset({b"\x00\x01\x00\x00", b"OTTO", b"true"})
_NEEDED = ("cmap", "head", "hhea", "hmtx", "maxp")
_OUTLINES = (("glyf", "loca"), ("CFF ",), ("CFF2",))
LARGEST_FILE = 256 * 1024 * 1024
"""What no font file is longer than, in bytes."""
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
REMEDY = "the file is damaged or no font; give a whole TTF or OTF file"
"""What to do about bytes that are no font."""

WHOLE_FILE = "the outlines are damaged: give a whole TTF or OTF file"
"""What to do about outlines that cannot be."""

# The widest letter at hand, U+FDFD in Amiri, reaches 11.5 times the size; the tallest ones, parts
# of mathematical brackets, 3.6 times.
WIDEST_EM = 15.0
"""What no letter of a sound font reaches from its origin, in em."""
_TALLEST_EM = 10.0

_MOST_CONTOURS = 250  # at most 84 at hand, in a shaded block
_MOST_SEGMENTS = 4000  # at most 676, in U+FDFD
_LONGEST_SIDES = 60.0  # of the longer side of its box; at most 26, in a symbol
_FEW_SEGMENTS = 100  # so few cannot cross so often that it matters


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
        raise FontBrokenError(f"the font lacks its {', '.join(missing)} table", remedy=REMEDY)
    if not any(all(tag in tables for tag in tags) for tags in _OUTLINES):
        raise FontBrokenError(
            f"the font has no outlines, only {_pictures(tables)}",
            remedy="its letters cannot be measured: give a font with outlines",
        )
    offset, length = tables["head"]
    upem = struct.unpack_from(">H", data, offset + 18)[0] if length >= 54 else 0
    if not _UPEM[0] <= upem <= _UPEM[1]:
        raise FontBrokenError("the font's units per em cannot be", value=upem, remedy=REMEDY)
    offset, length = tables["maxp"]
    if length < 6 or struct.unpack_from(">H", data, offset + 4)[0] == 0:
        raise FontBrokenError("the font has no glyphs", remedy=REMEDY)
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
        raise FontBrokenError("the font's fvar table is damaged", remedy=REMEDY)
    if not axes or "gvar" not in tables:
        return
    (glyphs,) = struct.unpack_from(">H", data, tables["maxp"][0] + 4)
    offset, length = tables["gvar"]
    head = data[offset : offset + length][:20].ljust(20, b"\0")
    version, _minor, of_axes, _shared, _at, of_glyphs, flags, at = struct.unpack(">HHHHLHHL", head)
    listed = 20 + (of_glyphs + 1) * (4 if flags & 1 else 2)
    if version != 1 or (of_axes, of_glyphs) != (axes, glyphs) or max(at, listed) > length:
        raise FontBrokenError("the font's gvar table is damaged", remedy=REMEDY)


def entries(data: bytes, index: int = 0) -> Iterator[tuple[str, tuple[int, int, int]]]:
    """Each table of a face's directory: its tag, offset, length and checksum.

    Args:
        data: the whole file, vetted.
        index: face of a collection.
    """
    return _entries(data, _face_start(data, index))


def face_count(data: bytes) -> int:
    """How many faces the file holds: those of a collection, else one.

    Raises:
        FontBrokenError: a collection without a face, or one that ends too soon.
    """
    if data[:4] != b"ttcf":
        return 1
    if len(data) < 12:
        raise FontBrokenError("the collection ends too soon", remedy=REMEDY)
    count = int(struct.unpack_from(">L", data, 8)[0])
    if count == 0 or len(data) < 12 + 4 * count:
        raise FontBrokenError("the collection has no faces", value=count, remedy=REMEDY)
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
        raise FontBrokenError(f"a {_PACKED[data[:4]]} web font still packed", remedy=REMEDY)
    if not 0 <= index < face_count(data):
        raise FontBrokenError(f"the file has no face {index}", remedy=REMEDY)
    if data[:4] != b"ttcf":
        return 0
    return int(struct.unpack_from(">L", data, 12 + 4 * index)[0])


def _directory(data: bytes, start: int) -> dict[str, tuple[int, int]]:
    """Offset and length of every table, all inside the file."""
    if len(data) < start + 12:
        raise FontBrokenError("the file is too short to be a font", remedy=REMEDY)
    if data[start : start + 4] not in _SIGNATURES:
        raise FontBrokenError("the file is no TrueType or OpenType font", remedy=REMEDY)
    count = struct.unpack_from(">H", data, start + 4)[0]
    if len(data) < start + 12 + 16 * count:
        raise FontBrokenError("the font's table directory ends too soon", remedy=REMEDY)
    tables: dict[str, tuple[int, int]] = {}
    for name, (offset, length, _stated) in _entries(data, start):
        if offset + length > len(data):
            raise FontBrokenError(f"the font's {name} table runs past the file", remedy=REMEDY)
        tables[name] = (offset, length)
    return tables


def _entries(data: bytes, start: int) -> Iterator[tuple[str, tuple[int, int, int]]]:
    for number in range(struct.unpack_from(">H", data, start + 4)[0]):
        tag, stated, offset, length = struct.unpack_from(">4sLLL", data, start + 12 + 16 * number)
        yield tag.decode("latin-1"), (offset, length, stated)


def refuse_wild(box: Box, gid: int, name: str) -> None:
    """Refuse ink that no letter has: damaged outlines give it, and no lettering is so large.

    Args:
        box: extents of the ink in em.
        gid: number of the glyph.
        name: of the font.

    Raises:
        FontBrokenError: ink too far from its origin.
    """
    wide, high = max(-box[0], box[2]), max(-box[1], box[3])
    # Written so that what is no number does not pass.
    if not (wide <= WIDEST_EM and high <= _TALLEST_EM):
        raise FontBrokenError(
            f"glyph {gid} of {name} reaches {max(wide, high):.0f} times the size from its origin",
            remedy=WHOLE_FILE,
        )


def refuse_intricate(outline: Outline, gid: int, name: str) -> None:
    """Refuse an outline that is too much to measure.

    The work grows with the square of each: contours are held against one another, and so are
    the parts of a long line.

    Args:
        outline: contours in em.
        gid: number of the glyph.
        name: of the font.

    Raises:
        FontBrokenError: too many contours or segments, or too long a line.
    """
    segments = sum(len(contour.segments) for contour in outline)
    if len(outline) > _MOST_CONTOURS:
        what = f"is drawn in {len(outline)} contours, and {_MOST_CONTOURS}"
    elif segments > _MOST_SEGMENTS:
        what = f"is drawn in {segments} lines and curves, and {_MOST_SEGMENTS}"
    elif segments > _FEW_SEGMENTS and (sides := _length_in_sides(outline)) > _LONGEST_SIDES:
        what = f"is drawn in a line {sides:.0f} times as long as its side, and {_LONGEST_SIDES:.0f}"
    else:
        return
    raise FontBrokenError(
        f"glyph {gid} of {name} {what} are the most that can be measured",
        remedy="give a font of plainer letters",
    )


def _length_in_sides(outline: Outline) -> float:
    """Length of all lines from point to point, over the longer side of the box of the points."""
    length = 0.0
    points = []
    for contour in outline:
        ring = [contour.start, *(point for segment in contour.segments for point in segment)]
        length += sum(map(math.dist, ring, (*ring[1:], ring[0])))
        points += ring
    xs, ys = zip(*points, strict=True)
    side = max(max(xs) - min(xs), max(ys) - min(ys))
    return length / side if side > 0 else 0.0
