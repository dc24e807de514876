"""Outlines cut out of a run stand where those of its lines, shaped afresh, stand."""

from __future__ import annotations

import pytest

from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement.laying import layouts_of
from spinefit.judgement.verdict import panel_of
from spinefit.layout import placed_outlines
from spinefit.layout.group import placed_as_cut
from spinefit.shaping import shape_titles
from spinefit.vocabulary import BreakWords


@pytest.mark.parametrize(
    "title", ["The Harbour Light", "AVATAR To Wrackness, Vol. 2", "φάρος ή γη"]
)
@pytest.mark.parametrize("mode", BreakWords)
@pytest.mark.parametrize("tracking", [0.0, 50.0])
def test_both_ways_agree(title, mode, tracking):
    lettering = Lettering(break_words=mode, tracking=tracking)
    job = resolve(Job(title=title, spine=Spine(width_mm=24, height_mm=210), lettering=lettering))
    titles = shape_titles(job)
    layouts = layouts_of(job, titles, panel_of(job))
    assert len(layouts) > 3
    for layout in layouts:
        cut_mode, split = layout.cut
        cut = placed_as_cut(layout.title.run_broken(cut_mode), split, layout.group)
        afresh = placed_outlines(layout.title, layout.group, pillar=False)
        assert [each[0] for each in cut] == [each[0] for each in afresh]
        for one, other in zip(cut, afresh, strict=True):
            assert one[1:] == pytest.approx(other[1:], abs=1e-9)
