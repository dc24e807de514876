"""How do several texts share one back, and how do several volumes match?

The room between `pipeline` and the command line: it composes `check` and never repeats it.
"""

from spinefit.plan.back import plan_back
from spinefit.plan.model import BackPlan, BackText, Order, Relation, Role
from spinefit.plan.reports import BackReport, SetReport

__all__ = [
    "BackPlan",
    "BackReport",
    "BackText",
    "Order",
    "Relation",
    "Role",
    "SetReport",
    "plan_back",
]
