"""What a person at a prompt, in a notebook or in a program of their own meets."""

from __future__ import annotations

import dataclasses
import json
import pickle
import pydoc
import re
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner

import spinefit
from spinefit import (
    BackPlan,
    BackText,
    Job,
    Lettering,
    Panel,
    Role,
    Spine,
    SpinefitError,
    check,
    draw,
    label_sheet,
    plan_back,
    plan_set,
)
from spinefit.cli.main import main
from spinefit.job.model import PARTS

ROOT = Path(__file__).parents[1]
TITLE = "The Harbour Light"
HOSTILE = "Tide <script>alert(1)</script>"


def a_back(title: str = "Tide Tables", width_mm: float = 34) -> BackPlan:
    texts = (
        BackText(role=Role.AUTHOR, text="E. Quillfeather"),
        BackText(role=Role.TITLE, text=title),
    )
    return BackPlan(spine=Spine(width_mm=width_mm, height_mm=230), texts=texts)


def a_job(title: str = TITLE, width_mm: float = 9, **more: Any) -> Job:
    return Job(title=title, spine=Spine(width_mm=width_mm, height_mm=210), market="GB", **more)


def reports(title: str) -> dict[str, Any]:
    """One of each kind."""
    return {
        "one": check(a_job(title)),
        "back": plan_back(a_back(title)),
        "set": plan_set([(one, a_job(f"{title} / {one}", 25)) for one in "12"]),
        "backs": plan_set([(one, a_back(f"{title} / {one}", 40)) for one in "12"]),
    }


def told(*words: str, code: int = 0) -> str:
    done = CliRunner().invoke(main, list(words))
    assert done.exit_code == code, done.stderr
    return done.stdout


BACK = ("--width", "9mm", "--height", "210mm", "--market", "GB")


def test_every_type_that_a_job_takes_can_be_imported_from_the_package() -> None:
    """Of its own fields and of the records in them."""
    records = {*PARTS.values(), spinefit.Part, BackPlan, BackText}
    named = {
        name
        for record in records
        for field in dataclasses.fields(record)
        for name in re.findall(r"\b[A-Z]\w+", str(field.type))
    }
    assert named - {"None", "Counted"} <= set(spinefit.__all__)  # a number, or two


def test_a_report_is_the_fixed_json() -> None:
    report = check(a_job())
    assert f"{report.to_json()}\n" == told("check", TITLE, *BACK, "--format", "json")
    assert report.to_dict() == json.loads(report.to_json())


@pytest.mark.parametrize("kind", ["one", "back", "set", "backs"])
def test_every_report_has_its_json_and_prints_in_one_line(kind: str) -> None:
    report = reports("Tide Tables")[kind]
    assert json.loads(report.to_json())["schema"] == report.schema
    line = repr(report)
    assert "\n" not in line and len(line) < 150
    assert line.startswith(f"<{type(report).__name__} ")
    assert f"{report.verdict}, " in line
    assert re.search(r"\d pt, (descending|across), ", line)
    assert str(report) == line


def test_a_long_and_hostile_title_prints_in_one_line_too() -> None:
    line = repr(check(a_job("Ti\u202edes " + "and Fog " * 30)))
    assert "\u202e" not in line and "…" in line and len(line) < 150


@pytest.mark.parametrize("kind", ["one", "back", "set", "backs"])
def test_a_notebook_shows_the_drawing_the_answer_and_what_to_mind(kind: str) -> None:
    """Well-formed, without a script or an address; its style holds for nothing else."""
    report = reports(HOSTILE)[kind]
    page = report._repr_html_()
    tree = ElementTree.fromstring(page)
    drawn = tree.findall(".//{*}svg")
    assert drawn and all(re.fullmatch(r"[0-9.]+mm", one.get("width", "")) for one in drawn)
    assert [one for svg in drawn for one in svg.iter() if one.get("class") == "lettering"]
    words = "".join(tree.itertext())
    assert report.answer in words
    assert "guillotine" in words  # what can hurt
    assert not re.search(r"<script|javascript:|\son\w+=", page)
    assert set(re.findall(r"https?://\S+?(?=[\"' >])", page)) <= {"http://www.w3.org/2000/svg"}
    (style,) = (one.text or "" for one in tree.iter("style"))
    rules = re.findall(r"([^{}]+)\{", style)
    assert rules and all(one.strip().startswith(".spinefit-answer") for one in rules)


def test_no_word_of_an_answer_is_taken_for_markup() -> None:
    page = check(a_job())._replace(answer=HOSTILE)._repr_html_()
    assert "<script" not in page
    assert HOSTILE in "".join(ElementTree.fromstring(page).itertext())


def test_what_is_wrong_stands_in_the_notebook() -> None:
    """The warnings of a title, and of a set those of each volume by its name."""
    tight = check(a_job(lettering=Lettering(size_pt=19.5)))
    (warning, *_others) = [one.text for one in tight.shown.findings if one.level == "warning"]
    assert warning in "".join(ElementTree.fromstring(tight._repr_html_()).itertext())
    pair = plan_set([("thin", a_job("Fog / 1", 4)), ("thick", a_job("Fog / 2", 25))])
    assert "<li>thin: " in pair._repr_html_()


