"""What every sheet says, and how small paper is dealt with."""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree

import pytest

from spinefit.catalogue.method_table import methods
from spinefit.drawing.marks import text_width_mm
from spinefit.drawing.scene import Group, Item, Scene, Text
from spinefit.drawing.sheet_page import BOX_MM, Page, bins_of, page_items, page_of
from spinefit.drawing.svg import to_svg
from spinefit.errors import FieldError

SVG = "{http://www.w3.org/2000/svg}"

HAZARDS = ("Fingers clear of the blade.",)


def texts(items: Iterable[Item]) -> Iterable[Text]:
    for item in items:
        if isinstance(item, Group):
            yield from texts(item.items)
        elif isinstance(item, Text):
            yield item


@pytest.mark.parametrize("grain", [True, False])
@pytest.mark.parametrize("count", [1, 12])
@pytest.mark.parametrize("key", sorted(methods()))
def test_the_words_stay_in_their_square(grain: bool, count: int, key: str) -> None:
    """And clear of the arrow, which is there only where there is a grain."""
    page = page_of("A4", grain=grain)
    items = page_items(page, (methods()[key].caution,), number=count, count=count)
    (words,) = (one for one in items if isinstance(one, Group) and one.name == "words")
    at = page.margin_mm + 7 + 4
    right = at + BOX_MM - (8 if grain else 3)
    for text in texts(words.items):
        assert text.at[0] >= at + 3
        assert text.at[0] + text_width_mm(text.text, text.size_mm) <= right
        assert at + 2 <= text.at[1] <= at + BOX_MM - 3
    said = " ".join(text.text for text in texts(words.items))
    assert "100 %" in said and methods()[key].caution in said
    assert ("Grain" in said) is grain
    assert (f"Sheet {count} of {count}" in said) is (count > 1)
    assert any(isinstance(one, Group) and one.name == "grain" for one in items) is grain


@pytest.mark.parametrize(("paper", "across", "along"), [("A4", 100, 100), ("80x200", 50, 100)])
def test_rulers_are_as_long_as_there_is_room_for(paper: str, across: int, along: int) -> None:
    """And the words say how long they are."""
    page = page_of(paper)
    items = page_items(page, HAZARDS, number=1, count=1)
    said = [text.text for text in texts(items)]
    assert said.count("100 mm") + said.count("50 mm") == 2
    sentence = " ".join(said)
    assert (f"{across:g} and {along:g} mm" if across != along else "rulers 100 mm") in sentence
    for text in texts(items):
        assert page.margin_mm <= text.at[0] <= page.width_mm - page.margin_mm


def test_bins_keep_apart_and_inside_the_margin() -> None:
    for gutter in (0.0, 4.0, 20.0):
        page = page_of("letter", landscape=True, gutter_mm=gutter, margin_mm=8.0)
        over, beside = bins_of(page)
        assert page.name == "Letter landscape"
        assert over.bottom_mm - beside.top_mm >= max(4, gutter) - 1e-9
        assert over.right_mm == beside.right_mm == pytest.approx(279.4 - 8)
        assert over.top_mm == pytest.approx(215.9 - 8)


def test_papers_have_their_nearest_name() -> None:
    assert page_of(" a3 ")[:3] == ("A3", 297, 420)
    assert page_of("8.5x11in")[1:3] == pytest.approx((215.9, 279.4))
    with pytest.raises(FieldError, match="did you mean 'Letter'"):
        page_of("leter")


def test_what_is_no_label_is_grey_in_svg_too() -> None:
    page: Page = page_of("A5")
    scene = Scene(148, 210, "t", "", page_items(page, HAZARDS, number=1, count=1))
    root = ElementTree.fromstring(to_svg(scene))
    assert {one.get("fill") for one in root.iter(f"{SVG}text")} == {"#737373"}
    assert {one.get("stroke") for one in root.iter(f"{SVG}polyline")} == {"#737373"}
    assert len(list(root.iter(f"{SVG}rect"))) == 1
    assert not list(ElementTree.fromstring(to_svg(scene, paper=False)).iter(f"{SVG}rect"))
