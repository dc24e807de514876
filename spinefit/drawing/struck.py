"""What is a line of letters that are struck one by one, once each has its place?

Plain records, fields of a worksheet's JSON: lengths in mm, places along the line from the middle of
the panel, negative to the left as the letters stand upright. `worksheet_places` finds them.
"""

from __future__ import annotations

from typing import NamedTuple


class StruckLetter(NamedTuple):
    """One letter, or a space; its fields are the keys of the JSON.

    Attributes:
        number: its place in the line, spaces counted, from 1 where reading starts.
        letter: the letter; " " for a space.
        from_middle_mm: from the middle of the panel to its middle, along the line; of a space
            to halfway between the letters beside it.
        by_count_mm: where counting alone would have it, at the mean pitch of the line.
        width_mm: of its face or ink; 0 for a space.
        from_head_mm: from the head to its middle, for a line along a back of known height.
    """

    number: int
    letter: str
    from_middle_mm: float
    by_count_mm: float
    width_mm: float
    from_head_mm: float | None

    @property
    def is_space(self) -> bool:
        """True where nothing is struck."""
        return self.width_mm == 0.0


class StruckLine(NamedTuple):
    """One line of letters, from left to right as they stand upright; as in the JSON.

    Attributes:
        text: the line.
        places: how many letters and spaces there are.
        middle: the number of the middle one; between two where it ends on a half.
        middle_from_middle_mm: where that place stands.
        length_mm: from the left of the first letter to the right of the last.
        foot_mm: from the middle of the panel to the foot of its letters, towards their tops.
        foot_from_head_mm: from the head to that foot, for lines across a back of known height.
        least_gap_mm: the least space between the inks of two letters beside each other, at most
            nothing where they overlap or touch; None for one.
        letters: its letters and spaces.
        set_pt: the size of its letters.
        head_mm: height of the upper guide line over its foot.
        x_height_mm: that of the guide of its small letters; None where it has none.
    """

    text: str
    places: int
    middle: float
    middle_from_middle_mm: float
    length_mm: float
    foot_mm: float
    foot_from_head_mm: float | None
    least_gap_mm: float | None
    letters: tuple[StruckLetter, ...]
    set_pt: float
    head_mm: float
    x_height_mm: float | None

    @property
    def struck(self) -> list[StruckLetter]:
        """Its letters without the spaces."""
        return [letter for letter in self.letters if not letter.is_space]


class Near(NamedTuple):
    """Two letters beside each other.

    Attributes:
        text: their line.
        one, other: the letters.
        apart_mm: from ink to ink; at most nothing where they overlap or touch.
    """

    text: str
    one: str
    other: str
    apart_mm: float
