"""Exact ink extents, against a second engine."""

from __future__ import annotations

import itertools
import random

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.glyphs import Contour, ink_box, union

STATIC = [row for row in catalogue.font_rows() if not row.axes]


@pytest.mark.parametrize("row", STATIC, ids=lambda row: row.name)
def test_ink_is_that_of_fonttools(row):
    """BoundsPen finds the same curve extrema in 60 glyphs of each font."""
    font = open_font(row.name)
    with TTFont(catalogue.fonts_folder() / row.file) as tt:
        glyphs, upem = tt.getGlyphSet(), tt["head"].unitsPerEm
        mapped = tt.getBestCmap()
        names = random.Random(7).sample(sorted(mapped.values()), 60)
        for name in [*names, mapped[ord("g")], mapped[ord("Q")]]:
            pen = BoundsPen(glyphs)
            glyphs[name].draw(pen)
            found = font.ink(tt.getGlyphID(name))
            if pen.bounds is None:
                assert found is None
            else:
                assert found == pytest.approx([edge / upem for edge in pen.bounds], abs=2e-6)


coordinate = st.integers(-1000, 1000).map(lambda number: number / 100)
point = st.tuples(coordinate, coordinate)


@settings(max_examples=300, deadline=None)
@given(
    point,
    st.lists(
        st.one_of(st.tuples(point), st.tuples(point, point), st.tuples(point, point, point)),
        min_size=1,
        max_size=4,
    ),
)
def test_no_point_of_a_curve_lies_outside_its_box_and_each_side_is_touched(start, segments):
    """Sampled finely; the extrema lie within a hundredth of a sample."""
    box = ink_box((Contour(start, tuple(segments)),))
    xs, ys, at = [start[0]], [start[1]], start
    steps = 256
    for segment in segments:
        points = (at, *segment)
        for step in range(steps + 1):
            t = step / steps
            level = list(points)
            while len(level) > 1:
                level = [
                    (a[0] * (1 - t) + b[0] * t, a[1] * (1 - t) + b[1] * t)
                    for a, b in itertools.pairwise(level)
                ]
            xs.append(level[0][0])
            ys.append(level[0][1])
        at = segment[-1]
    sampled = (min(xs), min(ys), max(xs), max(ys))
    assert box[0] <= sampled[0] + 1e-9
    assert box[1] <= sampled[1] + 1e-9
    assert box[2] >= sampled[2] - 1e-9
    assert box[3] >= sampled[3] - 1e-9
    assert box == pytest.approx(sampled, abs=0.01)


def test_nothing_has_no_box():
    assert ink_box(()) is None
    assert union([]) is None
    assert union([(0, 0, 1, 1), (-1, 0.5, 0.5, 3)]) == (-1, 0, 1, 3)
