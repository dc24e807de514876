"""What is the whole answer, as plain numbers and words?

`Report` is the object that ``--format json`` writes, key for key; every writer reads it and
computes nothing. Lengths are millimetres at the size judged (``set_pt``), sizes DTP points.
Spares are in the panel's frame as one looks at the back; negative is excess.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from spinefit.job.bulk import Estimate
from spinefit.job.resolved import ResolvedJob
from spinefit.say.label_model import (
    FrameReport,
    FrontBoardReport,
    LabelReport,
    LabelTextReport,
    OldLetteringReport,
    RecessReport,
    RuleReport,
    SpareReport,
)
from spinefit.say.on_need import OnNeed
from spinefit.say.presented import Presented
from spinefit.say.settings import Settings
from spinefit.vocabulary import (
    Centre,
    Firmness,
    Level,
    LimitedBy,
    Orientation,
    Reading,
    SetBy,
    Status,
    Tone,
    Turn,
    Verdict,
)

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


class NudgeReport(NamedTuple):
    """What was done by hand to one line.

    Attributes:
        up_mm: how much higher than by rule it stands, towards the tops of its letters.
        tracking: space between its letters, in thousandths of the size.
    """

    up_mm: float
    tracking: float


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
        split: "whole" for one line and a pillar, "least width" for the split with the least
            greatest line, "sense" or "size" for a second one beside it, "beside" for a word
            broken at the next place, "as typed" where every break was forced.
        findings: what a binder should know of it.
        texts: of a label with several, each with its size and place; else empty.
        rules: the rules of such a label, from the top.
        nudges: what was done by hand to each line, from the top; empty where nothing was.
        set_axes, largest_axes: every axis of a variable font as it draws the letters of
            ``set_pt`` and of ``largest_pt``: asked for with that size they give it again.
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
    limited_by: LimitedBy
    spare_mm: SpareReport
    fits: bool
    shape: str
    foreshortening: float
    reads_from_mm: float
    findings: Sequence[FindingReport]
    tight: bool
    needs_back_mm: float | None
    baselines_mm: tuple[float, ...]
    first_from_head_mm: float | None
    over_bands: bool
    word_broken: bool
    split: str
    centre: Centre
    texts: tuple[LabelTextReport, ...] = ()
    rules: tuple[RuleReport, ...] = ()
    nudges: tuple[NudgeReport, ...] = ()
    set_axes: tuple[tuple[str, float], ...] = ()
    largest_axes: tuple[tuple[str, float], ...] = ()


class FontUseReport(NamedTuple):
    """A font that was tried, and the different letters of the title that come from it."""

    name: str
    file: str
    sha256: str
    letters: str


class FontReport(NamedTuple):
    """The font that was measured.

    Attributes:
        of: "font", or "tools" where letters are tools.
        face: which face of its file, from 1; None for tools.
        axes: every axis of a variable font with its value, an optical size being that of the
            setting that is shown.
    """

    name: str
    file: str
    sha256: str
    face: int | None = None
    axes: tuple[tuple[str, float], ...] = ()
    of: str = "font"


class PanelReport(NamedTuple):
    """The usable panel, before clearance.

    Attributes:
        of: what it is a panel of: "back", "label", "front board", or "outright" where it was
            given as such.
        frame: what is ruled inside the label's edge, or None.
        label_from_head_mm: from the head of the back to the middle of a label of given size; None
            for any other.
        covering_colour, ink_colour: light or dark, as drawn; None where nothing was said.
        thickness: what the width of its back was estimated from; None where it was measured.
    """

    width_mm: float
    height_mm: float | None
    number: int | None
    developed: bool
    assumed: tuple[str, ...]
    of: str = "back"
    frame: FrameReport | None = None
    label_from_head_mm: float | None = None
    covering_colour: Tone | None = None
    ink_colour: Tone | None = None
    thickness: Estimate | None = None


class RemedyReport(NamedTuple):
    """A change that makes it fit, or fit larger, as re-running showed.

    Attributes:
        change: a fixed word: larger, smaller, split, tracking, leading, font, turn, capitals,
            as-typed, condensed, font+case, panel, wider-label, cover-old, old-panel, old-clear,
            abbreviate, break-word, over-bands, cover; or two of size, split, turn, case,
            condensed, abbreviate, tracking and leading, with "+" between them, where no single
            change is enough.
        text: what to do, in a sentence.
        options: the options that make the change when added to the command (for cover-old and
            cover in place of those of the back); "" where it is no change of options.
        largest_pt: the largest size it gives, or None where that cannot be known.
        spare_mm: least spare on any side at the size it would be set, or None.
        cost: 1 (nothing but the setting), 2 (another letter or way round), 3 (another panel or
            label, other words), 4 (advised against), 5 (another place on the book).
    """

    change: str
    text: str
    largest_pt: float | None
    cost: int
    spare_mm: float | None
    options: str


class ShapeReport(NamedTuple):
    """The largest split of one shape of the group, standing as the setting that is shown.

    Attributes:
        shape: as of the layouts.
        lines: the split.
        largest_pt, set_pt, fits: as of the layouts, where this shape is asked for.
    """

    shape: str
    lines: tuple[str, ...]
    largest_pt: float
    set_pt: float
    fits: bool


class ConventionReport(NamedTuple):
    """Which way longitudinal lettering runs for the market, and who says so."""

    market: str | None
    reading: Reading
    firmness: Firmness
    source: str
    status: Status
    note: str
    name: str = ""
    weakening: bool = False


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
    """How the lettering is made, with its limits and what to mind.

    Attributes:
        caution: the one line about what can hurt; "" where none is known.
        protection: what keeps a label from harm, by common practice.
    """

    key: str
    name: str
    cautions: tuple[str, ...]
    limits: tuple[LimitReport, ...] = ()
    caution: str = ""
    protection: tuple[str, ...] = ()


class MeasurementReport(NamedTuple):
    """One thing that was measured, or has to be, and the figures that were used.

    Attributes:
        what: a fixed word: width, height, rise, radius, arc, bands, band-height, bands-at,
            label-width, label-height, joint-width, board-width, board-height, panel-width,
            panel-height, old-width, old-height or old-from-head.
        values: the figures used; two for a range, none where nothing was stated.
        unit: mm, or "" for a count.
        note: what a width was measured on, or "estimated"; else "".
        least: the least that the trade asks, in ``unit``, with its source and status; or None.
    """

    what: str
    values: tuple[float, ...]
    unit: str = "mm"
    note: str = ""
    least: float | None = None
    source: str = ""
    status: Status | None = None


class Report(Presented, OnNeed):
    """The answer to one job; what is None, such as ``recess``, is not there.

    What could be changed is no part of it: `spinefit.remedies` looks for that, since it has to
    run the job again many times.

    Attributes:
        to_improve: the job, where a change could make the title fit, stand safer or be read
            with ease; None where nothing is wanting. In its place JSON has the remedies.
        recommended: place of the setting that is advised, or None; it takes them all to be found.
        nearest: place of the setting nearest to one that fits, where none does.
        cautions: what to mind with the method, and with a recess where one is cut.
        as_shown: the job, its lines standing as those of the setting that is shown; None where
            they make no shape, or none is looked for, as for the rows of a table. In its place
            JSON has the shapes that `spinefit.shapes` finds, or null.
    """

    schema: str
    verdict: Verdict
    answer: str
    title: str
    font: FontReport
    panel: PanelReport
    recommended: int | None
    layouts: Sequence[LayoutReport]
    findings: tuple[FindingReport, ...]
    to_improve: ResolvedJob | None
    convention: ConventionReport
    assumed: tuple[str, ...]
    method: MethodReport
    measurements: tuple[MeasurementReport, ...]
    front_board: FrontBoardReport | None
    recess: RecessReport | None
    label: LabelReport | None
    fonts: tuple[FontUseReport, ...]
    cautions: tuple[str, ...]
    old_lettering: OldLetteringReport | None
    nearest: int | None
    as_shown: ResolvedJob | None

    _fields = tuple(__annotations__)

    @property
    def fits(self) -> bool:
        """True where some layout fits, tight or not."""
        return self.verdict is not Verdict.DOES_NOT_FIT

    @property
    def shown(self) -> LayoutReport | None:
        """The advised setting, or the nearest where none fits; None where there is none."""
        if isinstance(self.layouts, Settings):
            return self.layouts.shown()
        place = self.nearest if self.recommended is None else self.recommended
        return None if place is None else self.layouts[place]

    def spare_around(self, layout: LayoutReport) -> SpareReport:
        """What is spare around the setting that is shown, to the label that is cut for it."""
        own = None if self.old_lettering is None else self.old_lettering.label_spare_mm
        return layout.spare_mm if own is None else own


def hazards_of(reports: Iterable[Report]) -> tuple[str, ...]:
    """The line of each method about what can hurt, and a knife's for a recess, each once."""
    lines = (
        line
        for one in reports
        for line in (
            one.method.caution,
            *(not_said_in(one.method.caution, one.recess.cautions[:1]) if one.recess else ()),
        )
    )
    return tuple(dict.fromkeys(filter(None, lines)))


_DOUBTS_OF_FONTS = ("font-checksum",)
_DOUBTS = (
    *_DOUBTS_OF_FONTS,
    "order-of-letters",
    "character-lost",
    "encoded-twice",
    "letter-of-another-script",
)


def doubts_of(reports: Iterable[Report], *, fonts_alone: bool = False) -> tuple[str, ...]:
    """What puts in doubt the figures or the letters themselves, each once.

    It stands in the first lines of an answer, and on every drawing.
    """
    topics = _DOUBTS_OF_FONTS if fonts_alone else _DOUBTS
    found = (one.text for report in reports for one in report.findings if one.topic in topics)
    return tuple(dict.fromkeys(found))


def not_said_in(caution: str, lines: Iterable[str]) -> tuple[str, ...]:
    """Those of some lines that a method's own caution does not say already."""
    return tuple(line for line in lines if line.rstrip(".") not in caution)
