"""Which settings decide what is advised, as far as bounds can tell."""

from __future__ import annotations

import random
from functools import cache

import pytest
from hypothesis import HealthCheck, assume, given, settings

import spinefit.judgement.settings as settings_module
from spinefit import catalogue
from spinefit.errors import SpinefitError
from spinefit.job import Job, Lettering, Panel, Spine
from spinefit.job.resolve import resolve
from spinefit.judgement.choice import choose
from spinefit.judgement.laying import layouts_of
from spinefit.judgement.settings import Settings, largest_in, settings_of
from spinefit.judgement.sizing import judge_layouts
from spinefit.judgement.verdict import panel_of
from spinefit.layout.by_lines import by_lines
from spinefit.shaping import shape_titles
from spinefit.tolerances import SAME_SHARE
from spinefit.vocabulary import BackForm, BreakWords, Case, Orientation, Work
from tests.properties.strategies import WORDS, jobs

WAYS = (Orientation.TRANSVERSE, Orientation.LONGITUDINAL)
LONG = "The Harbour and the Light of the Coast and the Quay in the Storm"


def both_ways(job):
    """Settings as they are searched when asked for, and every one searched at once."""
    resolved = resolve(job)
    titles, panel = shape_titles(resolved), panel_of(resolved)
    every = judge_layouts(resolved, titles[0], layouts_of(resolved, titles, panel))
    return resolved, settings_of(resolved, titles, panel), every


def figures(one):
    return one and (one.orientation, one.lines, one.largest_pt, one.set_pt, one.fits)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
def test_what_bounds_leave_out_decides_nothing(job):
    """The advised one, why, and the largest across are those of all settings."""
    try:
        resolved, some, every = both_ways(job)
    except SpinefitError:
        assume(False)
    best, why = choose(resolved, some)
    of_all, why_of_all = choose(resolved, every)
    assert figures(best) == figures(of_all)
    assert [(one.topic, one.value, one.limit) for one in why] == [
        (one.topic, one.value, one.limit) for one in why_of_all
    ]
    across = Orientation.TRANSVERSE
    assert figures(largest_in(some, across)) == figures(largest_in(every, across))
    assert list(map(figures, some)) == list(map(figures, every))


METHODS = ("paperback-cover", "paper-label", "leather-label", "cloth-print", "transfer-vinyl")
MANY = 600


def drawn_job(chance):
    """A book of one to nine words: on a back or in a panel, read from near or from far."""
    title = " ".join(chance.choices((*WORDS, "The", "and", "a", "Sea"), k=chance.randint(1, 9)))
    width_mm = chance.choice((6.0, 9.0, 14.0, 22.0, 36.0, 60.0))
    height_mm = chance.choice((24.0, 60.0, 120.0, 210.0, 210.0))
    if chance.random() < 0.4:
        where = {"panel": Panel(width_mm=width_mm, height_mm=height_mm)}
    else:
        back = chance.choice((BackForm.FLAT, BackForm.FLAT, BackForm.ROUNDED))
        rise_mm = width_mm / 4 if back is BackForm.ROUNDED else None
        where = {"spine": Spine(width_mm=width_mm, height_mm=height_mm, back=back, rise_mm=rise_mm)}
    return Job(
        title=title,
        market=chance.choice(("GB", "DE", "FR")),
        method=chance.choice(METHODS),
        work=chance.choice((None, None, *Work)),
        reading_distance_mm=chance.choice((None, None, 900.0, 1800.0, 3500.0)),
        lettering=Lettering(case=chance.choice((None, None, None, Case.CAPITALS))),
        **where,
    )


@cache
def drawn():
    """Many books, the same every time, and what is searched in each."""
    chance = random.Random(7)
    jobs = [resolve(drawn_job(chance)) for _ in range(MANY)]
    return [(job, shape_titles(job), panel_of(job)) for job in jobs]


