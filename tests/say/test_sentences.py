"""How findings and figures are said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import spinefit
from spinefit.judgement.finding import Finding
from spinefit.say.sentences import finding_text, topics
from spinefit.vocabulary import Level

PACKAGE = Path(spinefit.__file__).parent


def test_every_topic_that_is_found_has_a_sentence_and_none_is_idle():
    """Topics in the judgement's code, against the table of sentences."""
    texts = topics()
    assert len(texts) == len(set(texts))
    code = "\n".join(
        path.read_text(encoding="utf-8") for path in (PACKAGE / "judgement").glob("*.py")
    )
    missing = [topic for topic in texts if f'"{topic}"' not in code]
    built = {topic for topic in missing if topic.startswith("words-")}  # made from the fault's kind
    assert set(missing) == built
    said = set(re.findall(r'topic="([a-z-]+)"', code))
    said |= set(re.findall(r'by_rule\(\s*"([a-z-]+)"', code))
    said |= set(re.findall(r'_refused\(\s*"([a-z-]+)"', code))
    said |= set(re.findall(r'finding\("([a-z-]+)"', code))
    assert said
    assert said <= set(texts)


def test_an_unknown_topic_is_a_fault_of_ours():
    with pytest.raises(KeyError):
        finding_text(Finding(topic="no-such-topic", level=Level.NOTE))
