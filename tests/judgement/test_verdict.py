"""What the judgement as a whole adds: the letters of the advised setting, and the front board."""

from __future__ import annotations

import pytest

from spinefit import catalogue
from spinefit.geometry import usable_panel
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement import judge, judge_layouts
from spinefit.judgement.setting_findings import setting_findings
from spinefit.layout import search
from spinefit.shaping import shape_title
from spinefit.vocabulary import Verdict


def judged(size_pt: float, *, method: str = "leather-label", width_mm: float = 30.0):
    lettering = Lettering(font="EB Garamond", size_pt=size_pt)
    spine = Spine(width_mm=width_mm, height_mm=200.0)
    job = resolve(Job(title="Tides", spine=spine, lettering=lettering, method=method))
    title = shape_title(job)
    panel = usable_panel(job.spine, job.shape, job.rules)
    words = catalogue.title_words(job.language)
    layouts = search(job, title, panel, words)
    judged_layouts = judge_layouts(job, title, layouts)
    return job, judge(job, panel, judged_layouts, at_widest_pt=lambda layout: None)


def of_topic(findings, topic):
    return [finding for finding in findings if finding.topic == topic]


@pytest.mark.parametrize("size_pt", [24.0, 30.0])
def test_fine_letters_are_told_by_their_width_at_the_size(size_pt):
    """As much under the limit as the size is under the one that the letter needs."""
    job, found = judged(size_pt)
    best = setting_findings(job, found.shown, advised=True)
    (fine,) = of_topic(best, "finer-than-advised")
    assert fine.value == pytest.approx(fine.limit * size_pt / fine.facts["needs_pt"])
    assert fine.value < fine.limit
    other = setting_findings(job, found.shown, advised=False)
    assert other
    assert not of_topic(other, "finer-than-advised")


def test_without_a_board_or_a_recess_nothing_is_said_of_them():
    _job, found = judged(24.0)
    assert (found.board_place, found.recess) == (None, None)
    assert found.recommended is not None


def test_the_verdict_is_that_of_the_advised_setting():
    assert judged(24.0)[1].verdict is Verdict.FITS
    assert judged(24.0, width_mm=8.0)[1].verdict is not Verdict.FITS
