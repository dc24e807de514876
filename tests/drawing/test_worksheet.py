"""The paper pattern: true size on paper, lines where the letters stand, the same bytes twice."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from spinefit import Job, Lettering, Spine
from spinefit.drawing.marks import extents_mm
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.scene import Group, Item, Text
from spinefit.drawing.worksheet import worksheet_scenes
from spinefit.drawing.worksheet_places import Worksheet, worksheet_of
from spinefit.errors import FieldError
from spinefit.job.tools import read_tools
from spinefit.pipeline import answer
from spinefit.vocabulary import Case, Orientation
from tests.drawing.rendered import MM_A_PIXEL, needs_pdftoppm, rendered

BRASS = str(Path(__file__).parents[2] / "shared" / "tools" / "reading-room-brass.toml")
LEFT, TOP = 12.0, 297.0 - 12.0 - 21.0  # of the pattern on A4


def sheet(
    title: str = "The Coasting / Pilot",
    *,
    height_mm: float | None = 180.0,
    orientation: Orientation = Orientation.TRANSVERSE,
    size_pt: float = 12,
    width_mm: float = 40.0,
    font: str | None = None,
) -> Worksheet:
    """A worksheet in capitals."""
    spine = Spine(width_mm=width_mm, height_mm=height_mm)
    said = Lettering(case=Case.CAPITALS, orientation=orientation, size_pt=size_pt, font=font)
    job = Job(title=title, spine=spine, lettering=said, method="hand-letters", market="GB")
    return worksheet_of(answer(job))


def texts(items: tuple[Item, ...]) -> list[str]:
    """Every word of a scene."""
    found = []
    for item in items:
        if isinstance(item, Group):
            found += texts(item.items)
        elif isinstance(item, Text):
            found.append(item.text)
    return found


def groups_of(items: tuple[Item, ...], name: str) -> list[Group]:
    """The groups of a name."""
    return [item for item in items if isinstance(item, Group) and item.name == name]


@needs_pdftoppm
def test_the_bar_and_the_outline_are_true_to_a_tenth(tmp_path: Path) -> None:
    """Measured in the pixels of another renderer: A4, 50 mm, a back of 40 x 180 mm."""
    page = rendered(to_pdf(worksheet_scenes(sheet())), tmp_path)
    assert page.size_mm == pytest.approx((210, 297), abs=0.1)
    bar = page.cut(LEFT - 2, 17.5, LEFT + 60, 20.5)
    left, _bottom, right, _top = bar.ink_mm()
    assert right - left == pytest.approx(50, abs=0.1)
    outline = page.cut(LEFT - 2, TOP - 185, LEFT + 41, TOP + 2).ink_mm()
    sides = page.cut(LEFT - 2, TOP - 20, LEFT + 41, TOP - 15).upright_strokes_mm()
    assert sides[-1] - sides[0] == pytest.approx(40, abs=0.1)
    ends = page.cut(LEFT + 2, TOP - 182, LEFT + 3, TOP + 2).level_strokes_mm()
    assert ends[-1] - ends[0] == pytest.approx(180, abs=0.1)
    assert outline[2] - outline[0] > 40


@needs_pdftoppm
def test_ticks_and_guide_lines_stand_where_the_letters_do(tmp_path: Path) -> None:
    """Foot lines at their distance from the head, a tick at the middle of every letter."""
    found = sheet()
    page = rendered(to_pdf(worksheet_scenes(found)), tmp_path)
    beside = page.cut(LEFT + 1, TOP - 100, LEFT + 2, TOP - 10)  # left of every letter
    levels = [TOP - 100 + level for level in beside.level_strokes_mm()]
    for line in found.lines:
        assert line.foot_from_head_mm is not None
        for wanted in (TOP - line.foot_from_head_mm, TOP - line.foot_from_head_mm + found.head_mm):
            assert min(abs(level - wanted) for level in levels) < 0.1
    line = found.lines[0]
    head = TOP - (line.foot_from_head_mm or 0) + found.head_mm
    ticks = page.cut(LEFT + 1, head + 0.1, LEFT + 39, head + 0.25).upright_strokes_mm()
    middles = [one.from_middle_mm for one in line.letters if not one.is_space]
    assert len(ticks) >= len(middles)
    for middle in middles:
        assert min(abs(tick + 1 - 20 - middle) for tick in ticks) < 0.1


@needs_pdftoppm
def test_letters_are_grey_and_true(tmp_path: Path) -> None:
    """Their ink as wide as the report says, lighter than any line."""
    found = sheet("HHH", orientation=Orientation.LONGITUDINAL, size_pt=24, font="Alegreya Sans")
    page = rendered(to_pdf(worksheet_scenes(found)), tmp_path)
    (line,) = found.lines
    # above the foot line and the numbers below it
    grey = ((pixels := page.cut(LEFT + 10, TOP - 140, LEFT + 30, TOP - 40).pixels) > 140) & (
        pixels < 165
    )
    counts = grey.sum(axis=1)
    rows = np.flatnonzero(counts > np.median(counts[:200]) + 3)  # the blurred edges of lines
    assert (rows[-1] - rows[0] + 1) * MM_A_PIXEL == pytest.approx(line.length_mm, abs=0.1)


def test_letters_stand_free_of_their_numbers() -> None:
    """A number below the foot of each letter, clear of it and of the next line's upper guide."""
    found = sheet()
    (pattern,) = groups_of(worksheet_scenes(found)[0].items, "pattern")
    (group,) = groups_of(pattern.items, "numbers")
    numbers = [item for item in group.items if isinstance(item, Text)]
    assert len(numbers) == sum(len(line.struck) for line in found.lines)
    middle = pattern_middle_mm(found)
    lines = [line for line in found.lines for _letter in line.struck]
    for number, line in zip(numbers, lines, strict=True):
        top_mm = number.at[1] + 0.7 * number.size_mm - middle
        assert top_mm < line.foot_mm
        others = [one for one in found.lines if one.foot_mm < line.foot_mm]
        assert all(number.at[1] - middle > one.foot_mm + one.head_mm for one in others)


