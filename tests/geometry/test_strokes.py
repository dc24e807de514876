"""The thinnest stroke of shapes of known width, within 0.5 %."""

from __future__ import annotations

import math
import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.geometry.strokes import thinner_stroke, thinnest_stroke
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Contour

WITHIN = 0.005  # the accuracy promised
LETTERS = string.ascii_letters + string.digits
FONTS = [row.name for row in catalogue.font_rows()]


def stroke_em_of(outline):
    """The width of the thinnest stroke of a glyph; None without ink."""
    found = thinnest_stroke(outline)
    return None if found is None else found.width_em


def holds(outline, stroke_em):
    """Whether no stroke of a glyph is below a limit."""
    return thinner_stroke(outline, stroke_em) is None


def ring(*points):
    return Contour(points[0], tuple((point,) for point in points[1:]))


def bar(left, bottom, right, top):
    return ring((left, bottom), (right, bottom), (right, top), (left, top))


def reverse(contour):
    """A contour of straight sides, the other way round."""
    points = [contour.start, *(segment[-1] for segment in contour.segments)]
    return ring(*points[::-1])


def circle(radius, x=0.0, y=0.0, *, clockwise=False):
    """Four cubics; within 0.03 % of a circle."""
    k = radius * 4 / 3 * (math.sqrt(2) - 1)
    r, sign = radius, -1 if clockwise else 1

    def at(dx, dy):
        return x + dx, y + sign * dy

    return Contour(
        at(r, 0),
        (
            (at(r, k), at(k, r), at(0, r)),
            (at(-k, r), at(-r, k), at(-r, 0)),
            (at(-r, -k), at(-k, -r), at(0, -r)),
            (at(k, -r), at(r, -k), at(r, 0)),
        ),
    )


def moved(outline, change):
    return tuple(
        Contour(
            change(contour.start),
            tuple(tuple(change(point) for point in segment) for segment in contour.segments),
        )
        for contour in outline
    )


def turned(outline, degrees):
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return moved(outline, lambda p: (p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos))


def near(value):
    return pytest.approx(value, rel=WITHIN)


E = (bar(0, 0, 0.1, 0.7), bar(0, 0, 0.5, 0.08), bar(0, 0.31, 0.45, 0.39), bar(0, 0.62, 0.5, 0.7))
E_AS_ONE = (
    ring((0, 0), (0.5, 0), (0.5, 0.08), (0.1, 0.08), (0.1, 0.31), (0.45, 0.31), (0.45, 0.39),
         (0.1, 0.39), (0.1, 0.62), (0.5, 0.62), (0.5, 0.7), (0, 0.7)),
)  # fmt: skip
H = (bar(0, 0, 0.1, 0.7), bar(0.5, 0, 0.6, 0.7), bar(0.05, 0.33, 0.55, 0.36))
T = (bar(0.25, 0, 0.35, 0.7), bar(0, 0.62, 0.6, 0.7))
CROSS = (bar(0.27, 0, 0.33, 0.7), bar(0, 0.33, 0.6, 0.37))
HOURGLASS = (ring((0, 0), (0.3, 0), (0.165, 0.35), (0.3, 0.7), (0, 0.7), (0.135, 0.35)),)
RING = (circle(0.26), circle(0.2, clockwise=True))
HAIRLINE_RING = (circle(0.3), circle(0.2, x=0.08, clockwise=True))  # 0.02 to 0.18 wide
STADIUM = (bar(0, -0.03, 0.4, 0.03), circle(0.03), circle(0.03, x=0.4))
CONDENSED_E = moved(E, lambda p: (p[0] * 2, p[1] / 2))


