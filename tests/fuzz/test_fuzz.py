"""A few seconds of what ``run.py`` does for hours, and each thing that it has found."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz.font_cases import directory, mend
from tests.fuzz.hostile_fonts import RECIPES
from tests.fuzz.job_cases import command_line
from tests.fuzz.judging import Outcome, faults, of_sizes, outcome
from tests.fuzz.worker import SECONDS

RUN = Path(__file__).with_name("run.py")
BACK = ("--width", "22mm", "--height", "210mm")


def test_a_short_run_finds_nothing() -> None:
    """Damaged fonts and random jobs, in a process that may hang or crash."""
    words = [sys.executable, str(RUN), "--fonts", "60", "--jobs", "40", "--page", "40"]
    words += ["--seed", "7"]
    done = subprocess.run(words, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "fonts in" in done.stdout
    assert "cases: 60" in done.stdout
    assert "pages in" in done.stdout


@settings(
    max_examples=25, deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)  # fmt: skip
@given(chance=st.randoms(use_true_random=False))
def test_any_command_line_ends_as_it_should(tmp_path: Path, chance: random.Random) -> None:
    """One line and 2, or an answer; never a traceback."""
    words = command_line(chance, tmp_path, ("check", "recess", "fonts", "markets", "methods"))
    assert not faults(words, outcome(words))


# Each took from 5 seconds to minutes; what is refused is refused at once.
HELD_UP = {
    "marks": ("A" + "\u0301" * 1900 + " Light", "more than 30 marks on one letter"),
    "words of one letter": ("A " * 999, "broken in 998 places is too long"),
    "hyphens": ("-".join("a" * 900), "broken in 899 places is too long"),
}


@pytest.mark.parametrize("name", HELD_UP)
def test_a_title_that_took_minutes_is_refused(name: str) -> None:
    title, said = HELD_UP[name]
    done = outcome(["check", title, *BACK])
    assert not faults(["check", title], done)
    assert done.code == 2
    assert said in done.err


def test_a_title_of_many_words_may_not_be_broken_inside_them() -> None:
    """It fits between words in good time, and is refused where every syllable may end a line."""
    title = "Harbourmaster understanding " * 70
    assert outcome(["check", title, *BACK]).code == 1
    done = outcome(["check", title, *BACK, "--break-words", "hyphen"])
    assert done.code == 2
    assert "broken in 559 places" in done.err


def test_marks_as_unicode_allows_them_are_no_heap() -> None:
    assert outcome(["check", "A" + "\u0301" * 29 + " Light", *BACK]).code in (0, 1)


def test_the_length_of_a_title_is_seen_before_its_characters() -> None:
    """Half characters, too, are not looked for in what is too long."""
    done = outcome(["check", "\ud800" * 2001, *BACK])
    assert done.code == 2
    assert "2001 characters is too long" in done.err


def test_the_judge_sees_wrong_sizes(tmp_path: Path) -> None:
    """One byte of the units per em: warned of, until the checksums are mended."""
    damaged = bytearray(RECIPES["half-the-size"]())
    mended = bytearray(damaged)
    assert mend(mended)
    sound = bytearray(damaged)
    sound[directory(damaged)["head"][1] + 18] ^= 4
    files = {"damaged": damaged, "mended": mended, "sound": sound}
    for name, data in files.items():
        (tmp_path / f"{name}.ttf").write_bytes(data)
    words = ["check", "HIET", *BACK, "--font", "FONT", "--drawing", "DRAWING.svg"]

    def of(name: str) -> str:
        return of_sizes(words, str(tmp_path / f"{name}.ttf"), str(tmp_path / "sound.ttf"))

    assert of("sound") == "right, not warned of"
    assert of("damaged") == "wrong, warned of"
    assert of("mended") == "wrong, not warned of"


def test_the_judge_sees_faults() -> None:
    """What the fuzzer holds answers against can fail."""
    assert faults(["check"], Outcome(2, "half an answer", "spinefit: no\n"))
    assert faults(["check"], Outcome(2, "", "Traceback (most recent call last)\nboom\n"))
    assert faults(["check"], Outcome(0, '{"a": NaN}', ""))
    assert faults(["check"], Outcome(3, "", "spinefit: no\n"))
    assert not faults(["check"], Outcome(2, "", "spinefit: no\n"))
    assert SECONDS == 5.0