def pattern_middle_mm(found: Worksheet) -> float:
    """How high the middle of the panel stands on the page."""
    panel = found.judged.layout.panel
    assert panel.height_mm is not None
    return TOP - (panel.margin_head_mm or 0.0) - panel.height_mm / 2


def test_the_letters_of_tools_stand_in_their_faces() -> None:
    """The pattern is read as the title, though tools give no outlines."""
    across = Orientation.TRANSVERSE
    said = Lettering(case=Case.CAPITALS, tools=read_tools(BRASS), orientation=across)
    spine = Spine(width_mm=40.0, height_mm=180.0)
    job = Job(title="The Coasting / Pilot", spine=spine, lettering=said, method="hand-letters")
    found = worksheet_of(answer(job))
    (pattern,) = groups_of(worksheet_scenes(found)[0].items, "pattern")
    (lettering,) = groups_of(pattern.items, "lettering")
    letters = [item for item in lettering.items if isinstance(item, Text)]
    assert "".join(one.text for one in letters) == "THECOASTINGPILOT"
    struck = [one for line in found.lines for one in line.struck]
    for letter, face in zip(letters, struck, strict=True):
        assert letter.at[0] - LEFT - 20.0 == pytest.approx(face.from_middle_mm, abs=0.01)
        assert letter.width_mm is not None and letter.width_mm < face.width_mm


def test_the_same_worksheet_makes_the_same_bytes() -> None:
    """No clock, no random name."""
    assert to_pdf(worksheet_scenes(sheet())) == to_pdf(worksheet_scenes(sheet()))


@pytest.mark.parametrize("orientation", [Orientation.TRANSVERSE, Orientation.LONGITUDINAL])
def test_the_sheet_says_what_to_do_and_what_to_mind(orientation: Orientation) -> None:
    """Head, steps, cautions, the order and the figures."""
    words = " ".join(
        word
        for scene in worksheet_scenes(sheet(orientation=orientation))
        for word in texts(scene.items)
    )
    for said in ("HEAD", "TAIL", "50 mm", "100 %", "Hot tools", "from middle"):
        assert said in words


def test_a_tall_back_takes_a_larger_sheet() -> None:
    """A3 by itself; a paper that was asked for is refused where it is too small."""
    tall = sheet(height_mm=300)
    assert worksheet_scenes(tall)[0][:2] == (297, 420)
    assert worksheet_scenes(sheet(height_mm=450))[0].height_mm > 450
    with pytest.raises(FieldError, match="needs a sheet of"):
        worksheet_scenes(tall, paper="letter")
    assert worksheet_scenes(sheet(), paper="letter")[0][:2] == (215.9, 279.4)


@pytest.mark.parametrize(
    ("paper", "sides_mm"), [("A5", (148, 210)), ("a4", (210, 297)), ("118x200mm", (118, 200))]
)
def test_any_paper_that_holds_the_pattern_serves(paper: str, sides_mm: tuple[float, float]) -> None:
    """A name, its case forgiven, or two sides; nothing off the page."""
    for scene in worksheet_scenes(sheet(height_mm=100), paper=paper):
        assert scene[:2] == sides_mm
        left, bottom, right, top = extents_mm(scene.items)
        assert left > 0 and right < sides_mm[0]
        assert bottom > 0 and top < sides_mm[1]


def test_a_paper_narrower_than_the_table_is_refused() -> None:
    with pytest.raises(FieldError, match="needs a sheet of 118 x"):
        worksheet_scenes(sheet(height_mm=100), paper="117x300mm")


def test_a_back_of_open_length_shows_what_is_near_the_letters() -> None:
    """No head is known, so that no distance from it is given."""
    found = sheet(height_mm=None)
    (first, *_rest) = worksheet_scenes(found)
    assert found.lines[0].foot_from_head_mm is None
    said = " ".join(texts(first.items))
    assert "TAIL" in said and "figures beside it" not in said
    assert "figures beside it" in " ".join(texts(worksheet_scenes(sheet())[0].items))


def test_a_long_title_fills_columns_and_pages() -> None:
    """Every letter has its row, none of them off the page."""
    title = "Minutes / of the Wrackness / Harbour Commissioners / concerning the Breakwater"
    found = sheet(title, width_mm=120, size_pt=12)
    scenes = worksheet_scenes(found)
    rows = sum(
        text.count(",") == 0 and text.isdigit() for s in scenes[1:] for text in texts(s.items)
    )
    assert rows == sum(line.places for line in found.lines)
    for scene in scenes:
        for at in (item.at for item in scene.items if isinstance(item, Text)):
            assert 8 <= at[0] <= scene.width_mm - 8
            assert 8 <= at[1] <= scene.height_mm - 8
