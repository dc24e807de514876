"""Several files on one command line, the hooks before a commit, and the example of a workflow."""

from __future__ import annotations

import json
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
    closing = done.stderr.splitlines()[-1]
    assert done.stderr == "".join(one.stderr for one in alone) + f"{closing}\n"
    assert closing == (
        f"spinefit: 4 files: 2 passed, 1 failed ({names[2]}), 1 at fault ({names[3]})"
    )


def test_the_closing_line_names_a_few_and_counts_the_rest(place: Path) -> None:
    for number in range(7):
        shutil.copy("jobs/not.toml", f"jobs/not-{number}.toml")
    names = [f"jobs/not-{number}.toml" for number in range(7)]
    done = run("check", "--job-files", "jobs/fits.toml", *names)
    assert done.stderr == (
        f"spinefit: 8 files: 1 passed, 7 failed ({', '.join(names[:5])} and 2 more)\n"
    )


def test_several_job_files_are_one_document(place: Path) -> None:
    """A suite a file, named by it; one at fault is an error among the others."""
    names = [f"jobs/{name}.toml" for name in KINDS["jobs"]]
    done = run("check", "--job-files", *names, "--format", "junit", "--fail-on", "failure")
    root = junit_of(done.stdout)
    assert [suite.get("name") for suite in root] == names
    assert [outcomes(suite).get("fits") for suite in root] == [
        "passed", "passed", "does not fit", None,
    ]  # fmt: skip
    assert outcomes(root[1])["legibility"] == "failure"
    assert outcomes(root[3]) == {"input": "bad input"}
    assert done.exit_code == 2


def test_a_fault_of_the_command_line_is_the_only_suite(place: Path) -> None:
    """Nothing is half written before it."""
    words = ("--format", "junit", "--width", "9mn")
    done = run("check", "--job-files", "jobs/fits.toml", "jobs/not.toml", *words)
    assert outcomes(junit_of(done.stdout)) == {"input": "bad input"}


@pytest.mark.parametrize("form", ["junit", "jsonl", "csv", "html"])
@pytest.mark.parametrize("number", [1, 4])
def test_tables_have_a_file_each_in_a_folder(form: str, number: int, place: Path) -> None:
    """One table or several; as it is written alone, and the fault of one where programs read it."""
    names = [f"books/{name}.csv" for name in KINDS["books"][:number]]
    ending = "xml" if form == "junit" else form
    done = run("batch", *names, "--output", "found/", "--format", form)
    assert (done.exit_code, done.stdout) == (0 if number == 1 else 2, "")
    for name in names:
        alone = run("batch", name, "--format", form)
        written = (place / "found" / f"{Path(name).stem}.{ending}").read_bytes()
        assert written == alone.stdout_bytes
    assert len([*(place / "found").iterdir()]) == number
    again = run("batch", *names, "--output", "found", "--format", form)  # it is there now
    assert "already" in again.stderr and again.exit_code == 2
    forced = run("batch", *names, "--output", "found", "--format", form, "--force")
    assert forced.exit_code == done.exit_code


@pytest.mark.parametrize("form", ["junit", "jsonl"])
@pytest.mark.parametrize("fault", ["missing", "no row", "unknown column"])
def test_a_table_at_fault_leaves_its_error_in_the_file(form: str, fault: str, place: Path) -> None:
    """A build server looks there, and nowhere else; what stands there is never replaced unasked."""
    table = place / "books" / "late.csv"
    if fault != "missing":
        table.write_text("title,width\n" if fault == "no row" else "title,width,depth\nTides,9,1\n")
    file = place / f"found.{'xml' if form == 'junit' else form}"
    done = run("batch", "books/late.csv", "--output", file.name)
    assert (done.exit_code, done.stdout, done.stderr.count("\n")) == (2, "", 1)
    if form == "junit":
        root = junit_of(file.read_bytes())
        assert (root.get("name"), root[0].get("name")) == ("spinefit batch", "books/late.csv")
        assert outcomes(root) == {"input": "bad input"}
    else:
        (line,) = file.read_text("utf-8").splitlines()
        assert json.loads(line)["error"]["text"] == done.stderr.strip().removeprefix("spinefit: ")
    file.write_text("kept")
    assert run("batch", "books/late.csv", "--output", file.name).exit_code == 2
    assert file.read_text() == "kept"