def test_a_report_from_another_process_is_shown_without_its_drawing() -> None:
    sent = pickle.loads(pickle.dumps(check(a_job())))
    assert sent.answer in sent._repr_html_()
    assert "<svg" not in sent._repr_html_()
    with pytest.raises(SpinefitError, match="draw its job"):
        draw(sent)


@pytest.mark.parametrize("form", ["svg", "pdf", "html"])
def test_a_drawing_is_what_the_command_writes(form: Any, tmp_path: Path) -> None:
    """Of a report and of its job, byte for byte."""
    file = tmp_path / f"back.{form}"
    told("check", TITLE, *BACK, "--drawing", str(file))
    written = file.read_bytes()
    for what in (a_job(), check(a_job())):
        found = draw(what, form)
        assert (found.encode() if isinstance(found, str) else found) == written


def test_a_plan_is_drawn_too() -> None:
    drawn = draw(plan_back(a_back()))
    assert drawn.count('class="lettering"') == 2
    assert draw(a_back()) == drawn


def test_another_form_of_a_drawing_is_refused() -> None:
    with pytest.raises(SpinefitError, match="form: no such choice: 'png'"):
        draw(a_job(), "png")  # type: ignore[call-overload]


def test_a_label_sheet_is_what_the_command_writes(tmp_path: Path) -> None:
    file = tmp_path / "labels.pdf"
    job = Job(title="Tide Tables", panel=Panel(width_mm=30, height_mm=24))
    for wishes, words in (
        ({}, ()),
        ({"sizes": 4, "spares": 0, "paper": "A5"},
         ("--size-count", "4", "--spares", "0", "--paper", "A5")),
        ({"labels": ["30x24mm", "34x30mm"], "no_grain": True},
         ("--labels", "30x24mm,34x30mm", "--no-grain")),
    ):  # fmt: skip
        told("sheet", "Tide Tables", "--panel", "30x24mm", *words, "--output", str(file), "--force")
        assert label_sheet(job, **wishes) == file.read_bytes()


def test_a_label_that_cannot_be_says_what_would() -> None:
    small = Job(title="Commissioners", panel=Panel(width_mm=5, height_mm=4))
    with pytest.raises(SpinefitError, match=r"It does not fit: .* Cut the label to"):
        label_sheet(small)
    with pytest.raises(SpinefitError, match=r"^size: no key of a sheet: .* 'sizes'"):
        label_sheet(small, size=4)


def test_help_is_a_page_that_names_what_there_is() -> None:
    """What it lists is there, and what is there but the words of fields is listed."""
    page = pydoc.plain(pydoc.render_doc(spinefit))
    assert "Will this title fit the spine" in page
    assert ">>> report = check(Job(" in page
    listed = spinefit.__doc__.partition("What is asked ")[2].partition("\n\nNames are")[0]
    names = set(re.findall(r"\b(?:[A-Z]\w+[A-Z]\w+|[a-z]+_[a-z_]+)\b", listed))
    assert names - {"JSON"} <= set(spinefit.__all__)
    words = {name for name in spinefit.__all__ if name in vars(spinefit.vocabulary)}
    mentioned = set(re.findall(r"\w+", listed))
    others = set(spinefit.__all__) - words - {"Align", "Order", "Relation", "Scheme", "__version__"}
    assert others <= mentioned


USER = """
from spinefit import (
    BackPlan, BackText, Case, Job, Lettering, Report, Role, Spine,
    check, draw, label_sheet, plan_back, remedies,
)

report: Report = check(
    Job(title="Tides", spine=Spine(width_mm=9), lettering=Lettering(case=Case.CAPITALS))
)
largest: float = report.layouts[0].largest_pt
svg: str = draw(report)
pdf: bytes = draw(report, "pdf")
sheet: bytes = label_sheet(Job(title="Tides", spine=Spine(width_mm=9, height_mm=200)), sizes=2)
found: dict[str, object] = report.to_dict()
words: list[str] = [one.text for one in remedies(report)]
back = plan_back(BackPlan(spine=Spine(width_mm=30, height_mm=210),
                          texts=(BackText(role=Role.TITLE, text="Tides"),)))
line: str = back.to_json()
"""


def test_a_users_program_is_checked_by_their_type_checker(tmp_path: Path) -> None:
    """By mypy, strictly; and a slip in it is found, so that the types say something."""
    program, slip = tmp_path / "program.py", tmp_path / "slip.py"
    program.write_text(USER, encoding="utf-8")
    slip.write_text(f"{USER}wrong: int = report.answer\nJob(titel='')\n", encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--follow-imports=silent"]
    command += ["--config-file=", "--ignore-missing-imports", f"--cache-dir={tmp_path / 'cache'}"]
    done = [
        subprocess.run([*command, str(file)], cwd=ROOT, capture_output=True, text=True, check=False)
        for file in (program, slip)
    ]
    assert done[0].returncode == 0, done[0].stdout
    assert "Found 2 errors" in done[1].stdout, done[1].stdout
