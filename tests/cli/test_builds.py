"""Several files on one command line, the hooks before a commit, and the example of a workflow."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import CliRunner, Result

from spinefit.cli.main import main
from tests.say.junit_form import junit_of, outcomes

ROOT = Path(__file__).parents[2]
JOBS = {
    "fits": 'title = "Tides"\nwidth = 40\nheight = 200\n',
    "small": 'title = "The Harbour Light"\nwidth = 40\nheight = 200\nsize = 5\n',
    "not": 'title = "Harbourmastership"\nwidth = 3\nheight = 40\n',
    "bad": 'title = "Tides"\nwidth = "wide"\n',
}
BOOKS = {
    "good": "title,width,height\nTides,40,200\n",
    "small": "title,width,height,size\nThe Harbour Light,40,200,5\n",
    "not": "title,width,height\nTides,40,200\nHarbourmastership,3,40\n",
    "bad": "title,width,height\nTides,wide,200\n",
}


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of job files and tables, the current one."""
    for folder, texts, ending in (("jobs", JOBS, "toml"), ("books", BOOKS, "csv")):
        (tmp_path / folder).mkdir()
        for name, text in texts.items():
            (tmp_path / folder / f"{name}.{ending}").write_text(text)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def command_of(kind: str) -> tuple[str, ...]:
    return ("check", "--job-files") if kind == "jobs" else ("batch",)


KINDS = {"jobs": ("fits", "small", "not", "bad"), "books": ("good", "small", "not", "bad")}
ENDING = {"jobs": "toml", "books": "csv"}


@pytest.mark.parametrize("kind", KINDS)
def test_each_file_is_answered_below_its_name(kind: str, place: Path) -> None:
    """As it is alone, byte for byte; a fault of one is a line, and the others go on."""
    names = [f"{kind}/{name}.{ENDING[kind]}" for name in KINDS[kind]]
    done = run(*command_of(kind), *names)
    alone = []
    for name in names:
        words = ("check", "--job", name) if kind == "jobs" else ("batch", name, "--format", "text")
        alone.append(run(*words))
    parts = [f"{name}\n\n{one.stdout}" for name, one in zip(names, alone, strict=True)]
    assert done.stdout == "\n".join(parts)
    assert done.stderr == "".join(one.stderr for one in alone) != ""


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    ("names", "level", "code"),
    [
        ((0, 0), (), 0),
        ((0, 1), (), 0),
        ((1, 0), ("--fail-on", "failure"), 1),
        ((2, 0), (), 1),
        ((3, 2, 0), (), 2),
        ((0, 2, 3), ("--fail-on", "warning"), 2),
        ((0,), (), 0),
    ],
)
def test_the_gravest_code_is_that_of_all(
    kind: str, names: tuple[int, ...], level: tuple[str, ...], code: int, place: Path
) -> None:
    files = [f"{kind}/{KINDS[kind][number]}.{ENDING[kind]}" for number in names]
    assert run(*command_of(kind), *files, *level).exit_code == code


def test_checklists_stand_below_names_too(place: Path) -> None:
    done = run("check", "--job-files", "jobs/fits.toml", "jobs/small.toml", "--format", "checklist")
    assert re.findall("^# (.*)", done.stdout, re.MULTILINE) == ["jobs/fits.toml", "jobs/small.toml"]
    assert done.stdout.count("\n### ") == 8


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("check", "--job-files"), "--job-files: no job files to go with it"),
        (("check", "--job-files", "jobs/fits.toml", "--job", "jobs/not.toml"), "neither --job"),
        (("check", "--job-files", "jobs/fits.toml", "--format", "json"), "are answered as text"),
        (("check", "--job-files", "jobs/fits.toml", "--drawing", "a.svg"), "--drawing: not of"),
        (("check", "--job-files", "jobs/fits.toml", "--save-pattern", "a"), "--save-pattern"),
        (("batch", "books/good.csv", "books/not.csv", "--format", "junit"), "'junit'; give one"),
        (("batch", "books/good.csv", "books/not.csv", "--output", "a.csv"), "--output: not of"),
        (("batch", "books/good.csv", "books/not.csv", "--artwork", "a"), "--artwork: not of"),
        (("batch", "books/good.csv", "books/not.csv", "--resume"), "--resume"),
        (("batch", "books/good.csv", "books/not.csv", "--width", "9mn"), "--width: no unit 'mn'"),
        (("check", "--job-files", "jobs/fits.toml", "jobs/not.toml", "--width", "9mn"), "--width"),
    ],
)
def test_what_is_of_one_answer_is_refused_for_several(words, said: str, place: Path) -> None:
    """Before anything is answered."""
    done = run(*words)
    assert done.exit_code == 2
    assert said in done.stderr
    assert done.stderr.count("\n") == 1
    assert "Tides" not in done.stdout
    assert {path.name for path in place.iterdir()} == {"jobs", "books"}


