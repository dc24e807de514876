"""Is the order of letters that of the Unicode Bidirectional Algorithm?

Unicode's own conformance tests, every line of them, as Debian's unicode-data package has them.
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest

from spinefit.shaping.bidi import base_level, classes_of, levels_of, line_levels, seen_order

UNICODE = Path("/usr/share/unicode")
pytestmark = pytest.mark.skipif(
    not UNICODE.is_dir() and not os.environ.get("CI"),
    reason="there is no Unicode data here: install Debian's unicode-data",
)
REMOVED = {"LRE", "RLE", "LRO", "RLO", "PDF", "BN"}


def _lines(name: str) -> Iterator[str]:
    with (UNICODE / name).open(encoding="utf-8") as file:
        for line in file:
            text = line.split("#")[0].strip()
            if text:
                yield text


def _resolved(text: str, classes: list[str], base: int) -> tuple[list[str], list[int]]:
    """Levels as the tests write them, x for what is removed, and the order seen."""
    levels = line_levels(levels_of(text, base, classes), classes, base, 0, len(text))
    kept = [at for at, kind in enumerate(classes) if kind not in REMOVED]
    shown = [
        "x" if kind in REMOVED else str(level) for kind, level in zip(classes, levels, strict=True)
    ]
    return shown, [kept[at] for at in seen_order([levels[at] for at in kept])]


def test_every_line_of_bidi_character_test() -> None:
    """Source: BidiCharacterTest.txt, Unicode 15.0: characters with their levels and order."""
    run = 0
    for line in _lines("BidiCharacterTest.txt"):
        codes, asked, resolved, levels, order = line.split(";")
        text = "".join(chr(int(code, 16)) for code in codes.split())
        classes = classes_of(text)
        base = base_level(classes) if asked == "2" else int(asked)
        assert base == int(resolved), line
        found = _resolved(text, classes, base)
        assert found == (levels.split(), list(map(int, order.split()))), line
        run += 1
    assert run > 90_000


def test_every_line_of_bidi_test() -> None:
    """Source: BidiTest.txt, Unicode 15.0: every combination of classes up to a length of four."""
    run = 0
    levels: list[str] = []
    order: list[int] = []
    for line in _lines("BidiTest.txt"):
        if line.startswith("@Levels:"):
            levels = line.split(":")[1].split()
        elif line.startswith("@Reorder:"):
            order = [int(at) for at in line.split(":")[1].split()]
        else:
            words, bits = line.split(";")
            classes = words.split()
            for bit, asked in ((1, None), (2, 0), (4, 1)):
                if int(bits) & bit:
                    base = base_level(classes) if asked is None else asked
                    assert _resolved("a" * len(classes), classes, base) == (levels, order), line
                    run += 1
    assert run > 700_000


def test_the_brackets_are_those_of_unicode() -> None:
    """Source: BidiBrackets.txt, Unicode 15.0."""
    from spinefit.shaping import bidi

    pairs = [line.split("; ") for line in _lines("BidiBrackets.txt")]
    # Two angle brackets are canonically the same as others.
    both = [unicodedata.normalize("NFC", chr(int(a, 16)) + chr(int(b, 16))) for a, b, _ in pairs]
    opening = {
        pair[0]: pair[1] for pair, (_a, _b, kind) in zip(both, pairs, strict=True) if kind == "o"
    }
    assert opening == bidi._CLOSING
    assert all(unicodedata.bidirectional(char) == "ON" for char in opening)
