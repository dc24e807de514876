"""Which font is packed in a web font's file?

The one door to fontTools and brotli: WOFF and WOFF2 become the font they were made of. What a
file claims to unpack to is read first, and what it does unpack to is followed within that
bound, so that a small file cannot fill the memory. Sources: WOFF File Format 1.0 and 2.0 (W3C).
"""

from __future__ import annotations

import io
import logging
import struct
import zlib
from collections.abc import Mapping
from typing import Any, NamedTuple

import brotli
from fontTools.ttLib import TTFont

from spinefit.errors import FontBrokenError

_MOST_UNPACKED = 32 * 1024 * 1024  # past the largest web fonts; an unpacked TTF may be larger
_REMEDY = "give its TTF or OTF file"
_CHUNK = 1024 * 1024
_KNOWN_TAG, _OTHER_TAG = 0x3F, 0x3F  # six bits name a table; all set, its tag follows
_GLYF, _LOCA = 10, 11  # places in WOFF2's list of known tags
_NO_TRANSFORM_OF_GLYPHS = 3
_GLYPHS_HEAD = struct.Struct(">HHHHLLL")  # of a transformed glyf table, as far as its flags
# fontTools draws the glyphs anew, point by point, and moves the rest of the table up after each.
_MOST_POINTS = 2_000_000  # some 2 microseconds each
_MOST_MOVED = 30_000_000_000  # glyphs times bytes


class _Stream(NamedTuple):
    """A packed stretch of the file and the bytes it has to unpack to."""

    start: int
    length: int
    unpacked: int


def unpacked(data: bytes) -> bytes:
    """The TrueType or OpenType font in a WOFF or WOFF2 file.

    Args:
        data: the whole file.

    Raises:
        FontBrokenError: cut short, damaged, claiming or being more than a font is.
    """
    kind = "WOFF2" if data[:4] == b"wOF2" else "WOFF"
    try:
        streams = _streams_of_woff2(data) if kind == "WOFF2" else _streams_of_woff(data)
        if sum(stream.unpacked for stream in streams) > _MOST_UNPACKED:
            raise _too_large(kind)
        for stream in streams:
            packed = data[stream.start : stream.start + stream.length]
            if len(packed) < stream.length:
                raise FontBrokenError(f"the {kind} file is cut short", remedy=_REMEDY)
            unpack = _brotli_size if kind == "WOFF2" else _zlib_size
            if unpack(packed, stream.unpacked) != stream.unpacked:
                raise FontBrokenError(
                    f"the {kind} file does not unpack to what it says", remedy=_REMEDY
                )
        return _by_font_tools(data)
    except (struct.error, IndexError, zlib.error, brotli.error):
        raise FontBrokenError(f"the {kind} file is damaged or cut short", remedy=_REMEDY) from None


def _too_large(kind: str) -> FontBrokenError:
    most = _MOST_UNPACKED // _CHUNK
    return FontBrokenError(f"the {kind} file says it unpacks to over {most} MiB", remedy=_REMEDY)


def _streams_of_woff(data: bytes) -> list[_Stream]:
    """The packed tables; those as long as unpacked are not packed."""
    count, _reserved, total = struct.unpack_from(">HHL", data, 12)
    if total > _MOST_UNPACKED:
        raise _too_large("WOFF")
    streams = []
    for number in range(count):
        _tag, start, length, whole = struct.unpack_from(">4sLLL", data, 44 + 20 * number)
        if length > whole or start + length > len(data):
            raise FontBrokenError("the WOFF file is damaged or cut short", remedy=_REMEDY)
        if length < whole:
            streams.append(_Stream(start, length, whole))
    return streams


