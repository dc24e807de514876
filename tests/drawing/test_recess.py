"""The cutting drawing and the front board: true size, figures, the same bytes twice."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from spinefit import Job, Panel, Spine
from spinefit.drawing.front_board import board_scene
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.plate import plate, subject_of
from spinefit.drawing.recess import recess_scene
from spinefit.drawing.scene import Area, Group, Item, Scene, Text
from spinefit.drawing.svg import to_svg
from spinefit.job.model import Lettering, Recess
from spinefit.job.places import FrontBoard
from spinefit.job.tools import read_tools
from spinefit.pipeline import Answer, answer
from tests.drawing.rendered import needs_pdftoppm, rendered


def on_board(*, market: str | None = None, title: str = "Tide Tables", **board: object) -> Answer:
    """A label of 60 x 30 mm in a recess of the front board, unless otherwise said."""
    said = FrontBoard(
        **{"board": Panel(width_mm=135, height_mm=215), "label": Panel(width_mm=60, height_mm=30),
           **board}
    )  # type: ignore[arg-type]  # fmt: skip
    return answer(Job(title=title, front_board=said, recess=Recess(wanted=True), market=market))


def groups(items: tuple[Item, ...]) -> dict[str, Group]:
    """The groups of a scene by name, the last of each name."""
    found: dict[str, Group] = {}
    for item in items:
        if isinstance(item, Group):
            found |= {item.name: item} | groups(item.items)
    return found


def texts(scene: Scene) -> str:
    """All words of a scene."""
    return "\n".join(re.findall(r"<text[^>]*>([^<]*)</text>", to_svg(scene)))


def extents(group: Group) -> tuple[float, float, float, float]:
    """Of the areas of a group with straight sides."""
    points = [
        point
        for item in group.items
        if isinstance(item, Area)
        for contour in item.contours
        for point in (contour.start, *(segment[-1] for segment in contour.segments))
    ]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@needs_pdftoppm
def test_opening_and_bar_are_true_to_a_tenth(tmp_path: Path) -> None:
    """Measured in the pixels of another renderer: 61.4 x 31.4 mm, and the bar of 50 mm."""
    scene = recess_scene(on_board())
    page = rendered(to_pdf([scene]), tmp_path)
    left, bottom, right, top = extents(groups(scene.items)["opening"])
    sides = page.cut(left - 2, bottom + 4, right + 2, bottom + 5).upright_strokes_mm()
    assert sides[-1] - sides[0] == pytest.approx(61.4, abs=0.1)
    ends = page.cut(left + 6, bottom - 1, left + 6.3, top + 1).level_strokes_mm()
    assert ends[-1] - ends[0] == pytest.approx(31.4, abs=0.1)
    bar = page.cut(10, 17.5, 70, 20.5).ink_mm()
    assert bar[2] - bar[0] == pytest.approx(50, abs=0.1)


def test_figures_steps_and_cautions_stand_on_the_sheet() -> None:
    """Opening, pressing piece, depth, layers; knives."""
    said = texts(recess_scene(on_board()))
    assert "2" in said.splitlines()  # the whole board, as a dimension
    for words in ("61.4", "31.4", "59.4", "29.4", "card 0.3 mm, cut through", "board 1.4 mm",
                  "label 0.12 mm", "0.3", "50 mm", "Sharp blade"):  # fmt: skip
        assert words in said


def test_a_long_label_takes_a_sheet_that_holds_it() -> None:
    """Nothing off the page; a folio's label takes a sheet of its own size."""
    for height_mm in (216.0, 300.0, 480.0):
        label = Panel(width_mm=30, height_mm=height_mm - 8)
        recess = Recess(board_mm=2.4)
        job = Job(title="Tide Tables", panel=label, method="leather-label", recess=recess)
        scene = recess_scene(answer(job))
        left, bottom, right, top = extents(groups(scene.items)["opening"])
        assert top - bottom == pytest.approx(height_mm - 8 + 1.4)
        assert 8 < left < right < scene.width_mm - 6
        assert 8 < bottom < top < scene.height_mm - 8
        for item in scene.items:
            if isinstance(item, Text):
                assert item.at[1] > 8


