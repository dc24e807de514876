"""On how large a sheet is it printed, and how is its true size seen?

In: names of papers. Out: their sizes, the title of a sheet for the bench, and a bar of 50 mm in
tens with the words below it: it stands on every drawing that is laid on the work, since a printer
that fits to the page spoils true size.
"""

from __future__ import annotations

from collections.abc import Iterable

from spinefit.drawing.marks import THIN, WORDS_MM, box, label
from spinefit.drawing.scene import Group, Item, Text
from spinefit.job.sheet import PaperSize, paper_size
from spinefit.say import phrasing as say
from spinefit.shaping.glyphs import Point

BENCH_MARGIN_MM = 12.0
"""Kept free at the edges of a sheet for the bench."""

_TITLE_MM = 5.0

BAR_MM = 50.0
"""Its length from outer edge to outer edge."""
_HIGH_MM = 2.0
_WORDS_BELOW_MM = 2.6
_WORDS = f"{BAR_MM:g} mm by the rule? If not, print at 100 %."


def paper_sizes(names: Iterable[str]) -> tuple[PaperSize, ...]:
    """The papers of several names, upright.

    >>> [size[:2] for size in paper_sizes(["A4", "A3"])]
    [(210.0, 297.0), (297.0, 420.0)]
    """
    return tuple(paper_size(name) for name in names)


def bench_title(words: str, height_mm: float, whose: str = "") -> Item:
    """The title at the upper left of a sheet for the bench, so high, and whose job it is."""
    at = BENCH_MARGIN_MM, height_mm - BENCH_MARGIN_MM - 4.5
    title = Text(at, words, _TITLE_MM, bold=True)
    if not whose:
        return title
    return Group("title", (title, Text((at[0], at[1] - 4.5), say.visible(whose), WORDS_MM)))


def check_bar(at: Point) -> tuple[Item, ...]:
    """The bar, black and white in turn, and its words.

    Args:
        at: its lower left corner, in mm.
    """
    x, y = at
    ten = BAR_MM / 5
    tens = [
        box(x + step * ten, y, x + (step + 1) * ten, y + _HIGH_MM, grey=step % 2)
        for step in range(5)
    ]
    half = THIN.width_mm / 2  # its edge is drawn inside, so that the whole of it is 50 mm
    edge = box(x + half, y + half, x + BAR_MM - half, y + _HIGH_MM - half, pen=THIN)
    words = label((x, y - _WORDS_BELOW_MM), _WORDS, halo=False)
    return Group("check-bar", (*tens, edge), f"{BAR_MM:g} mm"), *words
