"""What did the person say of letters that are tools?

A part of a `Job` that few jobs have, so that the others start without it. Lengths are
millimetres, sizes DTP points; a field left at None was not said.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ToolSize", "Tools"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolSize:
    """One size of a set of tools. Either widths of its letters, or a measured row of E.

    Attributes:
        face_mm: height of a capital's face in mm.
        body_pt: the size it is asked for by, in DTP points; None for that of a usual face.
        widths_mm: the letters there are, each with the width of its face in mm.
        e_row_mm, e_count: length in mm of a row of E as they are lettered, from the left of the
            first to the right of the last, and how many there are in it.
        word_space_mm: from the last letter of a word to the first of the next, in mm; None
            where a space counts as a letter.
        letter_gap_mm: from letter to letter in mm; None for what the method keeps open.
        descent_mm: how far g, j, p, q and y hang below the line, in mm.
        x_height_mm: height of a small x in mm; None where there are capitals only.
    """

    face_mm: float
    body_pt: float | None = None
    widths_mm: tuple[tuple[str, float], ...] | None = None
    e_row_mm: float | None = None
    e_count: int | None = None
    word_space_mm: float | None = None
    letter_gap_mm: float | None = None
    descent_mm: float | None = None
    x_height_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """Letters that are tools, not a font: hand letters, or type for a holder.

    Attributes:
        name: what the set is called.
        sizes: its sizes.
        file, sha256: the file it was read from, and the digest of its bytes in hexadecimal.
    """

    name: str
    sizes: tuple[ToolSize, ...]
    file: str = ""
    sha256: str = ""
