"""A short walk without a plan over the page; `tests/fuzz/clicks.py` takes long ones by hand."""

from __future__ import annotations

import random

import pytest

from tests.browser import browser_marks
from tests.fuzz.clicks import walk

pytestmark = browser_marks


def test_a_stranger_breaks_nothing(context, page) -> None:
    assert walk(context, page.address, random.Random("tides"), steps=25) == []


@pytest.mark.parametrize(
    ("script", "told"),
    [
        ("document.body.append('[object NodeList]')", "word: "),
        ("setTimeout(() => { throw new Error('adrift') })", "script: adrift"),
        ("console.error('adrift')", "console: adrift"),
        ("document.getElementById('fresh').remove()", "no answer to a fresh book"),
    ],
)
def test_what_breaks_is_told(context, page, script: str, told: str) -> None:
    context.add_init_script(f"setTimeout(() => {{ {script} }}, 500)")
    faults = walk(context, page.address, random.Random("tides"), steps=8)
    assert any(fault.startswith(told) for fault in faults), faults
