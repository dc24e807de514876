"""Will this title fit the spine, how large, in which lines, and running which way?

Say what is lettered on which back, and ask; lengths are millimetres, sizes DTP points (1/72 in).
What is left unsaid takes its usual value, and the report names each such assumption.

    >>> from spinefit import Job, Lettering, Spine, check, draw, remedies
    >>> back = Spine(width_mm=9, height_mm=210)
    >>> report = check(Job(title="The Harbour Light", spine=back, market="GB"))
    >>> report
    <Report 'The Harbour Light': fits, 15.3 pt, descending, one line>

A report holds the answer in a sentence, every setting, and what to mind; ``report.to_dict()`` and
``report.to_json()`` are what ``spinefit check --format json`` writes. A notebook shows its drawing.
What does not fit is a report too; what cannot be asked is a `SpinefitError`, in one line.

    >>> report.answer.partition(":")[0]
    'It fits along the spine on one line, reading from head to tail'
    >>> report.shown.largest_pt, report.to_dict()["verdict"]
    (19.743, 'fits')
    >>> draw(report).startswith("<svg"), draw(report, "pdf")[:5]  # at true size
    (True, b'%PDF-')
    >>> large = check(Job(title="The Harbour Light", spine=back, lettering=Lettering(size_pt=24)))
    >>> large.fits, [one.change for one in remedies(large)][:2]
    (False, ['smaller', 'capitals'])

Several texts on a back, and volumes that stand together:

    >>> from spinefit import BackPlan, BackText, Role, plan_back, plan_set
    >>> texts = (BackText(role=Role.AUTHOR, text="E. Quillfeather"),
    ...          BackText(role=Role.TITLE, text="Tide Tables"))
    >>> plan_back(BackPlan(spine=Spine(width_mm=34, height_mm=230), texts=texts)).verdict.value
    'fits'
    >>> pair = [(n, Job(title=f"Tide Tables / {n}", spine=Spine(width_mm=w, height_mm=210)))
    ...         for n, w in (("1", 20), ("2", 25))]
    >>> plan_set(pair).limiting
    '1'

Labels to print and cut, and the rows of a table:

    >>> from spinefit import Panel, check_row, label_sheet
    >>> label_sheet(Job(title="Tides", panel=Panel(width_mm=30, height_mm=20)), sizes=4)[:5]
    b'%PDF-'
    >>> check_row({"title": "Tide Tables", "width": "12mm", "height": 200})["verdict"]
    'fits'

What is asked        Job: Spine or Panel or FrontBoard, Shape (KeepFree), Lettering (Tools,
                     ToolSize), Recess, OldLettering, CallNumber, Method; Part, of a label
Several texts        BackPlan, BackText
Asking               check, plan_back, plan_set, check_row
A pattern to match   pattern_of, match_pattern
What is answered     Report, BackReport, SetReport; remedies, shapes
Drawn, written       draw, label_sheet; schema: the JSON Schema of each output
What fields hold     enumerations such as Case, Orientation, Role: a field's own help names them
At fault             SpinefitError

Names are loaded on use, so that importing the package costs next to nothing.
"""

from __future__ import annotations

TYPE_CHECKING = False  # as in typing, which is not loaded for it
if TYPE_CHECKING:
    from typing import Any

    from spinefit.backs import match_pattern, pattern_of, plan_back, plan_set
    from spinefit.batch.books import check_row
    from spinefit.catalogue import Method
    from spinefit.catalogue.tables import schema
    from spinefit.drawing.notebook import draw, label_sheet
    from spinefit.errors import SpinefitError
    from spinefit.job.model import Job, Lettering, Recess, Shape, Spine
    from spinefit.job.places import Align, CallNumber, FrontBoard, Scheme
    from spinefit.job.tools import Tools, ToolSize
    from spinefit.job.values import KeepFree, OldLettering, Panel, Part
    from spinefit.pipeline import check
    from spinefit.plan.model import BackPlan, BackText, Order, Relation
    from spinefit.say.model import Report
    from spinefit.say.plan_model import BackReport, SetReport
    from spinefit.say.remedies import remedies
    from spinefit.say.shapes import shapes
    from spinefit.vocabulary import (
        AxisGoal,
        BackForm,
        BindingSide,
        BreakWords,
        Case,
        Centre,
        Cover,
        Die,
        Frame,
        FrameCorners,
        GroupShape,
        Measure,
        Measured,
        Orientation,
        PanelForm,
        Reading,
        Role,
        Ruling,
        Sewing,
        SmallWords,
        Stock,
        Tone,
        Work,
    )  # fmt: skip

