"""What holds for any back with several texts and any set."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, Spine, check
from spinefit.backs import match_pattern, plan_back, plan_set
from spinefit.plan import BackPlan, BackText, plan_of
from spinefit.plan.pattern import pattern_text
from spinefit.plan.standing import stands_mm
from spinefit.say.phrasing import shown
from spinefit.say.plan_build import plan_remedies
from spinefit.vocabulary import Orientation, Role, SetBy

WORDS = st.sampled_from(["Tide Tables", "Quay", "Wrackness Harbour Log", "gyp", "Åse", "Ports of"])
WAYS = st.sampled_from([Orientation.TRANSVERSE, Orientation.LONGITUDINAL])
few = settings(max_examples=25, deadline=None)


def widths():
    return st.integers(16, 60).map(float)


@st.composite
def sets(draw, least=2):
    """Volumes of one orientation, widths, heights and titles drawn."""
    way = draw(WAYS)
    bands = draw(st.sampled_from([None, 4, 5]))
    count = draw(st.integers(least, 4))
    found = []
    for n in range(1, count + 1):
        spine = Spine(
            width_mm=draw(widths()), height_mm=draw(st.sampled_from([205.0, 210.0])), bands=bands
        )
        title = f"{draw(WORDS)} / Vol. {n}"
        lettering = Lettering(orientation=way)
        found.append((str(n), Job(title=title, spine=spine, lettering=lettering, market="GB")))
    return found


def together(volumes):
    """The same, none of which may be set apart."""
    return [(label, replace(plan_of(job), apart=False)) for label, job in volumes]


@few
@given(sets())
def test_volumes_set_apart_never_make_the_others_smaller(volumes):
    """In the set's own orientation; and no volume set apart is larger than they."""
    report, alike = plan_set(volumes), plan_set(together(volumes))
    if alike.fits:
        assert report.set_pt >= alike.set_pt
    for one in report.volumes:
        if one.apart is not None and one.fits:
            assert one.apart.set_pt <= report.set_pt


@few
@given(sets())
def test_a_set_is_never_larger_than_a_volume_allows_alone(volumes):
    """In the set's own orientation and number of lines, each run by itself."""
    report = plan_set(together(volumes))
    if not report.fits:
        return
    for (_label, job), volume in zip(volumes, report.volumes, strict=True):
        alone = check(replace(job, lettering=replace(job.lettering, lines=report.lines)))
        most = max(one.largest_pt for one in alone.layouts if not one.over_bands)
        assert report.set_pt <= most
        assert report.largest_pt <= most
        assert volume.fits
        assert shown(volume.report).set_pt == report.set_pt


@few
@given(sets(least=3))
def test_another_volume_never_makes_a_set_larger(volumes):
    """In one orientation every volume is a limit and nothing else."""
    fewer, all_of_them = plan_set(together(volumes[:-1])), plan_set(together(volumes))
    if all_of_them.fits:
        assert fewer.fits
        assert all_of_them.set_pt <= fewer.set_pt


@few
@given(sets())
def test_all_stand_at_one_height(volumes):
    report = plan_set(together(volumes))
    if not report.fits:
        return
    judged = [one.title.judged for one in report.volumes]
    heights = [stands_mm(one.job, one.judgement.shown) for one in judged]
    assert heights == pytest.approx([heights[0]] * len(heights), abs=1e-6)


def _as_it_looks(report):
    """The setting shown, whoever chose its size: a set may advise what the pattern then asks.

    Lengths to a millionth of a micrometre: sums are not taken in one order.
    """
    one = shown(report)
    return one._replace(
        set_by=SetBy.ASKED,
        findings=(),
        ink_height_mm=round(one.ink_height_mm, 9),
        spare_mm=tuple(side if side is None else round(side, 9) for side in one.spare_mm),
        baselines_mm=tuple(round(each, 9) for each in one.baselines_mm),
    )


@few
@given(sets())
def test_a_pattern_reproduces_the_layout_of_every_volume(volumes):
    report = plan_set(together(volumes))
    if report.pattern is None:
        return
    assert pattern_text(report.pattern)
    for (_label, job), one in zip(volumes, report.volumes, strict=True):
        again = match_pattern(job, report.pattern)
        assert again.fits
        assert _as_it_looks(again) == _as_it_looks(one.report)


@st.composite
def plans(draw):
    """A back and two to four texts, weights now and then."""
    roles = draw(
        st.lists(
            st.sampled_from([Role.AUTHOR, Role.VOLUME, Role.DATE, Role.IMPRINT]),
            min_size=1,
            max_size=3,
            unique=True,
        )
    )
    weighted = draw(st.booleans())

    def weight():
        return draw(st.integers(1, 5)) if weighted else None

    texts = [BackText(role=Role.TITLE, text=draw(WORDS), weight=weight())]
    texts += [BackText(role=role, text=draw(WORDS), weight=weight()) for role in roles]
    spine = Spine(
        width_mm=draw(st.integers(6, 50)),
        height_mm=float(draw(st.integers(60, 300))),
        bands=draw(st.sampled_from([None, None, 4, 5])),
    )
    return BackPlan(spine=spine, texts=tuple(texts), market="GB")


@few
@given(plans())
def test_every_text_keeps_to_its_zone(plan):
    """Zones lie on the back and never overlap; what fits has its ink inside."""
    report = plan_back(plan)
    assert report.fits == (not report.failing)
    assert {one.role for one in report.texts} == {text.role for text in plan.texts}
    for above, below in pairwise(report.texts):
        assert above.zone.ends_mm <= below.zone.begins_mm + 1e-9
    for one in report.texts:
        assert -1e-9 <= one.zone.begins_mm <= one.zone.ends_mm <= plan.spine.height_mm + 1e-9
        if one.fits:
            assert min(shown(one.report).spare_mm) >= -1e-9


@few
@given(plans())
def test_a_weight_is_a_share(plan):
    """Of the length of back that the texts of one stretch have between them."""
    weights = {text.role: text.weight for text in plan.texts}
    report = plan_back(plan)
    if None in weights.values() or not report.fits:
        return
    for panel in {one.panel for one in report.texts}:
        here = [one for one in report.texts if one.panel == panel]
        total_mm = sum(one.zone.length_mm for one in here)
        total = sum(weights[one.role] for one in here)
        for one in here:
            share = weights[one.role] / total
            assert one.zone.length_mm == pytest.approx(total_mm * share, rel=1e-6)


@few
@given(plans())
def test_a_remedy_is_what_planning_again_shows(plan):
    report = plan_back(plan)
    for remedy in plan_remedies(report):
        if remedy.change != "leave-out":
            continue
        left = tuple(text for text in plan.texts if f"the {text.role}" not in remedy.text[:60])
        left = tuple({text.role: text for text in left}.values())
        title = [text for text in plan.texts if text.role is Role.TITLE]
        again = plan_back(replace(plan, texts=(*title, *(t for t in left if t not in title))))
        assert again.fits
