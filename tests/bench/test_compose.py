"""Labels with several texts, as a binder asks for them.

Every case is a whole question with the answer a finisher would give. What is asked of sizes and
spaces is Adam, Practical Bookbinding (1903), where it says so (the author a little smaller, equal
clear space on either side of a rule); how much smaller is a figure of ours.
"""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner

from spinefit import Job, Lettering, Panel, Part, check
from spinefit.cli.main import main
from spinefit.drawing.plate import plate, subject_of
from spinefit.drawing.svg import to_svg
from spinefit.layout.group import SetLine
from spinefit.pipeline import answer
from spinefit.say.model import LayoutReport, Report
from spinefit.shaping.glyphs import ink_box
from spinefit.vocabulary import Case, Measure, Orientation, Role, Ruling, Verdict
from tests.drawing.rendered import MM_A_PIXEL, Page, needs_pdftoppm, rendered

AUTHOR = Part(role=Role.AUTHOR, text="Ebenezer Quillfeather")
RULE = Part(role=Role.RULE)
TITLE = Part(role=Role.TITLE, text="The Harbour Light")
DATE = Part(role=Role.DATE, text="1889")
LABEL = Panel(width_mm=30, height_mm=40)

JOB = Path(__file__).parents[2] / "shared" / "jobs" / "label-with-author.toml"


def asked(*parts: Part, panel: Panel = LABEL, method: str = "paper-label", **said: Any) -> Job:
    return Job(parts=parts, panel=panel, method=method, lettering=Lettering(**said))


def shown(report: Report) -> LayoutReport:
    assert report.recommended is not None
    return report.layouts[report.recommended]


def test_a_paper_label_with_author_rule_title_and_date() -> None:
    """The commonest label: across, the author a little smaller (Adam), the date smaller still.

    On 30 x 40 mm the author's seven syllables take two lines, so that the title can be read from
    the shelf; a step smaller each and nothing nearer to the edge than a printer keeps.
    """
    report = check(asked(AUTHOR, RULE, TITLE, DATE), verify=True)
    layout = shown(report)
    assert report.verdict is Verdict.FITS and layout.orientation is Orientation.TRANSVERSE
    author, title, date = layout.texts
    assert 0.70 <= author.set_pt / title.set_pt <= 0.85
    assert 0.60 <= date.set_pt / title.set_pt <= 0.75 and date.set_pt >= 8
    assert title.set_pt == layout.set_pt >= 12
    assert title.lines == ("The Harbour", "Light")
    assert [text.role for text in layout.texts] == ["author", "title", "date"]
    assert layout.lines == (*author.lines, *title.lines, *date.lines)
    (rule,) = layout.rules
    assert author.baselines_mm[-1] < rule.from_head_mm < title.baselines_mm[0]
    assert rule.length_mm < layout.ink_width_mm and 0.1 <= rule.thickness_mm[0] <= 0.2
    assert "the author 11 pt" in report.answer


def test_air_above_and_below_is_no_less_than_between_the_lines() -> None:
    """A group that looked nearer to the edge than its lines to one another would seem to fall."""
    found = answer(asked(AUTHOR, RULE, TITLE, DATE), verify=True)
    one = found.judgement.shown
    gap_mm = one.layout.group.gap_em * one.size_mm
    air_mm = min(one.spare_mm.head or 0, one.spare_mm.tail or 0) + found.job.lettering.clearance_mm
    assert air_mm >= gap_mm > 0


@pytest.mark.parametrize("ruling", Ruling)
def test_the_clear_space_is_the_same_over_the_whole_label(ruling: Ruling) -> None:
    """Adam: equal clear space on either side of a rule, measured from ink to ink, as drawn.

    Between two lines of one text baselines are equally far apart, so there it is the least space.
    """
    job = asked(AUTHOR, Part(role=Role.RULE, rule=ruling), TITLE, DATE)
    group = answer(job, verify=True).judgement.shown.layout.group
    spans = [(line.number, *_ink_of(line)) for line in group.set_lines]
    spans += [(0, boxes[0][3], boxes[-1][1]) for boxes in group.rules]
    spans.sort(key=lambda span: -span[1])
    gaps: dict[bool, list[float]] = {True: [], False: []}
    for (upper, _top, bottom), (lower, top, _bottom) in pairwise(spans):
        gaps[upper == lower].append(bottom - top)
    assert len(gaps[False]) == 3 and len(gaps[True]) == 2
    assert gaps[False] == pytest.approx([group.gap_em] * 3, abs=1e-9)
    assert all(gap >= group.gap_em - 1e-9 for gap in gaps[True])
    assert min(gaps[True]) == pytest.approx(group.gap_em, abs=1e-9)


