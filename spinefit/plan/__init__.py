"""Where do texts stand on their backs, how large, and how do volumes match?

One planner of volumes and roles: a title alone, a back of several texts and a set are cases of
it. It gives facts; the room `say` makes reports of them.
"""

from spinefit.plan.match import match
from spinefit.plan.model import BackPlan, BackText, Order, Relation, Zone, plan_of
from spinefit.plan.pattern import Pattern
from spinefit.plan.planner import plan
from spinefit.plan.remedies import changes_for
from spinefit.plan.result import Plan, PlannedText, PlannedVolume

__all__ = [
    "BackPlan",
    "BackText",
    "Order",
    "Pattern",
    "Plan",
    "PlannedText",
    "PlannedVolume",
    "Relation",
    "Zone",
    "changes_for",
    "match",
    "plan",
    "plan_of",
]
