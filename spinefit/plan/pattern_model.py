"""What must the next volume have in common with those on the shelf?

A `Pattern` is what a set has settled: size, lines, direction, font and where the lettering
stands over the shelf. Lengths are mm from the tail, sizes DTP points, letter spaces em.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.vocabulary import Case, Centre, Orientation, Reading

__all__ = ["PATTERN_SCHEMA", "Pattern"]

PATTERN_SCHEMA = "spinefit.pattern/1"


class Pattern(NamedTuple):
    """What a set has in common.

    Attributes:
        orientation, reading: how the lines stand and read.
        lines: how many.
        size_pt: the size of all.
        font: name or file of the font, as asked for.
        font_sha256: hash of its file.
        face: face or named instance asked for, or None.
        axes: settings of a variable font, those that were found too; None for the font's own.
        case: the case of the letters.
        tracking: letter space in thousandths of an em.
        leading_em: distance of baselines in em; None for one line.
        centre: what stands on the middle of the panel.
        baselines_from_tail_mm: of each line across the back, the uppermost first; None along
            the back or where a height was not given.
        begins_from_tail_mm: along the back or down a pillar, where the lettering begins; None
            across it or where a height was not given.
    """

    orientation: Orientation
    reading: Reading
    lines: int
    size_pt: float
    font: str
    font_sha256: str
    case: Case
    tracking: float
    leading_em: float | None
    centre: Centre
    baselines_from_tail_mm: tuple[float, ...] | None
    begins_from_tail_mm: float | None
    face: str | None = None
    axes: tuple[tuple[str, float], ...] | None = None
