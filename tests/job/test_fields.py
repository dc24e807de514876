"""Fields of a job: one vocabulary for options, job files and tables."""

from __future__ import annotations

import inspect
from dataclasses import fields as attributes_of
from typing import Any

import pytest

from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job.bulk import Bulk
from spinefit.job.commission import Commission
from spinefit.job.fields import FIELDS, assemble, field_named, option_place
from spinefit.job.kinds import fields_of
from spinefit.job.model import HEADINGS, PARTS, Job, Lettering, Shape, Spine
from spinefit.job.resolved import (
    ResolvedBoard,
    ResolvedJob,
    ResolvedLettering,
    ResolvedRecess,
    ResolvedSpine,
)
from spinefit.job.values import KeepFree, Panel
from spinefit.vocabulary import BackForm, BreakWords, Case, Centre, Orientation, PanelForm, Reading

TITLE = "The Harbour Light"


def spine_of(**values: Any) -> Spine:
    """The spine of a job of these fields, underscores standing for dashes."""
    said = {name.replace("_", "-"): value for name, value in {"width": 20, **values}.items()}
    spine = assemble(TITLE, said).spine
    assert spine is not None
    return spine


def test_every_attribute_of_a_job_can_be_said() -> None:
    """None lacks a field, but the title, which is an argument, and what a table says for all."""
    declared = {(field.part, field.attribute) for field in FIELDS}
    made = {(part, one.name) for part, record in PARTS.items() for one in attributes_of(record)}
    unsaid = {("", name) for name in ("title", "parts", "slash_breaks", "house", *PARTS)}
    assert declared == made - unsaid


@pytest.mark.parametrize("record", PARTS.values(), ids=lambda record: record.__name__)
def test_the_docstring_of_a_record_says_what_each_attribute_means(record: type) -> None:
    """With the words of the help."""
    text = inspect.getdoc(record) or ""
    for one in attributes_of(record):
        fields = [field for field in fields_of(record) if field.attribute == one.name]
        assert f"{one.name}: {fields[0].meaning if fields else ''}" in text


# What is called otherwise once it is resolved, or goes into another figure.
OTHERWISE = {
    "spine": {
        "back": "form", "board_mm": "width_mm",
        **{one.name: "estimate" for one in attributes_of(Bulk)},
    },
    "lettering": {
        "tracking": "tracking_em", "lines_up_mm": "nudges", "lines_tracking": "nudges",
    },
    "front_board": {
        "board": "width_mm", "leaves": "width_mm", "squares_mm": "width_mm", "label": "label_given",
    },
    "recess": {
        "wanted": "label", "card_mm": "card", "board_mm": "board", "covering_mm": "covering",
        "clearance_mm": "clearance", "stiffener_mm": "stiffened",
    },
    "": {
        "overlap_mm": "old_lettering", "stock": "method", "die": "method", "label_size": "label",
        "frame_corners": "frame", "lap_mm": "lap", "role": "call_number",
        "house": "assumed",
        **{one.name: "commission" for one in attributes_of(Commission)},
    },
}  # fmt: skip
RESOLVED = {
    "spine": ResolvedSpine, "lettering": ResolvedLettering, "front_board": ResolvedBoard,
    "recess": ResolvedRecess, "": ResolvedJob,
}  # fmt: skip


@pytest.mark.parametrize("part", RESOLVED)
def test_what_can_be_said_is_there_once_resolved(part: str) -> None:
    """Under the same name, but for a few; and what is called otherwise is said at all."""
    said = {one.name for one in attributes_of(PARTS[part])} - {"title", "slash_breaks"}
    assert OTHERWISE.get(part, {}).keys() <= said
    found = {OTHERWISE.get(part, {}).get(name, name) for name in said}
    assert found <= set(RESOLVED[part]._fields)


def test_every_field_is_named_once_and_stands_under_a_heading() -> None:
    """Names are lower case with dashes, and every heading has a field."""
    names = [field.name for field in FIELDS]
    assert len(set(names)) == len(names)
    assert all(name == name.lower() and "_" not in name for name in names)
    assert {field.heading for field in FIELDS} == set(HEADINGS)


