"""Where each letter goes: the handbook's count, the font's and the tools' widths, one pitch."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from spinefit import Job, Lettering, Panel, Spine
from spinefit.catalogue import font_rows, fonts_folder
from spinefit.drawing import worksheet_places
from spinefit.drawing.worksheet_places import Worksheet, worksheet_of
from spinefit.errors import FieldError
from spinefit.job.tools import read_tools
from spinefit.pipeline import answer
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Case, Orientation, Reading

BRASS = str(Path(__file__).parents[2] / "shared" / "tools" / "reading-room-brass.toml")
HB_SHAPE = shutil.which("hb-shape")
BACK = Spine(width_mm=40, height_mm=200)


def sheet(
    title: str,
    *,
    spine: Spine = BACK,
    equal: bool = False,
    pitch_mm: float | None = None,
    method: str = "hand-letters",
    **lettering: object,
) -> Worksheet:
    """The worksheet of a title on one line unless otherwise said."""
    said = Lettering(**{"lines": 1, "orientation": Orientation.TRANSVERSE, **lettering})  # type: ignore[arg-type]
    found = answer(Job(title=title, spine=spine, lettering=said, method=method))
    return worksheet_of(found, equal=equal, pitch_mm=pitch_mm)


def test_a_space_counts_and_the_middle_is_the_w() -> None:
    """Source: Cockerell, Bookbinding and the Care of Books, ch. XV: THE WORKS has nine places."""
    (line,) = sheet("THE WORKS", size_pt=10).lines
    assert (line.places, line.middle) == (9, 5)
    assert next(one.letter for one in line.letters if one.number == line.middle) == "W"


def test_of_ten_letters_the_middle_falls_between_two() -> None:
    """CORIOLANUS: between the fifth, O, and the sixth, L."""
    (line,) = sheet("CORIOLANUS", size_pt=10).lines
    assert (line.places, line.middle) == (10, 5.5)
    assert [one.letter for one in line.letters if abs(one.number - line.middle) < 1] == ["O", "L"]


def test_at_one_pitch_the_middle_letter_stands_on_the_middle() -> None:
    """The handbook's count, taken literally: both sides the same, letter by letter."""
    (line,) = sheet("THE WORKS", size_pt=10, equal=True).lines
    places = [one.from_middle_mm for one in line.letters]
    assert places[4] == pytest.approx(0, abs=1e-9)
    assert places == pytest.approx([-place for place in reversed(places)])


def test_one_pitch_is_the_least_that_keeps_letters_apart() -> None:
    """As tight as the widest two neighbours allow, to a hundredth of a millimetre."""
    found = sheet("TIMES WWII", size_pt=10, equal=True)
    (line,) = found.lines
    assert found.pitch_mm is not None and line.least_gap_mm is not None
    steps = {
        round(b.from_middle_mm - a.from_middle_mm, 6)
        for a, b in zip(line.letters, line.letters[1:], strict=False)
    }
    assert steps == {round(found.pitch_mm, 6)}
    assert found.least_gap_mm - 1e-9 <= line.least_gap_mm < found.least_gap_mm + 0.011


def test_wide_letters_push_and_narrow_ones_draw_in() -> None:
    """M and W take more than a place, I and J less: by real widths the count is put right."""
    (line,) = sheet("MWIJI", size_pt=12).lines
    assert line.middle == 3
    assert line.middle_from_middle_mm > 0.5  # the wide ones stand to its left
    for letter in line.letters:
        assert letter.from_middle_mm != pytest.approx(letter.by_count_mm, abs=0.01)


@pytest.mark.skipif(
    HB_SHAPE is None and not os.environ.get("CI"), reason="there is no hb-shape here"
)
@pytest.mark.parametrize("title", ["THE WORKS", "AVALON TOWN", "Wrackness Light"])
def test_places_are_those_of_hb_shape(title: str) -> None:
    """Advances and extents from HarfBuzz's own tool, added up here, to 0.01 mm."""
    found = sheet(title, font="EB Garamond", size_pt=18, orientation=Orientation.LONGITUDINAL)
    (line,) = found.lines
    row = next(one for one in font_rows() if one.name == "EB Garamond")
    assert HB_SHAPE is not None
    axes = ",".join(f"{tag}={value:g}" for tag, value in row.axes)
    command = [HB_SHAPE, "--output-format=json", "--show-extents", "--language=en"]
    command += [f"--variations={axes}"] if axes else []
    command += [str(fonts_folder() / row.file), title]
    glyphs = json.loads(subprocess.run(command, capture_output=True, check=True).stdout)
    pen, middles, edges = 0, [], []
    for glyph in glyphs:
        if glyph["w"]:
            left = pen + glyph["dx"] + glyph["xb"]
            middles.append(left + glyph["w"] / 2)
            edges += [left, left + glyph["w"]]
        pen += glyph["ax"]
    middle, mm_a_unit = (min(edges) + max(edges)) / 2, mm_from_pt(18) / 1000
    struck = [one.from_middle_mm for one in line.letters if not one.is_space]
    assert len(struck) == len(middles)
    for ours, theirs in zip(struck, middles, strict=True):
        assert ours == pytest.approx((theirs - middle) * mm_a_unit, abs=0.01)


