"""What holds for any job, from what was said to the report."""

from __future__ import annotations

import dataclasses
import json
import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from spinefit import Job, Lettering, Panel, Spine, SpinefitError, check, schema
from spinefit.job.lengths import parse_length
from spinefit.say.as_json import to_dict, to_json
from spinefit.vocabulary import Orientation, Reading, SetBy, Turn, Verdict
from tests.properties.strategies import half_mm, jobs, letterings, spines, titles

CASES = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
FLOOR = 5.0  # of a printed paperback cover
ROUNDING_PT = 1.001e-3  # limits are rounded down to a thousandth


def answer(job: Job, *, verify: bool = False):
    """The report, or nothing where the job is refused for good reason."""
    try:
        return check(job, verify=verify)
    except SpinefitError as fault:
        assert type(fault).__name__ not in ("VerificationError", "CatalogueError", "OutputError")
        assume(False)


def known(spare) -> list[float]:
    sides = (spare.left, spare.right, spare.head, spare.tail)
    return [side for side in sides if side is not None]


def own(report) -> list:
    return [one for one in report.layouts if not one.over_bands]


@CASES
@given(jobs())
def test_fits_means_from_the_floor_to_the_largest(job):
    """And nothing else does; over the bands nothing fits."""
    report = answer(job)
    for one in report.layouts:
        assert one.fits == (FLOOR <= one.set_pt <= one.largest_pt and not one.over_bands)
        assert not one.tight or one.fits
        assert one.set_by is (SetBy.ADVISED if job.lettering.size_pt is None else SetBy.ASKED)
    assert (report.recommended is None) == (not any(one.fits for one in report.layouts))
    if report.recommended is None:
        assert report.verdict is Verdict.DOES_NOT_FIT
    else:
        best = report.layouts[report.recommended]
        assert best.fits
        assert report.verdict is (Verdict.TIGHT if best.tight else Verdict.FITS)


@CASES
@given(jobs())
def test_ink_spare_and_clearance_make_up_the_panel(job):
    """Across and along the spine, whatever the turn; and what fits has nothing to spare below 0."""
    report = answer(job)
    kept = 2 * (job.lettering.clearance_mm or 0.0)
    for one in own(report):
        turned = one.turn is not Turn.NONE
        across = one.ink_height_mm if turned else one.ink_width_mm
        along = one.ink_width_mm if turned else one.ink_height_mm
        spare = one.spare_mm
        assert spare.left + across + spare.right + kept == pytest.approx(
            report.panel.width_mm, abs=1e-9
        )
        if report.panel.height_mm is None:
            assert spare.head is spare.tail is None
        else:
            assert spare.head + along + spare.tail + kept == pytest.approx(
                report.panel.height_mm, abs=1e-9
            )
        if one.fits:
            assert min(known(spare)) >= -1e-9
        if one.set_pt > one.largest_pt + 0.002:
            assert min(known(spare)) < 0


@CASES
@given(jobs())
def test_at_the_largest_size_some_side_has_nothing_to_spare(job):
    """The limit is no less than it could be: to a thousandth of a point."""
    report = answer(job)
    for one in own(report):
        if one.largest_pt < 1 or one.word_broken:
            continue
        at = replace(
            job, lettering=replace(job.lettering, size_pt=one.largest_pt, lines=len(one.lines))
        )
        same = next(
            other
            for other in check(at).layouts
            if (other.orientation, other.lines, other.over_bands)
            == (one.orientation, one.lines, False)
        )
        assert same.fits == (one.largest_pt >= FLOOR)
        # at most a thousandth of a point of ink, on lines of up to some fifty em
        assert -1e-9 <= min(known(same.spare_mm)) < 0.02


def largest(report) -> dict:
    """Largest size of each orientation and number of lines, breaks inside words apart."""
    found: dict = {}
    for one in own(report):
        key = (one.orientation, len(one.lines), one.word_broken)
        found[key] = max(found.get(key, 0.0), one.largest_pt)
    return found


