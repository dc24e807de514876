"""By what does a person see that a print has its true size?

A bar of 50 mm in tens and the words below it, as items of a scene in mm. It stands on every
drawing that is laid on the work, since a printer that fits to the page spoils true size.
"""

from __future__ import annotations

from spinefit.drawing.marks import THIN, box, label
from spinefit.drawing.scene import Group, Item
from spinefit.shaping.outline import Point

__all__ = ["BAR_MM", "check_bar"]

BAR_MM = 50.0
"""Its length from outer edge to outer edge."""

_HIGH_MM = 2.0
_WORDS_BELOW_MM = 2.6
_WORDS = f"{BAR_MM:g} mm by the rule? If not, print at 100 %."


def check_bar(at: Point) -> tuple[Item, ...]:
    """The bar, black and white in turn, and its words.

    Args:
        at: its lower left corner, in mm.
    """
    x, y = at
    ten = BAR_MM / 5
    tens = [
        box(x + step * ten, y, x + (step + 1) * ten, y + _HIGH_MM, grey=step % 2, pen=None)
        for step in range(5)
    ]
    half = THIN.width_mm / 2  # its edge is drawn inside, so that the whole of it is 50 mm
    edge = box(
        x + half, y + half, x + BAR_MM - half, y + _HIGH_MM - half, grey=None, pen=THIN
    )  # fmt: skip
    words = label((x, y - _WORDS_BELOW_MM), _WORDS, halo=False)
    return Group("check-bar", (*tens, edge), f"{BAR_MM:g} mm"), *words
