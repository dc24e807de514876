"""Names of shapes of groups of lines."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spinefit.catalogue import rules
from spinefit.layout.shapes import is_good_shape, shape_name

EQUAL = rules().value("lines.equal_share")


@pytest.mark.parametrize(
    ("widths", "name"),
    [
        ([5], "one line"),
        ([5, 5], "squared"),
        ([5, 5, 5], "squared"),
        ([100, 97], "squared"),
        ([100, 95], "half-diamond"),
        ([9, 6, 3], "half-diamond"),
        ([9, 6], "half-diamond"),
        ([3, 9], "long and short"),
        ([4, 9, 4], "lozenge"),
        ([4, 6, 9, 6, 4], "lozenge"),
        ([4, 9, 9, 4], "lozenge"),
        ([9, 4, 9], "long and short"),
        ([4, 9, 4, 9], "long and short"),
        ([9, 4, 9, 4], "long and short"),
        ([3, 6, 9], "irregular"),
        ([9, 9, 4], "irregular"),
        ([4, 9, 4, 4, 9], "irregular"),
        ([9, 4, 4, 9], "irregular"),
    ],
)
def test_shapes_have_the_trades_names(widths, name):
    assert shape_name(widths, EQUAL) == name
    assert is_good_shape(name) is (name != "irregular")


@given(st.lists(st.floats(0.1, 50), min_size=1, max_size=8), st.floats(0.01, 100))
def test_a_shape_does_not_depend_on_the_size(widths, scale):
    """Powers of two scale without rounding."""
    scale = 2.0 ** round(scale % 8)
    assert shape_name([width * scale for width in widths], EQUAL) == shape_name(widths, EQUAL)
