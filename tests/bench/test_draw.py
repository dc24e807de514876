"""Drawings, patterns and screens of labels with several texts, as a finisher reads them.

What must stand on the page follows from the question alone: places add up from the edge that is
named, and a rule keeps what a hand may be out of place (the method's own figure).
"""

from __future__ import annotations

import json
import re

import pytest

from spinefit import Job, Panel, Part, Spine, check
from spinefit.catalogue.method_table import method
from spinefit.drawing.frame import frame_of
from spinefit.drawing.picture import picture
from spinefit.drawing.plate import plate, subject_of
from spinefit.drawing.svg import to_svg
from spinefit.drawing.worksheet_places import worksheet_of
from spinefit.drawing.worksheet_words import to_json, to_text
from spinefit.pipeline import answer
from spinefit.say.model import LayoutReport, Report
from spinefit.say.phrasing import bare_mm
from spinefit.say.terminal import render
from spinefit.vocabulary import Measure, Role, Ruling
from tests.drawing.test_picture import dots

PARTS = (
    Part(role=Role.AUTHOR, text="Ebenezer Quillfeather"),
    Part(role=Role.RULE, rule=Ruling.DOUBLE, measure=Measure.FULL),
    Part(role=Role.TITLE, text="The Harbour Light"),
    Part(role=Role.RULE),
    Part(role=Role.DATE, text="1889"),
)


def shown(report: Report) -> LayoutReport:
    assert report.recommended is not None
    return report.layouts[report.recommended]


def hand_lettered() -> Job:
    return Job(parts=PARTS, panel=Panel(width_mm=30, height_mm=40), method="hand-letters")


def test_the_places_of_a_label_on_a_banded_back_are_counted_from_the_head() -> None:
    """A label of 30 x 28 mm in the second of six panels: the chain runs on to that panel.

    The figures are the label's place and the report's figures from its edge, added up; the date
    stands last, so its baseline is the foot of all ink.
    """
    found = answer(
        Job(
            parts=PARTS,
            spine=Spine(width_mm=40, height_mm=230, bands=5),
            label_size=Panel(width_mm=30, height_mm=28),
            method="leather-label",
        )
    )
    subject = subject_of(found)
    svg = to_svg(plate(subject))
    told = {
        name: [float(place) for place in re.findall(rf">([\d.]+) {name}<", svg)]
        for name in ("label begins", "author baseline", "date baseline", "rule, upper edge")
    }
    (edge_mm,) = told["label begins"]
    assert edge_mm > 35  # below the first panel
    layout = shown(found.report)
    author, _title, date = layout.texts
    places = [edge_mm + each for each in author.baselines_mm]
    assert told["author baseline"] == pytest.approx(places, abs=0.11)
    places = [edge_mm + rule.from_head_mm for rule in layout.rules]
    assert told["rule, upper edge"] == pytest.approx(places, abs=0.11)
    frame = frame_of(subject.texts)
    assert told["date baseline"] == pytest.approx([-frame.boxes_mm[0][1]], abs=0.2)
    assert told["date baseline"] == pytest.approx([edge_mm + date.baselines_mm[0]], abs=0.11)


@pytest.mark.parametrize("name", ["hand-letters", "paper-label"])
def test_a_rule_of_full_measure_keeps_what_a_hand_may_be_out_of_place(name: str) -> None:
    """At both ends of the rule at least the method's placing error; no warning of the edge."""
    job = Job(parts=PARTS, panel=Panel(width_mm=30, height_mm=40), method=name)
    report = check(job, verify=True)
    layout = shown(report)
    kept_mm = method(name).placing.value
    longest_mm = max(rule.length_mm for rule in layout.rules)
    assert (30 - longest_mm) / 2 >= kept_mm - 1e-6
    assert longest_mm >= max(layout.line_widths_mm)
    assert layout.spare_mm.left is not None
    clear_mm = (30 - max(longest_mm, *layout.line_widths_mm)) / 2 - layout.spare_mm.left
    assert clear_mm >= -0.01  # spare is counted on the rule too
    warned = [one for one in layout.findings if one.topic == "placing" and one.level == "warning"]
    assert not warned


def test_the_screen_names_one_thing_by_one_word_and_says_what_a_figure_is() -> None:
    """Across the label, above and below; the place of a rule is its upper edge's."""
    text = " ".join(render(check(hand_lettered())).split())
    assert "across the label" in text and "Across the label" in text
    assert "Across the panel" not in text
    assert len(re.findall(r"long; upper edge [\d.]+ mm", text)) == 2


def test_rules_stand_between_the_lines_on_the_screen() -> None:
    """In order, the full one as long as the widest line, the short one shorter."""
    text = render(check(hand_lettered()))
    rows = [row.strip() for row in re.findall("│(.*)│", text)]
    ruled = [at for at, row in enumerate(rows) if set(row) == {"─"}]
    assert rows.index("Quillfeather") < ruled[0] < rows.index("The Harbour")
    assert rows.index("Light") < ruled[1] < rows.index("1889")
    assert len(rows[ruled[0]]) == max(map(len, rows)) > len(rows[ruled[1]])


def test_the_worksheet_gives_the_figures_of_every_rule() -> None:
    """Weight, length and place from the label's upper edge, as the answer has them."""
    found = answer(hand_lettered())
    worksheet = worksheet_of(found)
    rules = shown(found.report).rules
    told = json.loads(to_json(worksheet))["rules"]
    assert [one["from_head_mm"] for one in told] == pytest.approx(
        [rule.from_head_mm for rule in rules], abs=1e-3
    )
    text = " ".join(to_text(worksheet).split())
    for number, rule in enumerate(rules, 1):
        line = f"Rule {number}: .*? {bare_mm(rule.length_mm)} mm long; "
        assert re.search(f"{line}upper edge {bare_mm(rule.from_head_mm)} mm from the label's", text)


def test_the_picture_on_a_terminal_shows_the_rules() -> None:
    """The full rule is a whole row of dots between the panel's sides; no letter makes one."""
    found = dots(picture(answer(hand_lettered()), columns=80))
    columns = [x for x, _y in found]
    wide = max(columns) - min(columns) + 1
    rows = [sum(1 for _x, at in found if at == y) for y in {y for _x, y in found}]
    assert max(rows) >= 28 / 30 * wide
