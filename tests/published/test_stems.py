"""Are strokes as wide as the stems that CFF fonts declare of themselves?

Private dictionaries give the standard widths of horizontal and vertical stems (StdHW, StdVW)
and the usual ones (StemSnapH, StemSnapV), in font units: Adobe Technical Note 5176, table 23.
Held against letters whose thinnest stroke is such a stem.
"""

from __future__ import annotations

import os
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import TTFont

from spinefit.geometry.strokes import thinnest_stroke
from spinefit.shaping.fontfile import OpenFont

WITHIN = 0.10
FONTS = Path(__file__).parents[2] / "fonts_open"
SERIF = FONTS / "source-serif-4"
# The Debian package fonts-lmodern: text letters with real hairlines, down to 0.016 em.
LATIN_MODERN = Path("/usr/share/texmf/fonts/opentype/public/lm")

# Letters whose thinnest stroke is an upright stem, and those whose is a horizontal one.
UPRIGHT, LEVEL = "lI", "HEFDo"


def _declared(data: bytes) -> tuple[int, dict[str, set[float]]]:
    font = TTFont(BytesIO(data))
    private: Any = font["CFF "].cff.topDictIndex[0].Private
    return font["head"].unitsPerEm, {
        "upright": {private.StdVW, *getattr(private, "StemSnapV", [])},
        "level": {private.StdHW, *getattr(private, "StemSnapH", [])},
    }


def _stroke_fu(data: bytes, letter: str) -> float:
    font = OpenFont("", "test.otf", data, ())
    found = thinnest_stroke(font.outline(font.shaper.nominal(letter)))
    assert found is not None
    return found.width_em * font.shaper.upem


def _near_a_stem(data: bytes, letter: str, kind: str) -> bool:
    _, stems = _declared(data)
    width_fu = _stroke_fu(data, letter)
    return any(abs(width_fu - stem) <= WITHIN * stem for stem in stems[kind])


CASES = [(letter, "upright") for letter in UPRIGHT] + [(letter, "level") for letter in LEVEL]


@pytest.mark.parametrize(("letter", "kind"), CASES)
@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_a_text_letter_and_its_bold(style: str, letter: str, kind: str) -> None:
    """Source Serif 4, 46 and 85 units, bold 58 and 159."""
    assert _near_a_stem((SERIF / f"SourceSerif4-{style}.otf").read_bytes(), letter, kind)


@pytest.mark.parametrize(("style", "stem"), [("Regular", "StdHW"), ("Bold", "StdHW")])
@pytest.mark.parametrize("letter", "HED")
def test_the_standard_width_itself(style: str, stem: str, letter: str) -> None:
    data = (SERIF / f"SourceSerif4-{style}.otf").read_bytes()
    private: Any = TTFont(BytesIO(data))["CFF "].cff.topDictIndex[0].Private
    assert _stroke_fu(data, letter) == pytest.approx(getattr(private, stem), rel=WITHIN)


@pytest.mark.skipif(
    not LATIN_MODERN.is_dir() and not os.environ.get("CI"), reason="no fonts-lmodern here"
)
@pytest.mark.parametrize(("letter", "kind"), CASES)
@pytest.mark.parametrize(
    "style", ["lmroman10-regular", "lmroman17-regular", "lmroman10-bold", "lmmonolt10-regular"]
)
def test_letters_with_hairlines(style: str, letter: str, kind: str) -> None:
    """Latin Modern: hairlines of 16 to 47 units, and a light letter of one width."""
    path = LATIN_MODERN / f"{style}.otf"
    data = path.read_bytes()
    width_fu = _stroke_fu(data, letter)
    _, stems = _declared(data)
    thin = stems["upright"] | stems["level"]
    assert any(abs(width_fu - stem) <= WITHIN * stem for stem in thin)
    if style != "lmmonolt10-regular":
        assert _near_a_stem(data, letter, kind)


def _hairline_font(hair: int, stem: int) -> bytes:
    """A CFF font that declares its stems and has H, E, O and l drawn with them."""

    def box(pen: Any, left: float, bottom: float, right: float, top: float) -> None:
        pen.moveTo((left, bottom))
        for point in ((right, bottom), (right, top), (left, top)):
            pen.lineTo(point)
        pen.closePath()

    def oval(pen: Any, x: float, y: float, a: float, b: float, turn: int) -> None:
        k = 0.5522847498
        pen.moveTo((x + a, y))
        for c, s, e, t in ((1, 0, 0, 1), (0, 1, -1, 0), (-1, 0, 0, -1), (0, -1, 1, 0)):
            pen.curveTo(
                (x + a * (c + k * e), y + turn * b * (s + k * t)),
                (x + a * (e + k * c), y + turn * b * (t + k * s)),
                (x + a * e, y + turn * b * t),
            )
        pen.closePath()

    def drawn(draw: Any) -> Any:
        pen = T2CharStringPen(700, None)
        draw(pen)
        return pen.getCharString()

    def letter_h(pen: Any) -> None:
        box(pen, 50, 0, 50 + stem, 700)
        box(pen, 550, 0, 550 + stem, 700)
        box(pen, 50 + stem / 2, 340, 550 + stem / 2, 340 + hair)

    def letter_e(pen: Any) -> None:
        box(pen, 50, 0, 50 + stem, 700)
        for bottom in (0, 340, 700 - hair):
            box(pen, 50, bottom, 480, bottom + hair)

    def letter_o(pen: Any) -> None:
        oval(pen, 350, 350, 300, 350, 1)
        oval(pen, 350, 350, 300 - stem, 350 - hair, -1)

    names = {".notdef": lambda pen: None, "H": letter_h, "E": letter_e, "O": letter_o,
             "l": lambda pen: box(pen, 50, 0, 50 + stem, 700)}  # fmt: skip
    build = FontBuilder(1000, isTTF=False)
    build.setupGlyphOrder(list(names))
    build.setupCharacterMap({ord(name): name for name in names if len(name) == 1})
    build.setupCFF(
        "Stems", {"FullName": "Stems"}, {name: drawn(draw) for name, draw in names.items()},
        {"StdHW": hair, "StdVW": stem},
    )  # fmt: skip
    build.setupHorizontalMetrics({name: (700, 50) for name in names})
    build.setupHorizontalHeader(ascent=800, descent=-200)
    build.setupNameTable({"familyName": "Stems", "styleName": "Regular"})
    build.setupOS2()
    build.setupPost()
    saved = BytesIO()
    build.save(saved)
    return saved.getvalue()


@pytest.mark.parametrize(("hair", "stem"), [(8, 12), (16, 60), (24, 90), (60, 160)])
@pytest.mark.parametrize("letter", "HEOl")
def test_hairline_light_regular_and_bold_drawn_to_measure(
    hair: int, stem: int, letter: str
) -> None:
    """Here the stems are known to the unit: within 0.5 %."""
    data = _hairline_font(hair, stem)
    _, stems = _declared(data)
    expected = stems["upright"] if letter == "l" else stems["level"]
    assert _stroke_fu(data, letter) == pytest.approx(expected.pop(), rel=0.005)
