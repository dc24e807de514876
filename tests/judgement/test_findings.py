"""What is found about a back, a layout and a market, at which level, by whose rule."""

from __future__ import annotations

import math

import pytest

from spinefit import catalogue
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.values import Panel
from spinefit.pipeline import check
from spinefit.units import height_mm_at_arcminutes
from spinefit.vocabulary import (
    BackForm,
    BreakWords,
    Case,
    Firmness,
    Level,
    Orientation,
    Reading,
    Status,
    Verdict,
)

ALONG = Orientation.LONGITUDINAL


def a_report(title="The Harbour Light", *, spine=None, panel=None, **fields):
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    return check(
        Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)
    )


def found(report, topic: str):
    """The finding of that topic on the job or on the advised layout; None for none."""
    own = report.layouts[report.recommended].findings if report.recommended is not None else ()
    return next((one for one in (*report.findings, *own) if one.topic == topic), None)


# --- legibility --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arcminutes", "level", "limit"),
    [
        (9.99, Level.FAILURE, 10),
        (10.01, Level.NOTE, 16),
        (15.99, Level.NOTE, 16),
        (16.01, Level.GOOD, 16),
        (40.0, Level.GOOD, 16),
    ],
)
def test_legibility_is_graded_by_the_cap_height(arcminutes, level, limit):
    """Below 10 a failure finding, to 16 a note, then good; and it never decides the verdict."""
    one = a_report("Tides", size_pt=12.0).layouts[0]
    distance = one.cap_height_mm / height_mm_at_arcminutes(arcminutes, 1.0)
    report = a_report("Tides", size_pt=12.0, reading_distance_mm=distance)
    finding = found(report, "legibility")
    assert finding.value == pytest.approx(arcminutes, abs=1e-3)
    assert (finding.level, finding.limit, finding.unit) == (level, limit, "arcmin")
    assert report.verdict is Verdict.FITS


ROUND = {"width_mm": 20.0, "back": BackForm.ROUNDED, "radius_mm": 12.0, "edge_mm": 0.5}


@pytest.mark.parametrize("lines", [1, 2])
def test_along_a_round_the_height_is_what_the_eye_gets(lines):
    """The cosine at the outer edge of the band of capitals, farther out in two lines than in one.

    Source: trade facts, section 7 (cos of the angle); section 4 (height from angle).
    """
    fields = {"size_pt": 14.0, "orientation": ALONG, "lines": lines, "case": Case.CAPITALS}
    one = a_report("Tides and Quays", spine=ROUND, **fields).layouts[0]
    flat = a_report("Tides and Quays", **fields).layouts[0]
    pitch_mm = one.baselines_mm[0] - one.baselines_mm[-1]
    outer_mm = (pitch_mm + one.cap_height_mm) / 2  # the capitals stand on the middle
    seen = math.cos(outer_mm / 12.0)
    assert one.cap_height_mm == flat.cap_height_mm
    assert one.reads_from_mm == pytest.approx(flat.reads_from_mm * seen)
    report = a_report("Tides and Quays", spine=ROUND, **fields)
    assert ("of whose height the round shows" in found(report, "legibility").text) is (seen < 0.99)


def test_across_a_round_the_width_suffers_and_the_height_does_not():
    """And where the cosine is 0.99 or more nothing is said."""
    fields = {"orientation": Orientation.TRANSVERSE, "lines": 1}
    wide = a_report("Tides", spine=ROUND, size_pt=14.0, **fields)
    flat = a_report("Tides", size_pt=14.0, **fields)
    assert wide.layouts[0].reads_from_mm == flat.layouts[0].reads_from_mm
    assert wide.layouts[0].foreshortening < 0.99
    assert "of whose width the round shows" in found(wide, "legibility").text
    small = a_report("i", spine=ROUND, size_pt=8.0, **fields)
    assert small.layouts[0].foreshortening >= 0.99
    assert "the round shows" not in found(small, "legibility").text


def test_it_is_said_where_no_size_that_fits_can_be_read_with_ease():
    """The largest itself is under 16 minutes; just where it reaches them nothing is said."""
    one = a_report("Tides", spine={"width_mm": 6.0}, size_pt=6.0, orientation=ALONG).layouts[0]
    cap_mm = one.cap_height_mm * one.largest_pt / one.set_pt
    for arcminutes, said in ((15.9, True), (16.1, False)):
        report = a_report(
            "Tides",
            spine={"width_mm": 6.0},
            size_pt=6.0,
            orientation=ALONG,
            reading_distance_mm=cap_mm / height_mm_at_arcminutes(arcminutes, 1.0),
        )
        finding = found(report, "legibility-limit")
        assert (finding is not None) is said
        if finding:
            assert finding.value == pytest.approx(arcminutes, abs=1e-3)
            assert (finding.limit, finding.unit, finding.level) == (16, "arcmin", Level.NOTE)


