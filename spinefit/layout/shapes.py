"""What shape does a group of centred lines make?

In: the ink widths of its lines. Out: the name the trade gives it. Half-diamond, lozenge and
squared: De Vinne, Correct Composition (1901), pp. 189-193; long and short in alternation:
MacKellar, The American Printer (recalled), and Adam (1903), rule 3.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

__all__ = ["is_good_shape", "shape_name"]


def shape_name(widths: Sequence[float], equal_share: float) -> str:
    """The shape of lines of these widths, from the top.

    Args:
        widths: their ink, any unit.
        equal_share: widths within this part of one another look equal (lines.equal_share).

    >>> [shape_name(widths, 0.04) for widths in ([9, 6, 3], [4, 9, 4], [5, 5, 5])]
    ['half-diamond', 'lozenge', 'squared']
    """
    if len(widths) == 1:
        return "one line"
    steps = [
        0
        if abs(upper - lower) <= equal_share * (lower if lower > upper else upper)
        else (1 if lower > upper else -1)
        for upper, lower in itertools.pairwise(widths)
    ]
    if not any(steps):
        return "squared"
    if all(step < 0 for step in steps):
        return "half-diamond"
    if len(steps) == 1 or all(a * b < 0 for a, b in itertools.pairwise(steps)):
        return "lozenge" if steps == [1, -1] else "long and short"
    if _rises_then_falls(steps):
        return "lozenge"
    return "irregular"


def is_good_shape(name: str) -> bool:
    """True for the shapes that the handbooks recommend."""
    return name != "irregular"


def _rises_then_falls(steps: list[int]) -> bool:
    if steps[0] != 1 or steps[-1] != -1:
        return False
    turned = False
    for step in steps:
        if step < 0:
            turned = True
        elif turned and step > 0:
            return False
    return True
