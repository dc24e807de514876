"""The group of commands, its help and how faults end."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit import asked
from spinefit.cli.main import main
from spinefit.errors import FontNotFoundError

COMMANDS = ("check", "fonts", "markets")


def run(*words: str) -> Result:
    """Run a command line in this process."""
    return CliRunner().invoke(main, list(words))


@pytest.mark.parametrize("words", [["--help"], ["-h"], *([name, "--help"] for name in COMMANDS)])
def test_help_is_plain_and_ends_with_0(words: list[str]) -> None:
    """Every command explains itself in 80 columns of ASCII."""
    result = run(*words)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith("Usage: spinefit")
    assert result.stdout.isascii()
    assert all(len(line) <= 80 for line in result.stdout.splitlines())


def test_the_help_lists_every_command() -> None:
    """Each with what it is for."""
    text = run("--help").stdout
    assert all(f"\n  {name}" in text for name in COMMANDS)


def test_no_arguments_are_bad_input_said_in_one_line() -> None:
    """With a command to start from; the code is never that of a title too long."""
    result = run()
    assert (result.exit_code, result.stdout, result.stderr.count("\n")) == (2, "", 1)
    assert "spinefit check TITLE --width 9mm" in result.stderr
    assert "--help" in result.stderr


def test_the_version_is_said() -> None:
    """Installed or not."""
    result = run("--version")
    assert result.exit_code == 0
    assert result.stdout.startswith("spinefit ")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["chekc"], "did you mean 'check'?"),
        (["The Harbour Light", "--width", "9"], "spinefit check TITLE"),
        (["--verison"], "did you mean --version?"),
        (["check", "Tides", "--widht", "9"], "did you mean --width?"),
        (["check", "-ism", "--width", "9"], "goes last, after --"),
        (["check", "--ism and ebb", "--width", "9"], "goes last, after --"),
        (["check", "Tides", "--width"], "--width: lacks its value; give one behind it or"),
        (["check", "Tides", "--font", "--width", "9"], "--font: lacks its value"),
        (["check", "Tides", "--width", "9", "--font", "--market=GB"], "--font: lacks its value"),
        (["check", "Tides", "--font", "--help"], "--font: lacks its value"),
        (["batch", "--output", "--force", "books.csv"], "--output: lacks its value"),
        (["check", "--help=3"], "does not take a value"),
        (["fonts", "serif", "bold"], "unexpected extra argument"),
        (["fonts", "--fromat", "json"], "did you mean --format?"),
        (["fonts", "--format", "jsn"], "did you mean 'json'?"),
        (["markets", "UK"], "the United Kingdom is GB"),
        (["markets", ""], "no ISO 3166 country code"),
    ],
)
def test_a_slip_on_the_command_line_is_one_line(words: list[str], said: str) -> None:
    """What click finds wrong is said as we say it, and ends with 2."""
    result = run(*words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("spinefit: ")
    assert result.stderr.count("\n") == 1
    assert said in result.stderr


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (KeyboardInterrupt(), "stopped before there was an answer"),
        (EOFError(), "stopped before there was an answer"),
        (MemoryError(), "not enough memory"),
        (RecursionError("too deep"), "internal fault: RecursionError: too deep; please report it"),
        (ValueError("two\nlines"), "internal fault: ValueError: two\\nlines; please report it"),
        (OSError(5, "Input/output error"), "Input/output error"),
        (FontNotFoundError("no such font", value="x"), "no such font: 'x'"),
    ],
)
def test_any_fault_inside_ends_with_2(
    monkeypatch: pytest.MonkeyPatch, fault: BaseException, said: str
) -> None:
    """Neither Ctrl-C nor a fault of ours can look like a title that does not fit."""

    def broken(*_: object, **__: object) -> None:
        raise fault

    monkeypatch.setattr(asked, "assemble", broken)
    monkeypatch.delenv("SPINEFIT_TRACEBACK", raising=False)
    result = run("check", "Tides", "--width", "9")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.count("\n") == 1
    assert said in result.stderr
    assert "Traceback" not in result.stderr


def test_a_traceback_can_be_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """For whoever mends the fault."""

    def broken(*_: object, **__: object) -> None:
        raise ValueError("seams")

    monkeypatch.setattr(asked, "assemble", broken)
    monkeypatch.setenv("SPINEFIT_TRACEBACK", "1")
    result = run("check", "Tides", "--width", "9")
    assert result.exit_code == 2
    assert "Traceback" in result.stderr


def test_the_module_runs_too() -> None:
    """``python -m spinefit`` is the same command."""
    done = subprocess.run(
        [sys.executable, "-m", "spinefit", "markets", "GB"], capture_output=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.startswith(b"GB  United Kingdom")


@pytest.mark.parametrize(
    ("name", "cure"), [("book.toml", "as --job"), ("BOOKS.CSV", "to 'spinefit batch'")]
)
def test_the_name_of_a_file_is_no_title(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, cure: str
) -> None:
    """Where it is there; a title that only ends so is lettered."""
    monkeypatch.chdir(tmp_path)
    assert run("check", name, "--width", "9").exit_code in (0, 1)
    Path(name).write_text("")
    result = run("check", name, "--width", "9")
    assert (result.exit_code, result.stdout) == (2, "")
    assert f"TITLE: the name of a file, not a title: '{name}'; give it {cure}" in result.stderr
