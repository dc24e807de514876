"""Of each shape of the group the largest split: as by force over all there are."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, Panel, Shape, SpinefitError, check, shapes
from spinefit.judgement.shapes import shapes_of
from spinefit.judgement.text import judged_title
from spinefit.units import pt_from_mm
from spinefit.vocabulary import GroupShape, Orientation, PanelForm
from tests.layout.test_search import by_force, jobs, run

KINDS = (Orientation.TRANSVERSE, Orientation.LONGITUDINAL)


def largest_by_force(job: Job, kind: Orientation, counts: range) -> dict[str, tuple[float, float]]:
    """By shape the largest size in pt, and the least penalty of the splits that have it."""
    resolved, title, panel, layouts = run(job)
    turn = next(one.candidate.turn for one in layouts if one.candidate.orientation is kind)
    found: dict[str, tuple[float, float]] = {}
    for lines in counts:
        for size, _width, group, penalty in by_force(
            resolved, title, panel, (kind, turn), lines
        ).values():
            best = found.get(group.shape, (0.0, 0.0))
            if size > best[0] * (1 + 1e-9):
                found[group.shape] = size, penalty
            elif size > best[0] * (1 - 1e-9):
                found[group.shape] = size, min(penalty, best[1])
    return {shape: (pt_from_mm(size), penalty) for shape, (size, penalty) in found.items()}


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs(), st.sampled_from(KINDS), st.sampled_from([None, None, 2, 3, 4]))
def test_the_best_of_a_shape_is_the_best_of_all_its_splits(job, kind, lines):
    """The largest; of those as large, one that reads no worse than any; also in N lines."""
    pieces = len(run(job)[1].run.pieces)
    forced = job.title.count(" / ") + 1
    assume(lines is None or forced <= lines <= pieces)
    counts = range(forced, min(pieces, 6) + 1) if lines is None else range(lines, lines + 1)
    job = replace(job, lettering=replace(job.lettering, orientation=kind, lines=lines))
    expected = largest_by_force(job, kind, counts)
    resolved = run(job)[0]
    found = dict(shapes_of(resolved))
    assert {*map(str, found)} == {*expected} - {"one line", "irregular"}
    for shape, one in found.items():
        size_pt, penalty = expected[shape]
        assert one.largest_pt == pytest.approx(size_pt, abs=2e-3)
        assert one.layout.group.shape == shape
        if one.largest_pt > 0:
            assert one.layout.group.penalty <= penalty + 1e-9
    for shape in GroupShape:
        asked = resolved._replace(lettering=resolved.lettering._replace(group_shape=shape))
        if shape not in found:
            with pytest.raises(SpinefitError, match="that shape"):
                judged_title(asked)
            continue
        judged = judged_title(asked)
        assert {one.layout.group.shape for one in judged.judged} == {shape}
        if judged.best is not None:
            assert judged.best.lines == found[shape].lines or judged.best.set_pt == pytest.approx(
                found[shape].set_pt
            )


def test_in_an_oval_every_split_of_a_short_title_is_laid():
    """There the narrowest split is not the largest: a lozenge fills an oval."""
    panel = Panel(width_mm=34, height_mm=30)
    job = Job(title="The Keeper of the Northern Light", panel=panel, language="en",
              shape=Shape(form=PanelForm.OVAL))  # fmt: skip
    lettering = Lettering(orientation=Orientation.TRANSVERSE)
    found = {one.shape: one for one in shapes(check(replace(job, lettering=lettering)))}
    for shape, one in found.items():
        for lines in range(2, 7):
            asked = replace(lettering, group_shape=shape, lines=lines)
            try:
                report = check(replace(job, lettering=asked))
            except SpinefitError:
                continue
            assert max(each.largest_pt for each in report.layouts) <= one.largest_pt
    assert found["lozenge"].largest_pt > found["half-diamond"].largest_pt


def test_a_title_of_very_many_words_is_cut_into_few_lines_only():
    """All splits of thirty words into six lines are too many to be looked at."""
    title = " ".join(f"Rope{at}" for at in range(30))
    found = shapes(check(Job(title=title, panel=Panel(width_mm=60, height_mm=60))))
    assert found
    assert max(len(one.lines) for one in found) < 6
