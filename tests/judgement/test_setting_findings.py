"""A sturdier letter is named where hairlines or counters are finer than asked; it has both."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spinefit import check
from spinefit.job.model import Job, Lettering, Spine
from spinefit.judgement.finding import Finding
from spinefit.judgement.setting_findings import setting_findings
from spinefit.judgement.sturdier import Sturdier, sturdier_letter
from spinefit.judgement.text import judge_text
from spinefit.vocabulary import Level

SWAN = Job(
    title="The Wreck of the Swan",
    spine=Spine(width_mm=19.0, height_mm=220.0),
    method="leather-label",
    lettering=Lettering(font="EB Garamond"),
    language="en",
)


def fine(job: Job) -> list[Finding]:
    found = judge_text(job)
    findings = setting_findings(found.job, found.judgement.shown, shown=True)
    return [one for one in findings if one.topic == "finer-than-advised"]


def named(job: Job) -> Sturdier | None:
    found = judge_text(job)
    return sturdier_letter(found.job, found.judgement.shown)


def test_strokes_and_counters_are_warned_of_apart_with_the_letters():
    asked = Lettering(font="EB Garamond", size_pt=12.0)
    strokes, counters = fine(replace(SWAN, lettering=asked))
    assert (strokes.facts["what"], counters.facts["what"]) == ("stroke", "counter")
    assert strokes.level is counters.level is Level.WARNING
    assert strokes.facts["letters"][0] == "k"  # the finest first
    assert set(counters.facts["letters"]) == {"e", "a"}
    assert strokes.facts["sturdier"] is not None and counters.facts["sturdier"] is None


def test_the_sturdier_letter_takes_the_size_named():
    found = named(SWAN)
    assert found is not None and found.is_good
    other = replace(SWAN, lettering=Lettering(font=found.font))
    report = check(other)
    assert report.layouts[report.recommended].set_pt == found.size_pt
    assert not fine(other)


def test_a_bolder_letter_with_smaller_counters_is_not_named():
    """EB Garamond Bold has the larger strokes and the smaller eye in its a."""
    assert "EB Garamond Bold" not in {
        one.font
        for size_pt in (12.0, 14.0, 16.0)
        if (one := named(replace(SWAN, lettering=Lettering(font="EB Garamond", size_pt=size_pt))))
    }


@pytest.mark.parametrize("method", ["paperback-cover", "hand-letters"])
def test_nothing_is_said_where_all_is_as_asked(method):
    assert fine(replace(SWAN, method=method)) == []


def test_none_is_named_that_helps_by_less_than_a_tenth():
    """The sturdiest letters themselves have none to name."""
    tiny = replace(SWAN, spine=Spine(width_mm=10.0, height_mm=220.0))
    font = judge_text(replace(tiny, lettering=Lettering())).job.lettering.font
    assert named(replace(tiny, lettering=Lettering(font=font))) is None


def test_fonts_that_lack_a_letter_are_passed_over():
    """Greek is in one of the two sturdiest fonts, and it is named."""
    greek = replace(SWAN, title="Λιμάνι", language="el")
    found = named(greek)
    assert found is not None and found.font.startswith("IBM Plex Sans")
