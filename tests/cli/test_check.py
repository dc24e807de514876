"""The command ``spinefit check``, from words to exit code."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from rich.cells import cell_len

from spinefit.cli.main import main
from spinefit.job.fields import FIELDS

FITS = ("check", "The Harbour Light", "--width", "25mm", "--height", "200mm")
TOO_LONG = ("check", "The Harbour Light", "--panel", "4x4mm", "--size", "12")


def run(*words: str) -> Result:
    """Run a command line in this process."""
    return CliRunner().invoke(main, list(words))


def process(
    *words: str, env: dict[str, str] | None = None, **how: object
) -> subprocess.CompletedProcess[bytes]:
    """Run a command line in a process of its own."""
    return subprocess.run(  # type: ignore[call-overload,no-any-return]
        [sys.executable, "-m", "spinefit", *words],
        env={**os.environ, **(env or {})},
        check=False,
        **({"capture_output": True} | how),
    )


def test_exit_codes_are_the_verdict() -> None:
    """0 it fits, 1 it does not; nothing on standard error either way."""
    for words, code in ((FITS, 0), (TOO_LONG, 1)):
        result = run(*words)
        assert (result.exit_code, result.stderr) == (code, "")


@pytest.mark.parametrize("words", [FITS, TOO_LONG])
def test_the_three_formats_agree(words: tuple[str, ...]) -> None:
    """The same answer as text, JSON and checklist, with the same exit code."""
    text, as_json, checklist = (
        run(*words, "--format", form) for form in ("text", "json", "checklist")
    )
    report = json.loads(as_json.stdout)
    assert text.exit_code == as_json.exit_code == checklist.exit_code
    assert (report["recommended"] is None) == bool(text.exit_code)
    assert " ".join(text.stdout.split()).startswith(" ".join(report["answer"].split()))
    assert checklist.stdout.startswith("## Spine lettering: The Harbour Light\n\n- [")


@pytest.mark.parametrize("words", [FITS, TOO_LONG])
def test_piped_text_is_80_columns_without_colour(words: tuple[str, ...]) -> None:
    """Whatever the terminal that started it."""
    done = process(*words, env={"COLUMNS": "200", "FORCE_COLOR": "1", "TERM": "xterm-256color"})
    text = done.stdout.decode()
    assert "\x1b" not in text
    assert all(cell_len(line) <= 80 for line in text.splitlines())


def test_a_job_file_says_the_same_as_options(tmp_path: Path) -> None:
    """The names are the same, and so is the answer."""
    file = tmp_path / "book.toml"
    file.write_text('title = "The Harbour Light"\nwidth = 25\nheight = "20cm"\n')
    by_file = run("check", "--job", str(file), "--format", "json")
    assert by_file.stdout == run(*FITS, "--format", "json").stdout


def test_options_have_the_last_word(tmp_path: Path) -> None:
    """What is typed overrides the job file, the title too."""
    file = tmp_path / "book.toml"
    file.write_text('title = "Tides"\nwidth = "nonsense"\nheight = "20cm"\n')
    result = run(
        "check", "The Harbour Light", "--job", str(file), "--width", "25", "--format", "json"
    )
    assert result.stdout == run(*FITS, "--format", "json").stdout


def test_a_fault_in_a_job_file_names_the_file(tmp_path: Path) -> None:
    """A fault of an early stage and one of a later stage alike."""
    file = tmp_path / "book.toml"
    for line, said in (('width = "9mn"', "width: no unit 'mn'"), ("width = 0", "width: ")):
        file.write_text(f'title = "Tides"\n{line}\n')
        result = run("check", "--job", str(file))
        assert result.exit_code == 2
        assert result.stderr.startswith(f"spinefit: {file}: {said}")


def test_a_title_may_begin_with_a_dash() -> None:
    """After two dashes."""
    result = run("check", "--width", "25", "--height", "200", "--format", "json", "--", "-ism")
    assert result.exit_code == 0
    assert json.loads(result.stdout)["title"] == "-ism"


def test_every_field_has_an_option_in_the_help() -> None:
    """Under its group's heading."""
    text = run("check", "--help").stdout
    for field in FIELDS:
        assert f"--{field.name} {field.kind.metavar}" in text
        assert f"{field.heading}:\n" in text


def test_areas_kept_free_may_be_given_twice() -> None:
    """The option is repeatable."""
    result = run(*FITS, "--keep-free", "10x10@0,80", "--keep-free", "10x10@0,-80mm")
    assert (result.exit_code, result.stderr) == (0, "")


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437", "utf-8", "utf-8:strict"])
@pytest.mark.parametrize("form", ["text", "checklist"])
def test_any_encoding_of_the_terminal_will_do(encoding: str, form: str) -> None:
    """What the terminal lacks is written plainer, never a fault."""
    done = process(
        "check", "Café “Φάρος” – tides", "--font", "Source Serif 4", "--width", "30",
        "--height", "200", "--format", form, env={"PYTHONIOENCODING": encoding},
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode(encoding.partition(":")[0])


def test_json_is_utf_8_in_any_terminal() -> None:
    """Scripts read the same bytes everywhere."""
    words = ("check", "Café", "--width", "25", "--height", "200", "--format", "json")
    everywhere = {
        process(*words, env=env).stdout
        for env in (
            {"PYTHONIOENCODING": "ascii"},
            {"PYTHONIOENCODING": "utf-8"},
            {"LC_ALL": "C", "PYTHONIOENCODING": "latin-1"},
        )
    }
    assert len(everywhere) == 1
    assert json.loads(everywhere.pop())["title"] == "Café"


@pytest.mark.skipif(os.name == "nt", reason="a shell of Unix")
@pytest.mark.parametrize(("words", "code"), [(FITS, 0), (TOO_LONG, 1)])
@pytest.mark.parametrize("form", ["text", "json", "checklist"])
@pytest.mark.parametrize("end", ["| head -c 0", ">&-", "> /dev/null"])
def test_a_reader_that_has_gone_changes_nothing(
    words: tuple[str, ...], code: int, form: str, end: str
) -> None:
    """Quiet, and the exit code is still the verdict."""
    script = f'"$@" {end}; exit ${{PIPESTATUS[0]}}'
    done = subprocess.run(
        ["bash", "-c", script, "sh", sys.executable, "-m", "spinefit", *words, "--format", form],
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (code, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full disk to be had")
@pytest.mark.parametrize("words", [FITS, ("--help",), ("fonts",)])
def test_a_full_disk_is_said(words: tuple[str, ...]) -> None:
    """An answer that cannot be written is no answer."""
    with Path("/dev/full").open("wb") as full:
        done = process(*words, stdout=full, stderr=subprocess.PIPE, capture_output=False)
    assert done.returncode == 2
    assert done.stderr.startswith(b"spinefit: ") and done.stderr.count(b"\n") == 1


@pytest.mark.skipif(os.name == "nt", reason="bytes on the command line")
def test_bytes_that_are_no_text_are_refused() -> None:
    """A title in another encoding than the terminal's."""
    done = subprocess.run(
        [sys.executable.encode(), b"-m", b"spinefit", b"check", b"Caf\xe9", b"--width", b"9"],
        env={**os.environ, "LC_ALL": "C.UTF-8"},
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"bytes that are no text" in done.stderr and done.stderr.count(b"\n") == 1