@pytest.mark.parametrize(
    ("outline", "stroke_em"),
    [
        pytest.param((bar(0, 0, 0.08, 0.7),), 0.08, id="a bar"),
        pytest.param((bar(0, 0, 0.005, 0.7),), 0.005, id="a hairline bar"),
        pytest.param((reverse(bar(0, 0, 0.08, 0.7)),), 0.08, id="a bar drawn clockwise"),
        pytest.param((bar(0, 0, 0.1, 0.1),), 0.1, id="a full stop counts as a whole"),
        pytest.param((circle(0.06),), 0.12, id="a round full stop too"),
        pytest.param(STADIUM, 0.06, id="a bar with round ends, of overlapping contours"),
        pytest.param(E, 0.08, id="E of four overlapping bars"),
        pytest.param(E_AS_ONE, 0.08, id="E in one contour"),
        pytest.param(H, 0.03, id="H, its crossbar running into the stems"),
        pytest.param(T, 0.08, id="T"),
        pytest.param(CROSS, 0.04, id="crossing bars"),
        pytest.param(RING, 0.06, id="O of even width"),
        pytest.param(HAIRLINE_RING, 0.02, id="O with a hairline on one side"),
        pytest.param(HOURGLASS, 0.03, id="an hourglass, by its neck"),
        pytest.param((bar(0, 0, 0.3, 0.7), bar(0.6, 0, 0.62, 0.7)), 0.02, id="a bar beside"),
    ],
)  # fmt: skip
def test_the_thinnest_stroke_of_a_known_shape(outline, stroke_em):
    assert stroke_em_of(outline) == near(stroke_em)


@pytest.mark.parametrize("degrees", range(0, 180, 5))
def test_a_slanted_bar_is_as_wide_as_an_upright_one(degrees):
    found = stroke_em_of(turned((bar(0, 0, 0.05, 0.6),), degrees))
    assert found == pytest.approx(0.05, rel=1e-9)


TIPS = {
    "a needle": ((ring((0, 0), (0.1, 0), (0.05, 1)),), 0.09),
    "a wedge": ((ring((0, 0), (0.3, 0), (0.15, 0.7)),), 0.24),
    "a spike on a stem": (
        (ring((0, 0), (0.1, 0), (0.1, 0.7), (0.06, 0.7), (0.05, 1.2), (0.04, 0.7), (0, 0.7)),),
        0.1,
    ),
    "a blunt spike on a stem": (
        (ring((0, 0), (0.1, 0), (0.1, 0.7), (0.052, 1), (0.048, 1), (0, 0.7)),),
        0.1,
    ),
    "pointed serifs": (
        (
            ring((0, 0), (0.4, 0), (0.25, 0.04), (0.25, 0.66), (0.4, 0.7), (0, 0.7),
                 (0.15, 0.66), (0.15, 0.04)),
        ),
        0.1,
    ),
    "bracketed serifs that run out to nothing": (
        (
            Contour((0.0, 0.0), (((0.4, 0.0),), ((0.25, 0.0), (0.25, 0.2)), ((0.25, 0.7),),
                                 ((0.15, 0.7),), ((0.15, 0.2),), ((0.15, 0.0), (0.0, 0.0)))),
        ),
        0.1,
    ),
    "a short slab serif": (
        (bar(0.2, 0, 0.3, 0.7), bar(0.14, 0, 0.36, 0.03), bar(0.14, 0.67, 0.36, 0.7)),
        0.1,
    ),
}  # fmt: skip


@pytest.mark.parametrize(("outline", "least_em"), TIPS.values(), ids=TIPS)
def test_tips_do_not_count(outline, least_em):
    """What narrows to nothing is no stroke: the body it sits on is measured."""
    assert stroke_em_of(outline) >= least_em * (1 - WITHIN)


def test_a_slab_serif_of_three_widths_counts():
    """Its arm is a limb, and the method would lose it."""
    slab = (bar(0.2, 0, 0.3, 0.7), bar(0.1, 0, 0.4, 0.03), bar(0.1, 0.67, 0.4, 0.7))
    assert stroke_em_of(slab) == near(0.03)


def test_no_ink_has_no_stroke():
    assert thinnest_stroke(()) is None
    assert thinnest_stroke((ring((0, 0), (0.5, 0)),)) is None
    assert holds((), 1)


SHAPES = [E, H, T, CROSS, HOURGLASS, RING, HAIRLINE_RING, STADIUM, CONDENSED_E]


@pytest.mark.parametrize("outline", SHAPES)
@pytest.mark.parametrize("scale", [0.25, 2, 1024])
def test_widths_scale_with_the_outline(outline, scale):
    after = stroke_em_of(moved(outline, lambda p: (p[0] * scale, p[1] * scale)))
    assert after == pytest.approx(stroke_em_of(outline) * scale, rel=1e-4)