def test_every_help_is_plain_ascii() -> None:
    """Help is readable in any terminal."""
    for field in FIELDS:
        assert field.meaning.isascii() and field.meaning and field.kind.metavar.isascii()


def test_a_job_is_assembled_from_texts() -> None:
    """Texts of every kind land where they belong."""
    job = assemble(
        TITLE,
        {
            "width": "13..15mm", "height": "8in", "back": "Rounded", "rise": "3mm",
            "case": "small-capitals", "tracking": "50", "lines": "2", "size": "4mm",
            "leading": "1.2em", "max-angle": "40°", "reading": "ascending", "centre": "ink",
            "break-words": "hyphen", "market": "GB", "reading-distance": "0.7", "font": "Cinzel",
        },
    )  # fmt: skip
    assert job.spine == Spine(
        width_mm=(13.0, 15.0), height_mm=203.2, back=BackForm.ROUNDED, rise_mm=3.0,
        max_angle_deg=40.0,
    )  # fmt: skip
    assert job.lettering == Lettering(
        font="Cinzel", case=Case.SMALL_CAPITALS, tracking=50.0, reading=Reading.ASCENDING,
        lines=2, size_pt=pytest.approx(4 / 25.4 * 72), leading_em=1.2, centre=Centre.INK,
        break_words=BreakWords.HYPHEN,
    )  # fmt: skip
    assert (job.market, job.reading_distance_mm) == ("GB", 0.7)
    assert job.panel is None and job.shape is None


def test_a_job_is_assembled_from_plain_values() -> None:
    """A plain number is millimetres, points for a size, and a count for lines."""
    job = assemble(TITLE, {"width": 13.5, "height": 198, "size": 12, "lines": 2, "bands": 0})
    assert job.spine == Spine(width_mm=13.5, height_mm=198.0, bands=0)
    assert (job.lettering.size_pt, job.lettering.lines) == (12.0, 2)


def test_nothing_said_stays_unsaid() -> None:
    """What was not said is None; any lines is None."""
    job = assemble(TITLE, {"panel": "20x30mm", "lines": "any", "market": None})
    assert job == Job(title=TITLE, panel=Panel(width_mm=20.0, height_mm=30.0))


@pytest.mark.parametrize(
    "value", ["40,80,120mm", "40;80;120", "4, 8, 12cm", [40, "80", "12cm"], "40mm,80mm,120mm"]
)
def test_positions_of_bands_are_a_list(value: object) -> None:
    """Commas or semicolons part them, and a TOML list serves."""
    assert spine_of(bands_at=value).bands_at_mm == (40.0, 80.0, 120.0)


@pytest.mark.parametrize("value", ["80,40mm", "80,5;40,5", "", "40,,80", [], [True], "40,40"])
def test_bad_positions_are_refused(value: object) -> None:
    """Positions run from the head."""
    with pytest.raises(JobError):
        spine_of(bands_at=value)


@pytest.mark.parametrize(
    "value",
    ["12x8@0,-60mm;5x5mm", ["12x8@0,-60mm", "5x5mm"], ("12 x 8 @ 0, -60 mm", "5x5")],
)
def test_areas_kept_free_may_be_several(value: object) -> None:
    """An area without a place stands on the middle."""
    job = assemble(TITLE, {"width": 20, "keep-free": value})
    assert job.shape is not None
    assert job.shape.keep_free == (
        KeepFree(width_mm=12.0, height_mm=8.0, x_mm=0.0, y_mm=-60.0),
        KeepFree(width_mm=5.0, height_mm=5.0),
    )


@pytest.mark.parametrize("value", ["", "12", "12x8@", "12x8@1", "12x8@1,2,3", "-12x8", "1inx8@0,0"])
def test_bad_areas_are_refused(value: str) -> None:
    """An area has two sides and a middle of two figures or none."""
    with pytest.raises(JobError):
        assemble(TITLE, {"width": 20, "keep-free": value})


