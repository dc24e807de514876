"""Ways out, each run again by hand."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.job.model import Job, Lettering, Panel, Spine
from spinefit.pipeline import check
from spinefit.vocabulary import BreakWords, Case, Orientation, Verdict

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL


def a_job(title="The Harbour Light", *, spine=None, panel=None, **fields) -> Job:
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    return Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)


def lettered(job: Job, **changes) -> Job:
    return replace(job, lettering=replace(job.lettering, **changes))


def best(report):
    return None if report.recommended is None else report.layouts[report.recommended]


def remedies(report) -> dict:
    return {remedy.change: remedy for remedy in report.remedies}


def cover_of(job: Job) -> Job:
    """The front cover: as broad as its height over the square root of 2, less its margins."""
    rules = catalogue.rules()
    height = job.spine.height_mm
    part = 1 - 2 * rules.value("cover.margin_share")
    panel = Panel(
        width_mm=height * rules.value("cover.board_ratio") * part, height_mm=height * part
    )
    return lettered(
        replace(job, spine=None, panel=panel, shape=None),
        orientation=ACROSS,
        lines=None,
        size_pt=None,
    )


def whole(job: Job) -> Job:
    title = job.title.replace(" / ", " ")
    return lettered(replace(job, title=title), lines=None)


def by_options(job: Job, options: str) -> Job:
    """The job with a remedy's options added, as a person would add them."""
    words = options.split()
    changes: dict[str, object] = {}
    for name, value in zip(words[::2], words[1::2], strict=True):
        if name == "--size":
            changes["size_pt"] = float(value)
        elif name == "--lines":
            changes["lines"] = None if value == "any" else int(value)
        elif name == "--orientation":
            changes["orientation"] = Orientation(value)
        elif name == "--case":
            changes["case"] = Case(value)
        else:
            assert name == "--break-words"
            changes["break_words"] = BreakWords(value)
    return lettered(job, **changes)


def by_hand(job: Job, report, remedy):
    """The layout advised when the remedy is followed."""
    if remedy.change == "cover":
        return best(check(cover_of(job)))
    if remedy.change == "over-bands":
        found = next(one for one in report.layouts if one.over_bands)
        spine = replace(job.spine, bands=0, bands_at_mm=None, head_mm=3, foot_mm=3)
        bare = check(lettered(replace(job, spine=spine), orientation=ALONG, lines=1))
        assert bare.layouts[0].largest_pt == found.largest_pt
        return found
    if remedy.change == "split":
        job = whole(job)
    if remedy.change == "turn" and job.lettering.orientation is Orientation.PILLAR:
        job = lettered(job, lines=None)
    return best(check(by_options(job, remedy.options)))


def claims_hold(job: Job) -> None:
    report = check(job)
    for remedy in report.remedies:
        assert remedy.text.endswith(".")
        if remedy.largest_pt is None:
            assert remedy.change == "cover"
            assert job.spine is None or job.spine.height_mm is None
            continue
        found = by_hand(job, report, remedy)
        assert found is not None
        assert remedy.largest_pt == found.largest_pt
        known = [getattr(found.spare_mm, side) for side in ("left", "right", "head", "tail")]
        assert remedy.spare_mm == min(side for side in known if side is not None)
        assert found.fits or found.over_bands
        assert f"{round(found.set_pt, 1):g} pt" in remedy.text
    costs = [remedy.cost for remedy in report.remedies]
    assert costs == sorted(costs)
    if report.verdict is Verdict.FITS and best(report).reads_from_mm >= (
        job.reading_distance_mm or 500.0
    ):
        assert not report.remedies


