"""What is known of a layout at the size it is judged at, and where does it stand?

In: a layout, the size it is judged at and what set it. Out: a `Judged`: whether it fits there,
where it stands in the panel's frame, and the lengths in mm on each side, y up towards the head.
Lettering across a back without bands stands a quarter of its height down (common practice), as
nearly as the ends of the panel allow. Which size is judged, is for `choice` to say.
"""

from __future__ import annotations

from copy import copy
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from spinefit.geometry import foreshortening, turn_box
from spinefit.geometry.fit import Limit
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.offer import Offer
from spinefit.layout.standing import Layout
from spinefit.tolerances import SAME_MM, SAME_SHARE
from spinefit.units import arcminutes_of, distance_mm_at_arcminutes, mm_from_pt
from spinefit.vocabulary import Orientation, Place, Reading, SetBy

if TYPE_CHECKING:
    from spinefit.judgement.covering import OverOld


class Sides(NamedTuple):
    """A length in mm on each side of the panel, None where there is no edge."""

    left: float
    right: float
    head: float | None
    tail: float | None

    def known(self) -> list[float]:
        """The lengths that are known."""
        return [side for side in (self.left, self.right, self.head, self.tail) if side is not None]


class Judged:
    """A layout at the size it is judged at.

    Whether it fits is known at once. Where it stands is worked out when it is first read: a
    title has a dozen layouts, and of most nobody asks.

    Attributes:
        layout: what is judged.
        limit: of its ink, with its lines at their usual distance.
        largest_pt: that limit in DTP points, rounded down to 0.001.
        set_pt: the size judged.
        set_because: what set the size: asked, floor, or the name of a rule.
        fits: the size is one the method offers and not above the limit, the lettering keeps to
            its panel (over the bands it does not), no old lettering would show, and a recess
            can be cut for its label.
        fits_uncut: only that recess cannot be cut.
        meeting: as of its layout.
        cap_height_mm: height of the capitals most of the title is set in.
        offer: the sizes that can be set.
    """

    def __init__(
        self,
        job: ResolvedJob,
        layout: Layout,
        offer: Offer,
        *,
        set_pt: float,
        why: str,
        largest_pt: float,
        limit: Limit | None = None,
    ) -> None:
        self._job = job
        self.layout = layout
        self.limit = limit or layout.limit
        self.largest_pt = largest_pt
        self.set_pt = set_pt
        self.set_because = why
        self.offer = offer
        self.size_mm = size_mm = mm_from_pt(set_pt)
        self.meeting = layout.meeting()
        fits = set_pt <= largest_pt and offer.holds(set_pt)
        fits = fits and not layout.over_bands and self.meeting is None
        if layout.at_size is not None:
            fits = fits and size_mm <= layout.limit.size_mm * (1 + SAME_SHARE)
        self._fits_if_hidden = fits
        if job.old_lettering is not None:
            fits = fits and self.over_old is not None and self.over_old.misfit is None
        self.fits = fits
        self.fits_uncut = False
        self.cap_height_mm = layout.title.reading_height_em * size_mm

    def not_to_be_cut(self) -> Judged:
        """The same of a setting that fits, but whose recess would spoil the work."""
        found = copy(self)
        found.fits, found.fits_uncut = False, True
        return found

    def if_hidden(self) -> Judged:
        """The same, as if a label hid what old lettering there is."""
        found = copy(self)
        found.fits = self._fits_if_hidden
        return found

    def at(self, set_pt: float) -> Judged:
        """The same layout at another size."""
        return Judged(
            self._job, self.layout, self.offer,
            set_pt=set_pt, why=self.set_because, largest_pt=self.largest_pt,
        )  # fmt: skip

    def opened(self, other: Judged) -> Judged:
        """The same at the same size, its lines as far apart as those of another."""
        return Judged(
            self._job, other.layout, self.offer,
            set_pt=self.set_pt, why=self.set_because, largest_pt=self.largest_pt, limit=self.limit,
        )  # fmt: skip

    @property
    def set_by(self) -> SetBy:
        """Asked or advised."""
        return SetBy.ASKED if self.set_because == "asked" else SetBy.ADVISED

    @property
    def orientation(self) -> Orientation:
        """Which way its lines stand."""
        return self.layout.candidate.orientation

    @property
    def reading(self) -> Reading:
        """Which way its lines read."""
        return self.layout.candidate.reading

    @property
    def lines(self) -> tuple[str, ...]:
        """The text of each line."""
        return self.layout.group.texts

    @property
    def over_bands(self) -> bool:
        """True for lettering along the whole back over its bands, listed only."""
        return self.layout.over_bands

    @property
    def word_broken(self) -> bool:
        """True where a line ends inside a word."""
        return self.layout.group.breaks > 0

    @property
    def ink_width_mm(self) -> float:
        """Of the group of lines, before it is turned."""
        left, _bottom, right, _top = self.layout.group.box
        return (right - left) * self.size_mm

    @property
    def ink_height_mm(self) -> float:
        """Of the group of lines, before it is turned."""
        _left, bottom, _right, top = self.layout.group.box
        return (top - bottom) * self.size_mm

    @property
    def baselines_mm(self) -> tuple[float, ...]:
        """From the placing point to each baseline, towards the tops of the letters."""
        return tuple(baseline * self.size_mm for baseline in self.layout.group.baselines_em)

    @property
    def leading_em(self) -> float | None:
        """From each baseline to the next, on a label as of capitals so far apart; or None."""
        title, group = self.layout.title, self.layout.group
        if title.stack:
            return group.gap_em + title.cap_height_em if group.seams else None
        alone = group.line_count < 2 or self.orientation is Orientation.PILLAR
        return None if alone else group.leading_em

    @property
    def fails_by_letters(self) -> bool:
        """Only its letters keep it from fitting: sturdier ones would have a size."""
        of_method = self.offer.of_method
        misfit = not self.fits and not self.fits_uncut
        return misfit and of_method is not None and of_method.reaches(self.largest_pt)

    @property
    def tight(self) -> bool:
        """It fits, but less than the placing tolerance lies between ink and some edge."""
        return self.fits and self.nearest_edge_mm < self._job.method.placing.value - SAME_MM

    @property
    def spare_mm(self) -> Sides:
        """From ink to panel edge less clearance."""
        return self._standing.spare_mm

    @property
    def to_edge_mm(self) -> Sides:
        """From ink to what is physically there: joint, band, end."""
        return self._standing.to_edge_mm

    @property
    def nearest_edge_mm(self) -> float:
        """The least of these, or to a curved side or an area kept free where that is nearer."""
        return self._standing.nearest_edge_mm

    @property
    def centre_mm(self) -> tuple[float, float]:
        """Where the placing point stands in the panel's frame."""
        return self._standing.centre_mm

    @cached_property
    def height_seen(self) -> float:
        """The share of the capitals' height that the round of the back leaves to the eye.

        It is 1 but for lines along a rounded back: there the cosine at the outer edge of the
        band of capitals that lies farthest round it. That is on the safe side, since the rest
        of the band turns away less.
        """
        layout, back = self.layout, self.layout.panel.back
        along = self.orientation is Orientation.LONGITUDINAL
        if back is None or back.radius_mm is None or not along:
            return 1.0
        first, last = layout.group.baselines_em[0], layout.group.baselines_em[-1]
        top = first + layout.title.reading_height_em
        left, _bottom, right, _top = turn_box((0.0, last, 0.0, top), layout.candidate.turn)
        return foreshortening(back, self._outermost_mm(left, right))

    @property
    def arcminutes(self) -> float:
        """The angle that the height seen subtends at the reading distance."""
        return arcminutes_of(self.height_seen * self.cap_height_mm, self._job.reading_distance_mm)

    @property
    def is_read_with_ease(self) -> bool:
        """Whether that angle is the least for it, or more."""
        return self.arcminutes >= self._job.rules.value("legibility.least_arcmin")

    @property
    def foreshortening(self) -> float:
        """Cosine of the angle at which the outermost ink is seen; 1 on a flat back."""
        back = self.layout.panel.back
        if back is None:
            return 1.0
        left, _bottom, right, _top = self._box
        return foreshortening(back, self._outermost_mm(left, right))

    @property
    def reads_from_mm(self) -> float:
        """The distance at which the height seen subtends the least legible angle."""
        least_arcmin = self._job.rules.value("legibility.least_arcmin")
        return distance_mm_at_arcminutes(self.height_seen * self.cap_height_mm, least_arcmin)

    @property
    def needs_back_mm(self) -> float | None:
        """Length of back (of panel, between bands) that longitudinal lettering needs.

        None where a height was given.
        """
        spine = self._job.spine
        across = self.orientation is Orientation.TRANSVERSE
        if self.layout.panel.height_mm is not None or spine is None or across:
            return None
        _left, bottom, _right, top = self._box
        # Centred on the panel, so that the longer side counts twice.
        ink_mm = 2 * max(top, -bottom) * self.size_mm + 2 * self._job.lettering.clearance_mm
        return ink_mm if spine.bands else ink_mm + spine.head_mm + spine.foot_mm

    @property
    def first_from_head_mm(self) -> float | None:
        """From the head of the back, or of the panel given outright, to the first baseline.

        That is of transverse lines; else to the ink; None without a height.
        """
        panel = self.layout.panel
        if panel.height_mm is None:
            return None
        middle_mm = panel.middle_from_head_mm
        if middle_mm is None:
            middle_mm = panel.height_mm / 2
        across = self.orientation is Orientation.TRANSVERSE
        first_em = self.layout.group.baselines_em[0] if across else self._box[3]
        return middle_mm - self.centre_mm[1] - first_em * self.size_mm

    @cached_property
    def over_old(self) -> OverOld | None:
        """What becomes of old lettering; None where there is none."""
        old = self._job.old_lettering
        if old is None:
            return None
        from spinefit.judgement.covering import over_old

        left, bottom, right, top = (each * self.size_mm for each in self._box)
        x_mm, y_mm = self.centre_mm
        ink_mm = x_mm + left, y_mm + bottom, x_mm + right, y_mm + top
        return over_old(self._job, old, self.layout.panel, ink_mm)

    @property
    def old_stays(self) -> bool:
        """Whether old lettering stays in view beside it."""
        return self.over_old is not None and self.over_old.label_mm is None

    @property
    def _box(self) -> tuple[float, float, float, float]:
        """The ink in em, turned as it stands."""
        return turn_box(self.layout.group.box, self.layout.candidate.turn)

    def _outermost_mm(self, left_em: float, right_em: float) -> float:
        """How far from the middle of the panel the farther of two places lies across it."""
        x_mm = self.centre_mm[0]
        return max(abs(x_mm + left_em * self.size_mm), abs(x_mm + right_em * self.size_mm))

    @cached_property
    def _standing(self) -> _Standing:
        job, layout = self._job, self.layout
        centre_mm, spare_mm = place(job, layout, self.size_mm)
        beyond_mm = to_edge(job, layout, spare_mm)
        nearest_mm = min(beyond_mm.known())
        if layout.nearest_mm is not None:  # curved sides, areas kept free
            nearest_mm = min(nearest_mm, layout.nearest_mm(self.size_mm))
        return _Standing(centre_mm, spare_mm, beyond_mm, nearest_mm)


