"""A batch in a build: which findings count, JUnit XML, and tables without a row."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main
from tests.say.junit_form import junit_of, outcomes

HEADING = "id,title,author,call-number,width,height,size,set\n"
ROWS = {
    "fits": "a,The Harbour Light,,,40,200,,",
    "tight": "b,Tides,,,9,200,18,",
    "too small to read": "c,The Harbour Light,,,40,200,5,",
    "does not fit": "d,Harbourmastership,,,3,40,,",
    "two texts": "e,Tide Tables,M. Tregear,,30,230,,",
    "two texts, tight": "f,Tides,M. Tregear,,9,200,,",
    "at fault": "g,Knots,,,twelve,200,,",
    "no title": "h,,,,12,200,,",
}
SET = "i,Vol. One,,,20,200,,x\nj,Vol. Two,,,20,200,,x\n"
LEVELS = ((), ("--fail-on", "failure"), ("--fail-on", "warning"))


def run(*words: object, text: str | None = None) -> Result:
    return CliRunner().invoke(main, ["batch", *map(str, words), "--jobs", "1"], input=text)


def checked(row: str, *words: str) -> int:
    """The exit code of a check of the same book."""
    cells = dict(zip(HEADING.strip().split(","), row.split(","), strict=True))
    options = [
        word
        for name in ("width", "height", "size")
        if cells[name]
        for word in (f"--{name}", cells[name])
    ]
    return CliRunner().invoke(main, ["check", cells["title"], *options, *words]).exit_code


@pytest.mark.parametrize("name", ["fits", "tight", "too small to read", "does not fit", "at fault"])
@pytest.mark.parametrize("level", LEVELS, ids=str)
@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html", "junit"])
def test_a_level_counts_as_in_a_check(name: str, level: tuple[str, ...], form: str) -> None:
    """Of every form the exit code is that of the same book checked alone."""
    done = run("-", "--format", form, *level, text=f"{HEADING}{ROWS[name]}\n")
    assert done.exit_code == checked(ROWS[name], *level)


def test_the_levels_tell_the_rows_apart() -> None:
    """So that the comparison above can fail."""
    found = {name: tuple(checked(row, *level) for level in LEVELS) for name, row in ROWS.items()}
    assert found["fits"] == (0, 0, 0)
    assert found["tight"] == (0, 0, 1)
    assert found["too small to read"] == (0, 1, 1)
    assert found["does not fit"] == (1, 1, 1)


@pytest.mark.parametrize("level", LEVELS, ids=str)
def test_several_texts_and_sets_count_as_in_a_job_file(
    level: tuple[str, ...], tmp_path: Path
) -> None:
    """A table and a job file of the same texts, or volumes, end alike."""
    job = tmp_path / "job.toml"
    job.write_text(
        'width = 9\nheight = 200\n[[text]]\nrole = "title"\ntext = "Tides"\n'
        '[[text]]\nrole = "author"\ntext = "M. Tregear"\n'
    )
    text = CliRunner().invoke(main, ["check", "--job", str(job), *level])
    row = run("-", *level, text=f"{HEADING}{ROWS['two texts, tight']}\n")
    assert row.exit_code == text.exit_code == int("warning" in level)
    volumes = '[[volume]]\ntitle = "Tides"\nwidth = {0}\nheight = 200\n' * 2
    for width, codes in ((20, (0, 0, 0)), (4.6, (0, 0, 1)), (1, (1, 1, 1))):
        job.write_text(volumes.format(width))
        of_set = CliRunner().invoke(main, ["check", "--job", str(job), *level])
        rows = f"k,Tides,,,{width},200,,x\n" * 2
        assert run("-", *level, text=f"{HEADING}{rows}").exit_code == of_set.exit_code
        assert of_set.exit_code == codes[LEVELS.index(level)]


def test_what_counts_is_said_below_its_row() -> None:
    """With a level, and only then."""
    table = f"{HEADING}{ROWS['too small to read']}\n"
    texts = [run("-", "--format", "text", *level, text=table).stdout for level in LEVELS]
    assert [("too small" in text) for text in texts] == [False, True, True]


def whole() -> str:
    return f"{HEADING}{chr(10).join(ROWS.values())}\n{SET}"


def test_junit_has_a_case_for_each_row() -> None:
    """Failed by the sentence, an error with the fault, passed with the answer; a suite a table."""
    done = run("-", "--format", "junit", "--fail-on", "warning", text=whole())
    root = junit_of(done.stdout_bytes)
    assert list(outcomes(root).values()) == [
        "passed", "warning", "failure", "does not fit", "passed", "warning", "bad input",
        "bad input", "passed", "passed",
    ]  # fmt: skip
    assert list(outcomes(root)) == [
        *(f"{row.split(',')[1]} (line {n})" for n, row in enumerate(list(ROWS.values())[:-1], 2)),
        "line 9", "Vol. One (line 10)", "Vol. Two (line 11)",
    ]  # fmt: skip
    assert [suite.get("name") for suite in root] == ["standard input"]
    of = [case.get("classname") for case in root.iter("testcase")]
    assert of == ["standard input"] * 8 + ["standard input: x"] * 2
    lines = run("-", "--format", "jsonl", text=whole()).stdout.splitlines()
    for case, line in zip(root.iter("testcase"), map(json.loads, lines), strict=True):
        said = case[0].get("message", "") + (case[0].text or "")
        assert line["kept"]["id"] == said.rpartition("id: ")[2]
        if "error" in line:
            assert line["error"] in said
        else:
            assert line["report"]["answer"] in said
        if case[0].tag == "failure":
            assert "\nlevel: " in said and "\nsource: " in said


def test_junit_without_a_level_shows_warnings_and_fails_what_does_not_fit() -> None:
    root = junit_of(run("-", "--format", "junit", text=whole()).stdout_bytes)
    kinds = list(outcomes(root).values())
    assert kinds.count("passed") == 7
    assert kinds.count("does not fit") == 1
    tight = root[0].findall("testcase")[1].findtext("system-out") or ""
    assert "level: warning" in tight


def test_a_volume_that_fits_is_passed_beside_one_that_does_not() -> None:
    """What is found of a set as a whole is said of the volumes that it is about."""
    rows = "k,Tides,A. Reed,,30,230,,z\nl,Harbourmastership,A. Reed,,2,230,,z\n"
    done = run("-", "--format", "junit", "--fail-on", "failure", text=HEADING + rows)
    found = list(outcomes(junit_of(done.stdout_bytes)).values())
    assert done.exit_code == 1
    assert found == ["passed", "does not fit"]


def test_the_same_bytes_however_the_rows_are_parted(tmp_path: Path) -> None:
    """By one process or three; any title is well formed."""
    draw = random.Random(5)
    titles = ["Tides", "<&>", "]]>", "a\x1bb", "Ἡ θάλασσα", "Fog", "Quay"]
    rows = "".join(
        f"{n},{draw.choice(titles)},,,{draw.choice((3, 9, 30))},200,,{n // 7 if n % 3 else ''}\n"
        for n in range(150)
    )
    path = tmp_path / "books.csv"
    path.write_text(HEADING + rows, encoding="utf-8")
    found = [
        CliRunner().invoke(main, ["batch", str(path), "--format", "junit", "--jobs", jobs]).stdout
        for jobs in ("1", "3")
    ]
    assert found[0] == found[1]
    assert len([*junit_of(found[0]).iter("testcase")]) == 150


def test_the_ending_of_a_file_says_junit(tmp_path: Path) -> None:
    path = tmp_path / "books.xml"
    done = run("-", "--output", path, text=f"{HEADING}{ROWS['fits']}\n")
    assert (done.exit_code, done.stdout) == (0, "")
    assert outcomes(junit_of(path.read_bytes())) == {"The Harbour Light (line 2)": "passed"}


@pytest.mark.parametrize("form", ["jsonl", "junit"])
def test_a_fault_in_the_midst_is_a_line_or_the_document(form: str, tmp_path: Path) -> None:
    """What cannot be written on the way: JSON Lines go on with it, a document is that alone."""
    (tmp_path / "0002-Tides.pdf").mkdir()
    words = ("-", "--artwork", tmp_path, "--force", "--format", form)
    done = run(*words, text="title,width,height\nTides,40,200\n")
    assert done.exit_code == 2
    assert "a folder stands there" in done.stderr
    if form == "jsonl":
        (line,) = done.stdout.splitlines()
        assert json.loads(line)["error"]["value"].endswith("0002-Tides.pdf")
    else:
        assert outcomes(junit_of(done.stdout)) == {"input": "bad input"}


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html", "junit"])
@pytest.mark.parametrize("below", ["", "\n \n", "\ufeff"])
def test_a_table_without_a_row_is_bad_input(form: str, below: str, tmp_path: Path) -> None:
    """A build that checked nothing is not a build that passed; no results are begun."""
    table = below + HEADING if below == "\ufeff" else HEADING + below
    out = tmp_path / "found"
    for more in ((), ("--output", out)):
        done = run("-", "--format", form, *more, text=table)
        assert done.exit_code == 2
        assert done.stderr == (
            "spinefit: standard input: no row below the heading; give a book a line\n"
        )
        said = done.stdout
        if more and form in ("jsonl", "junit"):  # where a program looks for it
            assert said == ""
            said = out.read_text("utf-8")
            out.unlink()
        assert not list(tmp_path.iterdir())
        if form == "jsonl":
            assert json.loads(said)["error"]["where"] == "standard input"
        elif form == "junit":
            assert outcomes(junit_of(said.encode())) == {"input": "bad input"}
        else:
            assert said == ""
