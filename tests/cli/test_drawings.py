"""``--drawing`` and ``--picture``: which files are written, and when none is."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.files import Finished, sweep, write_all
from spinefit.cli.main import main
from spinefit.errors import OutputError

JOBS = Path(__file__).parents[2] / "shared" / "jobs"
CHECK = ("check", "The Harbour Light", "--width", "9mm", "--height", "210mm")
BEGINNINGS = {".svg": b"<svg ", ".pdf": b"%PDF-", ".html": b"<!doctype html>"}


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def named(folder: Path, *names: str) -> list[str]:
    return [word for name in names for word in ("--drawing", str(folder / name))]


def test_each_kind_is_written_whole(tmp_path: Path) -> None:
    """Several at once, beside the answer."""
    result = run(*CHECK, *named(tmp_path, "a.svg", "b.PDF", "c.html"))
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith("It fits")
    for path in tmp_path.iterdir():
        assert path.read_bytes().startswith(BEGINNINGS[path.suffix.lower()])
    assert len(list(tmp_path.iterdir())) == 3


def test_what_does_not_fit_is_drawn_too(tmp_path: Path) -> None:
    """With exit code 1, as without a drawing."""
    result = run(*CHECK, "--size", "40", *named(tmp_path, "a.svg"))
    assert result.exit_code == 1
    assert "Does not fit" in (tmp_path / "a.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize("form", ["json", "checklist", "junit"])
def test_a_drawing_leaves_the_answer_as_it_is(form: str, tmp_path: Path) -> None:
    """In every format."""
    plain = run(*CHECK, "--format", form)
    assert run(*CHECK, "--format", form, *named(tmp_path, "a.svg")).stdout == plain.stdout


@pytest.mark.parametrize("name", ["pilots-almanack", "commissioners-set", "chart-book"])
def test_plans_are_drawn(name: str, tmp_path: Path) -> None:
    """Every text on the back, or every volume."""
    file = str(JOBS / f"{name}.toml")
    result = run("check", "--job", file, *named(tmp_path, "a.svg", "a.html"))
    plan = json.loads(run("check", "--job", file, "--format", "json").stdout)
    parts = plan.get("texts") or plan.get("volumes") or [plan]
    svg = (tmp_path / "a.svg").read_text(encoding="utf-8")
    assert (result.exit_code, result.stderr) == (0, "")
    assert svg.count('class="lettering"') == len(parts)
    assert (tmp_path / "a.html").read_text(encoding="utf-8").count("<main>") == 1


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["a.png"], "no such kind of drawing"),
        (["drawing"], "no such kind of drawing"),
        (["a.svg", "b.dxf"], "no such kind of drawing"),
        (["a.svg", "a.svg"], "two files of the same name"),
        (["a.svg", "./a.svg"], "two files of the same name"),
        (["nowhere/a.svg"], "no such folder"),
        (["there.svg"], "there is such a file already"),
        (["a.pdf", "there.svg"], "there is such a file already"),
    ],
)
def test_a_bad_name_is_one_line_and_no_file(names: list[str], said: str, tmp_path: Path) -> None:
    """Refused before anything is worked out, with code 2."""
    (tmp_path / "there.svg").write_text("mine", encoding="utf-8")
    words = [word for name in names for word in ("--drawing", f"{tmp_path}/{name}")]
    result = run(*CHECK, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr and result.stderr.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["there.svg"]
    assert (tmp_path / "there.svg").read_text(encoding="utf-8") == "mine"


def test_force_replaces(tmp_path: Path) -> None:
    """Only what is asked for."""
    (tmp_path / "a.svg").write_text("old", encoding="utf-8")
    assert run(*CHECK, *named(tmp_path, "a.svg"), "--force").exit_code == 0
    assert (tmp_path / "a.svg").read_bytes().startswith(b"<svg ")


def test_a_drawing_and_a_pattern_need_names_of_their_own(tmp_path: Path) -> None:
    """And neither is written where they have one."""
    both = str(tmp_path / "one.svg")
    result = run(*CHECK, "--save-pattern", both, "--drawing", both)
    assert result.exit_code == 2 and not list(tmp_path.iterdir())


def test_bad_input_writes_nothing(tmp_path: Path) -> None:
    """Whatever the fault is."""
    result = run("check", "Tides", "--width", "9", "--bands", "3", *named(tmp_path, "a.svg"),
                 "--title-panel", "9")  # fmt: skip
    assert result.exit_code == 2 and not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("second", "said"), [("b", "a folder stands there"), ("b/c/d", "cannot be written")]
)
def test_all_files_are_written_or_none(tmp_path: Path, second: str, said: str) -> None:
    """A folder where the second should stand, or none to stand in, leaves the first as it was."""
    (tmp_path / "b").mkdir()
    files = [
        Finished(str(tmp_path / "a"), "text", "--x"),
        Finished(str(tmp_path / second), b"", "--x"),
    ]
    with pytest.raises(OutputError, match=said):
        write_all(files, force=True)
    assert [path.name for path in tmp_path.iterdir()] == ["b"]


def test_what_was_begun_is_swept_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As it is when Ctrl-C comes between writing and renaming."""

    def interrupted(*_: object) -> None:
        assert [path.suffix for path in tmp_path.iterdir()] == [".part"]
        sweep()
        assert not list(tmp_path.iterdir())
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_all([Finished(str(tmp_path / "a"), "text", "--x")], force=False)
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
def test_ctrl_c_while_writing_leaves_nothing(tmp_path: Path) -> None:
    """In a process of its own: one line, code 2, no file."""
    script = (
        "import os, signal, sys\nfrom spinefit.__main__ import run\n"
        "os.replace = lambda *_: os.kill(os.getpid(), signal.SIGINT)\nrun()\n"
    )
    words = [sys.executable, "-c", script, *CHECK, *named(tmp_path, "a.svg")]
    done = subprocess.run(words, capture_output=True, check=False)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr == b"spinefit: stopped before there was an answer\n"
    assert not list(tmp_path.iterdir())


