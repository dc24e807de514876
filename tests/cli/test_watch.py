"""A check that answers again whenever its files change, driven as a process of its own."""

from __future__ import annotations

import json
import os
import queue
import re
import shutil
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from spinefit.job.read import files_named

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
FONTS = Path(__file__).parents[2] / "fonts_open"
GARAMOND = FONTS / "eb-garamond" / "EBGaramond-Regular.ttf"
JOB = 'title = "Tides"\nwidth = 20\nheight = 200\n'
PATIENCE_S = 60.0


class Watch:
    """A child that watches, its lines read as they come."""

    def __init__(self, *words: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "spinefit", "check", *words, "--watch"],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip
        self.out: queue.Queue[str] = queue.Queue()
        self.err: queue.Queue[str] = queue.Queue()
        self.answered = 0
        self._readers = [
            threading.Thread(target=self._read, args=pair)
            for pair in ((self.process.stdout, self.out), (self.process.stderr, self.err))
        ]
        for reader in self._readers:
            reader.start()

    @staticmethod
    def _read(stream: IO[str], lines: queue.Queue[str]) -> None:
        with stream:
            for line in stream:
                lines.put(line)

    def said(self) -> list[str]:
        """Everything on standard error up to where it waits again, which counts the answers."""
        found = []
        while not found or "waiting for a change" not in found[-1]:
            found.append(self.err.get(timeout=PATIENCE_S))
        self.answered += 1
        assert re.match(rf"spinefit: answer {self.answered}, at \d\d:\d\d:\d\d; wai", found[-1])
        return found[:-1]

    def answer(self) -> dict[str, Any]:
        """The next object, nothing being said beside it."""
        assert self.said() == []
        return json.loads(self.out.get(timeout=PATIENCE_S))

    def fault(self) -> dict[str, Any]:
        """The next fault, which standard error says in one line."""
        (line,) = self.said()
        found = json.loads(self.out.get(timeout=PATIENCE_S))
        assert line == f"spinefit: {found['error']['text']}\n"
        return found["error"]

    def end(self, number: int = signal.SIGINT) -> int:
        self.process.send_signal(number)
        code = self.process.wait(timeout=PATIENCE_S)
        for reader in self._readers:
            reader.join()
        return code


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(JOB)
    return path


@pytest.fixture
def watch(job: Path) -> Iterator[Watch]:
    found = Watch("--job", str(job), "--format", "json")
    yield found
    found.end(signal.SIGKILL)


def replaced(path: Path, text: str) -> None:
    """As many editors save: another file gets the name."""
    other = path.with_suffix(".new")
    other.write_text(text)
    os.replace(other, path)


def test_it_answers_again_whatever_becomes_of_the_file(job: Path, watch: Watch) -> None:
    """Written, replaced, broken, mended, taken away, there again; Ctrl-C ends it with 0."""
    assert watch.answer()["title"] == "Tides"
    job.write_text(JOB.replace("Tides", "Fog"))
    assert watch.answer()["title"] == "Fog"
    replaced(job, JOB.replace("Tides", "Quay"))
    assert watch.answer()["title"] == "Quay"
    replaced(job, "title = ")
    assert watch.fault()["where"].startswith(f"{job}:1")
    job.write_text(JOB.replace("20", '"wide"', 1))
    assert watch.fault()["value"] == "wide"
    job.write_text(JOB.replace("20", "1", 1))
    assert watch.answer()["verdict"] == "does not fit"
    job.unlink()
    assert watch.fault()["what"] == "no such job file"
    job.write_text(JOB)
    assert watch.answer()["title"] == "Tides"
    assert watch.end() == 0
    assert watch.out.empty() and watch.err.empty()


def test_a_file_that_the_job_names_is_watched_too(job: Path, tmp_path: Path, watch: Watch) -> None:
    """A font replaced by another, a method file changed; one named no more is let go."""
    assert watch.answer()["font"]["name"] == "EB Garamond"
    own, method = tmp_path / "more" / "own.ttf", tmp_path / "own.toml"
    own.parent.mkdir()
    shutil.copy(GARAMOND, own)
    method.write_text('[ours]\nlike = "paper-label"\nsmallest_pt = 7\n')
    job.write_text(f'{JOB}font = "more/own.ttf"\nmethod-file = "own.toml"\n')
    first = watch.answer()
    assert first["font"]["file"].endswith("own.ttf")
    shutil.copy(FONTS / "alegreya-sans" / "AlegreyaSans-Regular.ttf", tmp_path / "other.ttf")
    os.replace(tmp_path / "other.ttf", own)
    second = watch.answer()
    assert second["font"]["sha256"] != first["font"]["sha256"]
    method.write_text('[ours]\nlike = "paper-label"\nsmallest_pt = 300\n')
    assert watch.answer()["verdict"] == "does not fit"
    shutil.rmtree(own.parent)
    assert "no such font file" in watch.fault()["text"]
    own.parent.mkdir()
    shutil.copy(GARAMOND, own)
    assert watch.answer()["font"]["sha256"] == first["font"]["sha256"]
    job.write_text(JOB)
    assert watch.answer()["font"]["name"] == "EB Garamond"
    own.unlink()
    job.write_text(JOB.replace("Tides", "Fog"))
    assert watch.answer()["title"] == "Fog"  # and none before it


