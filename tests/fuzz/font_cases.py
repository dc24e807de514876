"""Which damaged font is case N?

A seeded mutator: a sound font (bundled, or made for the tests, in every packing) is damaged in
one to three ways, table by table. The same seed and number give the same bytes.
"""

from __future__ import annotations

import io
import random
import struct
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import NamedTuple

from fontTools.ttLib import TTCollection, TTFont
from fontTools.ttLib.scaleUpem import scale_upem

from tests.fonts.conftest import build

__all__ = ["FontCase", "directory", "font_case", "mend", "sound_fonts"]

BUNDLED = Path(__file__).parents[2] / "fonts_open"
TITLES = (
    "The Harbour Light", "Tides", "Vol. 2 / Ships", "HIETHIET", "fi ffl AV To", "Über Ænigma",
    "The Harbour Master's Register of Vessels and Dues",
)  # fmt: skip
WORDS = (
    ("--size", "14"), ("--orientation", "pillar"), ("--case", "capitals"),
    ("--case", "small-capitals"), ("--format", "json"), ("--method", "hand-letters"),
    ("--method", "leather-label"), ("--method", "transfer-vinyl"), ("--tracking", "50"),
    ("--centre", "capitals"), ("--rise", "3"), ("--drawing", "DRAWING.svg"),
    ("--drawing", "DRAWING.html"), ("--drawing", "DRAWING.pdf"), ("--fallback", "Cinzel"),
)  # fmt: skip
OF_AXES = (("--axes", "wght=650"), ("--size", "14", "--axes", "wght=lightest"), ())
BAR_TITLES = ("The Harbour Light", "Tides", "HIETHIET", "Ships / of / Wrackness")
EDGES = (0, 1, 2, 3, 0x7F, 0x80, 0xFF, 0x7FFF, 0x8000, 0xFFFE, 0xFFFF, 0x7FFFFFFF, 0x80000000,
         0xFFFFFFFF)  # fmt: skip
_FIELDS = (  # (table, offset, format): what a reader trusts most
    ("head", 18, ">H"), ("head", 50, ">h"), ("maxp", 4, ">H"), ("hhea", 34, ">H"),
    ("hhea", 4, ">h"), ("OS/2", 4, ">H"), ("fvar", 4, ">H"), ("fvar", 8, ">H"),
    ("fvar", 10, ">H"), ("fvar", 20, ">l"), ("fvar", 24, ">l"), ("fvar", 28, ">l"),
    ("gvar", 4, ">H"), ("gvar", 12, ">H"), ("gvar", 16, ">L"), ("cmap", 2, ">H"),
    ("cmap", 8, ">L"), ("name", 2, ">H"), ("name", 4, ">H"), ("CFF ", 2, ">B"),
    ("GSUB", 4, ">H"), ("GSUB", 8, ">H"), ("GPOS", 8, ">H"), ("avar", 4, ">L"),
)  # fmt: skip


def _saved(font: TTFont | TTCollection, flavour: str | None = None) -> bytes:
    out = io.BytesIO()
    if flavour:
        font.flavor = flavour
    font.save(out)
    return out.getvalue()


@cache
def sound_fonts() -> tuple[tuple[str, bytes], ...]:
    """Every bundled font, and small ones of each packing and kind; by name."""
    found = [
        (path.stem, path.read_bytes())
        for path in sorted(BUNDLED.rglob("*"))
        if path.suffix in (".ttf", ".otf")
    ]
    axes = (("wght",), ("wght", "wdth", "opsz"))
    found.append(("bars", _saved(build())))
    found += [("bars-" + "-".join(tags), _saved(build(tags))) for tags in axes]
    for flavour in ("woff", "woff2"):
        found.append((f"bars-{flavour}", _saved(build(), flavour)))
        found.append((f"bars-wght-{flavour}", _saved(build(("wght",)), flavour)))
    several = TTCollection()
    several.fonts = [build(), build(stem=120), build(("wght",))]
    found.append(("bars-collection", _saved(several)))
    coarse = build()
    scale_upem(coarse, 16)
    found.append(("bars-of-16-units", _saved(coarse)))
    return tuple(found)


class FontCase(NamedTuple):
    """A damaged font and how it is asked for.

    Attributes:
        done: what was done to which font.
        data: its bytes.
        words: of a command line in which ``FONT`` stands for its file.
        sound: the font before that.
        mended: whether its checksums are those of its bytes, so that no reader can tell.
    """

    done: str
    data: bytes
    words: list[str]
    sound: bytes
    mended: bool


