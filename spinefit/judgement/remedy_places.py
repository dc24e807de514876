"""Would the title do in another place: panel, label, over the bands, on the cover?

Remedies of the place, each run before it is offered; of a front cover whose height is not known
nothing is claimed. Of rework the place is the least label that covers the old ink with its
overlap, or the least beyond that on which the title fits, run as a panel given outright; none
where the back has no room for it, and none where the label already chosen covers.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spinefit import catalogue
from spinefit.geometry import divide, turn_box, usable_panel
from spinefit.job.frames import margin_of
from spinefit.job.model import Shape
from spinefit.job.old_lettering import free_panels, over_old_lettering
from spinefit.job.resolved import (
    ResolvedBoard,
    ResolvedJob,
    ResolvedOldLettering,
    ResolvedSpine,
)
from spinefit.job.values import Panel
from spinefit.judgement.covering import free_of_old, label_width_mm, why_not_covered
from spinefit.judgement.judged import Judged
from spinefit.judgement.labels import bent, board_findings, board_place
from spinefit.judgement.remedy import Need, Remedy, run, size_option, with_lettering
from spinefit.tolerances import SAME_MM
from spinefit.units import height_mm_at_arcminutes, mm_from_pt, pt_from_mm
from spinefit.vocabulary import Letters, Orientation, PanelForm, Place, Work

_PRINTED, _TOOLED = "paper-label", "leather-label"
_LABELS_TO_TRY = 4
_TENTHS = 10  # a label is cut to tenths of a millimetre


def changed_place(need: Need) -> Iterator[Remedy]:
    """Every remedy of the place."""
    yield from _panel(need)
    yield from _clear_of_old(need)
    yield from _wider_label(need)
    if need.best is None or not need.is_readable:
        yield from _over_bands(need)
        yield from _cover(need)


def _panel(need: Need) -> Iterator[Remedy]:
    """The largest panel of a banded back, where it is larger than the one to be lettered."""
    job, spine = need.job, need.job.spine
    if spine is None or not spine.bands or spine.height_mm is None or _old_in_the_way(job):
        return
    spans = divide(spine)
    number = spine.title_panel
    widest = max(spans, key=lambda span: (span.height_mm, -abs(span.number - number)))
    if widest.height_mm <= spans[number - 1].height_mm:
        return
    there = {"title_panel": widest.number}
    changed = job._replace(
        spine=spine._replace(title_panel=widest.number),
        widest=None if job.widest is None else job.widest._replace(title_panel=widest.number),
    )
    yield from run(need, "panel", f"--title-panel {widest.number}", changed, 3, **there)


def _old_in_the_way(job: ResolvedJob) -> bool:
    """Whether old lettering reaches into the panel that is lettered."""
    old, spine = job.old_lettering, job.spine
    return (
        old is not None and spine is not None and spine.title_panel not in free_panels(spine, old)
    )


def _clear_of_old(need: Need) -> Iterator[Remedy]:
    """Another panel or place, where a label covers the old lettering or leaves it in view."""
    job, spine, old = need.job, need.job.spine, need.job.old_lettering
    if old is None or spine is None or spine.height_mm is None:
        return
    if need.best is not None and (old.covered or not _old_in_the_way(job)):
        return
    if len(divide(spine)) == 1:
        if old.covered and old.middle_mm is not None:
            yield from _beside_old(need, spine, old)
        return
    own = sum(each < (old.middle_mm or 0.0) for each in spine.band_middles_mm) + 1
    over = (own,) if old.covered and old.middle_mm is not None else ()
    for there in (*over, *free_panels(spine, old)):
        if there != spine.title_panel:
            found = tuple(_in_panel(need, there, over=there in over))
            if found:
                yield from found
                return


def _in_panel(need: Need, number: int, *, over: bool) -> Iterator[Remedy]:
    """The title in another panel, over the old lettering or leaving it in view."""
    job, spine, old = need.job, need.job.spine, need.job.old_lettering
    assert spine is not None and old is not None  # that is why another is tried
    there = spine._replace(title_panel=number, from_head_mm=old.middle_mm if over else None)
    options = f"--title-panel {number}"
    if old.covered and not over:
        old, left = _left_in_view(old)
        options += f" {left}"
    changed = job._replace(spine=there, widest=None, old_lettering=old)
    yield from run(need, "old-panel", options, changed, 3, number=number, over=over)


def _beside_old(need: Need, spine: ResolvedSpine, old: ResolvedOldLettering) -> Iterator[Remedy]:
    """A label on a back without bands, below the old lettering or above it."""
    old, options = _left_in_view(old)
    there = spine
    if "from-head" not in spine.typed:  # else it is over the old
        there = spine._replace(from_head_mm=None)
    changed = need.job._replace(spine=there, widest=None, old_lettering=old)
    room = free_of_old(old, usable_panel(there, need.job.shape, need.job.rules), there.from_head_mm)
    is_below = (room.middle_from_head_mm or 0.0) > (old.middle_mm or 0.0)
    yield from run(need, "old-clear", options, changed, 3, below=is_below)


def _left_in_view(old: ResolvedOldLettering) -> tuple[ResolvedOldLettering, str]:
    """Old lettering that stays in view, and the option that says so."""
    extents = f"{old.width_mm:.10g}x{old.height_mm:.10g}"
    options = f"--old-lettering '{extents}@{old.from_head_mm:.10g}mm in view'"
    return old._replace(covered=False, in_view=True), options


def _holds(board: ResolvedBoard, label: Panel) -> bool:
    """Whether a label keeps to what is free of the board, its middle where it is."""
    reach_mm = 2 * min(board.from_head_mm, board.height_mm - board.from_head_mm)
    return label.width_mm <= board.width_mm - board.free_from_mm and label.height_mm <= reach_mm


class _Label(NamedTuple):
    """A label on which one layout would stand at a size."""

    width_mm: float
    height_mm: float
    size_pt: float
    grows_mm2: float


def _wider_label(need: Need) -> Iterator[Remedy]:
    """The least label, no smaller either way, that takes the size that is wanted."""
    job, label = need.job, need.job.panel
    plain = job.shape.form is PanelForm.RECTANGLE and not job.shape.keep_free
    board = job.front_board
    if label is None or not plain or (board is not None and not board.label_given):
        return
    found = {_label_for(need, one, label) for one in need.judged}
    for wider in sorted(found, key=lambda each: each.grows_mm2)[:_LABELS_TO_TRY]:
        panel = Panel(width_mm=wider.width_mm, height_mm=wider.height_mm)
        if board is not None and not _holds(board, panel):
            continue
        option = "--panel" if board is None else "--board-label"
        label_option = f"{option} {wider.width_mm:.10g}x{wider.height_mm:.10g}mm"
        options = f"{label_option} {size_option(wider.size_pt)}"
        changed = with_lettering(job._replace(panel=panel), size_pt=wider.size_pt)
        outcome = tuple(
            run(
                need, "wider-label", options, changed, 3,
                width_mm=wider.width_mm, height_mm=wider.height_mm,
            )
        )  # fmt: skip
        if outcome:
            yield from outcome
            return


def _label_for(need: Need, one: Judged, label: Panel) -> _Label:
    """The label that a layout needs, ink centred, with the placing tolerance on every side.

    Args:
        need: the job it is for.
        one: the layout.
        label: the least that it may be.
    """
    job, size_pt = need.job, _wanted_pt(need, one)
    size_mm = mm_from_pt(size_pt)
    left, bottom, right, top = turn_box(one.layout.group.box, one.layout.candidate.turn)
    taken_mm = 0.0 if job.frame is None else job.frame.inset_mm
    around_mm = 2 * max(job.lettering.clearance_mm, job.method.placing.value + taken_mm)
    width_mm = _up_mm(2 * max(-left, right) * size_mm + around_mm)
    height_mm = _up_mm(2 * max(-bottom, top) * size_mm + around_mm)
    width_mm, height_mm = max(width_mm, label.width_mm), max(height_mm, label.height_mm)
    grows_mm2 = width_mm * height_mm - label.width_mm * label.height_mm
    return _Label(width_mm, height_mm, size_pt, grows_mm2)


def _wanted_pt(need: Need, one: Judged) -> float:
    """The size asked for; else the least that holds, or that is read with ease."""
    job = need.job
    if job.lettering.size_pt is not None:
        return job.lettering.size_pt
    if need.best is None:
        return one.offer.smallest_pt()
    if need.is_readable and need.is_tight:
        return need.best.set_pt
    least_mm = height_mm_at_arcminutes(
        job.rules.value("legibility.least_arcmin"), job.reading_distance_mm
    )
    return one.offer.at_least(pt_from_mm(least_mm / need.title.reading_height_em))


def _up_mm(length_mm: float) -> float:
    """A length cut to tenths of a millimetre, never less."""
    return math.ceil(round(length_mm * _TENTHS, 8)) / _TENTHS


def _over_bands(need: Need) -> Iterator[Remedy]:
    best = need.best
    for one in need.judged:
        larger = best is None or one.cap_height_mm > best.cap_height_mm
        possible = one.offer.holds(one.set_pt) and one.set_pt <= one.largest_pt
        if one.over_bands and possible and larger and need.job.old_lettering is None:
            yield Remedy("over-bands", "", one, 4)


def _cover(need: Need) -> Iterator[Remedy]:
    """The title across the front board, of which the height of the back is known at best."""
    job = need.job
    if job.front_board is not None:
        return
    height_mm = None if job.spine is None else job.spine.height_mm
    if height_mm is None or job.lap is not None:  # which no label on a board can have
        yield Remedy("cover", "", None, 5)
        return
    breadth_mm = round(height_mm * job.rules.value("cover.board_ratio"), 1)
    changed = _on_board(job, Panel(width_mm=breadth_mm, height_mm=height_mm))
    outcome, _all = need.trial(changed)
    if outcome is None:
        return
    place = board_place(changed, outcome)
    assert place is not None  # the changed job stands on a board
    near = any(one.topic == "board-edge" for one in board_findings(changed, place))
    options = f"--front-board {breadth_mm:.10g}x{height_mm:.10g}mm{_kept(job)}"
    yield Remedy("cover", options, outcome, 5, {"place": place, "near": near})


def _kept(job: ResolvedJob) -> str:
    """What has to be said again, or otherwise, on a board."""
    method = "" if job.lettering.tools is not None else f" --method {job.method.key}"
    return f"{method} --orientation transverse --lines any"


def _on_board(job: ResolvedJob, size: Panel) -> ResolvedJob:
    """The same lettering across a front board of a size, by the rules of a front board."""
    from spinefit.job.boards import board_panel, resolve_board
    from spinefit.job.places import FrontBoard

    said = FrontBoard(board=size)
    board = resolve_board(said, job.rules, [])
    changed = job._replace(
        spine=None,
        widest=None,
        shape=Shape(),
        old_lettering=None,
        label_thickness_mm=None,
        front_board=board,
        panel=board_panel(said, board, job.rules),
    )
    return with_lettering(changed, orientation=Orientation.TRANSVERSE, lines=None)


def covering_label(need: Need) -> Iterator[Remedy]:
    """The label that covers old lettering, at the size asked for, else at the advised one.

    None where the lettering is on a label of this back already, which covers it or cannot.
    """
    job, old = need.job, need.job.old_lettering
    if old is None or old.in_view or (old.covered and job.spine is not None):
        return
    width_mm, height_mm = map(_up_mm, old.label_mm)
    if job.panel is not None:
        if job.panel.width_mm >= width_mm and job.panel.height_mm >= height_mm:
            return
        width_mm, height_mm = max(width_mm, job.panel.width_mm), max(height_mm, job.panel.height_mm)
    room = None if job.spine is None else _room(job, job.spine, old)
    least = Panel(width_mm=width_mm, height_mm=height_mm)
    if not _has_room(room, least):
        return
    for size_pt in dict.fromkeys((job.lettering.size_pt, None)):
        found = _smallest(need, _on_label(with_lettering(job, size_pt=size_pt), least), room)
        if found is not None:
            yield found
            return


class _Room(NamedTuple):
    """What the back offers a label: width, and height where that is known; 0 for nothing."""

    width_mm: float
    height_mm: float | None


def _room(job: ResolvedJob, spine: ResolvedSpine, old: ResolvedOldLettering) -> _Room:
    """Room for a label over the old lettering, in the panel that it stands in."""
    panel = usable_panel(over_old_lettering(spine, old, []) or spine, Shape(), job.rules)
    if why_not_covered(job, old, panel) is not None:
        return _Room(0.0, 0.0)
    return _Room(label_width_mm(job, panel), panel.height_mm)


def _has_room(room: _Room | None, label: Panel) -> bool:
    if room is None:
        return True
    high = room.height_mm is None or label.height_mm <= room.height_mm + SAME_MM
    return high and label.width_mm <= room.width_mm + SAME_MM


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
        margin_mm, _words = margin_of(row, job.frame, job.rules)
        changed = with_lettering(changed, clearance_mm=margin_mm)
    work = job.work
    if f"work: a {work.words}" in job.assumed:  # nobody said so: that of the label, then
        work = Work.LABEL if method.place is Place.LABEL else method.work
    return changed._replace(spine=None, widest=None, method=method, work=work)


def _smallest(need: Need, job: ResolvedJob, room: _Room | None) -> Remedy | None:
    """The remedy on that label, or on the least one beyond it on which the title fits."""
    outcome, judged = need.trial(job)
    if outcome is not None and job.lettering.size_pt != need.job.lettering.size_pt:
        job = with_lettering(job, size_pt=outcome.set_pt)  # as its option will have it
        outcome, judged = need.trial(job)
    if outcome is not None:
        return _covered(need, job, outcome)
    assert job.panel is not None  # it has just been put on one
    on_label = need._replace(job=job, judged=judged, best=None)
    larger = {_label_for(on_label, one, job.panel) for one in judged}
    for label in sorted(larger, key=lambda each: each.grows_mm2)[:_LABELS_TO_TRY]:
        panel = Panel(width_mm=label.width_mm, height_mm=label.height_mm)
        if _has_room(room, panel):
            changed = with_lettering(job._replace(panel=panel), size_pt=label.size_pt)
            outcome, _all = need.trial(changed)
            if outcome is not None:
                return _covered(need, changed, outcome)
    return None


def _covered(need: Need, job: ResolvedJob, outcome: Judged) -> Remedy:
    spine, panel = need.job.spine, job.panel
    assert panel is not None  # it has just been put on one
    options = f"--panel {panel.width_mm:.10g}x{panel.height_mm:.10g}mm"
    if spine is not None:
        options += f" --method {job.method.key}"
        if job.method.place is not Place.LABEL:
            taken_mm = 0.0 if job.frame is None else job.frame.inset_mm
            options += f" --clearance {job.lettering.clearance_mm - taken_mm:.10g}mm"
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