@pytest.mark.parametrize("form", ["junit", "csv"])
def test_rows_that_fail_are_named(form: str, place: Path) -> None:
    """By --fail-on alone it cannot be seen which did: five of them, and how many there are."""
    heading, small = BOOKS["small"].splitlines()
    table = place / "books" / "many.csv"
    table.write_text("\n".join([heading, "Tides,40,200,", *[small] * 7, "Reef,3,40,"]) + "\n")
    plain = run("batch", "books/many.csv", "--format", form)
    assert plain.stderr.count("\n") == 1
    done = run("batch", "books/many.csv", "--format", form, "--fail-on", "failure")
    said = done.stderr.splitlines()
    assert done.exit_code == 1
    assert [line.split(": ")[1] for line in said[:5]] == [
        f"books/many.csv:{n}" for n in range(3, 8)
    ]
    assert all("too small" in line for line in said[:5])
    assert said[5] == "spinefit: books/many.csv: 8 rows count as failed"
    assert said[6].endswith("7 of those that fit counted as failed")


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
        (
            ("check", "--job-files", "jobs/fits.toml", "--job", "jobs/not.toml"),
            "--job: it is of one",
        ),
        (("check", "--job-files", "jobs/fits.toml", "--watch"), "--watch: it is of one job file"),
        (("check", "--job-files", "jobs/fits.toml", "--format", "json"), "are answered as text"),
        (("check", "--job-files", "jobs/fits.toml", "--drawing", "a.svg"), "--drawing: not of"),
        (("check", "--job-files", "jobs/fits.toml", "--save-pattern", "a"), "--save-pattern"),
        (
            ("batch", "books/good.csv", "books/not.csv", "--format", "junit"),
            "give --output FOLDER/",
        ),
        (
            ("batch", "books/good.csv", "books/not.csv", "--output", "a.csv"),
            "give --output FOLDER/",
        ),
        (("batch", "books/good.csv", "books/good.csv", "--output", "a/"), "two tables of one name"),
        (("batch", "books/good.csv", "books/not.csv", "--output", "a/b/"), "No such file"),
        (
            ("batch", "books/good.csv", "books/not.csv", "--output", "a/", "--width", "9mn"),
            "no unit",
        ),
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


def steps_run(place: Path) -> tuple[dict[str, int], list[str]]:
    """The exit code of each step in a shell that stops at the first failure, and what it says."""
    program = place / "bin" / "spinefit"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m spinefit "$@"\n')
    program.chmod(0o755)
    env = {
        **os.environ,
        "PATH": f"{program.parent}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(ROOT),
    }
    done = {
        name: subprocess.run(
            ["bash", "-e", "-c", commands], env=env, capture_output=True, check=False
        )
        for name, commands in STEPS.items()
    }
    codes = {name: one.returncode for name, one in done.items()}
    return codes, [line for one in done.values() for line in one.stdout.decode().splitlines()]


@pytest.mark.skipif(os.name == "nt" or not shutil.which("bash"), reason="a workflow of Unix")
@pytest.mark.parametrize("good", [True, False], ids=["all fit", "not all"])
def test_the_workflow_runs_as_it_stands(good: bool, place: Path) -> None:
    """Every step in a shell that stops at the first failure; the files it keeps are readable."""
    if good:
        for name in ("small", "not", "bad"):
            (place / "jobs" / f"{name}.toml").unlink()
            (place / "books" / f"{name}.csv").unlink()
    codes, _said = steps_run(place)
    assert len(codes) == 3
    assert set(codes.values()) == ({0} if good else {2})
    jobs = junit_of((place / "found" / "jobs.xml").read_bytes())
    tables = {
        path.stem: junit_of(path.read_bytes()) for path in (place / "found" / "books").iterdir()
    }
    suites = {Path(suite.get("name", "")).stem: suite for suite in jobs}
    assert set(suites) == ({"fits"} if good else {*JOBS})
    assert set(tables) == ({"good"} if good else {*BOOKS})
    assert set(outcomes(suites["fits"]).values()) == {"passed"}
    if not good:
        assert outcomes(suites["not"])["fits"] == "does not fit"
        assert outcomes(suites["bad"]) == {"input": "bad input"}
        assert [*outcomes(tables["not"]).values()] == ["passed", "does not fit"]


@pytest.mark.skipif(os.name == "nt" or not shutil.which("bash"), reason="a workflow of Unix")
def test_the_workflow_passes_over_a_folder_without_files(place: Path) -> None:
    """A repository of tables has no job files; that is no failure."""
    shutil.rmtree(place / "jobs")
    shutil.rmtree(place / "books")
    codes, said = steps_run(place)
    assert set(codes.values()) == {0}
    assert said == ["no job files", "no job files", "no tables"]
