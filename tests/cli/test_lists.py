"""What is known, as text and as JSON."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from rich.cells import cell_len

from spinefit import catalogue
from spinefit.cli.main import main


def stdout_of(*words: str) -> str:
    """What a command that succeeds writes."""
    result = CliRunner().invoke(main, list(words))
    assert (result.exit_code, result.stderr) == (0, "")
    return result.stdout


@pytest.mark.parametrize("command", ["fonts", "markets"])
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
