"""The rows of shared/checks, and how a test is made of each."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

CHECKS = Path(__file__).parents[2] / "shared" / "checks"
Row = dict[str, Any]


def rows_of(name: str) -> list[Row]:
    """The rows of a file of shared/checks."""
    with (CHECKS / f"{name}.toml").open("rb") as stream:
        found: list[Row] = tomllib.load(stream)["check"]
    return found


def each(name: str, *, having: str = "") -> pytest.MarkDecorator:
    """One test for each row of a file, or of those whose inputs or results have a key."""
    rows = [row for row in rows_of(name) if not having or having in row["inputs"] | row["expected"]]
    assert rows
    return pytest.mark.parametrize("row", rows, ids=[row["id"] for row in rows])


def agrees(row: Row, found: dict[str, float]) -> None:
    """What was found holds every figure of the row, within its tolerance."""
    for key, expected in row["expected"].items():
        assert found[key] == pytest.approx(expected, rel=0, abs=row["tolerance"] + 1e-12), key