def _ink_of(line: SetLine) -> tuple[float, float]:
    """Top and bottom of a line from its outlines, in em of the leading text."""
    placed, _box = line.title.set_line(line.text, line.levels)
    boxes = [(box[1] + y, box[3] + y) for one, _x, y in placed if (box := ink_box(one))]
    top, bottom = max(top for _b, top in boxes), min(bottom for bottom, _t in boxes)
    return top * line.scale + line.baseline_em, bottom * line.scale + line.baseline_em


def test_hand_letters_take_the_author_from_the_next_drawer() -> None:
    """One drawer size down (our choice; Adam: a little smaller), no size that is not at hand."""
    layout = shown(check(asked(AUTHOR, RULE, TITLE, DATE, method="hand-letters"), verify=True))
    sizes = (8, 10, 12, 14, 18, 24)
    author, title, date = layout.texts
    assert {author.set_pt, title.set_pt, date.set_pt} <= set(sizes)
    assert sizes.index(author.set_pt) == sizes.index(title.set_pt) - 1
    assert date.set_pt < author.set_pt


def test_a_rule_of_full_measure_runs_from_margin_to_margin() -> None:
    """In millimetres, whatever the size of the letters."""
    full = Part(role=Role.RULE, measure=Measure.FULL)
    for size_pt in (8.0, 10.0):
        layout = shown(check(asked(AUTHOR, full, TITLE, size_pt=size_pt), verify=True))
        assert layout.rules[0].length_mm == pytest.approx(30 - 2 * 1.85, abs=0.001)
        assert layout.rules[0].thickness_mm == pytest.approx([0.15])


def test_the_article_does_not_stand_alone_to_be_larger() -> None:
    """Pleger: small words join a neighbour, on a label with an author too; a note says the cost."""
    full = Part(role=Role.RULE, measure=Measure.FULL)
    report = check(asked(AUTHOR, full, TITLE), verify=True)
    assert shown(report).texts[1].lines == ("The Harbour", "Light")
    assert any(finding.topic == "words-joined" for finding in report.findings)


def test_a_narrow_tall_label_is_lettered_along() -> None:
    """12 x 60 mm: a stack of lines, turned, read from head to tail in Britain."""
    job = Job(
        parts=(AUTHOR, TITLE), panel=Panel(width_mm=12, height_mm=60), method="paper-label",
        market="GB",
    )  # fmt: skip
    layout = shown(check(job, verify=True))
    assert layout.orientation is Orientation.LONGITUDINAL
    assert [len(text.lines) for text in layout.texts] == [1, 1]
    assert layout.texts[0].baselines_mm[0] < layout.texts[1].baselines_mm[0] < 12


def test_a_label_too_small_for_its_texts_does_not_fit() -> None:
    """A result and no error: with what would make it fit."""
    report = check(asked(AUTHOR, RULE, TITLE, DATE, panel=Panel(width_mm=9, height_mm=9)))
    assert report.verdict is Verdict.DOES_NOT_FIT and "does not fit" in report.answer


def test_one_job_file_serves_every_command(tmp_path: Path) -> None:
    """Check, sheet, drawings and recess of the same file; and a worksheet, in hand letters."""

    def run(*words: str) -> str:
        done = CliRunner().invoke(main, [*words, "--job", str(JOB)])
        assert done.exit_code == 0, done.output
        return done.output

    told = json.loads(run("check", "--format", "json"))
    said = told["layouts"][told["recommended"]]
    assert [text["role"] for text in said["texts"]] == ["author", "title", "date"]
    assert told["title"] == "Ebenezer Quillfeather, The Harbour Light, 1889"
    text = run("check")
    assert "Author" in text and "from the upper edge" in text and len(text.splitlines()) <= 30
    run("sheet", "--output", str(tmp_path / "sheet.pdf"))
    run("sheet", "--single", "--output", str(tmp_path / "one.svg"))
    run("sheet", "--single", "--output", str(tmp_path / "one.dxf"))
    run("recess", "--output", str(tmp_path / "recess.svg"))
    run("check", "--drawing", str(tmp_path / "label.html"))
    assert "Line 5: 1889" in run("worksheet", "--method", "hand-letters")


