"""How findings and figures are said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import spinefit
from spinefit.judgement.finding import Finding
from spinefit.report import sentences
from spinefit.report.sentences import down, finding_text, mm, pt, way
from spinefit.vocabulary import Level

PACKAGE = Path(spinefit.__file__).parent


def test_every_topic_that_is_found_has_a_sentence_and_none_is_idle():
    """Topics in the judgement's code, against the table of sentences."""
    code = "\n".join(
        path.read_text(encoding="utf-8") for path in (PACKAGE / "judgement").glob("*.py")
    )
    missing = [topic for topic in sentences._TEXTS if f'"{topic}"' not in code]
    built = {topic for topic in missing if topic.startswith("words-")}  # made from the fault's kind
    assert set(missing) == built
    said = set(re.findall(r'topic="([a-z-]+)"', code))
    said |= set(re.findall(r'by_rule\(\s*"([a-z-]+)"', code))
    said |= set(re.findall(r'_refused\(\s*"([a-z-]+)"', code))
    said |= set(re.findall(r'finding\("([a-z-]+)"', code))
    assert said
    assert said <= set(sentences._TEXTS)


def test_an_unknown_topic_is_a_fault_of_ours():
    with pytest.raises(KeyError):
        finding_text(Finding(topic="no-such-topic", level=Level.NOTE))


@pytest.mark.parametrize(
    ("size", "said"), [(12.0, "12 pt"), (12.34, "12.3 pt"), (12.36, "12.4 pt"), (0.04, "0 pt")]
)
def test_sizes_are_said_to_a_tenth(size, said):
    assert pt(size) == said


@pytest.mark.parametrize(
    ("size", "said"),
    [
        (12.0, "12 pt"),
        (12.39, "12.3 pt"),
        (12.399, "12.3 pt"),
        (5.3, "5.3 pt"),
        (19.9999, "19.9 pt"),
    ],
)
def test_limits_are_never_rounded_up(size, said):
    assert down(size) == said


def test_no_tenth_is_lost_to_binary_fractions():
    for tenths in range(1, 2000):
        assert down(tenths / 10) == f"{tenths / 10:g} pt"


@pytest.mark.parametrize(
    ("length", "said"), [(9.0, "9 mm"), (0.44, "0.4 mm"), (-0.04, "0 mm"), (12.06, "12.1 mm")]
)
def test_lengths_are_said_to_a_tenth(length, said):
    assert mm(length) == said


def test_directions_are_said_by_where_reading_starts_and_ends():
    assert way("descending") == "from head to tail"
    assert way("ascending") == "from tail to head"