def test_the_board_is_drawn_at_half_size_with_its_dimensions() -> None:
    """Board, label and leather where they are, figures true."""
    found = on_board(leather_mm=40.0, corners_mm=30.0)
    scene = board_scene(found)
    parts = groups(scene.items)
    left, bottom, right, top = extents(parts["front-board"])
    assert (right - left, top - bottom) == pytest.approx((67.5, 107.5))
    label = extents(parts["label"])
    assert (label[0] + label[2]) / 2 - left == pytest.approx(87.5 / 2)
    assert top - (label[1] + label[3]) / 2 == pytest.approx(107.5 / 2)
    said = texts(scene)
    for words in ("135", "215", "47.5", "107.5", "label 60 x 30 mm", "HEAD", "half size"):
        assert words in said


def test_where_books_are_bound_on_the_right_the_back_is_there() -> None:
    """A mirror image, but for the lettering."""
    hebrew = board_scene(on_board(market="IL", leather_mm=40.0))
    latin = board_scene(on_board(leather_mm=40.0))
    left, _bottom, right, _top = extents(groups(latin.items)["front-board"])
    at = [extents(groups(scene.items)["label"])[0] for scene in (latin, hebrew)]
    wide = [extents(groups(scene.items)["label"])[2] for scene in (latin, hebrew)]
    assert at[0] - left == pytest.approx(right - wide[1])
    assert at[0] > at[1]


def test_no_line_of_words_leaves_the_sheet() -> None:
    """Whatever font a reader has: each text keeps the width it was laid out with."""
    for scene in (recess_scene(on_board()), board_scene(on_board())):
        every = [item for item in scene.items if isinstance(item, Text)]
        every += [item for item in groups(scene.items)["how-to"].items if isinstance(item, Text)]
        assert len(every) > 5
        assert all(0 < text.width_mm < scene.width_mm - 8 - text.at[0] for text in every)


def _end_mm(text: Text) -> float:
    return text.at[0] + 1.24 * text.width_mm


def test_a_reader_without_the_font_keeps_sentences_on_the_sheet() -> None:
    """Some hold no words to their width, and usual sans serifs are wider by up to 1.24."""
    found = on_board()
    sheets = (recess_scene(found), "how-to"), (board_scene(found), "how-to")
    for scene, name in (*sheets, (plate(subject_of(found)), "title-block")):
        words = groups(scene.items)[name].items
        sentences = [one for one in words if isinstance(one, Text) and len(one.text) > 25]
        assert sentences
        over = [one.text for one in sentences if _end_mm(one) > scene.width_mm - 3]
        assert not over


def test_the_same_drawing_makes_the_same_bytes() -> None:
    """As SVG and as PDF."""
    for scene in (recess_scene, board_scene):
        assert to_svg(scene(on_board())) == to_svg(scene(on_board()))
        assert to_pdf([scene(on_board())]) == to_pdf([scene(on_board())])


def test_there_is_nothing_to_draw_of_another_job() -> None:
    """Neither a recess nor a board."""
    plain = answer(Job(title="Tides", spine=Spine(width_mm=20)))
    for scene in (recess_scene, board_scene):
        with pytest.raises(ValueError, match="to draw"):
            scene(plain)


def test_letters_of_tools_on_a_board_can_be_read() -> None:
    """Their faces are outlined, each letter in its face: no row of black boxes."""
    brass = Path(__file__).parents[2] / "shared" / "tools" / "reading-room-brass.toml"
    job = Job(
        title="DUES",
        front_board=FrontBoard(board=Panel(width_mm=138, height_mm=214)),
        lettering=Lettering(tools=read_tools(str(brass))),
        method="hand-letters",
    )
    faces, *letters = groups(board_scene(answer(job)).items)["lettering"].items
    assert isinstance(faces, Area) and faces.grey is None and faces.pen is not None
    assert [item.text for item in letters if isinstance(item, Text)] == list("DUES")
