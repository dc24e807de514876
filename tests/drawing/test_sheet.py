"""Labels stand side by side: never over one another, never off the page."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spinefit.drawing.marks import text_width_mm
from spinefit.drawing.scene import Area, Group, Item, Line, Text, box_contour
from spinefit.drawing.sheet_label import Label, cell_of, label_items, turned_label
from spinefit.drawing.sheet_page import Bin, Cell, bins_of, fits_in, pack, page_of

SLACK_MM = 1e-6
sides = st.floats(5, 90, allow_nan=False)
cells = st.builds(Cell, sides, sides)
captions = st.lists(st.text("ABC 0123./×", min_size=1, max_size=60), max_size=3).map(tuple)


@st.composite
def labels(draw: st.DrawFn) -> Label:
    width, height = draw(st.floats(4, 120)), draw(st.floats(4, 120))
    framed = draw(st.booleans())
    return Label(
        width_mm=width,
        height_mm=height,
        ink=(box_contour(-width / 3, -height / 3, width / 3, height / 3),),
        outline=None,
        frame_mm=0.35 if framed else 0.0,
        inset=None,
        cut_outside_mm=draw(st.floats(0, 1)) if framed else 0.0,
        caption=draw(captions),
    )


def corners(items: Iterable[Item]) -> Iterable[tuple[float, float]]:
    """Every point that is drawn, half a pen's width included; of texts their boxes."""
    for item in items:
        if isinstance(item, Group):
            yield from corners(item.items)
        elif isinstance(item, Line):
            yield from item.points
        elif isinstance(item, Area):
            reach = 0.0 if item.pen is None else item.pen.width_mm / 2
            for one in item.contours:
                for x, y in (one.start, *(part[-1] for part in one.segments)):
                    yield from ((x - reach, y - reach), (x + reach, y + reach))
        else:
            yield from text_corners(item)


def text_corners(item: Text) -> Iterable[tuple[float, float]]:
    along, low, high = text_width_mm(item.text, item.size_mm), -0.3, 0.75
    x, y = item.at
    for far in (0.0, along):
        for up in (low * item.size_mm, high * item.size_mm):
            yield (x - up, y + far) if item.turn_deg else (x + far, y + up)


@given(st.lists(cells, min_size=1, max_size=40), st.integers(0, 10_000).map(lambda um: um / 1000))
def test_cells_keep_apart_and_stay_in_their_bins(wanted: list[Cell], gutter: float) -> None:
    """On every page, with the gutter between any two."""
    bins = bins_of(page_of("Tabloid", gutter_mm=gutter))
    spots = pack(wanted, bins, gutter_mm=gutter)
    assert len(spots) == len(wanted)
    boxes = [
        (spot.page, spot.left_mm, spot.top_mm - cell.height_mm, spot.left_mm + cell.width_mm,
         spot.top_mm)
        for spot, cell in zip(spots, wanted, strict=True)
    ]  # fmt: skip
    for at, (page, left, bottom, right, top) in enumerate(boxes):
        assert any(
            left >= one.left_mm - SLACK_MM
            and bottom >= one.bottom_mm - SLACK_MM
            and right <= one.right_mm + SLACK_MM
            and top <= one.top_mm + SLACK_MM
            for one in bins
        )
        for other in boxes[:at]:
            if other[0] == page:
                apart = max(
                    left - other[3], other[1] - right, bottom - other[4], other[2] - top
                )  # fmt: skip
                assert apart >= gutter - SLACK_MM


@given(labels(), st.booleans())
def test_everything_drawn_of_a_label_lies_in_its_cell(label: Label, turned: bool) -> None:
    """Marks and caption too: where cells keep apart, so do labels."""
    label = turned_label(label) if turned else label
    cell = cell_of(label)
    items, (left, bottom) = label_items(label, (100.0, 200.0))
    for x, y in corners(items):
        assert 100 - SLACK_MM <= x <= 100 + cell.width_mm + SLACK_MM
        assert 200 - cell.height_mm - SLACK_MM <= y <= 200 + SLACK_MM
    inside = (left, bottom, left + label.width_mm, bottom + label.height_mm)
    (group,) = items
    assert isinstance(group, Group)
    for part in group.items:
        if isinstance(part, Group) and part.name == "caption":
            for x, y in corners(part.items):  # nothing but lettering inside the label
                within = inside[0] < x < inside[2] and inside[1] < y < inside[3]
                assert not within


@given(st.lists(st.tuples(st.floats(5, 60), st.floats(5, 60)), min_size=1, max_size=30))
def test_no_page_is_begun_before_the_last_is_of_no_use(wanted: list[tuple[float, float]]) -> None:
    """A second page only where the cells' area asks for more than a part of the first."""
    bins = (Bin(0, 0, 200, 200),)
    spots = pack([Cell(*one) for one in wanted], bins, gutter_mm=0)
    pages = max(spot.page for spot in spots) + 1
    area = sum(width * height for width, height in wanted)
    assert pages <= 1 + area / (0.25 * 200 * 200)


def test_lower_labels_stand_below_one_another_in_a_high_row() -> None:
    spots = pack([Cell(20, 100), Cell(20, 40), Cell(20, 40)], [Bin(0, 0, 50, 100)], gutter_mm=5)
    assert [tuple(spot) for spot in spots] == [(0, 0, 100), (0, 25, 100), (0, 25, 55)]


def test_what_is_larger_than_every_bin_is_refused() -> None:
    page = page_of("A4")
    assert fits_in(Cell(189, 222), bins_of(page))
    assert not fits_in(Cell(189.1, 222), bins_of(page))
    with pytest.raises(ValueError, match="larger"):
        pack([Cell(190, 10)], bins_of(page), gutter_mm=0)


def test_turning_twice_turns_by_half_a_circle() -> None:
    label = Label(30, 20, (box_contour(-3, -2, 5, 1),), None, 0.35, None, 0.5, ("A",))
    once = turned_label(label)
    assert (once.width_mm, once.height_mm) == (20, 30)
    assert once.ink == (
        box_contour(-3, -2, 5, 1)._replace(
            start=(2, -3), segments=(((2, 5),), ((-1, 5),), ((-1, -3),))
        ),
    )
