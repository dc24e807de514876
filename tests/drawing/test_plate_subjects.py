"""What is drawn: the front board with its label, several texts on several volumes, labels."""

from __future__ import annotations

from pathlib import Path

import pytest

from spinefit import BackPlan, pipeline
from spinefit.backs import plan_back
from spinefit.catalogue.trade import sheet_rules
from spinefit.cli.main import status
from spinefit.drawing.html import to_html
from spinefit.drawing.plate import plates, subject_of, subject_of_plan
from spinefit.drawing.scene import Group, Item, Text
from spinefit.drawing.sheet_settings import settings_of
from spinefit.job.model import Job, Spine
from spinefit.job.places import FrontBoard
from spinefit.job.sheet import SheetWishes
from spinefit.job.values import OldLettering, Panel
from spinefit.plan import BackText
from spinefit.say.phrasing import bare_mm
from spinefit.vocabulary import Role

JOBS = Path(__file__).resolve().parents[2] / "shared" / "jobs"
BOARD = Panel(width_mm=135, height_mm=215)


def words_of(items: tuple[Item, ...]) -> list[str]:
    """Every text of a drawing."""
    found: list[str] = []
    for item in items:
        if isinstance(item, Group):
            found += words_of(item.items)
        elif isinstance(item, Text):
            found.append(item.text)
    return found


def labels_of(job: Job) -> set[tuple[float, float]]:
    """Sides of the labels that a sheet would hold."""
    kept, left_out = settings_of(job, SheetWishes(splits=2), sheet_rules(), usual_sizes=3)
    assert kept and not left_out
    return {one.sides for one in kept}


def test_a_front_board_is_drawn_with_its_label() -> None:
    """Its own size, the label's size and the label's place, and no room drawn as a back."""
    job = Job(title="Harbour Dues", front_board=FrontBoard(board=BOARD), method="paper-label")
    subject = subject_of(pipeline.answer(job))
    words = words_of(plates(subject)[0].items)
    assert {"135", "215", "107.5", "67.5"} <= set(words)
    assert any(text.startswith("label ") for text in words)
    assert not any(text.startswith("spare") for text in words)
    page = to_html(subject)
    assert "The front board at half size" in page and "At true size" not in page


def test_every_text_of_every_volume_has_its_part(tmp_path: Path) -> None:
    """A set with four texts a volume: twelve parts, each named by both."""
    page = tmp_path / "annals.html"
    assert (
        status(["check", "--job", str(JOBS / "harbour-annals.toml"), "--drawing", str(page)]) == 0
    )
    text = page.read_text("utf-8")
    for volume in ("Vol. 1", "Vol. 2", "Vol. 3"):
        for role in ("author", "title", "volume", "date"):
            assert f">{volume}, {role}<" in text


def test_what_is_measured_of_several_texts_stands_beside_each() -> None:
    """Below the back their lines would run through each other's words; one alone has it there."""
    texts = (BackText(role=Role.AUTHOR, text="M. Tregear"), BackText(role=Role.TITLE, text="Tides"))
    several = plan_back(BackPlan(spine=Spine(width_mm=14, height_mm=230), texts=texts))
    words = words_of(plates(subject_of_plan(several))[0].items)
    for text in several.texts:
        name, layout = text.role.words, text.report.shown
        wide, off = (bare_mm(each) for each in (layout.ink_height_mm, abs(layout.baselines_mm[0])))
        assert any(each.endswith(f"{name}: lettering ends, {wide} wide") for each in words)
        begins = f"{name}: lettering begins, baseline {off} left of middle"
        assert any(each.endswith(begins) for each in words)
    assert not any(each.startswith("ink") for each in words)
    across = plan_back(BackPlan(spine=Spine(width_mm=34, height_mm=230), texts=texts))
    words = words_of(plates(subject_of_plan(across))[0].items)
    for text in across.texts:
        wide = bare_mm(text.report.shown.ink_width_mm)
        assert any(each.endswith(f"{text.role.words}: baseline, {wide} wide") for each in words)
    alone = subject_of(pipeline.answer(Job(title="Tides", spine=Spine(width_mm=9, height_mm=230))))
    words = words_of(plates(alone)[0].items)
    (layout,) = (shown.layout for shown in alone.texts)
    assert f"ink {bare_mm(layout.ink_height_mm)}" in words
    assert f"baseline left of middle {bare_mm(abs(layout.baselines_mm[0]))}" in words


def test_a_label_on_a_front_board_is_as_large_as_it_needs() -> None:
    """No joints say how wide it is; one that is cut already keeps its size."""
    free = Job(title="Harbour Dues", front_board=FrontBoard(board=BOARD), method="paper-label")
    assert all(width < 70 and height < 40 for width, height in labels_of(free))
    cut = FrontBoard(board=BOARD, label=Panel(width_mm=80, height_mm=30))
    given = Job(title="Harbour Dues", front_board=cut, method="paper-label")
    assert labels_of(given) == {(80, 30)}


@pytest.mark.parametrize("high", [14.0, 22.0])
def test_a_label_over_old_lettering_covers_it(high: float) -> None:
    """As high as the old ink and what it reaches beyond it, however low its own lines are."""
    job = Job(
        title="Harbour Dues",
        spine=Spine(width_mm=42, height_mm=240),
        method="paper-label",
        old_lettering=OldLettering(width_mm=31, height_mm=high, from_head_mm=48),
    )
    assert all(height >= high + 2 * 2 for _, height in labels_of(job))
