"""What did a person measure for an answer, or has to?

In: a job and its usable panel. Out: each measure with the figures that were used, beside the
least that the trade asks where it asks for one, in the order of measuring. Lengths in mm.
"""

from __future__ import annotations

from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.say.model import MeasurementReport
from spinefit.say.thickness import ESTIMATED
from spinefit.vocabulary import BackForm, Place, Sourced


def measurements(job: ResolvedJob, panel: UsablePanel) -> tuple[MeasurementReport, ...]:
    """What a person measured, or has to, in the order of measuring."""
    if job.front_board is not None:
        board = job.front_board
        label = _sides("label", panel) if board.label_given else ()
        width, height = board.width_mm, board.height_mm
        return (_stated("board-width", width), _stated("board-height", height), *label)
    if job.spine is None:
        return _sides("panel", panel)
    found = _back(job, job.spine)
    if job.lap is not None:
        found += (_stated("joint-width", job.lap.joint_mm),)
    elif job.method.place is Place.LABEL:
        found += _sides("label", panel)
    old = job.old_lettering
    if old is not None and not old.of_another:
        found += (
            _stated("old-width", old.width_mm),
            _stated("old-height", old.height_mm),
            _stated("old-from-head", old.from_head_mm),
        )
    return found


def _back(job: ResolvedJob, spine: ResolvedSpine) -> tuple[MeasurementReport, ...]:
    widths = [spine.width_mm]
    if job.widest is not None:
        widths.append(job.widest.width_mm)
    thin = job.rules["edge.thin_back_mm"]
    note = spine.measured if spine.estimate is None else ESTIMATED
    found = [_held("width", tuple(widths), thin, str(note))]
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
