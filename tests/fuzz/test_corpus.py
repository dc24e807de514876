"""Every case that the fuzzer has found is answered, or refused, with bounded work."""

from __future__ import annotations

import cProfile
import pstats
import resource
import tomllib
from pathlib import Path

import pytest

from tests.fuzz.hostile_fonts import RECIPES
from tests.fuzz.judging import faults, outcome

CORPUS = Path(__file__).with_name("corpus")
CASES = tomllib.loads((CORPUS / "cases.toml").read_text(encoding="utf-8"))
TOLD = (CORPUS / "README.md").read_text(encoding="utf-8")
REFUSED = 400_000  # calls within which a font is refused, reading and unpacking it included
MORE_MEMORY = 256 * 1024  # KiB


@pytest.mark.parametrize("case", CASES["job"], ids=lambda case: case["file"])
def test_a_job_that_took_long_is_bounded(case, tmp_path):
    words = [case.get("command", "check"), "--job", str(CORPUS / case["file"])]
    if words[0] == "sheet":
        words += ["--output", str(tmp_path / "OUT.pdf")]
    profile = cProfile.Profile()
    with profile:
        done = outcome(words)
    assert not faults(words, done, tmp_path)
    assert done.code == case["code"], done.err
    assert case.get("answered", "") in " ".join(done.out.split())
    assert pstats.Stats(profile).total_calls < case["calls"]
    assert f"`{case['file']}`" in TOLD


@pytest.mark.parametrize("case", CASES["repeated"], ids=lambda case: case["name"])
def test_a_job_file_without_measure_is_refused(case, tmp_path):
    text = "".join(case["again"].format(number) for number in range(case["times"]))
    job = tmp_path / "job.toml"
    job.write_text(case["before"] + text + case["after"])
    profile = cProfile.Profile()
    with profile:
        words = [case.get("command", "check"), "--job", str(job)]
        done = outcome([*words, *(["--output", "OUT.pdf"] if words[0] == "sheet" else [])])
    assert not faults([], done)
    assert (done.code, done.out) == (2, "")
    assert case["said"] in done.err
    stats = pstats.Stats(profile)
    assert stats.total_calls < case["calls"]
    assert stats.total_tt < 10  # one call may take a minute
    assert f"`{case['name']}`" in TOLD


@pytest.mark.parametrize("case", CASES["font"], ids=lambda case: case["name"])
def test_a_hostile_font_is_refused_in_one_line(case, tmp_path):
    path = tmp_path / "font.ttf"
    path.write_bytes(RECIPES[case["name"]]())
    words = ["check", case.get("title", "HIET"), "--width", "22", "--height", "210"]
    words += ["--font", str(path), *case.get("options", ())]
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    profile = cProfile.Profile()
    with profile:
        done = outcome(words)
    assert not faults(words, done, tmp_path)
    assert done.code == (2 if case["said"] else 0), done.err
    assert case["said"] in done.err
    assert case.get("answered", "") in " ".join(done.out.split())
    assert pstats.Stats(profile).total_calls < REFUSED or not case["said"]
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < MORE_MEMORY
    assert f"`{case['name']}`" in TOLD


def test_nothing_lies_in_the_corpus_that_is_not_replayed():
    files = {path.name for path in CORPUS.glob("*.toml")} - {"cases.toml"}
    assert files == {case["file"] for case in CASES["job"]}
    assert set(RECIPES) == {case["name"] for case in CASES["font"]}
