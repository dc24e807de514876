"""What becomes of lettering that stands on the back already?

In: the job, its usable panel and where the new lettering stands in it. Out: an `OverOld`: the old
ink and the label over it, or why it cannot be hidden; then what is found of that. A label is as
wide as its room, centred on its lettering, and reaches beyond the old ink and impression on every
side by the overlap (rules.toml rework.overlap_mm) without leaving joints or panel; lettering
straight on the back hides nothing and has to stand clear. Boxes in mm in the panel's frame.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spinefit import catalogue
from spinefit.geometry import UsablePanel
from spinefit.geometry.plane import box_ring
from spinefit.job.resolved import ResolvedJob, ResolvedOldLettering, ResolvedSpine
from spinefit.judgement.finding import Finding
from spinefit.shaping.glyphs import Box
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Level, Place

_OF_LABELS = "paper-label"  # whose edge is taken where the method is no label


class Misfit(NamedTuple):
    """Why a label cannot cover, or lettering straight on the back not be set there.

    Attributes:
        topic: of what is found: old-lettering- and width, height, outside, shape or met.
        needed_mm, given_mm: what the label needs, and what there is.
        label_mm: the label that would leave its panel, in the panel's frame.
    """

    topic: str
    needed_mm: float
    given_mm: float
    label_mm: Box | None = None


class OverOld(NamedTuple):
    """Old lettering, and the new beside or over it; boxes in mm in the panel's frame.

    Attributes:
        ink_mm: old ink and impression, in the middle of the width; where its distance from the
            head is not known it is taken to stand where the new lettering does.
        label_mm: the label over it; None straight on the back.
        misfit: why the old would show; None where it is covered, or clear of the new.
    """

    ink_mm: Box
    label_mm: Box | None
    misfit: Misfit | None


def over_old(
    job: ResolvedJob, old: ResolvedOldLettering, panel: UsablePanel, new_mm: Box
) -> OverOld:
    """What becomes of old lettering under or beside a setting.

    Args:
        job: the resolved job.
        old: its old lettering.
        panel: its usable panel, of a label already cut the label itself.
        new_mm: the ink of the setting.
    """
    label = _label_at_hand(old, panel)
    if label is not None and old.covered:
        return _under(job, old, label, _from_head_mm(panel) - _from_head_mm(label))
    middle_mm, old_mm = (new_mm[1] + new_mm[3]) / 2, old_middle_mm(old, panel)
    ink_mm = _centred(old.width_mm, old.height_mm, middle_mm if old_mm is None else old_mm)
    if not old.covered:
        return OverOld(ink_mm, None, _met(old, ink_mm, new_mm, is_known=old_mm is not None))
    label_mm = _label_mm(job, panel, new_mm, _grown(ink_mm, old.overlap.value))
    return OverOld(ink_mm, label_mm, why_not_covered(job, old, panel) or _out(panel, label_mm))


def free_of_old(
    old: ResolvedOldLettering, panel: UsablePanel, wanted_mm: float | None
) -> UsablePanel:
    """What old lettering that stays in view leaves of a panel, its overlap kept free.

    The part in which the new was asked for, else the longer one; the whole where nothing is left,
    or the place of the old is not known. Of a panel of another shape the old is an area kept free.

    Args:
        old: the old lettering.
        panel: the usable panel of the back.
        wanted_mm: from the head to where the middle of the new is wanted; None for anywhere.
    """
    middle_mm, old_mm = panel.middle_from_head_mm, old_middle_mm(old, panel)
    if old_mm is None or middle_mm is None or panel.height_mm is None:
        return panel
    low_mm, high_mm = old_mm - old.label_mm[1] / 2, old_mm + old.label_mm[1] / 2
    half_mm = panel.height_mm / 2
    if low_mm >= half_mm - SAME_MM or high_mm <= -half_mm + SAME_MM:
        return panel
    if not panel.is_plain:
        ring = box_ring(*_centred(*old.label_mm, old_mm))
        return panel._replace(holes_mm=(*panel.holes_mm, ring))
    parts = [(high_mm, half_mm), (-half_mm, low_mm)]
    if wanted_mm is not None:
        y_mm = middle_mm - wanted_mm
        parts = [each for each in parts if each[0] < y_mm < each[1]] or parts
    bottom_mm, top_mm = max(parts, key=lambda each: each[1] - each[0])
    if top_mm - bottom_mm <= SAME_MM:
        return panel
    above = top_mm == half_mm
    beyond_mm = old.overlap.value
    return panel._replace(
        height_mm=top_mm - bottom_mm,
        middle_from_head_mm=middle_mm - (top_mm + bottom_mm) / 2,
        margin_head_mm=panel.margin_head_mm if above else beyond_mm,
        margin_tail_mm=beyond_mm if above else panel.margin_tail_mm,
        beside_old=True,
    )


def _label_at_hand(old: ResolvedOldLettering, panel: UsablePanel) -> UsablePanel | None:
    """A label whose size is not free: shared by several texts, cut already, or of a shape."""
    if old.shared_label_mm is not None:
        begins_mm, ends_mm = old.shared_label_mm
        return panel._replace(
            height_mm=ends_mm - begins_mm, middle_from_head_mm=(begins_mm + ends_mm) / 2
        )
    return None if panel.back is not None and panel.is_plain else panel


def _from_head_mm(panel: UsablePanel) -> float:
    return panel.middle_from_head_mm or 0.0


def _under(
    job: ResolvedJob, old: ResolvedOldLettering, label: UsablePanel, raised_mm: float
) -> OverOld:
    """Old lettering under such a label, whose middle stands so high in the panel's frame."""
    misfit = why_not_covered(job, old, label)
    if misfit is not None and misfit.label_mm is not None:
        misfit = misfit._replace(label_mm=_raised(misfit.label_mm, raised_mm))
    middle_mm = (old_middle_mm(old, label) or 0.0) + raised_mm
    ink_mm = _centred(old.width_mm, old.height_mm, middle_mm)
    label_mm = _centred(label.width_mm, label.height_mm or 0.0, raised_mm)
    return OverOld(ink_mm, label_mm, misfit)