def test_the_reading_distance_is_half_a_metre_unless_said():
    bare = found(a_report(size_pt=12.0), "legibility").value
    assert bare == found(a_report(size_pt=12.0, reading_distance_mm=500.0), "legibility").value


# --- the size ----------------------------------------------------------------------------


def size_findings(report) -> set[tuple[str, Level]]:
    wanted = {"below-method", "size-below-method", "too-large"}
    return {(f.topic, f.level) for one in report.layouts for f in one.findings if f.topic in wanted}


def test_sizes_that_do_not_fit_are_failures_with_the_reason():
    assert size_findings(a_report(orientation=ALONG)) == set()
    assert size_findings(a_report("Tides", size_pt=4.0)) == {("size-below-method", Level.FAILURE)}
    assert size_findings(a_report("Tides", size_pt=400.0)) == {("too-large", Level.FAILURE)}
    assert size_findings(a_report("Tides", spine={"width_mm": 2.5})) == {
        ("below-method", Level.FAILURE)
    }


def test_too_large_says_by_how_much():
    """The excess is the negative spare."""
    report = a_report("Tides", size_pt=60.0, orientation=Orientation.TRANSVERSE)
    (one,) = report.layouts
    finding = next(f for f in one.findings if f.topic == "too-large")
    assert (finding.value, finding.limit) == (60.0, one.largest_pt)
    assert f"{round(-one.spare_mm.left, 1):g} mm would stand over" in finding.text


def test_placing_is_a_warning_where_tight_and_good_otherwise():
    for width, level in ((4.5, Level.WARNING), (20.0, Level.GOOD)):
        report = a_report("Tides", spine={"width_mm": width}, orientation=ALONG)
        finding = found(report, "placing")
        assert finding.level is level
        assert finding.limit == 1.6
        assert (finding.value < 1.6) is (level is Level.WARNING)
        assert (report.verdict is Verdict.TIGHT) is (level is Level.WARNING)


# --- the back ----------------------------------------------------------------------------


@pytest.mark.parametrize(("width", "warned"), [(4.9, True), (5.0, False)])
def test_under_5_mm_the_trade_puts_no_type(width, warned):
    finding = found(a_report(spine={"width_mm": width}), "thin-back")
    assert (finding is not None) is warned
    if warned:
        assert (finding.level, finding.limit, finding.status) == (
            Level.WARNING,
            5,
            Status.PUBLISHED,
        )
        assert "front board or cover" in finding.text


def test_default_edges_that_leave_nothing_are_a_result():
    """It does not fit, and no error is raised."""
    report = a_report(spine={"width_mm": 1.5})
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert found(report, "nothing-left").level is Level.FAILURE
    assert all(one.largest_pt == 0 for one in report.layouts)


def test_a_range_says_what_the_greatest_width_would_take():
    """The same setting, its lines and all, on the wider back."""
    report = a_report(spine={"width_mm": (13.0, 15.0)}, orientation=ALONG, lines=1)
    wider = a_report(spine={"width_mm": 15.0}, orientation=ALONG, lines=1)
    finding = found(report, "width-range")
    assert (finding.value, finding.limit) == (13.0, 15.0)
    most = wider.layouts[0].largest_pt
    assert f"{int(most * 10) / 10:g} pt at most" in finding.text
    assert report.layouts == a_report(spine={"width_mm": 13.0}, orientation=ALONG, lines=1).layouts


@pytest.mark.parametrize(("height", "warned"), [(2.4, True), (2.5, False)])
def test_a_band_under_2_5_mm_is_doubted(height, warned):
    report = a_report(spine={"bands": 5, "band_height_mm": height})
    assert (found(report, "narrow-band") is not None) is warned


def test_bands_without_a_height_are_warned_of():
    report = a_report(spine={"bands": 5, "height_mm": None})
    assert found(report, "bands-without-height").level is Level.WARNING
    assert "--height" in found(report, "bands-without-height").text


def test_a_round_without_a_figure_asks_for_a_tape():
    """And its width counts as if it were flat."""
    rounded = a_report(spine={"back": BackForm.ROUNDED})
    assert "tape" in found(rounded, "round-unmeasured").text
    assert rounded.panel.width_mm == a_report().panel.width_mm
    assert not rounded.panel.developed


