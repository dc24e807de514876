"""What a set has settled, in a file and on the next volume."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.backs import match_pattern, pattern_of, plan_set
from spinefit.errors import FieldError, JobError
from spinefit.plan.pattern import pattern_text, read_pattern
from spinefit.say.phrasing import shown
from spinefit.say.plan_words import matched
from spinefit.vocabulary import Case, Level, Orientation, Reading, Work

NEXT = Job(
    title="Tide Tables / Vol. 3",
    spine=Spine(width_mm=30, height_mm=210),
    market="GB",
    work=Work.LIBRARY,
)


@pytest.fixture
def pattern(volumes):
    return pattern_of(plan_set(volumes(24, 28)))


def failures(report):
    return [one.topic for one in report.findings if one.level is Level.FAILURE]


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"bands": 5},
        {"lettering": Lettering(orientation=Orientation.LONGITUDINAL)},
        {
            "lettering": Lettering(
                orientation=Orientation.LONGITUDINAL,
                reading=Reading.ASCENDING,
                case=Case.CAPITALS,
                tracking=40,
            )
        },
    ],
    ids=["across", "bands", "along", "ascending"],
)
def test_a_pattern_gives_a_volume_of_the_set_its_layout_again(volumes, more, tmp_path):
    """Exactly, also after it has been through a file."""
    made = volumes(24, 28, 40, heights_mm=(210, 213), **more)
    found = plan_set(made)
    file = tmp_path / "set.toml"
    file.write_text(pattern_text(pattern_of(found)), encoding="utf-8")
    pattern = read_pattern(file)
    assert pattern == found.pattern
    for one, (_label, job) in zip(found.volumes, made, strict=True):
        again = match_pattern(job, pattern)
        assert again.fits
        assert shown(again) == shown(one.report)


def test_the_next_volume_matches(pattern):
    report = match_pattern(NEXT, pattern)
    assert report.fits
    assert report.answer.startswith("It matches the pattern: it fits")
    assert shown(report).set_pt == pattern.size_pt


def test_nothing_is_solved_again(pattern):
    """A thinner volume gets no smaller letters; it does not fit."""
    report = match_pattern(replace(NEXT, spine=Spine(width_mm=8, height_mm=210)), pattern)
    assert not report.fits
    assert shown(report).set_pt == pattern.size_pt
    assert report.answer.startswith(f"It does not match the pattern. At {pattern.size_pt:g} pt it")


def test_the_answer_beside_a_pattern_says_no_once():
    """Not that it does not match since it does not fit since."""
    said = matched(False, "It does not fit: the author needs 9 mm more.")
    assert said == "It does not match the pattern: the author needs 9 mm more."


def test_a_pattern_of_one_job(pattern):
    job = Job(title="Tides", spine=Spine(width_mm=25, height_mm=200), market="GB")
    report = check(job)
    found = pattern_of(report, job)
    assert shown(match_pattern(job, found)).lines == shown(report).lines
    with pytest.raises(JobError, match="job"):
        pattern_of(report)
    unfit = replace(job, lettering=Lettering(size_pt=900))
    with pytest.raises(JobError, match="does not fit"):
        pattern_of(check(unfit), unfit)


@pytest.mark.parametrize(
    ("job", "topic"),
    [
        (replace(NEXT, spine=Spine(width_mm=30, height_mm=90)), "pattern-height"),
        (replace(NEXT, lettering=Lettering(font="EB Garamond Bold")), "pattern-font"),
        (replace(NEXT, lettering=Lettering(size_pt=8)), "pattern-size"),
        (replace(NEXT, lettering=Lettering(case=Case.CAPITALS)), "pattern-case"),
        (
            replace(NEXT, lettering=Lettering(orientation=Orientation.LONGITUDINAL)),
            "pattern-orientation",
        ),
        (replace(NEXT, lettering=Lettering(tracking=50)), "pattern-tracking"),
        (replace(NEXT, title="Tides"), "pattern-lines"),
    ],
    ids=["height", "font", "size", "case", "orientation", "tracking", "lines"],
)
def test_each_breach_is_a_finding(pattern, job, topic):
    report = match_pattern(job, pattern)
    assert not report.fits
    assert report.recommended is None
    assert topic in failures(report)
    assert report.answer.startswith("It does not match the pattern")
    assert not any(one.fits for one in report.layouts)


def test_a_font_file_that_changed_is_told(pattern):
    report = match_pattern(NEXT, pattern._replace(font_sha256="0" * 64))
    assert failures(report) == ["pattern-font"]


def test_a_height_is_needed(pattern):
    with pytest.raises(FieldError, match="--height"):
        match_pattern(replace(NEXT, spine=Spine(width_mm=30)), pattern)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("spinefit.pattern/1", "other/1", "schema"),
        ("lines = ", "lines = -", "lines"),
        ("size_pt", "size", "size"),
        ('case = "as-typed"', "", "case"),
        ("size_pt = ", "size_pt = -", "size_pt"),
        ("baselines_from_tail_mm = [", "baselines_from_tail_mm = [1.0, ", "baselines"),
        ("tracking = 0.0", "tracking = nan", "tracking"),
        ("lines = ", "lines = = ", "pattern"),
    ],
)
def test_a_broken_pattern_is_refused(pattern, tmp_path, old, new, said):
    """With the file and the key."""
    file = tmp_path / "set.toml"
    file.write_text(pattern_text(pattern).replace(old, new), encoding="utf-8")
    with pytest.raises(JobError, match=said) as found:
        read_pattern(file)
    assert str(file) in str(found.value)


def test_no_such_pattern(tmp_path):
    with pytest.raises(JobError, match="no such pattern"):
        read_pattern(tmp_path / "none.toml")


def test_a_whole_set_is_matched_volume_by_volume(volumes, pattern):
    """What is said of each is what `match_pattern` says of it alone; nothing is solved."""
    made = volumes(24, 28, 8)
    report = plan_set(made, pattern=pattern)
    assert report.set_pt == pattern.size_pt
    assert [one.fits for one in report.volumes] == [True, True, False]
    assert not report.fits
    assert report.answer.startswith("Vol. 3 does not match the pattern")
    for one, (_label, job) in zip(report.volumes, made, strict=True):
        assert one.report == match_pattern(job, pattern)
    assert [one.text for one in report.findings if one.text.startswith("Vol. 3: ")]
    good = plan_set(made[:2], pattern=pattern)
    assert good.fits
    assert good.answer == f"Vol. 1 and Vol. 2 match the pattern at {pattern.size_pt:g} pt."


def test_a_breach_names_its_volume(volumes, pattern):
    made = volumes(24, 28, lettering=Lettering(font="EB Garamond Bold"))
    report = plan_set(made, pattern=pattern)
    assert [one.topic for one in report.findings] == ["pattern-font"] * 2
    assert [one.text[:6] for one in report.findings] == ["Vol. 1", "Vol. 2"]


def test_a_fault_in_a_set_names_its_volume(volumes, pattern):
    made = volumes(24, 28)
    open_height = replace(made[1][1], spine=Spine(width_mm=28))
    with pytest.raises(FieldError, match="volume 2: height"):
        plan_set([made[0], (made[1][0], open_height)], pattern=pattern)
