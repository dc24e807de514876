"""The JSON object that other people's scripts depend on."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from spinefit.say.as_json import to_dict, to_json
from spinefit.say.model import LayoutReport, Report

TOP = [
    "schema", "verdict", "answer", "title", "font", "panel", "recommended", "layouts",
    "findings", "remedies", "convention", "assumed",
]  # fmt: skip
LAYOUT = [
    "orientation", "reading", "turn", "lines", "largest_pt", "set_pt", "set_by",
    "cap_height_mm", "x_height_mm", "ink_width_mm", "ink_height_mm", "line_widths_mm",
    "limited_by", "spare_mm", "fits", "shape", "foreshortening", "reads_from_mm", "findings",
]  # fmt: skip
FINDING = ["topic", "level", "text", "value", "limit", "unit", "source", "status"]


def test_the_fixed_keys_stand_in_the_fixed_order(report: Report, unfitting: Report) -> None:
    """Keys may be added after these, never renamed or moved."""
    found = to_dict(report)
    added = ["method", "measurements", "front_board", "recess", "label", "fonts", "cautions"]
    added += ["old_lettering", "nearest", "shapes"]
    assert list(found) == [*TOP, *added]
    assert list(found["method"]) == ["key", "name", "cautions", "limits", "caution", "protection"]
    assert list(found["font"]) == ["name", "file", "sha256", "face", "axes", "of"]
    panel = ["width_mm", "height_mm", "number", "developed", "assumed", "of", "frame"]
    panel += ["label_from_head_mm", "covering_colour", "ink_colour", "thickness"]
    assert list(found["panel"]) == panel
    assert list(found["layouts"][0])[: len(LAYOUT)] == LAYOUT
    assert list(found["layouts"][0]["spare_mm"]) == ["left", "right", "head", "tail"]
    assert list(found["findings"][0]) == FINDING
    assert list(to_dict(unfitting)["remedies"][0])[:4] == ["change", "text", "largest_pt", "cost"]
    convention = list(found["convention"])
    assert convention[:5] == ["market", "reading", "firmness", "source", "status"]


def test_every_attribute_of_a_layout_is_written(report: Report) -> None:
    """Nothing the report holds is left out."""
    written = to_dict(report)["layouts"][0]
    assert set(written) == set(LayoutReport._fields)


def test_enumerations_are_words_and_tuples_lists(report: Report) -> None:
    """Plain JSON types only."""
    layout = to_dict(report)["layouts"][0]
    assert (type(layout["orientation"]), layout["orientation"]) == (str, "transverse")
    assert (type(layout["findings"][0]["status"]), layout["lines"]) == (
        str,
        ["The", "Harbour", "Light"],
    )


def test_the_text_reads_back_to_the_same_object(report: Report, unfitting: Report) -> None:
    """What is written is JSON."""
    for one in (report, unfitting):
        assert json.loads(to_json(one)) == to_dict(one)


def test_millimetres_have_four_decimals_and_points_are_untouched(
    report_of: Callable[..., Report],
) -> None:
    """The exact limit is never rounded again."""
    layout = to_dict(report_of(largest_pt=12.345))["layouts"][0]
    assert layout["largest_pt"] == 12.345
    assert layout["cap_height_mm"] == 3.3246
    assert layout["line_widths_mm"][1] == 17.6123


def test_minus_zero_is_zero(report_of: Callable[..., Report]) -> None:
    """A spare of minus nothing would read as an excess."""
    text = to_json(report_of(foreshortening=-0.00001))
    assert '"foreshortening": 0.0' in text


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_no_nan_gets_out(report_of: Callable[..., Report], value: float) -> None:
    """A figure that is no number is a fault, never an answer."""
    with pytest.raises(ValueError, match="JSON compliant"):
        to_json(report_of(reads_from_mm=value))


def test_unknown_figures_are_null(report: Report) -> None:
    """An open length, no recommended layout and no status are null."""
    open_panel = report.panel._replace(height_mm=None)
    finding: Any = report.findings[0]._replace(value=None, limit="12 pt", status=None)
    found = to_dict(report._replace(panel=open_panel, recommended=None, findings=(finding,)))
    assert found["panel"]["height_mm"] is None
    assert found["recommended"] is None
    assert [found["findings"][0][key] for key in ("value", "limit", "status")] == [
        None,
        "12 pt",
        None,
    ]


def test_letters_stand_as_themselves(report_of: Callable[..., Report]) -> None:
    """No escapes for letters outside ASCII."""
    assert '"title": "Φάρος 灯台"' in to_json(report_of(title="Φάρος 灯台"))