@pytest.mark.parametrize("first", range(0, MANY, 25))
def test_of_many_books_the_advised_one_is_that_of_all(first):
    for job, titles, panel in drawn()[first : first + 25]:
        some = settings_of(job, titles, panel)
        every = judge_layouts(job, titles[0], layouts_of(job, titles, panel))
        (best, why), (of_all, why_of_all) = choose(job, some), choose(job, every)
        assert figures(best) == figures(of_all), job.title
        assert [one.topic for one in why] == [one.topic for one in why_of_all], job.title
        if best is not None:
            assert best.layout.group.texts == of_all.layout.group.texts, job.title


def test_of_many_books_few_settings_are_judged(monkeypatch):
    """Nothing but time tells a search that looks at more than it need; here it is counted."""
    counts = {"judged": 0, "all": 0}
    judge_in = settings_module.judge_in

    def counting(*about):
        judge = judge_in(*about)

        def counted(layout):
            counts["judged"] += 1
            return judge(layout)

        return counted

    monkeypatch.setattr(settings_module, "judge_in", counting)
    for job, titles, panel in drawn():
        some = settings_of(job, titles, panel)
        choose(job, some)
        counts["all"] += len(judge_layouts(job, titles[0], layouts_of(job, titles, panel)))
    assert counts["all"] > 3000
    assert counts["judged"] <= 2373  # fewer is as right, and then the bound here


@pytest.mark.parametrize("width_mm", [6.0, 9.0, 14.0])
def test_few_of_a_title_decide(width_mm):
    """A title of many words could be set in a dozen ways; the rest are never searched."""
    job = resolve(Job(title=LONG, spine=Spine(width_mm=width_mm, height_mm=210.0)))
    titles, panel = shape_titles(job), panel_of(job)
    found = settings_of(job, titles, panel)
    assert isinstance(found, Settings)
    deciding = [one for way in WAYS for one in found.deciding(way)]
    assert len(deciding) < len(found)
    assert {id(one) for one in deciding} <= {id(one) for one in found}


@pytest.mark.parametrize("width_mm", [6.0, 12.0, 40.0])
def test_of_settings_as_large_the_first_is_the_largest(width_mm):
    """Two splits into five lines whose longest line is the same word, and others beside them."""
    title = "gjy gjy The Commissioners' Harbour Harbour of"
    job = resolve(Job(title=title, spine=Spine(width_mm=width_mm, height_mm=210.0)))
    found = settings_of(job, shape_titles(job), panel_of(job))
    assert isinstance(found, Settings)
    across = [one for one in found if one.orientation is Orientation.TRANSVERSE]
    sizes = [one.largest_pt for one in across]
    assert sizes.count(max(sizes)) > 1
    largest = largest_in(found, Orientation.TRANSVERSE)
    assert figures(largest) == figures(across[sizes.index(max(sizes))])


@pytest.mark.parametrize("width_mm", [8.0, 20.0, 50.0])
def test_no_layout_is_larger_than_the_bound_of_its_lines(width_mm):
    job = resolve(Job(title=LONG, spine=Spine(width_mm=width_mm, height_mm=210.0)))
    title = shape_titles(job)[0]
    groups, _over = by_lines(job, title, panel_of(job), catalogue.title_words(job.language))
    assert len(groups) == 12
    for one in groups:
        *_others, largest = one.largest()
        for layout in one.layouts():
            assert layout.limit.size_mm <= one.size_mm()
            assert layout.limit.size_mm <= largest.limit.size_mm * (1 + SAME_SHARE)
            assert layout.group.box[3] - layout.group.box[1] >= one.height_em() * (1 - SAME_SHARE)
    heights = [one.height_em() for one in groups[1:6]]
    assert heights == sorted(heights)


@pytest.mark.parametrize(
    "lettering",
    [
        Lettering(size_pt=8.0),
        Lettering(break_words=BreakWords.HYPHEN),
        Lettering(orientation=Orientation.PILLAR),
    ],
)
def test_where_bounds_do_not_tell_all_are_searched(lettering):
    job = Job(title="Tide Tables", panel=Panel(width_mm=20.0, height_mm=90.0), lettering=lettering)
    _resolved, found, every = both_ways(job)
    assert isinstance(found, tuple)
    assert list(map(figures, found)) == list(map(figures, every))