def old_middle_mm(old: ResolvedOldLettering, panel: UsablePanel) -> float | None:
    """The middle of old ink in the panel's frame; None where it is not known."""
    if old.middle_mm is None or panel.middle_from_head_mm is None:
        return None
    return panel.middle_from_head_mm - old.middle_mm


def why_not_covered(
    job: ResolvedJob, old: ResolvedOldLettering, panel: UsablePanel
) -> Misfit | None:
    """What keeps every label of a panel from covering; None where one can."""
    (width_mm, height_mm), room_mm = old.label_mm, label_width_mm(job, panel)
    if width_mm > room_mm + SAME_MM:
        return Misfit("old-lettering-width", width_mm, room_mm)
    if panel.height_mm is None:
        return None
    if height_mm > panel.height_mm + SAME_MM:
        return Misfit("old-lettering-height", height_mm, panel.height_mm)
    middle_mm = old_middle_mm(old, panel)
    cover_mm = _centred(width_mm, height_mm, middle_mm or 0.0)
    if middle_mm is not None:
        out = _out(panel, cover_mm)
        if out is not None:
            return out
    if panel.outline_mm is not None:
        from spinefit.geometry.polygons import ring_holds

        if not ring_holds(panel.outline_mm, box_ring(*cover_mm)):
            return Misfit("old-lettering-shape", height_mm, panel.height_mm)
    return None


def label_width_mm(job: ResolvedJob, panel: UsablePanel) -> float:
    """The width of the widest label in mm: between the joints less its edge, over the round.

    It may reach farther round than ink may, so the largest angle does not count.
    """
    if job.spine is None or panel.back is None:
        return panel.width_mm
    edge_mm = job.spine.edge_mm
    if job.method.place is not Place.LABEL and "edge" not in job.spine.typed:
        row = catalogue.method(_OF_LABELS).label_edge
        edge_mm = edge_mm if row is None else row.value
    return max(0.0, panel.back.developed_width_mm - 2 * edge_mm)


def _label_mm(job: ResolvedJob, panel: UsablePanel, new_mm: Box, cover_mm: Box) -> Box:
    """A label centred on its lettering: in whole millimetres as that asks, or as covers."""
    middle_mm = (new_mm[1] + new_mm[3]) / 2
    around_mm = 2 * (job.lettering.clearance_mm - SAME_MM)
    height_mm = float(math.ceil(new_mm[3] - new_mm[1] + around_mm))
    if panel.height_mm is not None:
        height_mm = min(height_mm, 2 * (panel.height_mm / 2 - abs(middle_mm)))
    height_mm = max(height_mm, 2 * (cover_mm[3] - middle_mm), 2 * (middle_mm - cover_mm[1]))
    return _centred(max(panel.width_mm, cover_mm[2] - cover_mm[0]), height_mm, middle_mm)


