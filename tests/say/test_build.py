"""The report of a job: figures of the stages, and one sentence that answers."""

from __future__ import annotations

import hashlib
import pickle
import re

import pytest

from spinefit import catalogue
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.values import Panel
from spinefit.pipeline import check
from spinefit.say import build
from spinefit.say.model import SCHEMA, Report
from spinefit.units import mm_from_pt
from spinefit.vocabulary import BreakWords, Case, Orientation, Reading, Turn, Verdict

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL


def a_report(title="The Harbour Light", *, spine=None, panel=None, **fields):
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    return check(
        Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)
    )


def best(report):
    return report.layouts[report.recommended]


def test_the_report_names_what_was_measured():
    """Schema, title as lettered, font and digest, panel, assumptions in both places."""
    report = a_report("Straße am Hafen", language="de", case=Case.CAPITALS)
    row = catalogue.font_rows()[0]
    data = (catalogue.fonts_folder() / row.file).read_bytes()
    assert report.schema == SCHEMA == "spinefit.report/1"
    assert report.title == "STRASSE AM HAFEN"
    assert report.font.sha256 == hashlib.sha256(data).hexdigest()
    assert (report.font.name, report.font.file) == (row.name, row.file)
    assert (report.panel.width_mm, report.panel.height_mm) == (16.0, 192.0)
    assert report.panel.assumed == report.assumed
    assert report.panel.number is None
    assert a_report(spine={"bands": 5}).panel.number == 2


def test_figures_are_at_the_size_judged():
    """Ink, lines, capitals and baselines scale with the size; spares follow."""
    for report in (a_report(size_pt=10.0), a_report(size_pt=20.0), a_report()):
        for one in report.layouts:
            em = mm_from_pt(one.set_pt)
            assert one.ink_width_mm == pytest.approx(max(one.line_widths_mm))
            assert len(one.baselines_mm) == len(one.line_widths_mm) == len(one.lines)
            assert one.x_height_mm < one.cap_height_mm < em
            assert one.ink_height_mm > 0
    small, large = a_report(size_pt=10.0), a_report(size_pt=20.0)
    for one, other in zip(small.layouts, large.layouts, strict=True):
        assert other.ink_width_mm == pytest.approx(2 * one.ink_width_mm)
        assert other.cap_height_mm == pytest.approx(2 * one.cap_height_mm)
        assert one.largest_pt == other.largest_pt


def test_the_turn_is_kept_apart_from_the_reading():
    across, along = (
        a_report(orientation=orientation).layouts[0] for orientation in (ACROSS, ALONG)
    )
    assert (across.reading, across.turn) == (Reading.ACROSS, Turn.NONE)
    assert (along.reading, along.turn) == (Reading.DESCENDING, Turn.CLOCKWISE)
    up = a_report(orientation=ALONG, reading=Reading.ASCENDING).layouts[0]
    assert (up.reading, up.turn) == (Reading.ASCENDING, Turn.ANTICLOCKWISE)


# --- the answer --------------------------------------------------------------------------


def test_the_answer_gives_both_figures():
    """The size advised and the largest, and that it is across, and in how many lines."""
    report = a_report(spine={"width_mm": 40.0})
    one = best(report)
    assert report.answer == (
        f"It fits across the spine in two lines: {one.set_pt:g} pt is advised, "
        f"{int(one.largest_pt * 10) / 10:g} pt is the most."
    )


def test_the_answer_along_says_where_reading_starts_and_why_not_across():
    report = a_report(spine={"width_mm": 9.0})
    assert report.answer.startswith(
        "It fits along the spine on one line, reading from head to tail:"
    )
    across = max(one.largest_pt for one in report.layouts if one.orientation is ACROSS)
    after = report.answer.split(";")[1]
    assert "across" in after
    assert f"{int(across * 10) / 10:g} pt at most" in after


def test_the_answer_names_the_panel():
    assert "in panel 2 of 6" in a_report(spine={"bands": 5, "width_mm": 30.0}).answer
    assert "the panel" in a_report("Tides", panel=Panel(width_mm=30.0, height_mm=20.0)).answer


def test_a_tight_answer_says_so_and_how_near_the_edge_below():
    report = a_report("Tides", spine={"width_mm": 5.0}, orientation=ALONG)
    assert report.verdict is Verdict.TIGHT
    assert report.answer.startswith("It fits, but tightly, along")
    one = best(report)
    nearest = 0.0 + min(one.spare_mm.left, one.spare_mm.right) + 1.0
    (told,) = [each.text for each in one.findings if each.topic == "placing"]
    assert f"From the ink to the nearest edge there are {round(nearest, 1):g} mm" in told


