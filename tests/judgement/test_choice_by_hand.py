"""The steps of the choice, each on settings of which only what it looks at is known."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from spinefit.catalogue import rules
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.judgement.choice import _first_readable, _levels
from spinefit.judgement.custom import needs_room_across, unless_forced
from spinefit.judgement.reading import reads_best

EASY = rules().value("legibility.least_arcmin")


def a_job(*, panel=None, **lettering):
    spine = None if panel else Spine(width_mm=20.0, height_mm=200.0)
    return resolve(Job(title="Tides", spine=spine, panel=panel, lettering=Lettering(**lettering)))


def setting(
    *,
    lines=1,
    broken=0,
    set_pt=10.0,
    largest_pt=20.0,
    penalty=0.0,
    arcminutes=20.0,
    phrases=0,
    widest_em=4.0,
    cap_height_mm=3.0,
):
    group = SimpleNamespace(
        line_count=lines,
        lines=SimpleNamespace(phrases=phrases),
        widths_em=(3.0, widest_em),
        breaks=broken,
        penalty=penalty,
        shape="rectangle",
    )
    return SimpleNamespace(
        layout=SimpleNamespace(group=group),
        set_pt=set_pt,
        largest_pt=largest_pt,
        arcminutes=arcminutes,
        is_read_with_ease=arcminutes >= EASY,
        tight=False,
        cap_height_mm=cap_height_mm,
    )


@pytest.mark.parametrize(("set_pt", "taken"), [(9.0, True), (8.99, False), (9.5, True)])
def test_a_tenth_smaller_counts_as_equal(set_pt, taken):
    """The tenth itself included; then the one without a fault is advised."""
    faulty, good = setting(set_pt=10.0, penalty=3.0), setting(set_pt=set_pt)
    assert reads_best(a_job(), [faulty, good]) is (good if taken else faulty)


@pytest.mark.parametrize(("largest_pt", "taken"), [(18.0, True), (17.99, False), (19.0, True)])
def test_at_an_asked_size_what_could_be_a_tenth_larger_counts_as_equal(largest_pt, taken):
    faulty, good = setting(penalty=3.0), setting(largest_pt=largest_pt)
    assert reads_best(a_job(size_pt=10.0), [faulty, good]) is (good if taken else faulty)


def test_of_equals_the_fewest_lines_then_the_largest():
    three, two, larger = setting(lines=3), setting(lines=2), setting(lines=2, set_pt=10.2)
    assert reads_best(a_job(), [three, two, larger]) is larger
    roomy = setting(lines=2, set_pt=10.2, largest_pt=21.0)
    assert reads_best(a_job(), [larger, roomy, three]) is roomy


def test_of_as_many_lines_phrases_then_evenness_count_before_a_hair_of_size():
    """Tide Tables / of the Northern Roads, not Tide / Tables of the Northern Roads."""
    lopsided = setting(lines=2, phrases=0, widest_em=9.0, set_pt=17.1)
    even = setting(lines=2, phrases=0, widest_em=7.0, set_pt=17.0)
    phrased = setting(lines=2, phrases=1, widest_em=8.0, set_pt=16.9)
    assert reads_best(a_job(), [lopsided, even]) is even
    assert reads_best(a_job(), [lopsided, even, phrased]) is phrased


def test_usual_settings_come_before_more_lines_and_those_before_broken_words():
    one, four, five = setting(lines=1), setting(lines=4), setting(lines=5)
    cut, cut_long, twice = setting(broken=1), setting(lines=6, broken=1), setting(broken=2)
    levels = list(_levels([twice, cut_long, five, cut, four, one], 4))
    assert levels == [[four, one], [five], [cut], [cut_long], [twice]]


def test_the_first_read_with_ease_is_taken():
    """16 minutes of arc, and one broken word at most; else 10 minutes; else the first."""
    dim, pinched = setting(arcminutes=9.9), setting(arcminutes=10.0)
    easy, easier = setting(arcminutes=16.0), setting(arcminutes=30.0)
    twice = setting(arcminutes=30.0, broken=2)
    job = a_job()
    assert _first_readable(job, [dim, pinched, easy, easier]) is easy
    assert _first_readable(job, [twice, pinched, easier]) is easier
    assert _first_readable(job, [dim, pinched, twice]) is pinched
    assert _first_readable(job, [dim, dim]) is dim


@pytest.mark.parametrize(
    ("arcminutes", "along_mm", "forced"),
    [(9.9, 6.1, True), (9.9, 5.9, False), (10.0, 30.0, False)],
)
def test_in_a_panel_only_what_is_read_clearly_better_goes_along(arcminutes, along_mm, forced):
    """Across it cannot be read, and its capitals are not half as high: never for a hair of size."""
    job = a_job(panel=Panel(width_mm=30.0, height_mm=30.0))
    flat, upright = setting(arcminutes=arcminutes), setting(cap_height_mm=along_mm)
    best, (why,) = unless_forced(job, flat, upright)
    assert best is (upright if forced else flat)
    assert why.topic == ("across-unreadable" if forced else "across-in-label")


@pytest.mark.parametrize(("height_mm", "tall"), [(75.0, False), (75.1, True)])
def test_a_label_two_and_a_half_times_as_high_as_wide_is_not_tall_yet(height_mm, tall):
    job = a_job(panel=Panel(width_mm=30.0, height_mm=height_mm))
    assert needs_room_across(job) is tall
