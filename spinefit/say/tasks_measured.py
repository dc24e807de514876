"""What is to be measured again before anything is cut?

In: a `Report`. Out: tasks, all open, each with the figure that was used, then what was assumed
as a task to confirm. A figure under what the trade asks says so.
"""

from __future__ import annotations

from collections.abc import Callable

from spinefit.say import phrasing as say
from spinefit.say.model import MeasurementReport, Report
from spinefit.say.tasks import escaped, limit_of, sourced, task
from spinefit.vocabulary import Measured

__all__ = ["measuring_tasks"]

_MEASURED_ON = {
    Measured.BULK: "of the bulk, pressed as it will be bound",
    Measured.BACK: "of the back, between the joints",
    Measured.OVER_BOARDS: "over the boards, both boards taken off, and the boards themselves",
}


def measuring_tasks(report: Report) -> list[str]:
    """The tasks, in the order of measuring; none of them is ever ticked."""
    found = [_task(measured) for measured in report.measurements]
    of_book, of_setting = say.assumed_parted(report.assumed)
    found += [task(False, f"Confirm: {escaped(text)}") for text in of_book]
    if of_setting:
        found.append(task(False, f"Confirm the setting: {escaped('; '.join(of_setting))}"))
    return found


def _task(measured: MeasurementReport) -> str:
    behind = ""
    if measured.least is not None and measured.values and measured.values[0] < measured.least:
        limit = limit_of(measured.least, measured.unit)
        behind = sourced(measured.source, measured.status, f"under the {limit}")
    return task(False, f"{_TEXTS[measured.what](measured)}{behind}")


def _used(measured: MeasurementReport, otherwise: str = "not stated") -> str:
    """The figures that were used."""
    if not measured.values:
        return otherwise
    if len(measured.values) == 2 and measured.what == "width":
        least_mm, most_mm = measured.values
        return f"{_exact(least_mm)} to {_exact(most_mm)} mm used, judged at the least"
    return f"{', '.join(_exact(value) for value in measured.values)} mm used"


def _exact(value_mm: float) -> str:
    """A figure as it was measured, to a hundredth of a millimetre."""
    return f"{round(value_mm, 2):g}"


def _width(measured: MeasurementReport) -> str:
    return (
        f"Width {_MEASURED_ON[Measured(measured.note)]}, in three places at least (head, middle "
        f"and tail): {_used(measured)}"
    )


def _count(measured: MeasurementReport) -> str:
    return f"Bands, counted: {say.bare_mm(measured.values[0])} used"


_TEXTS: dict[str, Callable[[MeasurementReport], str]] = {
    "width": _width,
    "height": lambda m: f"From head to tail, at both joints: {_used(m, 'not stated, left open')}",
    "rise": lambda m: f"Rise of the round over a straight edge: {_used(m)}",
    "radius": lambda m: f"Radius of the round, against a template: {_used(m)}",
    "arc": lambda m: (
        "Tape laid over the round from joint to joint: "
        f"{_used(m, 'not measured, so the width counts as if the back were flat')}"
    ),
    "bands": _count,
    "band-height": lambda m: f"Width of each band, measured along the back: {_used(m)}",
    "bands-at": lambda m: f"Middle of each band, from the head: {_used(m)}",
    "label-width": lambda m: f"Width of the label: {_used(m)}",
    "label-height": lambda m: (
        f"Room for the label from head to tail: {_used(m, 'not known, left open')}"
    ),
    "board-width": lambda m: f"Breadth of the front board, at head and tail: {_used(m)}",
    "board-height": lambda m: f"Height of the front board, at joint and fore edge: {_used(m)}",
    "panel-width": lambda m: f"Width of the panel or label, at head and foot: {_used(m)}",
    "panel-height": lambda m: f"Height of the panel or label, at both sides: {_used(m)}",
}
