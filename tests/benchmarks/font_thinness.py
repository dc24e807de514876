"""How thin is the thinnest stroke, and how small the least counter, of each bundled font?

    python tests/benchmarks/font_thinness.py [FONT ...]

Prints `thinnest_stroke_em` and `least_counter_em` for `fonts_open/fonts.toml`, with the letters
that set them, for the fonts named or for all. Every glyph that plain characters can bring up
is looked at: each character, each pair of them and the ligatures that begin with f, shaped
as a title is. What is listed must never be more than what is measured, so each width is rounded
down to four decimals after 2e-5 are taken off for the last digits of another machine's
arithmetic. To be run again when a font is added, or when `geometry/strokes` counts otherwise.
"""

from __future__ import annotations

import math
import sys
from typing import NamedTuple

from spinefit import Job, Lettering, Spine, catalogue
from spinefit.geometry.polygons import least_counter_em
from spinefit.geometry.strokes import thinner_stroke
from spinefit.job.resolve import resolve
from spinefit.shaping import shape_title
from spinefit.shaping.glyphs import Outline

PLAIN = sorted(catalogue.PLAIN_CHARACTERS - {" "})
LIGATURES = ("ffi", "ffl", "fff", "ffb", "ffh", "ffj", "ffk", "fft", "Th", "ct", "st")
WIDEST_EM = 1.0  # no font's thinnest stroke is wider
MACHINE_EM = 2e-5


class Measured(NamedTuple):
    """The least widths of a font in em, as listed, and the characters that have them."""

    stroke_em: float
    stroke_of: str
    counter_em: float
    counter_of: str


def glyphs_of(name: str) -> list[tuple[str, Outline]]:
    """Every glyph that titles in plain characters are set with: its characters and curves."""
    found: dict[Outline, str] = {}
    for first in PLAIN:
        pairs = " ".join(first + second for second in PLAIN)
        words = f"{first} {pairs} {' '.join(LIGATURES)}"
        job = Job(title=words, spine=Spine(width_mm=20), lettering=Lettering(font=name))
        for text, curves in shape_title(resolve(job)).inked_glyphs():
            found.setdefault(curves, text)
    return [(text, curves) for curves, text in found.items()]


def measured(name: str) -> Measured:
    """The least widths of a font; each glyph is asked only whether it is below those so far."""
    stroke_em, counter_em, stroke_of, counter_of = WIDEST_EM, WIDEST_EM, "", ""
    for text, curves in glyphs_of(name):
        stroke = thinner_stroke(curves, stroke_em)
        if stroke is not None:
            stroke_em, stroke_of = stroke, text
        counter = least_counter_em(curves)
        if counter is not None and counter < counter_em:
            counter_em, counter_of = counter, text
    return Measured(listed(stroke_em), stroke_of, listed(counter_em), counter_of)


def listed(width_em: float) -> float:
    """A width as it stands in the list: rounded down."""
    return math.floor((width_em - MACHINE_EM) * 1e4) / 1e4


def main(names: list[str]) -> None:
    """Print the rows."""
    for name in names or [row.name for row in catalogue.font_rows()]:
        found = measured(name)
        sys.stdout.write(
            f"{name}\n"
            f"thinnest_stroke_em = {found.stroke_em}  # {found.stroke_of}\n"
            f"least_counter_em = {found.counter_em}  # {found.counter_of}\n"
        )
        sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])
