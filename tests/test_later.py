"""A tuple that is made when it is read."""

from __future__ import annotations

import pickle

from spinefit import Job, Spine, check
from spinefit.later import Later


def test_it_is_made_once_and_only_when_it_is_read():
    made: list[str] = []

    def make():
        made.append("made")
        return ("a", "b")

    later = Later(make)
    assert not made
    assert len(later) == 2
    assert [*later] == ["a", "b"]
    assert later[0] == "a"
    assert later[-1:] == ("b",)
    assert made == ["made"]


def test_it_stands_for_its_tuple():
    later = Later(lambda: ("a", "b"))
    assert later == ("a", "b")
    assert ("a", "b") == later  # noqa: SIM300 - either way round
    assert later == Later(lambda: ["a", "b"])
    assert later != ("a",)
    assert hash(later) == hash(("a", "b"))
    assert repr(later) == repr(("a", "b"))
    assert pickle.loads(pickle.dumps(Later(lambda: "ab"))) == ("a", "b")


def test_reports_are_equal_and_travel_though_parts_of_them_are_made_later():
    job = Job(title="The Harbour Light", spine=Spine(width_mm=9, height_mm=210))
    one, other = check(job), check(job)
    assert pickle.loads(pickle.dumps(one)) == other
    assert hash(one) == hash(other)
    assert repr(one) == repr(other)
    assert any(finding.topic == "legibility" for finding in one.layouts[0].findings)
