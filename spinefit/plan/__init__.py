"""How do several texts share one back, and how do several volumes match?

The room between `pipeline` and the command line: it composes `check` and never repeats it.
"""

from spinefit.plan.back import plan_back
from spinefit.plan.backs import plan_backs
from spinefit.plan.match_set import match_set
from spinefit.plan.model import BackPlan, BackText, Order, Relation, Role
from spinefit.plan.pattern import match_pattern, pattern_of
from spinefit.plan.pattern_model import Pattern
from spinefit.plan.reports import BackReport, BacksReport, SetReport
from spinefit.plan.sets import plan_set

__all__ = [
    "BackPlan",
    "BackReport",
    "BackText",
    "BacksReport",
    "Order",
    "Pattern",
    "Relation",
    "Role",
    "SetReport",
    "match_pattern",
    "match_set",
    "pattern_of",
    "plan_back",
    "plan_backs",
    "plan_set",
]
