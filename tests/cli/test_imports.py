"""What each command loads: nothing that it does not use."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

ENGINES = {"uharfbuzz", "shapely", "numpy", "fontTools", "icu4py", "pyphen"}
SCRIPT = """
import sys, json, io
from spinefit.cli.main import main
sys.stdout = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
code = 0
try:
    main(sys.argv[1:])
except SystemExit as end:
    code = end.code or 0
names = sorted({name.partition(".")[0] for name in sys.modules})
sys.__stdout__.write(json.dumps([code, names, sorted(sys.modules)]))
"""


def loaded_by(*words: str) -> tuple[int, set[str], set[str]]:
    """Exit code, top packages and modules loaded by a command line, in a fresh process."""
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, *words], capture_output=True, check=True, text=True
    )
    code, tops, modules = json.loads(done.stdout)
    return code, set(tops), set(modules)


@pytest.mark.parametrize(
    "words",
    [["--help"], ["--version"], ["check", "--help"], ["batch", "--help"], ["sheet", "--help"]],
)
def test_help_loads_no_engine(words: list[str]) -> None:
    """Nor rich, nor the stages."""
    code, tops, modules = loaded_by(*words)
    assert code == 0
    assert not tops & (ENGINES | {"rich", "reportlab", "ezdxf"})
    assert not any(name.startswith(("spinefit.shaping", "spinefit.geometry")) for name in modules)


def test_the_groups_help_loads_no_command() -> None:
    """Of ours it needs only the errors and the way out; of others only click."""
    _, tops, modules = loaded_by("--help")
    ours = {name for name in modules if name.startswith("spinefit")}
    assert ours == {
        "spinefit",
        "spinefit.cli",
        "spinefit.cli.main",
        "spinefit.cli.output",
        "spinefit.say",
        "spinefit.say.screen",
        "spinefit.errors",
    }
    outside = {
        name
        for name in tops - set(sys.stdlib_module_names)
        if not name.startswith("_") and name not in ("spinefit", "click", "colorama")
    }
    assert not outside


@pytest.mark.parametrize(
    "words", [["fonts"], ["markets", "GB"], ["methods"], ["fonts", "--format", "json"]]
)
def test_lists_load_no_engine(words: list[str]) -> None:
    """Nothing is measured for them."""
    code, tops, _ = loaded_by(*words)
    assert code == 0
    assert not tops & ENGINES


@pytest.mark.parametrize("words", [["check", "Tides", "--width", "9,500"], ["check"]])
def test_bad_input_is_refused_before_the_engines_load(words: list[str]) -> None:
    """A slip of the finger is answered at once."""
    code, tops, _ = loaded_by(*words)
    assert code == 2
    assert not tops & ENGINES


# What a plain check uses: a module that is not here is paid for by everyone who checks a title.
USED = {
    "": "asked catalogue cli errors geometry job judgement layout pipeline say "
    "shaping tolerances units vocabulary",
    "catalogue": "fonts method_table ruling tables trade words",
    "cli": "check house jobs main options output",
    "geometry": "back fit framing gaps panel_polygons panels plane polygons rings usable",
    "job": "backs bulk checks commission fields frames house kinds lengths making model nudges "
    "paper parts places resolve resolved title values",
    "judgement": "book_findings choice custom finding judged laying offer opening reading "
    "setting_findings settings sizing text verdict verification",
    "layout": "by_lines divisions group search sense splits standing",
    "say": "answers below build filling label_model letter_sentences measured model on_need page "
    "phrasing presented screen sentences settings templates terminal thickness",
    "shaping": "breaks font_setter fontfile glyphs harfbuzz run scripts setter stack title vetting",
}
# Of the standard library, beside what the engines and click load anyway.
STANDARD = {"_blake2", "_hashlib", "_locale", "_string", "hashlib", "locale", "string", "tomllib"}
STANDARD |= {"unicodedata", "bisect", "_bisect", "dataclasses", "copy"}
PLAIN = ("check", "The Harbour Light", "--width", "9mm", "--height", "210mm", "--market", "GB")


def test_a_plain_check_loads_no_more_than_it_uses() -> None:
    """Of ours, module by module; neither writers nor slow readers of fonts."""
    code, tops, modules = loaded_by(*PLAIN)
    assert code == 0
    used = {
        ".".join(part for part in ("spinefit", room, name) if part)
        for room, names in USED.items()
        for name in names.split()
    }
    assert {name for name in modules if name.startswith("spinefit.")} <= used
    unwanted = {"reportlab", "jinja2", "fontTools", "pyphen", "watchfiles", "platformdirs"}
    assert not tops & unwanted


def test_a_plain_check_adds_little_of_the_standard_library() -> None:
    """To what HarfBuzz, shapely, rich and click load themselves."""
    libraries = "sys, json, uharfbuzz, shapely, rich.console, rich.table, click"
    engines = f"import {libraries}; print(json.dumps([*sys.modules]))"
    done = subprocess.run([sys.executable, "-c", engines], capture_output=True, check=True)
    loaded = {name.partition(".")[0] for name in json.loads(done.stdout)}
    _, tops, _ = loaded_by(*PLAIN)
    assert (tops & set(sys.stdlib_module_names)) - loaded - {"io", "json"} <= STANDARD
