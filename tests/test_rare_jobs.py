"""Jobs that are seldom asked for, through the command line: what is said of them."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from spinefit.say.checklist import plain_task
from spinefit.say.page import Bar
from tests.fuzz.judging import faults, outcome

TOOLS = Path(__file__).parents[1] / "shared" / "tools" / "reading-room-brass.toml"
BACK = ("--width", "40mm", "--height", "200mm")
LABEL = ("--method", "leather-label")


def report(*words: str) -> dict[str, Any]:
    """The report of a check, which is an answer and whole."""
    done = outcome(["check", *words, "--format", "json"])
    assert done.code in (0, 1), done.err
    assert not faults(["check"], done)
    found: dict[str, Any] = json.loads(done.out)
    return found


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--panel", "30x40", "--recess", "--stiffener", "1", *LABEL), "stiffener is of the back"),
        ((*BACK, "--recess", "--stiffener", "1", "--board-thickness", "2", *LABEL),
         "a stiffener and a board for one recess"),
        ((*BACK, "--recess", "--label-thickness", "11", *LABEL), "11 mm is no label"),
        ((*BACK, "--rise", "4", "--label-thickness", "11", *LABEL), "11 mm is no label"),
        (("--width", "40", "--recess", *LABEL), "the height of the label is not known"),
        ((*BACK, "--tools", str(TOOLS), "--sizes", "12"), "sizes beside tools"),
        (("--width", "30", "--keep-free", "3x3@0,0"), "--height: "),
        ((*BACK, "--font", " "), "--font: nothing given"),
        ((*BACK, "--market", "\u00a0"), "--market: nothing given"),
    ],
)  # fmt: skip
def test_what_does_not_go_together(words: tuple[str, ...], said: str) -> None:
    done = outcome(["check", "Tides", *words])
    assert (done.code, done.out) == (2, "")
    assert not faults(["check"], done)
    assert said in done.err


def test_a_label_on_a_board_that_reads_along_it_is_as_high_as_its_line_is_long() -> None:
    """The label is turned with its lettering, and so are its sides."""
    sides = {}
    for way in ("transverse", "longitudinal"):
        found = report("The Harbour Light", "--front-board", "135x215mm", "--lines", "1",
                       "--size", "18", "--orientation", way, *LABEL)  # fmt: skip
        board = found["front_board"]
        sides[way] = (board["label_width_mm"], board["label_height_mm"])
    assert sides["transverse"] == sides["longitudinal"][::-1]
    assert sides["transverse"][0] > 2 * sides["transverse"][1]


def test_a_pillar_too_tall_for_a_screen_is_shown_as_a_line() -> None:
    short, long = (
        outcome(["check", title, "--width", "30", "--height", "900", "--orientation", "pillar",
                 "--picture"]).out
        for title in ("Tides", "Registers of the Harbour Light and of the Coast")
    )  # fmt: skip
    assert "Registers of the Harbour Light" in " ".join(long.split())
    assert "It fits in upright letters one under another" in " ".join(short.split())
    assert len(long.splitlines()) < len(short.splitlines()) + 30


def test_a_label_too_small_for_its_pressing_piece_is_warned_of() -> None:
    """Where trimming would leave nothing of the piece, and only there."""
    tight = ("--recess", "--covering-thickness", "0", "--recess-clearance", "0", *LABEL)
    for height, is_warned_of in (("1.9", True), ("2.2", False)):
        found = report("Ox", "--panel", f"40x{height}mm", *tight)
        assert (found["recess"]["pressing_piece_mm"]["height"] <= 0) == is_warned_of
        assert ("recess-small" in [one["topic"] for one in found["findings"]]) == is_warned_of


@pytest.mark.parametrize("mode", ["plain", "hyphen"])
def test_a_long_word_may_be_broken_on_a_narrow_label(mode: str) -> None:
    """Only where that was allowed; the broken setting is named, and larger."""
    words = ("Seezeichenverzeichnis", "--panel", "24x60mm", "--language", "de", *LABEL)
    whole, broken = report(*words), report(*words, "--break-words", mode)
    assert max(one["largest_pt"] for one in broken["layouts"]) >= max(
        one["largest_pt"] for one in whole["layouts"]
    )
    assert all(len(one["lines"]) == 1 for one in whole["layouts"])
    lines = [one["lines"] for one in broken["layouts"] if len(one["lines"]) > 1]
    assert lines
    assert all(line[0].endswith("-") == (mode == "hyphen") for line in lines)


@pytest.mark.parametrize("line", ["", "nonsense", "- x] Tides", "* [ ] Tides"])
def test_what_is_no_line_of_a_checklist_is_refused(line: str) -> None:
    with pytest.raises(ValueError, match="no task"):
        plain_task(line)


@pytest.mark.parametrize("total", [None, 1000])
def test_a_bar_on_a_terminal_says_how_far_the_work_is(total: int | None) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    stream = Terminal()
    with Bar(total, stream) as bar:
        bar.show(320, 500)
    assert "320 rows" in stream.getvalue()
    assert "a second" in stream.getvalue()


def test_a_disagreement_of_the_engine_is_told_and_no_answer_given(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Were the arithmetic ever wrong, no binder would cut by it."""
    from spinefit.geometry import panel_polygons

    true_one = panel_polygons.verify_fit
    monkeypatch.setattr(
        panel_polygons, "verify_fit", lambda *a, **k: true_one(*a, **k)._replace(inside=False)
    )
    done = outcome(["check", "Tides", *BACK])
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith("spinefit: the geometry engine disagrees about the largest size: '")
    assert done.err.count("\n") == 1


def test_a_range_of_widths_round_an_area_kept_free() -> None:
    """It is judged at its least, as that width by itself is; the finding names both ends."""
    area = ("--height", "200mm", "--keep-free", "6x6mm@0,0", "--orientation", "longitudinal")
    found = report("The Harbour Light", "--width", "20..26mm", *area)
    least = report("The Harbour Light", "--width", "20mm", *area)
    assert [one["largest_pt"] for one in found["layouts"]] == [
        one["largest_pt"] for one in least["layouts"]
    ]
    (ranged,) = [one for one in found["findings"] if one["topic"] == "width-range"]
    assert (ranged["value"], ranged["limit"]) == (20, 26)