class _Standing(NamedTuple):
    """Where a layout stands, and what lies around it; as of `Judged`, in mm."""

    centre_mm: tuple[float, float]
    spare_mm: Sides
    to_edge_mm: Sides
    nearest_edge_mm: float


def place(job: ResolvedJob, layout: Layout, size_mm: float) -> tuple[tuple[float, float], Sides]:
    """Where the group stands at a size, and what is spare around it, in mm."""
    panel, clearance = layout.panel, job.lettering.clearance_mm
    box = turn_box(layout.group.box, layout.candidate.turn)
    left, bottom, right, top = (each * size_mm for each in box)
    x, y = layout.limit.centre_mm
    half_mm = panel.width_mm / 2 - clearance
    head = tail = None
    if panel.height_mm is not None:
        end_mm = panel.height_mm / 2 - clearance
        if layout.floats:
            y = _place_along_back(job, layout, top, bottom, end_mm)
        head, tail = end_mm - (y + top), end_mm + (y + bottom)
    return (x, y), Sides(half_mm + x + left, half_mm - x - right, head, tail)


def _place_along_back(
    job: ResolvedJob, layout: Layout, top: float, bottom: float, end_mm: float
) -> float:
    """Y of the middle of lettering that has no fixed place along the spine, in mm.

    In the panel's frame: as far from the head as was asked, or as old lettering lies. Else across
    a back without bands a quarter of its height down (common practice), and in the middle of what
    is left of it otherwise; or as much lower or higher as the ends of the panel ask for, which a
    label over old lettering reaches before its own does.
    """
    panel, old = layout.panel, job.old_lettering
    if panel.middle_from_head_mm is None or panel.back_height_mm is None:
        return 0.0
    from_head_mm = None if job.spine is None else job.spine.from_head_mm
    if from_head_mm is None:
        from_head_mm = panel.middle_from_head_mm
        if layout.candidate.orientation is Orientation.TRANSVERSE and panel.number is None:
            from_head_mm = job.rules.value("ends.from_head") * panel.back_height_mm
    wanted = panel.middle_from_head_mm - from_head_mm
    call = job.call_number
    if call is not None and call.first_line_mm is not None:
        across = layout.candidate.orientation is Orientation.TRANSVERSE
        wanted = call.first_line_mm - (panel.back_height_mm - panel.middle_from_head_mm)
        wanted -= layout.group.first_line(top - bottom) if across else top
    if panel.beside_old and abs(wanted) >= (panel.height_mm or 0.0) / 2:
        wanted = 0.0  # the old stands there: in the middle of what it leaves
    if old is not None and old.covered:
        beyond_mm = old.label_mm[1] / 2 - job.lettering.clearance_mm - (top - bottom) / 2
        end_mm -= max(0.0, beyond_mm)
    highest, lowest = end_mm - top, -end_mm - bottom
    if highest < lowest:
        return (highest + lowest) / 2
    return min(max(wanted, lowest), highest)


def to_edge(job: ResolvedJob, layout: Layout, spare: Sides) -> Sides:
    """From the ink to what is physically there on each side: joint, band, end of the back.

    Of a label it is the label's own edge, however far that is from the joint, or its frame; of one
    that goes round over the joints its sides are covered, and the joint counts.
    """
    panel, clearance = layout.panel, job.lettering.clearance_mm
    if panel.frame is not None:
        clearance -= panel.frame.inset_mm
    own = 0.0 if job.method.place is Place.LABEL else 1.0  # what lies beyond a label is not its own
    own_side = own if job.lap is None else 1.0
    left, right, head, tail = spare
    margin_head_mm, margin_tail_mm = panel.margin_head_mm, panel.margin_tail_mm
    return Sides(
        left + clearance + own_side * panel.margin_left_mm,
        right + clearance + own_side * panel.margin_right_mm,
        None if head is None or margin_head_mm is None else head + own * margin_head_mm + clearance,
        None if tail is None or margin_tail_mm is None else tail + own * margin_tail_mm + clearance,
    )
