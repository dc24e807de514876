"""Will this title fit the spine, how large, in which lines, and running which way?

    from spinefit import Job, Spine, Lettering, check
    report = check(Job(title="The Harbour Light", spine=Spine(width_mm=9, height_mm=210)))

Names are loaded on use, so that importing the package costs next to nothing.
"""

from __future__ import annotations

TYPE_CHECKING = False  # as in typing, which is not loaded for it
if TYPE_CHECKING:
    from typing import Any

    from spinefit.backs import match_pattern, pattern_of, plan_back, plan_set
    from spinefit.batch.books import check_row
    from spinefit.catalogue.tables import schema
    from spinefit.errors import SpinefitError
    from spinefit.job.model import Job, Lettering, Shape, Spine
    from spinefit.job.tools import Tools, ToolSize
    from spinefit.job.values import KeepFree, Panel, Part
    from spinefit.pipeline import check
    from spinefit.plan.model import BackPlan, BackText
    from spinefit.say.model import Report
    from spinefit.say.remedies import remedies
    from spinefit.say.shapes import shapes

__version__ = "0.1.0"

__all__ = [
    "BackPlan",
    "BackText",
    "Job",
    "KeepFree",
    "Lettering",
    "Panel",
    "Part",
    "Report",
    "Shape",
    "Spine",
    "SpinefitError",
    "ToolSize",
    "Tools",
    "__version__",
    "check",
    "check_row",
    "match_pattern",
    "pattern_of",
    "plan_back",
    "plan_set",
    "remedies",
    "schema",
    "shapes",
]

_HOMES = {
    "BackPlan": "spinefit.plan.model",
    "BackText": "spinefit.plan.model",
    "Job": "spinefit.job.model",
    "KeepFree": "spinefit.job.model",
    "Lettering": "spinefit.job.model",
    "Panel": "spinefit.job.model",
    "Part": "spinefit.job.values",
    "Report": "spinefit.say.model",
    "Shape": "spinefit.job.model",
    "Spine": "spinefit.job.model",
    "SpinefitError": "spinefit.errors",
    "ToolSize": "spinefit.job.tools",
    "Tools": "spinefit.job.tools",
    "check": "spinefit.pipeline",
    "check_row": "spinefit.batch.books",
    "match_pattern": "spinefit.backs",
    "pattern_of": "spinefit.backs",
    "plan_back": "spinefit.backs",
    "plan_set": "spinefit.backs",
    "remedies": "spinefit.say.remedies",
    "schema": "spinefit.catalogue.tables",
    "shapes": "spinefit.say.shapes",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'spinefit' has no attribute '{name}'")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)
