from __future__ import annotations

import pytest

from spinefit.geometry.plane import turn_box, turn_point
from spinefit.vocabulary import Turn


@pytest.mark.parametrize("turn", list(Turn))
def test_a_turned_box_is_the_box_of_its_turned_corners(turn):
    left, bottom, right, top = box = (-1.0, -0.25, 3.0, 0.75)
    corners = [turn_point((x, y), turn) for x in (left, right) for y in (bottom, top)]
    xs, ys = zip(*corners, strict=True)
    assert turn_box(box, turn) == (min(xs), min(ys), max(xs), max(ys))


def test_the_two_turns_undo_each_other():
    point = (0.3, -0.7)
    assert turn_point(turn_point(point, Turn.CLOCKWISE), Turn.ANTICLOCKWISE) == point


def test_a_descending_line_begins_at_the_head():
    """Clockwise, what stood at the right stands towards the tail."""
    assert turn_point((2.0, 0.0), Turn.CLOCKWISE) == (0.0, -2.0)
