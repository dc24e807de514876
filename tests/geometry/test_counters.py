"""Counters, apertures and parts of shapes of known size, and of letters against their pixels."""

from __future__ import annotations

import math

import freetype
import numpy as np
import pytest

from spinefit import catalogue
from spinefit.catalogue import font_named, fonts_folder
from spinefit.geometry.polygons import closes_within, least_counter_em, least_part_em
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Contour

WITHIN = 0.005  # the accuracy promised
EM_PX = 400


def ring(*points):
    return Contour(points[0], tuple((point,) for point in points[1:]))


def bar(left, bottom, right, top, *, hole=False):
    points = [(left, bottom), (right, bottom), (right, top), (left, top)]
    return ring(*(points[::-1] if hole else points))


def polygon(radius, *, hole=False, sides=180):
    """A ring so near a circle that its largest circle is one."""
    turns = [2 * math.pi * at / sides for at in range(sides)]
    points = [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]
    return ring(*(points[::-1] if hole else points))


def letter(font, char):
    return font.outline(font.shaper.nominal(char))


def pixels(row, char):
    """A character of a bundled font as FreeType fills it, True for ink, with white round it."""
    face = freetype.Face(str(fonts_folder() / row.file))
    face.set_pixel_sizes(0, EM_PX)
    face.load_char(char, freetype.FT_LOAD_RENDER | freetype.FT_LOAD_NO_HINTING)
    bitmap = face.glyph.bitmap
    grey = np.array(bitmap.buffer, dtype=np.uint8).reshape(bitmap.rows, bitmap.pitch)
    return np.pad(grey[:, : bitmap.width] > 127, 2)


def flooded(free, start):
    """The pixels of a mask that hang together with one of them."""
    found = np.zeros_like(free)
    found[start] = True
    while True:
        wider = found.copy()
        wider[1:] |= found[:-1]
        wider[:-1] |= found[1:]
        wider[:, 1:] |= found[:, :-1]
        wider[:, :-1] |= found[:, 1:]
        wider &= free
        if (wider == found).all():
            return found
        found = wider


def circles_px(ink):
    """For each white region that ink encloses, the diameter of the largest circle in it."""
    left = ~ink & ~flooded(~ink, (0, 0))
    while left.any():
        region = flooded(left, tuple(np.argwhere(left)[0]))
        left &= ~region
        rim = region.copy()
        for shift, axis in ((1, 0), (-1, 0), (1, 1), (-1, 1)):
            rim |= np.roll(region, shift, axis)
        rim_px, inside_px = np.argwhere(rim & ink), np.argwhere(region)
        away = np.hypot(*(inside_px[:, None, :] - rim_px[None, :, :]).transpose(2, 0, 1))
        yield 2 * away.min(axis=1).max() - 1  # a rim pixel's near side is half a pixel nearer


@pytest.mark.parametrize(
    ("outline", "counter_em"),
    [
        pytest.param((bar(0, 0, 0.08, 0.7),), None, id="a bar has none"),
        pytest.param((polygon(0.26), polygon(0.2, hole=True)), 0.4, id="a round counter"),
        pytest.param(
            (bar(0, 0, 0.5, 0.6), bar(0.1, 0.1, 0.4, 0.15, hole=True)), 0.05, id="a flat one"
        ),
        pytest.param(
            (ring((0, 0), (0.6, 0), (0.3, 0.6)), ring((0.2, 0.1), (0.3, 0.3), (0.4, 0.1))),
            2 * 0.02 / (0.1 + math.hypot(0.1, 0.2)),
            id="one with three corners, by the largest circle in it",
        ),
        pytest.param(
            (polygon(0.5), polygon(0.4, hole=True), bar(-0.1, -0.1, 0.1, 0.1)),
            0.4 - 0.1,
            id="white round an island is as wide as it is there",
        ),
        pytest.param(
            (bar(0, 0, 0.1, 0.7), bar(0.1, 0, 0.4, 0.1), bar(0.4, 0, 0.5, 0.7)), None,
            id="a U is open",
        ),
        pytest.param((bar(0, 0, 0.3, 0.7), bar(0.1, 0.1, 0.1001, 0.6, hole=True)), None,
                     id="a slit where contours all but meet is a fault of drawing"),
    ],
)  # fmt: skip
def test_the_smallest_counter_of_a_known_shape(outline, counter_em):
    found = least_counter_em(outline)
    assert found == (None if counter_em is None else pytest.approx(counter_em, rel=WITHIN))


@pytest.mark.parametrize("char", "eaAg8BR")
@pytest.mark.parametrize("name", ["EB Garamond", "Source Serif 4 Bold"])
def test_counters_measure_what_their_pixels_measure(name, char):
    """Drawn by FreeType, flooded and measured from pixel to pixel: within two pixels of 400."""
    ink = pixels(font_named(name), char)
    drawn_px = min(circles_px(ink))
    measured_px = EM_PX * least_counter_em(letter(open_font(name), char))
    assert measured_px == pytest.approx(drawn_px, abs=2)


@pytest.mark.parametrize(("size_pt", "eye_mm"), [(9, 0.31), (12, 0.41), (14, 0.48)])
def test_the_eye_of_a_garamond_e(size_pt, eye_mm):
    """Trade figures, measured on rasterised outlines (computed)."""
    eye_em = least_counter_em(letter(open_font("EB Garamond"), "e"))
    assert eye_em * size_pt * 25.4 / 72 == pytest.approx(eye_mm, abs=0.01)


@pytest.mark.parametrize("char", "WMVvcsCnHETJ")
@pytest.mark.parametrize("row", catalogue.font_rows()[:6], ids=lambda row: row.name)
def test_crotches_and_apertures_are_no_counters(row, char):
    assert least_counter_em(letter(open_font(row.name), char)) is None or char == "W"


def mouth(open_em):
    """A box with a mouth of that width in its side."""
    low, high = 0.3 - open_em / 2, 0.3 + open_em / 2
    return (
        ring((0, 0), (0.6, 0), (0.6, low), (0.5, low), (0.5, 0.1), (0.1, 0.1), (0.1, 0.5),
             (0.5, 0.5), (0.5, high), (0.6, high), (0.6, 0.6), (0, 0.6)),
    )  # fmt: skip


def test_an_aperture_closes_where_ink_grows_by_half_of_it():
    assert closes_within(mouth(0.1), 0.1001) and not closes_within(mouth(0.1), 0.099)


def test_a_dot_runs_into_its_stem():
    dotted = (bar(0, 0, 0.1, 0.5), bar(0, 0.6, 0.1, 0.7))
    assert closes_within(dotted, 0.1001) and not closes_within(dotted, 0.099)


def test_what_only_fills_is_no_aperture():
    """A notch that narrows to nothing, and a counter that grows smaller."""
    notch = (ring((0, 0), (0.6, 0), (0.6, 0.7), (0.3, 0.2), (0, 0.7)),)
    counter = (polygon(0.3), polygon(0.2, hole=True))
    assert not any(closes_within(notch, width_em) for width_em in (0.05, 0.1, 0.3))
    assert not any(closes_within(counter, width_em) for width_em in (0.05, 0.1, 0.3))


def test_the_smallest_part_is_measured_by_its_longer_side():
    dotted = (bar(0, 0, 0.1, 0.5), bar(0, 0.6, 0.12, 0.7))
    assert least_part_em(dotted) == pytest.approx(0.12)
    assert least_part_em(()) is None
