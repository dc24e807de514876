"""A row at which a library dies: end to end, through the command line and real signals.

A module that Python loads into every process at its start makes such a library: at some titles
it reads where no memory is, as a fault in native code does, or does something as bad.
"""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals of Unix")

HEADING = "id,title,width,height\n"
# Loaded by Python itself; hooks the first moment at which a process at work knows of a title.
DEADLY = """
import sys

class _Loader:
    def __init__(self, loader):
        self._loader = loader
    def __getattr__(self, name):
        return getattr(self._loader, name)
    def exec_module(self, module):
        self._loader.exec_module(module)
        answer = module.answer
        def deadly(job, **options):
            if job.title.startswith("SEGV"):
                import ctypes, faulthandler
                faulthandler.disable()
                ctypes.string_at(0)
            if job.title.startswith("ABRT"):
                import os
                os.abort()
            if job.title.startswith("KILL"):
                import os, signal
                os.kill(os.getpid(), signal.SIGKILL)
            if job.title.startswith("EXIT"):
                import os
                os._exit(0)
            return answer(job, **options)
        module.answer = deadly

class _Finder:
    def find_spec(self, name, path=None, target=None):
        if name != "spinefit.pipeline":
            return None
        sys.meta_path.remove(self)
        import importlib.util
        spec = importlib.util.find_spec(name)
        sys.meta_path.insert(0, self)
        spec.loader = _Loader(spec.loader)
        return spec

sys.meta_path.insert(0, _Finder())
"""
DIED = "the process that checked this row ended, as by a fault in a library; the others went on"


def run(
    folder: Path, titles: list[str], *words: str, jobs: int
) -> subprocess.CompletedProcess[str]:
    """A batch of books of these titles, with the deadly library in every process."""
    hooks = folder / "hooks"
    hooks.mkdir(exist_ok=True)
    (hooks / "sitecustomize.py").write_text(DEADLY)
    table = folder / "books.csv"
    rows = [f"{at},{title},{12 + at % 20},200\n" for at, title in enumerate(titles)]
    table.write_text(HEADING + "".join(rows))
    path = os.pathsep.join([str(hooks), os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep)
    return subprocess.run(
        [sys.executable, "-m", "spinefit", "batch", str(table), "--jobs", str(jobs), *words],
        env={**os.environ, "PYTHONPATH": path}, capture_output=True, text=True, timeout=240,
        check=False,
    )  # fmt: skip


@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("death", ["SEGV", "ABRT", "KILL", "EXIT"])
def test_a_row_at_which_the_process_dies_fails_alone(tmp_path: Path, death: str, jobs: int) -> None:
    """It has a line that says so, and so has standard error; the others are answered in order."""
    titles = [f"Tide Tables {at}" for at in range(70)]
    deaths = {3, 40, 41, 69}
    for at in deaths:
        titles[at] = f"{death} {at}"
    done = run(tmp_path, titles, "--format", "csv", jobs=jobs)
    assert done.returncode == 2
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert [row["title"] for row in rows] == titles
    assert [row["line"] for row in rows] == [str(at + 2) for at in range(70)]
    for at, row in enumerate(rows):
        assert row["error"] == (DIED if at in deaths else ""), row
        assert bool(row["verdict"]) == (at not in deaths)
    table, (what, _, _) = tmp_path / "books.csv", DIED.partition(";")
    assert done.stderr.splitlines() == [
        *(f"spinefit: {table}:{at + 2}: {DIED}" for at in sorted(deaths)[:3]),
        f"spinefit: {table}: {what}: 4 rows, lines 5, 42, 43, 71",
        "spinefit: 66 books: 66 fit, 0 tight, 0 do not fit; 4 rows at fault",
    ]


def test_the_rows_beside_it_are_answered_as_if_it_were_not_there(tmp_path: Path) -> None:
    """Byte for byte, whatever the number of processes; and the file is whole, nothing beside it."""
    titles = [f"Tide Tables {at}" for at in range(40)]
    sound = run(tmp_path, titles, "--output", str(tmp_path / "sound.jsonl"), jobs=2)
    assert sound.returncode == 0
    assert sound.stderr.count("\n") == 1
    titles[7] = "SEGV"
    found = []
    for jobs in (1, 2):
        out = tmp_path / f"{jobs}.jsonl"
        done = run(tmp_path, titles, "--output", str(out), jobs=jobs)
        assert (done.returncode, done.stdout) == (2, "")
        found.append(out.read_text().splitlines())
    assert found[0] == found[1]
    assert json.loads(found[0][7]) == {"line": 9, "kept": {"id": "7"}, "error": DIED,
                                       "column": None}  # fmt: skip
    wanted = (tmp_path / "sound.jsonl").read_text().splitlines()
    assert [line for at, line in enumerate(found[0]) if at != 7] == [
        line for at, line in enumerate(wanted) if at != 7
    ]
    assert {one.name for one in tmp_path.iterdir()} == {
        "hooks", "books.csv", "sound.jsonl", "1.jsonl", "2.jsonl",
    }  # fmt: skip


def test_every_row_may_die(tmp_path: Path) -> None:
    """Then there are rows that say so, and an end."""
    done = run(tmp_path, [f"SEGV {at}" for at in range(5)], "--format", "csv", jobs=2)
    assert done.returncode == 2
    assert [row["error"] for row in csv.DictReader(io.StringIO(done.stdout))] == [DIED] * 5