@needs_pdftoppm
def test_the_printed_label_in_pixels_is_as_the_report_says(tmp_path: Path) -> None:
    """Rule and ink of every line within a tenth of a millimetre from the label's upper edge."""
    pdf = tmp_path / "sheet.pdf"
    options = ["--job", str(JOB), "--size", "9", "--case", "capitals"]
    options += ["--font", "Cinzel", "--orientation", "transverse", "--leading", "1.1"]
    words = ["sheet", *options, "--output", str(pdf), "--size-count", "1", "--splits", "1"]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output
    job = asked(
        AUTHOR, RULE, TITLE, DATE, size_pt=9.0, case=Case.CAPITALS, font="Cinzel", leading_em=1.1,
        orientation=Orientation.TRANSVERSE,
    )  # fmt: skip
    one = answer(job).judgement.shown
    page = rendered(pdf.read_bytes(), tmp_path)
    left_mm, right_mm, top_mm = _label_mm(page)
    inside = page.cut(left_mm + 1, 0, right_mm - 1, page.size_mm[1] - top_mm - 1).pixels < 128
    rows = [bool(row.any()) for row in inside]
    ends = [at * MM_A_PIXEL + 1 for at, row in enumerate(rows, 1) if row and not rows[at]]
    begins = [at * MM_A_PIXEL + 1 for at, row in enumerate(rows) if row and not rows[at - 1]]
    boxes = [
        (top, bottom) for line in one.layout.group.set_lines for top, bottom in [_ink_of(line)]
    ]
    boxes += [(each[0][3], each[-1][1]) for each in one.layout.group.rules]
    for top, bottom in boxes:
        assert min(abs(begin - 20 + top * one.size_mm) for begin in begins) < 0.1
        assert min(abs(end - 20 + bottom * one.size_mm) for end in ends) < 0.1


def _label_mm(page: Page) -> tuple[float, float, float]:
    """Left and right edge of the first label, and how far its upper edge lies from the page's."""
    dark = page.pixels < 128
    tall = [at for at, column in enumerate(dark.T) if abs(_longest(column) * MM_A_PIXEL - 40) < 0.6]
    left, right = tall[0], next(at for at in reversed(tall) if at < tall[0] + 31 / MM_A_PIXEL)
    top = int(np.flatnonzero(dark[:, left])[0])
    return left * MM_A_PIXEL, (right + 1) * MM_A_PIXEL, top * MM_A_PIXEL


def _longest(column: Any) -> int:
    """The longest run of dark pixels."""
    ends = np.flatnonzero(np.diff(np.concatenate(([0], column.astype(np.int8), [0]))))
    return int(max(ends[1::2] - ends[::2], default=0))


def test_the_drawing_marks_each_baseline_by_its_text() -> None:
    """Whoever rules the label counts from its upper edge, text by text."""
    svg = to_svg(plate(subject_of(answer(asked(AUTHOR, RULE, TITLE, DATE)))))
    for words in ("author baseline", "title baseline", "date baseline", " rule, upper edge<"):
        assert words in svg
    assert "baselines 5" not in svg  # of one title: they are not equally far apart


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0)])
@pytest.mark.parametrize("size_pt", [8.5, 10.0])
def test_a_date_is_no_larger_than_the_author_beside_it(
    size_pt: float, order: tuple[int, ...]
) -> None:
    """A date keeps 8 pt at least (recalled), but an author of 7.6 pt is the most it has."""
    parts = (
        Part(role=Role.AUTHOR, text="Ida Marsh"),
        Part(role=Role.TITLE, text="The Harbour Light"),
        Part(role=Role.DATE, text="1889"),
    )
    report = check(asked(*(parts[at] for at in order), size_pt=size_pt))
    sizes = {one.role: one.set_pt for one in shown(report).texts}
    assert sizes[Role.DATE] == min(8.0, sizes[Role.AUTHOR])
    without = check(asked(*parts[1:], size_pt=size_pt))
    alone = {one.role: one.set_pt for one in shown(without).texts}
    assert alone[Role.DATE] == 8.0


@pytest.mark.parametrize(
    ("method", "size_pt", "why"),
    [
        ("paper-label", 3.0, "too small; a printed paper label needs 5 pt"),
        ("type-holder", 11.0, "not among the sizes at hand"),
    ],
)
def test_the_size_of_a_text_is_held_against_the_method_as_a_title_is(
    method: str, size_pt: float, why: str
) -> None:
    """Whoever types a size for the date gets the verdict that a title of that size gets."""
    found = check(
        asked(
            Part(role=Role.TITLE, text="The Harbour Light"),
            Part(role=Role.DATE, text="1889", size_pt=size_pt),
            method=method,
        )
    )
    assert found.verdict is Verdict.DOES_NOT_FIT
    nearest = max(found.layouts, key=lambda one: one.largest_pt)
    told = next(one.text for one in nearest.findings if one.topic == "text-size")
    assert f"The date was given {size_pt:g} pt" in told
    assert why in told
    assert nearest.set_pt < 30  # never grown for the sake of the date
    title = check(
        Job(
            title="The Harbour Light",
            panel=LABEL,
            method=method,
            lettering=Lettering(size_pt=size_pt),
        )
    )
    assert title.verdict is Verdict.DOES_NOT_FIT
