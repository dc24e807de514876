"""What is the custom of a kind of work: across or along, and how large?

In: the job and its layouts, then the best across and the best along. Out: the size wanted of a
layout, and which of the two ways is advised, with the reason. Each kind of work has its rows in
rules.toml; their widths are those of the back, or of the label, not what margins leave. As a back
grows wider one way gives place to the other once: the room across is that of the largest usual
setting, small words joined but where across is the custom, which never shrinks, and what custom
asks of it never grows. In a panel between bands across is the rule unless forced (Cockerell, ch.
XV, fig. 95).
"""

from __future__ import annotations

import math
from functools import cache
from typing import Protocol

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.layout.standing import Layout
from spinefit.units import height_mm_at_arcminutes, pt_from_mm
from spinefit.vocabulary import Level, Orientation, Place, Sourced, Status, Work

SHARE = "advised.share"
"""How much of the largest size is advised at most, whichever way the lines run."""

_OF_CALL_NUMBER = "call_number.advised_pt"
_EYE = "advised.most_arcmin"
_ISO = Sourced(
    0, "mm", "ISO 6357:1985, via the German encyclopaedia article: across when wide enough",
    Status.PUBLISHED,
)  # fmt: skip
_PLEGER = Sourced(0, "", "Pleger (1914), p. 250: never break a word", Status.PUBLISHED)


class Aim:
    """Which size is wanted of a setting, whatever sizes there are.

    Never more than the share of the largest. Across, and in a pillar, no larger than the eye asks
    for at the reading distance; along, what custom aims at for the kind of work.

    Args:
        job: the resolved job.
    """

    def __init__(self, job: ResolvedJob) -> None:
        self._job = job
        rules, names = job.rules, _rows_along(job.work)
        self._rows = [(rules.get(name), name) for name in names[:-1]]
        self._least, self._least_name = rules.get(names[-1]), names[-1]
        self._share = rules.value(SHARE)
        self._eye_mm = height_mm_at_arcminutes(rules.value(_EYE), job.reading_distance_mm)

    def of(self, layout: Layout, largest_pt: float) -> tuple[float, str]:
        """The size wanted in points, and the rule that gives it.

        Args:
            layout: the setting.
            largest_pt: the largest size of it, in points.
        """
        _left, bottom, _right, top = layout.group.box
        capital_em, orientation = layout.title.cap_height_em, layout.candidate.orientation
        return self.wanted(orientation, layout.panel, capital_em, top - bottom, largest_pt)

    def wanted(
        self,
        orientation: Orientation,
        panel: UsablePanel,
        capital_em: float,
        height_em: float,
        largest_pt: float,
    ) -> tuple[float, str]:
        """The same of what stands in an orientation in a panel.

        Args:
            orientation: of its lines.
            panel: what they stand in.
            capital_em: the height of their capitals.
            height_em: the height of their ink, before it is turned.
            largest_pt: as of `of`.
        """
        if self._job.call_number is not None:
            wanted_pt = self._job.rules.value(_OF_CALL_NUMBER)
            if wanted_pt <= largest_pt:  # one size on the whole shelf, however full a back is
                return wanted_pt, _OF_CALL_NUMBER
        if orientation is Orientation.LONGITUDINAL:
            aim = self._along(panel, capital_em, height_em)
        else:
            aim = pt_from_mm(self._eye_mm / capital_em), _EYE
        share_pt = self._share * largest_pt
        return aim if aim[0] <= share_pt else (share_pt, SHARE)

    def _along(self, panel: UsablePanel, capital_em: float, height_em: float) -> tuple[float, str]:
        """The least of the shares and limits of the kind of work, not under its least size."""
        width_mm = _width_mm(self._job, panel)
        units_pt = (
            pt_from_mm(width_mm / capital_em), pt_from_mm(width_mm / height_em),
            pt_from_mm(1 / capital_em), 1.0,
        )  # fmt: skip
        wanted = math.inf, ""
        for (row, name), unit_pt in zip(self._rows, units_pt, strict=True):
            if row is not None and row.value * unit_pt < wanted[0]:
                wanted = row.value * unit_pt, name
        least = self._least
        return (
            wanted if least is None or wanted[0] >= least.value else (least.value, self._least_name)
        )


@cache
def _rows_along(work: Work) -> tuple[str, ...]:
    """The rows of a kind of work for sizes along: of the capitals, the ink, both limits, least."""
    ends = ("capitals", "ink", "most_mm", "most_pt", "least_pt")
    return tuple(f"{work}.along_{end}" for end in ends)


def _width_mm(job: ResolvedJob, panel: UsablePanel) -> float:
    """The width that custom speaks of: of the label, or of the back.

    A panel given outright on a back lies in what such a back leaves for ink.
    """
    if job.method.place is Place.LABEL or job.work is Work.LABEL:
        return panel.width_mm
    if job.spine is not None:
        return job.spine.width_mm
    return panel.width_mm + job.rules.value("edge.usual_mm")


def needs_room_across(job: ResolvedJob) -> bool:
    """Whether custom asks for room across: on a bare back but of leather, and on a tall label."""
    panel = job.label or job.panel
    if panel is None and job.spine is not None:
        return job.spine.bands == 0 and job.work is not Work.LEATHER
    return panel is not None and (
        panel.height_mm > job.rules.value("across.tall_label") * panel.width_mm
    )