def font_case(seed: int, number: int) -> FontCase:
    """The damaged font of that number."""
    chance = random.Random(f"{seed} font {number}")
    name, sound = chance.choice(sound_fonts())
    data, ways = bytearray(sound), []
    for _ in range(chance.choice((1, 1, 2, 3))):
        way = chance.choice(_PACKED if sound[:3] == b"wOF" else _WAYS)
        ways.append(way(data, chance))
    titles = BAR_TITLES if name.startswith("bars") else TITLES
    words = ["check", chance.choice(titles), "--width", chance.choice(("9", "22", "45"))]
    words += ["--height", "210", "--font", "FONT"]
    words += chance.choice(WORDS) if chance.random() < 0.6 else ()
    if "wght" in name or "Var" in name:
        words += chance.choice(OF_AXES)
    if name == "bars-collection":
        words += ("--face", chance.choice("123"))
    if chance.random() < 0.01:  # they take longest
        words += ("--panel-shape", "oval")
    mended = random.Random(f"{seed} mended {number}").random() < 0.5 and mend(data)
    done = f"{name}: {', '.join(ways)}{', mended' if mended else ''}"
    return FontCase(done, bytes(data), words, sound, mended)


def mend(data: bytearray) -> bool:
    """Give each table and the file the checksum of its bytes; no for a packed or broken file.

    Source: the OpenType specification, organization of an OpenType font.
    """
    if data[:4] in (b"wOFF", b"wOF2", b"ttcf"):
        return False
    tables = directory(data)
    if not tables or "head" not in tables or tables["head"][2] < 12:
        return False
    at = tables["head"][1] + 8
    data[at : at + 4] = bytes(4)
    for entry, offset, length in tables.values():
        struct.pack_into(">L", data, entry + 4, _sum(data[offset : offset + length]))
    struct.pack_into(">L", data, at, (0xB1B0AFBA - _sum(data)) & 0xFFFFFFFF)
    return True


def _sum(data: bytearray) -> int:
    whole = data + bytes(-len(data) % 4)
    return sum(struct.unpack(f">{len(whole) // 4}L", whole)) & 0xFFFFFFFF


def directory(data: bytearray) -> dict[str, tuple[int, int, int]]:
    """Where the entry, and where the bytes of each table stand; of any face of a collection."""
    start = struct.unpack_from(">L", data, 12)[0] if data[:4] == b"ttcf" else 0
    found = {}
    try:
        for number in range(struct.unpack_from(">H", data, start + 4)[0]):
            entry = start + 12 + 16 * number
            tag, _sum, offset, length = struct.unpack_from(">4sLLL", data, entry)
            if offset + length <= len(data) and length:
                found[tag.decode("latin-1")] = (entry, offset, length)
    except struct.error:
        pass
    return found


def _table(data: bytearray, chance: random.Random) -> tuple[str, int, int, int]:
    tables = directory(data)
    if not tables:
        return "whole", 0, 0, len(data)
    tag = chance.choice(sorted(tables))
    return (tag, *tables[tag])


def _spot(chance: random.Random, length: int) -> int:
    """A place in a table, more often near its head, where counts and offsets stand."""
    return chance.randrange(min(length, 96) if chance.random() < 0.6 else length)


def _bytes(data: bytearray, chance: random.Random) -> str:
    tag, _entry, offset, length = _table(data, chance)
    if length:
        for _ in range(chance.choice((1, 2, 8, 64))):
            data[offset + _spot(chance, length)] = chance.randrange(256)
    return f"bytes of {tag}"


def _words(data: bytearray, chance: random.Random) -> str:
    tag, _entry, offset, length = _table(data, chance)
    for _ in range(chance.choice((1, 1, 3))):
        wide = chance.choice((2, 4))
        if length >= wide:
            spot = offset + min(_spot(chance, length), length - wide) // 2 * 2
            value = chance.choice(EDGES) & (256**wide - 1)
            data[spot : spot + wide] = value.to_bytes(wide, "big")
    return f"words of {tag}"


def _field(data: bytearray, chance: random.Random) -> str:
    tables = directory(data)
    there = [field for field in _FIELDS if field[0] in tables and tables[field[0]][2] > 32]
    if not there:
        return "nothing"
    tag, at, form = chance.choice(there)
    size = struct.calcsize(form)
    value = chance.choice((*EDGES, 15, 16, 16384, 16385)) & (256**size - 1)
    spot = tables[tag][1] + at
    data[spot : spot + size] = value.to_bytes(size, "big")
    return f"{tag}+{at} := {value}"


