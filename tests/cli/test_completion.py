"""What a shell is told while somebody types: by the protocol, and in the shells themselves."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.catalogue import font_rows, methods
from spinefit.cli.main import _COMMANDS, main
from spinefit.job.fields import FIELDS

ROOT = Path(__file__).parents[2]
SCRIPT = """
import json, sys
from spinefit.cli.main import main
try:
    main(sys.argv[1:])
except SystemExit:
    pass
sys.stderr.write(json.dumps(sorted({name.partition(".")[0] for name in sys.modules})))
"""


def offered(line: str, shell: str = "bash") -> list[str]:
    """What is said of the last word of a command line, kind and value of each."""
    asked = {
        "_SPINEFIT_COMPLETE": f"{shell}_complete",
        "COMP_WORDS": line,
        "COMP_CWORD": str(line.count(" ")),
    }
    done = CliRunner().invoke(main, [], env=asked)
    assert (done.exit_code, done.stderr) == (0, "")
    return [one for one in done.stdout.splitlines() if one]


def values(line: str) -> list[str]:
    """The words offered, none of them files."""
    found = offered(line)
    assert all(one.startswith("plain,") for one in found)
    return [one.partition(",")[2] for one in found]


def test_every_command_is_offered_and_none_of_them_loaded() -> None:
    """By its name, with what it is for."""
    assert values("spinefit ") == list(_COMMANDS)
    assert values("spinefit wo") == ["worksheet"]
    assert "Where each hand letter is struck, with a pattern." in offered("spinefit w", "zsh")
    assert values("spinefit --v") == ["--version"]


@pytest.mark.parametrize("command", ["check", "batch", "sheet", "worksheet", "recess"])
def test_every_option_of_a_job_is_offered(command: str) -> None:
    """By each command that takes one."""
    assert {f"--{field.name}" for field in FIELDS} <= set(values(f"spinefit {command} --"))


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("check --back ", ["flat", "rounded"]),
        ("check --back R", ["rounded"]),
        ("check --back=r", ["--back=rounded"]),
        ("check --shape l", ["lozenge", "long-and-short"]),
        ("check --format ", ["text", "json", "checklist", "junit"]),
        ("check --fail-on ", ["warning", "failure"]),
        ("check --method pap", ["paperback-cover", "paper-label"]),
        ("check --market n", ["NA", "NC", "NE", "NF", "NG", "NI", "NL", "NO", "NP", "NR",
                             "NU", "NZ"]),
        ("check --language d", ["da", "de"]), ("check --language zh", ["zh-Hans", "zh-Hant"]),
        ("check --font ci", ["Cinzel", "Cinzel-Bold"]),
        ("check --font eb-garamond-", ["EB-Garamond-Bold"]),
        ("check --width ", []), ("check ", []),
        ("check Tides --recess --c", None),
        ("sheet --cases as-typed,c", ["as-typed,capitals"]),
        ("sheet --paper a", ["A5", "A4", "A3", "A2", "A1"]),
        ("worksheet --paper l", ["Letter"]),
        ("batch --format h", ["html"]),
        ("methods hand", ["hand-letters"]),
        ("markets g", None),
        ("check --nonsense 3 --back ", ["flat", "rounded"]),
        ("nonsense --back ", []),
    ],
)  # fmt: skip
def test_what_an_option_may_be_is_offered(line: str, found: list[str] | None) -> None:
    """Whatever the case of what was typed; None for a list longer than this."""
    said = values(f"spinefit {line}")
    assert said == found if found is not None else len(said) > 3


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("check --job ", "file"), ("check --tools t", "file"), ("check --method-file ", "file"),
        ("check --font ./", "file"), ("check --drawing ", "file"), ("check --house ", "file"),
        ("batch ", "file"), ("batch --artwork ", "dir"), ("sheet --titles ", "file"),
        ("check --job-files ", "file"), ("check --job-files a.toml jobs/", "file"),
        ("recess --output ", "file"), ("methods --method-file ", "file"),
    ],
)  # fmt: skip
def test_files_are_left_to_the_shell(line: str, kind: str) -> None:
    """Which knows them."""
    (found,) = offered(f"spinefit {line}")
    assert found.startswith(f"{kind},")


def test_bash_parts_words_at_an_equals_sign() -> None:
    """And is told the value alone."""
    done = CliRunner().invoke(main, [], env={
        "_SPINEFIT_COMPLETE": "bash_complete", "COMP_CWORD": "4",
        "COMP_WORDS": "spinefit\ncheck\n--method\n=\nhand",
    })  # fmt: skip
    assert done.stdout == "plain,hand-letters\n"


def test_the_fonts_and_methods_offered_are_understood() -> None:
    """Each as it is offered, without spaces that a shell would part."""
    from spinefit.shaping.fontfile import open_font

    fonts = values("spinefit check --font ")
    assert [open_font(one).name for one in fonts] == [row.name for row in font_rows()]
    assert not any(" " in one for one in fonts)
    assert values("spinefit check --method ") == list(methods())


def test_a_shell_without_a_script_is_refused() -> None:
    """In one line."""
    done = CliRunner().invoke(main, [], env={"_SPINEFIT_COMPLETE": "ash_source"})
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == (
        "spinefit: _SPINEFIT_COMPLETE: no completion for that shell: 'ash_source'; give "
        "bash_source, zsh_source or fish_source\n"
    )


def test_no_engine_is_loaded_for_it() -> None:
    """A shell waits for the answer."""
    asked = {
        "_SPINEFIT_COMPLETE": "bash_complete", "COMP_WORDS": "spinefit check --method ",
        "COMP_CWORD": "3",
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, check=True, text=True,
        env={**os.environ, **asked},
    )  # fmt: skip
    assert "plain,paper-label" in done.stdout
    heavy = {"uharfbuzz", "shapely", "numpy", "fontTools", "icu4py", "rich", "reportlab"}
    assert not heavy & set(json.loads(done.stderr))


@pytest.fixture
def shell_path(tmp_path: Path) -> Iterator[dict[str, str]]:
    """An environment in which ``spinefit`` is a command."""
    command = tmp_path / "bin" / "spinefit"
    command.parent.mkdir()
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m spinefit "$@"\n')
    command.chmod(0o755)
    path = f"{command.parent}{os.pathsep}{os.environ['PATH']}"
    yield {**os.environ, "PATH": path, "PYTHONPATH": str(ROOT)}


def test_bash_takes_the_script_and_its_answers(shell_path: dict[str, str]) -> None:
    """The function that the script gives ``complete``, called as bash calls it."""
    asking = """
        eval "$(_SPINEFIT_COMPLETE=bash_source spinefit)"
        complete -p spinefit
        compopt() { echo compopt "$@"; }
        COMP_WORDS=(spinefit check --method pap); COMP_CWORD=3
        $(complete -p spinefit | sed 's/.*-F \\([^ ]*\\) .*/\\1/') spinefit
        printf '%s\\n' "${COMPREPLY[@]}"
        COMPREPLY=(); COMP_WORDS=(spinefit check --job ""); COMP_CWORD=3
        _spinefit_completion spinefit
    """
    done = subprocess.run(
        ["bash", "--norc", "-c", asking], capture_output=True, text=True, env=shell_path, check=True
    )
    first, *others = done.stdout.splitlines()
    assert first == "complete -o nosort -F _spinefit_completion spinefit"
    assert others == ["paperback-cover", "paper-label", "compopt -o default"]


@pytest.mark.skipif(shutil.which("fish") is None, reason="there is no fish here")
def test_fish_takes_the_script_and_its_answers(shell_path: dict[str, str]) -> None:
    """As ``complete`` of fish says what it would offer, the option before a joined value."""
    asking = """
        _SPINEFIT_COMPLETE=fish_source spinefit | source
        complete -C "spinefit check --method pap"
        complete -C "spinefit check --format=ch"
    """
    done = subprocess.run(
        ["fish", "-c", asking], capture_output=True, text=True, env=shell_path, check=True
    )
    assert done.stdout.splitlines() == [
        "paperback-cover\tprinted paperback cover", "paper-label\tprinted paper label",
        "--format=checklist",
    ]  # fmt: skip
