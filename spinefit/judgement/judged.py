"""What is known of a layout at the size it is judged at?

In: a layout, the size it is judged at and what set it. Out: a `Judged`: whether it fits there,
what is spare on each side, and whether the placing tolerance of the method is covered. Which size
that is, is for `sizes` to say, and for `tool_sizes` where letters are tools.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement import placing
from spinefit.judgement.offer import Offer
from spinefit.judgement.placing import Sides
from spinefit.layout.search import Layout
from spinefit.units import arcminutes_of, distance_mm_at_arcminutes, mm_from_pt
from spinefit.vocabulary import Orientation, Reading, SetBy

__all__ = ["SHARES", "Judged"]

SHARES = {
    Orientation.TRANSVERSE: "advised.across_share",
    Orientation.LONGITUDINAL: "advised.along_share",
    Orientation.PILLAR: "advised.pillar_share",
}
"""The rule by which the advised size is a share of the largest, by orientation."""

_ROUNDING = 1 + 1e-9
_SLACK_MM = 1e-9  # rounding of sums of typed decimals


class Judged:
    """A layout at the size it is judged at.

    What decides is known at once; what is told of a setting, and of most is never asked, is
    worked out when it is first read.

    Attributes:
        layout: what is judged.
        largest_pt: its limit in DTP points, rounded down to 0.001.
        set_pt: the size judged.
        set_because: what set the size: asked, share, eye or floor.
        fits: the size is one the method offers and not above the limit, and the lettering
            keeps to its panel (over the bands it does not).
        cap_height_mm: height of the capitals most of the title is set in.
        offer: the sizes that can be set.
    """

    __slots__ = (
        "_height_seen",
        "_job",
        "_stands",
        "cap_height_mm",
        "fits",
        "largest_pt",
        "layout",
        "offer",
        "set_because",
        "set_pt",
        "size_mm",
    )

    def __init__(
        self,
        job: ResolvedJob,
        layout: Layout,
        offer: Offer,
        *,
        set_pt: float,
        why: str,
        largest_pt: float,
    ) -> None:
        self._job = job
        self._stands: _Stands | None = None
        self._height_seen: float | None = None
        self.layout = layout
        self.largest_pt = largest_pt
        self.set_pt = set_pt
        self.set_because = why
        self.offer = offer
        self.size_mm = size_mm = mm_from_pt(set_pt)
        fits = set_pt <= largest_pt and offer.holds(set_pt) and not layout.over_bands
        if layout.at_size is not None:
            fits = fits and size_mm <= layout.limit.size_mm * _ROUNDING
        self.fits = fits
        self.cap_height_mm = layout.title.reading_height_em * size_mm

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
    def tight(self) -> bool:
        """It fits, but less than the placing tolerance lies between ink and some edge."""
        return self.fits and self.nearest_edge_mm < self._job.method.placing.value - _SLACK_MM

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

    @property
    def height_seen(self) -> float:
        """The share of the capitals' height that the round of the back leaves to the eye.

        It is 1 but for lines along a rounded back.
        """
        if self._height_seen is None:
            flat = self.layout.panel.back is None
            self._height_seen = (
                1.0 if flat else placing.height_seen(self.layout, self.size_mm, self.centre_mm[0])
            )
        return self._height_seen

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
        """Cosine at the outermost ink; 1 on a flat back."""
        return placing.narrowing(self.layout, self.size_mm, self.centre_mm[0])

    @property
    def reads_from_mm(self) -> float:
        """The distance at which the height seen subtends the least legible angle."""
        return distance_mm_at_arcminutes(
            self.height_seen * self.cap_height_mm,
            self._job.rules.value("legibility.least_arcmin"),
        )

    @property
    def needs_back_mm(self) -> float | None:
        """Length of back (of panel, between bands) that longitudinal lettering needs.

        None where a height was given.
        """
        return placing.needs_back_mm(self._job, self.layout, self.size_mm)

    @property
    def first_from_head_mm(self) -> float | None:
        """From the head of the back, or of the panel given outright, to the first baseline.

        That is of transverse lines; else to the ink; None without a height.
        """
        return placing.first_from_head_mm(self.layout, self.size_mm, self.centre_mm[1])

    @property
    def _standing(self) -> _Stands:
        if self._stands is None:
            centre, spare = placing.place(self._job, self.layout, self.size_mm)
            beyond = placing.to_edge(self._job, self.layout, spare)
            nearest = placing.nearest_edge_mm(self.layout, beyond, self.size_mm)
            self._stands = _Stands(centre, spare, beyond, nearest)
        return self._stands


class _Stands(NamedTuple):
    """Where a setting stands, and what lies around it; as of `Judged`, in mm."""

    centre_mm: tuple[float, float]
    spare_mm: Sides
    to_edge_mm: Sides
    nearest_edge_mm: float
