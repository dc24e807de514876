"""Bad input of every kind: one line on standard error, nothing on standard output, code 2."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

import spinefit
from spinefit.cli.main import main
from spinefit.errors import one_line

TITLE = "The Harbour Light"
BACK = ("--width", "25mm", "--height", "200mm")

# Each: what a person typed after ``spinefit check``, and a part of the line they should read.
BAD: dict[str, tuple[tuple[str, ...], str]] = {
    # lengths
    "thousands": ((TITLE, "--width", "9,500"), "write 9.500 or 9500"),
    "wrong unit": ((TITLE, "--width", "9mn"), "did you mean 'mm'?"),
    "metres": ((TITLE, "--width", "0.2m"), "use mm, cm, in or pt"),
    "feet": ((TITLE, "--width", "1ft"), "use mm, cm, in or pt"),
    "negative width": ((TITLE, "--width", "-9"), "cannot be negative"),
    "no width": ((TITLE, "--width", ""), "no length given"),
    "zero width": ((TITLE, "--width", "0"), "--width"),
    "zero height": ((TITLE, "--width", "9", "--height", "0"), "--height"),
    "nan": ((TITLE, "--width", "nan"), "not a length"),
    "infinite": ((TITLE, "--width", "inf"), "not a length"),
    "vast": ((TITLE, "--width", "99999999"), "longer than 10 m"),
    "a width of metres": ((TITLE, "--width", "5000mm"), "--width"),
    "over nothing": ((TITLE, "--width", "1/0in"), "a fraction over nothing"),
    "other figures": ((TITLE, "--width", "９mm"), "not a length"),
    "an option for a value": (("--width", "--height", "200"), "--width"),
    "range backwards": ((TITLE, "--width", "15..13mm"), "runs backwards"),
    "a range from a dash": ((TITLE, "--width", "13–"), "13..15mm"),
    # sizes, numbers, counts
    "size of nothing": ((TITLE, *BACK, "--size", "0"), "--size"),
    "size in words": ((TITLE, *BACK, "--size", "large"), "not a size"),
    "vast size": ((TITLE, *BACK, "--size", "20000"), "--size"),
    "tracking in words": ((TITLE, *BACK, "--tracking", "loose"), "not a number"),
    "vast tracking": ((TITLE, *BACK, "--tracking", "99999"), "--tracking"),
    "leading of nothing": ((TITLE, *BACK, "--leading", "0"), "--leading"),
    "no lines": ((TITLE, *BACK, "--lines", "0"), "--lines"),
    "half a line": ((TITLE, *BACK, "--lines", "1.5"), "give any, or a whole number"),
    "more lines than words": ((TITLE, *BACK, "--lines", "9"), "--lines"),
    "fewer lines than forced": (("The / Light", *BACK, "--lines", "1"), "--lines"),
    # labels
    "old lettering without a height": ((TITLE, *BACK, "--old-lettering", "28"), "28x12@35mm"),
    "old lettering without its distance": ((TITLE, *BACK, "--old-lettering", "28x12@"), "28x12mm"),
    "old lettering of nothing": ((TITLE, *BACK, "--old-lettering", "0x12"), "--old-lettering"),
    "an overlap alone": ((TITLE, *BACK, "--overlap", "2"), "--old-lettering WxH"),
    "a thickness without a label": ((TITLE, *BACK, "--label-thickness", "0.2"), "is no label"),
    # choices
    "orientation": ((TITLE, *BACK, "--orientation", "taransverse"), "did you mean 'transverse'?"),
    "reading": ((TITLE, *BACK, "--reading", "across"), "choose from auto, descending, ascending"),
    "case": ((TITLE, *BACK, "--case", "upper"), "as-typed, capitals, small-capitals"),
    "market": ((TITLE, *BACK, "--market", "UK"), "the United Kingdom is GB"),
    "market in words": ((TITLE, *BACK, "--market", "Frence"), "--market"),
    "language": ((TITLE, *BACK, "--language", "English!"), "BCP 47"),
    "method": ((TITLE, *BACK, "--method", "paperback"), "did you mean 'paperback-cover'?"),
    "a slip in a method": (
        (TITLE, *BACK, "--method", "leather labl"), "did you mean 'leather-label'?",
    ),
    "no method file": ((TITLE, *BACK, "--method-file", "no-such.toml"), "no such method file"),
    "a folder for methods": ((TITLE, *BACK, "--method-file", "."), "a folder, not a method file"),
    "an empty drawer": ((TITLE, *BACK, "--sizes", ""), "--sizes"),
    "a size twice": ((TITLE, *BACK, "--sizes", "10,12,10"), "a size given twice"),
    "a drawer with nothing": ((TITLE, *BACK, "--sizes", "0,12"), "more than nothing"),
    "a drawer of nan": ((TITLE, *BACK, "--sizes", "10,nan"), "not a size"),
    "a drawer in mm": ((TITLE, *BACK, "--sizes", "3,4mm"), "use pt, pica or didot"),
    "a drawer of two points": ((TITLE, *BACK, "--sizes", "10didot,12"), "unit of the last size"),
    "a vast drawer": ((TITLE, *BACK, "--sizes", "10,9999"), "--sizes"),
    "a slip in a point": ((TITLE, *BACK, "--size", "14didt"), "did you mean 'didot'?"),
    "a length in didot": ((TITLE, "--width", "14didot"), "use mm, cm, in or pt"),
    "font": ((TITLE, *BACK, "--font", "EB Garamont"), "EB Garamond"),
    "font of no file": ((TITLE, *BACK, "--font", "no/such.ttf"), "--font"),
    "font without letters": (("灯台", "--font", "EB Garamond", *BACK), "U+706F"),
    "format": ((TITLE, *BACK, "--format", "jsn"), "did you mean 'json'?"),
    # the back
    "no back": ((TITLE,), "--width"),
    "height alone": ((TITLE, "--height", "200"), "--width"),
    "foot past the head": ((TITLE, *BACK, "--foot", "250"), "--foot"),
    "ends meet": ((TITLE, *BACK, "--foot", "120", "--head", "120"), ""),
    "edges meet": ((TITLE, *BACK, "--edge", "13"), "--edge"),
    "rise of nothing": ((TITLE, *BACK, "--rise", "0"), "--rise"),
    "rise past a half circle": ((TITLE, *BACK, "--rise", "13"), "--rise"),
    "radius too small": ((TITLE, *BACK, "--radius", "12"), "--radius"),
    "arc shorter than the width": ((TITLE, *BACK, "--arc", "20"), "--arc"),
    "arc past a half circle": ((TITLE, *BACK, "--arc", "40"), "--arc"),
    "two rounds": ((TITLE, *BACK, "--rise", "3", "--arc", "27"), "rise and arc"),
    "a flat round": ((TITLE, *BACK, "--back", "flat", "--rise", "3"), "--rise"),
    "angle": ((TITLE, *BACK, "--rise", "3", "--max-angle", "95"), "--max-angle"),
    "over boards without boards": ((TITLE, *BACK, "--measured", "over-boards"), "--board"),
    "boards too thick": (
        (TITLE, *BACK, "--measured", "over-boards", "--board", "13"), "--board",
    ),
    "bands too many": ((TITLE, *BACK, "--bands", "50"), "band"),
    "half a band": ((TITLE, *BACK, "--bands", "2.5"), "--bands"),
    "panel that is not there": ((TITLE, *BACK, "--bands", "5", "--title-panel", "7"), "panel"),
    "bands past the tail": ((TITLE, *BACK, "--bands-at", "40,80,220mm"), "band"),
    "bands out of order": ((TITLE, *BACK, "--bands-at", "80,40mm"), "out of order"),
    # a panel
    "panel and back": ((TITLE, "--panel", "20x30", "--width", "25"), "--width"),
    "panel and foot": ((TITLE, "--panel", "20x30", "--foot", "25"), "--foot"),
    "half a panel": ((TITLE, "--panel", "20"), "20x30mm"),
    "panel of nothing": ((TITLE, "--panel", "0x30"), "--panel"),
    "panel of two units": ((TITLE, "--panel", "1inx30"), "say the unit of the height too"),
    "corner of a rectangle": ((TITLE, "--panel", "20x30", "--corner", "3"), "--corner"),
    "cut without corner": ((TITLE, "--panel", "20x30", "--panel-shape", "cut"), "--corner"),
    "outline of two": ((TITLE, "--panel", "20x30", "--panel-outline", "1,2 3,4"), "outline"),
    "area without a middle": ((TITLE, *BACK, "--keep-free", "3x4@"), "--keep-free"),
    # the title
    "no title": ((), "no title given"),
    "empty title": (("", *BACK), "a title with no letters"),
    "title of spaces": ((" \u00a0 ", *BACK), "a title with no letters"),
    "title of a break": ((" / ", *BACK), "a title with no letters"),
    "an empty line": (("Light /  / Harbour", *BACK), "TITLE"),
    "a line break": (("The\nLight", *BACK), "U+000A"),
    "an escape": (("The \x1b[2J Light", *BACK), "U+001B"),
    "two titles": (("The", "Light", *BACK), "in quotes"),
    "a title of a book's length": (("Light " * 2000, *BACK), "too long"),
    "a dash at its head": (("-ism", *BACK), "goes last, after --"),
    # the command line
    "unknown option": ((TITLE, "--widht", "9"), "did you mean --width?"),
    "option without value": ((TITLE, "--width"), "--width: lacks its value"),
    "no job file": (("--job", "no-such.toml"), "no such job file"),
    "a folder for a job": (("--job", "."), "a folder, not a job file"),
    "empty job file name": (("--job", ""), "no job file named"),
}  # fmt: skip


def said_of_fault(written: str, form: str) -> str | None:
    """What the error object, or the error of a test case, says; None where there is none."""
    if form == "json":
        found = json.loads(written)
        Draft202012Validator(spinefit.schema("error")).validate(found)
        parts = found["error"]
        for part in ("what", "where", "remedy"):
            assert one_line(parts[part] or "") in parts["text"]
        return str(parts["text"])
    if form == "junit":
        (error,) = Tree.fromstring(written).findall("testsuite/testcase/error")
        return error.get("message")
    return None


@pytest.mark.parametrize("name", BAD)
@pytest.mark.parametrize("form", ["text", "json", "junit"])
def test_bad_input_is_one_line(name: str, form: str) -> None:
    """And where a program is to read the answer, the same fault in the form it asked for."""
    words, said = BAD[name]
    extra = () if "--format" in words or words[-1:] == ("--width",) else ("--format", form)
    result = CliRunner().invoke(main, ["check", *words, *extra])
    assert result.exit_code == 2, result.output
    assert said_of_fault(result.stdout, form if extra else "text") in (None, result.stderr[10:-1])
    assert (result.stdout == "") == (form == "text" or not extra)
    assert result.stderr.startswith("spinefit: ")
    assert result.stderr.count("\n") == 1
    assert result.stderr.rstrip("\n").isprintable()
    assert said in result.stderr
    assert "internal fault" not in result.stderr


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("check", "--format", "json"), True),
        (("check", "--format=JSON", "--widht", "9"), True),
        (("check", "--format", "text", "--format", "json"), True),
        (("check", "--format", "json", "--format", "text"), False),
        (("check", "--format", "json", "Tides", "--width"), True),
        (("check", "Tides", "--width", "x", "--", "--format", "json"), False),
        (("check", "Tides", "--format"), False),
        (("check", "Tides", "--format", "jsonl"), False),
        (("check", "Tides", "--fromat", "json"), False),
        (("batch", "no-such.csv", "--format", "jsonl"), True),
        (("batch", "no-such.csv", "--format", "json"), False),
        (("sheet", "Tides", "--format", "json"), True),
        (("worksheet", "--format", "json"), True),
        (("recess", "Tides", "--format", "json"), False),
        (("fonts", "--weight", "x", "--format", "json"), True),
        (("markets", "UK", "--format", "json"), True),
        (("methods", "leather", "--format", "json"), True),
        (("chekc", "--format", "json"), False),
        (("--format", "json"), False),
    ],
)
def test_a_fault_is_told_as_json_where_it_was_asked_for(words, told: bool) -> None:
    """Of every command that writes it, as far as the form can be made out."""
    result = CliRunner().invoke(main, list(words))
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert bool(result.stdout) == told
    if told:
        assert said_of_fault(result.stdout, "json") == result.stderr[10:-1]


@pytest.mark.parametrize(
    "text",
    [
        "title = 'Light'\nwidth = true\n",
        "title = 'Light'\nwidth = [9]\n",
        "title = 'Light'\nwidth = 2026-01-01\n",
        "title = 'Light'\nwidth = nan\n",
        "title = 'Light'\nwidth = inf\n",
        "title = 'Light'\nwidth = 99999999999999999999999999\n",
        "title = ['Light']\nwidth = 9\n",
        "title = ''\nwidth = 9\n",
        "width = 9\n",
        "title = 'Light'\nwidth = 9\ncolour = 'red'\n",
        "title = 'Light'\n[back]\nwidth = 9\n",
        "title = 'Light'\nwidth = 9\nbands = 2.0\n",
        "title = 'Light'\nwidth = 9\nmarket = 44\n",
        "title = 'Light'\nwidth = 9\nheight = 50\nfoot = 60\n",
        "title = 'Light",
        "[[[",
        "\0",
    ],
)
def test_a_bad_job_file_is_one_line(tmp_path: Path, text: str) -> None:
    """With the file named in it."""
    file = tmp_path / "book.toml"
    file.write_text(text)
    result = CliRunner().invoke(main, ["check", "--job", str(file)])
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(f"spinefit: {file}")
    assert result.stderr.count("\n") == 1
    assert "internal fault" not in result.stderr


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["check"],
        ["chekc", TITLE],
        ["check", TITLE, "--width", "9,500"],
        ["check", TITLE, *BACK, "--foot", "250"],
        ["check", TITLE, *BACK, "--font", "no/such.ttf"],
        ["check", TITLE, "--job", "/"],
        ["markets", "XX"],
        ["fonts", "--format", "xml"],
        ["methods", "leather"],
    ],
)
def test_bad_input_is_one_line_from_a_process_too(words: list[str]) -> None:
    """The process itself ends with 2, without a traceback."""
    done = subprocess.run(
        [sys.executable, "-m", "spinefit", *words], capture_output=True, check=False, text=True
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr
    if words:  # without a word there is the help instead of a line
        assert done.stderr.startswith("spinefit: ") and done.stderr.count("\n") == 1
