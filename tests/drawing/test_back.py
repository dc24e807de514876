"""What stands on a drawing is what the report says."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest

from spinefit.drawing.dimensions import Mark, Span, column, rows, running
from spinefit.drawing.frame import frame_of
from spinefit.drawing.marks import extents_mm
from spinefit.drawing.plate import figure, plate
from spinefit.drawing.round import seen_contours
from spinefit.drawing.scene import Area, Item, Text
from spinefit.say.phrasing import bare_mm
from spinefit.shaping.glyphs import Box, Contour
from spinefit.vocabulary import Orientation

NAMES = [
    *("pamphlet", "across", "folio", "round", "round-guessed", "ascending", "label", "oval"),
    *("kept-free", "pillar", "over", "open", "open-across", "tiny", "huge"),
]


def ink_box(on: Any, name: str) -> Box:
    return extents_mm(on.group(figure(on.subject(name)), "lettering").items)


@pytest.mark.parametrize("name", NAMES)
def test_the_ink_drawn_is_as_large_as_the_report_says(on: Any, name: str) -> None:
    """To a hundredth of a millimetre, from the extrema of the curves drawn."""
    layout = on.subject(name).texts[0].layout
    left, bottom, right, top = ink_box(on, name)
    sides = (right - left, top - bottom)
    if layout.orientation is Orientation.LONGITUDINAL:
        sides = sides[::-1]
    assert sides == pytest.approx((layout.ink_width_mm, layout.ink_height_mm), abs=0.01)


@pytest.mark.parametrize("name", NAMES)
def test_the_ink_drawn_leaves_what_the_report_says(on: Any, name: str) -> None:
    """From ink to the sides of the panel drawn, less the clearance; negative stands over."""
    shown = on.subject(name).texts[0]
    frame = frame_of([shown])
    ink, panel = frame.boxes_mm[0], frame.panels_mm[0]
    clear = shown.answer.job.lettering.clearance_mm
    spare = shown.layout.spare_mm
    found = (ink[0] - panel[0] - clear, panel[2] - ink[2] - clear)
    assert found == pytest.approx((spare.left, spare.right), abs=0.01)
    if spare.head is not None:
        ends = (panel[3] - ink[3] - clear, ink[1] - panel[1] - clear)
        assert ends == pytest.approx((spare.head, spare.tail), abs=0.01)


@pytest.mark.parametrize("name", [name for name in NAMES if not name.startswith("open")])
def test_the_place_from_the_head_is_the_reports(on: Any, name: str) -> None:
    """The first mark of the running dimension."""
    layout = on.subject(name).texts[0].layout
    assert layout.first_from_head_mm is not None
    said = on.words(plate(on.subject(name)))
    start = f"{bare_mm(layout.first_from_head_mm)} "
    assert any(
        each.startswith(start) and ("baseline" in each or "lettering" in each) for each in said
    )


@pytest.mark.parametrize("name", NAMES)
def test_no_words_meet(on: Any, name: str) -> None:
    """No two texts of a sheet overlap, and all lie on it."""
    scene = plate(on.subject(name))
    texts = [item for item in on.every(scene.items) if isinstance(item, Text)]
    boxes = [(extents_mm([text]), text.text) for text in texts]
    for (box, text), (other, beside) in itertools.combinations(boxes, 2):
        apart = box[0] >= other[2] or other[0] >= box[2] or box[1] >= other[3] or other[1] >= box[3]
        assert apart, (text, beside)
    for box, text in boxes:
        assert box[0] > 0 and box[1] > 0 and box[2] < scene.width_mm, text
        assert box[3] < scene.height_mm, text


@pytest.mark.parametrize("name", NAMES)
def test_every_text_has_its_width(on: Any, name: str) -> None:
    """So that no reader's font makes it wider."""
    scene = plate(on.subject(name))
    assert all(item.width_mm > 0 for item in on.every(scene.items) if isinstance(item, Text))


