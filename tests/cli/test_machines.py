"""Does it run where there is no fork, no POSIX, and no UTF-8 by default? Simulated here.

Each command runs in a process, and so do its children, without what Windows lacks: the functions
and modules named below are taken away before the program begins, processes are spawned, text has
the encoding of a western Windows, and every file opened without naming one is told. What this
cannot show: the file systems, consoles and fonts of such a machine.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

import spinefit
from tests.page.served import Served

_WITHOUT_POSIX = """
import multiprocessing, os, select, signal, sys
for module, names in (
    (os, "fork forkpty register_at_fork sched_getaffinity chown fchmod mkfifo "
         "O_NOFOLLOW O_NONBLOCK O_DIRECTORY killpg getpgid setsid nice statvfs"),
    (signal, "pthread_sigmask SIGHUP SIGALRM SIGKILL SIGUSR1 SIGPIPE SIGQUIT alarm setitimer"),
    (select, "poll epoll"),
):
    for name in names.split():
        if hasattr(module, name):
            delattr(module, name)
for name in ("resource", "pwd", "grp", "termios", "tty", "pty", "readline"):
    sys.modules[name] = None
multiprocessing.get_all_start_methods = lambda: ["spawn"]
"""
ROOT = str(Path(spinefit.__file__).parents[1])
TITLES = ("Der Leuchtturm am Hafen", "Küste und Gezeiten", "Knots – a Short History", "Œuvres")


class Machine(NamedTuple):
    """Such a machine: a folder whose name has a space and an accent, what processes are told."""

    folder: Path
    env: dict[str, str]

    def run(self, *words: str, code: int = 0) -> subprocess.CompletedProcess[str]:
        found = subprocess.run(
            [sys.executable, "-m", "spinefit", *words, "--no-house"], cwd=self.folder,
            env=self.env, capture_output=True, encoding="cp1252", timeout=120, check=False,
        )  # fmt: skip
        assert found.returncode == code, found.stderr
        assert "Traceback" not in found.stderr
        assert f"{ROOT}{os.sep}spinefit" not in found.stderr  # a file without an encoding
        return found


@pytest.fixture
def machine(tmp_path):
    shim = tmp_path / "shim"
    shim.mkdir()
    (shim / "sitecustomize.py").write_text(_WITHOUT_POSIX, encoding="utf-8")
    folder = tmp_path / "Büch er"
    folder.mkdir()
    own = {
        "PYTHONPATH": os.pathsep.join((str(shim), ROOT)),
        "PYTHONIOENCODING": "cp1252",
        "LC_ALL": "C.UTF-8",  # for names and what is typed, which are Unicode there too
        "PYTHONWARNDEFAULTENCODING": "1",
    }

    return Machine(folder, os.environ | own)


def _table(folder: Path) -> Path:
    rows = [f'"{title}",{width},210' for width in (9, 14, 22, 30) for title in TITLES * 40]
    path = folder / "Jahresliste.csv"
    path.write_text("title,width,height\n" + "\n".join(rows), encoding="utf-8")
    return path


def test_a_check_says_and_draws_the_same(machine):
    words = ("check", "Küste und Gezeiten", "--width", "14", "--height", "210")
    found = json.loads(machine.run(*words, "--format", "json", "--drawing", "Küste.svg").stdout)
    report = spinefit.check(
        spinefit.Job(
            title="Küste und Gezeiten", spine=spinefit.Spine(width_mm=14.0, height_mm=210.0)
        )
    )
    assert found["answer"] == report.answer
    assert "Küste und Gezeiten" in (machine.folder / "Küste.svg").read_text(encoding="utf-8")


def test_the_screen_does_without_letters_that_its_encoding_lacks(machine):
    """Λιμάνι is no text of cp1252, nor are the lines of the picture."""
    said = machine.run("check", "Λιμάνι", "--width", "14", "--height", "210").stdout
    assert r"head  |  \u039b\u03b9\u03bc\u03ac\u03bd\u03b9  |  tail" in said


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_batch_of_several_processes_answers_every_row(machine, jobs):
    table = _table(machine.folder)
    found = machine.run("batch", table.name, "--jobs", jobs, "--output", "gefunden.csv")
    rows = (machine.folder / "gefunden.csv").read_text(encoding="utf-8").splitlines()
    assert len(rows) == 1 + 16 * 40
    assert "Küste" in rows[2] and "640" in found.stderr


def test_sheets_and_workbooks_are_written(machine):
    pytest.importorskip("openpyxl")
    _table(machine.folder)
    machine.run("batch", "Jahresliste.csv", "--output", "gefunden.xlsx")
    machine.run("sheet", "Œuvres", "--panel", "30x40", "--output", "Bögen.pdf")
    assert (machine.folder / "gefunden.xlsx").read_bytes()[:2] == b"PK"
    assert (machine.folder / "Bögen.pdf").read_bytes()[:4] == b"%PDF"


def test_bad_input_is_one_line_there_too(machine):
    found = machine.run("check", "Küste", "--width", "14qq", "--height", "210", code=2)
    assert found.stdout == "" and len(found.stderr.splitlines()) == 1


def test_the_page_answers(machine, tmp_path):
    command = [sys.executable, "-m", "spinefit", "page", "--no-open", "--port", "0"]
    env = machine.env | {"XDG_STATE_HOME": str(tmp_path), "HOME": str(tmp_path)}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="cp1252", env=env
    ) as process:
        assert process.stdout is not None
        page = Served(process.stdout.readline().strip(), process)
        try:
            job = 'title = "Küste und Gezeiten"\nwidth = 14\nheight = 210\n'
            assert page.ask("ask/answer", {"job": job})["answer"]
        finally:
            process.terminate()
            process.wait(30)
