"""Volumes of several texts each: one plan for all."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import Lettering, Spine
from spinefit.backs import plan_back, plan_set
from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.plan import BackPlan, BackText
from spinefit.say.phrasing import shown
from spinefit.vocabulary import Orientation, Reading, Role, Verdict, Work

TITLE = "Annals of the Harbour Commissioners"
SIZES = ((34, 230), (40, 236), (36, 228))


def a_volume(number, width_mm, height_mm, *, spine=None, author="M. Tregear", title=TITLE, **more):
    texts = (
        BackText(role=Role.AUTHOR, text=author),
        BackText(role=Role.TITLE, text=title),
        BackText(role=Role.VOLUME, text=f"Vol. {number}"),
        BackText(role=Role.DATE, text=f"{1888 + number}"),
    )
    back = Spine(width_mm=width_mm, height_mm=height_mm, **(spine or {}))
    return f"Vol. {number}", BackPlan(
        spine=back, texts=texts, market="GB", **{"work": Work.LIBRARY, **more}
    )


def a_set(sizes=SIZES, **more):
    return [a_volume(at, *size, **more) for at, size in enumerate(sizes, 1)]


def by_role(report):
    """For each role what each volume has: its text, and the height of its volume."""
    found = {}
    for volume in report.volumes:
        for one in volume.texts:
            found.setdefault(one.role, []).append(one)
    return found


def from_tail_mm(one, height_mm):
    layout = shown(one.report)
    if layout.reading is Reading.ASCENDING:
        return height_mm - layout.first_from_head_mm - layout.ink_width_mm
    return height_mm - layout.first_from_head_mm


def alike(volumes, report):
    heights = [plan.spine.height_mm for _label, plan in volumes]
    for role, texts in by_role(report).items():
        settled = next(one for one in report.roles if one.role is role)
        assert {one.set_pt for one in texts} == {settled.set_pt}
        assert {len(shown(one.report).lines) for one in texts} == {settled.lines}
        assert {shown(one.report).orientation for one in texts} == {settled.orientation}
        assert {one.panel for one in texts} == {settled.panel}
        stands = [from_tail_mm(one, high) for one, high in zip(texts, heights, strict=True)]
        assert stands == pytest.approx([settled.stands_mm] * len(stands), abs=1e-5)


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"lettering": Lettering(orientation=Orientation.LONGITUDINAL)},
        {"lettering": Lettering(orientation=Orientation.LONGITUDINAL, reading=Reading.ASCENDING)},
        {"spine": {"bands": 5}},
        {"spine": {"rise_mm": 6.0}, "method": "paper-label"},
    ],
    ids=["across", "descending", "ascending", "bands", "labels on a round"],
)
def test_each_role_is_alike_in_all_volumes(more):
    """One size, number of lines, panel and height over the shelf, however high the volumes."""
    if "method" in more:
        more = more | {"lettering": Lettering(font="EB Garamond Bold")}
    volumes = a_set(**more)
    report = plan_set(volumes)
    assert report.fits, report.answer
    assert all(one.fits for volume in report.volumes for one in volume.texts)
    alike(volumes, report)


def test_titles_of_other_shapes_stand_on_one_baseline():
    volumes = [
        a_volume(at, 40, height, title=title)
        for at, (height, title) in enumerate(
            ((210, "Quays / ace"), (214, "Ångström / gyp"), (208, "ace / ace")), 1
        )
    ]
    report = plan_set(volumes)
    assert report.fits
    alike(volumes, report)


def test_the_thinnest_volume_sets_the_limit():
    """Without it the title is larger; without another it is not."""
    volumes = a_set(work=Work.LEATHER)
    report = plan_set(volumes)
    assert (report.limiting, report.limit.role) == ("Vol. 1", Role.TITLE)
    assert "the title sets the limit in Vol. 1" in report.answer

    def title_pt(kept):
        return next(one for one in plan_set(kept).roles if one.role is Role.TITLE).set_pt

    assert title_pt(volumes[1:]) > title_pt(volumes)
    assert title_pt(volumes[:2]) == title_pt(volumes)


def test_a_long_author_sets_the_limit():
    """Along the back its length is what is short; without it the title is larger."""
    along = Lettering(orientation=Orientation.LONGITUDINAL)
    long = "Captain Josiah Penwarne and Others of the Pilots"
    volumes = [
        a_volume(1, 20, 150, lettering=along, title="Tides"),
        a_volume(2, 20, 150, lettering=along, title="Tides", author=long),
    ]
    report = plan_set(volumes)
    assert (report.limiting, report.limit.role) == ("Vol. 2", Role.AUTHOR)


def test_equal_volumes_name_no_volume_as_the_limit():
    report = plan_set(a_set(((34, 230), (34, 230))))
    assert report.limiting is None
    assert report.limit.role is None
    assert "limit" not in report.answer


def test_what_finds_no_room_is_named_with_its_volume():
    report = plan_set(a_set(((34, 230), (3.2, 230))))
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert [one.fits for one in report.volumes] == [True, False]
    assert "of Vol. 2" in report.answer
    assert any("Vol. 2" in one.text for one in report.findings if one.level == "failure")


def test_a_size_asked_for_is_judged():
    found = plan_set(a_set(lettering=Lettering(size_pt=9)))
    assert {one.set_pt for one in by_role(found)[Role.TITLE]} == {9}
    assert not plan_set(a_set(lettering=Lettering(size_pt=90))).fits


def test_a_volume_may_lack_a_text():
    first, second = a_set(SIZES[:2])
    lacking = replace(second[1], texts=second[1].texts[:3])
    report = plan_set([first, (second[0], lacking)])
    assert report.fits
    assert [len(one.texts) for one in report.volumes] == [4, 3]


few = settings(max_examples=15, deadline=None)


@few
@given(
    st.lists(
        st.tuples(st.integers(18, 60), st.sampled_from([205, 210, 230])), min_size=2, max_size=3
    ),
    st.sampled_from([Orientation.TRANSVERSE, Orientation.LONGITUDINAL]),
    st.sampled_from([None, 5]),
    st.sampled_from(["Tides", TITLE, "Quays and gyp"]),
)
def test_all_volumes_are_alike_and_no_larger_than_each_alone(sizes, way, bands, title):
    """Where they fit and none may be set apart; by itself, all texts open, none is smaller."""
    lettering = Lettering(orientation=way)
    try:
        volumes = a_set(
            sizes, lettering=lettering, spine={"bands": bands}, title=title, apart=False
        )
        report = plan_set(volumes)
    except JobError:
        return  # panels without a height in common
    if not report.fits:
        return
    alike(volumes, report)
    for (_label, plan), volume in zip(volumes, report.volumes, strict=True):
        zones = sorted(one.zone for one in volume.texts)
        assert all(a.ends_mm <= b.begins_mm + 1e-9 or a == b for a, b in pairwise(zones))
        assert plan_back(plan).fits


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"spine": Spine(width_mm=30, height_mm=210, bands=5)}, "volume 2: bands"),
        ({"spine": Spine(width_mm=30)}, "volume 2: height"),
        ({"lettering": Lettering(font="EB Garamond Bold")}, "volume 2: font"),
        ({"texts": (BackText(role=Role.DATE, text="1889"),)}, "none of the texts is the title"),
        (
            {"texts": (BackText(role=Role.TITLE, text="Tides", font="EB Garamond Bold"),)},
            "volume 2: text 1: font",
        ),
        ({"texts": (BackText(role=Role.TITLE, text="A / B / C / D / E"),)}, "no number of lines"),
        ({"market": "FR", "texts": (BackText(role=Role.TITLE, text="Marées"),)}, "reading"),
    ],
)
def test_what_cannot_be_planned_together_is_refused(change, said):
    first, (label, plan) = a_set(SIZES[:2], title="Tides")
    with pytest.raises((FieldError, JobError), match=said):
        plan_set([first, (label, replace(plan, **change))])


def test_too_few_and_equal_labels_are_refused():
    first = a_set(SIZES[:1])
    with pytest.raises(SpinefitError, match="fewer than two"):
        plan_set(first)
    with pytest.raises(SpinefitError, match="volume 2: label"):
        plan_set([*first, *first])
