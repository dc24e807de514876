"""What surface does the back offer: flat, or an arc of which radius, rise and developed width?

In: a resolved spine's width between the joints (the chord) and at most one of rise, radius
and arc. Out: a `Back`, in mm and radians. The developed plane is the back unrolled; x runs
across it from its middle, to the right as one looks at it. A label over the round bends about
its middle: there it keeps its length, at radius R + t/2, while its face lies at R + t. Sources:
circular segment, R = (c^2/4 + h^2) / (2h), half angle a = 2 atan(2h/c), arc = 2Ra; bending of a
thin sheet, the neutral surface at half its thickness. Leaves allowances to `usable`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.errors import ImpossibleBackError
from spinefit.job.resolved import ResolvedSpine
from spinefit.tolerances import SAME_SHARE
from spinefit.vocabulary import BackForm, Lap

_HALF_CIRCLE_RAD = math.pi / 2  # half angle of the deepest back there is
_SERIES_TERMS = 14  # (pi/2)^28 / 29! is below 1e-25
_MOST_STEPS = 100  # Newton takes under ten; the bound only rules out an endless loop


class Back(NamedTuple):
    """The back as a surface.

    Attributes:
        form: flat or rounded.
        chord_mm: width measured straight across, between the joints.
        radius_mm: radius of the round; None for a flat back.
        arc_mm: developed width of the whole back; the chord of a flat one.
        rise_mm: height of the round over its chord; 0 for a flat back.
        half_angle_rad: angle from the middle to a joint, seen from the centre of the round.
        curve_known: False for a rounded back of which only the width was given: then radius,
            arc, rise and angle are those of the usual round, for the picture and the
            foreshortening only, and lettering is fitted as on a flat back.
    """

    form: BackForm
    chord_mm: float
    radius_mm: float | None
    arc_mm: float
    rise_mm: float
    half_angle_rad: float
    curve_known: bool

    @property
    def developed_width_mm(self) -> float:
        """The width that lettering is fitted on: the arc where it is known, else the chord."""
        return self.arc_mm if self.curve_known else self.chord_mm

    def covered_mm(self, thickness_mm: float | None, cut_width_mm: float) -> float:
        """The width of it, round the arc, under a label cut so wide; None for a thin one."""
        if self.radius_mm is None or not self.curve_known or not thickness_mm:
            return cut_width_mm
        return covered_mm(self.radius_mm, thickness_mm, cut_width_mm)


def build_back(spine: ResolvedSpine, rules: Rules) -> Back:
    """The surface of a spine.

    Args:
        spine: lengths in mm; the first of rise, radius and arc that is given decides.
        rules: for the usual round, ``round.circle_part_deg``.

    Returns:
        The back; on the safe side where a rounded one came without a figure.

    Raises:
        ImpossibleBackError: no circle has these measurements, or more than half of one has.

    Source: circular segment; a third of a circle where nothing was measured (rules.toml).
    """
    chord_mm = _positive(spine.width_mm, "the back has no width", "--width")
    if spine.form is BackForm.FLAT:
        return Back(
            form=BackForm.FLAT,
            chord_mm=chord_mm,
            radius_mm=None,
            arc_mm=chord_mm,
            rise_mm=0.0,
            half_angle_rad=0.0,
            curve_known=True,
        )
    if spine.rise_mm is not None:
        return _rounded(chord_mm, _half_angle_from_rise(chord_mm, spine.rise_mm))
    if spine.radius_mm is not None:
        return _rounded(chord_mm, _half_angle_from_radius(chord_mm, spine.radius_mm))
    if spine.arc_mm is not None:
        return _rounded(chord_mm, _half_angle_from_arc(chord_mm, spine.arc_mm))
    usual_rad = math.radians(rules.value("round.circle_part_deg")) / 2
    return _rounded(chord_mm, usual_rad, curve_known=False)


def angle_at(back: Back, x_mm: float) -> float:
    """The angle in radians at which the back turns away, ``x_mm`` from its middle.

    Args:
        back: the surface; 0 everywhere on a flat one.
        x_mm: distance in the developed plane, positive to the right; so is the angle.
    """
    return 0.0 if back.radius_mm is None else x_mm / back.radius_mm


def foreshortening(back: Back, x_mm: float) -> float:
    """The share of its width that ink at ``x_mm`` keeps to a reader in front: cos of the angle.

    Returns:
        1 at the middle and on a flat back, never below 0.
    """
    angle_rad = abs(angle_at(back, x_mm))
    return math.cos(angle_rad) if angle_rad < _HALF_CIRCLE_RAD else 0.0


def _rounded(chord_mm: float, half_angle_rad: float, *, curve_known: bool = True) -> Back:
    radius_mm = chord_mm / (2 * math.sin(half_angle_rad))
    return Back(
        form=BackForm.ROUNDED,
        chord_mm=chord_mm,
        radius_mm=radius_mm,
        arc_mm=2 * radius_mm * half_angle_rad,
        rise_mm=chord_mm / 2 * math.tan(half_angle_rad / 2),
        half_angle_rad=half_angle_rad,
        curve_known=curve_known,
    )


def _half_angle_from_rise(chord_mm: float, rise_mm: float) -> float:
    _positive(rise_mm, "a rounded back must rise over its chord", "--rise")
    most_mm = chord_mm / 2
    if rise_mm > most_mm * (1 + SAME_SHARE):
        raise ImpossibleBackError(
            "the round would be more than half a circle",
            value=f"{rise_mm:g} mm",
            where="--rise",
            remedy=f"a back {chord_mm:g} mm wide rises at most {most_mm:g} mm",
        )
    return min(2 * math.atan(2 * rise_mm / chord_mm), _HALF_CIRCLE_RAD)


def _half_angle_from_radius(chord_mm: float, radius_mm: float) -> float:
    _positive(radius_mm, "a rounded back has a radius", "--radius")
    least_mm = chord_mm / 2
    if radius_mm < least_mm * (1 - SAME_SHARE):
        raise ImpossibleBackError(
            "no circle so small spans the back",
            value=f"{radius_mm:g} mm",
            where="--radius",
            remedy=f"a back {chord_mm:g} mm wide has a radius of at least {least_mm:g} mm",
        )
    return math.asin(min(1.0, chord_mm / (2 * radius_mm)))  # the lesser of the two arcs


def _half_angle_from_arc(chord_mm: float, arc_mm: float) -> float:
    _positive(arc_mm, "a tape over the back has a length", "--arc")
    if arc_mm <= chord_mm:
        raise ImpossibleBackError(
            "a tape over a rounded back is longer than the width straight across",
            value=f"{arc_mm:g} mm",
            where="--arc",
            remedy=f"give more than {chord_mm:g} mm, or call the back flat",
        )
    most_mm = math.pi * chord_mm / 2
    if arc_mm > most_mm * (1 + SAME_SHARE):
        raise ImpossibleBackError(
            "the round would be more than half a circle",
            value=f"{arc_mm:g} mm",
            where="--arc",
            remedy=f"over a back {chord_mm:g} mm wide a tape measures at most {most_mm:.2f} mm",
        )
    return _solve_half_angle((arc_mm - chord_mm) / arc_mm)


def _solve_half_angle(shortfall: float) -> float:
    """The angle a in (0, pi/2] with 1 - sin(a)/a = ``shortfall``, to machine precision.

    In u = a^2 the left side is increasing and concave (u/6 - u^2/120 + ...), so Newton's
    steps from u = 6 x shortfall climb to the root and never pass it.
    """
    square = 6 * shortfall
    for _ in range(_MOST_STEPS):
        value, slope = _shortfall_of(square)
        higher = square + (shortfall - value) / slope
        if higher <= square:
            break
        square = higher
    return min(math.sqrt(square), _HALF_CIRCLE_RAD)


def _shortfall_of(square: float) -> tuple[float, float]:
    """1 - sin(a)/a and its slope in u = a^2, by its series: no digits cancel for small a."""
    value, slope, term = 0.0, 0.0, 1.0
    for k in range(1, _SERIES_TERMS + 1):
        factor = -1.0 / ((2 * k) * (2 * k + 1))
        slope -= k * term * factor
        term *= square * factor
        value -= term
    return value, slope


def _positive(length_mm: float, what: str, where: str) -> float:
    if not (math.isfinite(length_mm) and length_mm > 0):
        raise ImpossibleBackError(
            what, value=f"{length_mm:g} mm", where=where, remedy="give a length above 0"
        )
    return length_mm


class BentLabel(NamedTuple):
    """A label over a round.

    Attributes:
        covers_mm: width of the back under it, measured over the round.
        cut_width_mm: its width while it lies flat.
        thickness_mm: its thickness.
        face_stretch: width of its printed face on the back over that while it lay flat.
        lap: how far it goes on beyond the back on each side, where it goes round over the joints.
    """

    covers_mm: float
    cut_width_mm: float
    thickness_mm: float
    face_stretch: float
    lap: Lap | None = None

    @property
    def bend_mm(self) -> float:
        """What its thickness adds over the round, of widths told to a hundredth."""
        reach_mm = 0.0 if self.lap is None else 2 * self.lap.reach_mm
        return round(self.cut_width_mm, 2) - round(self.covers_mm, 2) - reach_mm


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


def lapping_label(back: Back, thickness_mm: float, lap: Lap) -> BentLabel:
    """The label that covers all of a back, and goes round over the joints onto the boards.

    A back whose round was not measured counts as the usual one, wider than as if it were flat: a
    label cut too wide only reaches farther under its covering.

    Args:
        back: the back under it.
        thickness_mm: of the label, 0 or more.
        lap: how far it goes on, on each side.
    """
    whole_mm = back.arc_mm
    label = BentLabel(whole_mm, whole_mm, thickness_mm, 1.0)
    if back.radius_mm is not None:
        label = bent_label(back.radius_mm, thickness_mm, whole_mm)
    return label._replace(cut_width_mm=label.cut_width_mm + 2 * lap.reach_mm, lap=lap)


def covered_mm(radius_mm: float, thickness_mm: float, cut_width_mm: float) -> float:
    """The width of back, along the arc, that a label cut so wide covers; as of `bent_label`.

    >>> round(covered_mm(20, 0.4, 30.3), 6)
    30.0
    """
    return cut_width_mm * radius_mm / (radius_mm + thickness_mm / 2)