def test_an_asked_size_is_called_asked():
    assert "12 pt as asked" in a_report("Tides", size_pt=12.0).answer


def test_a_size_that_does_not_fit_is_answered_with_the_most_and_the_excess():
    report = a_report("Tides", size_pt=60.0, spine={"width_mm": 12.0})
    assert report.answer.startswith(
        "At 60 pt it does not fit: 22.6 pt is the most on a back of 12 mm"
    )
    assert "would stand over" in report.answer


def test_a_size_below_the_method_says_so():
    assert a_report("Tides", size_pt=3.0).answer.endswith(
        "At 3 pt it does not fit: a printed paperback cover needs 5 pt."
    )


def test_the_back_needed_is_in_the_answer_without_a_height():
    report = a_report("Tides", spine={"width_mm": 9.0, "height_mm": None})
    assert f"a back of at least {round(best(report).needs_back_mm, 1):g} mm" in report.answer


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"spine": {"width_mm": 1.5}},
        {"spine": {"width_mm": 3.0}},
        {"spine": {"width_mm": 4.0}},
        {"spine": {"width_mm": 9.0, "bands": 5}},
        {"spine": {"bands": 5}, "size_pt": 100.0},
        {"spine": {"bands": 5, "height_mm": None}},
        {"size_pt": 3.0},
        {"size_pt": 300.0},
        {"panel": Panel(width_mm=30.0, height_mm=12.0)},
        {"panel": Panel(width_mm=3.0, height_mm=2.0)},
        {"orientation": Orientation.PILLAR},
        {"lines": 3, "break_words": BreakWords.HYPHEN},
        {"spine": {"width_mm": (9.0, 12.0), "height_mm": None}},
    ],
    ids=str,
)
def test_the_answer_is_one_sentence_that_agrees_with_the_verdict(fields):
    """It begins with It fits exactly where something does."""
    report = a_report(**fields)
    assert report.answer.startswith("It fits") is (report.recommended is not None)
    assert report.answer.startswith("It fits, but tightly") is (report.verdict is Verdict.TIGHT)
    assert not re.search(r"\.\s", report.answer.replace("Vol. ", ""))
    assert report.answer.endswith(".")
    assert report.answer.count(".") >= 1
    assert "  " not in report.answer
    assert "-0 " not in report.answer
    assert "None" not in report.answer
    assert "nan" not in report.answer


def figures(report):
    """All that a report says, in the order of its fields."""
    return [repr(getattr(report, name)) for name in Report.__annotations__ if name != "as_shown"]


def test_a_field_is_worked_out_when_it_is_first_read_and_once(monkeypatch):
    """Who reads the verdict and the answer waits for nothing else."""
    made = []
    for name, make in build._FIELDS.items():
        monkeypatch.setitem(
            build._FIELDS, name, lambda of, name=name, make=make: (made.append(name), make(of))[1]
        )
    report = a_report()
    assert (report.verdict, report.answer) and made == ["verdict"]
    assert report.findings is report.findings
    assert made == ["verdict", "findings"]
    with pytest.raises(AttributeError, match="no finding"):
        _ = report.finding
    with pytest.raises(AttributeError, match="stays as it is"):
        report.answer = "It fits."


def test_what_is_made_when_read_stands_for_tuples():
    """Findings, figures and fonts that nobody has read yet equal, pickle and print as tuples."""
    unread, read = a_report(), a_report()
    parts = (read.findings, read.measurements, read.fonts)
    assert all(len(part) > 0 for part in parts)
    assert unread == read
    back = pickle.loads(pickle.dumps(a_report()))
    assert (back.findings, back.measurements, back.fonts) == tuple(map(tuple, parts))
    assert figures(unread) == figures(back)


def test_settings_are_described_when_they_are_read_and_once(monkeypatch):
    """A title has a dozen, and most readers look at one."""
    described = []
    report = a_report()
    monkeypatch.setattr(
        build, "setting_findings", lambda job, one, shown: described.append(one) or ()
    )
    assert not described
    assert report.layouts[1] is report.layouts[1]
    assert len(report.layouts) > 2
    assert len(described) == 1
    assert report.layouts[-1:] == (report.layouts[-1],)
    assert len(described) == 2


def test_reports_are_equal_and_travel_whatever_was_read_of_them():
    one, other = a_report(), a_report()
    assert [*one.layouts] == [*other.layouts]
    assert pickle.loads(pickle.dumps(one)) == other
    assert hash(one) == hash(other)
    assert figures(one) == figures(other)
    assert one.layouts == tuple(other.layouts)
    assert one.layouts != other.layouts[1:]
    assert any(finding.topic == "legibility" for finding in one.layouts[0].findings)
