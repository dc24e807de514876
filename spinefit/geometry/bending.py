"""How wide is a label cut that bends over a round?

In: the radius of the round and the label's thickness, in mm. Out: the flat width to cut and
how much its printed face is stretched. A sheet bends about its middle: there it keeps its
length, at radius R + t/2, while its face lies at R + t. Source: bending of a thin sheet, the
neutral surface at half its thickness.
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["BentLabel", "bent_label", "covered_mm"]


class BentLabel(NamedTuple):
    """A label over a round.

    Attributes:
        covers_mm: width of the back under it, measured over the round.
        cut_width_mm: its width while it lies flat.
        thickness_mm: its thickness.
        face_stretch: width of its printed face on the back over that while it lay flat.
    """

    covers_mm: float
    cut_width_mm: float
    thickness_mm: float
    face_stretch: float


def bent_label(radius_mm: float, thickness_mm: float, covers_mm: float) -> BentLabel:
    """The label that covers so much of a round.

    Args:
        radius_mm: of the back it is pasted on, above 0.
        thickness_mm: of the label, 0 or more.
        covers_mm: width of back to cover, along the arc.

    >>> label = bent_label(20, 0.4, 30)
    >>> round(label.cut_width_mm, 6), round(label.face_stretch, 6)
    (30.3, 1.009901)
    """
    middle_mm = radius_mm + thickness_mm / 2
    return BentLabel(
        covers_mm=covers_mm,
        cut_width_mm=covers_mm / radius_mm * middle_mm,
        thickness_mm=thickness_mm,
        face_stretch=(radius_mm + thickness_mm) / middle_mm,
    )


def covered_mm(radius_mm: float, thickness_mm: float, cut_width_mm: float) -> float:
    """The width of back, along the arc, that a label cut so wide covers; as of `bent_label`.

    >>> round(covered_mm(20, 0.4, 30.3), 6)
    30.0
    """
    return cut_width_mm * radius_mm / (radius_mm + thickness_mm / 2)