@CASES
@given(
    titles(forced=False),
    half_mm(4, 40),
    half_mm(4, 60),
    half_mm(0, 20),
    half_mm(0, 20),
    letterings,
)
def test_a_larger_panel_never_takes_less(title, width, height, wider, higher, lettering):
    """Wider or higher, every orientation and number of lines is at least as large."""
    lettering = replace(lettering, break_words=None)
    small, large = (
        answer(Job(title=title, panel=Panel(width_mm=w, height_mm=h), lettering=lettering))
        for w, h in ((width, height), (width + wider, height + higher))
    )
    before, after = largest(small), largest(large)
    assert before.keys() == after.keys()
    assert all(after[key] >= before[key] for key in before)


@CASES
@given(titles(), half_mm(2, 40), half_mm(0, 20), st.sampled_from([None, 4]), letterings)
def test_a_wider_back_never_takes_less(title, width, wider, bands, lettering):
    """The edge rule takes nothing back."""
    lettering = replace(lettering, break_words=None)
    small, large = (
        answer(
            Job(
                title=title,
                spine=Spine(width_mm=w, height_mm=200.0, bands=bands),
                lettering=lettering,
            )
        )
        for w in (width, width + wider)
    )
    before, after = largest(small), largest(large)
    assert all(after[key] >= before[key] - ROUNDING_PT for key in before)


@CASES
@given(titles(), half_mm(4, 40), half_mm(4, 60), letterings)
def test_twice_the_panel_takes_twice_the_size(title, width, height, lettering):
    """Ink scales; so do all lengths typed in mm."""
    kept = lettering.clearance_mm
    small, large = (
        answer(
            Job(
                title=title,
                panel=Panel(width_mm=times * width, height_mm=times * height),
                lettering=replace(
                    lettering, clearance_mm=None if kept is None else times * kept, size_pt=None
                ),
            )
        )
        for times in (1, 2)
    )
    before, after = largest(small), largest(large)
    assert before.keys() == after.keys()
    for key, size in before.items():
        assert after[key] == pytest.approx(2 * size, abs=3.1e-3)


@CASES
@given(titles(), st.integers(1, 32), st.integers(16, 96), st.sampled_from([None, 4]))
def test_inches_and_millimetres_agree(title, sixteenths, eighths, bands):
    """Three eighths of an inch are 9.525 mm."""
    width = parse_length(f"{sixteenths + 3}/16in")
    height = parse_length(f"{eighths}/8in")
    assert width == pytest.approx((sixteenths + 3) * 25.4 / 16, rel=1e-12)
    one, other = (
        answer(Job(title=title, spine=Spine(width_mm=w, height_mm=h, bands=bands)))
        for w, h in (
            (width, height),
            (parse_length(f"{width!r}mm"), parse_length(f"{height / 10!r}cm")),
        )
    )
    before, after = largest(one), largest(other)
    assert before == pytest.approx(after, abs=ROUNDING_PT)


@CASES
@given(jobs())
def test_reading_the_other_way_mirrors_the_back(job):
    """Same sizes, lines and verdict; left and right changed over for lines along the back."""
    down, up = (
        answer(replace(job, lettering=replace(job.lettering, reading=reading)))
        for reading in (Reading.DESCENDING, Reading.ASCENDING)
    )
    assert down.verdict == up.verdict
    assert down.recommended == up.recommended
    for one, other in zip(down.layouts, up.layouts, strict=True):
        assert (one.lines, one.largest_pt, one.set_pt) == (
            other.lines,
            other.largest_pt,
            other.set_pt,
        )
        sides = (one.spare_mm.left, one.spare_mm.right)
        if one.orientation is Orientation.LONGITUDINAL:
            sides = sides[::-1]
        assert sides == pytest.approx((other.spare_mm.left, other.spare_mm.right), abs=1e-9)


