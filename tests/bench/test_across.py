"""Across or along at the bench: what is the custom, who disagrees, and how large along?

Widths and sizes by kind of work are recalled or chosen, as each row of rules.toml says; ISO 6357
would have a title across wherever the back is wide enough, and gives no width.
"""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Panel, Spine, check
from spinefit.job.model import Shape
from spinefit.say.model import FindingReport, LayoutReport, Report
from spinefit.say.remedies import remedies
from spinefit.vocabulary import BreakWords, Case, Orientation, PanelForm, Status, Work

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL


def lettered(title: str, width_mm: float, **fields) -> Report:
    """The report on a title on a back of 210 mm."""
    lettering = {name: fields.pop(name) for name in [*fields] if name in Lettering.__annotations__}
    bands = fields.pop("bands", None)
    spine = Spine(width_mm=width_mm, height_mm=210, bands=bands)
    return check(Job(title=title, spine=spine, lettering=Lettering(**lettering), **fields))


def advised(report: Report) -> LayoutReport:
    assert report.recommended is not None
    return report.layouts[report.recommended]


def found(report: Report, topic: str) -> FindingReport:
    (one,) = (one for one in (*report.findings, *advised(report).findings) if one.topic == topic)
    return one


def test_a_trade_paperback_of_22_mm_goes_along_and_iso_is_named():
    """Common practice against ISO 6357; capitals of 0.40 to 0.50 of it, ink of 0.55 to 0.65."""
    report = lettered("Harbour Light", 22)
    best = advised(report)
    assert best.orientation is ALONG
    assert "by custom a printed cover under 30 mm is lettered along" in report.answer
    assert "ISO 6357 would have it across" in report.answer
    assert found(report, "across-narrow").status is Status.PRACTICE
    assert 0.55 * 22 <= best.ink_height_mm <= 0.65 * 22
    capitals = advised(lettered("HARBOUR", 22))
    assert 0.40 * 22 <= capitals.cap_height_mm <= 0.50 * 22
    aim = found(report, "advised-aim")
    assert aim.status is Status.MEMORY
    assert "Cockerell" in aim.text  # lettering should comfortably fill the panel
    across = [one for one in report.layouts if one.orientation is ACROSS]
    assert any(one.fits for one in across)  # what custom passes over stays listed


def test_a_thick_paperback_is_lettered_across_once_its_longest_word_has_room():
    """A ramp from 30 to 45 mm: a short word sooner, COMMISSIONERS only with 12 pt to spare."""
    assert advised(lettered("Tides", 34)).orientation is ACROSS
    assert advised(lettered("COMMISSIONERS", 40)).orientation is ALONG
    assert advised(lettered("COMMISSIONERS", 46)).orientation is ACROSS
    assert advised(lettered("Tides", 60, orientation=ALONG)).cap_height_mm <= 12


@pytest.mark.parametrize("width_mm", [12, 18, 26, 40])
def test_a_cloth_case_along_has_14_to_24_points(width_mm):
    """Capitals of 0.20 to 0.30 of the back, 14 to 24 pt (one maker: always 18)."""
    best = advised(
        lettered("HARBOUR", width_mm, work=Work.CASE, orientation=ALONG, font="Libre Baskerville")
    )
    assert 14 <= best.set_pt <= 24
    assert best.set_pt in (14, 24) or 0.2 <= best.cap_height_mm / width_mm <= 0.3


def test_a_library_binding_is_lettered_across_from_16_mm():
    """From memory, the usual contract: 14 to 18 pt, whatever the width."""
    assert advised(lettered("Quay", 18, work=Work.LIBRARY)).orientation is ACROSS
    along = advised(lettered("The Harbour Light", 18, work=Work.LIBRARY))
    assert along.orientation is ALONG
    assert along.set_pt == 18


def test_a_banded_leather_back_is_lettered_across_unless_forced():
    """Cockerell, ch. XV, fig. 95: along is avoided on a banded book unless one is forced to it."""
    report = lettered("Harbour Dues", 30, bands=5, method="hand-letters")
    assert advised(report).orientation is ACROSS
    assert "Cockerell" in found(report, "across-in-panel").source


def test_an_oval_is_never_turned_for_a_hair_of_size():
    """Across, unless it cannot be read so and along has capitals twice as high."""
    for width_mm in (24, 24.1, 26, 30, 34):
        oval = check(
            Job(
                title="Wrackness", panel=Panel(width_mm=width_mm, height_mm=34),
                shape=Shape(form=PanelForm.OVAL), method="paper-label",
            )
        )  # fmt: skip
        assert advised(oval).orientation is ACROSS


def test_both_ways_to_break_coriolanus_are_shown():
    """Cockerell, ch. XV, fig. 95 (2): broken it is larger; the exact break is not confirmed."""
    said = {"case": Case.CAPITALS, "bands": 5, "language": "en"}
    broken = {
        one.lines
        for one in lettered("Coriolanus", 25.4, break_words=BreakWords.HYPHEN, **said).layouts
        if one.orientation is ACROSS
    }
    assert {("CORI-", "OLANUS"), ("CORIO-", "LANUS")} <= broken
    (remedy,) = (
        one for one in remedies(lettered("Coriolanus", 25.4, **said)) if one.change == "break-word"
    )
    assert "CORIO- / LANUS" in remedy.text and "CORI- / OLANUS" in remedy.text
