"""Are breaks and clusters those of Unicode's own tests?

The conformance tests of UAX #14 and UAX #29, as Debian's unicode-data package has them, of
Unicode 15.0; ICU follows 17.0, in which rules for hyphens, quotes and numbers were changed.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import accumulate
from pathlib import Path

import pytest
from icu4py.breakers import LineBreaker

from spinefit.shaping.breaks import clusters, line_breaks

TESTS = Path("/usr/share/unicode/auxiliary")
pytestmark = pytest.mark.skipif(
    not TESTS.is_dir() and not os.environ.get("CI"),
    reason="there is no Unicode data here: install Debian's unicode-data",
)
# Changed from Unicode 15.0 to 17.0: a hyphen that begins a word (LB20a), quotes (LB15a, LB15b,
# LB19), numbers and their separators (LB25).
CHANGED = ("HYPHEN", "(HY)", "(QU", "(IS)", "(NU)", "(PR)", "(PO)")

# Scissors are no pictograph since 16.0, and make no sequence with one another.
NO_PICTURES = ("\u2701\u200d\u2701",)


def _cases(name: str) -> Iterator[tuple[str, list[int], str]]:
    """Text, the indexes after which it is parted, and what the file says of it."""
    for line in (TESTS / name).read_text(encoding="utf-8").splitlines():
        case, _, said = line.partition("#")
        text, ends = "", []
        for token in case.split():
            if token == "÷":
                ends.append(len(text))
            elif token != "×":
                text += chr(int(token, 16))
        if text:
            yield text, [end for end in ends if end], said


def test_line_breaks_are_those_of_unicode() -> None:
    """Source: LineBreakTest.txt; what differs is what the later versions changed."""
    run, differing = 0, []
    for text, ends, said in _cases("LineBreakTest.txt"):
        run += 1
        found = list(accumulate(map(len, LineBreaker(text, "und"))))
        assert set(line_breaks(text, None)) <= set(found)
        if found != ends:
            differing.append(said)
    assert run > 7000
    assert len(differing) < run / 200
    assert not [said for said in differing if not any(mark in said for mark in CHANGED)]


def test_clusters_are_those_of_unicode() -> None:
    """Source: GraphemeBreakTest.txt, every line of it."""
    run = 0
    for text, ends, said in _cases("GraphemeBreakTest.txt"):
        at, found = 0, []
        for cluster in clusters(text):
            at += len(cluster)
            found.append(at)
        assert (found == ends) != (text in NO_PICTURES), said
        run += 1
    assert run > 600