def test_the_file_of_a_house_is_watched_too(job: Path, tmp_path: Path) -> None:
    """And what it names; broken, it is a line like the job file."""
    house, own = tmp_path / "house.toml", tmp_path / "own.ttf"
    house.write_text('market = "GB"\n')
    watch = Watch("--job", str(job), "--format", "json", "--house", str(house))
    assert watch.answer()["convention"]["market"] == "GB"
    shutil.copy(GARAMOND, own)
    replaced(house, 'market = "DE"\nfont = "own.ttf"\n')
    first = watch.answer()
    assert first["convention"]["market"] == "DE"
    shutil.copy(FONTS / "alegreya-sans" / "AlegreyaSans-Regular.ttf", own)
    assert watch.answer()["font"]["sha256"] != first["font"]["sha256"]
    replaced(house, "market = ")
    assert watch.fault()["where"].startswith(f"{house}:1")
    replaced(house, "")
    assert watch.answer()["convention"]["market"] is None
    assert watch.end() == 0


def test_what_stands_beside_it_says_nothing(job: Path, tmp_path: Path, watch: Watch) -> None:
    """Other files of its folder change, and the job itself is only looked at."""
    watch.answer()
    (tmp_path / "other.toml").write_text(JOB)
    job.read_bytes()
    time.sleep(2.5)
    assert watch.out.empty() and watch.err.empty()


@pytest.mark.skipif(sys.platform != "linux", reason="times as Linux counts them")
def test_waiting_costs_next_to_nothing(watch: Watch) -> None:
    """A tenth of a processor would be far too much."""

    def ticks() -> int:
        fields = Path(f"/proc/{watch.process.pid}/stat").read_text().rpartition(") ")[2].split()
        return int(fields[11]) + int(fields[12])

    watch.answer()
    before = ticks()
    time.sleep(4)
    assert (ticks() - before) / os.sysconf("SC_CLK_TCK") < 0.4


def test_its_own_drawings_are_replaced_and_nobody_elses(job: Path, tmp_path: Path) -> None:
    """What stands there at the start is kept, as ever; nothing is left half written."""
    drawing = tmp_path / "back.svg"
    watch = Watch("--job", str(job), "--format", "json", "--drawing", str(drawing))
    watch.answer()
    first = drawing.read_bytes()
    replaced(job, JOB.replace("Tides", "Fog"))
    watch.answer()
    second = drawing.read_bytes()
    assert second != first
    replaced(job, "broken")
    watch.fault()
    assert drawing.read_bytes() == second
    assert watch.end(signal.SIGTERM) == 0
    assert {path.name for path in tmp_path.iterdir()} == {"job.toml", "back.svg"}
    again = CliRunner().invoke(
        main, ["check", "--job", str(job), "--drawing", str(drawing), "--watch"]
    )
    assert again.exit_code == 2 and "there is such a file already" in again.stderr
    assert drawing.read_bytes() == second


def test_text_stands_in_answers_one_below_another(job: Path) -> None:
    """Where nobody looks on, an empty line parts them."""
    watch = Watch("--job", str(job))
    watch.said()
    replaced(job, JOB.replace("Tides", "Fog"))
    watch.said()
    assert watch.end() == 0
    lines = []
    while not watch.out.empty():
        lines.append(watch.out.get())
    second = next(n for n, line in enumerate(lines) if n and line.startswith("It fits"))
    assert lines[0].startswith("It fits") and lines[second - 1] == "\n"


def test_it_ends_when_nobody_reads_it_any_more(job: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "spinefit", "check", "--job", str(job), "--watch"],
        stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    assert process.stdout is not None
    process.stdout.readline()
    process.stdout.close()
    assert process.wait(timeout=PATIENCE_S) == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("Tides", "--width", "9"), "--watch: no file to watch; give --job FILE"),
        (("--job", "no-such.toml"), "no such job file: 'no-such.toml'"),
        (("--job", "{job}", "--format", "junit"), "--watch: only one document"),
        (("--job", "{job}", "--width", "9mn"), "--width"),
        (("--job", "{job}", "--force"), "--force: nothing to replace"),
        (("{job}", "--job-files"), "--job-files"),
    ],
)
def test_what_no_change_could_mend_ends_it_at_once(words, said: str, job: Path) -> None:
    done = CliRunner().invoke(main, ["check", *(w.format(job=job) for w in words), "--watch"])
    assert done.exit_code == 2
    assert said in done.stderr
    assert done.stderr.count("\n") == 1


def test_which_files_a_job_names(tmp_path: Path) -> None:
    """Fonts by a file's name, also of single texts; not those named as menus show them."""
    texts = [{"font": "c.otf", "text": "Tides"}, {"font": "Cinzel"}, "no table"]
    tables = [{"font": "EB Garamond", "fallback": ["a.ttf", "Cinzel"], "tools": " b.toml "},
              {"method-file": 3, "text": texts, "font": "set/d"}]  # fmt: skip
    assert files_named(tables) == {"a.ttf", "b.toml", "c.otf", "set/d"}
