"""Volumes that stand together: alike in all, limited by the worst."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import Job, Lettering, Panel, Spine, catalogue, check
from spinefit.backs import plan_set
from spinefit.errors import FieldError, JobError
from spinefit.say.phrasing import shown
from spinefit.vocabulary import Orientation, Reading, Sourced, Status, Verdict

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL


def from_tail_mm(volume, job):
    layout = shown(volume.report)
    if layout.reading is Reading.ASCENDING:
        return job.spine.height_mm - layout.first_from_head_mm - layout.ink_width_mm
    return job.spine.height_mm - layout.first_from_head_mm


@pytest.mark.parametrize(
    "more",
    [
        {"lettering": Lettering(orientation=ACROSS)},
        {"lettering": Lettering(orientation=ALONG)},
        {"lettering": Lettering(orientation=ALONG, reading=Reading.ASCENDING)},
        {"bands": 5},
        {"title": "Quay {n}", "lettering": Lettering(orientation=Orientation.PILLAR)},
    ],
    ids=["across", "descending", "ascending", "bands", "pillar"],
)
def test_all_volumes_are_alike(volumes, more):
    """One size, one number of lines, one height over the shelf, however high the volumes."""
    made = volumes(22, 28, 35, heights_mm=(210, 216), **more)
    report = plan_set(made)
    assert report.fits
    assert {shown(one.report).set_pt for one in report.volumes} == {report.set_pt}
    assert {len(shown(one.report).lines) for one in report.volumes} == {report.lines}
    assert {shown(one.report).orientation for one in report.volumes} == {report.orientation}
    heights = [from_tail_mm(one, job) for one, (_n, job) in zip(report.volumes, made, strict=True)]
    assert heights == pytest.approx([heights[0]] * 3, abs=1e-6)


def test_titles_of_other_shapes_stand_on_one_baseline():
    """A Q and a g move nobody; lines are equally far apart in all."""
    made = [
        (label, Job(title=title, spine=Spine(width_mm=30, height_mm=h), market="GB"))
        for label, title, h in (
            ("a", "Quays / ace", 210),
            ("b", "Ångström / gyp", 214),
            ("c", "ace / ace", 208),
        )
    ]
    report = plan_set(made)
    assert report.fits
    pitches = {
        round((one.baselines_mm[0] - one.baselines_mm[1]), 9)
        for one in (shown(volume.report) for volume in report.volumes)
    }
    assert len(pitches) == 1
    heights = [from_tail_mm(one, job) for one, (_n, job) in zip(report.volumes, made, strict=True)]
    assert max(heights) - min(heights) < 1e-6


def test_the_worst_is_named(volumes):
    report = plan_set(volumes(30, 20, 40))
    assert report.limiting == "Vol. 2"
    assert "Vol. 2" in report.answer
    limits = {one.label: one.largest_pt for one in report.volumes}
    assert min(limits, key=limits.get) == "Vol. 2"
    assert report.largest_pt <= min(limits.values())


def test_what_each_allows_alone_is_told(volumes):
    made = volumes(30, 20, 40)
    for one, (_label, job) in zip(plan_set(made).volumes, made, strict=True):
        alone = check(job)
        assert one.alone == alone.layouts[alone.recommended]


def test_one_thin_volume_goes_its_own_way(volumes):
    """Broken; or smaller or along, each as check finds it, and the others gain (Cockerell)."""
    report = plan_set(volumes(40, 45, 18, 60, title="Wreck Post / {n}"))
    assert [one.label for one in report.volumes if one.apart] == ["Vol. 3"]
    thin = report.volumes[2]
    assert (thin.apart.why, thin.apart.change) == ("gain", "broken")
    assert thin.fits and shown(thin.report).set_pt == thin.apart.set_pt
    assert report.set_pt >= 1.15 * report.alike.set_pt
    changes = {one.change: one for one in report.compromises}
    assert set(changes) == {"smaller", "along"}
    for one in changes.values():
        assert one.volume == "Vol. 3"
        assert one.report.fits
        assert shown(one.report).set_pt == one.set_pt
        assert one.others_pt == report.set_pt
    assert thin.apart.set_pt > changes["smaller"].set_pt
    assert shown(changes["along"].report).orientation is ALONG


def test_a_thin_volume_of_fewer_words_is_not_asked_for_the_lines_of_the_others():
    """The others may gain by three lines, which Quay, Vol. 2 does not have."""
    jobs = [
        (
            str(number),
            Job(
                title=f"{title} / Vol. {number}",
                spine=Spine(width_mm=width_mm, height_mm=205.0),
                lettering=Lettering(orientation=Orientation.TRANSVERSE),
                market="GB",
            ),
        )
        for number, (title, width_mm) in enumerate(
            [("Tide Tables", 28.0), ("Quay", 16.0), ("Tide Tables", 28.0)], start=1
        )
    ]
    report = plan_set(jobs)
    assert [one.label for one in report.volumes if one.apart] == ["2"]
    assert report.lines == 3
    changes = {report.volumes[1].apart.change, *(one.change for one in report.compromises)}
    assert "smaller" not in changes


def test_nothing_is_set_apart_where_nothing_is_gained(volumes):
    for widths_mm in ((30, 30, 30), (30, 20), (8, 7.5, 9)):
        report = plan_set(volumes(*widths_mm))
        assert report.alike is None and report.compromises == ()
        assert not any(one.apart for one in report.volumes)


def test_a_volume_too_thin_makes_the_set_fail(volumes):
    report = plan_set(volumes(9, 10, 3.2, title="Annals of Wrackness, {n}"))
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert [one.fits for one in report.volumes] == [True, True, False]
    assert report.pattern is None
    assert "Vol. 3" in report.answer


def test_a_size_asked_for_is_judged(volumes):
    assert plan_set(volumes(25, 30, lettering=Lettering(size_pt=9))).set_pt == 9
    assert not plan_set(volumes(25, 30, lettering=Lettering(size_pt=90))).fits


def test_lines_asked_for_are_kept(volumes):
    report = plan_set(volumes(25, 30, title="Tide Tables {n}", lettering=Lettering(lines=2)))
    assert report.lines == 2


def test_labels_and_open_heights_have_no_common_height():
    labels = [
        (n, Job(title=f"Tide Tables {n}", panel=Panel(width_mm=w, height_mm=20)))
        for n, w in (("1", 20), ("2", 24))
    ]
    report = plan_set(labels)
    assert report.fits
    assert report.pattern.baselines_from_tail_mm is None
    backs = [
        (n, Job(title=f"Tide Tables {n}", spine=Spine(width_mm=w))) for n, w in (("1", 9), ("2", 8))
    ]
    assert plan_set(backs).fits


def test_what_is_no_set_is_refused(volumes):
    one = volumes(30)
    with pytest.raises(JobError, match="fewer than two"):
        plan_set(one)
    with pytest.raises(FieldError, match="volume 2: label"):
        plan_set([*one, *one])
    other = Job(
        title="Tides / 2", spine=Spine(width_mm=30, height_mm=210), lettering=Lettering(size_pt=9)
    )
    with pytest.raises(FieldError, match="volume 2: size: volumes of a set share their size"):
        plan_set([*one, ("b", other)])
    french = Job(title="Marées / 2", spine=Spine(width_mm=30, height_mm=210), market="FR")
    with pytest.raises(FieldError, match="volume 2: reading"):
        plan_set([*one, ("b", french)])
    broken = Job(title="Tides / 2", spine=Spine(width_mm=-1, height_mm=210), market="GB")
    with pytest.raises(FieldError, match="volume 2: width"):
        plan_set([*one, ("b", broken)])
    longer = Job(title="A / B / C", spine=Spine(width_mm=30, height_mm=210), market="GB")
    short = Job(title="Tides", spine=Spine(width_mm=30, height_mm=210), market="GB")
    with pytest.raises(JobError, match="no number of lines"):
        plan_set([("a", longer), ("b", short)])


@pytest.mark.parametrize(
    ("titles", "widths_mm"),
    [(("MILL", "The Harbour Light"), (14.5, 16)), (("Mill", "Tides"), (40, 44))],
)
def test_where_letters_do_not_hold_a_larger_common_size_is_found(titles, widths_mm):
    """One title alone would be advised smaller than the other's letters hold."""
    stroke = Sourced(0.2, "mm", "a test", Status.PRACTICE)
    leather = catalogue.method("leather-label")._replace(stock=None, die=None, stroke=stroke)
    garamond = Lettering(font="EB Garamond")
    jobs = [
        (title, Job(title=title, spine=Spine(width_mm=w, height_mm=210), method=leather,
                    lettering=garamond))
        for title, w in zip(titles, widths_mm, strict=True)
    ]  # fmt: skip
    alone = [shown(check(job)).set_pt for _label, job in jobs]
    assert alone[0] < alone[1]
    report = plan_set(jobs)
    assert report.fits
    assert report.set_pt == alone[1]
    smaller = round(report.set_pt - 0.1, 1)
    held = [
        check(
            replace(
                job,
                lettering=replace(garamond, size_pt=smaller, orientation=report.orientation),
            )
        )
        for _label, job in jobs
    ]
    assert [one.fits for one in held] == [True, False]