CHANGES = {
    "a quarter turn": lambda p: (-p[1], p[0]),
    "a half turn": lambda p: (-p[0], -p[1]),
    "mirrored": lambda p: (-p[0], p[1]),
    "moved": lambda p: (p[0] + 3, p[1] - 0.5),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
@pytest.mark.parametrize("name", ["EB Garamond", "Source Serif 4 Bold", "IBM Plex Sans Var"])
def test_turning_and_mirroring_change_no_width(change, name):
    font = open_font(name)
    for letter in "AEHNOSaegkmnst8":
        outline = font.outline(font.shaper.nominal(letter))
        assert stroke_em_of(moved(outline, change)) == near(stroke_em_of(outline)), letter


@pytest.mark.parametrize("name", FONTS)
def test_the_cheap_test_says_what_the_measure_says(name):
    """At and about a letter's own widths, and at others."""
    font = open_font(name)
    first = FONTS.index(name) % 6
    for letter in LETTERS[first::6]:  # other letters in each font
        outline = font.outline(font.shaper.nominal(letter))
        found_em = stroke_em_of(outline)
        for width_em in (found_em, 0.02, 0.06):
            for part in (0.97, 1 - 1e-7, 1, 1 + 1e-7, 1.03):
                limit_em = width_em * part
                assert holds(outline, limit_em) is (found_em >= limit_em), letter


@pytest.mark.parametrize("outline", SHAPES)
def test_it_says_so_of_known_shapes_too(outline):
    found_em = stroke_em_of(outline)
    for part in (0.5, 0.97, 1 - 1e-9, 1, 1 + 1e-9, 1.03, 2):
        assert holds(outline, found_em * part) is (part <= 1)


@settings(max_examples=60, deadline=None)
@given(
    thick=st.floats(0.02, 0.2),
    thin=st.floats(0.005, 0.2),
    degrees=st.floats(0, 360),
    limit=st.floats(0.001, 0.4),
)
def test_crossbars_of_any_width_at_any_angle(thick, thin, degrees, limit):
    """An H: its stems go on past the crossbar, and its crossbar is a neck between them."""
    wide = 2 * thick + 0.4
    outline = turned(
        (bar(0, 0, thick, 0.9), bar(wide - thick, 0, wide, 0.9),
         bar(thick / 2, 0.3, wide - thick / 2, 0.3 + thin)),
        degrees,
    )  # fmt: skip
    found_em = stroke_em_of(outline)
    assert found_em == near(min(thick, thin))
    assert holds(outline, limit) is (found_em >= limit)


HEAVY_X = turned((bar(-0.35, -0.1, 0.35, 0.1), bar(-0.1, -0.35, 0.1, 0.35)), 45)
HEAVY_T = (bar(0.2, 0, 0.4, 0.7), bar(0, 0.54, 0.6, 0.7))


@pytest.mark.parametrize(("outline", "stroke_em"), [(HEAVY_X, 0.2), (HEAVY_T, 0.16)])
def test_a_limb_goes_on_across_a_stroke_like_itself(outline, stroke_em):
    """The arms of a bold X or T are short; the whole of each bar is a limb."""
    assert stroke_em_of(outline) == near(stroke_em)


@pytest.mark.parametrize("name", FONTS)
def test_every_letter_of_every_font_has_a_plausible_stroke(name):
    """No tip or join is taken for a stroke, and none of a letter's strokes is missed."""
    font = open_font(name)
    for letter in LETTERS:
        outline = font.outline(font.shaper.nominal(letter))
        assert 0.009 <= stroke_em_of(outline) <= 0.18, letter


@pytest.mark.parametrize(
    "family", ["EB Garamond", "Libre Baskerville", "Source Serif 4", "Alegreya Sans"]
)
def test_bold_is_bolder(family):
    regular, bold = open_font(family), open_font(f"{family} Bold")
    thinner = [
        letter
        for letter in "AEFHILOTUVXZabcdehiloqstuvxz"
        if stroke_em_of(regular.outline(regular.shaper.nominal(letter)))
        >= stroke_em_of(bold.outline(bold.shaper.nominal(letter)))
    ]
    assert thinner == []


@pytest.mark.parametrize("letter", "AEHTZC")
def test_the_hairlines_of_a_text_letter(letter):
    """EB Garamond's hairlines are 0.03 to 0.05 em."""
    font = open_font("EB Garamond")
    assert 0.0295 <= stroke_em_of(font.outline(font.shaper.nominal(letter))) <= 0.05
