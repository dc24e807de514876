"""Letters too small to hold, or close together: is all of it on the page, and the obvious cure?

The figures of foil by stock and by die are recalled (memory); cap heights and sizes are computed.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.say.model import FindingReport, Report
from spinefit.say.phrasing import findings_by_weight, shown
from spinefit.say.remedies import remedies
from spinefit.say.terminal import render
from spinefit.vocabulary import Level, Orientation, Stock, Verdict


def case(size_pt: float | None, *, font: str = "EB Garamond", **said) -> Job:
    lettering = Lettering(font=font, size_pt=size_pt)
    said.setdefault("method", "blocked-case")
    spine = Spine(width_mm=32.0, height_mm=230.0)
    return Job(title="Harbour Dues", spine=spine, lettering=lettering, **said)


def on_page(report: Report, level: Level) -> dict[str, FindingReport]:
    found = findings_by_weight(report, shown(report))
    return {one.topic: one for one in found if one.level is level}


@pytest.mark.parametrize("said", [{}, {"method": "leather-label", "stock": Stock.COARSE_CLOTH}])
@pytest.mark.parametrize("size_pt", [5.0, 8.0, 10.0])
def test_a_size_too_small_is_mended_by_a_larger_one(size_pt, said):
    """A binder who asks for too small a size wants to hear the least that holds.

    Not first another letter: there is room on the back for far more. The size named holds, and
    the next smaller one does not.
    """
    report = check(case(size_pt, **said))
    assert report.verdict is Verdict.DOES_NOT_FIT
    first = remedies(report)[0]
    assert first.change == "larger" and "or more" in first.text
    least_pt = float(re.fullmatch(r"--size ([\d.]+)", first.options)[1])
    larger = check(case(least_pt, **said))
    assert larger.verdict is not Verdict.DOES_NOT_FIT
    assert check(case(round(least_pt - 0.1, 1), **said)).verdict is Verdict.DOES_NOT_FIT
    stroke = on_page(report, Level.FAILURE)["thin-stroke"]
    assert stroke.text.endswith("is the most that fits: set it larger.")
    assert shown(report).lines == shown(larger).lines == ("Harbour", "Dues")


def test_a_back_without_room_for_the_least_size_wants_a_sturdier_letter():
    """On 5 mm no size of the letter asked for holds, so that another letter is the cure."""
    spine = Spine(width_mm=5.0, height_mm=90.0)
    report = check(replace(case(5.0, stock=Stock.COARSE_CLOTH), spine=spine))
    assert "larger" not in {one.change for one in remedies(report)}
    stroke = on_page(report, Level.FAILURE)["thin-stroke"]
    assert stroke.text.endswith("take a sturdier letter.")


def test_all_that_fails_at_a_small_size_stands_on_the_page():
    """At 5 pt on fine cloth: hairlines of 0.05 mm, an eye of 0.17 mm, capitals of 1.2 mm.

    Fine cloth fails strokes under 0.1 (magnesium) and counters under 0.25 mm (memory); the
    method's own least size is a line of its own. None of the four hides another.
    """
    failures = on_page(check(case(5.0)), Level.FAILURE)
    assert set(failures) == {"thin-stroke", "small-counter", "size-below-method", "legibility"}
    assert failures["small-counter"].value == pytest.approx(0.17, abs=0.01)


def test_strokes_that_fail_are_failures_though_capitals_want_more_still():
    """Vinyl at 14 pt: strokes of 0.46 mm, 0.8 held (practice); capitals of 6 mm want 24.6 pt."""
    spine = Spine(width_mm=26.0, height_mm=210.0)
    lettering = Lettering(size_pt=14.0)
    job = Job(title="The Harbour Light", spine=spine, method="transfer-vinyl", lettering=lettering)
    report = check(job)
    assert {"thin-stroke", "size-below-method"} <= set(on_page(report, Level.FAILURE))
    assert remedies(report)[0].options.startswith("--size 24.6")


def test_what_is_only_warned_of_stays_on_the_page_beside_a_failure():
    """At 10 pt the stroke fails alone, and still a proof of the counters is asked for."""
    report = check(case(10.0))
    assert set(on_page(report, Level.FAILURE)) == {"thin-stroke"}
    warnings = on_page(report, Level.WARNING)
    assert "Counters may fill" in warnings["finer-than-advised"].text
    assert "letters-close" in warnings


@pytest.mark.parametrize("size_pt", [10.0, 10.1, 10.2])
def test_a_height_that_is_not_enough_never_reads_like_the_one_that_is(size_pt):
    """2.3 mm at a pinch beside 2.3 mm with ease tells a binder nothing: a digit more, or a hair."""
    note = on_page(check(case(size_pt)), Level.NOTE).get("legibility")
    assert note is not None or size_pt == 10.2
    if note is not None:
        high, easy = re.findall(r"([\d.]+ mm|a hair more)(?= high| would)", note.text)
        assert high != easy


def test_letters_a_hair_too_near_are_let_be_and_others_warned_of():
    """0.42 mm where vinyl asks 0.5 is near enough (our choice: a fifth); a third of it is not."""
    spine = Spine(width_mm=20.0, height_mm=210.0)
    job = Job(title="The Harbour Light", spine=spine, method="transfer-vinyl")
    near = shown(check(job)).findings
    (close,) = [one for one in near if one.topic == "letters-close"]
    assert close.level is Level.GOOD and close.limit * 0.8 <= close.value < close.limit
    small = check(case(10.7))
    assert on_page(small, Level.WARNING)["letters-close"].value < 0.4


def test_a_custom_along_the_back_is_no_note_under_a_setting_across():
    """German titles ascend by a custom that weakens; across, that settles nothing to be cut."""
    spine = Spine(width_mm=38.0, height_mm=215.0)
    job = Job(title="Rote Leuchtfeuer", spine=spine, market="DE", method="blocked-case")
    report = check(job)
    assert shown(report).orientation is Orientation.TRANSVERSE
    assert "tail to head" not in render(report)
    assert "tail to head" in " ".join(render(report, why=True).split())


@pytest.mark.parametrize("width_mm", [5.0, 6.0])
def test_in_the_us_the_us_printers_limit_comes_first(width_mm):
    """A US printer prints type on paperbacks from 1/4 in on (published); elsewhere it is a note."""
    spine = Spine(width_mm=width_mm, height_mm=210.0)
    at_home = check(Job(title="The Harbour Light", spine=spine, market="US"))
    first = findings_by_weight(at_home, shown(at_home))[0]
    assert (first.topic, first.level) == ("thin-back-disagreed", Level.WARNING)
    abroad = check(Job(title="The Harbour Light", spine=spine, market="GB"))
    assert on_page(abroad, Level.NOTE)["thin-back-disagreed"]


def test_custom_asks_for_whole_points():
    """No custom knows 14.4 pt; and what has room to spare is told beside what fits."""
    spine = Spine(width_mm=24.0, height_mm=210.0)
    report = check(Job(title="Harbour Light", spine=spine, method="screen-print"))
    assert "custom asks 19 pt with room to spare" in report.answer
    asked = on_page(report, Level.NOTE)["across-least"]
    assert asked.limit == 19 and "of the 13.7 pt that fit, 12.4 pt leave it" in asked.text


def test_a_size_too_large_is_not_said_to_be_too_fine():
    """100 pt is too large for 32 mm; at the most that fits its strokes are eight times enough."""
    assert set(on_page(check(case(100.0)), Level.FAILURE)) == {"too-large"}
