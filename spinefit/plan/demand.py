"""How much of the back does a text need at a size?

In: the report of `check` for the text alone in the whole stretch that it may share. Out: its
settings, each with the most it takes across its lines' room and with the length of back it
covers at one point; ink scales with the size, so both hold at every size. mm and points.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.offer import Offer
from spinefit.judgement.strength import weakest_at
from spinefit.plan.model import BackText
from spinefit.say.model import LayoutReport, Report
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Orientation

__all__ = ["Demand", "Setting", "settings_of"]

# Limits are stated rounded down to 0.001 pt, so a zone is made longer by as much.
_ROUNDING_PT = 0.001
_SLIVER_MM = 0.1


class Setting(NamedTuple):
    """One way of setting a text.

    Attributes:
        lines: number of lines.
        advised_pt: the size that would be advised for it if the stretch were its own.
        largest_pt: the most it takes there.
        extent_mm: the length of back it covers, in mm for each point of size.
    """

    lines: int
    advised_pt: float
    largest_pt: float
    extent_mm: float


class Demand(NamedTuple):
    """What one text asks of the stretch it stands in.

    Attributes:
        text: the text.
        settings: in the order in which they are to be tried.
        ratio: its size over the title's.
        offer: the sizes that can be set.
        pad_mm: the clearance at its two ends together.
        job: the text as a resolved job.
        title: the text shaped.
    """

    text: BackText
    settings: tuple[Setting, ...]
    ratio: float
    offer: Offer
    pad_mm: float
    job: ResolvedJob
    title: ShapedTitle

    @property
    def sliver_mm(self) -> float:
        """What is left to it where it finds no room, so that its own report can be made."""
        return self.pad_mm + _SLIVER_MM

    def held_at(self, size_pt: float) -> Demand:
        """The same, its offer raised where the method does not hold its letters at a size."""
        weakest = weakest_at(self.job, self.title, size_pt)
        return self._replace(offer=self.offer.raised_by(weakest))

    def need_mm(self, setting: Setting, size_pt: float) -> float:
        """The length of back that a setting needs at a size, in mm."""
        return setting.extent_mm * (size_pt + _ROUNDING_PT) + self.pad_mm

    def at(self, size_pt: float, *, most: str, least_length: bool) -> Setting | None:
        """The setting to take at a size, or None where none is large enough.

        Args:
            size_pt: the size.
            most: ``advised`` to stay within the advised sizes, ``largest`` to go to the limit.
            least_length: take the one that needs the least length of back, rather than the
                first.
        """
        limits = {"advised": "advised_pt", "largest": "largest_pt"}
        able = [one for one in self.settings if size_pt <= getattr(one, limits[most])]
        if least_length:
            return min(able, key=lambda one: one.extent_mm, default=None)
        return able[0] if able else None


def settings_of(
    report: Report, orientation: Orientation, rules: Rules, *, clearance_mm: float, prefer: bool
) -> tuple[Setting, ...]:
    """The settings of one orientation, the fewest lines first.

    Args:
        report: of the text alone in the whole stretch, without a size asked for.
        orientation: the only one wanted.
        rules: for the most lines that look well.
        clearance_mm: kept round the ink.
        prefer: put the number of lines that was recommended first, as for a title.
    """
    own = [one for one in report.layouts if one.orientation is orientation and not one.over_bands]
    most = int(rules.value(_MOST_LINES[orientation]))
    usual = [one for one in own if len(one.lines) <= most and not one.word_broken]
    if report.panel.number is not None and orientation is Orientation.TRANSVERSE:
        usual = [one for one in own if not one.word_broken]
    recommended = None
    if prefer and report.recommended is not None:
        recommended = report.layouts[report.recommended]
    settings: dict[int, Setting] = {}
    for one in usual or own:
        setting = _setting(report, one, clearance_mm)
        best = settings.get(setting.lines)
        if best is None or one is recommended:
            settings[setting.lines] = setting
    ranked = sorted(settings.values(), key=lambda one: one.lines)
    if recommended is not None and recommended.orientation is orientation:
        ranked.sort(key=lambda one: one.lines != len(recommended.lines))
    return tuple(ranked)


_MOST_LINES = {
    Orientation.TRANSVERSE: "across.most_lines",
    Orientation.LONGITUDINAL: "lines.most_along",
    Orientation.PILLAR: "lines.most_along",
}


def _setting(report: Report, one: LayoutReport, clearance_mm: float) -> Setting:
    floats = one.orientation is Orientation.TRANSVERSE and report.panel.number is None
    extent_mm = one.ink_height_mm
    spare, height_mm = one.spare_mm, report.panel.height_mm
    if not floats and height_mm is not None and spare.head is not None and spare.tail is not None:
        # Centred, perhaps not on its ink: twice the longer of its two reaches.
        extent_mm = height_mm - 2 * clearance_mm - 2 * min(spare.head, spare.tail)
    return Setting(
        lines=len(one.lines),
        advised_pt=min(one.set_pt, one.largest_pt),
        largest_pt=one.largest_pt,
        extent_mm=extent_mm / one.set_pt,
    )
