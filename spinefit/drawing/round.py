"""How does lettering on a rounded back look from the shelf, and how far round does it go?

In: one text on a rounded back. Out: two views in mm: the section through the back, seen from
the head with the reader below, and the lettered part as an eye straight before it sees it.
A point x along the arc stands at R sin(x / R) across and R (1 - cos(x / R)) deep. Where only
the width is known the round is the usual one, and the drawing says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from spinefit.drawing.dimensions import Span, rows
from spinefit.drawing.frame import Frame, ShownText
from spinefit.drawing.marks import (
    CENTRE,
    DASHED,
    FINE,
    GREY,
    OUTLINE,
    THIN,
    box,
    end_line,
    label,
    tick,
)
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, ring_contour
from spinefit.geometry.back import Back
from spinefit.geometry.plane import Ring, flatten
from spinefit.say.phrasing import bare_mm, mm
from spinefit.shaping.glyphs import Contour, Point

_FLAT_MM = 0.003  # from a curve to its chords: a tenth of what a sharp eye sees
_STEP_MM = 0.5
_ARC_STEPS = 96
_INK = Pen(1.0)
_AROUND_MM = 6.0


def seen_contours(contours: Iterable[Contour], radius_mm: float) -> tuple[Contour, ...]:
    """Contours on the arc as they are seen from straight before the back.

    Args:
        contours: in mm, x along the arc from the middle.
        radius_mm: of the back.
    """
    rings = flatten(tuple(contours), tolerance_em=_FLAT_MM)
    return tuple(
        ring_contour((radius_mm * math.sin(x / radius_mm), y) for x, y in _close_together(corners))
        for corners in rings
        if len(corners) > 2
    )


def _close_together(corners: Ring) -> Iterator[Point]:
    """The corners, with points between those far apart across, which the round bends."""
    for (x, y), (to_x, to_y) in pairwise((*corners, corners[0])):
        steps = max(1, math.ceil(abs(to_x - x) / _STEP_MM))
        for step in range(steps):
            yield x + (to_x - x) * step / steps, y + (to_y - y) * step / steps


def section(frame: Frame) -> tuple[Item, ...]:
    """The section through the back with arc, chord, rise, radius and the ink on it.

    The middle of the chord stands at the origin; the round hangs below it.
    """
    shown, ink = frame.first, frame.boxes_mm[0]
    back, radius = _rounded(frame)
    arc = _arc(back, radius, (-back.arc_mm / 2, back.arc_mm / 2))
    chord = back.chord_mm / 2
    items: list[Item] = [
        Area((ring_contour([*arc, (chord, 4.0), (-chord, 4.0)]),), GREY, None),
        Line(tuple(arc), OUTLINE),
        Line(((-chord, 4.0), (-chord, 0.0)), FINE),
        Line(((chord, 4.0), (chord, 0.0)), FINE),
        Line(((-chord, 0.0), (chord, 0.0)), FINE),
        Line(((0.0, 6.0), (0.0, -back.rise_mm - 4.0)), CENTRE),
        Line(tuple(_arc(back, radius, (ink[0], ink[2]))), _INK),
    ]
    items += _limits(shown, back, radius)
    x = chord + 6.0
    for y in (0.0, -back.rise_mm):
        items.append(Line(((0.9 if y else chord + 0.9, y), (x + 1.6, y)), FINE))
        items.append(tick((x, y)))
    items.append(Line(((x, 0.0), (x, -back.rise_mm)), THIN))
    items += label((x + 1.6, -back.rise_mm / 2), f"rise {bare_mm(back.rise_mm)}")
    under = -back.rise_mm - 9.0
    items += rows([[Span(-chord, chord, "chord")]], from_y_mm=-0.5, y_mm=under)
    outermost = math.degrees(max(-ink[0], ink[2]) / radius)
    words = [
        f"radius {mm(radius)}, round the arc {mm(back.arc_mm)}",
        f"ink to {outermost:.0f}° from the middle (limit {_limit_deg(shown):g}°)",
    ]
    if not back.curve_known:
        words.append("the round is assumed: lay a tape over it")
    y = under - 5.0
    for text in words:
        items += label((0.0, y), text, anchor="middle", halo=False)
        y -= 4.2
    return (Group("section", tuple(items), "section through the back, the reader below"),)


def _rounded(frame: Frame) -> tuple[Back, float]:
    """The rounded back that a frame is of, and its radius in mm."""
    back = frame.first.panel.back
    assert back is not None and back.radius_mm is not None  # only of a rounded back
    return back, back.radius_mm


def _limits(shown: ShownText, back: Back, radius: float) -> Iterator[Item]:
    """The angles within which ink stays, as lines from inside the round to beyond it."""
    angle = math.radians(_limit_deg(shown))
    if angle > back.half_angle_rad:
        return
    drop = radius - back.rise_mm
    for sign in (-1, 1):
        across, deep = math.sin(angle) * sign, math.cos(angle)
        ends = (max(drop - 3.0, 0.0), radius + 4.0)
        yield Line(tuple((across * end, drop - deep * end) for end in ends), DASHED)


def _limit_deg(shown: ShownText) -> float:
    spine = shown.answer.job.spine
    assert spine is not None  # a rounded back is a spine
    return spine.max_angle_deg


def _arc(back: Back, radius: float, ends_mm: tuple[float, float]) -> list[Point]:
    """Points of the round between two places along the arc, chord level with y = 0."""
    (begins, ends), found = ends_mm, []
    for step in range(_ARC_STEPS + 1):
        angle = (begins + (ends - begins) * step / _ARC_STEPS) / radius
        found.append((radius * math.sin(angle), radius - back.rise_mm - radius * math.cos(angle)))
    return found


def seen(frame: Frame) -> tuple[Item, ...]:
    """The lettered part of the back as it is seen from the shelf, about y = 0."""
    back, radius = _rounded(frame)
    chord, ink, panel = back.chord_mm / 2, frame.boxes_mm[0], frame.panels_mm[0]
    top = min(0.0, max(ink[3] + _AROUND_MM, min(panel[3], ink[3] + 12.0)))
    bottom = max(frame.tail_mm, min(ink[1] - _AROUND_MM, max(panel[1], ink[1] - 12.0)))
    side, greys = radius * math.sin(panel[2] / radius), frame.first.greys
    items: list[Item] = [
        box(-chord, bottom, chord, top, grey=greys.covering),
        box(-side, max(bottom, panel[1]), side, min(top, panel[3]), grey=greys.ground),
    ]
    items += [Line(((x, bottom), (x, top)), OUTLINE) for x in (-chord, chord)]
    items += [Line(((x, bottom), (x, top)), DASHED) for x in (-side, side)]
    for y, end in ((top, 0.0), (bottom, frame.tail_mm)):
        items.append(end_line(-chord, chord, y, goes_on=y != end))
    letters = Area(seen_contours(frame.inks[0], radius), greys.ink)
    if frame.first.judged.layout.title.only_pt is not None:
        letters = letters._replace(grey=None, pen=FINE)  # faces of tools, not letters
    items.append(letters)
    edge = [radius * math.sin(x / radius) for x in (ink[0], ink[2])]
    items += rows(
        [[Span(edge[0], edge[1], "ink as seen")]], from_y_mm=bottom - 2.0, y_mm=bottom - 8.0
    )
    return (Group("as-seen", tuple(items), "the lettered part as seen from the shelf"),)
