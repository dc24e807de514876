"""Which libraries come along, under which licences, and is the list of them true?"""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import metadata, requires
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from spinefit.catalogue import font_rows
from spinefit.catalogue.tables import DATA, read

ROOT = Path(__file__).parents[2]
LISTED = read(DATA / "dependencies.toml")

# Those under which a program under the MIT licence may use a library that it does not change.
COMPATIBLE = {
    "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "MIT", "MIT-CMU", "MPL-1.1", "PSF-2.0",
}  # fmt: skip


def needed(requirements: list[str]) -> list[Requirement]:
    """Those that are needed here, without an extra."""
    found = map(Requirement, requirements)
    return [one for one in found if one.marker is None or one.marker.evaluate({"extra": ""})]


def asked() -> list[Requirement]:
    """What pyproject.toml asks for at run time."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        project: dict[str, Any] = tomllib.load(file)["project"]
    return needed(project["dependencies"])


def said_by(name: str) -> str:
    """What a library's own metadata says of its licence."""
    found = metadata(name)
    classified = [one for one in found.get_all("Classifier") or [] if one.startswith("License")]
    return " ".join(
        (found.get("License-Expression") or "", found.get("License") or "", *classified)
    )


def test_the_list_is_what_is_asked_for() -> None:
    """Each library of pyproject.toml, with what it is for; each with a lower bound."""
    wanted = {canonicalize_name(one.name) for one in asked()}
    assert {name for name, row in LISTED.items() if "use" in row} == wanted
    for one in asked():
        assert re.search(">=", str(one.specifier)), one


def test_the_list_holds_what_those_bring_along() -> None:
    """Every library that is installed with ours, and none that is not."""
    waiting = [canonicalize_name(one.name) for one in asked()]
    found: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += [canonicalize_name(one.name) for one in needed(requires(name) or [])]
    assert found == set(LISTED)


@pytest.mark.parametrize("name", LISTED)
def test_a_licence_is_as_its_library_says_and_compatible(name: str) -> None:
    row = LISTED[name]
    assert row["licence"] in COMPATIBLE
    assert row["said"] in said_by(name)
    assert ("use" in row) != ("by" in row)
    if "by" in row:
        assert name in {canonicalize_name(one.name) for one in needed(requires(row["by"]) or [])}


def test_the_fonts_are_under_an_open_licence_that_lies_beside_them() -> None:
    """As the package's own licence expression says."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        licence = tomllib.load(file)["project"]["license"]
    assert licence == "MIT AND OFL-1.1"
    for row in font_rows():
        assert row.licence == "OFL-1.1"
        text = (ROOT / "fonts_open" / Path(row.file).parent / "OFL.txt").read_text("utf-8")
        assert "SIL OPEN FONT LICENSE Version 1.1" in text
