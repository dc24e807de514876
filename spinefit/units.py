"""How many millimetres is a point, and how are sizes rounded?

Every conversion between units lives here and nowhere else. Suffixes: ``_mm`` millimetres,
``_pt`` DTP points, ``_em`` parts of the type size, ``_fu`` font units, ``_deg`` and ``_rad``.
Source: NIST SP 811 (2008), appendix B.8: inch 25.4 mm exactly, computer point 1/72 inch,
printer's point 0.013837 inch; the Didot point of 0.375972 mm is that of the paper trade.
"""

from __future__ import annotations

import math

from spinefit.tolerances import SAME_STEP

_MM_PER_INCH = 25.4
_MM_PER_POINT = _MM_PER_INCH / 72
PRINTERS_POINT_MM = 0.3514598
DIDOT_POINT_MM = 0.375972
_ARCMINUTES_PER_RADIAN = 60 * 180 / math.pi

MM_PER_UNIT = {
    "mm": 1.0,
    "cm": 10.0,
    "in": _MM_PER_INCH,
    "pt": _MM_PER_POINT,
}
"""Millimetres in each unit that a length may be typed in."""

MM_PER_LEAF_UNIT = {
    **MM_PER_UNIT, "um": 0.001, "mil": _MM_PER_INCH / 1000, "ppi": 2 * _MM_PER_INCH,
}  # fmt: skip
"""Millimetres in each unit that the thickness of a leaf may be typed in; that many pages in an
inch divide it, two to a leaf."""

MM_PER_SIZE_UNIT = {**MM_PER_UNIT, "pica": PRINTERS_POINT_MM, "didot": DIDOT_POINT_MM}
"""Millimetres in each unit that a type size may be typed in: pica and didot are points."""


def mm_from_pt(size_pt: float) -> float:
    """Millimetres in a number of DTP points.

    >>> round(mm_from_pt(72), 6)
    25.4
    """
    return size_pt * _MM_PER_POINT


def pt_from_mm(length_mm: float) -> float:
    """DTP points in a number of millimetres."""
    return length_mm / _MM_PER_POINT


def round_down_pt(size_pt: float) -> float:
    """``size_pt`` rounded down to 0.001 pt, so that a stated limit is never past the true one.

    >>> round_down_pt(12.34599)
    12.345
    """
    return math.floor(size_pt * 1000) / 1000


def step_down_pt(size_pt: float, step_pt: float) -> float:
    """The largest whole number of steps not above ``size_pt``, in points.

    >>> step_down_pt(12.3, 0.1)
    12.3
    """
    steps = math.floor(size_pt / step_pt + SAME_STEP)
    return round(steps * step_pt, 6)


def whole_points_of(size_pt: float) -> tuple[float, str] | None:
    """A size as a number of Didot or pica points, where it is a whole or half number of them.

    >>> whole_points_of(12 * 0.375972 / (25.4 / 72)), whole_points_of(12.8)
    ((12.0, 'Didot'), None)
    """
    for name, point_mm in (("Didot", DIDOT_POINT_MM), ("pica", PRINTERS_POINT_MM)):
        number = mm_from_pt(size_pt) / point_mm
        if abs(2 * number - round(2 * number)) < SAME_STEP:
            return round(2 * number) / 2, name
    return None


def arcminutes_of(height_mm: float, distance_mm: float) -> float:
    """The angle in minutes of arc that a height subtends at the eye: 2 atan(h / 2D)."""
    return 2 * math.atan(height_mm / (2 * distance_mm)) * _ARCMINUTES_PER_RADIAN


def height_mm_at_arcminutes(arcminutes: float, distance_mm: float) -> float:
    """The height in mm that subtends ``arcminutes`` at ``distance_mm``: 2 D tan(a / 2)."""
    return 2 * distance_mm * math.tan(arcminutes / _ARCMINUTES_PER_RADIAN / 2)


def distance_mm_at_arcminutes(height_mm: float, arcminutes: float) -> float:
    """The distance in mm at which ``height_mm`` subtends ``arcminutes``: h / (2 tan(a / 2))."""
    return height_mm / (2 * math.tan(arcminutes / _ARCMINUTES_PER_RADIAN / 2))