def _cut(data: bytearray, chance: random.Random) -> str:
    keep = chance.randrange(len(data)) if data else 0
    del data[keep:]
    return f"cut at {keep}"


def _shorter(data: bytearray, chance: random.Random) -> str:
    tag, entry, _offset, length = _table(data, chance)
    if entry:
        struct.pack_into(">L", data, entry + 12, chance.randrange(length))
    return f"{tag} said to be shorter"


def _swapped(data: bytearray, chance: random.Random) -> str:
    one, other = _table(data, chance), _table(data, chance)
    if one[1] and other[1]:
        here = bytes(data[one[1] + 8 : one[1] + 16])
        data[one[1] + 8 : one[1] + 16] = data[other[1] + 8 : other[1] + 16]
        data[other[1] + 8 : other[1] + 16] = here
    return f"{one[0]} and {other[0]} swapped"


def _gone(data: bytearray, chance: random.Random) -> str:
    tag, entry, _offset, _length = _table(data, chance)
    if entry:
        data[entry : entry + 4] = b"gone"
    return f"{tag} taken away"


def _filled(data: bytearray, chance: random.Random) -> str:
    tag, _entry, offset, length = _table(data, chance)
    start = offset + (_spot(chance, length) if length else 0)
    end = min(offset + length, start + chance.choice((16, 256, 10**9)))
    data[start:end] = chance.randbytes(end - start) if chance.random() < 0.5 else bytes(end - start)
    return f"{tag} filled"


def _moved(data: bytearray, chance: random.Random) -> str:
    tag, _entry, offset, length = _table(data, chance)
    if length > 64:
        size = chance.randrange(1, min(length // 2, 4096))
        source, target = (offset + chance.randrange(length - size) for _ in range(2))
        data[target : target + size] = data[source : source + size]
    return f"a part of {tag} copied over another"


def _composite(data: bytearray, chance: random.Random) -> str:
    """Glyphs made of themselves, or of one another, many times over."""
    tables = directory(data)
    if "glyf" not in tables or "loca" not in tables or "head" not in tables:
        return "nothing"
    _, glyf, length = tables["glyf"]
    _, loca, loca_length = tables["loca"]
    wide = struct.unpack_from(">h", data, tables["head"][1] + 50)[0] == 1
    count = loca_length // (4 if wide else 2) - 1
    for _ in range(chance.choice((1, 20, 200))):
        gid = chance.randrange(max(count, 1))
        form, scale = (">LL", 1) if wide else (">HH", 2)
        start, end = struct.unpack_from(form, data, loca + gid * (4 if wide else 2))
        size = (end - start) * scale
        parts = min((size - 10) // 8, chance.choice((1, 2, 64)))
        if parts < 1 or start * scale + size > length:
            continue
        at = glyf + start * scale
        struct.pack_into(">h", data, at, -1)
        for part in range(parts):
            other = gid if chance.random() < 0.3 else chance.randrange(max(count, 1))
            more = 0x20 if part + 1 < parts else 0
            shift = (chance.choice((0, 32767, -32768)), 0)
            struct.pack_into(">HHhh", data, at + 10 + 8 * part, 0x03 | more, other, *shift)
    return "composites in a circle"


def _charstring(data: bytearray, chance: random.Random) -> str:
    """Calls of subroutines sown over a CFF table."""
    tables = directory(data)
    if "CFF " not in tables:
        return "nothing"
    _, offset, length = tables["CFF "]
    code = bytes([chance.randrange(32, 247), chance.choice((10, 29))])  # callsubr, callgsubr
    for _ in range(chance.choice((4, 400, 4000))):
        spot = offset + chance.randrange(length - 2)
        data[spot : spot + 2] = code
    return "charstrings that call"


def _raw(data: bytearray, chance: random.Random) -> str:
    for _ in range(chance.choice((1, 2, 8))):
        if data:
            data[_spot(chance, len(data))] = chance.randrange(256)
    return "bytes anywhere"


_WAYS: tuple[Callable[[bytearray, random.Random], str], ...] = (
    _bytes, _bytes, _words, _words, _field, _field, _cut, _shorter, _swapped, _gone, _filled,
    _moved, _composite, _composite, _charstring, _raw,
)  # fmt: skip
_PACKED: tuple[Callable[[bytearray, random.Random], str], ...] = (_raw, _raw, _cut)
