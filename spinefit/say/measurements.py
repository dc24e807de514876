"""What was measured, and what does the method ask?

In: the resolved job and its usable panel. Out: the figures that were used, for a person to
measure again, and the method with its limits and cautions, each with who says so. Nothing
is worded here; the writers do that.
"""

from __future__ import annotations

from spinefit.catalogue import Method
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.provenance import Sourced
from spinefit.say.model import LimitReport, MeasurementReport, MethodReport
from spinefit.vocabulary import BackForm, Letters, Place

__all__ = ["measurements_of", "method_report"]

# What is said of a method without a drawer, beside the method: comparing its nineteen rows
# would take longer than saying it again, so the very same object is looked for.
_KEPT: dict[int, tuple[Method, MethodReport]] = {}
_MOST_KEPT = 64


def method_report(job: ResolvedJob) -> MethodReport:
    """The method of a job, with what it holds and offers."""
    method, own_pt = job.method, job.lettering.sizes_pt
    if own_pt is not None:
        return _method_report(method, own_pt)
    kept = _KEPT.get(id(method))
    if kept is None or kept[0] is not method:
        if len(_KEPT) >= _MOST_KEPT:
            _KEPT.clear()
        kept = _KEPT[id(method)] = (method, _method_report(method, None))
    return kept[1]


def _method_report(method: Method, own_pt: tuple[float, ...] | None) -> MethodReport:
    rows = [("smallest", method.smallest)]
    if method.letters is Letters.OUTLINES:  # a tool's face is what it is
        rows += [
            (what, row) for what, row in (("stroke", method.stroke), ("gap", method.gap)) if row
        ]
    rows.append(("placing", method.placing))
    limits = [
        LimitReport(what, (row.value,), row.unit, row.source, row.status) for what, row in rows
    ]
    if own_pt is not None:
        limits.append(LimitReport("sizes", own_pt, "pt", "the sizes at hand, as given", None))
    elif method.sizes is not None:
        row = method.sizes
        limits.append(LimitReport("sizes", row.values, "pt", row.source, row.status))
    return MethodReport(method.key, method.name, tuple(method.cautions), tuple(limits))


def measurements_of(job: ResolvedJob, panel: UsablePanel) -> tuple[MeasurementReport, ...]:
    """What a person measured, or has to, in the order of measuring."""
    if job.front_board is not None:
        board = job.front_board
        label = _sides("label", panel) if board.label_given else ()
        width, height = board.width_mm, board.height_mm
        return (_stated("board-width", width), _stated("board-height", height), *label)
    if job.spine is None:
        return _sides("panel", panel)
    found = _back(job, job.spine)
    if job.method.place is Place.LABEL:
        found += _sides("label", panel)
    return found


def _back(job: ResolvedJob, spine: ResolvedSpine) -> tuple[MeasurementReport, ...]:
    widths = [spine.width_mm]
    if job.widest is not None:
        widths.append(job.widest.width_mm)
    thin = job.rules["edge.thin_back_mm"]
    found = [_held("width", tuple(widths), thin, str(spine.measured))]
    found.append(_stated("height", spine.height_mm))
    if spine.form is BackForm.ROUNDED:
        found += _round(spine)
    if spine.bands:
        found.append(MeasurementReport("bands", (spine.bands,), ""))
        least = job.rules["bands.least_height_mm"]
        found.append(_held("band-height", (spine.band_height_mm,), least))
        if spine.bands_at_mm is not None:
            found.append(MeasurementReport("bands-at", tuple(spine.bands_at_mm)))
    return tuple(found)


def _round(spine: ResolvedSpine) -> list[MeasurementReport]:
    figures = (("rise", spine.rise_mm), ("radius", spine.radius_mm), ("arc", spine.arc_mm))
    known = [_stated(what, value_mm) for what, value_mm in figures if value_mm is not None]
    return known or [_stated("arc", None)]


def _sides(of: str, panel: UsablePanel) -> tuple[MeasurementReport, ...]:
    return (
        _stated(f"{of}-width", max(0.0, panel.width_mm)),
        _stated(f"{of}-height", panel.height_mm),
    )


def _stated(what: str, value_mm: float | None) -> MeasurementReport:
    return MeasurementReport(what, () if value_mm is None else (value_mm,))


def _held(
    what: str, values_mm: tuple[float, ...], rule: Sourced, note: str = ""
) -> MeasurementReport:
    """A figure beside the least that the trade asks."""
    return MeasurementReport(
        what,
        values_mm,
        note=note,
        least=rule.value,
        source=rule.source,
        status=rule.status,
    )