def test_a_measured_round_gives_its_arc():
    report = a_report(spine={"width_mm": 30.0, "rise_mm": 5.0})
    assert "32.2 mm" in found(report, "round-measured").text
    assert report.panel.developed
    narrow = a_report(spine={"width_mm": 30.0, "rise_mm": 5.0, "max_angle_deg": 20.0})
    assert found(narrow, "round-angle").level is Level.NOTE
    assert narrow.panel.width_mm < report.panel.width_mm


def test_a_letter_narrowed_below_87_per_cent_is_noted():
    """Beyond 30 degrees from the middle of the round."""
    spine = {"width_mm": 30.0, "rise_mm": 12.0}
    wide = a_report("Tides", spine=spine, size_pt=30.0, orientation=Orientation.TRANSVERSE)
    slim = a_report("Tides", spine=spine, size_pt=8.0, orientation=Orientation.TRANSVERSE)
    assert (found(wide, "foreshortened") is not None) is (wide.layouts[0].foreshortening < 0.866)
    assert wide.layouts[0].foreshortening < 0.866
    assert found(slim, "foreshortened") is None


# --- the lettering -----------------------------------------------------------------------


def test_lines_asked_to_touch_are_spread_with_a_warning():
    assert found(a_report(leading_em=0.3), "leading-raised").level is Level.WARNING
    assert found(a_report(leading_em=1.5), "leading-raised") is None


def test_faults_of_a_split_are_notes():
    report = a_report(
        "Light of the / Harbour", spine={"width_mm": 40.0}, orientation=Orientation.TRANSVERSE
    )
    assert found(report, "words-stranded").level is Level.NOTE
    report = a_report(
        "Harbourmastership",
        lines=2,
        break_words=BreakWords.HYPHEN,
        language="en",
        orientation=Orientation.TRANSVERSE,
    )
    assert found(report, "words-broken").value.endswith("-")


def test_over_the_bands_is_warned_of():
    report = a_report(spine={"bands": 5})
    (over,) = [one for one in report.layouts if one.over_bands]
    assert {f.topic: f.level for f in over.findings}["over-bands"] is Level.WARNING


# --- convention --------------------------------------------------------------------------

CONVENTION = {
    "reading-against",
    "reading-mixed",
    "reading-follows",
    "market-unknown",
    "reading-right-to-left",
}


def convention(report) -> dict[str, Level]:
    return {f.topic: f.level for f in report.findings if f.topic in CONVENTION}


def a_market(firmness: Firmness, reading: Reading) -> str:
    return next(
        code
        for code, row in catalogue.markets().items()
        if row.firmness is firmness and row.reading is reading and len(row.languages) == 1
    )


def test_asking_against_a_firm_market_is_a_warning_and_never_more():
    code = a_market(Firmness.FIRM, Reading.DESCENDING)
    report = a_report(market=code, reading=Reading.ASCENDING)
    assert convention(report) == {"reading-against": Level.WARNING}
    assert report.verdict is Verdict.FITS


@pytest.mark.parametrize("firmness", [Firmness.USUAL, Firmness.MIXED])
def test_asking_against_any_other_market_is_a_note(firmness):
    code = a_market(firmness, Reading.ASCENDING)
    report = a_report(market=code, reading=Reading.DESCENDING)
    assert convention(report) == {"reading-against": Level.NOTE}
    assert "Match the list" in found(report, "reading-against").text


def test_mixed_shelves_say_match_the_list():
    code = a_market(Firmness.MIXED, Reading.DESCENDING)
    report = a_report(market=code, orientation=ALONG)
    assert convention(report) == {"reading-mixed": Level.WARNING}
    assert "match the list" in found(report, "reading-mixed").text


def test_what_was_asked_or_stands_across_needs_no_warning():
    """A direction that was said is settled, and lettering across has none."""
    code = a_market(Firmness.MIXED, Reading.DESCENDING)
    for more, level in (
        ({"reading": Reading.DESCENDING}, Level.NOTE),
        ({"orientation": Orientation.TRANSVERSE}, Level.GOOD),
    ):
        assert convention(a_report(market=code, **more)) == {"reading-mixed": level}


@pytest.mark.parametrize("code", [None, "GB", "FR"])
def test_following_is_good(code):
    assert convention(a_report(market=code)) == {"reading-follows": Level.GOOD}


