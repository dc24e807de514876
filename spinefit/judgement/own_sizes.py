"""Can each text of a label be had in the size it was given?

In: the job. Out: the first text that cannot, and why: no size of the leading text mends that.
Sizes in DTP points.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_PT
from spinefit.units import pt_from_mm
from spinefit.vocabulary import Level, Role, Sourced


class UnheldText(NamedTuple):
    """A text whose own size cannot be set.

    Attributes:
        role: which text.
        size_pt: the size it was given.
        floor: the rule that it breaks.
        least_pt: the least size; None where the size is only not at hand.
    """

    role: Role
    size_pt: float
    floor: Sourced
    least_pt: float | None

    def finding(self, method: str) -> Finding:
        """The same as a binder is told it, of a method by that name."""
        rule, smallest_pt = self.floor, self.least_pt or self.size_pt
        return Finding(
            "text-size", Level.FAILURE, self.size_pt, self.least_pt, "pt", rule.source, rule.status,
            {"text": str(self.role), "method": method, "smallest_pt": smallest_pt,
             "small": self.least_pt is not None},
        )  # fmt: skip


def unheld_text(job: ResolvedJob, title: ShapedTitle) -> UnheldText | None:
    """The first text of a label given a size of its own that the method or drawer lacks."""
    method = job.method
    sizes = job.lettering.sizes_pt or (method.sizes.values if method.sizes else None)
    for one in title.texts:
        part = job.parts[one.number - 1]
        if part.size_pt is None:
            continue
        floor, least_pt = method.smallest, method.smallest.value
        if sizes is not None:
            if not any(abs(size - part.size_pt) <= SAME_PT for size in sizes):
                return UnheldText(part.role, part.size_pt, floor, None)
            least_pt = 0.0  # what is in the drawer can be set
        if method.smallest_cap is not None:
            cap_pt = pt_from_mm(method.smallest_cap.value / one.title.reading_height_em)
            if cap_pt > least_pt:
                floor, least_pt = method.smallest_cap, cap_pt
        if part.size_pt < least_pt - SAME_PT:
            return UnheldText(part.role, part.size_pt, floor, least_pt)
    return None
