"""What should a binder know of the label itself: how wide to cut it, and does it cover?

In: the job, its usable panel. Out: findings on a label bent over a round (its flat width) and
on one that is to cover old lettering (its least size, and whether the back takes it). Loaded
only where one of the two counts.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit import catalogue
from spinefit.geometry import UsablePanel
from spinefit.geometry.back import BentLabel, bent_label
from spinefit.job.resolved import ResolvedJob, ResolvedOldLettering
from spinefit.judgement.finding import Finding
from spinefit.provenance import Status
from spinefit.vocabulary import Level, Place

__all__ = ["LabelRoom", "bent", "label_findings", "room_for_label"]

_SAME_MM = 1e-9  # rounding of sums of typed decimals
_OF_LABELS = "paper-label"  # whose edge is taken where the method is no label


class LabelRoom(NamedTuple):
    """What a back, or the label already chosen, offers a label that is to cover something.

    Attributes:
        width_mm: between the joints less the label's edge, over the round; or the label's.
        height_mm: of the panel, or the label's; None where the height is open.
    """

    width_mm: float
    height_mm: float | None

    def lacks_width(self, width_mm: float) -> bool:
        """Whether a label so wide has no room."""
        return width_mm > self.width_mm + _SAME_MM

    def lacks_height(self, height_mm: float) -> bool:
        """Whether a label so high has no room."""
        return self.height_mm is not None and height_mm > self.height_mm + _SAME_MM


def room_for_label(job: ResolvedJob, panel: UsablePanel) -> LabelRoom:
    """The largest label there is room for, in mm.

    It may reach farther round than ink may, so the largest angle does not count.
    """
    if job.spine is None or panel.back is None:
        return LabelRoom(panel.width_mm, panel.height_mm)
    edge_mm = job.spine.edge_mm
    if job.method.place is not Place.LABEL and "edge" not in job.spine.typed:
        row = catalogue.method(_OF_LABELS).label_edge
        edge_mm = edge_mm if row is None else row.value
    return LabelRoom(max(0.0, panel.back.developed_width_mm - 2 * edge_mm), panel.height_mm)


def bent(job: ResolvedJob, panel: UsablePanel, covers_mm: float) -> BentLabel | None:
    """A label over the job's round; None where there is no label or the radius is not known."""
    back = panel.back
    if job.label_thickness_mm is None or back is None or covers_mm <= 0:
        return None
    if back.radius_mm is None or not back.curve_known:
        return None
    return bent_label(back.radius_mm, job.label_thickness_mm, covers_mm)


def label_findings(job: ResolvedJob, panel: UsablePanel) -> list[Finding]:
    """Findings on the label, the gravest first.

    Args:
        job: the resolved job.
        panel: its usable panel, which is the label where the method is one.
    """
    found: list[Finding] = []
    if job.old_lettering is not None:
        found.extend(_covering(job, panel, job.old_lettering))
    label = bent(job, panel, panel.width_mm)
    if label is not None:
        found.append(
            Finding(
                topic="label-cut-width",
                level=Level.NOTE,
                value=label.cut_width_mm,
                limit=label.covers_mm,
                unit="mm",
                source="computed: a sheet bends about its middle, at radius + half its thickness",
                status=Status.COMPUTED,
                facts={"label": label},
            )
        )
    return found


def _covering(job: ResolvedJob, panel: UsablePanel, old: ResolvedOldLettering) -> list[Finding]:
    """The least label, and what keeps it from covering; or that the label chosen covers."""
    width_mm, height_mm = old.label_mm
    room = room_for_label(job, panel)
    found = [
        Finding(
            topic=topic,
            level=Level.WARNING,
            value=needed_mm,
            limit=given_mm,
            unit="mm",
            source=old.overlap.source,
            status=old.overlap.status,
            facts={"chosen": job.spine is None},
        )
        for topic, needed_mm, given_mm, is_lacking in (
            ("old-lettering-width", width_mm, room.width_mm, room.lacks_width(width_mm)),
            ("old-lettering-height", height_mm, room.height_mm, room.lacks_height(height_mm)),
        )
        if is_lacking
    ]
    if not found:
        found = _misplaced(panel, old) or [_covered(job, panel, old)]
    return found


def _covered(job: ResolvedJob, panel: UsablePanel, old: ResolvedOldLettering) -> Finding:
    width_mm, height_mm = old.label_mm
    return Finding.by_rule(
        "old-lettering-covered",
        Level.GOOD,
        width_mm,
        old.overlap,
        chosen=job.spine is None,
        height_mm=height_mm,
        bent=bent(job, panel, width_mm),
        begins_mm=_begins_mm(old),
    )


def _begins_mm(old: ResolvedOldLettering) -> float | None:
    return None if old.from_head_mm is None else old.from_head_mm - old.overlap.value


def _misplaced(panel: UsablePanel, old: ResolvedOldLettering) -> list[Finding]:
    """Old lettering so near an end of the panel, or outside it, that its label would leave it."""
    begins_mm, middle_mm = _begins_mm(old), panel.middle_from_head_mm
    if begins_mm is None or middle_mm is None or panel.height_mm is None:
        return []
    first_mm, last_mm = middle_mm - panel.height_mm / 2, middle_mm + panel.height_mm / 2
    ends_mm = begins_mm + old.label_mm[1]
    if begins_mm >= first_mm - _SAME_MM and ends_mm <= last_mm + _SAME_MM:
        return []
    return [
        Finding.by_rule(
            "old-lettering-outside",
            Level.WARNING,
            begins_mm,
            old.overlap,
            ends_mm=ends_mm,
            first_mm=first_mm,
            last_mm=last_mm,
        )
    ]
