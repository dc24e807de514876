"""Glyphs in columns."""

from __future__ import annotations

import itertools

import pytest
import uharfbuzz as hb
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.shaping.font_setter import RunShaper
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Extents, Glyph, Glyphs, Reach

FONTS = [row.name for row in catalogue.font_rows()]
UNSAFE = int(hb.GlyphFlags.UNSAFE_TO_BREAK)
titles = st.text("AVTfijlo y.’éφώЖ\u0301", min_size=1, max_size=16)
fonts = st.sampled_from(FONTS)


def shaper(font: str) -> RunShaper:
    return RunShaper(open_font(font), language=None, features={}, tracking_em=0.0)


def covered(font: str, text: str) -> bool:
    return all(map(open_font(font).shaper.nominal, text))


def plain_buffer(font: str, text: str) -> hb.Buffer:
    """HarfBuzz alone, asked for Latin text."""
    row = next(row for row in catalogue.font_rows() if row.name == font)
    blob = hb.Blob.from_file_path(str(catalogue.fonts_folder() / row.file))
    face = hb.Font(hb.Face(blob))
    if row.axes:
        face.set_variations(dict(row.axes))
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.script, buffer.direction, buffer.language = "Latn", "ltr", "und"
    hb.shape(face, buffer)
    return buffer


TEXTS = ["AVATAR To fly", "office Y. fj", "A\u0301 i\u0301"]


@pytest.mark.parametrize(
    ("font", "text"), [(font, text) for font in FONTS for text in TEXTS if covered(font, text)]
)
def test_columns_are_what_harfbuzz_says(font, text):
    """Each column, to the last bit, and the flags."""
    glyphs, buffer = shaper(font).shape(text), plain_buffer(font, text)
    infos, places = buffer.glyph_infos, buffer.glyph_positions
    em = 1 / open_font(font).shaper.upem
    assert glyphs.gids == [info.codepoint for info in infos]
    assert glyphs.clusters == [info.cluster for info in infos]
    assert glyphs.advances_em == [place.x_advance * em for place in places]
    assert glyphs.xs_em == [place.x_offset * em for place in places]
    assert glyphs.ys_em == [place.y_offset * em for place in places]
    for at, info in enumerate(infos):
        assert glyphs.unsafe([at]) == bool(at and int(info.flags) & UNSAFE)
    assert glyphs.unsafe(range(len(infos))) == any(int(info.flags) & UNSAFE for info in infos[1:])


@settings(max_examples=150, deadline=None)
@given(fonts, titles)
def test_all_glyphs_of_a_cluster_have_the_flag_of_its_first(font, text):
    if covered(font, text):
        infos = plain_buffer(font, text).glyph_infos
        for _cluster, group in itertools.groupby(infos, key=lambda info: info.cluster):
            assert len({int(info.flags) & UNSAFE for info in group}) == 1
        assert not int(infos[0].flags) & UNSAFE  # so that the first of all need not be asked


@settings(max_examples=150, deadline=None)
@given(fonts, titles, st.data())
def test_the_ink_of_any_stretch_is_that_of_its_glyphs(font, text, data):
    """Bit for bit what adding glyph by glyph gives, also where glyphs stand off the pen."""
    if not covered(font, text):
        return
    by = shaper(font)
    glyphs = by.shape(text)
    start = data.draw(st.integers(0, len(glyphs)))
    end = data.draw(st.integers(start, len(glyphs)))
    pen, boxes = 0.25, []
    for at, glyph in enumerate(glyphs):
        box = by.font.ink(glyph.gid)
        if box is not None and start <= at < end:
            x = pen + glyph.x_em
            left, bottom, right, top = box
            boxes.append((left + x, bottom + glyph.y_em, right + x, top + glyph.y_em))
        pen += glyph.advance_em
    reach = by.reach(glyphs, 0.25)
    whole = None
    if boxes:
        lefts, bottoms, rights, tops = zip(*boxes, strict=True)
        whole = (min(lefts), min(bottoms), max(rights), max(tops))
    assert reach.box(start, end) == whole
    assert reach.pens_em[-1] == pen


def made(count: int = 4) -> Glyphs:
    places = [float(at) for at in range(count)]
    return Glyphs([3, 0, 5, 6], [0, 0, 2, 3], places, [0.5] * count, [-0.5] * count)


def test_read_as_a_sequence_they_are_records():
    glyphs = made()
    assert list(glyphs) == [glyphs[at] for at in range(4)]
    assert glyphs[1] == Glyph(0, 0, 1.0, 0.5, -0.5)
    assert list(glyphs[1:3]) == list(glyphs)[1:3]
    assert len(glyphs[1:]) == 3
    assert not glyphs.unsafe([1, 2])  # letters that HarfBuzz did not set


def test_glyphs_are_moved_numbered_tracked_and_joined():
    glyphs = made()
    assert glyphs.moved(7).clusters == [7, 7, 9, 10]
    assert glyphs.numbered_from(100).gids == [103, 0, 105, 106]
    assert glyphs.tracked(0.25).advances_em == [0.0, 1.25, 2.25, 3.25]
    assert glyphs.ends(6) == {0: 2, 2: 3, 3: 6}
    assert list(Glyphs.joined([glyphs, glyphs.moved(4)])) == [*glyphs, *glyphs.moved(4)]
    assert not Glyphs.joined([])


def test_glyphs_without_ink_add_nothing_and_are_asked_once():
    asked = []

    def ink(gid: int):
        asked.append(gid)
        return (-1.0, 0.0, 1.0, 2.0) if gid == 5 else None

    extents = Extents(ink)
    for _ in range(2):
        reach = Reach(made(), extents, 10.0)
    assert reach.box(0, 2) is None
    assert reach.box(1, 1) is None
    assert reach.box(0, 4) == (10.5, -0.5, 12.5, 1.5)
    assert asked == [3, 0, 5, 6]
