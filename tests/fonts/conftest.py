"""Small fonts made for the tests: letters of plain bars, so that every width is a round number.

A capital is an H of two stems and a bar, a small letter the same at x-height, I one stem. In
font units of 1000 to the em; along ``wght`` the stem grows, along ``wdth`` the letter, along
``opsz`` (points) both shrink, as they do in fonts drawn for sizes.
"""

from __future__ import annotations

import io
import string
from collections.abc import Callable
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTCollection, TTFont
from fontTools.ttLib.tables.TupleVariation import TupleVariation

CAP, SMALL, SIDE, BAR = 700, 480, 50, 60
AXES = {
    "wght": (100.0, 400.0, 900.0),
    "wdth": (50.0, 100.0, 150.0),
    "opsz": (6.0, 12.0, 72.0),
}
# What each end of an axis does to the stem and to the letter, in font units.
ENDS = {
    ("wght", -1): (-60, 0),
    ("wght", 1): (90, 60),
    ("wdth", -1): (0, -160),
    ("wdth", 1): (0, 200),
    ("opsz", -1): (30, 60),
    ("opsz", 1): (-40, -80),
}
STEM = 80


def points(char: str, stem: int, wider: int) -> tuple[list[tuple[int, int]], int]:
    """A letter's corners and its advance."""
    if char == " ":
        return [], 300 + wider // 2
    high = CAP if char.isupper() else SMALL
    if char in "Il":
        return [(SIDE, 0), (SIDE, high), (SIDE + stem, high), (SIDE + stem, 0)], stem + 2 * SIDE
    wide = 340 + 6 * (string.ascii_letters.index(char) % 26) + wider
    low, top = high // 2 - BAR // 2, high // 2 + BAR // 2
    left, right = SIDE + stem, SIDE + wide - stem
    corners = [
        (SIDE, 0), (SIDE, high), (left, high), (left, top), (right, top), (right, high),
        (SIDE + wide, high), (SIDE + wide, 0), (right, 0), (right, low), (left, low), (left, 0),
    ]  # fmt: skip
    return corners, wide + 2 * SIDE


def glyph(corners: list[tuple[int, int]]):
    pen = TTGlyphPen(None)
    for number, corner in enumerate(corners):
        (pen.lineTo if number else pen.moveTo)(corner)
    if corners:
        pen.closePath()
    return pen.glyph()


def build(
    tags: tuple[str, ...] = (), family: str = "Wrackness Bars", style: str = "Regular",
    stem: int = STEM, chars: str = string.ascii_letters + " ",
) -> TTFont:  # fmt: skip
    """A font with those axes; static without any."""
    names = {char: "space" if char == " " else char for char in chars}
    order = [".notdef", *names.values()]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(order)
    builder.setupCharacterMap({ord(char): name for char, name in names.items()})
    drawn = {names[char]: points(char, stem, 0) for char in chars}
    drawn[".notdef"] = ([], 500)
    builder.setupGlyf({name: glyph(corners) for name, (corners, _advance) in drawn.items()})
    table = builder.font["glyf"]
    builder.setupHorizontalMetrics(
        {name: (drawn[name][1], getattr(table[name], "xMin", 0) or 0) for name in order}
    )
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": family, "styleName": style})
    builder.setupOS2(usWeightClass=400, usWidthClass=5)
    builder.setupPost()
    if tags:
        _vary(builder, tags, names, stem)
    buffer = io.BytesIO()
    builder.save(buffer)
    buffer.seek(0)
    return TTFont(buffer)


def _vary(builder: FontBuilder, tags: tuple[str, ...], names: dict[str, str], stem: int) -> None:
    instances = []
    if "wght" in tags:
        place = {tag: AXES[tag][1] for tag in tags}
        instances = [
            {"location": {**place, "wght": at}, "stylename": name}
            for name, at in (("Regular", 400.0), ("SemiBold", 600.0), ("Black", 900.0))
        ]
    builder.setupFvar([(tag, *AXES[tag], tag) for tag in tags], instances)
    variations = {}
    for char, name in names.items():
        usual, advance = points(char, stem, 0)
        variations[name] = []
        for (tag, sign), (more_stem, wider) in ENDS.items():
            if tag not in tags:
                continue
            other, other_advance = points(char, stem + more_stem, wider)
            deltas = [(x - x0, y - y0) for (x, y), (x0, y0) in zip(other, usual, strict=True)]
            phantoms = [(0, 0), (other_advance - advance, 0), (0, 0), (0, 0)]
            support = (0.0, 1.0, 1.0) if sign > 0 else (-1.0, -1.0, 0.0)
            variations[name].append(TupleVariation({tag: support}, [*deltas, *phantoms]))
    builder.setupGvar(variations)


@pytest.fixture(scope="session")
def make_font(tmp_path_factory) -> Callable[..., Path]:
    """A maker of font files: axes and file name in, path out."""
    folder = tmp_path_factory.mktemp("made")

    def make(*tags: str, name: str = "bars.ttf", flavour: str | None = None, **how) -> Path:
        path = folder / f"{'-'.join(tags)}{name}"
        font = build(tags, **how)
        font.flavor = flavour
        font.save(path)
        return path

    return make


@pytest.fixture(scope="session")
def collection(tmp_path_factory) -> Path:
    """Three faces in one file: Regular, Bold, and a variable one."""
    found = TTCollection()
    found.fonts = [
        build(family="Harbour"),
        build(family="Harbour", style="Bold", stem=120),
        build(("wght",), family="Harbour Flex"),
    ]
    path = tmp_path_factory.mktemp("made") / "harbour.ttc"
    found.save(path)
    return path
