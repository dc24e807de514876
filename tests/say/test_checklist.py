"""The report as a Markdown task list."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from spinefit import Job, Panel, Part, check
from spinefit.say.checklist import escaped, to_markdown
from spinefit.say.model import FindingReport, LimitReport, MeasurementReport, Report
from spinefit.vocabulary import Frame, Level, Reading, Role, Status


def test_what_is_settled_is_ticked(report: Report) -> None:
    """The answer, the size, the lines and the direction."""
    text = to_markdown(report)
    for settled in ("It fits", "Size: 14.5 pt", "Lines: 3 lines", "Direction: across"):
        assert f"- [x] {settled}" in text


def test_what_does_not_fit_is_open(unfitting: Report) -> None:
    """Nothing is ticked that is not settled, and the remedies are tasks."""
    text = to_markdown(unfitting)
    assert "- [ ] It does not fit" in text
    assert "- [ ] Size: 5 pt" in text
    assert "- [ ] To be tried: Set it smaller" in text


def test_findings_are_ticked_only_where_good(report: Report) -> None:
    """A warning is open, with figure, limit, source and status."""
    text = to_markdown(report)
    assert "- [x] Capitals 3.3 mm high" in text
    assert re.search(r"- \[ \] Warning: .*\(figure 1\.2 mm; limit 1\.6 mm; .*; published\)", text)


def test_what_only_a_person_can_check_is_open(report: Report) -> None:
    """Proof, spelling, direction, spaces, colour and grain, marks; never ticked."""
    text = to_markdown(report).split("### To be checked by a person")[1].split("###")[0]
    assert text.count("- [ ] ") == 6
    assert "[x]" not in text
    for word in ("100 %", "title page", "Direction", "grain", "marks"):
        assert word in text


def test_the_sections_stand_in_the_order_of_the_work(unfitting: Report, report: Report) -> None:
    """Measuring, checks, the eye, cautions; the same where nothing fits."""
    for one in (report, unfitting):
        headings = [line for line in to_markdown(one).splitlines() if line.startswith("#")]
        assert [heading.partition(" ")[2].split()[0:3] for heading in headings] == [
            ["Spine", "lettering:", "The"],
            ["To", "be", "measured"],
            ["What", "was", "checked"],
            ["To", "be", "checked"],
            ["To", "be", "minded:"],
        ]
        assert "- [ ] Width of the back, between the joints, in three places" in to_markdown(one)


def test_what_is_measured_again_names_the_figure_used(report: Report) -> None:
    """And what was assumed is to be confirmed."""
    text = to_markdown(report)
    assert "- [ ] From head to tail, at both joints: 198 mm used" in text
    assert "- [ ] Confirm: edge: 2 mm kept free at each joint" in text


@pytest.mark.parametrize(
    ("measured", "said"),
    [
        (MeasurementReport("width", (13.0, 15.0), "mm", "bulk"),
         "13 to 15 mm used, judged at the least"),
        (MeasurementReport("width", (4.0,), "mm", "back", 5.0, "guide", Status.PUBLISHED),
         "4 mm used (under the limit 5 mm; guide; published)"),
        (MeasurementReport("height", ()), "not stated, left open"),
        (MeasurementReport("arc", ()), "not measured, so the width counts as if the back"),
        (MeasurementReport("arc", (31.25,)), "Tape laid over the round from joint to joint: 31.25"),
        (MeasurementReport("rise", (3.0,)), "Rise of the round over a straight edge: 3 mm used"),
        (MeasurementReport("radius", (20.0,)), "against a template: 20 mm used"),
        (MeasurementReport("bands", (5,), ""), "Bands, counted: 5 used"),
        (MeasurementReport("bands-at", (40.0, 80.5)), "from the head: 40, 80.5 mm used"),
        (MeasurementReport("label-width", (17.0,)), "Width of the label: 17 mm used"),
        (MeasurementReport("label-height", ()), "from head to tail: not known, left open"),
        (MeasurementReport("panel-width", (20.0,)), "panel or label, at head and foot: 20 mm"),
        (MeasurementReport("panel-height", (30.0,)), "at both sides: 30 mm used"),
    ],
)  # fmt: skip
def test_every_measurement_has_its_task(
    report: Report, measured: MeasurementReport, said: str
) -> None:
    """Open, with what was used."""
    text = to_markdown(report._replace(measurements=(measured,)))
    assert re.search(rf"- \[ \] .*{re.escape(said)}", text)


@pytest.mark.parametrize(("wide_mm", "ticked"), [(4.0, True), (2.0, False)])
def test_bands_as_wide_as_bands_are_pass(report: Report, wide_mm: float, ticked: bool) -> None:
    """Narrower ones have a finding of their own; both are measured again, panel by panel."""
    least = ("common practice", Status.PRACTICE)
    bands = MeasurementReport("band-height", (wide_mm,), "mm", "", 2.5, *least)
    text = to_markdown(report._replace(measurements=(MeasurementReport("bands", (4,), ""), bands)))
    passed = "- [x] Width of the bands: 4 mm (limit 2.5 mm; common practice; practice)"
    assert (passed in text) == ticked
    assert f"measured along the back: {wide_mm:g} mm used" in text
    assert "- [ ] Each panel measured by itself" in text


def test_what_the_method_holds_is_ticked_with_its_limit(report: Report) -> None:
    """Size on offer, strokes and gaps, with who says so."""
    text = to_markdown(report)
    assert "- [x] Size on offer: 14.5 pt; a printed paperback cover takes any from 5 pt up" in text
    stroke = "- [x] Thinnest stroke of each letter: held at 14.5 pt (limit 0.021 mm; one dot"
    assert stroke in text
    assert "- [x] Spare on each side: left 1.2 mm, right 1.2 mm, head 20 mm, tail 120.5 mm" in text


def test_a_drawer_is_named(report: Report) -> None:
    """The sizes at hand, not the smallest of a continuous method."""
    drawer = LimitReport("sizes", (12.0, 14.5), "pt", "as given", None)
    limits = (*report.method.limits, drawer)
    text = to_markdown(report._replace(method=report.method._replace(limits=limits)))
    assert "a printed paperback cover has 12, 14.5 pt (as given)" in text


def test_a_size_on_offer_may_be_too_large(report_of: Callable[..., Report]) -> None:
    """What the drawer holds is ticked though the panel does not take it."""
    large = FindingReport("too-large", Level.FAILURE, "Too large.", 20, 16, "pt", "x", None)
    fits_not = report_of(fits=False, findings=(large,))
    assert "- [x] Size on offer: 14.5 pt" in to_markdown(fits_not)
    assert "- [ ] Size: 14.5 pt" in to_markdown(fits_not)


def test_letters_that_do_not_hold_are_open(report_of: Callable[..., Report]) -> None:
    """Nothing of the strokes is ticked beside a finding against them, or where it fits nowhere."""
    thin = FindingReport("thin-stroke", Level.FAILURE, "Too thin.", 0.01, 0.02, "mm", "x", None)
    for report in (report_of(findings=(thin,)), report_of(fits=False)):
        assert "- [ ] Thinnest stroke of each letter: not settled" in to_markdown(report)


def test_lines_with_a_fault_are_open(report_of: Callable[..., Report]) -> None:
    """A stranded article, or a broken word."""
    fault = FindingReport("words-stranded", Level.NOTE, "An article.", "The", None, "", "", None)
    assert "- [ ] Lines: 3 lines" in to_markdown(report_of(findings=(fault,)))
    assert "- [ ] Lines: 3 lines" in to_markdown(report_of(word_broken=True))
    assert "- [x] Lines: 3 lines, The / Harbour / Light, broken as typed" in to_markdown(
        report_of()
    )


def test_a_direction_against_custom_is_open(report: Report) -> None:
    """The custom is named with its source."""
    along = report.layouts[1]
    for reading, box in ((Reading.DESCENDING, "x"), (Reading.ASCENDING, " ")):
        layouts = (along._replace(reading=reading), *report.layouts[1:])
        text = to_markdown(report._replace(layouts=layouts))
        assert f"- [{box}] Direction: along the back, {reading}" in text
        assert "(the custom is descending, firm; general encyclopaedia" in text
        assert "- [ ] Proof turned as it will stand" in text


def test_the_cautions_stand_last_and_defer(report: Report) -> None:
    """Those of the method, then local rules and trained hands."""
    tail = to_markdown(report).split("### To be minded: printed paperback cover")[1]
    assert "- Keep a change of colour off the fold" in tail
    last = tail.strip().splitlines()[-1]
    assert last.startswith("> Knives and heated tools")
    assert "local rules" in last


@pytest.mark.parametrize("char", list("\\`*_{}[]<>#|~&$@!"))
def test_markdown_in_a_title_is_escaped(report_of: Callable[..., Report], char: str) -> None:
    """A title is shown letter for letter."""
    text = to_markdown(report_of(title=f"a{char}b", lines=(f"a{char}b",)))
    assert text.splitlines()[0].endswith(f"a\\{char}b")
    assert f"Lines: one line, a\\{char}b" in text


def test_round_brackets_are_plain(report_of: Callable[..., Report]) -> None:
    """They make a link only after square ones, which are escaped; a source reads as it is."""
    text = to_markdown(report_of(title="[Tides](a) (1889)"))
    assert text.splitlines()[0].endswith(r"\[Tides\](a) (1889)")


def test_what_is_chosen_is_one_task(report: Report) -> None:
    """Facts of the book are confirmed one by one, how it is set in one task."""
    assumed = ("market: GB", "head: 4 mm", "foot: 4 mm", "case: as typed", "lines: any number")
    text = to_markdown(report._replace(assumed=assumed))
    tasks = [line for line in text.splitlines() if "Confirm" in line]
    assert tasks == [
        "- [ ] Confirm: market: GB",
        "- [ ] Confirm: head and foot: 4 mm",
        "- [ ] Confirm the setting: case as typed; lines any number",
    ]


def test_a_title_stays_on_its_line() -> None:
    """No title can start a line of its own."""
    assert escaped("a\n- [x] b") == r"a\\n- \[x\] b"


def test_a_paper_label_is_protected_by_practice() -> None:
    """Recess, sealing, coatings and light, each open, each told as practice; of paper alone."""
    asked = Job(title="Tide Tables", panel=Panel(width_mm=30, height_mm=40), method="paper-label")
    by_eye = _by_eye(check(asked))
    for word in ("recess", "paste or wax", "spare of the same print", "yellow", "light fades"):
        (line,) = [each for each in by_eye if word in each]
        assert line.startswith("- [ ] ") and line.endswith("(common practice)")
    leather = _by_eye(check(replace(asked, method="leather-label")))
    assert len(leather) == len(by_eye) - 4 and "practice" not in " ".join(leather)


def _by_eye(report: Report) -> list[str]:
    section = to_markdown(report).split("### To be checked by a person")[1].split("###")[0]
    return section.strip().splitlines()


def test_each_text_of_a_label_is_told_with_its_rules_and_frame() -> None:
    """Size and baselines from the upper edge, as the report has them."""
    parts = (
        Part(role=Role.AUTHOR, text="Quillfeather"),
        Part(role=Role.RULE),
        Part(role=Role.TITLE, text="Tide Tables"),
    )
    report = check(
        Job(
            parts=parts,
            panel=Panel(width_mm=34, height_mm=44),
            method="paper-label",
            frame=Frame.THIN,
        )
    )
    layout = report.layouts[report.recommended or 0]
    author, title = layout.texts
    (rule,) = layout.rules
    text = to_markdown(report)
    assert (
        f"- [x] Author: {author.set_pt:g} pt; baseline {author.baselines_mm[0]:.1f} mm from the "
        "upper edge"
    ) in text
    assert f"- [x] Title: {title.set_pt:g} pt" in text
    assert re.search(rf"- \[x\] Rule: .* mm long; upper edge {rule.from_head_mm:.3g} mm", text)
    assert "- [x] Frame: thin" in text