def test_a_picture_is_shown_on_request_and_never_in_a_pipe() -> None:
    """Braille patterns below the lines."""
    assert not any("\u2801" <= char <= "\u28ff" for char in run(*CHECK).stdout)
    assert any("\u2801" <= char <= "\u28ff" for char in run(*CHECK, "--picture").stdout)


@pytest.mark.skipif(os.name == "nt", reason="terminals of Unix")
@pytest.mark.parametrize(
    ("words", "encoding", "shown"),
    [((), "utf-8", True), (("--no-picture",), "utf-8", False), ((), "latin-1", False)],
)
def test_a_terminal_that_can_shows_the_picture(
    words: tuple[str, ...], encoding: str, shown: bool
) -> None:
    """Where Unicode is to be had, and where it is wanted."""
    import pty

    leader, follower = pty.openpty()
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "TERM": "xterm", "COLUMNS": "80"}
    process = subprocess.Popen(
        [sys.executable, "-m", "spinefit", *CHECK, *words], stdout=follower, env=environment
    )
    os.close(follower)
    said = b""
    while True:
        try:
            part = os.read(leader, 4096)
        except OSError:
            break
        if not part:
            break
        said += part
    os.close(leader)
    assert process.wait() == 0
    text = said.decode(encoding, "replace")
    assert "Harbour Light" in text
    assert any("\u2801" <= char <= "\u28ff" for char in text) == shown


def test_a_picture_where_there_can_be_none_is_refused() -> None:
    """Beside a format for programs, and where Unicode cannot be shown."""
    result = run(*CHECK, "--picture", "--format", "json")
    assert (result.exit_code, json.loads(result.stdout)["schema"]) == (2, "spinefit.error/1")
    assert "a picture stands in the text only" in result.stderr
    words = [sys.executable, "-m", "spinefit", *CHECK, "--picture"]
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(words, capture_output=True, check=False, env=environment)
    assert done.returncode == 2 and b"cannot show a picture" in done.stderr


def test_a_piped_check_loads_no_drawing() -> None:
    """Neither the room nor its libraries; a drawing loads only its own."""
    script = (
        "import sys\nfrom spinefit.cli.main import status\nstatus(sys.argv[1:])\n"
        "print([n for n in ('spinefit.drawing', 'reportlab', 'jinja2') if n in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *CHECK], capture_output=True, check=True, text=True
    )
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_example_is_what_the_command_draws(tmp_path: Path) -> None:
    """The drawing in ``shared/drawings``, byte for byte."""
    example = JOBS.parent / "drawings" / "harbour-light.svg"
    run(*CHECK, "--market", "GB", *named(tmp_path, "a.svg"))
    assert (tmp_path / "a.svg").read_bytes() == example.read_bytes()
