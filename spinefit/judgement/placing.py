"""Where does a group stand in its panel at a size, and what is spare around it?

In: a layout and a size. Out: the placing point in the panel's frame and the lengths in mm on
each side, y up towards the head. Lettering across a back without bands stands a quarter of
its height down (common practice), as nearly as the ends of the panel allow.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.geometry import foreshortening, turn_box
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.search import Layout
from spinefit.vocabulary import Orientation, Place

__all__ = [
    "Sides",
    "first_from_head_mm",
    "height_seen",
    "narrowing",
    "nearest_edge_mm",
    "needs_back_mm",
    "place",
    "to_edge",
    "turns_away",
]


class Sides(NamedTuple):
    """A length in mm on each side of the panel, None where there is no edge."""

    left: float
    right: float
    head: float | None
    tail: float | None

    def known(self) -> list[float]:
        """The lengths that are known."""
        return [side for side in (self.left, self.right, self.head, self.tail) if side is not None]


def needs_back_mm(job: ResolvedJob, layout: Layout, size_mm: float) -> float | None:
    """Length of back, or of panel, that longitudinal lettering needs where none was given."""
    along = layout.candidate.orientation is not Orientation.TRANSVERSE
    if layout.panel.height_mm is not None or job.spine is None or not along:
        return None
    _left, bottom, _right, top = turn_box(layout.group.box, layout.candidate.turn)
    # Centred on the panel, so that the longer side counts twice.
    ink_mm = 2 * max(top, -bottom) * size_mm + 2 * job.lettering.clearance_mm
    return ink_mm if job.spine.bands else ink_mm + job.spine.head_mm + job.spine.foot_mm


def first_from_head_mm(layout: Layout, size_mm: float, y_mm: float) -> float | None:
    """From the head to the first baseline of lines across, else to the ink; in mm."""
    panel = layout.panel
    if panel.height_mm is None:
        return None
    from_head_mm = panel.middle_from_head_mm
    if from_head_mm is None:
        from_head_mm = panel.height_mm / 2
    if layout.candidate.orientation is Orientation.TRANSVERSE:
        return from_head_mm - y_mm - layout.group.baselines_em[0] * size_mm
    top = turn_box(layout.group.box, layout.candidate.turn)[3]
    return from_head_mm - y_mm - top * size_mm


def place(job: ResolvedJob, layout: Layout, size_mm: float) -> tuple[tuple[float, float], Sides]:
    """Where the group stands at a size, and what is spare around it, in mm."""
    panel, clearance = layout.panel, job.lettering.clearance_mm
    left, bottom, right, top = turn_box(layout.group.box, layout.candidate.turn)
    left, bottom, right, top = left * size_mm, bottom * size_mm, right * size_mm, top * size_mm
    x, y = layout.limit.centre_mm
    half_mm = panel.width_mm / 2 - clearance
    head = tail = None
    if panel.height_mm is not None:
        end_mm = panel.height_mm / 2 - clearance
        if layout.floats:
            y = _quarter_down(job, layout, top, bottom, end_mm)
        head, tail = end_mm - (y + top), end_mm + (y + bottom)
    return (x, y), Sides(half_mm + x + left, half_mm - x - right, head, tail)


def _quarter_down(
    job: ResolvedJob, layout: Layout, top: float, bottom: float, end_mm: float
) -> float:
    """Y of the middle of lettering across an unbanded back, in the panel's frame, in mm.

    As far from the head as was asked, else a quarter of the back's height down (common
    practice); or as much lower or higher as the ends of the panel ask for.
    """
    panel = layout.panel
    if panel.middle_from_head_mm is None or panel.back_height_mm is None:
        return 0.0
    from_head_mm = None if job.spine is None else job.spine.from_head_mm
    if from_head_mm is None:
        from_head_mm = job.rules.value("ends.from_head") * panel.back_height_mm
    wanted = panel.middle_from_head_mm - from_head_mm
    highest, lowest = end_mm - top, -end_mm - bottom
    if highest < lowest:
        return (highest + lowest) / 2
    return min(max(wanted, lowest), highest)


def to_edge(job: ResolvedJob, layout: Layout, spare: Sides) -> Sides:
    """From the ink to what is physically there on each side: joint, band, end of the back.

    Of a label it is the label's own edge, however far that is from the joint.
    """
    panel, clearance = layout.panel, job.lettering.clearance_mm
    own = 0.0 if job.method.place is Place.LABEL else 1.0  # what lies beyond a label is not its own
    left, right, head, tail = spare
    margin_head_mm, margin_tail_mm = panel.margin_head_mm, panel.margin_tail_mm
    return Sides(
        left + clearance + own * panel.margin_left_mm,
        right + clearance + own * panel.margin_right_mm,
        None if head is None or margin_head_mm is None else head + own * margin_head_mm + clearance,
        None if tail is None or margin_tail_mm is None else tail + own * margin_tail_mm + clearance,
    )


def nearest_edge_mm(layout: Layout, beyond: Sides, size_mm: float) -> float:
    """The least distance from the ink to any edge, curved sides and areas kept free included."""
    nearest = min(beyond.known())
    if layout.nearest_mm is None:
        return nearest
    return min(nearest, layout.nearest_mm(size_mm))


def narrowing(layout: Layout, size_mm: float, x_mm: float) -> float:
    """Cosine of the angle at which the outermost ink is seen; 1 on a flat back."""
    back = layout.panel.back
    if back is None:
        return 1.0
    left, _bottom, right, _top = turn_box(layout.group.box, layout.candidate.turn)
    outermost = max(abs(x_mm + left * size_mm), abs(x_mm + right * size_mm))
    return foreshortening(back, outermost)


def turns_away(layout: Layout) -> bool:
    """Whether the height of the letters lies round the back: lines along a rounded one."""
    back = layout.panel.back
    along = layout.candidate.orientation is Orientation.LONGITUDINAL
    return along and back is not None and back.radius_mm is not None


def height_seen(layout: Layout, size_mm: float, x_mm: float) -> float:
    """The share of their height that capitals keep to the eye; 1 but for lines along a round.

    The cosine at the outer edge of the band of capitals that lies farthest round the back: on
    the safe side, since the rest of the band turns away less.

    Args:
        layout: the setting.
        size_mm: its em in mm.
        x_mm: where its placing point stands, across the back.
    """
    back = layout.panel.back
    if back is None or not turns_away(layout):
        return 1.0
    first, last = layout.group.baselines_em[0], layout.group.baselines_em[-1]
    top = first + layout.title.reading_height_em
    band = turn_box((0.0, last, 0.0, top), layout.candidate.turn)
    outermost = max(abs(x_mm + band[0] * size_mm), abs(x_mm + band[2] * size_mm))
    return foreshortening(back, outermost)