def _streams_of_woff2(data: bytes) -> list[_Stream]:
    """The one stream in which all tables are packed."""
    flavour, _length, count, _reserved, total, packed = struct.unpack_from(">4sLHHLL", data, 4)
    if flavour == b"ttcf":
        raise FontBrokenError("a collection packed as WOFF2 is not read", remedy=_REMEDY)
    if total > _MOST_UNPACKED:
        raise _too_large("WOFF2")
    at, whole, stored, glyphs_at, glyphs_length = 48, 0, 0, None, 0
    for _ in range(count):
        flags = data[at]
        at += 5 if flags & _KNOWN_TAG == _OTHER_TAG else 1
        length, at = _base_128(data, at)
        whole += length
        tag, version = flags & _KNOWN_TAG, flags >> 6
        glyphs = tag in (_GLYF, _LOCA)
        if version != (_NO_TRANSFORM_OF_GLYPHS if glyphs else 0):
            length, at = _base_128(data, at)
            if tag == _GLYF:
                glyphs_at, glyphs_length = stored, length
        stored += length
    if whole > _MOST_UNPACKED:
        raise _too_large("WOFF2")
    if glyphs_at is not None and stored <= _MOST_UNPACKED:
        _refuse_many_points(data[at : at + packed], glyphs_at, glyphs_length)
    return [_Stream(at, packed, stored)]


def _refuse_many_points(packed: bytes, start: int, length: int) -> None:
    """Refuse glyphs that take long to draw anew: few bytes can pack millions of points."""
    stream, head, before = brotli.Decompressor(), b"", 0
    part = stream.process(packed, output_buffer_limit=_CHUNK)
    while part and len(head) < _GLYPHS_HEAD.size:
        head += part[max(0, start - before) :][: _GLYPHS_HEAD.size - len(head)]
        before += len(part)
        part = stream.process(b"", output_buffer_limit=_CHUNK)
    *_, glyphs, _form, _contours, _counts, points = _GLYPHS_HEAD.unpack(head)  # a byte a point
    if points > _MOST_POINTS or glyphs * length > _MOST_MOVED:
        raise FontBrokenError(
            f"the WOFF2 file packs {glyphs} glyphs of {points} points, too many to unpack here",
            remedy=_REMEDY,
        )


def _base_128(data: bytes, at: int) -> tuple[int, int]:
    """A number of WOFF2's variable length, and where what follows it begins."""
    value = 0
    for place in range(at, at + 5):
        value = value << 7 | data[place] & 0x7F
        if not data[place] & 0x80:
            return value, place + 1
    raise FontBrokenError("the WOFF2 file is damaged", remedy=_REMEDY)


def _zlib_size(packed: bytes, most: int) -> int:
    """Bytes unpacked from a stream, followed to one more than the most."""
    return len(zlib.decompressobj().decompress(packed, most + 1))


def _brotli_size(packed: bytes, most: int) -> int:
    """As `_zlib_size`; the parts are thrown away as they come."""
    stream, found = brotli.Decompressor(), 0
    part = stream.process(packed, output_buffer_limit=_CHUNK)
    while part and found <= most:
        found += len(part)
        part = stream.process(b"", output_buffer_limit=_CHUNK)
    return found


def _by_font_tools(data: bytes) -> bytes:
    """The tables put together again as a plain font file."""
    log, silence = logging.getLogger("fontTools"), logging.NullHandler()
    heard, log.propagate = log.propagate, False  # what it finds odd is said in our one line
    log.addHandler(silence)
    try:
        font = TTFont(io.BytesIO(data), recalcBBoxes=False, recalcTimestamp=False, lazy=True)
        font.flavor = None
        out = io.BytesIO()
        font.save(out, reorderTables=False)
        plain = bytearray(out.getvalue())
        if data[:4] == b"wOFF":
            _state_checksums(plain, font.reader.tables)
    except Exception:  # a damaged font fails in as many ways as fontTools has readers
        raise FontBrokenError("the web font is damaged", remedy=_REMEDY) from None
    finally:
        log.removeHandler(silence)
        log.propagate = heard
    return bytes(plain)


def _state_checksums(plain: bytearray, tables: Mapping[str, Any]) -> None:
    """Have a font say the checksums that its WOFF file states, not those of what was unpacked.

    WOFF2 states none: it packs outlines anew.
    """
    for entry in range(12, 12 + 16 * len(tables), 16):
        tag = plain[entry : entry + 4].decode("latin-1")
        struct.pack_into(">L", plain, entry + 4, tables[tag].checkSum)
