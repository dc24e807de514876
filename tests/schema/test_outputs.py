"""Everything that is written as JSON is what its schema says, key for key."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

import spinefit
from spinefit.batch.model import Settings
from spinefit.batch.progress import fresh_mark
from spinefit.cli.main import main

SHARED = Path(__file__).parents[2] / "shared"
JOBS = sorted((SHARED / "jobs").glob("*.toml"))
TITLE = "The Harbour Light"


@cache
def judge(name: str) -> Draft202012Validator:
    return Draft202012Validator(spinefit.schema(name))


def agrees(found: Any, name: str | None = None) -> None:
    """Refuses what its schema refuses; the name is what the object says of itself."""
    if name is None:
        said = re.fullmatch(r"spinefit\.([a-z]+)/1", found["schema"])
        assert said, found["schema"]
        name = said[1]
    faults = sorted(judge(name).iter_errors(found), key=lambda fault: len(fault.absolute_path))
    assert not faults, [(one.json_path, one.message[:300]) for one in faults]


def said(*words: str, typed: str | None = None, code: tuple[int, ...] = (0, 1)) -> str:
    done = CliRunner().invoke(main, list(words), input=typed)
    assert done.exit_code in code, done.stderr
    return done.stdout


@pytest.mark.parametrize("path", JOBS, ids=[path.stem for path in JOBS])
def test_the_answer_to_an_example_job(path: Path) -> None:
    """A report, or that of several texts, of a set, of volumes of several texts."""
    agrees(json.loads(said("check", "--job", str(path), "--format", "json")))


def test_the_example_jobs_are_of_every_kind() -> None:
    kinds = set()
    for path in JOBS:
        text = path.read_text(encoding="utf-8")
        kinds.add(("[[text]]" in text or "[[volume.text]]" in text, "[[volume]]" in text))
    assert len(kinds) == 4


CHECKS = {
    "no height": (TITLE, "--width", "9"),
    "nothing fits": ("Harbourmastership", "--width", "3", "--height", "40"),
    "no room left": (TITLE, "--width", "4.2", "--height", "9"),
    "pillar": ("TIDES", "--width", "20", "--height", "200", "--orientation", "pillar"),
    "panel outright": (TITLE, "--panel", "30x24"),
    "oval": (TITLE, "--panel", "30x24", "--panel-shape", "oval"),
    "banded": (TITLE, "--width", "40", "--height", "220", "--bands", "5", "--title-panel", "2"),
    "rounded label": (
        TITLE, "--width", "40", "--height", "220", "--back", "rounded", "--rise", "8",
        "--method", "leather-label", "--label-thickness", "0.6",
    ),
    "variable font": (TITLE, "--width", "20", "--height", "200", "--font", "Source Serif 4"),
    "fallback": ("Harbour Λιμάνι", "--width", "20", "--height", "200", "--market", "GR"),
    "range": (TITLE, "--width", "13..15mm", "--height", "200"),
    "asked size": (TITLE, "--width", "12", "--height", "200", "--size", "9"),
    "broken word": (
        "Harbourmastership", "--width", "9", "--height", "60", "--break-words", "hyphen",
    ),
    "front board": (TITLE, "--front-board", "140x220", "--method", "leather-label"),
    "recess": (
        TITLE, "--front-board", "140x220", "--method", "leather-label", "--recess",
    ),
}  # fmt: skip


@pytest.mark.parametrize("words", CHECKS.values(), ids=CHECKS)
def test_checks_of_every_kind(words: tuple[str, ...]) -> None:
    agrees(json.loads(said("check", *words, "--format", "json")))


_ONE_TEXT = '[[text]]\nrole = "title"\ntext = "Tides"\n'
_DATED = f'{_ONE_TEXT}[[text]]\nrole = "date"\ntext = "1931"\n'


@pytest.mark.parametrize(
    "text",
    [
        f'width = "9mm"\n{_ONE_TEXT}',
        f'panel = "30x20mm"\n{_ONE_TEXT}',
        f'front-board = "135x215"\n{_ONE_TEXT}',
        f'width = 34\nheight = 230\nrecess = true\nmethod = "paper-label"\n{_DATED}',
        f'width = 34\nheight = 230\nold-lettering = "20x10@60"\n{_DATED}',
    ],
    ids=["open height", "panel", "front board", "recess", "old lettering"],
)
def test_what_the_title_of_a_back_may_have(text: str, tmp_path: Path) -> None:
    """An open height leaves it no zone."""
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    agrees(json.loads(said("check", "--job", str(path), "--format", "json")))


def test_a_back_beside_a_pattern(tmp_path: Path) -> None:
    job, pattern = tmp_path / "job.toml", tmp_path / "shelf.toml"
    job.write_text(f"width = 34\nheight = 230\n{_DATED}", encoding="utf-8")
    said("check", "--job", str(job), "--save-pattern", str(pattern))
    found = json.loads(
        said("check", "--job", str(job), "--match", str(pattern), "--format", "json")
    )
    agrees(found)
    assert found["answer"].startswith("It matches the pattern: it fits")


@pytest.mark.parametrize("name", ["markets", "fonts", "methods"])
def test_the_lists(name: str) -> None:
    agrees(json.loads(said(name, "--format", "json")))


def test_a_market_without_a_row_and_fonts_installed_here() -> None:
    agrees(json.loads(said("markets", "NZ", "--format", "json")))
    agrees(json.loads(said("fonts", "--installed", "--format", "json")))


def test_a_binders_own_methods(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(
        '[own-type]\nname = "Own type"\nplace = "back"\n'
        'sizes_pt = { value = [8, 10, 12], unit = "pt", source = "the case", status = "memory" }\n'
        'smallest_pt = { value = 8, unit = "pt", source = "the case", status = "memory" }\n'
        'placing_mm = { value = 0.5, unit = "mm", source = "by eye", status = "memory" }\n',
        encoding="utf-8",
    )
    agrees(json.loads(said("methods", "--method-file", str(path), "--format", "json")))


def test_sheets_of_labels(tmp_path: Path) -> None:
    """A sheet, one label for a cutter, and nothing that could be set."""
    common = (TITLE, "--font", "Alegreya Sans", "--format", "json")
    place = ("--panel", "30x24")
    for number, words in enumerate(
        (
            (*place, "--output", str(tmp_path / "labels.pdf")),
            (*place, "--single", "--output", str(tmp_path / "one.svg")),
            ("--panel", "8x4", "--output", str(tmp_path / "none.pdf")),
        )
    ):
        found = json.loads(said("sheet", *common, *words))
        agrees(found)
        assert bool(found["settings"]) == (number < 2)


@pytest.mark.parametrize("file", ["labels.pdf", "one.svg"])
@pytest.mark.parametrize(
    "words", [("--back", "rounded", "--rise", "6"), ("--lap", "12", "--joint-width", "8")],
    ids=["over a round", "over the joints"],
)  # fmt: skip
def test_sheets_of_labels_that_bend(words: tuple[str, ...], file: str, tmp_path: Path) -> None:
    back = ("--width", "30", "--height", "220", "--method", "leather-label", *words)
    single = ("--single",) if file.endswith(".svg") else ()
    out = ("--output", str(tmp_path / file), "--format", "json")
    found = json.loads(said("sheet", TITLE, *back, *single, *out))
    agrees(found)
    assert found["settings"][0]["label"]["cut_width_mm"] > 30


def test_worksheets() -> None:
    """By widths and at one pitch, across and along."""
    job = str(SHARED / "jobs" / "hand-letters.toml")
    for words in (
        ("--job", job),
        ("--job", job, "--pitch", "3.84mm"),
        ("The Works", "--width", "30", "--orientation", "longitudinal"),
    ):
        agrees(json.loads(said("worksheet", *words, "--format", "json")))


BOOKS = """\
id,title,author,width,height
a,The Harbour Light,,12,200
b,Tide Tables,M. Tregear,30,230
c,Harbourmastership,,3,40
d,,,12,200
e,Knots,,twelve,200
"""


def test_lines_of_a_batch(tmp_path: Path) -> None:
    """A report, several texts, what does not fit, and rows at fault."""
    path = tmp_path / "books.csv"
    path.write_text(BOOKS, encoding="utf-8")
    lines = [
        json.loads(line)
        for line in said(
            "batch", str(path), "--format", "jsonl", "--jobs", "1", code=(2,)
        ).splitlines()
    ]
    for line in lines:
        agrees(line, "batch")
    assert [sorted(line) for line in lines[:2]] == [["kept", "line", "report"]] * 2
    assert [line["report"]["schema"] for line in lines[:2]] == [
        "spinefit.report/1",
        "spinefit.back/1",
    ]
    assert ["error" in line for line in lines] == [False, False, False, True, True]


def test_the_record_of_a_partial_result() -> None:
    agrees(json.loads(fresh_mark(Settings(), spinefit.__version__).as_json()))
