"""Which label covers old lettering, and how large is the title on it?

A remedy of rework: the least label that covers the old ink with its overlap, or the least
beyond that on which the title fits, run as a panel given outright. None where the back has
no room for it, and none where the label already chosen covers.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit import catalogue
from spinefit.geometry import usable_panel
from spinefit.job.model import Panel, Shape
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.judgement.labels import LabelRoom, bent, room_for_label
from spinefit.judgement.remedy import Need, Remedy, size_option, with_lettering
from spinefit.judgement.remedy_places import label_for, up_mm
from spinefit.vocabulary import Letters, Place

__all__ = ["ways"]

_PRINTED, _TOOLED = "paper-label", "leather-label"
_LABELS_TO_TRY = 4


def ways(need: Need) -> Iterator[Remedy]:
    """The label that covers, with the title at the size asked for, else at the advised one."""
    job, old = need.job, need.job.old_lettering
    assert old is not None  # looked for only where there is old lettering
    width_mm, height_mm = map(up_mm, old.label_mm)
    if job.panel is not None:
        if job.panel.width_mm >= width_mm and job.panel.height_mm >= height_mm:
            return
        width_mm, height_mm = max(width_mm, job.panel.width_mm), max(height_mm, job.panel.height_mm)
    room = _room(job)
    least = Panel(width_mm=width_mm, height_mm=height_mm)
    if not _has_room(room, least):
        return
    for size_pt in dict.fromkeys((job.lettering.size_pt, None)):
        found = _smallest(need, _on_label(with_lettering(job, size_pt=size_pt), least), room)
        if found is not None:
            yield found
            return


def _room(job: ResolvedJob) -> LabelRoom | None:
    """What the back offers; None for a label that is on no back."""
    if job.spine is None:
        return None
    return room_for_label(job, usable_panel(job.spine, Shape(), job.rules))


def _has_room(room: LabelRoom | None, label: Panel) -> bool:
    if room is None:
        return True
    return not (room.lacks_width(label.width_mm) or room.lacks_height(label.height_mm))


def _on_label(job: ResolvedJob, label: Panel) -> ResolvedJob:
    """The job on that label: by its own method where that makes labels or tools them."""
    changed = job._replace(panel=label, shape=Shape(), old_lettering=None)
    if job.spine is None:
        return changed
    method = job.method
    if method.place is not Place.LABEL and method.letters is Letters.OUTLINES:
        method = catalogue.method(_PRINTED)
    if not job.lettering.clearance_typed:
        row = method if method.place is Place.LABEL else catalogue.method(_TOOLED)
        margins = (each.value for each in (row.inner_margin, row.frame) if each is not None)
        changed = with_lettering(changed, clearance_mm=round(sum(margins), 9))
    return changed._replace(spine=None, widest=None, method=method)


def _smallest(need: Need, job: ResolvedJob, room: LabelRoom | None) -> Remedy | None:
    """The remedy on that label, or on the least one beyond it on which the title fits."""
    outcome, judged = need.trial(job)
    if outcome is not None and job.lettering.size_pt != need.job.lettering.size_pt:
        job = with_lettering(job, size_pt=outcome.set_pt)  # as its option will have it
        outcome, judged = need.trial(job)
    if outcome is not None:
        return _remedy(need, job, outcome)
    assert job.panel is not None  # it has just been put on one
    on_label = need._replace(job=job, judged=judged, best=None)
    larger = {label_for(on_label, one, job.panel) for one in judged}
    for label in sorted(larger, key=lambda each: each.grows_mm2)[:_LABELS_TO_TRY]:
        panel = Panel(width_mm=label.width_mm, height_mm=label.height_mm)
        if _has_room(room, panel):
            changed = with_lettering(job._replace(panel=panel), size_pt=label.size_pt)
            outcome, _all = need.trial(changed)
            if outcome is not None:
                return _remedy(need, changed, outcome)
    return None


def _remedy(need: Need, job: ResolvedJob, outcome: Judged) -> Remedy:
    spine, panel = need.job.spine, job.panel
    assert panel is not None  # it has just been put on one
    options = f"--panel {panel.width_mm:.10g}x{panel.height_mm:.10g}mm"
    if spine is not None:
        options += f" --method {job.method.key}"
        if job.method.place is not Place.LABEL:
            options += f" --clearance {job.lettering.clearance_mm:.10g}mm"
    if job.lettering.size_pt != need.job.lettering.size_pt:
        options += f" {size_option(outcome.set_pt)}"
    label = None
    if spine is not None:
        label = bent(need.job, usable_panel(spine, Shape(), need.job.rules), panel.width_mm)
    facts = {
        "width_mm": panel.width_mm,
        "height_mm": panel.height_mm,
        "bent": label,
        "method": job.method.name if job.method.key != need.job.method.key else "",
    }
    return Remedy("cover-old", options, outcome, 3, facts)
