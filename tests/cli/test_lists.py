"""What is known, as text and as JSON."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner
from rich.cells import cell_len

from spinefit import catalogue
from spinefit.catalogue.tables import DATA
from spinefit.cli.main import main


def stdout_of(*words: str) -> str:
    """What a command that succeeds writes."""
    result = CliRunner().invoke(main, list(words))
    assert (result.exit_code, result.stderr) == (0, "")
    return result.stdout


@pytest.mark.parametrize("command", ["fonts", "markets", "methods"])
def test_lists_are_readable_when_piped(command: str) -> None:
    """80 columns, no colour, no spaces at the ends of lines."""
    text = stdout_of(command)
    assert "\x1b" not in text
    for line in text.splitlines():
        assert cell_len(line) <= 80
        assert line == line.rstrip()


def test_every_font_is_listed_with_its_licence() -> None:
    """The text names each, the JSON holds each row."""
    text = stdout_of("fonts")
    rows = json.loads(stdout_of("fonts", "--format", "json"))["fonts"]
    assert [row["name"] for row in rows] == [row.name for row in catalogue.font_rows()]
    assert all(f"\n{row['name']}\n" in f"\n{text}" and row["licence"] for row in rows)


def test_every_market_is_listed_with_source_and_status() -> None:
    """A convention without a source would be a rumour."""
    rows = json.loads(stdout_of("markets", "--format", "json"))["markets"]
    assert len(rows) == len(catalogue.markets())
    assert all(row["source"] and row["status"] for row in rows)
    assert [row["code"] for row in rows if row["name"] == "no market given"] == [None]


def test_chosen_markets_come_in_the_order_asked_for() -> None:
    """Case is forgiven."""
    rows = json.loads(stdout_of("markets", "fr", "GB", "--format", "json"))["markets"]
    assert [(row["code"], row["own_row"]) for row in rows] == [("FR", True), ("GB", True)]


def test_a_country_without_a_row_follows_the_standard() -> None:
    """It is a country, so it is no fault; the list says that nothing of its own is known."""
    code = next(code for code in catalogue.iso_3166_codes() if code not in catalogue.markets())
    name = catalogue.iso_3166_codes()[code]
    text = stdout_of("markets", code)
    assert text.startswith(f"{code}  {name}\n    no row of its own")
    row = json.loads(stdout_of("markets", code, "--format", "json"))["markets"][0]
    assert (row["name"], row["own_row"]) == (name, False)


def test_every_method_is_listed_with_every_number() -> None:
    """The keys of the JSON are those of the data file, and each number has its source."""
    rows = json.loads(stdout_of("methods", "--format", "json"))["methods"]
    assert [row["key"] for row in rows] == list(catalogue.methods())
    data = tomllib.loads((DATA / "methods.toml").read_text(encoding="utf-8"))
    foil = tomllib.loads((DATA / "foil.toml").read_text(encoding="utf-8"))
    for row in rows:
        table = data[row["key"]]
        said = {key: value for key, value in row.items() if value is not None}
        if "stock" in table:  # its grades are those of its usual stock and die
            grades = {key: said.pop(key) for key in foil[table["stock"]]}
            assert all(
                grade in (foil[table["stock"]][key], foil[table["die"]][key])
                for key, grade in grades.items()
            )
        cautions = [table["caution"], *table["cautions"]]
        assert said == {"key": row["key"], **table, "cautions": cautions}


def test_the_text_of_a_method_names_sources_and_cautions() -> None:
    """Every source and caution in full, though broken into lines."""
    said = " ".join(stdout_of("methods", "leather-label", "hand-letters").split())
    for key in ("leather-label", "hand-letters"):
        row = catalogue.method(key)
        assert row.placing.source in said
        assert all(caution in said for caution in row.cautions)
    assert "Protection:" not in said
    paper = " ".join(stdout_of("methods", "paper-label").split())
    assert "Protection: Edges out of harm's way" in paper
    assert "sizes: 8, 10, 12, 14, 18, 24 pt" in said
    assert said.count("sizes by steps of") == 1


def test_a_binders_own_methods_are_listed_from_their_file(tmp_path: Path) -> None:
    """Those of the file alone, unless others are named."""
    file = tmp_path / "own.toml"
    file.write_text('[our-labels]\nlike = "paper-label"\nplacing_mm = 0.3\n')
    rows = json.loads(stdout_of("methods", "--method-file", str(file), "--format", "json"))
    assert [row["key"] for row in rows["methods"]] == ["our-labels"]
    assert rows["methods"][0]["placing_mm"] == {
        "value": 0.3,
        "unit": "mm",
        "source": "the binder's own",
        "status": "practice",
    }
    words = ("methods", "paper-label", "our-labels", "--method-file", str(file))
    assert stdout_of(*words).startswith("paper-label  printed paper label\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["leather"], "NAME: no such method: 'leather'; did you mean 'leather-label'?"),
        (
            ["printed label"],
            "NAME: more than one such method: 'printed label'; name one: paper-label",
        ),
        (["--method-file", "no-such.toml"], "--method-file: no such method file"),
    ],
)
def test_a_method_that_is_not_known_is_refused(words: list[str], said: str) -> None:
    """In one line, with code 2."""
    result = CliRunner().invoke(main, ["methods", *words])
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr
    assert result.stderr.count("\n") == 1