JOBS = {
    "too large": a_job("Tides", spine={"width_mm": 12.0}, size_pt=60.0),
    "tight": a_job(
        "Tides", spine={"width_mm": 6.0}, size_pt=10.0, orientation=Orientation.LONGITUDINAL
    ),
    "too narrow": a_job(spine={"width_mm": 2.5}),
    "across asked": a_job(spine={"width_mm": 13.0}, orientation=ACROSS),
    "one line asked": a_job(spine={"width_mm": 13.0}, orientation=ACROSS, lines=1),
    "forced breaks": a_job(
        "A / Light / in the / Harbour",
        spine={"width_mm": 7.0},
        orientation=Orientation.LONGITUDINAL,
    ),
    "bands": a_job(
        "A History of the Harbour Commissioners of the Port and Town",
        spine={"width_mm": 9.0, "bands": 5},
    ),
    "mixed case": a_job("quay", spine={"width_mm": 4.0}),
    "label": a_job("The Harbour Light", panel=Panel(width_mm=9.0, height_mm=6.0)),
    "open height": a_job(spine={"width_mm": 2.5, "height_mm": None}),
    "pillar": a_job("TIDES AND QUAYS", spine={"height_mm": 60.0}, orientation=Orientation.PILLAR),
    "long word": a_job("Constantinopolitanischer", spine={"width_mm": 16.0, "bands": 5}),
    "small method": a_job("Tides", size_pt=3.0),
}


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_what_a_remedy_claims_is_what_the_changed_job_gives(job):
    claims_hold(job)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(
        [
            "Tides",
            "The Harbour Light",
            "Lighthousekeeping",
            "A Light / in the Harbour",
            "quays and piers of the coast",
            "A History of the Harbour Commissioners of the Port, Vol. 2",
        ]
    ),
    st.integers(4, 50),
    st.sampled_from([None, 120.0, 200.0]),
    st.sampled_from([None, 4]),
    st.sampled_from([None, 4.0, 14.0, 40.0]),
    st.sampled_from([None, ACROSS, Orientation.LONGITUDINAL]),
    st.sampled_from([None, 2]),
    st.sampled_from([None, Case.CAPITALS]),
)
def test_what_remedies_claim_holds_for_any_job(
    title, width, height, bands, size, orientation, lines, case
):
    if lines and title in ("Tides", "Lighthousekeeping"):
        lines = None
    claims_hold(
        a_job(
            title,
            spine={"width_mm": width / 2, "height_mm": height, "bands": bands},
            size_pt=size,
            orientation=orientation,
            lines=lines,
            case=case,
        )
    )


def test_a_size_too_large_is_answered_with_the_advised_one():
    report = check(JOBS["too large"])
    bare = check(lettered(JOBS["too large"], size_pt=None))
    assert report.remedies[0].change == "smaller"
    assert f"{best(bare).set_pt:g} pt" in report.remedies[0].text


def test_a_tight_size_is_answered_with_one_that_is_not():
    """The largest step of the method at which the tolerance is covered."""
    job = JOBS["tight"]
    report = check(job)
    assert report.verdict is Verdict.TIGHT
    size = float(re.search(r"([\d.]+) pt", remedies(report)["smaller"].text)[1])
    assert check(lettered(job, size_pt=size)).verdict is Verdict.FITS
    assert check(lettered(job, size_pt=round(size + 0.1, 1))).verdict is Verdict.TIGHT


def test_turning_is_offered_where_one_orientation_was_asked():
    report = check(JOBS["across asked"])
    assert "along the back, from head to tail" in remedies(report)["turn"].text
    assert "turn" not in remedies(check(a_job(spine={"width_mm": 13.0})))


def test_breaking_a_word_is_offered_and_shown():
    """Only ever as a remedy, with the lines that it gives."""
    remedy = remedies(check(JOBS["long word"]))["break-word"]
    assert "- / " in remedy.text
    assert remedy.text.startswith("If you allow a word to be broken")


def test_over_the_bands_is_offered_only_if_forced():
    remedy = remedies(check(JOBS["bands"]))["over-bands"]
    assert remedy.text.startswith("Only if forced")


def test_the_cover_is_offered_last():
    report = check(JOBS["too narrow"])
    assert report.remedies[-1].change == "cover"
    assert report.remedies[-1].cost == max(remedy.cost for remedy in report.remedies)


def test_what_fits_and_can_be_read_needs_no_remedy():
    assert check(a_job()).remedies == ()


def test_the_answer_ends_with_the_smallest_change():
    report = check(JOBS["too large"])
    assert report.answer.endswith("; set it smaller: 14.6 pt.")
