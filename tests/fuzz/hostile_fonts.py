"""Which fonts were made to hurt? Recipes, each a small font with some letters drawn anew."""

from __future__ import annotations

import io
import math
import random
import struct
from collections.abc import Callable

from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTCollection, TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph, GlyphComponent
from fontTools.ttLib.tables.DefaultTable import DefaultTable

from tests.fonts.conftest import build
from tests.fuzz.font_cases import font_case

__all__ = ["RECIPES"]

Ring = list[tuple[int, int]]
SQUARE: Ring = [(0, 0), (0, 700), (400, 700), (400, 0)]


def _drawn(rings: list[Ring]) -> Glyph:
    pen = TTGlyphPen(None)
    for ring in rings:
        pen.moveTo(ring[0])
        for corner in ring[1:]:
            pen.lineTo(corner)
        pen.closePath()
    return pen.glyph()


def _of_parts(names: list[str]) -> Glyph:
    found = Glyph()
    found.numberOfContours, found.components = -1, []
    for name in names:
        part = GlyphComponent()
        part.glyphName, part.x, part.y, part.flags = name, 0, 0, 0x3
        found.components.append(part)
    found.xMin = found.yMin = found.xMax = found.yMax = 0
    return found


def _saved(font: TTFont) -> bytes:
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def _of_letter(rings: list[Ring]) -> bytes:
    """A font whose H, I and E are drawn so."""
    font = build()
    for letter in "HIE":
        font["glyf"][letter] = _drawn(rings)
    return _saved(font)


def _with_parts(parts: dict[str, list[str]]) -> bytes:
    font = build()
    font.recalcBBoxes = False
    for name, others in parts.items():
        font["glyf"][name] = _of_parts(others)
    font["maxp"].recalc = lambda *_: None
    return _saved(font)


def _scribble() -> bytes:
    chance = random.Random(1)
    return _of_letter([[(chance.randrange(1000), chance.randrange(700)) for _ in range(1000)]])


def _dots() -> bytes:
    places = [(50 + 28 * x, 28 * y) for x in range(32) for y in range(32)]
    return _of_letter([[(x, y), (x, y + 2), (x + 2, y)] for x, y in places])


def _comb() -> bytes:
    teeth = [(tooth // 2, 700 if tooth % 2 else 10) for tooth in range(2000)]
    return _of_letter([[*teeth, (1000, 0), (0, 0)]])


def _composites() -> bytes:
    """Sixty parts of sixty parts, ten deep."""
    deep = {one: [other] * 60 for one, other in zip("abcdefghIE", "HabcdefghI", strict=True)}
    return _with_parts(deep)


def _many_points() -> bytes:
    """The same 20,000 points in 105 glyphs, a few bytes each once packed."""
    font = build()
    font["glyf"]["H"] = _drawn([[(at % 400 + at * 7 % 13, at * 31 % 700) for at in range(20_000)]])
    more = [f"more{number}" for number in range(105)]
    font.setGlyphOrder([*font.getGlyphOrder(), *more])
    for name in more:
        font["glyf"][name], font["hmtx"][name] = font["glyf"]["H"], (500, 0)
    font.flavor = "woff2"
    return _saved(font)


def _every_number() -> bytes:
    """As many glyphs as a font can have."""
    font = build()
    more = [f"more{number}" for number in range(65_535 - len(font.getGlyphOrder()))]
    font.setGlyphOrder([*font.getGlyphOrder(), *more])
    for name in more:
        font["glyf"][name], font["hmtx"][name] = font["glyf"]["I"], font["hmtx"]["I"]
    font["post"].formatType = 3.0
    return _saved(font)


def _circle(corners: int) -> Ring:
    turns = [2 * math.pi * at / corners for at in range(corners)]
    return [(round(400 + 300 * math.cos(at)), round(350 + 300 * math.sin(at))) for at in turns]


def _of_all_letters(rings: list[Ring]) -> bytes:
    font = build()
    for name in font.getGlyphOrder():
        if name not in (".notdef", "space"):
            font["glyf"][name] = _drawn(rings)
    return _saved(font)


def _endless_glyphs() -> bytes:
    """Before each letter a state machine of `morx` puts 31 more and stays where it is.

    Source: Apple's TrueType Reference Manual, extended glyph metamorphosis, insertion.
    """
    font = build()
    count = len(font.getGlyphOrder()) - 1
    classes = struct.pack(f">{3 + count}H", 8, 1, count, *[4] * count)
    classes += bytes(-len(classes) % 4)
    states = struct.pack(">10H", *([0, 0, 0, 0, 1] * 2))
    entries = struct.pack(">8H", 0, 0, 0xFFFF, 0xFFFF, 0, 0x4000 | 31 << 5, 0, 0xFFFF)
    places = [20, 20 + len(classes), 20 + len(classes + states)]
    machine = struct.pack(">5L", 5, *places, places[2] + len(entries))
    machine += classes + states + entries + struct.pack(">31H", *[1] * 31)
    machine += bytes(-len(machine) % 4)
    subtable = struct.pack(">3L", 12 + len(machine), 5, 1) + machine
    chain = struct.pack(">4L", 1, 16 + len(subtable), 0, 1) + subtable
    font["morx"] = DefaultTable("morx")
    font["morx"].data = struct.pack(">HHL", 2, 0, 1) + chain
    return _saved(font)


def _half_the_size() -> bytes:
    """One byte of the units per em, the checksums as they were."""
    data = bytearray(_saved(build()))
    data[struct.unpack_from(">L", data, data.index(b"head", 12) + 8)[0] + 18] ^= 4
    return bytes(data)


def _of_no_face() -> bytes:
    """A collection whose first face would stand past its end; the second is asked for."""
    several = TTCollection()
    several.fonts = [build(), build(stem=120)]
    out = io.BytesIO()
    several.save(out)
    data = bytearray(out.getvalue())
    struct.pack_into(">L", data, 12, len(data) * 2)
    return bytes(data)


RECIPES: dict[str, Callable[[], bytes]] = {
    "ink-in-the-space": lambda: font_case(5, 6380).data,
    "scribble": _scribble,
    "dots": _dots,
    "one-outline-often": lambda: _of_letter([SQUARE] * 500),
    "comb": _comb,
    "many-corners": lambda: _of_letter([_circle(5000)]),
    "composites-of-composites": _composites,
    "composites-in-a-circle": lambda: _with_parts(
        {one: [other, other] for one, other in zip("HIET", "IETH", strict=True)}
    ),
    "points-of-woff2": _many_points,
    "glyphs-of-every-number": _every_number,
    "collection-of-no-face": _of_no_face,
    "letters-of-each-size": lambda: _saved(build(("opsz",))),
    "half-the-size": _half_the_size,
    "letters-of-points": lambda: _of_all_letters([[(100, 300), (100, 300)]]),
    "letters-of-strokes": lambda: _of_all_letters([[(0, 700), (400, 700), (200, 700)]]),
    "letters-below-the-line": lambda: _of_all_letters([[(0, -200), (0, 0), (400, 0), (400, -200)]]),
    "letters-taken-away": lambda: _of_all_letters([SQUARE, SQUARE[::-1]]),
    "endless-glyphs": _endless_glyphs,
}