@pytest.mark.parametrize(
    "value",
    [
        "-9,-20 9,-20 0,20mm",
        "-9, -20; 9, -20; 0, 20 mm",
        "-0.9,-2 .9,-2 0,2cm",
        [[-9, -20], [9, -20], [0, "2cm"]],
    ],
)
def test_an_outline_makes_a_polygon(value: object) -> None:
    """Corners are pairs from the middle of the panel."""
    job = assemble(TITLE, {"panel": "18x40mm", "panel-outline": value})
    assert job.shape == Shape(
        form=PanelForm.POLYGON, outline_mm=((-9.0, -20.0), (9.0, -20.0), (0.0, 20.0))
    )


@pytest.mark.parametrize("value", ["", "1,2 3,4", "1 2 3", "1,2 3,4 5", [[1, 2], [3, 4], [5]], [1]])
def test_bad_outlines_are_refused(value: object) -> None:
    """Three corners or more, two figures each."""
    with pytest.raises(JobError):
        assemble(TITLE, {"panel": "18x40mm", "panel-outline": value})


@pytest.mark.parametrize("value", [True, False, None.__class__, {"a": 1}, 1j, object()])
@pytest.mark.parametrize("name", [field.name for field in FIELDS])
def test_a_value_of_the_wrong_kind_is_refused_with_its_place(name: str, value: object) -> None:
    """Neither a boolean nor anything else passes for a number or a text."""
    if field_named(name).kind.flag and isinstance(value, bool):
        return  # it is the right kind there
    with pytest.raises(JobError) as caught:
        assemble(TITLE, {"width": 20, name: value})
    assert caught.value.where == f"--{name}"
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("name", [f.name for f in FIELDS if f.part == "spine"])
def test_a_panel_takes_no_option_of_the_back(name: str) -> None:
    """A panel given outright needs no back; the option at fault is named."""
    value = {"back": "flat", "measured": "bulk", "binding-side": "left"}.get(name, "2")
    with pytest.raises(FieldError) as caught:
        assemble(TITLE, {"panel": "20x30mm", name: value})
    assert caught.value.where == f"--{name}"


def test_two_figures_for_one_round_are_refused() -> None:
    """Rise, radius and arc exclude each other."""
    with pytest.raises(FieldError, match="rise and arc"):
        spine_of(rise=2, arc=25)


def test_neither_width_nor_panel_is_refused() -> None:
    """The line says which to give."""
    with pytest.raises(FieldError) as caught:
        assemble(TITLE, {"height": "198mm"})
    assert "--width" in caught.value.remedy and "--panel" in caught.value.remedy


@pytest.mark.parametrize("title", ["", "   ", " / ", "\u200b", "\u0301", None, 1984, True])
def test_a_title_without_letters_is_refused(title: object) -> None:
    """A title must be a text with something to letter."""
    with pytest.raises(FieldError) as caught:
        assemble(title, {"width": 13})
    assert caught.value.where == "TITLE"


def test_bytes_that_are_no_text_are_refused() -> None:
    """Half characters from a terminal of another encoding stop at the door."""
    with pytest.raises(FieldError, match="bytes that are no text") as caught:
        assemble("Caf\udce9", {"width": 13})
    assert str(caught.value).isprintable()


def test_an_unknown_name_is_offered_the_nearest() -> None:
    """A name with the wrong mark in it is recognised."""
    with pytest.raises(FieldError, match="no field of that name") as caught:
        field_named("band_height")
    assert caught.value.remedy == "did you mean 'band-height'?"


def test_faults_stand_where_the_value_came_from() -> None:
    """A job file's fault names the file."""
    with pytest.raises(SpinefitError) as caught:
        assemble(TITLE, {"width": "9mn"}, place=lambda name: f"book.toml: {name}")
    assert str(caught.value).startswith("book.toml: width: ")
    assert option_place("title") == "TITLE"


def test_a_typed_orientation_is_a_member() -> None:
    """Choices come out as members of their enumeration."""
    job = assemble(TITLE, {"width": 9, "orientation": " PILLAR "})
    assert job.lettering.orientation is Orientation.PILLAR
