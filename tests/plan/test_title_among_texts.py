"""What a title alone gets, the title of every back gets: a pattern, a recess, old lettering."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.backs import match_pattern, pattern_of, plan_back, plan_set
from spinefit.job.model import Recess
from spinefit.job.values import OldLettering
from spinefit.plan import planner
from spinefit.say.phrasing import shown
from spinefit.say.plan_build import plan_remedies
from spinefit.vocabulary import AxisGoal, Level, Orientation, Role, Work

WIDE = {"width_mm": 34.0, "height_mm": 230.0}
BANDED = {"width_mm": 44.0, "height_mm": 260.0, "bands": 5}
TITLE = ("title", "Tide Tables of Wrackness")
DATE = ("date", "1931")


def title_of(report):
    return next(one for one in report.texts if one.role is Role.TITLE)


def from_tail_mm(text):
    return text.job.spine.height_mm - shown(text.report).first_from_head_mm


@pytest.mark.parametrize("spine", [WIDE, BANDED], ids=["across", "bands"])
def test_the_next_back_matches_the_pattern_of_the_last(plan, spine):
    """Its title in the same size and lines at the same height, its other texts beside it."""
    first = plan_back(plan(spine, TITLE, DATE))
    pattern = pattern_of(first)
    taller = spine | {"height_mm": spine["height_mm"] + (6 if spine is WIDE else 0)}
    report = plan_back(plan(taller, TITLE, DATE), pattern=pattern)
    assert report.fits, report.answer
    assert title_of(report).report.answer.startswith("It matches the pattern: it fits")
    assert title_of(report).set_pt == title_of(first).set_pt
    assert from_tail_mm(title_of(report)) == pytest.approx(from_tail_mm(title_of(first)), abs=1e-6)


def test_a_title_among_texts_that_cannot_match_fails_with_the_breach(plan):
    """A thinner back gets no smaller letters."""
    pattern = pattern_of(plan_back(plan(WIDE, TITLE, DATE)))
    report = plan_back(plan(WIDE | {"width_mm": 9.0}, TITLE, DATE), pattern=pattern)
    assert report.failing[0] is Role.TITLE
    assert title_of(report).set_pt == pattern.size_pt
    other = plan(WIDE, TITLE, DATE, lettering=Lettering(tracking=50))
    breaches = plan_back(other, pattern=pattern).texts
    topics = {one.topic for text in breaches for one in text.report.findings
              if one.level is Level.FAILURE}  # fmt: skip
    assert topics == {"pattern-tracking"}


def test_a_pattern_of_a_title_alone_serves_a_back_of_several_texts(plan):
    """And the other way round, where the title stands the same."""
    job = Job(title=TITLE[1], spine=Spine(**WIDE), market="GB", work=Work.LIBRARY)
    pattern = pattern_of(check(job), job)
    report = plan_back(plan(WIDE, TITLE, DATE), pattern=pattern)
    assert report.fits
    assert match_pattern(job, pattern_of(report)).fits


def test_volumes_of_several_texts_match_a_pattern_each_by_itself(plan):
    volumes = [(f"{year}", plan(WIDE, TITLE, ("date", str(year)))) for year in (1930, 1931)]
    pattern = pattern_of(plan_set(volumes))
    thin = replace(volumes[1][1], spine=Spine(width_mm=8.0, height_mm=230.0))
    report = plan_set([volumes[0], ("thin", thin)], pattern=pattern)
    assert [one.fits for one in report.volumes] == [True, False]
    assert {title_of(one).set_pt for one in report.volumes} == {pattern.size_pt}


def test_the_recess_and_the_old_lettering_are_the_titles(plan):
    """No other text lies in the recess, or on what was lettered there."""
    asked = plan(BANDED, TITLE, ("author", "M. Tregear"), method="paper-label")
    sunk = plan_back(replace(asked, recess=Recess(wanted=True)))
    assert {one.role: one.report.recess is not None for one in sunk.texts} == {
        Role.TITLE: True,
        Role.AUTHOR: False,
    }
    old = OldLettering(width_mm=20.0, height_mm=10.0)
    topics = {
        one.role: {each.topic for each in one.report.findings if "old" in each.topic}
        for one in plan_back(replace(asked, old_lettering=old)).texts
    }
    assert topics[Role.TITLE]
    assert not topics[Role.AUTHOR]


def test_a_title_alone_in_its_panel_is_set_as_by_itself(plan):
    """The author in the next panel changes nothing of it."""
    own = check(Job(title=TITLE[1], spine=Spine(**BANDED), market="GB"))
    report = plan_back(plan(BANDED, TITLE, ("author", "M. Tregear")))
    assert shown(title_of(report).report).lines == shown(own).lines
    assert title_of(report).set_pt == shown(own).set_pt


def test_one_volume_that_takes_nothing_moves_no_other(volumes):
    """The others keep the size and the height that they have without it."""
    made = volumes(28, 30, 3.2, lettering=Lettering(orientation=Orientation.TRANSVERSE))
    without, with_it = plan_set(made[:2]), plan_set(made)
    assert [one.fits for one in with_it.volumes] == [True, True, False]
    for mine, theirs in zip(with_it.volumes, without.volumes, strict=False):
        assert shown(mine.report).set_pt == shown(theirs.report).set_pt
        assert shown(mine.report).first_from_head_mm == pytest.approx(
            shown(theirs.report).first_from_head_mm, abs=1e-6
        )


def test_beside_a_pattern_no_remedy_forgets_it(plan):
    """What would fit in another size would not match."""
    pattern = pattern_of(plan_back(plan(WIDE, TITLE, DATE)))
    report = plan_back(plan(WIDE | {"width_mm": 9.0}, TITLE, DATE), pattern=pattern)
    assert report.answer.startswith("It does not match the pattern")
    assert plan_remedies(report) == ()


def test_volumes_beside_a_pattern_name_every_role_and_no_height_that_is_not_common(plan):
    """The author of one stands higher; the date stands on the other alone."""
    first = plan(WIDE, TITLE, ("author", "M. Tregear"))
    pattern = pattern_of(plan_back(first))
    second = plan(WIDE, TITLE, ("author", "M. Tregear and / Josiah Penwarne"), DATE)
    report = plan_set([("1", first), ("2", second)], pattern=pattern)
    roles = {one.role: one for one in report.roles}
    assert set(roles) == {Role.AUTHOR, Role.TITLE, Role.DATE}
    assert roles[Role.AUTHOR].stands_mm is None
    assert roles[Role.TITLE].stands_mm == pytest.approx(pattern.height_mm, abs=1e-3)
    assert "set-limit" not in {one.topic for one in report.findings}


def test_a_title_alone_on_a_named_label_fills_its_panel(plan, text):
    made = plan(BANDED, text("title", "Tide Tables", label="piece"), method="paper-label")
    (label,) = plan_back(made).labels
    assert label.is_full
    assert label.panel == 2


def test_the_end_of_an_axis_is_found_for_the_size_asked():
    lettering = Lettering(
        font="IBM Plex Sans Var", axes=(("wght", AxisGoal.HEAVIEST),), size_pt=9.0
    )
    jobs = [
        (n, Job(title=n, spine=Spine(width_mm=w, height_mm=200), lettering=lettering))
        for n, w in (("Tides", 14), ("Tides two", 20))
    ]
    report = plan_set(jobs)
    assert {shown(one.report).set_pt for one in report.volumes} == {9.0}


def test_what_is_planned_is_verified_and_trials_are_not(plan, monkeypatch):
    """Each text once, however many settings were tried."""
    asked = []
    monkeypatch.setattr(planner, "verify_text", asked.append)
    report = plan_back(plan(WIDE, TITLE, DATE, ("author", "M. Tregear")))
    assert [one.title.text for one in asked] == [one.judged.title.text for one in report.texts]