def _out(panel: UsablePanel, label_mm: Box) -> Misfit | None:
    """A label that would reach beyond the ends of its panel."""
    if panel.height_mm is None:
        return None
    out_mm = max(label_mm[3], -label_mm[1]) - panel.height_mm / 2
    if out_mm <= SAME_MM:
        return None
    height_mm = label_mm[3] - label_mm[1]
    return Misfit("old-lettering-outside", height_mm, height_mm - out_mm, label_mm)


def _met(old: ResolvedOldLettering, ink_mm: Box, new_mm: Box, *, is_known: bool) -> Misfit | None:
    """New lettering that would stand on the old, or cannot be said to stand clear of it."""
    apart_mm = max(
        new_mm[0] - ink_mm[2], ink_mm[0] - new_mm[2], new_mm[1] - ink_mm[3], ink_mm[1] - new_mm[3]
    )
    least_mm = old.overlap.value
    if is_known and apart_mm >= least_mm - SAME_MM:
        return None
    return Misfit("old-lettering-met", least_mm, apart_mm)


def _centred(width_mm: float, height_mm: float, y_mm: float) -> Box:
    return -width_mm / 2, y_mm - height_mm / 2, width_mm / 2, y_mm + height_mm / 2


def _raised(box: Box, by_mm: float) -> Box:
    return box[0], box[1] + by_mm, box[2], box[3] + by_mm


def _grown(box: Box, by_mm: float) -> Box:
    return box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm


def old_findings(
    job: ResolvedJob, panel: UsablePanel, over: OverOld, *, fits: bool
) -> Iterator[Finding]:
    """What is found of old lettering under or beside the setting that is shown, if that fits."""
    old, misfit, label_mm = job.old_lettering, over.misfit, over.label_mm
    if old is not None and job.spine is not None and not old.of_another:
        yield from _across_band(job.spine, old)
    if old is None or (misfit is None and not fits):
        return
    cut = panel.back is None or old.shared_label_mm is not None
    facts: dict[str, object] = {
        "old": old,
        "cut": cut,
        "number": None if cut else panel.number,
        "place": old.from_head_mm is not None,
    }
    if misfit is not None:
        found = Finding.by_rule(
            misfit.topic, Level.FAILURE, misfit.needed_mm, old.overlap,
            method=job.method.name, **facts, **_ends(panel, over, cut=cut),
        )  # fmt: skip
        yield found._replace(limit=misfit.given_mm, unit="mm")
    elif old.of_another:
        return
    elif label_mm is None:
        yield Finding.by_rule("old-lettering-stays", Level.NOTE, old.from_head_mm, old.overlap)
    else:
        yield Finding.by_rule(
            "old-lettering-covered", Level.GOOD, label_mm[2] - label_mm[0], old.overlap,
            height_mm=label_mm[3] - label_mm[1], **facts, **_ends(panel, over, cut=cut),
        )  # fmt: skip


def _across_band(spine: ResolvedSpine, old: ResolvedOldLettering) -> Iterator[Finding]:
    """That old ink lies across a raised band, where nobody letters: most likely mismeasured."""
    half_mm, at_mm = spine.band_height_mm / 2, old.from_head_mm
    if at_mm is None:
        return
    for band_mm in spine.band_middles_mm:
        if at_mm + old.height_mm > band_mm - half_mm and at_mm < band_mm + half_mm:
            yield Finding.of(
                "old-lettering-band", Level.WARNING, at_mm, band_mm, "mm",
                old=old, begins_mm=band_mm - half_mm, ends_mm=band_mm + half_mm,
            )  # fmt: skip
            return


def _ends(panel: UsablePanel, over: OverOld, *, cut: bool) -> dict[str, object]:
    """Ends of the label, and of its room, from the head; None where they are not known.

    Of a label that is cut already its ends are the room, for what covers.
    """
    middle_mm, label_mm = panel.middle_from_head_mm, over.label_mm
    if middle_mm is None or panel.height_mm is None or label_mm is None:
        return dict.fromkeys(("begins_mm", "ends_mm", "first_mm", "last_mm"))
    half_mm = panel.height_mm / 2
    room_mm = (label_mm[1], label_mm[3]) if cut else (-half_mm, half_mm)
    if over.misfit is not None and over.misfit.label_mm is not None:
        label_mm = over.misfit.label_mm
    return {
        "begins_mm": middle_mm - label_mm[3],
        "ends_mm": middle_mm - label_mm[1],
        "first_mm": middle_mm - room_mm[1],
        "last_mm": middle_mm - room_mm[0],
    }
