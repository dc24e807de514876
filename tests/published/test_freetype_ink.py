"""Is the ink of every glyph of every bundled font what other engines find?

FreeType reads the files with its own code and ``FT_Outline_Get_BBox`` finds the exact box of
an outline; fontTools' ``BoundsPen`` does the same in a third way. Boxes in font units.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import freetype
import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from spinefit import catalogue
from spinefit.catalogue import FontRow
from spinefit.shaping.fontfile import OpenFont, open_font
from spinefit.shaping.glyphs import Box

ROWS = catalogue.font_rows()
# Set at one pixel a font unit, FreeType holds points and boxes in 64ths of a unit.
FREETYPE_FU = 1.5 / 64
# fontTools computes in floating point from the same whole numbers; only sums may differ.
FONTTOOLS_FU = 1e-6
WORTH_NOTICING_EM = 0.005
_SIXTY_FOURTHS = 64

Sized = tuple[float, float, float, float]

fonts = pytest.mark.parametrize("row", ROWS, ids=[row.name for row in ROWS])


def _path(row: FontRow) -> str:
    return str(catalogue.fonts_folder() / row.file)


def _ours(font: OpenFont, gid: int) -> Sized | None:
    box = font.ink(gid)
    upem = font.shaper.upem
    return None if box is None else _times(box, upem)


def _times(box: Box, scale: float) -> Sized:
    return box[0] * scale, box[1] * scale, box[2] * scale, box[3] * scale


def _face(row: FontRow) -> freetype.Face:
    face = freetype.Face(_path(row))
    face.set_pixel_sizes(face.units_per_EM, face.units_per_EM)
    if row.axes:
        wanted = dict(row.axes)
        axes = face.get_variation_info().axes
        face.set_var_design_coords([wanted.get(axis.tag, axis.default) for axis in axes])
    return face


def _freetype_boxes(row: FontRow) -> Iterator[tuple[int, Sized | None, Sized | None]]:
    """Glyph number, exact box and box of control points, in font units."""
    face = _face(row)
    for gid in range(face.num_glyphs):
        face.load_glyph(gid, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_NO_BITMAP)
        outline = face.glyph.outline
        if not outline.n_contours:
            yield gid, None, None
            continue
        exact, control = outline.get_bbox(), outline.get_cbox()
        yield gid, _read(exact), _read(control)


def _read(box: Any) -> Sized:
    scale = 1 / _SIXTY_FOURTHS
    return box.xMin * scale, box.yMin * scale, box.xMax * scale, box.yMax * scale


def _apart(one: Sized, other: Sized) -> float:
    return max(abs(a - b) for a, b in zip(one, other, strict=True))


@fonts
def test_ink_of_every_glyph_is_freetypes(row: FontRow) -> None:
    """Source: FreeType, FT_Outline_Get_BBox of every glyph, unhinted, at one pixel a unit."""
    font = open_font(row.name)
    drawn = 0
    for gid, exact, _control in _freetype_boxes(row):
        ours = _ours(font, gid)
        assert (ours is None) == (exact is None), gid
        if ours is not None and exact is not None:
            assert _apart(ours, exact) <= FREETYPE_FU, gid
            drawn += 1
    assert drawn > 100


@fonts
def test_ink_of_every_glyph_is_fonttools(row: FontRow) -> None:
    """Source: fontTools, BoundsPen over every glyph of the font at its place of the axes."""
    font = open_font(row.name)
    with TTFont(_path(row)) as file:
        glyphs = file.getGlyphSet(location=dict(row.axes))
        for gid, name in enumerate(file.getGlyphOrder()):
            pen = BoundsPen(glyphs)
            glyphs[name].draw(pen)
            ours = _ours(font, gid)
            assert (ours is None) == (pen.bounds is None), name
            if ours is not None:
                assert _apart(ours, pen.bounds) <= FONTTOOLS_FU, name


def test_boxes_of_control_points_would_be_wrong() -> None:
    """Source: FreeType, FT_Outline_Get_CBox: control points reach past the ink by 0.005 em."""
    worst = {row.name: _worst_of_control_points(row) for row in ROWS if not row.axes}
    assert max(worst.values()) > WORTH_NOTICING_EM, worst


def _worst_of_control_points(row: FontRow) -> float:
    upem = open_font(row.name).shaper.upem
    return max(
        _apart(exact, control) / upem
        for _gid, exact, control in _freetype_boxes(row)
        if exact is not None and control is not None
    )


def test_boxes_stored_in_the_font_would_be_wrong() -> None:
    """Source: the ``glyf`` table's own boxes, of which one at least misses the ink by 0.005 em."""
    worst: dict[str, float] = {}
    for row in ROWS:
        if row.axes:
            continue  # stored for the default place of the axes only
        font = open_font(row.name)
        with TTFont(_path(row)) as file:
            if "glyf" not in file:
                continue
            stored = file["glyf"]
            for gid, name in enumerate(file.getGlyphOrder()):
                ours, glyph = _ours(font, gid), stored[name]
                if ours is not None and glyph.numberOfContours:
                    box = (glyph.xMin, glyph.yMin, glyph.xMax, glyph.yMax)
                    apart = _apart(ours, box) / font.shaper.upem
                    worst[row.name] = max(worst.get(row.name, 0.0), apart)
    assert max(worst.values()) > WORTH_NOTICING_EM, worst
