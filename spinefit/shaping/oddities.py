"""Is this a glyph that any letter of a sound font could be?

In: an outline in em. Out: nothing, or a refusal in one line. HarfBuzz draws whatever a damaged
or hostile file holds: ink far from its letter, or thousands of contours and scribbles whose
crossings alone would fill the memory. The bounds lie well past all glyphs of 107 fonts at hand
(computed; 100,000 glyphs of Latin, Arabic, Han and symbol fonts).
"""

from __future__ import annotations

import math

from spinefit.errors import FontBrokenError
from spinefit.shaping.outline import Box, Outline

__all__ = ["WHOLE_FILE", "WIDEST_EM", "refuse_intricate", "refuse_wild"]

WHOLE_FILE = "the outlines are damaged: give a whole TTF or OTF file"
"""What to do about outlines that cannot be."""

# The widest letter at hand, U+FDFD in Amiri, reaches 11.5 times the size; the tallest ones, parts
# of mathematical brackets, 3.6 times.
WIDEST_EM = 15.0
"""What no letter of a sound font reaches from its origin, in em."""
_TALLEST_EM = 10.0

_MOST_CONTOURS = 250  # at most 84 at hand, in a shaded block
_MOST_SEGMENTS = 4000  # at most 676, in U+FDFD
_LONGEST_SIDES = 60.0  # of the longer side of its box; at most 26, in a symbol
_FEW_SEGMENTS = 100  # so few cannot cross so often that it matters


def refuse_wild(box: Box, gid: int, name: str) -> None:
    """Refuse ink that no letter has: damaged outlines give it, and no lettering is so large.

    Args:
        box: extents of the ink in em.
        gid: number of the glyph.
        name: of the font.

    Raises:
        FontBrokenError: ink too far from its origin.
    """
    wide, high = max(-box[0], box[2]), max(-box[1], box[3])
    # Written so that what is no number does not pass.
    if not (wide <= WIDEST_EM and high <= _TALLEST_EM):
        raise FontBrokenError(
            f"glyph {gid} of {name} reaches {max(wide, high):.0f} times the size from its origin",
            remedy=WHOLE_FILE,
        )


def refuse_intricate(outline: Outline, gid: int, name: str) -> None:
    """Refuse an outline that is too much to measure.

    The work grows with the square of each: contours are held against one another, and so are
    the parts of a long line.

    Args:
        outline: contours in em.
        gid: number of the glyph.
        name: of the font.

    Raises:
        FontBrokenError: too many contours or segments, or too long a line.
    """
    segments = sum(len(contour.segments) for contour in outline)
    if len(outline) > _MOST_CONTOURS:
        what = f"is drawn in {len(outline)} contours, and {_MOST_CONTOURS}"
    elif segments > _MOST_SEGMENTS:
        what = f"is drawn in {segments} lines and curves, and {_MOST_SEGMENTS}"
    elif segments > _FEW_SEGMENTS and (sides := _length_in_sides(outline)) > _LONGEST_SIDES:
        what = f"is drawn in a line {sides:.0f} times as long as its side, and {_LONGEST_SIDES:.0f}"
    else:
        return
    raise FontBrokenError(
        f"glyph {gid} of {name} {what} are the most that can be measured",
        remedy="give a font of plainer letters",
    )


def _length_in_sides(outline: Outline) -> float:
    """Length of all lines from point to point, over the longer side of the box of the points."""
    length = 0.0
    points = []
    for contour in outline:
        ring = [contour.start, *(point for segment in contour.segments for point in segment)]
        length += sum(map(math.dist, ring, (*ring[1:], ring[0])))
        points += ring
    xs, ys = zip(*points, strict=True)
    side = max(max(xs) - min(xs), max(ys) - min(ys))
    return length / side if side > 0 else 0.0
