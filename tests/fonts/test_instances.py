"""Is a variable font measured at the instance that was asked for? Held against other engines.

fontTools' instancer makes the static font of that place, which our own static path measures;
``hb-shape --variations`` gives advances; FreeType, another rasteriser's engine, the ink boxes.
Of our small test font and of a bundled variable font with kerning and thousands of glyphs.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess

import freetype
import pytest
from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

from spinefit import Job, Lettering, Spine, catalogue, check
from spinefit.geometry.strokes import thinnest_stroke
from spinefit.shaping import open_font
from spinefit.shaping.font_setter import RunShaper

HB_SHAPE = shutil.which("hb-shape")
TITLE = "The Harbour Light AVTo"
ROUNDING_EM = 1.01 / 1000  # an instancer rounds points, and HarfBuzz advances, to whole units
WITHIN = 0.005
PLEX = catalogue.fonts_folder() / "ibm-plex-sans-var/IBMPlexSansVar-Roman.ttf"
PLACES = [
    ("bars", {"wght": 650.0, "wdth": 80.0}),
    ("bars", {"wght": 100.0, "wdth": 150.0}),
    ("plex", {"wght": 433.0, "wdth": 91.0}),
    ("plex", {"wght": 700.0, "wdth": 85.0}),
]
places = pytest.mark.parametrize(
    ("font", "place"), PLACES, ids=[f"{font} {place}" for font, place in PLACES]
)


@pytest.fixture
def path(font, make_font):
    return make_font("wght", "wdth") if font == "bars" else PLEX


@pytest.fixture(scope="module")
def statics(tmp_path_factory):
    """A maker of static fonts by fontTools, each made once."""
    made = {}

    def of(path, place):
        key = (str(path), *place.items())
        if key not in made:
            font = TTFont(path)
            if path == PLEX:  # the letters of the title and no others, to be quick
                options = subset.Options(layout_features=["*"], notdef_outline=True)
                subsetter = subset.Subsetter(options)
                subsetter.populate(text=TITLE + "HxEzIu")
                subsetter.subset(font)
            instancer.instantiateVariableFont(font, place, inplace=True)
            made[key] = tmp_path_factory.mktemp("static") / "static.ttf"
            font.save(made[key])
        return made[key]

    return of


@pytest.fixture
def static(path, place, statics):
    """The same place as a static font."""
    return statics(path, place)


def opened(path, place):
    return open_font(str(path), axes=tuple(place.items()))


@places
def test_ink_and_advances_are_those_of_the_static_instance(path, place, static):
    """Every letter's box and advance, to a unit of rounding."""
    variable, fixed = opened(path, place), open_font(str(static))
    assert dict(variable.axes) == place
    assert fixed.axes == ()
    assert variable.cap_height_em == pytest.approx(fixed.cap_height_em, abs=ROUNDING_EM)
    assert variable.x_height_em == pytest.approx(fixed.x_height_em, abs=ROUNDING_EM)
    for char in TITLE.replace(" ", ""):
        one = variable.ink(variable.shaper.nominal(char))
        other = fixed.ink(fixed.shaper.nominal(char))
        assert one == pytest.approx(other, abs=ROUNDING_EM), char
        stroke = thinnest_stroke(variable.outline(variable.shaper.nominal(char))).width_em
        same = thinnest_stroke(fixed.outline(fixed.shaper.nominal(char))).width_em
        assert stroke == pytest.approx(same, abs=2 * ROUNDING_EM, rel=0.05), char


@places
def test_the_largest_size_is_that_of_the_static_instance(path, place, static):
    def largest(font, axes=None):
        report = check(
            Job(
                title=TITLE,
                spine=Spine(width_mm=25.0, height_mm=210.0),
                lettering=Lettering(font=str(font), axes=axes),
            ),
            verify=True,
        )
        return [one.largest_pt for one in report.layouts], [one.lines for one in report.layouts]

    sizes, lines = largest(path, tuple(place.items()))
    static_sizes, static_lines = largest(static)
    assert lines == static_lines
    assert sizes == pytest.approx(static_sizes, rel=WITHIN)


@pytest.mark.skipif(HB_SHAPE is None and not os.environ.get("CI"), reason="no hb-shape here")
@places
def test_advances_are_those_of_hb_shape(path, place):
    """Glyph by glyph, kerning included."""
    assert HB_SHAPE is not None
    variations = ",".join(f"{tag}={at:g}" for tag, at in place.items())
    words = [
        HB_SHAPE, str(path), f"--variations={variations}", "--output-format=json",
        "--no-glyph-names", "--script=Latn", "--direction=ltr", "--language=und", TITLE,
    ]  # fmt: skip
    said = json.loads(subprocess.run(words, capture_output=True, check=True, text=True).stdout)
    font = opened(path, place)
    glyphs = RunShaper(font, language=None, features={}, tracking_em=0.0).shape(TITLE)
    assert [glyph.gid for glyph in glyphs] == [one["g"] for one in said]
    for glyph, one in zip(glyphs, said, strict=True):
        assert glyph.advance_em * font.shaper.upem == pytest.approx(one["ax"], rel=WITHIN, abs=0.6)


@places
def test_ink_boxes_are_those_of_freetype(path, place):
    font = opened(path, place)
    face = freetype.Face(str(path))
    tags = [axis.tag for axis in font.shaper.axes]
    face.set_var_design_coords([place[tag] for tag in tags])
    flags = freetype.FT_LOAD_NO_SCALE | freetype.FT_LOAD_NO_HINTING
    for char in TITLE.replace(" ", ""):
        face.load_char(char, flags)
        box = face.glyph.outline.get_bbox()
        theirs = [at / font.shaper.upem for at in (box.xMin, box.yMin, box.xMax, box.yMax)]
        assert font.ink(font.shaper.nominal(char)) == pytest.approx(theirs, abs=2 * ROUNDING_EM)