def is_across_by_custom(job: ResolvedJob) -> bool:
    """Whether that kind of work is lettered across: labels, leather and panels between bands."""
    return job.work in (Work.LABEL, Work.LEATHER) or not needs_room_across(job)


class Across(Protocol):
    """The settings across of a title.

    Attributes:
        roomiest: of the usual ones the one that could be largest; None where none is usual.
        usual: of the usual ones the best; None likewise.
        best: the best of all.
    """

    @property
    def roomiest(self) -> Judged | None:
        """As above."""

    @property
    def usual(self) -> Judged | None:
        """As above."""

    @property
    def best(self) -> Judged | None:
        """As above."""


def across_or_along(
    job: ResolvedJob, across: Across, along: Judged
) -> tuple[Judged, tuple[Finding, ...]]:
    """Which of the two is advised where custom asks for room across, and why.

    Args:
        job: the resolved job.
        across: the settings across, of which some fit.
        along: the best setting along.
    """
    roomiest = across.roomiest
    if roomiest is not None:
        strands = roomiest.layout.group.lines.strands_small_words
        largest = across.usual if strands else roomiest
        if largest is not None and largest.largest_pt >= along.largest_pt:
            assert across.usual is not None  # as one of them is roomiest
            return across.usual, (Finding.of("across-larger", Level.GOOD),)
    refused = roomiest or across.best
    assert refused is not None  # some fit
    width_mm = _width_mm(job, along.layout.panel)
    narrowest = job.rules.get(f"{job.work}.across_from_mm")
    if narrowest is not None and width_mm < narrowest.value:
        return along, _passed_over(job, "across-narrow", width_mm, narrowest, refused)
    if roomiest is None:
        return along, _unusual(job, refused)
    held_pt = job.rules.value(SHARE) * roomiest.largest_pt
    least = _least(job, width_mm)
    if least is not None and held_pt < least.value:
        return along, _passed_over(job, "across-least", held_pt, least, roomiest)
    half = _half_of(job, along)
    if roomiest.cap_height_mm < half.value and not roomiest.is_read_with_ease:
        return along, _passed_over(job, "across-small", roomiest.cap_height_mm, half, roomiest)
    assert across.usual is not None  # as one of them is roomiest
    return across.usual, (_chosen(job, width_mm, narrowest or _ISO),)


def _chosen(job: ResolvedJob, width_mm: float, rule: Sourced) -> Finding:
    return Finding.by_rule("across-chosen", Level.GOOD, width_mm, rule, work=job.work.words)


def _least(job: ResolvedJob, width_mm: float) -> Sourced | None:
    """The size that lettering across has to hold on a back of a width, in whole points.

    From the width on where it is lettered across at all, that size falls to the least one.
    """
    rules, work = job.rules, job.work
    least: Sourced | None = rules.get(f"{work}.across_least_pt")
    if least is None:
        return None
    from_mm, full_mm = (rules.value(f"{work}.across_{end}_mm") for end in ("from", "full"))
    if width_mm >= full_mm:
        return least
    first = rules[f"{work}.across_first_pt"]
    way_there = (width_mm - from_mm) / (full_mm - from_mm)
    return first._replace(value=round(first.value + (least.value - first.value) * way_there))


def _half_of(job: ResolvedJob, along: Judged) -> Sourced:
    """How high capitals across have to be beside those along, in mm."""
    share = job.rules["across.cap_share"]
    return share._replace(value=share.value * along.cap_height_mm, unit="mm")


def _unusual(job: ResolvedJob, across: Judged) -> tuple[Finding, ...]:
    """Why the settings across that fit are not usual ones."""
    if across.word_broken:
        return _passed_over(job, "across-broken", None, _PLEGER, across)
    if across.layout.group.lines.strands_small_words:
        return _passed_over(job, "across-alone", None, _PLEGER, across)
    lines = across.layout.group.line_count
    return _passed_over(job, "across-lines", lines, job.rules["across.most_lines"], across)


def _passed_over(
    job: ResolvedJob, topic: str, value: float | None, rule: Sourced, across: Judged
) -> tuple[Finding, ...]:
    """Why lettering across was passed over; whether it could be read decides who disagrees."""
    found = Finding.by_rule(
        topic, Level.NOTE, value, rule,
        refused=across, work=job.work.words, reads=across.is_read_with_ease,
    )  # fmt: skip
    return (found,)


def unless_forced(
    job: ResolvedJob, across: Judged, along: Judged
) -> tuple[Judged, tuple[Finding, ...]]:
    """Across in a panel or on leather, unless it cannot be read and along is clearly better."""
    rule = job.rules["legibility.failing_arcmin"]
    half_mm = _half_of(job, along).value
    if across.arcminutes < rule.value and across.cap_height_mm < half_mm:
        return along, _passed_over(job, "across-unreadable", across.arcminutes, rule, across)
    if job.spine is None or job.label is not None:
        return across, (Finding.of("across-in-label", Level.GOOD),)
    if job.spine.bands:
        return across, (Finding.of("across-in-panel", Level.GOOD),)
    return across, (_chosen(job, job.spine.width_mm, _ISO),)