def test_places_of_tools_are_their_widths_and_gaps() -> None:
    """Added up from the figures of the file: face, gap, face; a word space between words."""
    tools = read_tools(BRASS)
    found = sheet("LOW TIDE", tools=tools, size_pt=10)
    (line,) = found.lines
    size = next(one for one in tools.sizes if one.body_pt == 10)
    widths = dict(size.widths_mm or ())
    gap_mm, space_mm = 0.5, widths["E"] + 2 * 0.5  # a space counts as a letter, here an E
    at, middles = 0.0, []
    for char in "LOW TIDE":
        if char == " ":
            at += space_mm - gap_mm
            continue
        middles.append(at + widths[char] / 2)
        at += widths[char] + gap_mm
    half = (at - gap_mm) / 2
    struck = [one.from_middle_mm for one in line.letters if not one.is_space]
    assert struck == pytest.approx([middle - half for middle in middles], abs=1e-6)
    assert line.length_mm == pytest.approx(at - gap_mm)
    assert line.least_gap_mm == pytest.approx(gap_mm)


@pytest.mark.parametrize("title", ["The Coasting Pilot", "Wrackness Harbour Commissioners"])
def test_lengths_and_feet_are_those_of_the_report(title: str) -> None:
    """The same ink and baselines as the answer, line by line."""
    found = sheet(title, lines=2, case=Case.CAPITALS)
    best = found.answer.report.layouts[found.answer.report.recommended or 0]
    assert [line.length_mm for line in found.lines] == pytest.approx(best.line_widths_mm)
    assert found.lines[0].foot_from_head_mm == pytest.approx(best.first_from_head_mm)
    steps = found.lines[0].foot_mm - found.lines[1].foot_mm
    assert steps == pytest.approx(best.baselines_mm[0] - best.baselines_mm[1])


def test_along_the_back_the_head_is_where_reading_says() -> None:
    """Descending, the first letter is nearer the head; ascending, the last one is."""
    for reading, first_nearer in ((Reading.DESCENDING, True), (Reading.ASCENDING, False)):
        (line,) = sheet("TIDES", orientation=Orientation.LONGITUDINAL, reading=reading).lines
        first, last = line.letters[0], line.letters[-1]
        assert first.from_head_mm is not None and last.from_head_mm is not None
        assert (first.from_head_mm < last.from_head_mm) == first_nearer
        assert abs(first.from_head_mm - 100) == pytest.approx(abs(first.from_middle_mm), abs=1e-9)


def test_a_pillar_has_a_letter_a_line() -> None:
    """Each on the middle, spaces left out, feet further down one by one."""
    found = sheet("LOW TIDE", orientation=Orientation.PILLAR, lines=None)
    assert [line.text for line in found.lines] == list("LOWTIDE")
    feet = [line.foot_from_head_mm or 0.0 for line in found.lines]
    assert feet == sorted(feet)
    assert all(line.letters[0].from_middle_mm == pytest.approx(0) for line in found.lines)


def test_one_pitch_may_be_too_wide_for_the_panel() -> None:
    """What fits by widths need not at one pitch: that is said, with the excess."""
    panel = Panel(width_mm=30, height_mm=20)
    said = Lettering(lines=1, size_pt=10)
    found = answer(Job(title="ILLUMINATION", panel=panel, lettering=said, method="hand-letters"))
    assert worksheet_of(found).fits
    wide = worksheet_of(found, equal=True)
    assert not wide.fits
    last = wide.lines[0].letters[-1]
    assert wide.excess_mm == pytest.approx(last.from_middle_mm + last.width_mm / 2 - 15)


def test_what_is_not_struck_letter_by_letter_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A printed label has no letters to strike, and joined letters are one block."""
    with pytest.raises(FieldError, match="not struck one by one"):
        sheet("TIDES", method="paper-label")
    monkeypatch.setattr(worksheet_places, "CURSIVE", {"Latn"})  # no bundled font joins letters
    with pytest.raises(FieldError, match="joined letters"):
        sheet("TIDES")