@CASES
@given(titles(forced=False), half_mm(6, 40), half_mm(6, 60), st.data())
def test_a_forced_break_never_beats_the_free_optimum(title, width, height, data):
    """Of as many lines, the free title is at least as large."""
    places = [at for at, char in enumerate(title) if char == " " and title[at - 1] != "."]
    assume(places)
    at = data.draw(st.sampled_from(places))
    forced = f"{title[:at]} / {title[at + 1 :]}"
    panel = Panel(width_mm=width, height_mm=height)
    free = largest(answer(Job(title=title, panel=panel, language="en")))
    for key, size in largest(answer(Job(title=forced, panel=panel, language="en"))).items():
        if key in free:
            assert size <= free[key] + 1e-9


def numbers(value):
    """Every number of a report."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list | tuple):
        for part in value:
            yield from numbers(part)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value


@CASES
@given(jobs())
def test_every_number_of_a_report_is_finite_and_survives_json(job):
    report = answer(job)
    found = to_dict(report)
    assert all(math.isfinite(number) for number in numbers(found))
    assert json.loads(to_json(report)) == found


REPORTS = Draft202012Validator(schema("report"))


@CASES
@given(jobs())
def test_a_report_is_what_its_schema_says(job):
    """No key, word or kind of value that is not in the schema, and none missing."""
    faults = [(one.json_path, one.message) for one in REPORTS.iter_errors(to_dict(answer(job)))]
    assert not faults


@CASES
@given(jobs())
def test_every_number_of_lines_is_listed_once_or_more(job):
    """From the forced lines up without a gap; nothing that was not asked for."""
    report = answer(job)
    asked = job.lettering.orientation
    forced = job.title.count(" / ") + 1
    for orientation in {one.orientation for one in report.layouts}:
        assert asked in (None, orientation)
        counts = {len(one.lines) for one in own(report) if one.orientation is orientation}
        assert counts == set(range(forced, max(counts) + 1))
    for one in report.layouts:
        if not one.word_broken:
            assert "".join(one.lines).replace(" ", "") == report.title.replace(" ", "")


@CASES
@given(jobs())
def test_the_same_job_gives_the_same_report(job):
    """Checked twice, with and without the geometry engine, which never disagrees."""
    report = answer(job, verify=True)
    assert check(job) == report
    assert dataclasses.is_dataclass(job)


@CASES
@given(jobs(), half_mm(0, 5))
def test_a_range_is_judged_at_its_least(job, more):
    """The layouts are those of the least width alone."""
    assume(job.spine is not None and more > 0)
    assume(job.spine.rise_mm is None)
    width = job.spine.width_mm
    ranged = answer(replace(job, spine=replace(job.spine, width_mm=(width, width + more))))
    alone = answer(job)
    assert ranged.layouts == alone.layouts
    assert ranged.verdict == alone.verdict
    assert any(finding.topic == "width-range" for finding in ranged.findings)


@CASES
@given(titles(forced=False), half_mm(4, 30), half_mm(10, 60), half_mm(0, 3), half_mm(0, 3))
def test_clearance_never_adds(title, width, height, one_mm, more_mm):
    """More clearance never allows a larger size."""
    panel = Panel(width_mm=width, height_mm=height)
    less, more = (
        largest(answer(Job(title=title, panel=panel, lettering=Lettering(clearance_mm=kept))))
        for kept in (one_mm, one_mm + more_mm)
    )
    assert all(more[key] <= less[key] for key in less)


@CASES
@given(
    st.lists(st.sampled_from("TIDESQUAYÉ g"), min_size=1, max_size=12).map("".join),
    spines(),
)
def test_a_pillar_stands_in_its_panel(title, spine):
    assume(title.strip())
    job = Job(title=title, spine=spine, lettering=Lettering(orientation=Orientation.PILLAR))
    report = answer(job)
    (one,) = report.layouts
    assert one.fits == (FLOOR <= one.set_pt <= one.largest_pt)
    assert one.spare_mm.left == pytest.approx(one.spare_mm.right, abs=1e-9)
    if spine.height_mm is not None:
        assert one.spare_mm.head == pytest.approx(one.spare_mm.tail, abs=1e-9)
    assert not one.fits or min(known(one.spare_mm)) >= -1e-9
