"""Can this be a back with several texts?

In: a `BackPlan`. Out: nothing, or a fault that names the text by its number. What is wrong
with the back or the letters themselves is found by the job's own checks.
"""

from __future__ import annotations

from spinefit.errors import FieldError, JobError
from spinefit.job.checks import member, number
from spinefit.plan.model import BackPlan, BackText, Order, Relation, Role

__all__ = ["check_plan"]

_LARGEST_SIZE_PT = 5000.0
_MOST_WEIGHT = 1e6


def check_plan(plan: BackPlan) -> None:
    """Refuse what cannot be several texts on one back.

    Raises:
        JobError: no title, a role twice, no height, a weight or a size that cannot be.
    """
    if not plan.texts:
        raise JobError("no text for the back", remedy="give a title at least")
    member(plan.order, Order, "order")
    member(plan.relation, Relation, "relation")
    roles: list[Role] = []
    for place, text in enumerate(plan.texts, 1):
        where = f"text {place}"
        _check_text(text, where)
        if text.role in roles:
            raise FieldError(
                "two texts of one role",
                value=text.role,
                where=f"{where}: role",
                remedy="put them into one text, such as 'Quay & Sons'",
            )
        roles.append(text.role)
    if Role.TITLE not in roles:
        raise JobError("none of the texts is the title", remedy="give one of them the role 'title'")
    if plan.spine.height_mm is None:
        raise FieldError(
            "several texts share the length of the back, which is not known",
            where="--height",
            remedy="give the height of the back",
        )
    title = next(text for text in plan.texts if text.role is Role.TITLE)
    if title.size_pt is not None and plan.lettering.size_pt is not None:
        raise FieldError(
            "a size for the title given twice",
            where="--size",
            remedy="keep the one beside its text",
        )


def _check_text(text: BackText, where: str) -> None:
    member(text.role, Role, f"{where}: role")
    if text.weight is not None:
        number(text.weight, f"{where}: weight", least=0.0, most=_MOST_WEIGHT, above=True)
    if text.size_pt is not None:
        number(text.size_pt, f"{where}: size", least=0.0, most=_LARGEST_SIZE_PT, above=True)
    panel = text.panel
    if panel is not None and (isinstance(panel, bool) or not isinstance(panel, int)):
        raise FieldError("no panel's number", value=panel, where=f"{where}: panel")