HOOKS: list[dict[str, Any]] = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))


@pytest.mark.parametrize("hook", HOOKS, ids=[hook["id"] for hook in HOOKS])
def test_a_hook_stops_what_a_check_would_stop(hook: dict[str, Any], place: Path) -> None:
    """Its entry and arguments with the names of the files that it chooses, as it is run."""
    program, *words = shlex.split(hook["entry"])
    assert program == "spinefit" and hook["language"] == "python"
    every = sorted(
        path.relative_to(place).as_posix() for path in place.rglob("*") if path.is_file()
    )
    every += ["pyproject.toml", "jobs/notes.md", "jobs/old/a.toml", "books/readme.txt"]
    chosen = [name for name in every if re.search(hook["files"], name)]
    (kind,) = {name.partition("/")[0] for name in chosen}
    assert chosen == sorted(f"{kind}/{name}.{ENDING[kind]}" for name in KINDS[kind])
    good = [name for name in chosen if "/fits" in name or "/good" in name]
    assert run(*words, *hook["args"], *good).exit_code == 0
    for bad, code in (("small", 1), ("not", 1), ("bad", 2)):
        files = [*good, f"{kind}/{bad}.{ENDING[kind]}"]
        done = run(*words, *hook["args"], *files)
        assert done.exit_code == code
        assert [line for line in done.stdout.splitlines() if line in files] == files
    assert run(*words, *good, f"{kind}/small.{ENDING[kind]}").exit_code == 0  # args say what stops


WORKFLOW = yaml.safe_load((ROOT / "shared" / "builds" / "lettering.yaml").read_text("utf-8"))
STEPS = {
    step["name"]: step["run"]
    for step in WORKFLOW["jobs"]["lettering"]["steps"]
    if "run" in step and step["name"] != "Set up"
}


@pytest.mark.skipif(os.name == "nt" or not shutil.which("bash"), reason="a workflow of Unix")
@pytest.mark.parametrize("good", [True, False], ids=["all fit", "not all"])
def test_the_workflow_runs_as_it_stands(good: bool, place: Path) -> None:
    """Every step in a shell that stops at the first failure; the files it keeps are readable."""
    if good:
        for name in ("small", "not", "bad"):
            (place / "jobs" / f"{name}.toml").unlink()
            (place / "books" / f"{name}.csv").unlink()
    program = place / "bin" / "spinefit"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m spinefit "$@"\n')
    program.chmod(0o755)
    env = {
        **os.environ,
        "PATH": f"{program.parent}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(ROOT),
    }
    codes = {
        name: subprocess.run(
            ["bash", "-e", "-c", commands], env=env, capture_output=True, check=False
        ).returncode
        for name, commands in STEPS.items()
    }
    assert len(codes) == 3
    assert set(codes.values()) == ({0} if good else {1, 2})
    found = {path.name: junit_of(path.read_bytes()) for path in (place / "found").iterdir()}
    names = {"fits", "good"} if good else {*JOBS, *BOOKS}
    kept = {name.removesuffix(".xml").removesuffix("-books") for name in found}
    assert kept == names
    assert set(outcomes(found["fits.xml"]).values()) == {"passed"}
    if not good:
        assert outcomes(found["not.xml"])["fits"] == "does not fit"
        assert outcomes(found["bad.xml"]) == {"input": "bad input"}
        assert [*outcomes(found["not-books.xml"]).values()] == ["passed", "does not fit"]
