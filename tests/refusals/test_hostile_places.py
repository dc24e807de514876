"""What may never be replaced stays, and what has no end is not read to it.

Pipes stand for every device: both are told by the same question, whether a place is a file.
"""

from __future__ import annotations

import io
import os
import resource
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from spinefit.batch import text_stream
from spinefit.batch.reading import read_table
from spinefit.cli.files import refuse_irreplaceable
from spinefit.errors import OutputError, SpinefitError
from tests.fuzz.judging import faults, outcome

pytestmark = pytest.mark.skipif(os.name == "nt", reason="pipes and links of Unix")

TITLE = "Tides"
BACK = ("--width", "45mm", "--height", "210mm")
JOB = 'title = "Tides"\nwidth = 22\nheight = 210\n'
# Each: a command that writes a file, up to its name.
WRITERS: dict[str, tuple[str, tuple[str, ...]]] = {
    "drawing": ("a.svg", ("check", TITLE, *BACK, "--drawing")),
    "page": ("a.html", ("check", TITLE, *BACK, "--drawing")),
    "pattern": ("a.toml", ("check", TITLE, *BACK, "--save-pattern")),
    "sheet": ("a.pdf", ("sheet", TITLE, "--panel", "20x30mm", "--output")),
    "single": ("a.dxf", ("sheet", TITLE, "--panel", "20x30mm", "--single", "--output")),
    "worksheet": ("a.pdf", ("worksheet", TITLE, *BACK, "--output")),
    "recess": (
        "a.svg",
        ("recess", TITLE, *BACK, "--method", "leather-label", "--edge", "6mm", "--output"),
    ),
    "batch": ("a.csv", ("batch", "books.csv", "--jobs", "1", "--output")),
}


@pytest.fixture(autouse=True)
def table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A table of one book, in the folder where all happens."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "books.csv"
    path.write_text("title,width,height\nTides,45,210\n")
    return path


def names(folder: Path) -> set[str]:
    return {one.name for one in folder.iterdir()}


# Into a folder a batch writes a file for each table (tests/cli); else a name is that of a file.
PLACES = [
    (writer, kind)
    for writer in WRITERS
    for kind in ("pipe", "folder")
    if (writer, kind) != ("batch", "folder")
]


@pytest.mark.parametrize("force", [(), ("--force",)])
@pytest.mark.parametrize(("writer", "kind"), PLACES)
def test_a_folder_a_device_and_a_pipe_are_never_replaced(
    tmp_path: Path, writer: str, kind: str, force: tuple[str, ...]
) -> None:
    """Not even where a file might be: renaming over one takes it from everybody."""
    name, words = WRITERS[writer]
    place = tmp_path / name
    if kind == "pipe":
        os.mkfifo(place)
    else:
        place.mkdir()
    done = outcome([*words, name, *force])
    assert (done.code, done.out) == (2, "")
    assert not faults(words[:1], done)
    assert done.err.count("\n") == 1
    assert name in done.err
    assert place.is_fifo() if kind == "pipe" else place.is_dir()
    assert names(tmp_path) == {"books.csv", name}


@pytest.mark.parametrize(("writer", "kind"), PLACES)
def test_a_link_to_a_folder_a_device_or_a_pipe_is_never_replaced(
    tmp_path: Path, writer: str, kind: str
) -> None:
    """Other programs find their way by it."""
    name, words = WRITERS[writer]
    if kind == "pipe":
        os.mkfifo(tmp_path / "target")
    else:
        (tmp_path / "target").mkdir()
    (tmp_path / name).symlink_to("target")
    done = outcome([*words, name, "--force"])
    assert (done.code, done.out) == (2, "")
    assert done.err.count("\n") == 1
    assert name in done.err
    assert os.readlink(tmp_path / name) == "target"
    assert names(tmp_path) == {"books.csv", name, "target"}


@pytest.mark.parametrize("folder", ["/dev", "/proc/self", "/proc/self/fd"])
def test_a_link_of_the_system_is_told_wherever_it_leads(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: str
) -> None:
    """`/dev/stdout` leads to a plain file where the shell says so, and is not ours even then.

    The folder is only named: were this to fail on the real one, it would spoil the machine.
    """
    place = tmp_path / "stdout"
    (tmp_path / "plain").write_text("of the shell")
    place.symlink_to("plain")
    refuse_irreplaceable(str(place), "--output")
    monkeypatch.setattr("os.path.realpath", lambda _path: folder)
    with pytest.raises(OutputError, match="a link of the system's own"):
        refuse_irreplaceable(str(place), "--output")


