"""How do several texts share one back, and how do several volumes match?

The room between `pipeline` and the command line: it composes `check` and never repeats it.
"""

from spinefit.plan.back import plan_back
from spinefit.plan.model import BackPlan, BackText, Order, Relation, Role
from spinefit.plan.pattern import match_pattern, pattern_of
from spinefit.plan.pattern_model import Pattern
from spinefit.plan.reports import BackReport, SetReport
from spinefit.plan.sets import plan_set

__all__ = [
    "BackPlan",
    "BackReport",
    "BackText",
    "Order",
    "Pattern",
    "Relation",
    "Role",
    "SetReport",
    "match_pattern",
    "pattern_of",
    "plan_back",
    "plan_set",
]
