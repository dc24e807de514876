"""What the judgement as a whole adds: the letters of the advised setting, and the front board."""

from __future__ import annotations

import pytest

from spinefit.errors import ImpossibleBackError
from spinefit.job import Panel, Shape
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement.setting_findings import setting_findings
from spinefit.judgement.text import Trials, judge_text
from spinefit.vocabulary import Level, PanelForm, Verdict


def judged(size_pt: float, *, width_mm: float = 30.0):
    job = Job(
        title="Tides",
        spine=Spine(width_mm=width_mm, height_mm=200.0),
        lettering=Lettering(font="EB Garamond", size_pt=size_pt),
        method="leather-label",
    )
    found = judge_text(job)
    return found.job, found.judgement


def of_topic(findings, topic):
    return [finding for finding in findings if finding.topic == topic]


@pytest.mark.parametrize("size_pt", [14.0, 18.0])
def test_fine_letters_are_told_by_their_width_at_the_size(size_pt):
    """As much under the limit as the size is under the one that the letter needs."""
    job, found = judged(size_pt)
    best = setting_findings(job, found.shown, shown=True)
    fine = of_topic(best, "finer-than-advised")[0]
    assert fine.level is Level.WARNING
    assert fine.value == pytest.approx(fine.limit * size_pt / fine.facts["needs_pt"])
    assert fine.value < fine.limit
    other = setting_findings(job, found.shown, shown=False)
    assert other
    assert not of_topic(other, "finer-than-advised")


def test_without_a_board_or_a_recess_nothing_is_said_of_them():
    _job, found = judged(24.0)
    assert (found.board_place, found.recess) == (None, None)
    assert found.recommended is not None


def test_the_verdict_is_that_of_the_advised_setting():
    assert judged(24.0)[1].verdict is Verdict.FITS
    assert judged(24.0, width_mm=8.0)[1].verdict is not Verdict.FITS


@pytest.mark.parametrize(
    ("width_mm", "lines"),
    [(20.0, ("The", "Harbour", "Light")), (30.0, ("The Harbour", "Light"))],
)
def test_small_words_join_on_a_label_only_where_that_holds_the_least_size(width_mm, lines):
    """Of 8 pt across a label (recalled, as in rules.toml)."""
    job = Job(
        title="The Harbour Light",
        spine=Spine(width_mm=width_mm, height_mm=210.0),
        lettering=Lettering(font="EB Garamond"),
        method="paper-label",
    )
    best = judge_text(job).judgement.shown
    assert tuple(best.layout.group.lines.texts) == lines
    assert best.set_pt >= 8


def test_a_back_impossible_at_its_widest_is_refused_at_once():
    """Not when its findings are first read: a radius of 15 mm spans no 40 mm."""
    spine = Spine(width_mm=(20.0, 40.0), height_mm=200.0, radius_mm=15.0)
    with pytest.raises(ImpossibleBackError, match="at least 20 mm"):
        judge_text(Job(title="Tides", spine=spine))


def test_trials_in_a_panel_of_another_shape_come_to_an_end():
    """After some thousand letters nothing is tried there; in a rectangle everything is."""
    title = "Registers of the Parish of Wrackness and of the Harbour"
    oval, plain = (
        resolve(Job(title=title, panel=Panel(width_mm=30.0, height_mm=60.0), shape=shape))
        for shape in (Shape(form=PanelForm.OVAL), None)
    )
    trials = Trials()
    tried = [trials(oval)[0] is not None for _ in range(20)]
    assert tried == [True] * tried.count(True) + [False] * tried.count(False)
    assert 2 < tried.count(True) < 18
    assert all(trials(plain)[0] is not None for _ in range(20))


def test_a_font_that_is_set_no_smaller_than_it_holds_gives_way():
    """Of the usual fonts of a blocked case the first would fit at the least that it holds only."""
    spine = Spine(width_mm=6.0, height_mm=40.0)
    first, second = (
        judge_text(
            Job(title="Harbourmastership", spine=spine, method="blocked-case"), font_choice=at
        )
        for at in (0, 1)
    )
    assert first.judgement.shown.set_because == "floor"
    assert first.fits and second.fits
    found = judge_text(Job(title="Harbourmastership", spine=spine, method="blocked-case"))
    assert found.title.font.name == second.title.font.name != first.title.font.name
