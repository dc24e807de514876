"""Sentences made of a template and its facts."""

from __future__ import annotations

import re
from string import Formatter
from typing import NamedTuple

import pytest

from spinefit.say import remedies
from spinefit.say.filling import FORMATS, said
from spinefit.say.templates import TEMPLATES

EVERY = {**TEMPLATES, **remedies.CHANGES, **remedies.PARTS}
PLAIN = re.compile(r"(\.\d[fg%])?")


class Label(NamedTuple):
    """A record among the facts."""

    covers_mm: float = 31.26


@pytest.mark.parametrize(
    ("template", "text"),
    [
        ("{value:mm} by {value:bare mm}", "12.3 mm by 12.3"),
        ("{value:mm beyond}", "-12.3 mm"),
        ("{limit:mm} and {value:mm against limit}", "12.3 mm and 12.34 mm"),
        ("{value:against limit} of {limit}", "12 of 12.3"),
        ("{size_pt:pt}, {size_pt:pt at most}, {size_pt:pt at least}", "9.06 pt, 9 pt, 9.1 pt"),
        ("{share:.0%} and {count} of {stretch:stretch}", "25% and 3 of 1.50%"),
        ("{reading:way} {word:start}", "from head to tail Tides"),
        ("Yes.{word:next sentence}{none:next sentence}", "Yes. Tides."),
        ("{word:quoted or end}, {none:quoted or end}", "“tides”, the end"),
        ("{is_so:height|width}{is_not:, tight|}", "height"),
        ("{label.covers_mm:mm}", "31.3 mm"),
    ],
)
def test_each_format(template: str, text: str) -> None:
    """Figures, words, what is so or not, and what a record holds."""
    facts = {
        "value": 12.344, "limit": 12.3, "size_pt": 9.06, "share": 0.25, "count": 3,
        "stretch": 1.015, "reading": "descending", "word": "tides", "none": "", "is_so": True,
        "is_not": False, "label": Label(),
    }  # fmt: skip
    assert said(template, **facts) == text


@pytest.mark.parametrize("topic", EVERY)
def test_every_template_names_formats_that_there_are(topic: str) -> None:
    """A slip of the pen would be seen only where that sentence is needed."""
    for _text, name, how, _conversion in Formatter().parse(EVERY[topic]):
        if name is not None and how is not None:
            assert how in FORMATS or "|" in how or PLAIN.fullmatch(how), how