def test_a_title_that_does_not_fit_shows_by_how_much(on: Any) -> None:
    """The excess is dimensioned, and the block says so."""
    said = on.words(plate(on.subject("over")))
    spare = on.subject("over").texts[0].layout.spare_mm
    worst = min(each for each in spare if each is not None)
    assert worst < 0
    assert f"over {bare_mm(-worst)}" in said
    assert "Does not fit" in said


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("pamphlet", "reads from the head down"),
        ("ascending", "reads from the tail up"),
        ("across", "reads across"),
        ("pillar", "letters one under another"),
    ],
)
def test_the_direction_is_said(on: Any, name: str, wanted: str) -> None:
    """Beside the arrow."""
    direction = on.group(plate(on.subject(name)), "direction")
    texts = [item.text for item in direction.items if isinstance(item, Text)]
    assert texts == [wanted]


@pytest.mark.parametrize(("name", "wanted"), [("pamphlet", "Capitals"), ("figures", "Letters")])
def test_only_what_has_capitals_is_said_to_have_them(on: Any, name: str, wanted: str) -> None:
    """Figures have none, nor have Hebrew or Japanese."""
    said = on.words(plate(on.subject(name)))
    assert {"Capitals", "Letters"} & set(said) == {wanted}


def test_a_back_of_open_height_shows_what_is_needed(on: Any) -> None:
    """The length that the report asks for."""
    layout = on.subject("open").texts[0].layout
    assert layout.needs_back_mm is not None
    said = on.words(plate(on.subject("open")))
    assert f"back needed {bare_mm(layout.needs_back_mm)}" in said


def test_a_round_is_seen_foreshortened() -> None:
    """Seen from straight before it, x stands at R sin(x / R): definition of the sine."""
    square = Contour((-10.0, 0.0), (((10.0, 0.0),), ((10.0, 4.0),), ((-10.0, 4.0),)))
    (seen,) = seen_contours([square], 12.0)
    left, bottom, right, top = extents_mm([Area((seen,))])
    assert (left, right) == pytest.approx((-12 * math.sin(10 / 12), 12 * math.sin(10 / 12)))
    assert (bottom, top) == (0.0, 4.0)
    at_5 = min(abs(x - 12 * math.sin(5 / 12)) for ((x, _y),) in seen.segments)
    assert at_5 < 0.25  # points between the corners, bent where the round bends them


def test_the_round_is_drawn_as_measured(on: Any) -> None:
    """Rise, chord, radius and arc of a circular segment, computed here from its definition."""
    chord, rise = 34.0, 7.0
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    arc = 2 * radius * 2 * math.atan(2 * rise / chord)
    said = " ".join(on.words(plate(on.subject("round"))))
    for part in (f"rise {rise:g}", f"chord {chord:g}", f"radius {radius:.1f} mm", f"{arc:.1f} mm"):
        assert part in said
    section = on.group(plate(on.subject("round")), "section")
    assert section.title


def test_figures_beside_a_line_keep_apart() -> None:
    """However near the places are to each other."""
    marks = [Mark(-10 - 0.3 * at, 5.0, f"mark {at}") for at in range(9)]
    items = running(marks, x_mm=20, from_x_mm=5, zero_mm=0, zero_name="head")
    spans = [Span(-1.0 * at - 1, -1.0 * at, f"part {at}") for at in range(9)]
    items += column(spans, x_mm=-20, from_x_mm=-5)
    found = sorted(extents_mm([one]) for one in items if isinstance(one, Text))
    for box, other in itertools.combinations(found, 2):
        assert box[2] <= other[0] or box[3] <= other[1] or other[3] <= box[1]


def test_level_figures_keep_apart() -> None:
    """A chain too small for its figures is parted into lines."""
    chain = [Span(0, 1, "spare"), Span(1, 3, "ink"), Span(3, 4, "spare")]
    items: list[Item] = rows([chain, [Span(0, 4, "panel")]], from_y_mm=0, y_mm=-10)
    texts = [extents_mm([one]) for one in items if isinstance(one, Text)]
    assert len(texts) == 4
    for box, other in itertools.combinations(texts, 2):
        assert box[2] <= other[0] or other[2] <= box[0] or box[3] <= other[1] or other[3] <= box[1]