@pytest.mark.parametrize("writer", WRITERS)
@pytest.mark.parametrize("name", ["", "  "])
def test_a_file_without_a_name_is_refused_and_leaves_nothing(
    tmp_path: Path, writer: str, name: str
) -> None:
    done = outcome([*WRITERS[writer][1], name, "--force"])
    assert (done.code, done.out) == (2, "")
    assert done.err.count("\n") == 1
    assert names(tmp_path) == {"books.csv"}


@pytest.mark.parametrize("writer", WRITERS)
def test_a_link_is_replaced_and_what_it_points_to_is_kept(tmp_path: Path, writer: str) -> None:
    """Also one that points to itself or to nothing."""
    name, words = WRITERS[writer]
    precious = tmp_path / "precious"
    precious.write_text("kept")
    place = tmp_path / name
    for target in ("precious", name, "nothing/there"):
        place.unlink(missing_ok=True)
        place.symlink_to(target)
        assert outcome([*words, name]).code == 2
        assert os.readlink(place) == target
        done = outcome([*words, name, "--force"])
        assert done.code == 0, done.err
        assert not place.is_symlink()
        assert place.stat().st_size > 50
    assert precious.read_text() == "kept"
    assert names(tmp_path) == {"books.csv", "precious", name}


@pytest.mark.parametrize("ending", [".partial", ".partial.json", ".partial.json.part"])
def test_a_link_in_the_place_of_a_partial_result_is_not_written_through(
    tmp_path: Path, ending: str
) -> None:
    """Whoever laid it there, a run begun afresh leaves what it points to."""
    precious = tmp_path / "precious"
    precious.write_text("kept")
    (tmp_path / f"a.csv{ending}").symlink_to("precious")
    done = outcome([*WRITERS["batch"][1], "a.csv", "--force"])
    assert done.code == 0, done.err
    assert precious.read_text() == "kept"
    assert names(tmp_path) == {"books.csv", "precious", "a.csv"}
    assert not (tmp_path / "a.csv").is_symlink()


def test_going_on_through_a_link_is_refused(tmp_path: Path) -> None:
    precious = tmp_path / "precious"
    precious.write_text("kept")
    (tmp_path / "a.csv.partial").symlink_to("precious")
    done = outcome([*WRITERS["batch"][1], "a.csv", "--resume"])
    assert (done.code, done.out) == (2, "")
    assert precious.read_text() == "kept"


