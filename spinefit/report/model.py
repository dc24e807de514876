"""What is the whole answer, as plain numbers and words?

`Report` is the object that ``--format json`` writes, key for key; every writer reads it and
computes nothing. Lengths are millimetres at the size judged (``set_pt``), sizes DTP points.
Spares are in the panel's frame as one looks at the back; negative is excess.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.provenance import Status
from spinefit.vocabulary import (
    Centre,
    Firmness,
    Level,
    LimitedBy,
    Orientation,
    Reading,
    SetBy,
    Turn,
    Verdict,
)

__all__ = [
    "SCHEMA",
    "ConventionReport",
    "FindingReport",
    "FontReport",
    "FontUseReport",
    "LayoutReport",
    "LimitReport",
    "MeasurementReport",
    "MethodReport",
    "PanelReport",
    "RemedyReport",
    "Report",
    "SpareReport",
]

SCHEMA = "spinefit.report/1"


class FindingReport(NamedTuple):
    """One thing a binder should know, with what was measured and who sets the limit."""

    topic: str
    level: Level
    text: str
    value: float | str | None
    limit: float | str | None
    unit: str
    source: str
    status: Status | None


class SpareReport(NamedTuple):
    """Free space in mm from ink to panel edge less clearance; None where no edge is known."""

    left: float | None
    right: float | None
    head: float | None
    tail: float | None


class LayoutReport(NamedTuple):
    """One way of setting the title: an orientation, a reading, a split into lines.

    Attributes:
        largest_pt: the exact limit, rounded down to 0.001 pt; 0 where nothing fits.
        set_pt: the size judged; every figure in mm is at this size.
        line_widths_mm: ink width of each line.
        baselines_mm: distance of each baseline from the middle of the panel, towards the
            tops of the letters, in mm.
        needs_back_mm: for longitudinal lettering where no height was given, the length of
            back it needs, allowances included; else None.
        first_from_head_mm: from the head of the back (or panel) to the first baseline of
            transverse lines, or to the ink's end that is nearer the head; None without height.
        over_bands: True for lettering along the whole back over its bands, listed only.
        word_broken: True where a line ends inside a word.
        centre: what stands on the middle of the panel across the lines: ink, or capitals (the
            band of the small letters where the lettering is mostly lower case).
        split: "least width" for the split with the least greatest line, "sense" or "size" for
            a second one beside it, "as typed" where every break was forced.
    """

    orientation: Orientation
    reading: Reading
    turn: Turn
    lines: tuple[str, ...]
    largest_pt: float
    set_pt: float
    set_by: SetBy
    cap_height_mm: float
    x_height_mm: float
    ink_width_mm: float
    ink_height_mm: float
    line_widths_mm: tuple[float, ...]
    baselines_mm: tuple[float, ...]
    limited_by: LimitedBy
    spare_mm: SpareReport
    centre: Centre
    fits: bool
    tight: bool
    shape: str
    foreshortening: float
    reads_from_mm: float
    needs_back_mm: float | None
    first_from_head_mm: float | None
    over_bands: bool
    word_broken: bool
    split: str
    findings: tuple[FindingReport, ...]


class FontUseReport(NamedTuple):
    """A font that was tried, and the different letters of the title that come from it."""

    name: str
    file: str
    sha256: str
    letters: str


class FontReport(NamedTuple):
    """The font that was measured."""

    name: str
    file: str
    sha256: str


class PanelReport(NamedTuple):
    """The usable panel, before clearance.

    Attributes:
        of: what it is a panel of: "back", "label", or "outright" where it was given as such.
    """

    width_mm: float
    height_mm: float | None
    number: int | None
    developed: bool
    assumed: tuple[str, ...]
    of: str = "back"


class RemedyReport(NamedTuple):
    """A change that makes it fit, or fit larger, as re-running showed.

    Attributes:
        change: a fixed word: smaller, split, tracking, leading, font, turn, capitals, condensed,
            panel, wider-label, abbreviate, break-word, over-bands, cover.
        text: what to do, in a sentence.
        options: the options that make the change when added to the command; "" where it is no
            change of options.
        largest_pt: the largest size it gives, or None where that cannot be known.
        spare_mm: least spare on any side at the size it would be set, or None.
        cost: 1 (nothing but the setting), 2 (another letter or way round), 3 (another panel or
            label, other words), 4 (advised against), 5 (another place on the book).
    """

    change: str
    text: str
    options: str
    largest_pt: float | None
    spare_mm: float | None
    cost: int


class ConventionReport(NamedTuple):
    """Which way longitudinal lettering runs for the market, and who says so."""

    market: str | None
    reading: Reading
    firmness: Firmness
    source: str
    status: Status
    note: str


class LimitReport(NamedTuple):
    """A limit of the method: what it holds or offers, and who says so.

    Attributes:
        what: a fixed word: smallest, stroke, gap, placing, or sizes where there is a drawer.
        values: the limit, or the sizes of the drawer, in ``unit``.
    """

    what: str
    values: tuple[float, ...]
    unit: str
    source: str
    status: Status | None


class MethodReport(NamedTuple):
    """How the lettering is made, with its limits and what to mind."""

    key: str
    name: str
    cautions: tuple[str, ...]
    limits: tuple[LimitReport, ...] = ()


class MeasurementReport(NamedTuple):
    """One thing that was measured, or has to be, and the figures that were used.

    Attributes:
        what: a fixed word: width, height, rise, radius, arc, bands, band-height, bands-at,
            label-width, label-height, panel-width or panel-height.
        values: the figures used; two for a range, none where nothing was stated.
        unit: mm, or "" for a count.
        note: what it was measured on, for a width; else "".
        least: the least that the trade asks, in ``unit``, with its source and status; or None.
    """

    what: str
    values: tuple[float, ...]
    unit: str = "mm"
    note: str = ""
    least: float | None = None
    source: str = ""
    status: Status | None = None


class Report(NamedTuple):
    """The answer to one job."""

    schema: str
    verdict: Verdict
    answer: str
    title: str
    font: FontReport
    panel: PanelReport
    recommended: int | None
    layouts: tuple[LayoutReport, ...]
    findings: tuple[FindingReport, ...]
    remedies: tuple[RemedyReport, ...]
    convention: ConventionReport
    assumed: tuple[str, ...]
    method: MethodReport
    measurements: tuple[MeasurementReport, ...]
    fonts: tuple[FontUseReport, ...] = ()

    @property
    def fits(self) -> bool:
        """True where some layout fits, tight or not."""
        return self.recommended is not None
