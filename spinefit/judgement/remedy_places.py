"""Would the title do in another place: panel, label, over the bands, on the cover?

Remedies of the place. Each is run before it is offered; of a front cover whose height is not
known nothing is claimed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spinefit.geometry import divide, turn_box
from spinefit.job.model import Panel, Shape
from spinefit.job.resolved import ResolvedBoard, ResolvedJob
from spinefit.judgement.remedy import Need, Remedy, run, size_option, with_lettering
from spinefit.judgement.sizes import Judged
from spinefit.units import height_mm_at_arcminutes, mm_from_pt, pt_from_mm
from spinefit.vocabulary import Orientation, PanelForm, Verdict

__all__ = ["Label", "label_for", "up_mm", "ways"]

_LABELS_TO_TRY = 4
_TENTHS = 10  # a label is cut to tenths of a millimetre


def ways(need: Need) -> Iterator[Remedy]:
    """Every way out by another place."""
    yield from _panel(need)
    yield from _wider_label(need)
    if need.best is None or not need.readable:
        yield from _over_bands(need)
        yield from _cover(need)


def _panel(need: Need) -> Iterator[Remedy]:
    """The largest panel of a banded back, where it is larger than the one to be lettered."""
    job, spine = need.job, need.job.spine
    if spine is None or not spine.bands or spine.height_mm is None:
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


def _holds(board: ResolvedBoard, label: Panel) -> bool:
    """Whether a label keeps to what is free of the board, its middle where it is."""
    reach_mm = 2 * min(board.from_head_mm, board.height_mm - board.from_head_mm)
    return label.width_mm <= board.width_mm - board.free_from_mm and label.height_mm <= reach_mm


class Label(NamedTuple):
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
    found = {label_for(need, one, label) for one in need.judged}
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


def label_for(need: Need, one: Judged, label: Panel) -> Label:
    """The label that a layout needs, ink centred, with the placing tolerance on every side.

    Args:
        need: the job it is for.
        one: the layout.
        label: the least that it may be.
    """
    job, size_pt = need.job, _wanted_pt(need, one)
    size_mm = mm_from_pt(size_pt)
    left, bottom, right, top = turn_box(one.layout.group.box, one.layout.candidate.turn)
    around_mm = 2 * max(job.lettering.clearance_mm, job.method.placing.value)
    width_mm = up_mm(2 * max(-left, right) * size_mm + around_mm)
    height_mm = up_mm(2 * max(-bottom, top) * size_mm + around_mm)
    width_mm, height_mm = max(width_mm, label.width_mm), max(height_mm, label.height_mm)
    grows_mm2 = width_mm * height_mm - label.width_mm * label.height_mm
    return Label(width_mm, height_mm, size_pt, grows_mm2)


def _wanted_pt(need: Need, one: Judged) -> float:
    """The size asked for; else the least that holds, or that is read with ease."""
    job = need.job
    if job.lettering.size_pt is not None:
        return job.lettering.size_pt
    if need.best is None:
        return one.offer.smallest_pt()
    if need.readable and need.verdict is Verdict.TIGHT:
        return need.best.set_pt
    least_mm = height_mm_at_arcminutes(
        job.rules.value("legibility.least_arcmin"), job.reading_distance_mm
    )
    return one.offer.at_least(pt_from_mm(least_mm / need.title.reading_height_em))


def up_mm(length_mm: float) -> float:
    """A length cut to tenths of a millimetre, never less."""
    return math.ceil(round(length_mm * _TENTHS, 8)) / _TENTHS


def _over_bands(need: Need) -> Iterator[Remedy]:
    best = need.best
    for one in need.judged:
        larger = best is None or one.cap_height_mm > best.cap_height_mm
        possible = one.offer.holds(one.set_pt) and one.set_pt <= one.largest_pt
        if one.layout.over_bands and possible and larger:
            yield Remedy("over-bands", "", one, 4)


def _cover(need: Need) -> Iterator[Remedy]:
    """The title across the front cover, of which the height of the back is known at best."""
    if need.job.front_board is not None:
        return
    height_mm = None if need.job.spine is None else need.job.spine.height_mm
    if height_mm is None:
        yield Remedy("cover", "", None, 5)
        return
    outcome, _all = need.trial(_board(need.job, height_mm))
    if outcome is not None:
        yield Remedy("cover", "", outcome, 5)


def _board(job: ResolvedJob, height_mm: float) -> ResolvedJob:
    breadth_mm = height_mm * job.rules.value("cover.board_ratio")
    margin = 1 - 2 * job.rules.value("cover.margin_share")
    board = job._replace(
        spine=None,
        widest=None,
        shape=Shape(),
        panel=Panel(width_mm=breadth_mm * margin, height_mm=height_mm * margin),
    )
    return with_lettering(board, orientation=Orientation.TRANSVERSE, lines=None, size_pt=None)