_ENDLESS = {
    "job": ("check", "--job", "/dev/zero"),
    "font": ("check", TITLE, *BACK, "--font", "/dev/zero"),
    "tools": ("check", TITLE, *BACK, "--tools", "/dev/zero"),
    "methods": ("check", TITLE, *BACK, "--method-file", "/dev/zero"),
    "pattern": ("check", TITLE, *BACK, "--match", "/dev/zero"),
    "table": ("batch", "/dev/zero"),
    "titles": ("sheet", "--titles", "/dev/zero", "--panel", "20x30", "--output", "a.pdf"),
}


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="a device of Unix")
@pytest.mark.parametrize("kind", _ENDLESS)
def test_what_has_no_end_is_read_so_far_and_refused(tmp_path: Path, kind: str) -> None:
    """In a process of a gigabyte, since memory without bound is what would be wrong."""

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_DATA, (1 << 30, 1 << 30))

    done = subprocess.run(
        [sys.executable, "-m", "spinefit", *_ENDLESS[kind]],
        capture_output=True, text=True, timeout=60, check=False, preexec_fn=limited,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("spinefit: ")
    assert done.stderr.count("\n") == 1
    assert "/dev/zero" in done.stderr
    assert "memory" not in done.stderr


def test_a_row_without_an_end_ends_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """One that is merely vast is a row at fault, and the next is read."""
    monkeypatch.setattr(text_stream, "_LONGEST_SKIPPED", 4 * text_stream.LONGEST_RECORD)
    cell = b"9" * (3 * text_stream.LONGEST_RECORD)
    raw = b"title,width\nTides,9\nVast," + cell + b"\nQuay,9\nEndless," + 2 * cell
    found = []
    with pytest.raises(SpinefitError, match=r"books\.csv:5: a line without an end"):
        for row in read_table(io.BufferedReader(io.BytesIO(raw)), "books.csv").rows:
            found.append((row.line, bool(row.fault)))
    assert found == [(2, False), (3, True), (4, False)]


@pytest.mark.parametrize(
    "words", [("check", "--job"), ("check", TITLE, *BACK, "--font"), ("batch",)]
)
def test_a_pipe_is_read_like_a_file_and_waiting_for_it_can_be_ended(
    tmp_path: Path, words: tuple[str, ...]
) -> None:
    """A shell hands over what another command writes as the name of a pipe."""
    pipe = tmp_path / "pipe.ttf"
    os.mkfifo(pipe)
    process = subprocess.Popen(
        [sys.executable, "-m", "spinefit", *words, str(pipe)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    time.sleep(0.5)  # nobody writes: it waits a moment
    if process.poll() is None:
        process.send_signal(signal.SIGINT)
    out, said = process.communicate(timeout=30)
    assert (process.returncode, out) == (2, "")
    assert said.startswith("spinefit: stopped")
    assert said.count("\n") == 1


_PIPED = {
    "job": (("check", "--job"), JOB),
    "table": (("batch",), "title,width,height\nTides,22,210\n"),
    "methods": (("check", TITLE, *BACK, "--method-file"), '[ours]\nlike = "paper-label"\n'),
    "tools": (("check", TITLE, *BACK, "--tools"), ""),
    "pattern": (("check", TITLE, *BACK, "--match"), ""),
    "house": (("check", TITLE, *BACK, "--house"), 'market = "GB"\n'),
    "font": (("check", TITLE, *BACK, "--font"), ""),
    "fallback": (("check", TITLE, *BACK, "--fallback"), ""),
    "page": (("page", "--no-open", "--port", "0"), ""),
}


@pytest.mark.parametrize("kind", _PIPED)
def test_a_pipe_that_nobody_writes_into_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    monkeypatch.setattr("spinefit.job.files._PIPE_SECONDS", 0.1)
    os.mkfifo(tmp_path / "pipe.toml")
    done = outcome([*_PIPED[kind][0], "pipe.toml"])
    assert (done.code, done.out) == (2, "")
    assert "a pipe that nobody writes into" in done.err
    assert "pipe.toml" in done.err
    assert done.err.count("\n") == 1


@pytest.mark.parametrize("kind", [kind for kind, (_words, text) in _PIPED.items() if text])
def test_a_pipe_is_read_once_its_writer_comes(tmp_path: Path, kind: str) -> None:
    words, text = _PIPED[kind]
    os.mkfifo(tmp_path / "pipe.toml")
    writer = threading.Thread(target=lambda: (tmp_path / "pipe.toml").write_text(text))
    writer.start()
    done = outcome([*words, "pipe.toml"])
    writer.join(timeout=10)
    assert done.code in (0, 1), done.err


@pytest.mark.parametrize("writer", [writer for writer in WRITERS if writer != "batch"])
def test_a_folder_that_is_gone_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, writer: str
) -> None:
    """Whoever stands in it hears that, and not that a file is missing."""
    name, words = WRITERS[writer]
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    done = outcome([*words, name])
    assert (done.code, done.out) == (2, "")
    assert done.err == "spinefit: the current folder is gone; go to one that is there\n"


def test_what_is_looked_for_in_a_folder_that_is_gone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    for words in (["check", "--job", "a.toml"], ["check", TITLE, *BACK, "--font", "a.ttf"]):
        done = outcome(words)
        assert (done.code, done.out) == (2, "")
        assert "it was looked for in this folder, which is gone" in done.err
    assert outcome(["check", TITLE, *BACK]).code == 0


# As a disk that is full does, a limit on the size of files stops the writing half-way.
FULL = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200))
from spinefit.__main__ import run
run()
"""


@pytest.mark.parametrize("before", [None, "what stood there"])
@pytest.mark.parametrize("writer", WRITERS)
def test_a_disk_that_is_full_half_way(tmp_path: Path, writer: str, before: str | None) -> None:
    """What stood there stands; of a batch only what another run can go on from is left."""
    name, words = WRITERS[writer]
    if before is not None:
        (tmp_path / name).write_text(before)
    done = subprocess.run(
        [sys.executable, "-c", FULL, *words, name, "--force"],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("spinefit: ")
    assert done.stderr.count("\n") == 1
    assert "File too large" in done.stderr
    place = tmp_path / name
    assert (place.read_text() if place.exists() else None) == before
    left = names(tmp_path) - {"books.csv", name}
    assert left <= ({"a.csv.partial", "a.csv.partial.json"} if writer == "batch" else set())


# The death comes when a file is written beside its place and not yet named.
KILLED = """
import os, signal
from spinefit.__main__ import run
def killed(*_):
    os.kill(os.getpid(), signal.SIGKILL)
os.replace = killed
run()
"""


@pytest.mark.parametrize("writer", WRITERS)
def test_a_death_half_way_leaves_what_stood_there(tmp_path: Path, writer: str) -> None:
    name, words = WRITERS[writer]
    (tmp_path / name).write_text("what stood there")
    done = subprocess.run(
        [sys.executable, "-c", KILLED, *words, name, "--force"],
        capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (-signal.SIGKILL, b"")
    assert (tmp_path / name).read_text() == "what stood there"
    assert (tmp_path / "books.csv").read_text() == "title,width,height\nTides,45,210\n"
