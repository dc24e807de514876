"""How findings and figures are said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import spinefit
from spinefit.judgement.finding import SOURCES, Finding
from spinefit.say.sentences import finding_text, topics
from spinefit.vocabulary import Level

PACKAGE = Path(spinefit.__file__).parent


def test_every_topic_that_is_found_has_a_sentence_and_none_is_idle():
    """Topics in the judgement's code, against the table of sentences."""
    texts = topics()
    assert len(texts) == len(set(texts))
    places = [*(PACKAGE / "judgement").glob("*.py"), *(PACKAGE / "plan").glob("*.py")]
    places += (PACKAGE / "say").glob("plan_*.py")
    code = "\n".join(path.read_text(encoding="utf-8") for path in places)
    missing = {topic for topic in texts if f'"{topic}"' not in code}
    kinds = {topic.partition("-")[2] for topic in missing}  # made from the kind of a fault
    assert all(f'"{kind}"' in code for kind in kinds)
    assert {topic.partition("-")[0] for topic in missing} == {"pattern"}
    makers = r"(?:Finding|Finding\.of|by_rule|_of_sizes|_refused|finding)"
    said = set(re.findall(makers + r'\(\s*(?:topic=)?"([a-z-]+)"', code))
    said |= set(SOURCES)
    assert said
    assert said <= set(texts)


def test_an_unknown_topic_is_a_fault_of_ours():
    with pytest.raises(KeyError):
        finding_text(Finding(topic="no-such-topic", level=Level.NOTE))