__version__ = "0.1.0"

__all__ = [
    "Align", "AxisGoal", "BackForm", "BackPlan", "BackReport", "BackText", "BindingSide",
    "BreakWords", "CallNumber", "Case", "Centre", "Cover", "Die", "Frame", "FrameCorners",
    "FrontBoard", "GroupShape", "Job", "KeepFree", "Lettering", "Measure", "Measured", "Method",
    "OldLettering", "Order", "Orientation", "Panel", "PanelForm", "Part", "Reading", "Recess",
    "Relation", "Report", "Role", "Ruling", "Scheme", "SetReport", "Sewing", "Shape",
    "SmallWords", "Spine", "SpinefitError", "Stock", "Tone", "ToolSize", "Tools", "Work",
    "__version__", "check", "check_row", "draw", "label_sheet", "match_pattern", "pattern_of",
    "plan_back", "plan_set", "remedies", "schema", "shapes",
]  # fmt: skip

_ROOMS = {
    "backs": "match_pattern pattern_of plan_back plan_set",
    "batch.books": "check_row",
    "catalogue": "Method",
    "catalogue.tables": "schema",
    "drawing.notebook": "draw label_sheet _notebook_html",
    "errors": "SpinefitError",
    "job.model": "Job Lettering Recess Shape Spine",
    "job.places": "Align CallNumber FrontBoard Scheme",
    "job.tools": "ToolSize Tools",
    "job.values": "KeepFree OldLettering Panel Part",
    "pipeline": "check",
    "plan.model": "BackPlan BackText Order Relation",
    "say.as_json": "_to_dict _to_json",
    "say.in_short": "_in_short",
    "say.model": "Report",
    "say.plan_model": "BackReport SetReport",
    "say.remedies": "remedies",
    "say.shapes": "shapes",
    "vocabulary": (
        "AxisGoal BackForm BindingSide BreakWords Case Centre Cover Die Frame "
        "FrameCorners GroupShape Measure Measured Orientation PanelForm Reading Role "
        "Ruling Sewing SmallWords Stock Tone Work "
    ),
}
_CALLS: dict[str, Any] = dict.fromkeys(
    ("check", "draw", "label_sheet", "match_pattern", "pattern_of", "plan_back", "plan_set")
)  # what may find a fault, as handed on
_HOMES = {name: room for room, names in _ROOMS.items() for name in names.split()}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'spinefit' has no attribute '{name}'")
    from importlib import import_module

    # Without an underscore there: what only a report asks for is no part of the surface.
    found = getattr(import_module(f"spinefit.{_HOMES[name]}"), name.removeprefix("_"))
    if name in _CALLS and _CALLS[name] is None:
        _CALLS[name] = _in_python(found)
    return _CALLS.get(name, found)


def _in_python(call: Any) -> Any:
    """The call, whose faults then name attributes: nobody has typed an option here."""
    from functools import wraps

    from spinefit.errors import SpinefitError

    @wraps(call)
    def asked(*given: Any, **named: Any) -> Any:
        try:
            return call(*given, **named)
        except SpinefitError as fault:
            from spinefit.job.in_python import in_python

            in_python(fault)
            raise

    asked.__module__ = "spinefit"  # where a process that it is sent to will find it
    return asked


def __dir__() -> list[str]:
    return sorted(__all__)