def test_an_unknown_market_is_warned_of_along_the_back():
    """It is the only thing said of the direction: no custom is claimed beside it."""
    code = next(c for c in sorted(catalogue.iso_3166_codes()) if c not in catalogue.markets())
    report = a_report(market=code, orientation=ALONG)
    assert convention(report) == {"market-unknown": Level.WARNING}
    assert code in found(report, "market-unknown").text
    asked = a_report(market=code, reading=Reading.DESCENDING)
    assert convention(asked) == {"market-unknown": Level.NOTE}


def test_a_weakening_custom_is_followed_with_a_warning():
    """Germany: ascending, but over half of current output is said to descend."""
    report = a_report(market="DE", orientation=ALONG)
    assert convention(report) == {"reading-follows": Level.WARNING}
    assert report.verdict is Verdict.FITS
    text = found(report, "reading-follows").text
    assert "by custom" in text and "usual" not in text and "over half" in text
    asked = a_report(market="DE", reading=Reading.ASCENDING)
    assert convention(asked) == {"reading-follows": Level.NOTE}


@pytest.mark.parametrize("code", sorted(code for code in catalogue.markets() if code))
def test_no_market_ever_fails_a_title(code):
    """Either way of reading, in every market we know: no failure, and the same verdict."""
    verdicts = set()
    for reading in (None, Reading.DESCENDING, Reading.ASCENDING):
        report = a_report("Tides", market=code, reading=reading, spine={"width_mm": 12.0})
        verdicts.add(report.verdict)
        assert Level.FAILURE not in convention(report).values()
        assert report.convention.market == code
        row = catalogue.markets()[code]
        assert (report.convention.reading, report.convention.source) == (row.reading, row.source)
    assert verdicts == {Verdict.FITS}


def test_a_language_turns_a_title_only_where_its_market_has_it_so():
    """A French title for the British market descends."""
    for language in (None, "fr", "de"):
        report = a_report("Le Phare", market="GB", language=language, orientation=ALONG)
        assert report.layouts[0].reading is Reading.DESCENDING


# --- every finding -----------------------------------------------------------------------

JOBS = [
    {},
    {"spine": {"width_mm": 1.5}},
    {"spine": {"width_mm": 4.0}},
    {"spine": {"width_mm": (9.0, 14.0)}},
    {"spine": {"bands": 5, "band_height_mm": 2.0}},
    {"spine": {"bands": 5, "height_mm": None}},
    {"spine": {"width_mm": 30.0, "rise_mm": 12.0}},
    {"spine": {"width_mm": 30.0, "rise_mm": 5.0, "max_angle_deg": 20.0}},
    {"spine": {"back": BackForm.ROUNDED}},
    {"size_pt": 3.0},
    {"size_pt": 200.0},
    {"leading_em": 0.1, "lines": 2},
    {"case": Case.CAPITALS, "market": "FR", "reading": Reading.DESCENDING},
    {"market": "IT"},
    {"market": "MN"},
    {"market": "JP", "orientation": Orientation.PILLAR},
    {"panel": Panel(width_mm=30.0, height_mm=12.0)},
    {"spine": {"width_mm": 30.0}, "lines": 3, "break_words": BreakWords.HYPHEN},
]


@pytest.mark.parametrize("fields", JOBS, ids=str)
def test_every_finding_has_a_sentence_and_every_limit_a_source(fields):
    """Nothing is held against a figure that nobody stands for."""
    report = a_report("The Light of the Harbour", **fields)
    findings = [*report.findings, *(f for one in report.layouts for f in one.findings)]
    assert findings
    for finding in findings:
        assert finding.text.endswith((".", "?"))
        assert finding.text[0].isupper() or finding.text[0].isdigit()
        assert "None" not in finding.text
        if finding.limit is not None:
            assert finding.source
            assert finding.status in Status
    assert report.answer.endswith(".")
    assert "\n" not in report.answer


def test_every_layout_is_graded_for_legibility():
    for fields in JOBS:
        for one in a_report("The Light of the Harbour", **fields).layouts:
            assert [f.topic for f in one.findings].count("legibility") == 1


def test_figure_and_limit_of_a_size_are_sizes():
    """A share of the largest, an angle or a stroke is the rule's; what is compared are points."""
    for options in ({}, {"size_pt": 4.0}, {"method": "leather-label"}, {"method": "hand-letters"}):
        report = a_report("Tides", **options)
        for finding in report.layouts[report.recommended or 0].findings:
            if finding.topic.startswith("advised-") or finding.topic.endswith("below-method"):
                assert finding.unit == "pt"
                assert finding.limit is None or abs(finding.limit - finding.value) < 40
