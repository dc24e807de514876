"""The schemas themselves: sound, whole, and in the words of the trade's vocabulary."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError

import spinefit
from spinefit import vocabulary
from spinefit.batch.model import RESULT_COLUMNS
from spinefit.catalogue.method_table import METHOD_KEYS
from spinefit.catalogue.tables import schema_names
from spinefit.errors import FieldError
from spinefit.plan.model import PLANNED
from spinefit.vocabulary import Status

NAMES = schema_names()

# What section 7 of the design fixes of the report: keys that other people's scripts read.
FIXED = (
    "schema", "verdict", "answer", "title", "font", "panel", "recommended", "layouts",
    "findings", "remedies", "convention", "assumed",
)  # fmt: skip
FIXED_OF_LAYOUT = (
    "orientation", "reading", "turn", "lines", "largest_pt", "set_pt", "set_by", "cap_height_mm",
    "x_height_mm", "ink_width_mm", "ink_height_mm", "line_widths_mm", "limited_by", "spare_mm",
    "fits", "shape", "foreshortening", "reads_from_mm", "findings",
)  # fmt: skip


def parts(value: Any) -> Iterator[dict[str, Any]]:
    """Every dictionary in a schema, itself first."""
    if isinstance(value, dict):
        yield value
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from parts(each)


def test_there_is_one_for_each_kind_of_object() -> None:
    """Every schema word in the package has its file, and the line of a batch."""
    package = Path(spinefit.__file__).parent
    said = {
        node.split('"')[0]
        for path in package.rglob("*.py")
        for node in path.read_text(encoding="utf-8").split('"spinefit.')[1:]
        if node.split('"')[0].endswith("/1") and "{" not in node.split('"')[0]
    }
    assert said >= {"report/1", "back/1", "backs/1", "set/1", "pattern/1", "sheet/1"}
    lists = {"markets/1", "fonts/1", "methods/1"}  # their names are put together
    assert {f"{name}/1" for name in NAMES} == said | lists | {"batch/1"}


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_a_schema(name: str) -> None:
    """By the meta-schema of draft 2020-12; it says its number twice, and refers to nothing afar."""
    found = spinefit.schema(name)
    Draft202012Validator.check_schema(found)
    assert found["$id"] == f"urn:spinefit:{name}:1"
    if name != "batch":
        assert found["properties"]["schema"] == {"const": f"spinefit.{name}/1"}
    inside = {part["$id"] for part in parts(found) if isinstance(part.get("$id"), str)}
    for part in parts(found):
        target = part.get("$ref")
        if isinstance(target, str):
            assert target.startswith("#/$defs/") or target.split("#")[0] in inside
    json.dumps(found, allow_nan=False)


@pytest.mark.parametrize("name", NAMES)
def test_no_object_takes_a_key_that_is_not_said(name: str) -> None:
    """Each is closed, or maps names that a person chose to values of one kind."""
    for part in parts(spinefit.schema(name)):
        if part.get("type") in ("object", ["object", "null"]):
            closed = part["additionalProperties"]
            assert closed is False or ("type" in closed and "properties" not in part)
            if closed is False:
                assert set(part["required"]) <= set(part["properties"])


def test_what_is_fixed_stands_first_and_is_required() -> None:
    found = spinefit.schema("report")
    assert tuple(found["required"])[: len(FIXED)] == FIXED
    layout = found["$defs"]["layout"]
    assert tuple(layout["required"])[: len(FIXED_OF_LAYOUT)] == FIXED_OF_LAYOUT
    assert found["required"] == list(found["properties"])


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (("$defs", "verdict"), set(vocabulary.Verdict)),
        (("$defs", "orientation"), set(vocabulary.Orientation) - {"any"}),
        (("$defs", "reading"), set(vocabulary.Reading) - {"auto", "upright"}),
        (("$defs", "level"), set(vocabulary.Level)),
        (("$defs", "status"), set(Status)),
        (("$defs", "layout", "properties", "turn"), set(vocabulary.Turn)),
        (("$defs", "layout", "properties", "set_by"), set(vocabulary.SetBy)),
        (("$defs", "layout", "properties", "limited_by"), set(vocabulary.LimitedBy)),
        (("$defs", "layout", "properties", "centre"), set(vocabulary.Centre) - {"auto"}),
        (("properties", "convention", "properties", "firmness"), set(vocabulary.Firmness)),
    ],
    ids=lambda value: value[-1] if isinstance(value, tuple) else "",
)
def test_words_are_those_of_the_vocabulary(place: tuple[str, ...], words: set[str]) -> None:
    part: Any = spinefit.schema("report")
    for key in place:
        part = part[key]
    assert set(part["enum"]) == words


def test_roles_methods_and_batch_lines_too() -> None:
    assert set(spinefit.schema("back")["$defs"]["role"]["enum"]) == set(PLANNED)
    keys = spinefit.schema("methods")["properties"]["methods"]["items"]["required"]
    assert tuple(keys) == ("key", *METHOD_KEYS)
    line = spinefit.schema("batch")["properties"]
    assert {"line", "error"} == set(line) & set(RESULT_COLUMNS)


def test_a_schema_is_new_at_each_call() -> None:
    """What a reader changes in one is not in the next."""
    spinefit.schema("back")["$defs"].clear()
    assert "spinefit.report" in spinefit.schema("back")["$defs"]


@pytest.mark.parametrize("name", ["", "reports", "../data/markets", "report.json", "Report"])
def test_no_other_name_is_read(name: str) -> None:
    with pytest.raises(FieldError, match="choose from back, backs, batch"):
        spinefit.schema(name)


def test_another_key_another_word_or_a_missing_key_is_refused() -> None:
    """So that the tests of the outputs can fail."""
    job = spinefit.Job(title="Tide Tables", panel=spinefit.Panel(width_mm=30, height_mm=20))
    from spinefit.say.as_json import to_dict

    judge = Draft202012Validator(spinefit.schema("report"))
    good = to_dict(spinefit.check(job))
    judge.validate(good)
    layout = good["layouts"][0]
    for bad in (
        good | {"colour": "red"},
        good | {"verdict": "perhaps"},
        {key: value for key, value in good.items() if key != "answer"},
        good | {"layouts": [layout | {"largest_pt": "12"}]},
        good | {"layouts": [layout | {"spare": 1}]},
        good | {"recommended": -1},
    ):
        with pytest.raises(ValidationError):
            judge.validate(bad)
